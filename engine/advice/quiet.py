"""Many quiet-table games at once: draw, let one tile go, until a hand is made or the picks are used up.

No passes are played: the first 13 tiles of a wall are the rack, the others come one by one. All games of a batch are
at the same pick, so that what depends on the pick alone is worked out once. A tile drawn or let go adds one row of
bytes to a game's shortfall; games that are finished leave the batch.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from engine.advice.reach import shortfalls
from engine.advice.table import Bytes, SheetTable, Truth, Whole
from engine.sheet.model import HAND_TILES
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


@dataclass(frozen=True, eq=False)
class Played:
    """How the games went."""

    picks: Whole
    """[G] the pick that finished the game, 0 if none did."""
    row: Whole
    """[G] the variant made, the first of the sheet if several were; -1 if none."""


def walls_of(rng: np.random.Generator, games: int, jokers: int = COPIES[JOKER]) -> Whole:
    """[games, all tiles] shuffled walls."""
    tiles = np.repeat(np.arange(KINDS), [*COPIES[:JOKER], jokers])
    return rng.permuted(np.tile(tiles, (games, 1)), axis=1)


def simulate_quiet(table: SheetTable, walls: Whole, policy: Policy, picks: int = 60) -> Played:
    """Play every wall [G, all tiles of the set] by the policy, with at most `picks` picks (no more than the wall has).

    The policy is asked with what it may know only: racks, tiles unseen, picks to come.
    """
    games, tiles = walls.shape
    if not 0 < picks <= tiles - DEALT:
        raise ValueError(f"picks is {picks}; choose 1 to {tiles - DEALT}")
    played = Played(np.zeros(games, np.int64), np.full(games, -1, np.int64))
    step = np.diff(table.rows, axis=1)  # holding one more of a kind: [36, 8, V]
    racks = _counts(walls[:, :DEALT])
    unseen = _counts(walls[:, DEALT:])
    short = shortfalls(table, racks)
    reach = shortfalls(table, racks + unseen)
    live = np.arange(games)
    for pick in range(1, picks + 1):
        drawn = walls[live, DEALT + pick - 1]
        place = np.arange(len(live))
        before = racks[place, drawn]
        racks[place, drawn] += 1
        unseen[place, drawn] -= 1
        short += step[drawn, np.minimum(before, 7)] * (drawn != JOKER).astype(np.uint8)[:, None]
        # a byte up to the jokers held is a hand made: nothing missing from singles and pairs, jokers for the rest
        done = short.min(axis=1, initial=255) <= racks[:, JOKER]
        if done.any():
            played.picks[live[done]] = pick
            played.row[live[done]] = (short[done] <= racks[done, JOKER, None]).argmax(axis=1)
            going = ~done
            live, racks, unseen, short, reach = (array[going] for array in (live, racks, unseen, short, reach))
        if not len(live) or pick == picks:
            break
        alive = reach <= (racks + unseen)[:, JOKER, None]
        goes = policy(table, Batch(racks, unseen, short, alive, picks - pick))
        place = np.arange(len(live))
        kept = racks[place, goes] - 1
        racks[place, goes] = kept
        possible = kept + unseen[place, goes]
        change = (goes != JOKER).astype(np.uint8)[:, None]
        short -= step[goes, np.minimum(kept, 7)] * change
        reach -= step[goes, np.minimum(possible, 7)] * change
    return played


def clairvoyant(table: SheetTable, walls: Whole, picks: int = 60) -> Played:
    """The bound for a player who knows the wall: the first pick at which all tiles that came so far hold a hand, as for
    a rack without limit. No player can finish sooner."""
    games = len(walls)
    played = Played(np.zeros(games, np.int64), np.full(games, -1, np.int64))
    step = np.diff(table.rows, axis=1)
    seen = _counts(walls[:, :DEALT])
    short = shortfalls(table, seen)
    live = np.arange(games)
    for pick in range(1, picks + 1):
        drawn = walls[live, DEALT + pick - 1]
        place = np.arange(len(live))
        short += step[drawn, np.minimum(seen[place, drawn], 7)] * (drawn != JOKER).astype(np.uint8)[:, None]
        seen[place, drawn] += 1
        done = short.min(axis=1, initial=255) <= seen[:, JOKER]
        played.picks[live[done]] = pick
        played.row[live[done]] = (short[done] <= seen[done, JOKER, None]).argmax(axis=1)
        live, seen, short = (array[~done] for array in (live, seen, short))
        if not len(live):
            break
    return played


def _counts(tiles: Whole) -> Whole:
    """[G, 36] counts of tiles [G, n]."""
    games = len(tiles)
    places = np.arange(games)[:, None] * KINDS + tiles
    return np.bincount(places.ravel(), minlength=games * KINDS).reshape(games, KINDS)
