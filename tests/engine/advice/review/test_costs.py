"""Fair costs of a finished game: measured where something was estimated, with intervals, and no fault inside them."""

from dataclasses import replace
from random import Random

import pytest

from engine.advice.advise.passes import compare_passes
from engine.advice.moment import Moment, StoppedError, Work
from engine.advice.review.costs import interval_of, try_costs
from engine.advice.review.review import Decision, review
from engine.advice.review.skill import figures_of
from engine.advice.rollout.discards import compare
from engine.advice.table import SheetTable
from engine.advice.worth.worth import SAME
from engine.rules.actions import Discard
from engine.rules.deal import shuffle
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import House
from engine.rules.observation import observe
from engine.rules.state import CHANCE, Phase
from engine.seats.character import Strength
from engine.seats.players import player
from engine.sheet.shelf import find

EFFORT = 500


@pytest.fixture(scope="module")
def table():
    """The smaller shipped sheet."""
    return SheetTable.of(find("first-steps"))


def game(table, seed, house):
    """A whole game with careless choices of East's, the others' passes a steady player's: states and actions."""
    random, others = Random(seed), player(Strength.STEADY, table)
    states, actions = [start(table.sheet, house, shuffle(seed))], []
    while states[-1].phase is not Phase.OVER:
        state = states[-1]
        legal = legal_actions(state)
        if state.to_act in (CHANCE, house.seat):
            action = random.choice([one for one in legal if isinstance(one, Discard)] or legal)
        else:
            action = others(observe(state, state.to_act))
        actions.append(action)
        states.append(apply(state, action))
    return states, actions


@pytest.mark.slow
def test_costs_are_tried_out(table):
    """Each choice estimated to cost something has the cost that comparing it with the advised one finds, and its
    interval; all else in the review is as it was, and the same game gets the same costs."""
    states, actions = game(table, 3, House(picks=16))
    found = review(table, states, actions)
    tried = try_costs(found, table, states, Work(effort=EFFORT))
    assert tried == try_costs(found, table, states, Work(effort=EFFORT))
    assert replace(tried, decisions=found.decisions) == found
    met = set()
    for before, after in zip(found.decisions, tried.decisions, strict=True):
        if before.cost <= SAME:
            assert after == before
            continue
        seen = observe(states[before.index], 0)
        draws = seen.picks_left
        one = compare(
            Moment.of(table, seen.counts, seen.unseen, draws), before.best[0], before.chosen[0], Work(effort=EFFORT)
        )
        assert after.cost == one.behind * draws
        low, high = (one.behind - one.half) * draws, (one.behind + one.half) * draws
        assert after.within == interval_of(one, draws) == (low, high)
        assert after.fault == (one.behind - one.half > 0 and one.behind > SAME)
        met.add((one.games == 0, after.fault))
    assert {(False, True), (True, True)} <= met, "faults played on, and faults looked at to the end"
    assert any(not fault for _, fault in met), "choices that can't be told apart from the advised ones"


@pytest.mark.slow
def test_passes_are_tried_out_too(table):
    """A pass that was estimated to cost something has an interval, that of comparing it with the advised three."""
    states, actions = game(table, 5, House(picks=4, passes=3))
    found = review(table, states, actions)
    passes = [one for one in found.decisions if one.passing and one.cost > SAME]
    assert passes
    tried = try_costs(found, table, states, Work(effort=EFFORT))
    for before in passes:
        after = next(one for one in tried.decisions if one.index == before.index)
        if len(before.best) == 3:
            seen = observe(states[before.index], 0)
            one = compare_passes(table, seen, before.best, before.chosen, Work(effort=EFFORT))
            assert after.cost == one.behind * seen.picks_left
        assert after.within[0] <= after.cost <= after.within[1]


def test_no_fault_within_the_interval():
    """Only a cost whose whole interval is above nothing is a fault; estimated ones count as estimated."""
    one = Decision(0, (1,), (2,), 0.02, -0.02, True)
    assert one.fault
    assert not replace(one, within=(-0.01, 0.05)).fault
    assert replace(one, within=(0.01, 0.03)).fault
    assert not replace(one, cost=-0.01, within=(-0.03, 0.01)).fault


@pytest.mark.slow
def test_chance_evens_out_in_the_figures(table):
    """Costs that came out below nothing by chance are added up as they are; their sum is never negative."""
    states, actions = game(table, 6, House(picks=16))
    found = review(table, states, actions)
    tried = try_costs(found, table, states, Work(effort=EFFORT))
    figures = figures_of(tried)
    whole = [one for one in tried.unforced if one.spoiled is None]
    spoiled = [one.spoiled for one in tried.unforced if one.spoiled is not None]
    assert figures.cost == pytest.approx(sum(one.cost for one in whole) + sum(spoiled))
    assert any(one.cost < 0 for one in whole)
    assert figures.faults == sum(one.fault for one in tried.decisions) < figures_of(found).faults
    below = replace(tried, decisions=(replace(tried.decisions[0], cost=-0.5, unforced=True, spoiled=None),))
    assert figures_of(below).cost == 0.0


@pytest.mark.slow
def test_it_can_be_stopped(table):
    """It ends with an error of its own once told to."""
    states, actions = game(table, 3, House(picks=16))
    with pytest.raises(StoppedError):
        try_costs(review(table, states, actions), table, states, Work(stopped=lambda: True))
