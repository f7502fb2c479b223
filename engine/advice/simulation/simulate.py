"""Thousands of practice deals played by the fast policy: at which pick each is won, and with which hand.

A deal is the quiet table's without passes: East's 14 tiles, the wall after all four racks are dealt, East drawing and
letting go until a hand is made or the picks are used up. Deal number i of seed s is the wall that `engine.rules.deal`
shuffles from `seed_of(s, i)`, so that the same numbers give the same deals anywhere, however many are asked for and
on however many cores.
"""

from __future__ import annotations

import multiprocessing
import pickle
import signal
from collections.abc import Callable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from engine.advice.moment import StoppedError
from engine.advice.odds.reach import shortfalls
from engine.advice.processes import cores, interrupts_held
from engine.advice.rollout.games import DEALT, Batch, Policy, simulate_quiet
from engine.advice.rollout.policy import by_odds
from engine.advice.table import SheetTable, Whole
from engine.rules.deal import SEEDS, shuffle
from engine.tiles import JOKER, KINDS, Kind

BATCH = 64
"""Deals played side by side."""
PICKS = 99
"""Tiles in the wall once all racks are dealt."""
LAST_SEED = SEEDS - 1
NONE = -1

_APART = 0x9E3779B1
"""Odd and large, so that neighbouring seeds give deals far from each other's."""
_EAST = (*range(4), *range(16, 20), *range(32, 36), 48, 52)
"""Places in the wall of East's tiles, dealt by fours, then one and one more."""
_REST = 53
_LOOK = 0.2
"""Seconds between two looks whether to stop."""


@dataclass(frozen=True, eq=False)
class Ended:
    """How deals ended, in order of their numbers."""

    hand: Whole
    """[N] the place in `sheet.hands` of the hand made, NONE if none was."""
    picks: Whole
    """[N] tiles drawn until then: 0 for a hand that was dealt, NONE if none was made."""

    def __len__(self) -> int:
        return len(self.hand)


def seed_of(seed: int, number: int) -> int:
    """The seed of one deal's shuffle. Deals of one run all have different ones (up to 2^31)."""
    return (seed * _APART + number) % SEEDS


def in_order(wall: tuple[Kind, ...]) -> tuple[Kind, ...]:
    """A full wall as East comes to know it: the 14 tiles dealt, the wall to draw from, the other racks last."""
    east = set(_EAST)
    others = (kind for place, kind in enumerate(wall[:_REST]) if place not in east)
    return (*(wall[place] for place in _EAST), *wall[_REST:], *others)


def play(table: SheetTable, walls: Whole, picks: int, policy: Policy = by_odds) -> Ended:
    """Play walls `in_order` [N, all tiles] by the policy, with at most `picks` picks (1 to 99) after the deal.

    Where several variants are complete at once, the hand that collects most counts, then the first on the sheet.
    """
    goes: list[Whole] = []

    def noted(table: SheetTable, batch: Batch) -> Whole:
        goes.append(policy(table, batch))
        return goes[-1]

    played = simulate_quiet(table, walls, noted, picks + 1)
    won = played.row >= 0
    ended = Ended(np.full(len(walls), NONE, np.int64), np.full(len(walls), NONE, np.int64))
    ended.picks[won] = played.picks[won] - 1
    if won.any():
        ended.hand[won] = table.hand[dearest(table, _last_racks(walls, played.picks, goes)[won])]
    return ended


def _last_racks(walls: Whole, ends: Whole, goes: list[Whole]) -> Whole:
    """[N, 36] the racks at the end, of 14 tiles for games that were won: all that came less all that was let go."""
    racks = np.zeros((len(walls), KINDS), np.int64)
    for game, end in enumerate(ends):
        came = walls[game, : DEALT + (end or len(goes) + 1)]
        racks[game] = np.bincount(came, minlength=KINDS)
    for pick, kinds in enumerate(goes, 1):
        live = ((ends == 0) | (ends > pick)).nonzero()[0]
        racks[live, kinds] -= 1
    return racks


def dearest(table: SheetTable, racks: Whole) -> Whole:
    """[G] for racks [G, 36] that are finished hands, the variant that collects most, then the first on the sheet.

    A hand made without a joker doubles, unless it has singles and pairs only.
    """
    complete = shortfalls(table, racks) <= racks[:, JOKER, None]
    points = np.array([table.sheet.hands[int(hand)].points for hand in table.hand], np.int64)
    doubles = table.loose.any(axis=1)
    pays = points * (1 + (doubles & (racks[:, JOKER, None] == 0)))
    rows: Whole = np.where(complete, pays, -1).argmax(axis=1)
    return rows


def numbered(table: SheetTable, seed: int, first: int, deals: int, picks: int, policy: Policy = by_odds) -> Ended:
    """Play deals by their numbers, from `first` on."""
    walls = [in_order(shuffle(seed_of(seed, first + place), table.jokers)) for place in range(deals)]
    return play(table, np.array(walls, np.int64), picks, policy)


