"""Processes that play the games of one moment beside the one who asks, who has frames to paint meanwhile.

The orders of tiles are shared out among them. All games of one order stay together, since those that come to stand
alike are played once. So the results are the same, bit by bit, whoever plays which order.
"""

from __future__ import annotations

import os
import signal
import threading
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any, Protocol

import numpy as np

from engine.advice.moment import StoppedError, Work
from engine.advice.processes import cores, interrupts_held
from engine.advice.rollout.games import Games
from engine.advice.rollout.playout import Results
from engine.advice.table import SheetTable, Whole

if TYPE_CHECKING:
    from multiprocessing.connection import Connection

MOST = 2
"""Helpers at most. Each of them holds some 50 MB, and the more there are, the fewer games each has to gain by."""
GIVING_WAY = 5
"""How far helpers give way to the window and to the display, where all processors are busy: a nice level of Unix."""
LOOK = 0.003
"""Seconds between two looks whether a helper has answered."""


class Playing(Protocol):
    """A way to play games on, such as `play_on`. Helpers are sent its name."""

    def __call__(self, games: Games, coming: Whole, *, breathe: Callable[[], None]) -> Results:
        """The results of G games; game g meets the order g modulo W of `coming` [W, tiles]."""


@dataclass(frozen=True, eq=False)
class Task:
    """What a helper is sent."""

    number: int
    """Tasks are counted. The answer to an earlier one is no longer wanted."""
    play: Playing
    table: SheetTable | None
    """None where it is that of the task before."""
    racks: Whole
    """[C, 36]"""
    unseen: Whole
    """[C, 36]"""
    coming: Whole
    """[W, tiles]"""


def begin_games(play: Playing, starts: Games, coming: Whole, work: Work) -> None:
    """Let the helpers of `work`, if there are any, begin with these games. `play_games`, asked for the same ones next,
    collects them."""
    if work.helpers is not None:
        work.helpers.begin(play, starts, coming)


def play_games(play: Playing, starts: Games, coming: Whole, work: Work) -> Results:
    """Play C games on from `starts`, each with every order of tiles in `coming` [W, tiles]: the results of C x W games,
    start by start. The helpers of `work` play them where there are any. Raises StoppedError once `work` is stopped."""
    if work.helpers is None:
        return play(starts.repeated(len(coming)), coming, breathe=work.pause)
    found: Results = work.helpers.play(play, starts, coming, work.pause)
    return found


@dataclass(eq=False)
class _Helper:
    """One process, as seen by the one who asks."""

    process: Any
    pipe: Connection
    ready: bool = False
    """Whether it has said that it is there. That takes about half a second."""
    table: SheetTable | None = None
    """The table that it has."""


@dataclass(frozen=True, eq=False)
class _Begun:
    """Games that were sent to helpers."""

    number: int
    play: Playing
    starts: Games
    coming: Whole
    parts: list[tuple[_Helper, Whole]]
    """Who plays which orders."""

    def same(self, play: Playing, starts: Games, coming: Whole) -> bool:
        """Whether these are the same games."""
        mine, theirs = self.starts, starts
        return (
            _name(self.play) == _name(play)
            and mine.table is theirs.table
            and np.array_equal(mine.racks, theirs.racks)
            and np.array_equal(mine.unseen, theirs.unseen)
            and np.array_equal(self.coming, coming)
        )


def _name(play: Any) -> Any:
    """What tells one way to play games on from another: two partial functions alike are never equal."""
    return (play.func, play.args, play.keywords) if isinstance(play, partial) else play


