"""Advice before play: every choice weighed, hands now and after, blind passes, the second round, the courtesy pass."""

from dataclasses import replace
from random import Random

import numpy as np
import plain_passes as slow
import pytest

from engine.advice.advise.pass_choices import choices_of, costs_of, ranked
from engine.advice.advise.passes import (
    advise_courtesy,
    advise_passes,
    advise_second_round,
    choose_before_play,
    hands_after,
)
from engine.advice.odds.exact import exact_after_passes
from engine.advice.table import SheetTable
from engine.advice.worth.after_pass import RacksLeft
from engine.advice.worth.incoming import shares
from engine.rules.actions import Agree, Ask, Give, Pass, Stop
from engine.rules.deal import shuffle
from engine.rules.game import apply, start
from engine.rules.house import FULL, House
from engine.rules.observation import observe
from engine.rules.state import Phase
from engine.sheet.groups import HAND_TILES, Group
from engine.sheet.shelf import find
from engine.tiles import COPIES, FLOWER, JOKER, KINDS, kinds_of

HOUSE = House(picks=40, passes=6, courtesy=True)
BEFORE_PLAY = (Phase.PASSING, Phase.AGREEING, Phase.ASKING, Phase.GIVING)


@pytest.fixture(scope="module")
def table():
    """The smaller shipped sheet."""
    return SheetTable.of(find("first-steps"))


def moments(table, seed, house=HOUSE, player=0):
    """Every state before play at which the player has a choice; all others choose at random, and agree."""
    random = Random(seed)
    state = start(table.sheet, house, shuffle(seed))
    while state.phase in BEFORE_PLAY:
        if state.to_act == player:
            yield state
            action = choose_before_play(table, observe(state, player))
            action = Agree() if action == Stop() else Ask(2) if isinstance(action, Ask) else action
        else:
            legal = [one for one in observe(state, state.to_act).legal if one != Stop() and one != Ask(0)]
            action = legal[int(random.random() * len(legal))]
        state = apply(state, action)


def holding(table, kinds, done=0, **changes):
    """What a seat sees that holds these tiles with so many passes done, at a table where nothing else is known."""
    house = changes.pop("house", HOUSE)
    observation = observe(start(table.sheet, house, shuffle(7)), 0)
    return replace(observation, rack=tuple(kinds), passes_done=done, **changes)


def nearly(table, wanted, junk, place=0):
    """A rack with so many tiles of a variant of groups that take jokers, one of flowers among them, and the rest tiles
    it has no use for."""
    fit = [one for one in table.variants if one.total[FLOWER] and all(group.takes_jokers for group in one.groups)]
    variant = fit[place]
    real = [min(count, copies) for count, copies in zip(variant.total, COPIES, strict=True)]
    own = (kinds_of(real) + (JOKER,) * (HAND_TILES - sum(real)))[:wanted]
    others = [kind for kind in range(JOKER) if not variant.total[kind]]
    return own, tuple(others[:junk])


def worths_of(table, observation, number, coming):
    """What each choice of so many tiles leaves is worth, from the parts that `test_kept` checks."""
    kept = RacksLeft.of(table, observation.counts, observation.unseen, choices_of(observation.rack, number))
    return kept.worths(shares(table, observation.unseen, coming, observation.picks_left))


@pytest.mark.slow
def test_every_choice_is_weighed(table):
    """The choices are the legal ones, each once, best first, with the worths of what they leave."""
    to_come = {0: 11, 1: 8, 2: 5, 3: 11, 4: 8, 5: 5}  # three by each pass left of the round, two by the courtesy pass
    for state in moments(table, 1):
        if state.phase is not Phase.PASSING:
            continue
        observation = observe(state, 0)
        advice = advise_passes(table, observation)
        assert sorted(one.kinds for one in advice.choices) == sorted(
            action.kinds for action in observation.legal if not action.blind
        )
        coming = to_come[observation.passes_done]
        assert (advice.coming, advice.draws) == (coming, coming + 40)
        expected = dict(zip(choices_of(observation.rack, 3), worths_of(table, observation, 3, coming), strict=True))
        top = max(expected.values())
        lost = {kinds: (top - worth) * observation.picks_left for kinds, worth in expected.items()}
        assert all(abs(one.picks - lost[one.kinds]) < 1e-9 for one in advice.choices)
        assert advice.choices[0].picks == 0
        assert [one.picks for one in advice.choices] == sorted(one.picks for one in advice.choices)


