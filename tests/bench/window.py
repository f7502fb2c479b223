"""What the window costs: `python tests/bench/window.py`. Measured in one run, in a process of its own, on this machine.

Start: from before the process is made to the end of its first frame. Idle: share of one core over ten seconds at the
table. Frames: the work between two waits of the loop (events, a choice kept on disk, drawing), while advice is worked
out and the close choices are tried out in the background, with advice always on. At every second choice all frames are
drawn without a pause until that has ended, as for a player who keeps the pointer moving; at the others the game draws
what has changed, as for one who reads. Idle begins once that has ended. Memory: the process's peak.
Both the clock and the processor time of the whole process are told, as other programs lengthen only the first.
Under Xvfb where it is installed, else with a driver that shows nothing.
"""

from __future__ import annotations

import json
import os
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

CHOICES = 80
"""At every second one all frames are drawn."""
IDLE = 10.0
"""Seconds."""
READING = 4.0
"""Seconds that the player looks at the rack before the first choice."""
STARTS = 5
WANTED = {"start": 1.0, "idle": 0.02, "frame": 0.033, "memory": 200.0}


def main() -> int:
    """Run both children and print the figures beside what is wanted."""
    load = os.getloadavg()[0]
    with tempfile.TemporaryDirectory(prefix="lone-east-bench-") as folder:
        display = _display()
        try:
            starts = [_child("start", folder + "/starts", display)["start"] for _ in range(STARTS)]
            figures = _child("play", folder + "/play", display)
        finally:
            if display is not None:
                display[0].terminate()
                display[0].wait()
    where = "Xvfb" if display is not None else "no display"
    print(f"{where}, {os.cpu_count()} cores, load {load:.1f} before, {os.getloadavg()[0]:.1f} after")
    _row("process start to first frame, median", statistics.median(starts), "s", WANTED["start"])
    print(f"  all starts: {', '.join(f'{start:.2f}' for start in starts)} s")
    _row("share of a core when idle", figures["idle"] * 100, "%", WANTED["idle"] * 100)
    frames, own = sorted(figures["frames"]), sorted(figures["own"])
    first, own_first = figures["first"] * 1000, figures["first_own"] * 1000
    print(f"first frame of the table: {first:.1f} ms, {own_first:.1f} ms of the processor")
    _row(f"longest of {len(frames)} frames while advice is worked and tried out", frames[-1] * 1000, "ms", 33)
    late = sum(frame > WANTED["frame"] for frame in frames)
    print(
        f"  median {statistics.median(frames) * 1000:.1f} ms, 99th of a hundred "
        f"{frames[int(len(frames) * 0.99)] * 1000:.1f} ms, over 33 ms: {late}"
    )
    print(
        f"  processor time of the same: median {statistics.median(own) * 1000:.1f} ms, longest {own[-1] * 1000:.1f} ms"
    )
    print(f"  that took most of it: {'; '.join(figures['slowest'])}")
    advice = figures["advice"]
    print(
        f"  advice came after {statistics.median(advice) * 1000:.0f} ms (median), {max(advice) * 1000:.0f} ms at most"
    )
    for what in ("still", "drawn"):
        tried, used, other = figures[what], figures[what + "_used"], figures[what + "_window"]
        print(
            f"  choices tried out, {what} all the time: after {statistics.median(tried):.2f} s "
            f"(median of {len(tried)}), {max(tried):.2f} s at most; processor {statistics.median(used):.2f} s, "
            f"{statistics.median(other):.2f} s of it the window's thread"
        )
    _row("peak memory", figures["memory"], "MB", WANTED["memory"])
    return 0


def _row(what: str, value: float, unit: str, wanted: float) -> None:
    print(f"{what}: {value:.2f} {unit} (at most {wanted:g} {unit}: {'yes' if value <= wanted else 'NO'})")


def _display() -> tuple[subprocess.Popen[bytes], str] | None:
    if shutil.which("Xvfb") is None:
        return None
    reading, writing = os.pipe()
    command = ["Xvfb", "-displayfd", str(writing), "-screen", "0", "1600x1000x24", "-nolisten", "tcp", "-noreset"]
    server = subprocess.Popen(command, pass_fds=[writing], stderr=subprocess.DEVNULL)
    os.close(writing)
    with os.fdopen(reading) as told:
        return server, f":{told.readline().strip()}"


def _child(what: str, data: str, display: tuple[subprocess.Popen[bytes], str] | None) -> dict:
    clean = {name: value for name, value in os.environ.items() if not name.startswith("SDL_")}
    shown = {"DISPLAY": display[1]} if display is not None else {"SDL_VIDEODRIVER": "dummy"}
    root = str(Path(__file__).parents[2])
    environment = {**clean, **shown, "LONE_EAST_DATA": data, "PYTHONPATH": root, "SDL_AUDIODRIVER": "dummy"}
    command = [sys.executable, __file__, what, repr(time.monotonic())]
    done = subprocess.run(command, env=environment, capture_output=True, encoding="utf-8", timeout=300, check=False)
    if done.returncode:
        raise SystemExit(done.stderr)
    return json.loads(done.stdout.splitlines()[-1])


def started(begun: float) -> None:
    """A child that ends with its first frame."""
    from game.window import open as window  # noqa: F401 - the program's own imports are part of its start
    from game.window.app import App

    show = App._show

    def shown(self, *arguments):
        show(self, *arguments)
        print(json.dumps({"start": time.monotonic() - begun}), flush=True)
        os._exit(0)

    App._show = shown
    from game.command_line import main as program

    program([])


