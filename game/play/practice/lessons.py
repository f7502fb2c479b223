"""Lessons that are kept: made here or brought in, with what the player has made of each."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import UTC, datetime

from engine.advice.moment import Moment
from engine.advice.table import SheetTable
from engine.drills.grades import Grade
from engine.drills.lesson.model import DealStep, Lesson, LessonResults, PositionStep, StepResult
from engine.drills.lesson.reader import LessonReading, given, read_lesson
from engine.drills.lesson.writer import fingerprint, write_lesson
from engine.drills.let_one_go import LetGoJudged, LetGoTask
from engine.sheet.model import Sheet
from engine.store.store import Store
from engine.store.values import Json
from engine.tiles import JOKER, KINDS, Kind, full_set

KEPT = "lessons"
"""The setting that holds every lesson, as text."""
DRAFT = "lesson in the making"
"""The setting that holds the lesson that is being made, as text with its name and maker apart: it may have none yet."""
MAKER = "lesson maker"
"""The setting that holds who made the last lesson."""


def _key(lesson: Lesson) -> str:
    return f"lesson {fingerprint(lesson)}"


@dataclass(frozen=True)
class KeptLesson:
    """A lesson, and the sheet that it is for; None where that sheet is no longer here."""

    lesson: Lesson
    sheet: Sheet | None


class Lessons:
    """The lessons over one store. `sheets` gives every sheet that is here."""

    def __init__(
        self,
        store: Store,
        sheets: Callable[[], Sequence[Sheet]],
        now: Callable[[], datetime] = lambda: datetime.now(UTC),
    ) -> None:
        self.store, self.sheets, self.now = store, sheets, now

    # Lessons.

    def all(self) -> tuple[KeptLesson, ...]:
        """Every kept lesson, the latest first; those that can't be read any more are left out."""
        found = []
        for text in self._texts():
            reading = self.read(text)
            if reading.lesson is not None:
                found.append(KeptLesson(reading.lesson, reading.sheet))
        return tuple(found)

    def closed(self) -> tuple[tuple[str, str], ...]:
        """Kept lessons that can't be read now, as without their sheet: the name, and why."""
        found = []
        for text in self._texts():
            reading = self.read(text)
            if reading.lesson is None:
                name = text.partition("\n")[0].removeprefix("lesson: ").strip("'\"")
                found.append((name, reading.faults[0].message))
        return tuple(found)

    def read(self, content: str | bytes, source: str = "lesson") -> LessonReading:
        """A lesson's file against the sheets that are here."""
        return read_lesson(content, self.sheets(), source)

    def keep(self, lesson: Lesson, instead: Lesson | None = None) -> None:
        """Keep a lesson, in the place of an earlier form of it. Raises StoreError."""
        texts = [text for text in self._texts() if text not in self._forms(lesson, instead)]
        self._write([write_lesson(lesson), *texts])

    def remove(self, lesson: Lesson) -> None:
        """A lesson leaves the list; what was made of it stays. Raises StoreError."""
        self._write([text for text in self._texts() if text not in self._forms(lesson)])

    def keep_draft(self, lesson: Lesson | None) -> None:
        """Keep the lesson that is being made, should the program end; None forgets it. Raises StoreError."""
        if lesson is None:
            self.store.set(DRAFT, None)
            return
        text = write_lesson(replace(lesson, name=DRAFT, maker="")) if lesson.steps else ""
        self.store.set(DRAFT, [lesson.name, lesson.maker, lesson.sheet, lesson.season, text])

    def draft(self) -> Lesson | None:
        """The lesson that was being made when it was left; None where there is none that can be read."""
        kept = self.store.get(DRAFT)
        if not isinstance(kept, list) or len(kept) != 5 or not all(isinstance(one, str) for one in kept):
            return None
        name, maker, sheet, season, text = (str(one) for one in kept)
        lesson = self.read(text).lesson if text else Lesson(name, sheet, season, ())
        return None if lesson is None else replace(lesson, name=name, maker=maker)

    @staticmethod
    def _forms(*lessons: Lesson | None) -> list[str]:
        return [write_lesson(one) for one in lessons if one is not None]

    def _texts(self) -> list[str]:
        kept = self.store.get(KEPT)
        return [text for text in kept if isinstance(text, str)] if isinstance(kept, list) else []

    def _write(self, texts: Sequence[str]) -> None:
        self.store.set(KEPT, list(texts))

    # What was made of them.

    def results(self, lesson: Lesson) -> tuple[StepResult, ...]:
        """What the player has made of the steps, in the order of the lesson; only those that were done."""
        kept = self.store.get(_key(lesson))
        rows = kept if isinstance(kept, list) else []
        found = {one.step: one for row in rows if (one := _result(row)) is not None}
        self._deals(lesson, found)
        return tuple(found[step] for step in sorted(found) if step <= len(lesson.steps))

    def _deals(self, lesson: Lesson, found: dict[int, StepResult]) -> None:
        """Deals of the lesson that were played to their end, at the quiet or the full table."""
        codes = {step.deal.replace("-", "").upper(): at for at, step in enumerate(lesson.steps, 1)
                 if isinstance(step, DealStep)}  # fmt: skip
        if not codes:
            return
        for line in self.store.lines(limit=None):
            at = codes.get(line.deal.replace("-", "").upper())
            end = line.ending
            if at is not None and at not in found and end is not None:
                won = end.winner == line.house.seat
                found[at] = StepResult(at, 1, int(won), answer=end.hand if won else "")

    def record(self, lesson: Lesson, result: StepResult) -> None:
        """Keep what was made of a step; done again, the latest counts. Raises StoreError."""
        others = [one for one in self.results(lesson) if one.step != result.step]
        rows: list[Json] = [asdict(one) for one in (*others, result)]
        self.store.set(_key(lesson), rows)

    def begin_anew(self, lesson: Lesson) -> None:
        """Forget what was made of a lesson, deals apart. Raises StoreError."""
        self.store.set(_key(lesson), [])

    def as_file(self, lesson: Lesson, player: str) -> LessonResults:
        """What the player has made of a lesson, to be written to a file under a name."""
        day = self.now().astimezone().date().isoformat()
        return LessonResults(lesson.name, fingerprint(lesson), player, day, self.results(lesson))