def simulate(
    table: SheetTable,
    deals: int,
    picks: int = PICKS,
    seed: int = 1,
    *,
    workers: int | None = None,
    told: Callable[[int], None] = lambda _: None,
    stopped: Callable[[], bool] = lambda: False,
) -> Ended:
    """Play deals 0 to `deals` - 1 on all cores, or in so many worker processes; in this one where one is enough.

    `told` is called after each batch with the number of deals that are done. When `stopped()` is true, no further deal
    is begun. The result then holds the deals 0, 1, 2 and on up to the last one begun, so which deals are counted does
    not depend on how they went. Raises ValueError for a number out of range.
    """
    for name, value, low, high in (
        ("deals", deals, 1, SEEDS),
        ("picks", picks, 1, PICKS),
        ("seed", seed, 0, SEEDS - 1),
    ):
        if not low <= value <= high:
            raise ValueError(f"{name} is {value}; choose {low} to {high}")
    number = min(workers or cores(), -(-deals // BATCH))
    with Cores(number, stopped=stopped) as started:
        return started.play(table, seed, 0, deals, picks, told)


Job = tuple[int, int, int, int]


class Cores:
    """Worker processes that play deals, of one sheet after another; with one worker the deals are played in this
    process. For a `with` block, at the end of which the processes are gone.

    Once `stopped` says so no more deals are begun. Those that were are played to their end, or, with `drop`, given up
    within moments: `play` then raises StoppedError.
    """

    def __init__(
        self, workers: int | None = None, *, stopped: Callable[[], bool] = lambda: False, drop: bool = False
    ) -> None:
        self._workers = workers or cores()
        self._stopped, self._drop = stopped, drop
        self._pool: ProcessPoolExecutor | None = None
        spawn = multiprocessing.get_context("spawn")  # processes that are started afresh work on every system
        self._spawn, self._given_up = spawn, spawn.RawValue("b", 0)

    def __enter__(self) -> Cores:
        return self

    def __exit__(self, kind: type[BaseException] | None, *_: object) -> None:
        if kind is not None and self._drop:
            self._give_up()
        if self._pool is not None:
            self._pool.shutdown()
            self._pool = None

    def play(
        self,
        table: SheetTable,
        seed: int,
        first: int,
        deals: int,
        picks: int = PICKS,
        told: Callable[[int], None] = lambda _: None,
    ) -> Ended:
        """Play the deals numbered `first` and on; `told` hears how many of them are done."""
        end = first + deals
        jobs = ((seed, place, min(BATCH, end - place), picks) for place in range(first, end, BATCH))
        parts = self._here(table, jobs, told) if self._workers == 1 else self._beside(table, jobs, told)
        if not parts:
            return Ended(np.zeros(0, np.int64), np.zeros(0, np.int64))
        return Ended(np.concatenate([part.hand for part in parts]), np.concatenate([part.picks for part in parts]))

    def _here(self, table: SheetTable, jobs: Iterator[Job], told: Callable[[int], None]) -> list[Ended]:
        parts: list[Ended] = []
        policy = _until(self._stopped) if self._drop else by_odds
        for job in jobs:
            if self._stopped():
                if self._drop:
                    raise StoppedError
                break
            parts.append(numbered(table, *job, policy))
            told(sum(map(len, parts)))
        return parts

    def _beside(self, table: SheetTable, jobs: Iterator[Job], told: Callable[[int], None]) -> list[Ended]:
        packed = pickle.dumps(table)
        parts: list[Future[Ended]] = []
        done = 0
        if self._pool is None:
            self._pool = ProcessPoolExecutor(self._workers, self._spawn, _begin, (self._given_up,))
        waiting: set[Future[Ended]] = set()
        while True:
            with interrupts_held():
                while len(waiting) < 2 * self._workers and not self._stopped():
                    job = next(jobs, None)
                    if job is None:
                        break
                    parts.append(self._pool.submit(_numbered, packed, *job))
                    waiting.add(parts[-1])
            if self._drop and self._stopped():
                self._give_up()
                raise StoppedError
            if not waiting:
                return [part.result() for part in parts]
            finished, waiting = wait(waiting, _LOOK, FIRST_COMPLETED)
            done += sum(len(part.result()) for part in finished)
            told(done)

    def _give_up(self) -> None:
        """Let the processes end by themselves: each looks at every pick whether it is still wanted."""
        self._given_up.value = 1
        if self._pool is not None:
            self._pool.shutdown(wait=False, cancel_futures=True)
            self._pool = None


def _until(stopped: Callable[[], bool]) -> Policy:
    """The fast policy, which looks at every pick whether to stop. Raises StoppedError."""

    def policy(table: SheetTable, batch: Batch) -> Whole:
        if stopped():
            raise StoppedError
        return by_odds(table, batch)

    return policy


_given_up: list[Callable[[], bool]] = [lambda: False]
"""In a worker process: whether its deals are wanted no more."""


def _numbered(packed: bytes, seed: int, first: int, deals: int, picks: int) -> Ended:
    return numbered(_unpacked(packed), seed, first, deals, picks, _until(_given_up[0]))


@lru_cache(maxsize=1)
def _unpacked(packed: bytes) -> SheetTable:
    """The table that all jobs of a worker share."""
    table: SheetTable = pickle.loads(packed)
    return table


def _begin(given_up: Any) -> None:
    """Set a worker up. It ignores Ctrl-C: the terminal sends that to all processes, and the one that started them ends
    them. `given_up` is a number that both share, 1 once the deals are wanted no more."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _given_up[0] = lambda: bool(given_up.value)