@pytest.mark.slow
def test_house_rules_tell_what_is_to_come(table):
    """Later passes of the round that is played, and the courtesy pass if the house plays it, are counted in."""
    rack = observe(start(table.sheet, HOUSE, shuffle(7)), 0).rack
    for passes, courtesy, done, coming in (
        (1, False, 0, 3),
        (2, True, 0, 8),
        (3, False, 2, 3),
        (6, False, 0, 9),
        (4, True, 3, 5),
        (5, False, 3, 6),
    ):
        house = House(picks=12, passes=passes, courtesy=courtesy)
        advice = advise_passes(table, holding(table, rack, done, house=house))
        assert (advice.coming, advice.draws) == (coming, coming + 12)


def test_all_the_draws_that_are_left_count(table):
    """With the whole wall to come the advice looks ahead to its end; at the full table as far as its share goes."""
    for house, draws in ((House(passes=3), 99), (House(passes=3, table=FULL), 24)):
        observation = observe(start(table.sheet, house, shuffle(7)), 0)
        assert observation.picks_left in (99, 24)
        assert advise_passes(table, observation).draws == 9 + draws


@pytest.mark.slow
def test_hands_now_and_after(table):
    """The hands are those in reach of the rack before and after the best three go, with exact odds, best first."""
    for state in list(moments(table, 2))[:3]:
        observation = observe(state, 0)
        advice = advise_passes(table, observation)
        for hands, gone in ((advice.hands, ()), (advice.after, advice.choices[0].kinds)):
            left = slow.without(observation.counts, gone)
            odds = [reach.odds for reach in hands]
            assert odds == sorted(odds, reverse=True)
            assert len({reach.hand.name for reach in hands}) == len(hands)
            for reach in hands:
                row = next(
                    row for row, variant in enumerate(table.variants)
                    if variant is reach.variant and table.sheet.hands[table.hand[row]] is reach.hand
                )  # fmt: skip
                exact = exact_after_passes(table, np.array([row]), left, observation.unseen, advice.coming, 40)[0]
                assert abs(reach.odds - exact) < 1e-12
                assert reach.missing == sum(not slot.held for group in reach.slots for slot in group)
        assert advice.after == hands_after(table, observation, advice.choices[0].kinds)


def test_what_is_not_needed_goes(table):
    """With eleven tiles of a hand and three that it has no use for, those three go."""
    own, junk = nearly(table, 11, 3)
    advice = advise_passes(table, holding(table, own + junk))
    assert advice.choices[0].kinds == tuple(sorted(junk))


@pytest.mark.slow
def test_blind_where_too_little_is_to_spare(table):
    """With one tile to spare two are passed on unseen on the last pass of a round, and none on another pass."""
    own, junk = nearly(table, 13, 1)
    for done in range(6):
        observation = holding(table, own + junk, done)
        advice = advise_passes(table, observation)
        if done in (2, 5):
            assert (advice.blind, advice.blind_kinds) == (2, junk)
            assert advice.blind_picks > 0
        else:
            assert (advice.blind, advice.blind_kinds, advice.blind_picks, advice.blind_because) == (0, (), 0, "")
    never = advise_passes(table, holding(table, own + junk, 2, house=replace(HOUSE, blind=False)))
    assert (never.blind, never.blind_because) == (0, "")


@pytest.mark.slow
def test_gain_of_passing_on_unseen(table):
    """Each tile passed on unseen is one that stays and one fewer that comes; it is advised if the best so far is more
    than a point ahead of the best three."""
    seen = [
        observe(state, 0)
        for seed in range(3)
        for state in moments(table, seed)
        if state.phase is Phase.PASSING and state.passes_done in (2, 5)
    ]
    for wanted in (10, 11, 12, 13):
        for place in (0, 20):
            own, junk = nearly(table, wanted, 14 - wanted, place)
            seen.append(holding(table, own + junk, 2))
    found = set()
    for observation in seen:
        advice = advise_passes(table, observation)
        best = [worths_of(table, observation, 3 - blind, 5 - blind).max() for blind in range(4)]
        gain = (max(best[1:]) - best[0]) * observation.picks_left
        assert abs(advice.blind_picks - gain) < 1e-9
        assert advice.blind == (int(np.argmax(best)) if gain > 0.4 else 0)
        found.add(advice.blind)
    assert found >= {0, 1, 2}


