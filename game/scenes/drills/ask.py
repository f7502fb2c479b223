"""One question after another: the question, a place to answer it, and what there is to say of the answer."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence

from engine.drills.grades import Grade, Skill
from engine.drills.laying import LayTask
from engine.drills.may_i import MayTask
from engine.drills.schedule import Due, Item, Why
from engine.drills.which_hands import WhichTask
from engine.words import clock, count, sentence
from game.draw.theme import BODY, BODY_BOLD, GREAT, INK, SOFT, TEAL, TITLE, VERMILION_TEXT
from game.play.practice.drilling import OF_PLAY, Drilling, DrillQuestion
from game.scenes.drills.answers import Answer, Laying, Naming, YesOrNo
from game.scenes.drills.between import between
from game.scenes.drills.play_answers import play_answer
from game.scenes.routes import Routes
from game.scenes.table.rack import ROOMY_FROM
from game.ui.buttons import Press
from game.ui.column import Column
from game.ui.scene import Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.drills import SKILLS, why_words

WIDEST = 1240
LEAST_MIDDLE = 180
"""Units of height that the place to answer needs between the question and the buttons."""
DEALING = "A fresh rack is on its way…"
TRYING = "The choices are tried out…"


class AskScene(Scene):
    """A drill under way: of one skill, what is due, or these `items`. `seconds` are allowed for each answer."""

    def __init__(
        self,
        routes: Routes,
        drilling: Drilling,
        back: Scene,
        *,
        skill: Skill | None = None,
        due: Sequence[Due] = (),
        items: Sequence[Item] = (),
        seconds: float | None = None,
        now: Callable[[], float] = time.monotonic,
    ) -> None:
        super().__init__(routes.look)
        self.routes, self.drilling = routes, drilling
        self.skill, self.seconds = skill, seconds
        self.grades: list[Grade] = []
        self.told: list[str] = []
        """What there is to say of the answer; empty while it is awaited."""
        self.trouble = ""
        self._back, self._now = back, now
        self._due = list(due)
        self._items = list(items)
        self.taken = 0.0
        """Seconds that all answers took together."""
        self._asked: list[str] = []
        self._why: Due | None = None
        self._begun = 0.0
        self._gave_up = False
        self.waiting = ""
        """What is worked out in the background, in words; empty where nothing is."""
        self._again: Callable[[], None] = lambda: None
        """Begins that work anew, should another screen have stopped it."""
        self.question: DrillQuestion | None = None
        self.answer: Answer | None = None
        self._next()

    def back(self) -> Screen | None:
        """To where drills are chosen; what was answered is kept."""
        return self._back

    # Questions.

    def _next(self) -> None:
        """The next question, or the end."""
        self.told, self.trouble, self._why, self._gave_up = [], "", None, False
        if self.skill is not None:
            item = self.drilling.next_of(self.skill, self._asked)
            self._asked.append(item.hand)
            self._prepare(item)
        elif self._due:
            self._why = self._due.pop(0)
            self._prepare(self._why.item, self._why.why)
        elif self._items:
            self._prepare(self._items.pop(0))
        else:
            self.question, self.answer = None, None

    def _prepare(self, item: Item, why: Why | None = None) -> None:
        """Make a question: at once, or in the background where that takes a while."""
        if Skill(item.skill) not in OF_PLAY:
            self._show(self.drilling.question(item, why))
            return
        self.question, self.answer = None, None
        worker = self.routes.desk.worker

        def made() -> DrillQuestion | str:
            try:
                return self.drilling.question(item, why)
            except ValueError as error:
                return str(error)

        self._work(DEALING, lambda: worker.submit(lambda _: made(), self._made))

    def _made(self, found: DrillQuestion | str) -> None:
        """A question has come, or why there is none."""
        if isinstance(found, DrillQuestion):
            self._show(found)
        else:
            self.waiting, self.trouble, self.dirty = "", sentence(f"{found.rstrip('.')}."), True

    def _show(self, question: DrillQuestion) -> None:
        self.question, self.waiting, task = question, "", question.task
        if isinstance(task, LayTask):
            self.answer = Laying(task, question, self.drilling)
        elif isinstance(task, WhichTask):
            self.answer = Naming(task, self.drilling.sheet)
        elif isinstance(task, MayTask):
            self.answer = YesOrNo(task, self.finish)
        else:
            self.answer = play_answer(task, self.drilling, self.check)
        self._begun = self._now()
        self.dirty = True

    def _work(self, says: str, begin: Callable[[], object]) -> None:
        """Do something in the background; `begin` hands it to the worker."""

        def again() -> None:
            begin()

        self.waiting, self._again = says, again
        again()

    def go_on(self) -> Screen | None:
        """The next question."""
        self._next()
        return None

    @property
    def spent(self) -> float:
        """Seconds since the question was shown."""
        return self._now() - self._begun

    # Answers.

    def check(self) -> Screen | None:
        """Grade the answer as it stands; what is missing is said, and nothing is graded then."""
        if self.answer is None or self.told or self.waiting:
            return None
        self.trouble = self.answer.lacks()
        if not self.trouble:
            self._grade(self.answer.judged)
        return None

    def give_up(self) -> Screen | None:
        """Show the answer. It counts as one that was not known."""
        if self.answer is not None and not self.told and not self.waiting:
            shown = self.answer.shown
            self._gave_up = True
            self._grade(lambda: (Grade.WRONG, shown()))
        return None

    def _grade(self, judged: Callable[[], tuple[Grade, list[str]]]) -> None:
        """Grade by this: at once, or in the background where that takes a while."""
        assert self.answer is not None
        spent = self.spent
        if not self.answer.slow:
            try:
                self.finish(*judged())
            except ValueError as error:
                self.trouble = sentence(str(error).rstrip(".")) + "."
            return
        worker = self.routes.desk.worker

        def done(found: tuple[Grade, list[str]]) -> None:
            self.waiting = ""
            self.finish(*found, spent=spent)

        self._work(TRYING, lambda: worker.submit(lambda _: judged(), done))

    def finish(self, grade: Grade, told: Sequence[str], spent: float | None = None) -> Screen | None:
        """An answer was given, after so many seconds; now, if that is not said."""
        if self.question is None or self.told:
            return None
        spent = self.spent if spent is None else spent
        said = list(told)
        if self.seconds is not None and spent > self.seconds and grade is Grade.RIGHT:
            grade, said[0] = Grade.NEAR, "Right, though over the time allowed."
        self.told, self.trouble = said, ""
        self.grades.append(grade)
        self.taken += spent
        self.drilling.answered(self.question, grade, spent, self.seconds)
        self.dirty = True
        return None

    def update(self, seconds: float) -> None:
        """The clock is drawn anew once a second. Work that another screen has stopped begins anew."""
        if self.waiting and not self.routes.desk.worker.busy:
            self._again()
        before = int(self.spent)
        super().update(seconds)
        if self.seconds is not None and not self.told and int(self.spent + seconds) != before:
            self.dirty = True

    # What is on it.

    @property
    def ended(self) -> bool:
        """Whether there are no more questions."""
        return self.question is None and not self.waiting

    @property
    def note(self) -> str:
        """How it goes so far, and the time that is left."""
        right = sum(grade is Grade.RIGHT for grade in self.grades)
        parts = [f"{right} right of {len(self.grades)}"] if self.grades else []
        if self.seconds is not None and self.question is not None and not (self.told or self.waiting):
            left = self.seconds - self.spent
            parts.append(f"{clock(left)} left" if left >= 0 else "the time is up; answer all the same")
        return "  ·  ".join(parts)

    def paint(self, ui: Ui) -> None:
        """The question stays over the place to answer, and the buttons under it, where there is room for all three.

        In a small window what there is to say of an answer stands first.
        """
        skill = self.question.skill if self.question is not None else self.skill
        title = "Done" if skill is None or self.ended else SKILLS[skill]
        rest = ui.header(title, self.note, self.back)
        fills = (self._above, self._middle, self._below)
        if self.told and ui.window.height < ui.u(ROOMY_FROM):
            fills = (self._verdict, self._shown, self._below)
        between(ui, "drill", rest, fills, widest=WIDEST, least=LEAST_MIDDLE)

    def _above(self, page: Column) -> None:
        if self.question is None or self.answer is None:
            return
        if self._why is not None:
            page.text(why_words(self._why, self.drilling.now()), BODY, SOFT)
            page.gap(6)
        page.text(self.answer.asked, BODY_BOLD)
        page.gap(10)
        self.answer.given(page)

    def _middle(self, page: Column) -> None:
        if self.waiting:
            page.text(self.waiting, BODY_BOLD, SOFT)
        elif self.question is None or self.answer is None:
            self._end(page)
        elif self.told:
            self._told(page)
        else:
            self.answer.fill(page)

    def _shown(self, page: Column) -> None:
        """What the question was about and its right answer, under the verdict."""
        if self.answer is not None:
            self.answer.given(page)
            page.gap(8)
            self.answer.solution(page)

    def _below(self, page: Column) -> None:
        if self.waiting:
            page.buttons([Press("Leave the drill", self.back)])
        elif self.question is None or self.answer is None:
            page.buttons([Press("Go on", self.back, "return", main=True)])
        elif self.told:
            last = self.skill is None and not self._due and not self._items
            page.buttons([Press("That was the last" if last else "Next", self.go_on, "return", main=True)])
        else:
            if self.trouble:
                page.text(self.trouble, BODY_BOLD, VERMILION_TEXT)
                page.gap(8)
            roomy = page.ui.window.height >= page.ui.u(ROOMY_FROM)
            page.buttons([*self.answer.presses(self.check), Press("Show me", self.give_up, "s")], show_keys=roomy)

    def _told(self, page: Column) -> None:
        self._verdict(page)
        page.gap(12)
        if self.answer is not None:
            self.answer.solution(page)

    def _verdict(self, page: Column) -> None:
        """What there is to say of the answer."""
        colour = {Grade.RIGHT: TEAL, Grade.NEAR: INK, Grade.WRONG: INK if self._gave_up else VERMILION_TEXT}
        page.text(self.told[0], TITLE, colour[self.grades[-1]])
        for said in self.told[1:]:
            page.gap(6)
            page.text(said, BODY, most=900)

    def _end(self, page: Column) -> None:
        if self.trouble:
            page.notice(self.trouble)
            return
        right = sum(grade is Grade.RIGHT for grade in self.grades)
        page.text(f"{right} right of {count(len(self.grades), 'question')}.", GREAT, TEAL)
        page.gap(8)
        page.text("Each hand comes up again when it is about to fade.", BODY, SOFT)
