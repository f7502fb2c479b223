"""No sentence on a pass claims what the numbers don't show: every claim is read back and counted afresh."""

import re
from dataclasses import replace
from random import Random

import plain_passes as slow
import pytest
from claims import check_watch
from claims_aim import check_aim
from claims_passes import NUMBER, NUMBERS, check, check_cost, check_hands
from claims_words import KIND, TILE, sentences
from counted import Counted as Claims

from engine.advice.advise.passes import advise_courtesy, advise_passes, advise_second_round
from engine.advice.advise.plan import Gap, Plan, plan_of
from engine.advice.advise.reasons_passes import Hurt, PassFacts, say_serves, why_ask, why_blind, why_pass, why_round
from engine.advice.moment import Moment
from engine.advice.table import SheetTable
from engine.rules.actions import Give, Pass
from engine.rules.deal import shuffle
from engine.rules.game import apply, start
from engine.rules.house import House
from engine.rules.observation import observe
from engine.rules.state import Phase
from engine.sheet.shelf import find
from engine.tiles import FLOWER, full_set
from engine.words import in_words


@pytest.mark.parametrize("name", ["first-steps", "lantern-street"])
@pytest.mark.slow
def test_every_claim_is_so(name):
    """Through whole passes, for the best choices and some others, every claim equals a fresh count."""
    table = SheetTable.of(find(name))
    met = set()
    wanted = {"none", "any", "hurt", "then", "more", "safe", "further", "cost", "margin"}
    for seed in range(40):
        if seed >= 3 and met >= wanted:
            break
        random = Random(seed)
        state = start(table.sheet, House(picks=30, passes=6, courtesy=True, blind=False), shuffle(seed))
        while state.phase in (Phase.PASSING, Phase.AGREEING, Phase.ASKING, Phase.GIVING):
            observation = observe(state, state.to_act)
            if state.to_act == 0 and isinstance(observation.legal[0], Pass | Give):
                advise = advise_passes if state.phase is Phase.PASSING else advise_courtesy
                advice = advise(table, observation)
                for choice in (
                    *advice.choices[:3],
                    *random.sample(advice.choices[3:], min(5, len(advice.choices[3:]))),
                ):
                    met |= check(advice, observation, choice)
                check_hands(advice, observation, advice.choices[0])
            legal = observation.legal[-1:] if state.phase in (Phase.ASKING,) else observation.legal
            agree = state.phase is Phase.AGREEING
            state = apply(state, legal[0] if agree else legal[int(random.random() * len(legal))])
    assert met >= wanted


@pytest.mark.slow
def test_what_a_pass_is_for():
    """The advice for a pass says what the rack is heading for, which of its hands the tiles serve, and what to look out
    for; beside it stands what an average choice costs."""
    table = SheetTable.of(find("first-steps"))
    for seed in range(4):
        state = start(table.sheet, House(picks=30, passes=3), shuffle(seed))
        observation = observe(state, 0)
        advice = advise_passes(table, observation)
        best = advice.choices[0]
        left = slow.without(observation.counts, best.kinds)
        counted = Claims(table, left, observation.unseen, advice.draws)
        aim, serves, *watch = sentences(advice.because)
        _, hands = check_aim(aim, counted)
        used = {kind: [hand for hand in hands if sum(counted.lacks(hand, kind))] for kind in best.kinds}
        no_use = re.fullmatch(r"(It has no|Neither has a|None of them has a) use for these tiles\.", serves)
        if no_use or re.fullmatch(r"(It|Both|All three) can spare these tiles\.", serves):
            assert not any(used.values())
            assert bool(no_use) != any(counted.best(hand).total[kind] for hand in hands for kind in best.kinds)
        else:
            said = re.findall(rf"the ({TILE}) serves", serves.lower())
            assert {KIND[tile] for tile in said} == {kind for kind, names in used.items() if names}
            assert serves.startswith("Of these only") == (len(said) == 1)
        assert len(watch) <= 1
        for said in watch:
            check_watch(said, hands, counted)
        assert advice.average == pytest.approx(sum(choice.picks for choice in advice.choices) / len(advice.choices))


