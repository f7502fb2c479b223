"""The best play near the end of a quiet game, by a full search (retrograde analysis).

First every rack that good play can lead to is listed, draw by draw, equal ones once (`positions`), with the tiles that
are worth letting go (`pruning`). Then the list is worked through from its end. A rack of 13 is worth what its draws
lead to, weighted by the unseen tiles. A rack of 14 is worth what its best tile to let go leaves.

Everything is counted in whole numbers below 2^63, so that equal is equal: d of N unseen tiles can come in
N(N-1)...(N-d+1) orders. Counted are the orders in which a hand is made, and the draws that are then still left.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import perm

import numpy as np

from engine.advice.endgame.positions import DISCARD, DRAW, IDLE, Level, Reached, Wanted, reached, settled
from engine.advice.endgame.pruning import choices
from engine.advice.endgame.standing import LevelStanding, after_discard, after_draw, after_nothing
from engine.advice.odds.reach import missing
from engine.advice.table import Real, SheetTable, Whole
from engine.advice.worth.worth import possible
from engine.sheet.groups import HAND_TILES
from engine.tiles import KINDS

MOST = 50_000
"""The search gives up after so many positions: a quarter of a second at worst."""
_COUNTED = 1 << 63
"""All counts stay below this."""
_BLOCK = 8192
"""Pairs of a position and a variant that are worked on at once."""


@dataclass(frozen=True, eq=False)
class Ending:
    """What a full search found for a rack of 14 tiles."""

    worth: Real
    """[36] after letting go one tile of each kind held and playing on as well as can be: the chance, averaged over the
    draws to come (after the first, second, ... last of them), that some hand is made by then; -1 where none is held."""
    chance: Real
    """[36] for that same play: the chance that a hand is made by the last draw; -1 where none is held."""
    positions: int
    """How many different positions the search held."""


def exact_ending(
    table: SheetTable,
    counts: Sequence[int],
    unseen: Sequence[int],
    draws: int,
    *,
    most: int = MOST,
    stopped: Callable[[], bool] = lambda: False,
) -> Ending | None:
    """Each tile of a rack with 36 `counts` let go, and then the best play through `draws` draws out of the 36 counts
    `unseen`: draw one, let one go, as at a quiet table. `table` is the table after the player's exposed groups
    (`SheetTable.after`); rack and exposed groups are 14 tiles.

    The best play has the highest worth; of equal worths, the higher chance. A hand made by draw t of D counts
    (D - t + 1) / D towards the worth. With no draw to come both are 0. A rack that is a hand already gives up a tile
    of it: the answer is for going on all the same.

    The answer is None when more than `most` positions are found or foreseen (`_foreseen`), mostly within milliseconds.
    It is None once `stopped()` says so, which is asked every few milliseconds. It is None when the orders of drawing
    don't fit 64 bits: from 10 draws out of a hundred tiles on.

    Raises ValueError for another number of tiles, or for draws below none or above the tiles unseen.
    """
    rack, hidden = np.array(counts, np.int64), np.array(unseen, np.int64)
    total, tiles = int(hidden.sum()), HAND_TILES - sum(group.size for group in table.laid)
    if rack.sum() != tiles:
        raise ValueError(f"rack and exposed groups are {int(rack.sum()) + HAND_TILES - tiles} tiles; give 14")
    if not 0 <= draws <= total:
        raise ValueError(f"draws is {draws}; choose 0 to {total}, the tiles unseen")
    held = rack.nonzero()[0]
    rows = np.flatnonzero((missing(table, counts) <= draws) & possible(table, rack[None], hidden[None])[0])
    worth, chance = np.where(rack > 0, 0.0, -1.0), np.where(rack > 0, 0.0, -1.0)
    if not draws or not len(rows):
        return Ending(worth, chance, 0)
    if draws * perm(total, draws) >= _COUNTED:
        return None
    wanted = Wanted.of(table, rows)
    column = np.full(KINDS, wanted.size)
    column[wanted.kinds] = np.arange(wanted.size)
    start = Level.of(wanted, rack, hidden)
    found = _looked_at(start, column[held], tiles, draws, total, most, stopped)
    if found is None:
        return None
    rounds, positions = found
    value, made = _best(rounds, total)
    worth[held] = value[rounds[0].leaves] / (draws * perm(total, draws))
    chance[held] = made[rounds[0].leaves] / perm(total, draws)
    return Ending(worth, chance, positions)


@dataclass(frozen=True, eq=False)
class _Round:
    """One round: a tile is let go from each rack of 14, which leaves P racks of 13, and each of these draws a tile.

    A rack that can't become a hand any more has the place -1.
    """

    draws: int
    """Draws left, with this one."""
    racks: Whole
    """[D] the rack of 14 that each tile is let go from, in order."""
    leaves: Whole
    """[D] which rack of 13 that leaves."""
    again: Whole
    """[.] the rack of 13 to which each idle draw of the round before has led."""
    finishing: Whole
    """[P] unseen tiles that make a hand at once."""
    idle: Whole
    """[I] the rack of 13 that each idle draw is made to, in order."""
    idle_copies: Whole
    """[I] unseen tiles that such a draw may bring."""
    drawing: Whole
    """[E] the rack of 13 that each useful kind is drawn to, in order."""
    copies: Whole
    """[E] unseen tiles of that kind."""
    leads: Whole
    """[E] which rack of 14 that leads to, in the round to come."""


def _looked_at(
    level: Level, first: Whole, tiles: int, draws: int, total: int, most: int, stopped: Callable[[], bool]
) -> tuple[list[_Round], int] | None:
    """All rounds and the number of their positions, from racks of so many tiles; the columns `first` are let go first.
    None if there are too many positions, or once the search is stopped."""
    wanted = level.wanted
    rounds: list[_Round] = []
    again: list[Reached] = []
    positions = 0
    for left in range(draws, 0, -1):
        unseen = total - draws + left
        racks, discards = [], []
        for before, block in level.blocks(_BLOCK):
            if stopped():
                return None
            look = LevelStanding(block)
            lost = look.lost(left)
            if left == draws:
                parent, column = np.zeros(len(first), np.int64), first
            else:
                parent, column = choices(block, look, lost, tiles, left, unseen).nonzero()
            kept = ~(look.columns(lost[0]) | look.joker(lost[1]))
            discards.append(reached(block, parent, column, DISCARD, kept, after_discard(look, left)))
            racks.append(parent + before)
        positions += len(level)
        level, leaves = settled(wanted, [*discards, *again])
        positions += len(level)
        number = sum(map(len, racks))
        parts = [_Part(before, block, left, unseen) for before, block in level.blocks(_BLOCK)]
        if _foreseen(draws - left, left - 1, positions, sum(len(part.parent) for part in parts)) > most:
            return None
        further, onward = [], []
        for part in parts if left > 1 else ():
            if stopped():
                return None
            further.append(part.drawn())
            onward.append(part.passed())
        after, leads = settled(wanted, further)
        rounds.append(
            _Round(
                left,
                _joined(racks),
                leaves[:number],
                leaves[number:],
                _joined([part.finishing for part in parts]),
                _joined([part.idle + part.before for part in parts]),
                _joined([part.idle_copies for part in parts]),
                _joined([part.parent + part.before for part in parts]),
                _joined([part.copies for part in parts]),
                leads,
            )
        )
        level, again = after, onward
    return rounds, positions


class _Part:
    """What some of a level's racks of 13 may draw.

    An idle draw brings a tile that is let go at once. Idle draws are counted by kind where the number of unseen tiles
    of the kind still matters: a tile may be let go later for another hand, and be wanted back. In the last two draws
    that is too late.
    """

    def __init__(self, before: int, block: Level, draws: int, unseen: int) -> None:
        wanted, look = block.wanted, LevelStanding(block)
        self.before, self.block, self.look, self.draws = before, block, look, draws
        finishing = wanted.among(block.union(look.helping * (look.missing == 1)))
        useful = look.helping
        if draws > 2:
            # A tile that a joker stands for already may set it free; with one discard left to come that is no help.
            usable = look.columns(look.held < look.total) | look.joker(look.jokers < wanted.loose[look.row])
            useful = useful | np.where(look.missing < draws, usable, 0)
        seen = (block.unseen > 0) & ~finishing
        drawn = wanted.among(block.union(useful)) & seen
        self.parent, self.column = drawn.nonzero()
        self.copies = block.unseen[self.parent, self.column].astype(np.int64)
        self.finishing: Whole = (block.unseen * finishing).sum(axis=1, dtype=np.int64)
        copies = np.zeros((len(block), wanted.size + 1), np.int64)
        if draws > 3:
            copies[:, :-1] = block.unseen * (seen & ~drawn)
        copies[:, -1] = (
            unseen - self.finishing - (block.unseen * drawn).sum(axis=1, dtype=np.int64) - copies.sum(axis=1)
        )
        self.idle, self.idle_column = copies.nonzero()
        self.idle_copies = copies[self.idle, self.idle_column]

    def drawn(self) -> Reached:
        """Racks of 14 with a useful tile drawn."""
        look, left = self.look, self.draws - 1
        kept = np.where(look.missing <= left, -1, look.helping)
        return reached(self.block, self.parent, self.column, DRAW, kept, after_draw(look, left))

    def passed(self) -> Reached:
        """The racks of 13 again, an idle draw later."""
        look, left = self.look, self.draws - 1
        kept = np.where(look.missing <= left, -1, 0)
        return reached(self.block, self.idle, self.idle_column, IDLE, kept, after_nothing(look, left))


def _foreseen(done: int, left: int, positions: int, drawings: int) -> float:
    """A forecast of the number of positions. After `done` + 1 rounds there are so many; so many `drawings` lead on
    from them, and `left` rounds are to come.

    It was fitted to the full counts of some 850 racks from quiet games, with 4 to 8 draws left, on both shipped sheets.
    In the first round it is below the count of half of the racks; in the second, when giving up still costs little, it
    is about the middle count; later most racks had more.
    """
    growth = (8 * 2.7 ** (left - 3), 2.2 * 1.6 ** (left - 2), 0.7)[done] if done < 3 else 0.4
    return positions + drawings * growth * (left > 0)


def _best(rounds: Sequence[_Round], total: int) -> tuple[Whole, Whole]:
    """In how many orders of the tiles to be drawn the best play makes a hand: two arrays of [P + 1].

    There is a number for each rack of 13 of the first round; the last one stands for no rack. In the first array an
    order counts once for the draw that makes the hand and once for every later draw. In the second it counts once.
    """
    rack_value = rack_made = value = made = np.zeros(1, np.int64)
    again = np.zeros(0, np.int64)
    for one in reversed(rounds):
        orders = perm(total - rounds[0].draws + one.draws - 1, one.draws - 1)
        later_value, later_made = value, made
        value, made = one.finishing * one.draws * orders, one.finishing * orders
        if one.draws > 1:
            _add(value, one.idle, one.idle_copies * later_value[again])
            _add(made, one.idle, one.idle_copies * later_made[again])
            _add(value, one.drawing, one.copies * rack_value[one.leads])
            _add(made, one.drawing, one.copies * rack_made[one.leads])
        again = one.again
        value, made = np.append(value, 0), np.append(made, 0)
        starts = np.flatnonzero(np.diff(one.racks, prepend=-1))
        left, then = value[one.leaves], made[one.leaves]
        best = np.maximum.reduceat(left, starts) if len(starts) else left
        then = np.where(left == np.repeat(best, np.diff(starts, append=len(left))), then, -1)
        rack_value = np.append(best, 0)
        rack_made = np.append(np.maximum.reduceat(then, starts) if len(starts) else then, 0)
    return value, made


def _add(values: Whole, places: Whole, more: Whole) -> None:
    """Add to the values at the places, which come in order."""
    starts = np.flatnonzero(np.diff(places, prepend=-1))
    if len(starts):
        values[places[starts]] += np.add.reduceat(more, starts)


def _joined(arrays: Sequence[Whole]) -> Whole:
    return np.concatenate([np.zeros(0, np.int64), *arrays])
