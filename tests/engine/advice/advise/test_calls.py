"""Advice on calls and joker exchanges against slow twins: turns that each costs, hands ruled out, and the sentences."""

from collections import Counter
from dataclasses import replace
from itertools import islice
from random import Random

import pytest
from claims_calls import TIE, check_answer, check_exchange
from counted import left_after
from full_games import changed_about, moments, seen, small_table, wall_for
from plain_contest import worth

from engine.advice.advise import calls
from engine.advice.advise.calls import advise_call, deepen_call, draws_if_next
from engine.advice.advise.exchanges import advise_exchange
from engine.advice.contest.choosing import choose, too_soon
from engine.advice.contest.contest import Contest
from engine.advice.moment import Work
from engine.advice.review.values import PointsValue
from engine.rules.actions import Call, Discard, Exchange, LetGo, Mahjong
from engine.rules.game import apply, start
from engine.rules.house import FULL, House
from engine.rules.matching import allows
from engine.rules.state import Exposure, Phase
from engine.tiles import JOKER, NAMES, name

CLOSE = 1e-9


@pytest.fixture(scope="module")
def table():
    """The table of the smaller shipped sheet."""
    return small_table()


def callable_moments(table, number):
    """Moments at which a seat may call for an exposure."""
    wanted = (one for one in moments(table, range(40), Phase.CALLING)
              if any(isinstance(action, Call) for action in seen(*one).legal))  # fmt: skip
    return list(islice(wanted, 3, 3 + number * 5, 5))


def in_turns(worth, a_turn, observation):
    """A difference in worth as turns, one more than there are draws at most."""
    most = observation.picks_left + 1.0
    if a_turn <= 1e-9:
        return 0.0 if abs(worth) <= 1e-9 else most * (1 if worth > 0 else -1)
    return max(-most, min(most, worth / a_turn))


@pytest.mark.slow
def test_every_answer_costs_what_the_slow_twin_says(table):
    """Letting go keeps the rack and its draws; a call takes tiles out, lays the group, and the best tile goes. What is
    lost is told in turns, each worth what losing it would cost now. Costs are against the best answer, which stands
    first. A call that brings nothing nearer, or comes too early, is never better than letting go."""
    for state, seat in callable_moments(table, 8):
        observation = seen(state, seat)
        own, kind = observation.exposures[seat], observation.discards[-1].kind
        advice = advise_call(table, observation)
        assert Counter(one.action for one in advice.choices) == Counter(observation.legal)
        if isinstance(advice.best.action, Mahjong):
            continue
        here = worth(table, observation)
        a_turn = here - worth(table, observation, lost=1.0)
        lost = {LetGo(): 0.0}
        for choice in advice.choices:
            if isinstance(choice.action, LetGo) or choice.dead:
                continue
            rack = list(observation.counts)
            rack[kind] -= choice.action.size - choice.action.jokers - 1
            rack[JOKER] -= choice.action.jokers
            laid = (*own, Exposure(choice.action.size, kind, choice.action.jokers))
            left = [worth(table, observation, rack, laid, one) for one in range(JOKER) if rack[one]]
            counts = 1 / 0.9  # an answer that exposes a group counts so many times its worth
            lost[choice.action] = in_turns(here - max(left) * counts, a_turn, observation)
            if too_soon(Contest(table), observation, choice.action):
                lost[choice.action] = max(lost[choice.action], 0.0)
        least = min(lost.values())
        open_first = lost[LetGo()] - least <= TIE
        assert isinstance(advice.best.action, LetGo) == open_first
        for choice in advice.choices:
            if not choice.dead:
                cost = max(lost[choice.action] - (lost[LetGo()] if open_first else least), 0.0)
                assert choice.picks == pytest.approx(cost, rel=1e-5, abs=1e-6)
        costs = [one.picks for one in advice.choices]
        assert costs == sorted(costs)


@pytest.mark.slow
def test_every_claim_on_an_answer_is_so(table):
    """Hands, tiles, jokers, what is ruled out and costs are those of a fresh count."""
    met = set()
    for state, seat in callable_moments(table, 16):
        observation = seen(state, seat)
        advice = advise_call(table, observation)
        if not isinstance(advice.best.action, Mahjong):
            for choice in advice.choices:
                if not choice.dead:
                    met |= check_answer(choice, advice, table, observation)
    assert met >= {"let go", "hand", "before", "cost", "leaves"}


