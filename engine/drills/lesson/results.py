"""Reads a player's results of a lesson from their file, as safely as a sheet is read, and sets several side by side."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from os import PathLike

from engine.drills.lesson.model import MOST_STEPS, Lesson, LessonResults, StepResult
from engine.drills.lesson.writer import fingerprint
from engine.sheet.faults import Fields, SheetReading
from engine.sheet.plain_text import UnreadError, bytes_of, seen_text, text_of
from engine.sheet.reader import Fault
from engine.sheet.tree import Listing, Mapping, Places, Refused, Report, tree
from engine.words import quoted

MOST_BYTES = 1 << 16
KEYS = ("results", "lesson", "player", "day", "steps")
STEP_KEYS = ("step", "of", "right", "near", "seconds", "answer")
MOST = 100_000
"""No figure of a step is larger."""
EXAMPLES = {
    "results": "results: and the lesson's name",
    "lesson": "lesson: and the lesson's sixteen characters",
    "player": "player: and a name",
    "day": "day: 2026-04-01",
    "steps": "steps: and below it a list, each item beginning with - step:",
    **{key: f"{key}: 3" for key in STEP_KEYS},
}


@dataclass(frozen=True)
class ResultsReading:
    """The results of a file, or its faults in the order of the file."""

    results: LessonResults | None
    faults: tuple[Fault, ...]


def read_results_file(path: str | PathLike[str]) -> ResultsReading:
    """Read a file; one that can't be read is a fault too."""
    try:
        return read_results(bytes_of(path, MOST_BYTES, "results file"), str(path))
    except UnreadError as error:
        return ResultsReading(None, (Fault(str(path), error.line, error.column, error.message),))


def read_results(content: str | bytes, source: str = "results") -> ResultsReading:
    """Read results from the text or the bytes of a YAML file; `source` names it in faults."""
    try:
        text = text_of(content, MOST_BYTES, "results file")
    except UnreadError as error:
        return ResultsReading(None, (Fault(source, error.line, error.column, error.message),))
    found: list[tuple[int, str]] = []
    results = _Reader(lambda at, said: found.append((at, said))).results(text)
    if found or results is None:
        places = Places(text)
        faults = {Fault(source, *places.of(offset), said) for offset, said in found[:200]}
        return ResultsReading(None, tuple(sorted(faults)))
    return ResultsReading(results, ())


class _Reader:
    """Reads one text."""

    def __init__(self, report: Report) -> None:
        self._reading = SheetReading("", report, examples=EXAMPLES)

    def _say(self, offset: int, message: str) -> None:
        self._reading.report(offset, message)

    def results(self, text: str) -> LessonResults | None:
        """The results, or None with faults reported."""
        seen = seen_text(text, self._reading.report, "results file")
        root = None if seen is None else tree(seen, self._reading.report, "results file")
        if not isinstance(root, Mapping):
            if seen is not None and not isinstance(root, Refused):
                self._say(0, "the file holds no results of a lesson; ask for the file that the game wrote")
            return None
        found = self._reading.fields(root, KEYS, KEYS, "a results file")
        names = {key: self._reading.name(found[key], key) or "" for key in KEYS[:4] if key in found}
        if names.get("lesson") and not re.fullmatch(r"[0-9a-f]{16}", names["lesson"]):
            self._say(
                found["lesson"].start, f"{quoted(names['lesson'])} names no lesson; leave it as the game wrote it"
            )
        if names.get("day") and not _is_day(names["day"]):
            self._say(found["day"].start, f"day is {quoted(names['day'])}; write {EXAMPLES['day']}")
        steps = self._steps(found)
        if len(names) < len(KEYS) - 1:
            return None
        return LessonResults(names["results"], names["lesson"], names["player"], names["day"], steps)

    def _steps(self, found: Fields) -> tuple[StepResult, ...]:
        node = found.get("steps")
        if node is None or isinstance(node, Refused):
            return ()
        if not isinstance(node, Listing) or len(node.items) > MOST_STEPS:
            self._say(node.start, f"steps must be a list of at most {MOST_STEPS}; leave it as the game wrote it")
            return ()
        steps = []
        for item in node.items:
            if not isinstance(item, Mapping):
                self._say(item.start, "this is no step; leave the file as the game wrote it")
                continue
            fields = self._reading.fields(item, STEP_KEYS, ("step",), "a step")
            numbers = [self._number(fields, key) for key in STEP_KEYS[:5]]
            answer = self._reading.string(fields["answer"], "answer") if "answer" in fields else None
            said = "" if answer is None else answer.value.strip()[:200]
            steps.append(StepResult(numbers[0], numbers[1], numbers[2], numbers[3], float(numbers[4]), said))
        return tuple(steps)

    def _number(self, fields: Fields, key: str) -> int:
        scalar = self._reading.string(fields[key], key) if key in fields else None
        if scalar is None:
            return 0
        text = scalar.value.strip()
        if not (text.isascii() and text.isdecimal()) or len(text) > 6 or int(text) > MOST:
            self._say(scalar.start, f"{key} is {quoted(text)}; write a whole number from 0 to {MOST:,}")
            return 0
        return int(text)


def _is_day(text: str) -> bool:
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return len(text) == len("2026-04-01")


@dataclass(frozen=True)
class SideBySide:
    """Several players' results of one lesson."""

    lesson: Lesson
    players: tuple[LessonResults, ...]
    """By name."""
    others: tuple[LessonResults, ...]
    """Of another lesson, or of another edition of this one: not set beside the rest."""

    def right(self, step: int) -> tuple[int, int]:
        """Right answers of all players to a step, and how many answers there were."""
        found = [one for results in self.players if (one := results.of(step)) is not None]
        return sum(one.right for one in found), sum(one.of for one in found)


def side_by_side(lesson: Lesson, results: Sequence[LessonResults]) -> SideBySide:
    """Results that belong to the lesson, by the players' names; of one player the latest day."""
    latest: dict[str, LessonResults] = {}
    mine = fingerprint(lesson)
    for one in sorted(results, key=lambda one: one.day):
        if one.fingerprint == mine:
            latest[one.player] = one
    others = tuple(one for one in results if one.fingerprint != mine)
    return SideBySide(lesson, tuple(latest[name] for name in sorted(latest)), others)
