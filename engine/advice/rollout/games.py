"""Many quiet-table games at once: draw, let one tile go, until a hand is made or the picks are used up.

No passes are played: the first 13 tiles of a wall are the rack, the others come one by one. All games of a batch are
at the same pick, so that what depends on the pick alone is worked out once. A tile drawn or let go adds one row of
bytes to a game's shortfall; games that are finished leave the batch.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from engine.advice.odds.reach import shortfalls
from engine.advice.table import MOST_ALIKE, Bytes, SheetTable, Truth, Whole
from engine.sheet.groups import HAND_TILES
from engine.tiles import COPIES, JOKER, KINDS

DEALT = HAND_TILES - 1
"""Tiles in a rack before the first pick."""


@dataclass(eq=False)
class Batch:
    """Games in progress, each with 14 tiles of which one must go."""

    racks: Whole
    """[G, 36]"""
    unseen: Whole
    """[G, 36]"""
    short: Bytes
    """[G, V] the racks' shortfalls."""
    alive: Truth
    """[G, V] whether rack and unseen tiles together still hold the variant."""
    draws: int
    """Picks still to come."""


Policy = Callable[[SheetTable, Batch], Whole]
"""Says for each game of a batch which kind to let go."""


@dataclass(eq=False)
class Games:
    """G games in progress, and what tiles that come and go do to them."""

    table: SheetTable
    racks: Whole
    """[G, 36]"""
    unseen: Whole
    """[G, 36]"""
    short: Bytes
    """[G, V] the racks' shortfalls."""
    reach: Bytes
    """[G, V] the shortfalls of racks and unseen tiles together."""

    @classmethod
    def of(cls, table: SheetTable, racks: Whole, unseen: Whole) -> Games:
        """Games with these racks and unseen tiles, which stay as they are."""
        return cls(table, racks.copy(), unseen.copy(), shortfalls(table, racks), shortfalls(table, racks + unseen))

    def __len__(self) -> int:
        return len(self.racks)

    def repeated(self, times: int) -> Games:
        """Each game so many times, one after another."""
        return self._each(lambda array: np.repeat(array, times, axis=0))

    def take(self, places: Whole) -> Games:
        """The games at these places, each as often as it is named."""
        return self._each(lambda array: array[places])

    def only(self, which: Truth) -> Games:
        """The games that are marked."""
        return self._each(lambda array: array[which])

    def _each(self, change: Callable[[Any], Any]) -> Games:
        return Games(self.table, *map(change, (self.racks, self.unseen, self.short, self.reach)))

    def come(self, kinds: Whole) -> None:
        """A tile of a kind [G] that was unseen comes into each rack."""
        place = np.arange(len(self.racks))
        before = self.racks[place, kinds]
        self.racks[place, kinds] = before + 1
        self.unseen[place, kinds] -= 1
        self.short += self._step(kinds, before)

    def go(self, kinds: Whole) -> None:
        """A tile of a kind [G] goes from each rack and is not to be had any more."""
        place = np.arange(len(self.racks))
        kept = self.racks[place, kinds] - 1
        self.racks[place, kinds] = kept
        self.short -= self._step(kinds, kept)
        self.reach -= self._step(kinds, kept + self.unseen[place, kinds])

    def _step(self, kinds: Whole, held: Whole) -> Bytes:
        """[G, V] what one tile more than `held` [G] is to the shortfalls; a joker is nothing to them."""
        one: Bytes = self.table.steps[kinds, np.minimum(held, MOST_ALIKE - 1)]
        one *= (kinds != JOKER).astype(np.uint8)[:, None]
        return one

    @property
    def alive(self) -> Truth:
        """[G, V] whether rack and unseen tiles together still hold the variant."""
        alive: Truth = self.reach <= (self.racks + self.unseen)[:, JOKER, None]
        return alive

    @property
    def finished(self) -> Truth:
        """[G] whether the rack holds a hand."""
        # a byte up to the jokers held is a hand made: nothing missing from singles and pairs, jokers for the rest
        done: Truth = self.short.min(axis=1, initial=255) <= self.racks[:, JOKER]
        return done

    def first_made(self) -> Whole:
        """[G] the first variant that each finished rack holds."""
        row: Whole = (self.short <= self.racks[:, JOKER, None]).argmax(axis=1)
        return row

    def batch(self, draws: int) -> Batch:
        """What a policy is asked with, with so many picks to come."""
        return Batch(self.racks, self.unseen, self.short, self.alive, draws)


@dataclass(frozen=True, eq=False)
class Played:
    """How the games went."""

    picks: Whole
    """[G] the pick that finished the game, 0 if none did."""
    row: Whole
    """[G] the variant made, the first of the sheet if several were; -1 if none."""

    @classmethod
    def none(cls, number: int) -> Played:
        """So many games of which none is finished."""
        return cls(np.zeros(number, np.int64), np.full(number, -1, np.int64))

    def without_finished(self, live: Whole, games: Games, pick: int) -> tuple[Whole, Games]:
        """Note which of the games `live` this pick has finished; the numbers of the others, and those."""
        done = games.finished
        if not done.any():
            return live, games
        self.picks[live[done]] = pick
        self.row[live[done]] = games.only(done).first_made()
        return live[~done], games.only(~done)


def walls_of(rng: np.random.Generator, games: int, jokers: int = COPIES[JOKER]) -> Whole:
    """[games, all tiles] shuffled walls."""
    tiles = np.repeat(np.arange(KINDS), [*COPIES[:JOKER], jokers])
    return rng.permuted(np.tile(tiles, (games, 1)), axis=1)


def simulate_quiet(table: SheetTable, walls: Whole, policy: Policy, picks: int = 60) -> Played:
    """Play every wall [G, all tiles of the set] by the policy, with at most `picks` picks (no more than the wall has).

    The policy is asked with what it may know only: racks, tiles unseen, picks to come.
    """
    number, tiles = walls.shape
    if not 0 < picks <= tiles - DEALT:
        raise ValueError(f"picks is {picks}; choose 1 to {tiles - DEALT}")
    played = Played.none(number)
    games = Games.of(table, _counts(walls[:, :DEALT]), _counts(walls[:, DEALT:]))
    live = np.arange(number)
    for pick in range(1, picks + 1):
        games.come(walls[live, DEALT + pick - 1])
        live, games = played.without_finished(live, games, pick)
        if not len(live) or pick == picks:
            break
        games.go(policy(table, games.batch(picks - pick)))
    return played


def _counts(tiles: Whole) -> Whole:
    """[G, 36] counts of tiles [G, n]."""
    games = len(tiles)
    places = np.arange(games)[:, None] * KINDS + tiles
    return np.bincount(places.ravel(), minlength=games * KINDS).reshape(games, KINDS)