def test_a_call_that_gains_next_to_nothing_is_let_go(table, monkeypatch):
    """A tie goes to what shows the others nothing, and both answers say so; a tenth of a turn is a tie, more is not."""
    observation = seen(*callable_moments(table, 1)[0])
    monkeypatch.setattr(calls, "too_soon", lambda *_: False)
    monkeypatch.setattr(calls, "_turns_lost", lambda *_: -0.09)
    tie = advise_call(table, observation)
    assert isinstance(tie.best.action, LetGo)
    assert tie.best.because.endswith("be worth hardly more.")
    for choice in tie.choices[1:]:
        assert choice.dead or choice.because.endswith(
            "It is worth hardly more than letting it go, and the others see what you collect."
        )
    monkeypatch.setattr(calls, "_turns_lost", lambda *_: -0.11)
    better = advise_call(table, observation)
    assert isinstance(better.best.action, Call)
    assert better.of(LetGo()).because == "It costs about 0.1 turns."


def test_nothing_is_tried_out_in_a_game_among_four(table):
    """Rollouts play alone and know nothing of calls: the answers stay as they are weighed, the same every time."""
    for state, seat in callable_moments(table, 2):
        observation = seen(state, seat)
        assert deepen_call(table, observation, Work(600)) == advise_call(table, observation)


@pytest.mark.slow
def test_a_call_rules_out_the_hands_that_have_no_variant_with_what_is_exposed(table):
    """Just those in reach, concealed ones first; each sentence names its hand and why."""
    ruled = 0
    for state, seat in callable_moments(table, 20):
        observation = seen(state, seat)
        own, kind = observation.exposures[seat], observation.discards[-1].kind
        advice = advise_call(table, observation)
        for choice in advice.choices:
            if not isinstance(choice.action, Call):
                assert choice.rules_out == ()
                continue
            laid = (*own, Exposure(choice.action.size, kind))
            possible = {hand.name for hand, _ in left_after(table, laid)}
            lost = {reach.hand.name for reach in advice.hands} - possible
            assert {one.hand.name for one in choice.rules_out} == lost
            shut = [one.hand.concealed for one in choice.rules_out]
            assert shut == sorted(shut, reverse=True)
            for one in choice.rules_out:
                ruled += 1
                assert one.because.startswith(one.hand.name)
                assert ("concealed" in one.because) == one.hand.concealed
    assert ruled > 50


def test_draws_are_the_seats_share_of_the_wall_dealt_round_from_the_next_live_seat():
    """The slow way deals the wall round; the observation's own figure is the same when the seat lets go."""
    table = small_table()
    chance = Random(3)
    for state, seat in callable_moments(table, 12):
        dead = tuple(other != seat and chance.random() < 0.3 for other in range(4))
        for changed in (state, replace(state, dead=dead)):
            observation = seen(changed, seat)
            for mover in range(4):
                order = [(mover + step) % 4 for step in (1, 2, 3, 4) if not changed.dead[(mover + step) % 4]]
                slow = sum(order[draw % len(order)] == seat for draw in range(len(changed.wall)))
                assert draws_if_next(observation, mover) == slow
            assert draws_if_next(observation, changed.turn) == observation.picks_left


def test_mahjong_stands_first():
    """A discard that finishes the rack is named with its hand, and stands first."""
    table = small_table()
    hand, variant = next((h, v) for h in table.sheet.hands for v in h.variants if max(v.total) <= 4)
    tiles = [group.kind for group in variant.groups for _ in range(group.size)]
    last = tiles.pop()
    east = [last, *(kind for kind in range(27) if kind not in tiles and kind != last)][:14]
    state = start(table.sheet, House(table=FULL), wall_for({0: east, 1: tiles}))
    observation = seen(apply(state, Discard(last)), 1)
    best = advise_call(table, observation).best
    assert (best.action, best.picks, best.chance.share) == (Mahjong(), 0.0, 1.0)
    assert best.because == f"The {name(last)} makes {hand.name}: call it for mahjong."
    others = advise_call(table, observation).choices[1:]
    assert all(one.picks > 0 for one in others)
    assert {one.because for one in others} == {"It gives the mahjong away."}


def about_to_lay_all(house):
    """A discard with which seat 1 could lay its whole rack, after groups that it has laid."""
    table = small_table()
    hand, variant = next(
        (h, v) for h in table.sheet.hands for v in h.variants if min(group.size for group in v.groups) > 2
    )
    *first, final = variant.groups
    laid = tuple(Exposure(group.size, group.kind) for group in first)
    east = [final.kind, *(kind for kind in range(27) if kind not in {group.kind for group in variant.groups})][:14]
    state = start(table.sheet, house, wall_for({0: east}))
    rack = (final.kind,) * (final.size - 1)
    state = replace(
        state,
        racks=(state.racks[0], rack, *state.racks[2:]),
        exposures=((), laid, (), ()),
    )
    return table, hand, apply(state, Discard(final.kind)), Call(final.size)