@pytest.mark.slow
def test_the_vote_and_the_courtesy_pass_say_what_they_weighed():
    """The sentences give the differences in picks and the number that the advice comes to."""
    table = SheetTable.of(find("first-steps"))
    for seed in range(3):
        state = start(table.sheet, House(picks=30, passes=5, courtesy=True), shuffle(seed))
        while state.phase is not Phase.ASKING:
            observation = observe(state, state.to_act)
            if state.phase is Phase.AGREEING and state.to_act == 0:
                vote = advise_second_round(table, observation)
                *far, aim, said = sentences(vote.because)
                counted = Claims(table, observation.counts, observation.unseen, observation.picks_left)
                _, hands = check_aim(aim, counted)
                still = "Agree: {} still" if vote.agree else "Stop: {} only"
                tiles = f"{in_words(counted.missing(hands[0]))} tile{'s' * (counted.missing(hands[0]) > 1)}"
                far_said = (
                    f"{still.format(hands[0])} needs {tiles}." if vote.plan.shared else f"{still.partition(':')[0]}."
                )
                assert far == [far_said]
                match = re.fullmatch(r"Two passes more bring a hand (.+) sooner\.", said)
                match = match or re.fullmatch(r"Two passes more would cost (.+)\.", said)
                assert vote.agree == (vote.picks > 0)
                check_cost(match[1], abs(vote.picks))
            state = apply(state, observation.legal[0])
        advice = advise_courtesy(table, observe(state, 0))
        said = re.match(
            rf"Ask for (?P<number>none|{NUMBER})(?: and give (?P<tiles>.+?))?\. (?P<plan>.+?\.) "
            r"(?:[Oo]ne fewer costs (?P<fewer>nothing|.+? picks?))?(?: and )?"
            r"(?:[Oo]ne more costs (?P<more>nothing|.+? picks?))?\.",
            advice.because,
        )
        left = slow.without(observe(state, 0).counts, advice.give)
        rest = sentences(said["plan"])
        _, hands = check_aim(rest[0], Claims(table, left, observe(state, 0).unseen, advice.draws))
        assert hands[0] == advice.plan.names[0]
        assert bool(rest[1:]) == bool(advice.give)
        assert said, advice.because
        assert NUMBERS.get(said["number"], 0) == advice.ask == len(advice.give)
        assert advice.picks[advice.ask] == min(advice.picks) == 0
        for key, other in (("fewer", advice.ask - 1), ("more", advice.ask + 1)):
            assert bool(said[key]) == (0 <= other <= 3)
            if said[key] == "nothing":
                assert advice.picks[other] == 0
            elif said[key]:
                check_cost(said[key], advice.picks[other])


def test_each_shape_of_sentence():
    """Hands gone for good, the one hand in reach, equal choices, one tile and nothing in reach read well."""
    gale, moth = Hurt("Gale", 6, 8), Hurt("Moth", 3, 1)
    names = ("Gale", "Moth", "Tide", "Reef", "Quay")
    for facts, said in (
        (PassFacts(3, (), (), None, 0.0, 0.0), "No hand is in reach of the tiles to come."),
        (PassFacts(1, names, (), None, 0.0, 0.1), "None of your five nearest hands uses it."),
        (PassFacts(3, ("Gale",), (), None, 0.0, 0.1), "Gale, the one hand in reach, doesn't use any of them."),
        (PassFacts(3, names, (gale,), None, 0.0, 0.0), "Gale then needs eight tiles instead of six. "
                                                      "Another choice is just as good."),
        (PassFacts(3, names, (gale,), None, 0.0, None), "Gale then needs eight tiles instead of six."),
        (PassFacts(3, names, (Hurt("Gale", 6, 99), moth), None, 1.2, None),
         "Gale can't be made any more, and one more of your five nearest hands loses tiles too. "
         "It costs about 1.2 picks against the best choice."),
        (PassFacts(3, names, (moth, gale), None, 0.0, 0.01),
         "Moth loses tiles but has another way that is as near, and one more of your five nearest hands loses tiles "
         "too; Gale, the nearest, keeps all it has. Another choice is almost as good."),
        (PassFacts(2, names, (), Hurt("Cliff", 0, 1), 0.0, 0.0),
         "None of your five nearest hands uses any of them; Cliff, further off, then needs one tile instead of none."),
    ):  # fmt: skip
        assert why_pass(facts) == said


