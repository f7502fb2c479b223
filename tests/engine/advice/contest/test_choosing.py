"""The choices by the contest are offered ones, and nothing hidden sways them."""

import random
from dataclasses import replace
from itertools import islice

import pytest
from full_games import changed_about, moments, seen, small_table

from engine.advice.contest import choosing
from engine.advice.contest.choosing import best_blind, choose
from engine.advice.contest.contest import Contest
from engine.rules.actions import Exchange, Pass
from engine.rules.deal import shuffle
from engine.rules.game import apply, start
from engine.rules.house import FULL, House
from engine.rules.state import Phase
from engine.tiles import JOKER

TABLE = small_table()
HOUSE = House(table=FULL, passes=6, courtesy=True)


@pytest.mark.parametrize(
    "phase", [Phase.PASSING, Phase.AGREEING, Phase.ASKING, Phase.GIVING, Phase.TURN, Phase.CALLING]
)
@pytest.mark.slow
def test_chooses_what_is_offered_whatever_is_hidden(phase):
    """The action is a legal one, and the same when the hidden tiles are dealt anew."""
    contest, chance = Contest(TABLE), random.Random(2)
    met = 0
    for state, seat in islice(moments(TABLE, range(3), phase, HOUSE), 0, 40, 8):
        observation = seen(state, seat)
        action = choose(contest, observation)
        assert action in observation.legal or phase in (Phase.PASSING, Phase.GIVING)
        assert choose(Contest(TABLE), seen(changed_about(state, seat, chance), seat)) == action
        met += 1
    assert met


@pytest.mark.parametrize(("best", "stay"), [(1, (4, 7)), (2, (4,)), (3, ())])
def test_one_two_or_three_tiles_are_passed_on_unseen(monkeypatch, best, stay):
    """Whichever leaves most, and the rest of the three comes from the rack; a tile passed on unseen comes in no more.

    In the last pass of the first round three tiles and the two of the courtesy pass are still to come.
    """
    observation = replace(seen(start(TABLE.sheet, HOUSE, shuffle(1, 8)), 0), passes_done=2)
    asked = []

    def left_by(_contest, _observation, number, coming):
        asked.append((number, coming))
        return 0.5 if number == 3 - best else 0.3, (4, 7, 9)[:number]

    monkeypatch.setattr(choosing, "best_gone", left_by)
    found = best_blind(Contest(TABLE), observation, 0.1)
    assert asked == [(2, 4), (1, 3), (0, 2)]
    assert (found.action, found.worth, found.gains) == (Pass(stay, best), 0.5, True)
    assert not best_blind(Contest(TABLE), observation, 0.5).gains
    assert best_blind(Contest(TABLE), replace(observation, passes_done=1), 0.1) is None


def test_an_exchange_is_worth_the_rack_that_it_leaves():
    """One joker more and the tile less, and the best discard then, as if the exchange had been made."""
    contest = Contest(TABLE)
    for state, seat in moments(TABLE, range(9), Phase.TURN):
        made = next((action for action in seen(state, seat).legal if isinstance(action, Exchange)), None)
        if made is not None:
            break
    observation = seen(state, seat)
    after = seen(apply(state, made), seat)
    assert after.counts[JOKER] == observation.counts[JOKER] + 1
    assert contest.exchanged(observation, made) == pytest.approx(max(contest.keeps(contest.rack(after)).values()))