def test_the_second_round(table):
    """The vote compares three passes more with stopping and exchanging as well as can be."""
    observation = next(observe(state, 0) for state in moments(table, 3) if state.phase is Phase.AGREEING)
    advice = advise_second_round(table, observation)
    go = worths_of(table, observation, 3, 11).max()
    stop = max(worths_of(table, observation, number, number).max() for number in range(4))
    assert abs(advice.picks - (go - stop) * observation.picks_left) < 1e-9
    assert advice.agree == (go > stop)
    bare = replace(observation, house=replace(HOUSE, courtesy=False))
    gain = worths_of(table, bare, 3, 9).max() - worths_of(table, bare, 0, 0)[0]
    assert abs(advise_second_round(table, bare).picks - gain * bare.picks_left) < 1e-9
    assert advice.draws == 40
    assert advice.hands[0].odds == hands_after(table, replace(observation, phase=Phase.GIVING, settled=0), ())[0].odds


def test_stop_with_nothing_to_spare(table):
    """A rack that is a hand but for one tile stops the passes; one that is near to nothing goes on."""
    own, junk = nearly(table, 13, 1)
    vote = {"phase": Phase.AGREEING, "legal": (Agree(), Stop())}
    stop = advise_second_round(table, holding(table, own + junk, 3, **vote))
    assert not stop.agree
    assert stop.picks < 0
    assert advise_second_round(table, holding(table, range(0, 28, 2), 3, **vote)).agree


@pytest.mark.slow
def test_the_courtesy_pass(table):
    """What to ask for is the number whose best exchange is worth most; what to give leaves most."""
    for seed in range(3):
        for state in moments(table, seed):
            observation = observe(state, 0)
            if state.phase not in (Phase.ASKING, Phase.GIVING):
                continue
            advice = advise_courtesy(table, observation)
            best = [worths_of(table, observation, number, number).max() for number in range(4)]
            lost = (max(best) - np.array(best)) * observation.picks_left
            assert np.allclose(advice.picks, lost, rtol=0, atol=1e-9)
            asks = int(np.argmax(np.round(best, 12)))
            assert advice.ask == (observation.settled if state.phase is Phase.GIVING else asks)
            assert len(advice.give) == advice.ask
            left = worths_of(table, observation, advice.ask, advice.ask)
            assert advice.give == choices_of(observation.rack, advice.ask)[int(left.round(12).argmax())]
            assert [one.kinds for one in advice.choices[:1]] == ([advice.give] if advice.ask else [])
            assert len(advice.choices) == (len(left) if advice.ask else 0)
            assert advice.draws == 40 + advice.ask


def test_ask_for_no_more_than_there_is_to_spare(table):
    """With one tile to spare one is asked for. The tile that lacks is no joker, as a joker never comes by a pass."""
    whole, junk = nearly(table, 14, 1)
    asking = {"phase": Phase.ASKING, "legal": tuple(Ask(number) for number in range(4))}
    advice = advise_courtesy(table, holding(table, whole[1:] + junk, 6, **asking))
    assert (advice.ask, advice.give) == (1, junk)
    assert advice.picks[0] > 0.1, "it is clear"


@pytest.mark.slow
def test_the_choice_is_what_the_advice_says(table):
    """The quick choice before play is a legal one and the one that the advice comes to, in every seat."""
    met = set()
    for seed, player in ((4, 0), (5, 2)):
        for state in moments(table, seed, player=player):
            observation = observe(state, player)
            action = choose_before_play(table, observation)
            assert action in observation.legal
            if state.phase is Phase.PASSING:
                advice = advise_passes(table, observation)
                best = Pass(advice.blind_kinds, advice.blind) if advice.blind else Pass(advice.choices[0].kinds)
                assert action == best
            elif state.phase is Phase.AGREEING:
                assert action == (Agree() if advise_second_round(table, observation).agree else Stop())
            else:
                advice = advise_courtesy(table, observation)
                assert action == (Ask(advice.ask) if state.phase is Phase.ASKING else Give(advice.give))
            met.add(state.phase)
    assert met == set(BEFORE_PLAY)


