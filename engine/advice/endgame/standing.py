"""Near the end of a game: what each variant that can still be finished misses, and which unseen tiles matter to it."""

from __future__ import annotations

from functools import cached_property

import numpy as np

from engine.advice.endgame.positions import Level, Small
from engine.advice.table import Truth, Whole


class LevelStanding:
    """What each pair of a level holds and misses: [G, n] by the places of the variant's kinds, [n] in all."""

    def __init__(self, level: Level) -> None:
        wanted, row, states = level.wanted, level.row, level.states
        at = np.repeat(np.arange(0, states.size, wanted.width), level.number)
        cells = states.ravel().take(wanted.columns.take(row, axis=1) + at)
        jokers = states.ravel().take(at + wanted.size - 1)
        self.wanted, self.row = wanted, row
        self.bits = wanted.bits.take(row, axis=1)
        self.real: Small = wanted.real.take(row, axis=1)
        self.total: Small = wanted.total.take(row, axis=1)
        self.held: Small = (cells & 15).view(np.int8)
        self.unseen: Small = (cells >> 4).view(np.int8)
        self.jokers: Small = (jokers & 15).view(np.int8)
        self.jokers_unseen: Small = (jokers >> 4).view(np.int8)
        self.strict: Small = np.maximum(self.real - self.held, 0)
        """Tiles missing from singles and pairs."""
        self.flex: Small = np.maximum(self.total - np.maximum(self.held, self.real), 0)
        """Tiles missing from larger groups, before any joker is used."""
        self.gap: Small = self.flex.sum(axis=0, dtype=np.int8) - self.jokers
        """Tiles missing from larger groups beyond the jokers held; below 0, jokers to spare."""
        self.missing: Small = self.strict.sum(axis=0, dtype=np.int8) + np.maximum(self.gap, 0)
        self.helps: Truth = (self.strict > 0) | (self.flex > 0) & (self.gap > 0)
        """Whether one more of the kind leaves fewer tiles missing; a joker does where the gap is over 0."""

    def columns(self, mask: Truth) -> Whole:
        """[n] the columns of the places [G, n] that are set."""
        together: Whole = np.bitwise_or.reduce(self.bits * mask, axis=0)
        return together

    def joker(self, mask: Truth) -> Whole:
        """[n] jokers as a set of columns where it is set."""
        return mask * np.int64(self.wanted.joker)

    @cached_property
    def helping(self) -> Whole:
        """[n] the columns of which one more tile leaves fewer missing."""
        return self.columns(self.helps) | self.joker(self.gap > 0)

    @cached_property
    def using(self) -> Whole:
        """[n] the columns of which the variant can use every tile held."""
        jokers = self.joker((self.jokers > 0) & (self.jokers <= self.wanted.loose[self.row]))
        return self.columns((self.held > 0) & (self.held <= self.total)) | jokers

    @cached_property
    def hurts(self) -> Truth:
        """[G, n] whether one less of the kind leaves more missing: a joker to spare fills in for a tile of a larger
        group."""
        return (self.held > 0) & ((self.held <= self.real) | (self.held <= self.total) & (self.gap >= 0))

    @cached_property
    def joker_hurts(self) -> Truth:
        """[n] the same of a joker."""
        return (self.jokers > 0) & (self.gap >= 0)

    def lost(self, draws: int) -> tuple[Truth, Truth]:
        """[G, n], and [n] for a joker: whether the variant can't be finished any more once a tile of the kind goes.
        Either more tiles are missing than draws are left, or no such tile can come."""
        either = self.held + self.unseen
        flex = np.maximum(self.total - np.maximum(either, self.real), 0)
        gap = flex.sum(axis=0, dtype=np.int8) - self.jokers - self.jokers_unseen
        gone = (either <= self.real) | (either <= self.total) & (gap >= 0)
        late = self.missing >= draws
        return self.hurts & (gone | late), self.joker_hurts & ((gap >= 0) | late)


def after_discard(look: LevelStanding, draws: int) -> Whole:
    """[G + 2, n] the columns whose unseen tiles matter to each pair once a tile has gone, with 13 tiles in the rack.
    The tile that goes is of each place in turn, then a joker, then of a kind that the variant doesn't use.

    Columns that leave fewer tiles missing matter. All columns matter if the variant could give up a tile later and draw
    it again. With two draws left it can't: the first draw must not finish it, and the second is the last.
    """
    wanted = look.wanted
    help_now, strict = look.helping, look.held <= look.real
    looser = help_now | look.columns(look.flex > 0) | look.joker(look.gap >= 0)
    seen = np.empty((len(look.bits) + 2, len(look.row)), np.int64)
    seen[:-2] = np.where(look.hurts, np.where(strict, help_now, looser) | look.bits, help_now)
    seen[-2] = np.where(look.joker_hurts, looser, help_now)
    seen[-1] = help_now
    if draws >= 3:
        every = wanted.all[look.row]
        seen[:-2] = np.where(look.missing + look.hurts < draws, every, seen[:-2])
        seen[-2] = np.where(look.missing + look.joker_hurts < draws, every, seen[-2])
        seen[-1] = np.where(look.missing < draws, every, seen[-1])
    return seen


def after_draw(look: LevelStanding, draws: int) -> Whole:
    """[G + 2, n] the same once a tile has come, with 14 tiles in the rack and `draws` draws left after this one."""
    wanted = look.wanted
    every, help_now = wanted.all[look.row], look.helping
    strict = look.columns(look.strict > 0)
    rest = np.where(look.gap > 1, help_now, strict)  # once a tile of a larger group, or a joker, has come
    gone = np.where(look.strict > 0, look.strict == 1, look.flex == 1)
    gone &= ~((look.strict > 0) & (look.flex > 0) & (look.gap > 0))
    seen = np.empty((len(look.bits) + 2, len(look.row)), np.int64)
    seen[:-2] = np.where(look.strict > 0, help_now, rest) & ~(look.bits * gone)
    seen[:-2] = np.where(look.missing - look.helps < draws, every, np.where(look.helps, seen[:-2], help_now))
    joker = look.gap > 0
    seen[-2] = np.where(look.missing - joker < draws, every, np.where(joker, rest, help_now))
    seen[-1] = np.where(look.missing < draws, every, help_now)
    return seen


def after_nothing(look: LevelStanding, draws: int) -> Whole:
    """[G + 2, n] the same after an idle draw; it is alike for all places."""
    every = look.wanted.all[look.row]
    seen = np.where(look.missing < draws, every, look.helping) if draws >= 3 else look.helping
    return np.tile(seen, (len(look.bits) + 2, 1))
