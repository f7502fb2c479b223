"""Making a lesson: its name and its steps, each with a form; nothing is kept that can't be read back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from engine.drills.grades import Skill
from engine.drills.lesson.model import MOST_STEPS, DealStep, DrillStep, Lesson, PositionStep, ReadStep, Step
from engine.drills.lesson.writer import write_lesson
from engine.sheet.model import Sheet
from game.draw.theme import BODY, BODY_BOLD, SMALL, SMALL_BOLD, SOFT, TEAL, TOUCH
from game.play.practice.lessons import MAKER, Lessons, moved
from game.scenes.lessons.forms import FORMS
from game.scenes.lessons.run import LessonScene
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.popups import Question
from game.ui.scene import Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.practice.lessons import step_title

WIDEST = 1240
LEAST = 360
"""Units of width that a step's title needs beside the buttons that move it."""
NEW: tuple[tuple[str, str, Callable[[], Step]], ...] = (
    ("Words", "w", lambda: ReadStep("")),
    ("Drill", "d", lambda: DrillStep(Skill.LAY)),
    ("Position", "p", lambda: PositionStep("", "")),
    ("Deal", "e", lambda: DealStep("")),
)
"""What a new step may be."""
ABOUT = {
    "Words": "something to read",
    "Drill": "questions to answer",
    "Position": "a rack and your question",
    "Deal": "a game, the same for all",
}
"""What each is for."""