class Helpers:
    """So many processes. They are started when they are first wanted, and help from the moment on at which they are
    there. Without any the games are played by the one who asks.

    One moment is played at a time. Whoever asks meanwhile, from another thread, plays alone.
    """

    def __init__(self, number: int | None = None) -> None:
        """`number` is by itself one less than the processors that may be used, and `MOST` at most."""
        self._number = min(cores() - 1, MOST) if number is None else number
        self._helpers: list[_Helper] | None = None
        self._wanted: Any = None
        """The number of the task that counts, which all processes share."""
        self._begun: _Begun | None = None
        """Games that were begun and not collected."""
        self._lock = threading.Lock()

    def begin(self, play: Playing, starts: Games, coming: Whole) -> None:
        """Let the helpers begin with these games, and go on at once. `play`, asked for the same ones next, collects
        them; other games end them. Nothing is done where no helper is there or all are asked by another thread."""
        if self._lock.acquire(blocking=False):
            try:
                helping = self._helping()
                self._begun = self._begin(helping, play, starts, coming) if helping else None
            finally:
                self._lock.release()

    def play(self, play: Playing, starts: Games, coming: Whole, pause: Callable[[], None]) -> Results:
        """As `play_games`. `pause` is called every few milliseconds, whoever plays."""
        if not self._lock.acquire(blocking=False):
            return play(starts.repeated(len(coming)), coming, breathe=pause)
        try:
            return self._shared(play, starts, coming, pause)
        finally:
            self._lock.release()

    def ready(self, seconds: float = 0.0) -> int:
        """Start the helpers where that has not been done, wait so long at most until they are there, and tell how many
        are."""
        with self._lock:
            return sum(one.ready or self._said_ready(one, seconds) for one in list(self._started()))

    @property
    def processes(self) -> list[Any]:
        """Those that have been started and still help."""
        return [one.process for one in self._helpers or ()]

    def close(self) -> None:
        """Let the processes end. None are started any more."""
        with self._lock:
            for one in self._helpers or ():
                self._wanted.value += 1
                one.pipe.close()
            self._helpers, self._number = None, 0

    def _shared(self, play: Playing, starts: Games, coming: Whole, pause: Callable[[], None]) -> Results:
        helping = self._helping()
        if not helping:
            return play(starts.repeated(len(coming)), coming, breathe=pause)
        begun, self._begun = self._begun, None
        if begun is None or not begun.same(play, starts, coming):
            begun = self._begin(helping, play, starts, coming)
        try:
            found = []
            for one, part in begun.parts:
                results = self._answer(one, begun.number, pause)
                if results is None:  # it has come to grief
                    results = play(starts.repeated(len(part)), part, breathe=pause)
                found.append(results)
        except BaseException:
            self._wanted.value += 1
            raise
        return _joined(found, len(starts))

    def _helping(self) -> list[_Helper]:
        return [one for one in list(self._started()) if one.ready or self._said_ready(one, 0.0)]

    def _begin(self, helping: list[_Helper], play: Playing, starts: Games, coming: Whole) -> _Begun:
        number = self._wanted.value = self._wanted.value + 1
        parts = list(zip(helping, np.array_split(coming, len(helping)), strict=True))
        for one, part in parts:
            self._send(one, play, starts, part, number)
        return _Begun(number, play, starts, coming, parts)

    def _started(self) -> list[_Helper]:
        if self._helpers is None:
            import multiprocessing  # late: few who start the program need it at once

            self._helpers = []
            spawn = multiprocessing.get_context("spawn")  # processes that are started afresh work on every system
            self._wanted = spawn.RawValue("q", 0)
            # where the system gives no process, all is played here
            with interrupts_held(), suppress(OSError, RuntimeError):
                for _ in range(self._number):
                    here, there = spawn.Pipe()
                    process = spawn.Process(target=_help, args=(there, self._wanted), daemon=True)
                    process.start()
                    there.close()
                    self._helpers.append(_Helper(process, here))
        return self._helpers

    def _said_ready(self, one: _Helper, seconds: float) -> bool:
        try:
            one.ready = one.pipe.poll(seconds) and one.pipe.recv() == 0
        except (OSError, EOFError):
            self._lost(one)
        return one.ready

    def _send(self, one: _Helper, play: Playing, starts: Games, coming: Whole, number: int) -> None:
        table = None if one.table is starts.table else starts.table
        try:
            one.pipe.send(Task(number, play, table, starts.racks, starts.unseen, coming))
        except OSError:
            self._lost(one)
        one.table = starts.table

    def _answer(self, one: _Helper, number: int, pause: Callable[[], None]) -> Results | None:
        """The answer to the task of this number, or None where the helper has come to grief."""
        try:
            while True:
                while not one.pipe.poll(LOOK):
                    pause()
                answered, results = one.pipe.recv()
                if answered == number:
                    found: Results | None = results
                    return found
        except (OSError, EOFError):
            self._lost(one)
            return None

    def _lost(self, one: _Helper) -> None:
        if self._helpers is not None and one in self._helpers:
            self._helpers.remove(one)
            one.pipe.close()


def _joined(parts: list[Results], starts: int) -> Results:
    """The results of parts of the orders, start by start."""
    worth = np.concatenate([part.worth.reshape(starts, -1) for part in parts], axis=1)
    chance = np.concatenate([part.chance.reshape(starts, -1) for part in parts], axis=1)
    return Results(worth.ravel(), chance.ravel())


def _help(pipe: Connection, wanted: Any) -> None:
    """What a helper does until the other end of the pipe is gone. `wanted` is the number of the task that counts."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C goes to all processes; the one who asks ends this one
    if hasattr(os, "nice"):
        os.nice(GIVING_WAY)
    table: SheetTable | None = None
    try:
        pipe.send(0)
        while True:
            task: Task = pipe.recv()
            table = task.table or table
            assert table is not None
            pipe.send((task.number, _played(task, table, wanted)))
    except (OSError, EOFError):
        return


def _played(task: Task, table: SheetTable, wanted: Any) -> Results | None:
    def breathe() -> None:
        if wanted.value != task.number:
            raise StoppedError

    try:
        starts = Games.of(table, task.racks, task.unseen)
        return task.play(starts.repeated(len(task.coming)), task.coming, breathe=breathe)
    except StoppedError:
        return None