def test_a_call_that_lays_the_whole_rack_is_mahjong():
    """Nothing would be left to let go, so mahjong is named, and the advice stands."""
    table, hand, state, call = about_to_lay_all(House(table=FULL))
    observation = seen(state, 1)
    assert call in observation.legal
    advice = advise_call(table, observation)
    assert (advice.best.action, [one.action for one in advice.choices]) == (Mahjong(), [Mahjong(), LetGo()])
    assert hand.name in advice.best.because
    assert choose(Contest(table), observation) == Mahjong()
    value = PointsValue(table)
    mine = replace(state, house=replace(state.house, seat=1))
    assert value.after(mine, call) == value.after(mine, Mahjong()) == value.of(mine)


def test_a_mistaken_mahjong_stands_last():
    """Where slips may happen it is open to the player, stands last, and the advice says what would come of it."""
    table = small_table()
    slips = House(table=FULL, slips=True)
    found = [seen(*one) for one in islice(moments(table, range(9), Phase.CALLING, slips), 60) if one[1] == 0]
    for observation in found[:4]:
        choice = advise_call(table, observation).choices[-1]
        assert (choice.action, choice.chance.share, choice.dead) == (Mahjong(), 0.0, True)
        assert "dead" in choice.because
    assert len(found) >= 4


def test_an_exposure_that_no_hand_allows_is_dead():
    """Where slips may happen such calls are open; the advice says that the hand would be dead."""
    table = small_table()
    kind = next(kind for kind in range(JOKER) if not allows(table.sheet, (Exposure(4, kind),)))
    others = [other for other in range(27) if other != kind]
    racks = {0: [kind, *others[:13]], 1: [kind, kind, kind, *others[-10:]]}
    state = start(table.sheet, House(table=FULL, seat=1, slips=True), wall_for(racks))
    advice = advise_call(table, seen(apply(state, Discard(kind)), 1))
    choice = advice.of(Call(4))
    assert choice.dead
    assert choice.because == f"No hand of this sheet allows a kong of {name(kind)}s exposed: your hand would be dead."
    assert {one.hand.name for one in choice.rules_out} == {one.hand.name for one in advice.hands}


@pytest.mark.slow
def test_every_exchange_gains_what_the_slow_twin_says():
    """The real tile goes, a joker comes, and the best tile goes after that; the sentence says what that gains."""
    table = small_table()
    swaps = (one for one in moments(table, range(60), Phase.TURN)
             if any(isinstance(action, Exchange) for action in seen(*one).legal))  # fmt: skip
    number = 0
    for state, seat in islice(swaps, 8):
        observation = seen(state, seat)
        advice = advise_exchange(table, observation)
        kept = {kind: worth(table, observation, gone=kind) for kind in range(JOKER) if observation.counts[kind]}
        goes = max(kept, key=kept.get)
        a_turn = kept[goes] - worth(table, observation, gone=goes, lost=1.0)
        open_now = [action for action in observation.legal if isinstance(action, Exchange)]
        assert Counter(one.action for one in advice.choices) == Counter(open_now)
        for choice in advice.choices:
            number += 1
            rack = list(observation.counts)
            rack[choice.action.kind] -= 1
            rack[JOKER] += 1
            if "self-drawn" in choice.because or Mahjong() in observation.legal:
                continue
            there = max(worth(table, observation, rack, gone=kind) for kind in range(JOKER) if rack[kind])
            gain = in_turns(there - kept[goes], a_turn, observation)
            assert choice.picks == pytest.approx(gain, rel=1e-5, abs=1e-6)
            check_exchange(choice, table, observation)
            assert choice.title.startswith(f"Give the {NAMES[choice.action.kind]} for ")
    assert number >= 8


@pytest.mark.slow
def test_nothing_hidden_changes_the_advice(table):
    """With the wall and the other racks dealt anew, calls and exchanges are advised alike, word for word."""
    chance = Random(5)
    for state, seat in callable_moments(table, 6):
        other = changed_about(state, seat, chance)
        assert other.wall != state.wall
        assert advise_call(table, seen(other, seat)) == advise_call(table, seen(state, seat))
    for state, seat in islice(moments(table, range(9), Phase.TURN), 0, 40, 8):
        other = changed_about(state, seat, chance)
        assert advise_exchange(table, seen(other, seat)) == advise_exchange(table, seen(state, seat))


def test_advice_is_refused_when_nothing_is_asked(table):
    """A seat that is not asked, or not in turn, gets one clear sentence."""
    state, seat = next(moments(table, range(3), Phase.CALLING))
    idle = next(other for other in range(4) if other not in state.asked)
    with pytest.raises(ValueError, match="asked about no discard"):
        advise_call(table, seen(state, idle))
    with pytest.raises(ValueError, match="not this seat's turn"):
        advise_exchange(table, seen(state, seat))
