"""One step of a lesson that is read or looked at: words, or a position with a question."""

from __future__ import annotations

import time
from collections.abc import Callable
from functools import partial

from engine.drills.grades import Grade
from engine.drills.lesson.model import PositionStep, StepResult
from engine.drills.let_one_go import LetGoJudged, judge_let_go
from engine.tiles import name
from game.draw.theme import BODY, BODY_BOLD, INK, SOFT, TEAL, TITLE, VERMILION_TEXT
from game.draw.tiles import Face
from game.play.practice.drilling import Drilling
from game.play.practice.lessons import grade_choice, grade_tile, position_task, summed
from game.scenes.drills.play_answers import GONE, draw_aim, draw_choice
from game.scenes.routes import Routes
from game.scenes.table.rack import RackLook
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.scene import Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.practice.lessons import choice_told, position_asked, tile_told

WIDEST = 1240
COLOURS = {Grade.RIGHT: TEAL, Grade.NEAR: INK, Grade.WRONG: VERMILION_TEXT}


class WordsScene(Scene):
    """Words to read."""

    def __init__(
        self, routes: Routes, say: str, title: tuple[str, str], back: Scene, then: Callable[[], Screen | None]
    ) -> None:
        """`title` is the lesson's name and a note; `then` leads on."""
        super().__init__(routes.look)
        self.say, self.title = say, title
        self._back, self._then = back, then

    def back(self) -> Screen | None:
        """To the lesson; the step stays open."""
        return self._back

    def read(self) -> Screen | None:
        """It was read."""
        return self._then()

    def paint(self, ui: Ui) -> None:
        """The words, and the way on."""
        rest = ui.header(*self.title, self.back)

        def fill(page: Column) -> None:
            page.text(self.say, BODY, most=900)
            page.gap(20)
            page.buttons([Press("Go on", self.read, "return", main=True)])

        scrolled(ui, "words", rest, fill, widest=WIDEST, roomy=True)


class QuestionScene(Scene):
    """A position with its question; after the answer what the teacher and the advice say."""

    def __init__(
        self,
        routes: Routes,
        drilling: Drilling,
        step: PositionStep,
        at: int,
        back: Scene,
        done: Callable[[StepResult], Screen | None],
        now: Callable[[], float] = time.monotonic,
    ) -> None:
        """Raises PositionError for a position that can't be laid."""
        super().__init__(routes.look)
        self.routes, self.drilling, self.at = routes, drilling, at
        self.task = position_task(step, drilling.table)
        self.chosen: int | None = None
        self.grade: Grade | None = None
        self.told: list[str] = []
        self.waiting = False
        """Whether the choices are being tried out."""
        self.result: LetGoJudged | None = None
        self._answer = ""
        self._back, self._done, self._now = back, done, now
        self._begun = now()
        self._spent = 0.0

    @property
    def step(self) -> PositionStep:
        """What is asked."""
        return self.task.step

    def back(self) -> Screen | None:
        """To the lesson; without an answer the step stays open."""
        return self._back

    # Answering.

    def press(self, place: int) -> Screen | None:
        """Choose a tile; a second press lets it go."""
        if self.told or self.waiting or not self.task.asks_tile:
            return None
        if self.chosen == place:
            return self.let_go()
        self.chosen = place
        return None

    def let_go(self) -> Screen | None:
        """Grade the tile chosen, in the background."""
        if self.chosen is None or self.told or self.waiting:
            return None
        kind, self._spent, self.waiting = self.task.task.rack[self.chosen], self._now() - self._begun, True
        self.routes.desk.worker.submit(lambda _: judge_let_go(self.task.task, kind, self.drilling.work), self._judged)
        return None

    def _judged(self, judged: LetGoJudged) -> None:
        self.waiting, self.dirty = False, True
        self.result, self.grade = judged, grade_tile(self.task, judged)
        self._answer = name(judged.kind)
        self.told = tile_told(self.task, judged, self.grade)

    def choose(self, answer: str) -> Screen | None:
        """One of the teacher's choices."""
        if not self.told:
            self._spent, self._answer = self._now() - self._begun, answer
            self.grade = grade_choice(self.task, answer)
            self.told = choice_told(self.task, answer, self.grade)
        return None

    def go_on(self) -> Screen | None:
        """To the next step."""
        if self.grade is None:
            return self._done(StepResult(self.at, seconds=round(self._now() - self._begun, 1)))
        return self._done(summed(self.at, [self.grade], self._spent, self._answer))

    def update(self, seconds: float) -> None:
        """What another screen has stopped is begun anew."""
        if self.waiting and not self.routes.desk.worker.busy:
            self.waiting = False
            self.let_go()
        super().update(seconds)

    # What is on it.

    def paint(self, ui: Ui) -> None:
        """The position, the question, the answers; then what there is to say."""
        rest = ui.header(self.step.position, f"step {self.at}", self.back)
        scrolled(ui, "question", rest, self._fill, widest=WIDEST)

    def _fill(self, page: Column) -> None:
        task, moment = self.task.task, self.task.task.moment
        page.text(position_asked(self.task), BODY_BOLD)
        page.gap(8)
        if task.gone:
            page.caption("Seen elsewhere")
            page.tiles([Face(kind) for kind in task.gone], GONE, 3)
            page.gap(8)
        if moment.exposures:
            page.caption("Exposed by you")
            page.tiles([Face(one.kind, joker=place >= one.size - one.jokers)
                        for one in moment.exposures for place in range(one.size)], GONE, 3)  # fmt: skip
            page.gap(8)
        look = RackLook(chosen=self.chosen)
        if self.result is not None:
            look = RackLook(chosen=self.chosen, advice=self.result.advice, let_go=self.result.best)
        draw_choice(page, task.rack, look, self.press)
        page.gap(10)
        if self.told:
            self._told(page)
        elif self.waiting:
            page.text("The choices are tried out…", BODY_BOLD, SOFT)
        else:
            self._ask(page)

    def _ask(self, page: Column) -> None:
        if self.step.choices:
            for place, text in enumerate(self.step.choices, 1):
                with page.card(f"choice {place}", partial(self.choose, text), says=text, key=str(place)) as card:
                    card.text(text, BODY)
                page.gap(8)
        elif self.task.asks_tile:
            page.buttons([Press("Let it go", self.let_go, "return", main=True, enabled=self.chosen is not None)])
        else:
            if self.step.say:
                page.text(self.step.say, BODY, most=900)
                page.gap(12)
            page.buttons([Press("Go on", self.go_on, "return", main=True)])

    def _told(self, page: Column) -> None:
        assert self.grade is not None
        page.text(self.told[0], TITLE, COLOURS[self.grade])
        for said in self.told[1:]:
            page.gap(6)
            page.text(said, BODY, most=900)
        if self.result is not None:
            page.gap(10)
            draw_aim(page, self.result.advice)
        page.gap(14)
        page.buttons([Press("Go on", self.go_on, "return", main=True)])
