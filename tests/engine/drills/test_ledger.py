"""The season's ledger: figures of whole games by a slow twin, wins by kind of game, pace, and what is kept."""

import json
from datetime import date

import plain_advice as plain
import pytest

from engine.advice.table import SheetTable
from engine.drills.ledger import (
    HandFigures,
    LedgerGame,
    SeasonDates,
    Wins,
    figures_of,
    ledger_of,
)
from engine.rules.actions import Discard
from engine.rules.deal import shuffle
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import House
from engine.rules.observation import observe
from engine.rules.state import CHANCE, Phase
from engine.sheet.shelf import find
from engine.tiles import JOKER

DAY = date(2026, 5, 1)


@pytest.fixture(scope="module")
def sheet():
    """The small sheet."""
    return find("first-steps")


def game(won=None, *, tried=None, near=(), best=(), full=False, hidden=True, wanted=None, day=DAY):
    """A finished game."""
    return LedgerGame(day, full, hidden, wanted, HandFigures(won, won or tried, dict(near), dict(best)))


def played(sheet, seed, picks=12):
    """What the player saw at each choice and at the end, the leftmost tile going each time."""
    state = start(sheet, House(picks=picks), shuffle(seed, 8))
    moments = []
    while state.phase is not Phase.OVER:
        if state.to_act != CHANCE:
            moments.append(observe(state, 0))
        actions = legal_actions(state)
        real = [action for action in actions if isinstance(action, Discard) and action.kind != JOKER]
        state = apply(state, (real or actions)[0])
    return moments, observe(state, 0)


@pytest.mark.slow
def test_the_figures_of_a_game_are_those_of_a_slow_twin(sheet):
    """Best odds of every hand over all choices, the likeliest at the last one, and what was short at the end."""
    moments, last = played(sheet, 3)
    found = figures_of(SheetTable.of(sheet, 8), moments, last, None)
    slow = {hand.name: 0.0 for hand in sheet.hands}
    latest = {}
    for moment in moments:
        for hand in sheet.hands:
            latest[hand.name] = max(
                float(plain.odds(variant, moment.counts, moment.unseen, min(moment.picks_left, 40)))
                for variant in hand.variants
            )
            slow[hand.name] = max(slow[hand.name], latest[hand.name])
    assert found.best == pytest.approx({name: odds for name, odds in slow.items() if odds > 0}, abs=1e-12)
    assert latest[found.tried] == max(latest.values()) or max(latest.values()) == 0
    short = {hand.name: min(plain.missing(variant, last.counts) for variant in hand.variants) for hand in sheet.hands}
    assert found.near == {name: number for name, number in short.items() if number in (1, 2)}
    assert found.won is None


def test_figures_are_kept_and_read_again():
    """To plain values and back; rubbish is no figures."""
    figures = HandFigures("A", "A", {"B": 2}, {"B": 0.25, "A": 0.5})
    assert HandFigures.from_json(json.loads(json.dumps(figures.to_json()))) == figures
    assert HandFigures.from_json({"near": 3, "best": {}}) is None
    assert HandFigures.from_json({"near": {}, "best": {}, "won": 3}) is None
    assert HandFigures.from_json([]) is None


def test_wins_are_counted_by_kind_of_game(sheet):
    """Quiet or full, advice hidden or seen; games dealt for any wanted hand and a win at a real table stand apart."""
    name, other = (hand.name for hand in sheet.hands[:2])
    games = [
        game(name),
        game(name, hidden=False, day=date(2026, 4, 20)),
        game(name, full=True),
        game(name, full=True, hidden=False),
        game(name, wanted=name),
        game(name, wanted=other),
        game(other),
        game(None, tried=name, near={name: 1}, best={name: 0.4}),
        game(None, wanted=name, near={name: 2}, best={name: 0.3}),
    ]
    ledger = ledger_of(sheet, games, ticks=[(name, date(2026, 4, 18))])
    record = ledger.records[0]
    assert record.wins == Wins(1, 1, 1, 1, 2, 1)
    assert record.wins.all == 7
    assert (record.first, record.tries, record.near, record.best) == (date(2026, 4, 18), 8, 1, 0.4)
    assert (ledger.won, ledger.games, ledger.wanted) == (2, 6, 3)
    section = sheet.sections[0]
    assert ledger.sections[section.name] == (2, len(section.hands))


def test_hands_avoided_were_within_reach_and_never_gone_for(sheet):
    """A tenth at some choice is within reach."""
    first, second, third = (hand.name for hand in sheet.hands[:3])
    ledger = ledger_of(sheet, [game(None, tried=third, best={first: 0.1, second: 0.09, third: 0.5})])
    assert [record.hand for record in ledger.avoided] == [first]


def test_the_pace(sheet):
    """Twelve hands, two of them won in four weeks, and ten weeks to go: one a week, half a week so far."""
    season = SeasonDates(date(2026, 4, 1), date(2026, 7, 7))
    won = [game(hand.name, day=date(2026, 4, 10)) for hand in sheet.hands[:2]]
    pace = ledger_of(sheet, won, season=season, today=date(2026, 4, 29)).pace
    assert (pace.left, pace.days) == (10, 70)
    assert pace.needed == pytest.approx(1.0)
    assert pace.so_far == pytest.approx(0.5)
    early = ledger_of(sheet, [], season=season, today=date(2026, 4, 5)).pace
    assert early.so_far is None
    over = ledger_of(sheet, [], season=season, today=date(2026, 7, 8)).pace
    assert (over.days, over.needed) == (0, None)
