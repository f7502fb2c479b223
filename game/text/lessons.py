"""A lesson in the terminal, step by step, in whole sentences. What was answered is kept at once."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import TextIO

from engine.drills.grades import Grade
from engine.drills.lesson.model import DealStep, DrillStep, Lesson, PositionStep, Step, StepResult
from engine.drills.let_one_go import judge_let_go
from engine.drills.schedule import Item
from engine.tiles import TileError, name, parse_tiles
from engine.words import sentence
from game.play.practice.drilling import OF_A_HAND, Drilling
from game.play.practice.lessons import Lessons, PositionTask, grade_choice, grade_tile, next_step, position_task, summed
from game.text.drills import LEAVE, TextDrill
from game.words.practice.lessons import (
    answered_words,
    choice_told,
    lesson_words,
    position_asked,
    position_seen,
    step_title,
    tile_told,
)


class TextLesson:
    """Goes through a lesson from the first step that was not done."""

    def __init__(
        self,
        lessons: Lessons,
        lesson: Lesson,
        drilling: Drilling,
        typed: TextIO,
        say: Callable[[str], None],
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self.lessons, self.lesson, self.drilling = lessons, lesson, drilling
        self.typed, self.say, self.clock = typed, say, clock

    def run(self) -> None:
        """Step by step, until the end or until the player leaves."""
        self.say(f"{self.lesson.name}. {lesson_words(self.lesson)}")
        skipped: set[int] = set()
        while True:
            done = [*self.lessons.results(self.lesson), *(StepResult(at) for at in skipped)]
            at = next_step(self.lesson, done)
            if at is None:
                break
            step = self.lesson.steps[at - 1]
            self.say(f"Step {at} of {len(self.lesson.steps)}. {step_title(step)}.".replace("..", "."))
            if isinstance(step, DealStep):
                if step.say:
                    self.say(step.say)
                self.say(f"Play it with: lone-east play --text --deal {step.deal}")
                skipped.add(at)
                continue
            result = self._step(at, step)
            if result is None:
                break
            self.lessons.record(self.lesson, result)
        self.say(answered_words(self.lessons.results(self.lesson), self.lesson))

    def _step(self, at: int, step: Step) -> StepResult | None:
        """One step; None where the player leaves."""
        if isinstance(step, DrillStep):
            return self._drill(at, step)
        if isinstance(step, PositionStep):
            return self._position(at, step)
        self.say(step.say)
        return StepResult(at) if self._line("Press Enter to go on.") is not None else None

    def _line(self, asks: str) -> str | None:
        """What is typed; None at the end of the input, or where the player leaves."""
        self.say(asks)
        line = self.typed.readline()
        return None if not line or line.strip().lower() in LEAVE else line.strip()

    def _drill(self, at: int, step: DrillStep) -> StepResult | None:
        if step.say:
            self.say(step.say)
        self.drilling.pass_moment = step.moment
        table = TextDrill(self.drilling, self.typed, self.say, seconds=step.seconds, clock=self.clock)
        begun = self.clock()
        asked: list[str] = []
        for _ in range(step.times):
            item = Item(step.hand, step.drill.value) if step.hand and step.drill in OF_A_HAND else None
            item = item or self.drilling.next_of(step.drill, asked)
            asked.append(item.hand)
            if not table.ask(self.drilling.question(item)):
                return None
        return summed(at, table.grades, self.clock() - begun)

    def _position(self, at: int, step: PositionStep) -> StepResult | None:
        task = position_task(step, self.drilling.table)
        for said in position_seen(task):
            self.say(said)
        begun = self.clock()
        while True:
            if task.asks_nothing:
                if self._line(f"{position_asked(task)} Press Enter to go on.") is None:
                    return None
                self.say(step.say)
                return StepResult(at, seconds=round(self.clock() - begun, 1))
            if step.choices:
                rows = "; ".join(f"{place}: {text}" for place, text in enumerate(step.choices, 1))
                line = self._line(f"{position_asked(task)} Type the number of your answer. {rows}.")
            else:
                line = self._line(f"{position_asked(task)} Type a tile of the rack, such as “5d”.")
            if line is None:
                return None
            spent = self.clock() - begun
            try:
                grade, answer, told = self._answered(task, line)
            except (TileError, ValueError) as error:
                self.say(sentence(f"{str(error).rstrip('.')}."))
                continue
            for one in told:
                self.say(one)
            return summed(at, [grade], spent, answer)

    def _answered(self, task: PositionTask, line: str) -> tuple[Grade, str, list[str]]:
        """The grade of a typed answer, the answer itself, and what there is to say. Raises ValueError."""
        step = task.step
        if step.choices:
            if not line.isascii() or not line.isdecimal() or not 1 <= int(line[:3]) <= len(step.choices):
                raise ValueError(f"type a number from 1 to {len(step.choices)}")
            answer = step.choices[int(line) - 1]
            grade = grade_choice(task, answer)
            return grade, answer, choice_told(task, answer, grade)
        tiles = parse_tiles(line)
        if len(tiles) != 1:
            raise ValueError("type one tile of the rack, such as “5d”")
        judged = judge_let_go(task.task, tiles[0], self.drilling.work)
        grade = grade_tile(task, judged)
        return grade, name(tiles[0]), tile_told(task, judged, grade)