class MakeScene(Scene):
    """A lesson being made, or changed."""

    def __init__(self, routes: Routes, back: Scene, lesson: Lesson | None = None) -> None:
        super().__init__(routes.look)
        self.routes = routes
        self.lessons = Lessons(routes.desk.store, routes.desk.sheets)
        self._before = lesson
        self.sheet = routes.desk.current_sheet if lesson is None else self._sheet_of(lesson)
        draft = self.lessons.draft() if lesson is None else None
        maker = routes.desk.store.get(MAKER)
        empty = Lesson("", self.sheet.name, self.sheet.season, (), maker if isinstance(maker, str) else "")
        self.lesson = lesson or draft or empty
        if draft is not None:
            self.sheet = self._sheet_of(draft)
        self.trouble = ""
        self.said = "You left this lesson before it was kept." if draft is not None else ""
        self._back = back
        self._kept = lesson or empty
        if not self.lesson.name:
            self.ui.to("name")

    def back(self) -> Screen | None:
        """Leave; what was not kept is asked about."""
        if self.lesson == self._kept:
            return self._back
        text = "This lesson has changes that are not kept."
        presses = [Press("Keep the lesson", self.keep, "k", main=True), Press("Leave it as it was", self._leave, "l")]
        return Question(self, "Leave the lesson?", text, presses)

    def _leave(self) -> Screen | None:
        self.lessons.keep_draft(None)
        return self._back

    def _sheet_of(self, lesson: Lesson) -> Sheet:
        """The lesson's own sheet, or the one that is chosen where it is not here."""
        sheets, wanted = self.routes.desk.sheets(), (lesson.sheet, lesson.season)
        return next((one for one in sheets if (one.name, one.season) == wanted), self.routes.desk.current_sheet)

    def _change(self, lesson: Lesson) -> None:
        """The lesson is another one now. A new one is not lost, however the program ends."""
        self.lesson, self.trouble = lesson, ""
        if self._before is None:
            self.lessons.keep_draft(lesson)

    def keep(self) -> Screen | None:
        """Keep the lesson, if it can be read back; its own screen says how to give it away."""
        reading = self.lessons.read(write_lesson(self.lesson))
        if not self.lesson.name.strip():
            self.trouble = "Give the lesson a name first."
        elif not self.lesson.steps:
            self.trouble = "Add a step first."
        elif reading.lesson is None:
            self.trouble = f"This can't be kept yet: {reading.faults[0].message}."
        else:
            self.lessons.keep(reading.lesson, self._before)
            self.lessons.keep_draft(None)
            self.routes.desk.store.set(MAKER, reading.lesson.maker)
            return LessonScene(self.routes, self.lessons, reading.lesson, self.sheet, self._back)
        return self

    # Steps.

    def add(self, make: Callable[[], Step]) -> Screen | None:
        """A new step at the end, which opens its form."""
        if len(self.lesson.steps) >= MOST_STEPS:
            self.trouble = f"A lesson has at most {MOST_STEPS} steps."
            return None
        return self._form(make(), None)

    def edit(self, place: int) -> Screen | None:
        """Change a step, from 0."""
        return self._form(self.lesson.steps[place], place)

    def _form(self, step: Step, place: int | None) -> Scene:
        def done(changed: Step) -> Screen:
            steps = list(self.lesson.steps)
            if place is None:
                steps.append(changed)
            else:
                steps[place] = changed
            self._change(replace(self.lesson, steps=tuple(steps)))
            return self

        return FORMS[type(step)](self.routes, self.sheet, step, self, done)

    def move(self, place: int, by: int) -> Screen | None:
        """A step goes up or down."""
        self._change(moved(self.lesson, place, by))
        return None

    def remove(self, place: int) -> Screen | None:
        """A step goes."""
        steps = list(self.lesson.steps)
        del steps[place]
        self._change(replace(self.lesson, steps=tuple(steps)))
        return None

    def _named(self, key: str, text: str) -> Screen | None:
        self._change(replace(self.lesson, **{key: text}))  # type: ignore[arg-type]
        return None

    def _moves(self, place: int) -> list[Press]:
        """What can be done with a step, besides changing it."""
        return [
            Press(f"{place + 1} up", partial(self.move, place, -1), enabled=place > 0),
            Press(f"{place + 1} down", partial(self.move, place, 1), enabled=place + 1 < len(self.lesson.steps)),
            Press(f"Take {place + 1} out", partial(self.remove, place)),
        ]

    def _on(self, key: str) -> Screen | None:
        """Enter in a field leads to the next one, then to the steps."""
        self.ui.to("maker" if key == "name" else NEW[0][0], by_keyboard=key != "name")
        return None

    # What is on it.

    def paint(self, ui: Ui) -> None:
        """Name and maker, the steps, what may be added."""
        rest = ui.header("Make a lesson", f"{self.sheet.name} {self.sheet.season}", self.back)
        scrolled(ui, "make", rest, self._fill, widest=WIDEST)

    def _fill(self, page: Column) -> None:
        ui = page.ui
        with page.beside([1, 1], least=700) as parts:
            for part, (key, says) in zip(parts, (("name", "The lesson’s name"), ("maker", "Made by")), strict=True):
                part.caption(says)
                text, change = getattr(self.lesson, key), partial(self._named, key)
                part.block(TOUCH, lambda rect, key=key, text=text, change=change: ui.field(  # type: ignore[misc]
                    rect, key, text, change, longest=60, enter=partial(self._on, key)))  # fmt: skip
        page.gap(14)
        if self.said:
            page.notice(self.said)
            page.gap(10)
        page.caption("Steps, in the order in which they are done")
        rows = [self._moves(place) for place in range(len(self.lesson.steps))]
        wide = max((sum(ui.button_size(press.says)[0] for press in row) for row in rows), default=0) + ui.u(30)
        for place, (step, presses) in enumerate(zip(self.lesson.steps, rows, strict=True)):
            with page.aside(wide, 12, right=True, stacked=page.width < ui.u(LEAST) + wide, apart=4) as (words, moves):
                with words.card(
                    f"step {place}", partial(self.edit, place), says=f"change step {place + 1}", pad=5
                ) as card:
                    card.text(f"{place + 1}. {step_title(step)}", BODY)
                moves.buttons(presses)
            page.gap(8)
        if not self.lesson.steps:
            page.text("No step yet.", SMALL, SOFT)
            page.gap(6)
        page.text("Add a step", SMALL_BOLD, SOFT)
        page.gap(4)
        with page.grid(260, 8) as cell:
            for says, key, make in NEW:
                one = cell()
                with one.card(says, partial(self.add, make), says=f"add: {says.lower()}", key=key, pad=6) as card:
                    card.text(says, BODY_BOLD, TEAL)
                    card.text(ABOUT[says], SMALL, SOFT)
        if self.trouble:
            page.gap(10)
            page.notice(self.trouble)
        page.gap(16)
        page.buttons([Press("Keep the lesson", self.keep, "k", main=True)])