def _result(row: object) -> StepResult | None:
    if not isinstance(row, dict):
        return None
    try:
        one = StepResult(**row)
    except TypeError:
        return None
    numbers = (one.step, one.of, one.right, one.near, one.seconds)
    sound = all(isinstance(number, int | float) for number in numbers) and isinstance(one.answer, str)
    return one if sound else None


def next_step(lesson: Lesson, results: Sequence[StepResult]) -> int | None:
    """The place of the first step that was not done, from 1; None where all were."""
    done = {one.step for one in results}
    return next((at for at in range(1, len(lesson.steps) + 1) if at not in done), None)


# A position as a question.


@dataclass(frozen=True)
class PositionTask:
    """A position to answer."""

    step: PositionStep
    task: LetGoTask
    """The rack, with the moment that advice is asked about."""
    right: tuple[Kind, ...]
    """Tiles that the teacher takes for right; () where the advice grades."""

    @property
    def asks_tile(self) -> bool:
        """Whether a tile is to be chosen."""
        return not self.step.choices and self.task.moment.full

    @property
    def asks_nothing(self) -> bool:
        """Whether it is only to be looked at."""
        return not self.step.choices and not self.task.moment.full


def position_task(step: PositionStep, table: SheetTable) -> PositionTask:
    """A position over a sheet. Raises PositionError for one that can't be laid, and TileError for its answer."""
    asked = given(step)
    moment = Moment.of(table, asked.laid.counts, asked.laid.unseen, step.draws, asked.laid.exposures)
    rack = tuple(kind for kind in range(KINDS) for _ in range(asked.laid.counts[kind]))
    gone = _gone(asked.laid.counts, asked.laid.unseen, moment)
    return PositionTask(step, LetGoTask(moment, rack, gone, 0), asked.right)


def _gone(counts: Sequence[int], unseen: Sequence[int], moment: Moment) -> tuple[Kind, ...]:
    """The tiles that lie elsewhere: neither in the rack, nor exposed by the player, nor unseen."""
    lying = [whole - held - left for whole, held, left in zip(full_set(), counts, unseen, strict=True)]
    for one in moment.exposures:
        lying[one.kind] -= one.size - one.jokers
        lying[JOKER] -= one.jokers
    return tuple(kind for kind in range(KINDS) for _ in range(lying[kind]))


def grade_choice(task: PositionTask, answer: str) -> Grade:
    """Right if it is the teacher's answer."""
    return Grade.RIGHT if answer == task.step.answer else Grade.WRONG


def grade_tile(task: PositionTask, judged: LetGoJudged) -> Grade:
    """By the teacher's tiles where there are some, else by the cost. What costs nothing is nearly right at least."""
    grade = judged.price.grade
    if not task.right:
        return grade
    if judged.kind in task.right:
        return Grade.RIGHT
    return Grade.NEAR if grade is not Grade.WRONG else Grade.WRONG


def summed(at: int, grades: Sequence[Grade], seconds: float, answer: str = "") -> StepResult:
    """The result of a step with several answers."""
    right, near = grades.count(Grade.RIGHT), grades.count(Grade.NEAR)
    return StepResult(at, len(grades), right, near, round(seconds, 1), answer)


def moved(lesson: Lesson, at: int, by: int) -> Lesson:
    """The lesson with one of its steps (from 0) moved up or down."""
    steps = list(lesson.steps)
    to = min(max(at + by, 0), len(steps) - 1)
    steps.insert(to, steps.pop(at))
    return replace(lesson, steps=tuple(steps))