def test_sentences_on_unseen_tiles_the_vote_and_asking():
    """Gains, losses and equal choices are told apart, in words for numbers of tiles; at a full table in turns."""
    assert why_blind(0, -0.4) == "Pass none on unseen: it would cost about 0.4 picks."
    assert why_blind(0, 0.3) == "Pass none on unseen: that would gain about 0.3 picks at best, too little to count on."
    assert why_blind(0, 0.0) == "Pass none on unseen: it would gain nothing."
    assert why_blind(1, 2.0) == (
        "Pass on one tile unseen: a hand comes about 2 picks sooner than with three from the rack."
    )
    assert why_blind(3, 2.0).startswith("Pass on three tiles unseen:")
    nothing = Plan((), None, (), (), False, None)
    no_hand = "No hand can be made any more with the tiles that may still come."
    for gain, passes, vote, figure in (
        (2.0, 3, "Agree", "Three passes more bring a hand about 2 picks sooner."),
        (1.0, 1, "Agree", "One pass more brings a hand about 1 pick sooner."),
        (-2.0, 2, "Stop", "Two passes more would cost about 2 picks."),
        (0.0, 2, "Stop", "Two passes more would gain nothing."),
    ):
        assert why_round(nothing, gain, passes) == f"{vote}. {no_hand} {figure}"
    assert why_round(nothing, -2.0, 2, turns=True).endswith("would cost about 2 turns.")
    for number, give, costs, ask, figure in (
        (0, (), (0.0, 0.0, 0.1, 0.1), "Ask for none.", " One more costs nothing."),
        (1, (FLOWER,), (10.0, 0.0), "Ask for one and give flower.", " One fewer costs about 10 picks."),
        (1, (FLOWER,), (10.0, 0.0, 1.0), "Ask for one and give flower.",
         " One fewer costs about 10 picks and one more costs about 1 pick."),
        (0, (), (0.0,), "Ask for none.", ""),
    ):  # fmt: skip
        assert why_ask(nothing, number, give, costs) == f"{ask} {no_hand}{figure}"


def test_what_tiles_serve_is_said_of_one_two_and_three_hands():
    """Of one hand “it has no use”, of two “neither has”, of three “none of them has”; else which tile serves whom."""
    table = SheetTable.of(find("first-steps"))
    counts = [0] * 36
    for kind in (0, 0, 1, 1, 2, 9, 9, 10, 11, 18, 18, 19, 20):
        counts[kind] += 1
    unseen = tuple(copies - held for copies, held in zip(full_set(), counts, strict=True))
    plan = plan_of(Moment.of(table, tuple(counts), unseen, 30))
    lead = replace(plan.aim[0], missing=4, needs=(2, *[0] * 35), gaps=(Gap(0, 1, False, 3, 2, 0),))
    said = {
        1: "It has no use for that tile.",
        2: "Neither has a use for that tile.",
        3: "None of them has a use for that tile.",
    }
    for hands, sentence in said.items():
        some = replace(plan, aim=(lead,) * hands, second=None, shift=None)
        assert say_serves(some, [8]) == sentence
        assert say_serves(some, [0, 8, 8]).startswith("Of these only the 1 bam serves ")
    alone = replace(plan, aim=(lead,), second=None, shift=None)
    assert say_serves(alone, [7, 8]) == "It has no use for these tiles."
    content = replace(alone, aim=(replace(lead, gaps=()),))
    assert say_serves(content, [0, 8]) == "It can spare these tiles."
