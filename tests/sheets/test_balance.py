"""No part of a shipped sheet takes over, and none lies idle: seeded games on the quiet table, played by the weights."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest

from engine.advice.odds.reach import shortfalls
from engine.advice.table import SheetTable
from engine.advice.worth.choice import let_go
from engine.advice.worth.worth import possible, weigh
from engine.sheet.model import Sheet
from engine.sheet.shelf import find
from engine.tiles import JOKER, KINDS, full_set

GAMES = 400
FIRST_RACK = 14
OTHERS = 39
"""Tiles of the three other racks, which never come."""


def hands_made(sheet: Sheet, seed: int) -> Counter[int]:
    """How often each hand (its place on the sheet) is made in GAMES games, each to the end of the wall."""
    table = SheetTable.of(sheet)
    whole = np.array(full_set())
    random = np.random.default_rng(seed)
    walls = random.permuted(np.tile(np.repeat(np.arange(KINDS), whole), (GAMES, 1)), axis=1)
    racks = np.array([np.bincount(wall[:FIRST_RACK], minlength=KINDS) for wall in walls])
    unseen = whole - racks
    made: Counter[int] = Counter()
    for place in range(FIRST_RACK + OTHERS, walls.shape[1] + 1):
        short = shortfalls(table, racks)
        missing = table.closing[racks[:, JOKER, None], short]
        done = missing.min(axis=1) == 0
        made.update(table.hand[missing[done].argmin(axis=1)].tolist())
        walls, racks, unseen, short = walls[~done], racks[~done], unseen[~done], short[~done]
        if place == walls.shape[1] or not len(walls):
            break
        alive = possible(table, racks, unseen)
        left = weigh(table, racks, unseen, walls.shape[1] - place, short=short, alive=alive).left
        games = np.arange(len(racks))
        racks[games, let_go(table, racks, short, alive, left)] -= 1
        racks[games, walls[:, place]] += 1
        unseen[games, walls[:, place]] -= 1
    return made


@pytest.mark.parametrize(("stem", "greatest", "fewest"), [("lantern-street", 0.2, 45), ("first-steps", 0.5, 11)])
@pytest.mark.slow
def test_play_spreads(stem: str, greatest: float, fewest: int) -> None:
    """Nearly every game ends with a hand; no section has more than its share of them, no hand a third, and most hands
    are made even in so few games."""
    sheet = find(stem)
    made = hands_made(sheet, seed=2026)
    total = made.total()
    assert total > 0.95 * GAMES
    sections = Counter[str]()
    for index, times in made.items():
        sections[sheet.hands[index].section] += times
    shares = {name: round(times / total, 3) for name, times in sections.items()}
    assert set(shares) == {section.name for section in sheet.sections}, shares
    assert max(shares.values()) < greatest, shares
    assert max(made.values()) < total / 3
    assert len(made) >= fewest