def played() -> None:
    """A child that plays with advice always on, then idles."""
    import pygame

    from engine.rules.deal import DealCode
    from engine.rules.house import House
    from engine.sheet.shelf import find
    from engine.store.files import default_path
    from engine.store.store import Store
    from game.play.settings import Settings
    from game.window.app import App

    with Store(default_path()) as store:
        store.set("settings", {**Settings().to_json(), "advice": "always"})
        store.set("explained", True)
    tally = Tally()
    get, wait, step = pygame.event.get, pygame.time.wait, App.step

    def events(*arguments):
        tally.began()
        return [*get(*arguments), *tally.presses(pygame)]

    def rest(milliseconds):
        tally.ended()
        return wait(milliseconds)

    def stepped(self, scene, event):
        tally.scene = step(self, scene, event)
        return tally.scene

    pygame.event.get, pygame.time.wait, App.step = events, rest, stepped
    from game.command_line import main as program

    code = DealCode.of(find("lantern-street"), House(), 12)
    program(["play", "--sheet", "lantern-street", "--deal", str(code)])
    print(json.dumps(tally.figures()), flush=True)


class Tally:
    """Times the loop's rounds and presses the keys."""

    def __init__(self) -> None:
        self.scene = None
        self.frames: list[float] = []
        self.own: list[float] = []
        """Processor time of the window's thread in each frame, in seconds: what other programs don't lengthen."""
        self.first = self.first_own = 0.0
        self._own = 0.0
        self.notes: list[tuple[float, str]] = []
        self.advice: list[float] = []
        self.tried: dict[str, list[tuple[float, float, float]]] = {"still": [], "drawn": []}
        """Seconds by the clock, of the processor, and of the window's thread, until a choice was tried out."""
        self.begun = time.monotonic()
        self.playing = False
        self.choices = 0
        self.pressed_at = 0.0
        self._used_at = (0.0, 0.0)
        self.idle = 0.0
        self.idle_from: tuple[float, float] | None = None
        self._at = 0.0
        self._what = "start"

    def began(self) -> None:
        """A round begins."""
        self._at, self._own = time.monotonic(), time.thread_time()

    def ended(self) -> None:
        """A round's work is done; while there is advice to come, the next one draws again, changed or not."""
        took = time.monotonic() - self._at
        if not self.first:
            self.first, self.first_own = took, time.thread_time() - self._own
        if self.idle_from is None and self.playing:
            if self.scene.dirty or self.waiting or took > 0.002:  # a round in which nothing was drawn is no frame
                self.frames.append(took)
                self.own.append(time.thread_time() - self._own)
            own = time.thread_time() - self._own
            self.notes.append((own, f"{own * 1000:.0f} ms {self._what}"))
            self.scene.dirty = self.scene.dirty or (self.waiting and self._drawn)

    @property
    def _drawn(self) -> bool:
        """Whether all frames are drawn at this choice."""
        return self.choices % 2 == 0

    @property
    def waiting(self) -> bool:
        """Whether advice is being worked out or tried out."""
        if not self.pressed_at:
            return False
        return getattr(self.scene, "advice", None) is None or getattr(self.scene, "trying", False)

    def presses(self, pygame) -> list:
        """The next thing to do: a choice as soon as the advice on the last one is there; then nothing; then leave."""
        now = time.monotonic()
        advice = getattr(self.scene, "advice", None)
        what = "while advice is worked out" if advice is None else "while choices are tried out"
        self._what = what if self.waiting else "drawing"
        if self.idle_from is not None:
            if now - self.idle_from[0] < IDLE:
                return []
            used = _used() - self.idle_from[1]
            self.idle = used / (now - self.idle_from[0])
            return [pygame.event.Event(pygame.QUIT)]
        if not self.first:
            return []  # the first frame is one of its own
        if self.scene is None:
            return _press(pygame, "left")
        if not self.playing:
            self.playing = now - self.begun > READING
            return []
        if advice is None:
            return []
        if self.pressed_at:
            if len(self.advice) < self.choices:
                self.advice.append(now - self.pressed_at)
            if self.scene.trying:
                return []
            used = (_used() - self._used_at[0], time.thread_time() - self._used_at[1])
            self.tried["drawn" if self._drawn else "still"].append((now - self.pressed_at, *used))
            self.pressed_at = 0.0
        if self.choices == CHOICES:
            self.idle_from = (now, _used())
            return []
        if self.scene.chosen is None:
            self._what = "a tile chosen"
            return _press(pygame, "left")
        self.choices += 1
        self.pressed_at, self._used_at = now, (_used(), time.thread_time())
        self._what = "a choice, kept on disk"
        return _press(pygame, "return")

    def figures(self) -> dict:
        """All of it."""
        return {
            "first": self.first,
            "first_own": self.first_own,
            "frames": self.frames,
            "own": self.own,
            "slowest": [note for _, note in sorted(self.notes, reverse=True)[:4]],
            "advice": self.advice,
            **{
                name + part: [one[place] for one in found]
                for name, found in self.tried.items()
                for place, part in enumerate(("", "_used", "_window"))
            },
            "idle": self.idle,
            "memory": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024,
        }


def _used() -> float:
    """Seconds of processor time of this process so far."""
    used = resource.getrusage(resource.RUSAGE_SELF)
    return used.ru_utime + used.ru_stime


def _press(pygame, name: str) -> list:
    """A key that goes down and up again: one that is held down acts only once."""
    code = pygame.key.key_code(name)
    return [
        pygame.event.Event(kind, key=code, mod=0, unicode="", scancode=0) for kind in (pygame.KEYDOWN, pygame.KEYUP)
    ]


if __name__ == "__main__":
    if len(sys.argv) == 1:
        sys.exit(main())
    if sys.argv[1] == "start":
        started(float(sys.argv[2]))
    played()
