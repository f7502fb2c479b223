"""Steps from position to position: what they write into its bytes, and what they leave alone."""

import numpy as np
import plain_advice as plain

from engine.advice.endgame.positions import DISCARD, DRAW, Level, Wanted, reached
from engine.advice.table import SheetTable
from engine.sheet.groups import Group, Variant
from engine.tiles import counts_of, parse_tiles


def test_a_tile_that_no_variant_uses_leaves_the_bytes_alone():
    """A draw or a discard of such a tile writes nothing into the spare bytes, so that positions that differ by it only
    are one; a draw of a kind that counts moves one tile from the unseen half into the held half."""
    variant = Variant((Group(4, 0), Group(4, 1), Group(4, 2), Group(2, 3)))
    table = SheetTable.of(plain.sheet_of([variant]))
    wanted = Wanted.of(table, np.array([0]))
    rack, unseen = counts_of(parse_tiles("4x1b 4x2b 3x3b 4b 9c")), counts_of(parse_tiles("3b 3x4b 5x9d jk"))
    level = Level.of(wanted, np.array(rack), np.array(unseen))
    every = np.full(1, -1)
    seen = np.full((len(wanted.bits) + 2, 1), -1)
    for change in (DRAW, DISCARD):
        aside = reached(level, np.array([0]), np.array([wanted.size]), change, every, seen)
        assert (aside.states == level.states).all()
        assert not aside.states[:, wanted.size :].any()
    four = int(np.flatnonzero(wanted.kinds == 3)[0])
    drawn = reached(level, np.array([0]), np.array([four]), DRAW, every, seen)
    assert drawn.states[0, four] == level.states[0, four] + 1 - 16
    assert np.count_nonzero(drawn.states != level.states) == 1
