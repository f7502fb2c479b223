"""Tiles that are left out of the search near the end."""

import numpy as np
import plain_advice as plain

from engine.advice.endgame.positions import Level, Wanted
from engine.advice.endgame.pruning import choices
from engine.advice.endgame.standing import LevelStanding
from engine.advice.table import SheetTable
from engine.sheet.groups import Group, Variant
from engine.tiles import counts_of, parse_tiles


def test_a_tile_that_is_no_better_than_another_is_left_out():
    """Two hands differ in one pair. Once a tile of the first pair has gone, only the second hand is left, which doesn't
    use the other tile of that pair; so of the first pair one tile is enough to try, and the groups of both hands need
    not be tried at all."""
    shared = (Group(5, 0), Group(4, 1), Group(3, 2))
    first, second = Variant((*shared, Group(2, 10))), Variant((*shared, Group(2, 11)))
    table = SheetTable.of(plain.sheet_of([first], [second]))
    rack = np.array(counts_of(parse_tiles("4x1b jk 4x2b 3x3b 2c 3c")))
    unseen = np.array(counts_of(parse_tiles("3x2c 3x3c 4x9d")))
    wanted = Wanted.of(table, np.array([0, 1]))
    level = Level.of(wanted, rack, unseen)
    look = LevelStanding(level)
    tried = choices(level, look, look.lost(2), 14, 2, int(unseen.sum()))
    kinds = {int(wanted.kinds[column]) for column in np.flatnonzero(tried[0, :-1])}
    assert not tried[0, -1], "no tile is to spare"
    assert kinds == {10, 11}
