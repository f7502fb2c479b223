"""Tiles missing, fast against slow."""

from random import Random

import numpy as np
import plain_advice as plain
import pytest

from engine.advice.odds.reach import missing, shortfall, shortfalls
from engine.advice.table import SheetTable
from engine.sheet.groups import Group, Variant
from engine.tiles import FLOWER, JOKER, KINDS


@pytest.fixture(scope="module")
def table():
    """A table of 300 random variants."""
    random = Random(5)
    return SheetTable.of(plain.sheet_of(*([plain.random_variant(random)] for _ in range(300))))


@pytest.mark.slow
def test_missing_agrees_with_the_slow_twin(table):
    """For random racks of 13 and 14 tiles, every variant misses what the plain loop counts."""
    random = Random(6)
    for trial in range(40):
        rack, _ = plain.random_rack(random, 13 + trial % 2)
        assert missing(table, rack).tolist() == [plain.missing(variant, rack) for variant in table.variants]


def test_missing_of_full_and_empty_racks(table):
    """An empty rack misses all fourteen tiles; a rack that holds a variant misses none of it."""
    assert set(missing(table, (0,) * KINDS)) == {14}
    for row, variant in enumerate(table.variants):
        copies = [8 if kind == FLOWER else 4 for kind in range(KINDS)]
        held = [min(total, copy) for total, copy in zip(variant.total, copies, strict=True)]
        held[JOKER] = 14 - sum(held)
        assert missing(table, held)[row] == 0


def test_one_tile_changes_one_row(table):
    """Drawing and letting go one tile at a time keeps the shortfall equal to one counted afresh."""
    random = Random(7)
    counts = [0] * KINDS
    short = shortfall(table, counts)
    for _ in range(200):
        kind = random.randrange(KINDS)
        after = random.randrange(9 if kind in (FLOWER, JOKER) else 5)
        if kind != JOKER:
            short = short + (table.rows[kind, after] - table.rows[kind, counts[kind]])
        counts[kind] = after
        assert (short == shortfall(table, counts)).all()


def test_many_racks_at_once(table):
    """The shortfalls of a batch are those of its racks one by one."""
    random = Random(8)
    racks = np.array([plain.random_rack(random)[0] for _ in range(20)])
    assert (shortfalls(table, racks) == [shortfall(table, rack) for rack in racks]).all()


def test_the_set_limits_the_table():
    """Variants that a set with fewer jokers can't supply are left out; a hand that keeps none has no rows."""
    quints = Variant((Group(5, 0), Group(5, 9), Group(4, 18)))
    sextets = Variant((Group(6, 0), Group(6, 9), Group(2, 18)))
    sheet = plain.sheet_of([quints, sextets], [sextets])
    assert [len(SheetTable.of(sheet, jokers)) for jokers in (0, 1, 2, 3, 4, 8, 10)] == [0, 0, 1, 1, 3, 3, 3]
    assert SheetTable.of(sheet, 4).hand.tolist() == [0, 0, 1]


def test_laid_groups_narrow_the_table():
    """After an exposure only open variants with that very group are left, and need only their other groups."""
    first = Variant((Group(3, 0), Group(3, 1), Group(4, 2), Group(4, 3)))
    second = Variant((Group(4, 0), Group(3, 1), Group(3, 2), Group(4, 3)))
    hidden = Variant((Group(3, 0), Group(3, 1), Group(4, 2), Group(4, 4)))
    table = SheetTable.of(plain.sheet_of([first], [second], [hidden], concealed=(2,)))
    left = table.after([Group3(0)])
    assert left.variants == (first,)
    rack = [0] * KINDS
    rack[1] = 3
    assert missing(left, rack).tolist() == [8]
    assert len(left.after([Group3(0)])) == 0
    assert left.after([Group3(1)]).variants == (first,)
    assert table.after([]) is table


class Group3:
    """A pung face up, one of its tiles a joker."""

    size, jokers = 3, 1

    def __init__(self, kind):
        self.kind = kind
