"""A lesson: its steps in order, what was made of each, and the way to the next."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

from engine.drills.lesson.model import DealStep, DrillStep, Lesson, PositionStep, ReadStep, StepResult
from engine.drills.lesson.writer import write_lesson, write_results
from engine.drills.schedule import Item
from engine.rules.deal import DealCode
from engine.sheet.model import Sheet
from engine.words import sentence
from game.draw.theme import BODY, BODY_BOLD, SMALL, SOFT, TEAL, TOUCH
from game.play.practice.drilling import OF_A_HAND, Drilling, season_before
from game.play.practice.lessons import Lessons, next_step, summed
from game.scenes.deal_popups import FilePopup
from game.scenes.drills.ask import AskScene
from game.scenes.lessons.beside import BesideScene
from game.scenes.lessons.deal import LessonPolicy
from game.scenes.lessons.step import QuestionScene, WordsScene
from game.scenes.paths import last_folder, remember
from game.scenes.printing import PrintPopup
from game.scenes.routes import Routes
from game.scenes.table.scene import table_scene
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.popups import Question
from game.ui.scene import Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.practice.lessons import answered_words, lesson_words, result_words, step_title

WIDEST = 1000
NAME = "lesson name"
"""The setting that holds the name under which results were written last."""


class LessonScene(Scene):
    """One lesson, for who goes through it."""

    def __init__(self, routes: Routes, lessons: Lessons, lesson: Lesson, sheet: Sheet, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes, self.lessons, self.lesson, self.sheet = routes, lessons, lesson, sheet
        self.results: tuple[StepResult, ...] = ()
        self.said = ""
        self._back = back
        desk = routes.desk
        last = season_before(sheet, desk.sheets())
        self.drilling = Drilling(desk.store, sheet, last=last, jokers=desk.house.jokers, effort=desk.effort)
        self._drill: tuple[int, AskScene] | None = None
        """The drill that was begun, with its step."""
        kept = desk.store.get(NAME)
        self.name = kept if isinstance(kept, str) else ""
        self.enter()

    def back(self) -> Screen | None:
        """To the list of lessons."""
        return self._back

    def enter(self) -> None:
        """A drill or a deal may have been done meanwhile."""
        if self._drill is not None and self._drill[1].ended:
            at, drill = self._drill
            self._drill = None
            self.lessons.record(self.lesson, summed(at, drill.grades, drill.taken))
        self.results = self.lessons.results(self.lesson)
        self.dirty = True

    # Steps.

    @property
    def next(self) -> int | None:
        """The place of the first step that was not done, from 1."""
        return next_step(self.lesson, self.results)

    def begin(self, at: int) -> Screen | None:
        """Do a step, from 1; one that was done may be done again."""
        step = self.lesson.steps[at - 1]
        self.said = ""
        if isinstance(step, ReadStep):
            return self._words(at, step.say, lambda: self._done(StepResult(at)))
        if step.say and not isinstance(step, PositionStep):
            return self._words(at, step.say, lambda: self._start(at, step))
        return self._start(at, step)

    def _words(self, at: int, say: str, then: Callable[[], Screen | None]) -> Screen | None:
        return WordsScene(self.routes, say, (self.lesson.name, f"step {at}"), self, then)

    def _start(self, at: int, step: DealStep | DrillStep | PositionStep) -> Screen | None:
        try:
            match step:
                case PositionStep():
                    return QuestionScene(self.routes, self.drilling, step, at, self, self._done)
                case DealStep():
                    sitting = self.routes.desk.begin_sitting(self.sheet, DealCode.parse(step.deal))
                    return table_scene(self.routes, sitting, LessonPolicy(self.routes, self))
            return self._begin_drill(at, step)
        except ValueError as error:
            self.said = sentence(f"{str(error).rstrip('.')}.")
            return self

    def _begin_drill(self, at: int, step: DrillStep) -> Screen | None:
        self.drilling.pass_moment = step.moment
        items: list[Item] = []
        for _ in range(step.times):
            if step.hand and step.drill in OF_A_HAND:
                items.append(Item(step.hand, step.drill.value))
            else:
                items.append(self.drilling.next_of(step.drill, [one.hand for one in items]))
        drill = AskScene(self.routes, self.drilling, self, items=items, seconds=step.seconds)
        self._drill = (at, drill)
        return drill

    def _done(self, result: StepResult) -> Screen | None:
        """A step was done: on to the next one, or to the list."""
        self.lessons.record(self.lesson, result)
        self.enter()
        after = self.next
        if after is None or isinstance(self.lesson.steps[after - 1], DealStep):
            return self
        return self.begin(after) or self

    # Files.

    def hand_in(self) -> Screen | None:
        """Write the results to a file for the teacher."""
        if not self.name.strip():
            self.said = "Write your name first, as your teacher knows you."
            return None
        self.routes.desk.store.set(NAME, self.name)
        results = self.lessons.as_file(self.lesson, " ".join(self.name.split())[:60])
        return self._to_file("results", write_results(results), "Your results are written to")

    def give(self) -> Screen | None:
        """Write the lesson to a file, to be given to others."""
        return self._to_file("lesson", write_lesson(self.lesson), "The lesson is written to")

    def _to_file(self, what: str, text: str, said: str) -> Screen | None:
        folder = last_folder(self.routes.desk.store)
        plain = "-".join("".join(char if char.isalnum() else " " for char in self.lesson.name.lower()).split())[:40]

        def write(path: Path) -> str:
            if path.exists():
                return f"{path.name} is there already; give another name."
            path.write_text(text, encoding="utf-8")
            remember(self.routes.desk.store, path)
            self.said = f"{said} {path}."
            return ""

        start = f"{folder}{plain or what}{'-results' if what == 'results' else ''}.yaml"
        return FilePopup(self, f"Write the {what} to a file", "Write it", write, start)

    def beside(self) -> Screen | None:
        """Results that others have given back."""
        return BesideScene(self.routes, self.lesson, self)

    def ask_to_remove(self) -> Screen | None:
        """Removing is asked once."""
        says = "It goes from your list. What you have made of it stays, should you bring it in again."
        return Question(self, f"Remove {self.lesson.name}?", says, [Press("Remove it", self._remove, "r", main=True)])

    def _remove(self) -> Screen | None:
        self.lessons.remove(self.lesson)
        return self._back

    def change(self) -> Screen | None:
        """Change the lesson."""
        return self.routes.make_lesson(self._back, self.lesson)

    def begin_anew(self) -> Screen | None:
        """Forget what was made of the steps."""
        self.lessons.begin_anew(self.lesson)
        self.enter()
        return None

    # What is on it.

    def paint(self, ui: Ui) -> None:
        """The steps, then the ways on."""
        rest = ui.header(self.lesson.name, f"{self.sheet.name} {self.sheet.season}", self.back)
        scrolled(ui, "lesson", rest, self._fill, widest=WIDEST)

    def _fill(self, page: Column) -> None:
        page.text(f"{lesson_words(self.lesson)} {answered_words(self.results, self.lesson)}", BODY, SOFT)
        page.gap(10)
        after = self.next
        if after is not None:
            says = "Begin" if not self.results else f"Go on with step {after}"
            page.buttons([Press(says, partial(self.begin, after), "return", main=True)])
        else:
            page.text("Every step is done.", BODY_BOLD, TEAL)
        if self.said:
            page.gap(10)
            page.notice(self.said)
        page.gap(12)
        made = {one.step: one for one in self.results}
        for at, step in enumerate(self.lesson.steps, 1):
            with page.card(f"step {at}", partial(self.begin, at), says=f"step {at}", here=at == after, pad=5) as card:
                card.text(f"{at}. {step_title(step)}", BODY_BOLD if at == after else BODY)
                card.text(result_words(step, made.get(at)), SMALL, TEAL if at in made else SOFT)
            page.gap(6)
        page.gap(10)
        with page.panel("Hand it in") as inside:
            inside.text("Write what you have made of it to a file, and give that to your teacher.", BODY, SOFT)
            inside.gap(8)
            inside.caption("Your name")
            ui = inside.ui
            inside.block(TOUCH, lambda rect: ui.field(rect, "name", self.name, self._write, longest=60))
            inside.gap(10)
            inside.buttons([Press("Write my results", self.hand_in, "w")])
        page.gap(12)
        with page.panel("For the teacher") as inside:
            inside.buttons([
                Press("Write the lesson to a file", self.give, "l"),
                Press("Print it", lambda: PrintPopup(self, self.routes, self.sheet, self.lesson), "p"),
                Press("Results side by side", self.beside, "b"),
                Press("Change the lesson", self.change, "c"),
                Press("Begin anew", self.begin_anew, "a", enabled=bool(self.results)),
                Press("Remove it", self.ask_to_remove, "r"),
            ])  # fmt: skip

    def _write(self, text: str) -> Screen | None:
        self.name = text
        return None