@pytest.mark.slow
def test_hidden_tiles_change_nothing(table):
    """Tiles that the seat can't see may lie in any order: the advice stays the same, and so does advice asked twice."""
    for state in moments(table, 10):
        hidden = [*state.wall, *(kind for rack in state.racks[1:] for kind in rack)]
        Random(11).shuffle(hidden)
        racks = [state.racks[0]]
        for rack in state.racks[1:]:
            racks.append(tuple(hidden[: len(rack)]))
            del hidden[: len(rack)]
        shuffled = replace(state, racks=tuple(racks), wall=tuple(hidden))
        assert shuffled != state
        advise = {Phase.PASSING: advise_passes, Phase.AGREEING: advise_second_round}.get(state.phase, advise_courtesy)
        first = advise(table, observe(state, 0))
        assert first == advise(table, observe(shuffled, 0))
        assert choose_before_play(table, observe(state, 0)) == choose_before_play(table, observe(shuffled, 0))


def test_order_of_arrival_changes_nothing(table):
    """The same tiles in another order get the same advice."""
    observation = observe(start(table.sheet, HOUSE, shuffle(12)), 0)
    assert advise_passes(table, observation) == advise_passes(table, replace(observation, rack=observation.rack[::-1]))


@pytest.mark.slow
def test_chosen_sections_restrict_the_advice():
    """With a sheet cut to one section no hand of another is spoken of, and other tiles go."""
    sheet = find("lantern-street")
    whole = SheetTable.of(sheet)
    for section in sheet.sections[:3]:
        cut = SheetTable.of(sheet.cut([section.name]))
        names = {hand.name for hand in section.hands}
        differ = 0
        for seed in range(3):
            observation = observe(start(cut.sheet, HOUSE, shuffle(seed)), 0)
            advice = advise_passes(cut, observation)
            assert {reach.hand.name for reach in (*advice.hands, *advice.after)} <= names
            differ += advice.choices[0].kinds != advise_passes(whole, observation).choices[0].kinds
        assert differ


def test_no_hand_in_reach(table):
    """Where no hand can be made any more every choice is as good, and the first one is taken."""
    variant = next(one for one in table.variants if Group(2, one.groups[0].kind) in one.groups)
    table = SheetTable.of(replace(table.sheet, sections=(
        replace(table.sheet.sections[0], hands=(replace(table.sheet.hands[0], variants=(variant,)),)),
    )))  # fmt: skip
    gone = next(group.kind for group in variant.groups if group.size == 2)
    elsewhere = tuple(4 * (kind == gone) for kind in range(KINDS))
    rack = [kind for kind in range(27) if kind != gone][:14]
    advice = advise_passes(table, holding(table, rack, elsewhere=elsewhere))
    assert advice.hands == advice.after == ()
    assert {one.picks for one in advice.choices} == {0.0}
    assert {one.because for one in advice.choices} == {"No hand is in reach of the tiles to come."}
    assert advice.choices[0].kinds == tuple(rack[:3])


def test_advice_at_another_time_is_refused(table):
    """Each kind of advice says when it can be asked for; a rack of jokers can pass nothing."""
    passing = observe(start(table.sheet, HOUSE, shuffle(1)), 0)
    for advise in (advise_second_round, advise_courtesy):
        with pytest.raises(ValueError, match="ask for it when"):
            advise(table, passing)
    waiting = observe(start(table.sheet, HOUSE, shuffle(1)), 1)
    played = observe(start(table.sheet, House(), shuffle(1)), 0)
    for observation in (waiting, played):
        for advise in (advise_passes, choose_before_play):
            with pytest.raises(ValueError, match="ask for it when"):
                advise(table, observation)
    with pytest.raises(ValueError, match="jokers are never passed"):
        advise_passes(table, replace(passing, rack=(JOKER,) * 8 + (0, 1)))


def test_a_loss_by_rounding_is_none(table):
    """Choices whose worths differ by rounding alone cost nothing, one that differs by more than that does."""
    observation = observe(start(table.sheet, HOUSE, shuffle(3)), 0)
    choices = choices_of(observation.rack, 3)
    left = RacksLeft.of(table, observation.counts, observation.unseen, choices)
    worths = np.full(len(choices), 0.1)
    worths[:3] = 0.3, 0.3 - 1e-13, 0.3 - 1e-11
    costs = costs_of(worths, 40)
    assert costs[0] == costs[1] == 0.0
    assert costs[2] > 0.0
    ordered = ranked(left, choices, costs, np.zeros(0, np.int64), (), draws=40)
    assert [one.kinds for one in ordered[:3]] == list(choices[:3])
