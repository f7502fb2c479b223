"""Advice for two racks: legal, close to the best that a slow search finds, exact at the last draw, and honest."""

import random

import numpy as np
import pytest
from kit import practice_sheet

from engine.advice.advise.two_hands import UNWEIGHED, advise_two, shared_draws
from engine.advice.table import SheetTable
from engine.advice.worth.worth import weigh
from engine.rules.actions import ChangeRacks, Discard, Mahjong, PutOn
from engine.rules.deal import shuffle
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import TWO, House
from engine.rules.matching import match
from engine.rules.observation import observe
from engine.rules.state import CHANCE, Phase
from engine.tiles import KINDS, counts_of

SHEET = practice_sheet()
TABLE = SheetTable.of(SHEET)


def walk(seed, picks, careless=0.0):
    """Moments of a game played by the advice, now and then by chance instead."""
    chance = random.Random(seed)
    state = start(SHEET, House(table=TWO, picks=picks), shuffle(seed))
    while state.phase is not Phase.OVER:
        if state.to_act == CHANCE:
            state = apply(state, legal_actions(state)[0])
            continue
        advice = advise_two(TABLE, observe(state, 0))
        yield state, advice
        action = chance.choice(legal_actions(state)) if chance.random() < careless else advice.action
        state = apply(state, action)


@pytest.mark.parametrize("seed", [0, pytest.param(1, marks=pytest.mark.slow)])
def test_what_is_advised_may_be_done_and_is_said(seed):
    """Through a game with slips: the action is legal, named in the sentence, and what follows is legal after it."""
    for state, advice in walk(seed, 6, careless=0.3):
        assert advice.action in legal_actions(state)
        if isinstance(advice.action, PutOn):
            assert f"on rack {advice.action.rack + 1}" in advice.because
            state = apply(state, advice.action)
        if advice.way.change is not None:
            assert "for the" in advice.because
            state = apply(state, advice.way.change)
        assert state.turn == advice.rack
        last = Mahjong() if advice.way.goes is None else Discard(advice.way.goes)
        assert last in legal_actions(state)
        assert advice.because.count("Rack ") <= 2
    assert UNWEIGHED.count(".") == 1


def slow_best(state):
    """The best product of the racks' worths over every placing, every change and every tile, one by one."""
    seen = observe(state, 0)
    share = shared_draws(seen.picks_left, 2)

    def worth(rack):
        return float(weigh(TABLE, np.array([rack]), np.array([seen.unseen]), share).here[0])

    best = 0.0
    for change in (None, *(action for action in legal_actions(state) if isinstance(action, ChangeRacks))):
        after = state if change is None else apply(state, change)
        full, other = counts_of(after.racks[after.turn]), counts_of(after.racks[1 - after.turn])
        if match(SHEET, full) is not None:
            best = max(best, (1 + 1e-4) * (worth(other) + 1e-4))
            continue
        left = weigh(TABLE, np.array([full]), np.array([seen.unseen]), share).left[0]
        best = max(best, (float(left.max()) + 1e-4) * (worth(other) + 1e-4))
    return best


@pytest.mark.slow
def test_few_changes_are_enough_to_look_at():
    """Of what a slow search through every change finds, what is advised keeps nearly all, on the mean."""
    shares = []
    for seed in (3, 4):
        for state, advice in walk(seed, 16):
            if state.phase is Phase.TURN and not state.two.changed and state.picks % 5 == 1:
                shares.append(advice.way.good / slow_best(state))
    assert len(shares) >= 6
    assert max(shares) <= 1 + 1e-9
    assert sum(shares) / len(shares) > 0.95


def test_the_last_draw_is_advised_rightly():
    """One hand shown, one draw to come: the tile let go leaves the most tiles that finish the other, by the rules."""
    chance = random.Random(8)
    tried = 0
    while tried < 6:
        variant = chance.choice(TABLE.variants)
        whole = [kind for kind in range(KINDS) for _ in range(variant.total[kind])]
        if any(whole.count(kind) > 4 for kind in whole if kind < 34):
            continue
        chance.shuffle(whole)
        state = start(SHEET, House(table=TWO, picks=2), shuffle(tried))
        held = (*whole[:12], 0, 10)
        done = state.two.__class__(shown=(None, "done"))
        racks = (held, state.racks[1], (), ())
        turn = type(state)(**{**vars(state), "racks": racks, "phase": Phase.TURN, "to_act": 0, "picks": 1, "two": done})
        if match(SHEET, counts_of(held)) is not None or min(observe(turn, 0).unseen) < 0:
            continue
        tried += 1
        seen = observe(turn, 0)
        finishing = {}
        for gone in set(held):
            rest = list(counts_of(held))
            rest[gone] -= 1
            finishing[gone] = 0
            for drawn in range(KINDS):
                rest[drawn] += 1
                finishing[gone] += seen.unseen[drawn] * (match(SHEET, rest) is not None)
                rest[drawn] -= 1
        advice = advise_two(TABLE, seen)
        assert isinstance(advice.action, Discard)
        assert finishing[advice.action.kind] == max(finishing.values())


def test_no_choice_no_advice():
    """Before a draw, and after the end."""
    state = start(SHEET, House(table=TWO), shuffle(1))
    with pytest.raises(ValueError, match="nothing to choose now"):
        advise_two(TABLE, observe(state, 0))
    assert [shared_draws(draws, 2) for draws in (0, 1, 7, 8)] == [0, 1, 4, 4]
