"""Forms for the steps of a lesson: words, a drill, a position, a deal."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from typing import Generic, TypeVar

from engine.drills.grades import Skill
from engine.drills.lesson.model import MOST_TIMES, DealStep, DrillStep, PositionStep, ReadStep, Step
from engine.rules.deal import SEEDS, DealCode
from engine.rules.laid_out import PositionError
from engine.sheet.model import Sheet
from engine.tiles import TileError, parse_tiles
from engine.words import nearest
from game.draw.theme import BODY, SOFT, TOUCH
from game.draw.tiles import Face
from game.play.practice.drilling import OF_A_HAND
from game.play.practice.laying_out import Layout
from game.scenes.lessons.position import PositionScene
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.popups import Question, pane_of
from game.ui.scene import Popup, Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.drills import SKILLS
from game.words.practice.moments import MOMENTS

WIDEST = 1000
LONGEST = 1500
CLOCKS = ((None, "no clock"), (60.0, "one minute"), (30.0, "30 seconds"), (15.0, "15 seconds"))
ANY = ((None, "any of them"), *MOMENTS.items())
TILE = 44
"""Units of width of a tile of a position."""

Kind = TypeVar("Kind", bound=Step)


class StepForm(Scene, Generic[Kind]):
    """A form for one step. `done` takes the changed step."""

    title = ""
    first = ""
    """The line that is typed in first; empty where the form begins with something to press."""

    def __init__(
        self, routes: Routes, sheet: Sheet, step: Kind, back: Scene, done: Callable[[Kind], Screen | None]
    ) -> None:
        super().__init__(routes.look)
        self.routes, self.sheet, self.step = routes, sheet, step
        self.trouble = ""
        self._back, self._done = back, done
        self._opened = step
        if self.first:
            self.ui.to(self.first)

    def back(self) -> Screen | None:
        """To the lesson; what was typed is asked about."""
        if self.step == self._opened:
            return self._back
        presses = [Press("Take this step", self.take, "t", main=True),
                   Press("Leave it as it was", lambda: self._back, "l")]  # fmt: skip
        return Question(self, "Leave this step?", "What you have written here is not in the lesson yet.", presses)

    def take(self) -> Screen | None:
        """Take the step as it stands, if nothing is missing."""
        self.trouble = self.lacks()
        return self if self.trouble else self._done(self.step)

    def entered(self) -> Screen | None:
        """Enter in a line that is typed in: take the step."""
        return self.take()

    def lacks(self) -> str:
        """What is still missing, in a sentence; empty where nothing is."""
        return ""

    def fill(self, page: Column) -> None:
        """What there is to fill in."""

    def set(self, key: str, value: object) -> Screen | None:
        """Change one value of the step."""
        self.step, self.trouble = replace(self.step, **{key: value}), ""  # type: ignore[arg-type]
        return None

    def line(self, page: Column, key: str, says: str, hint: str = "") -> None:
        """One line to type in."""
        ui, text = page.ui, str(getattr(self.step, key))
        page.caption(says)
        page.block(TOUCH, lambda rect: ui.field(
            rect, key, text, partial(self.set, key), hint=hint, longest=LONGEST, enter=self.entered))  # fmt: skip
        page.gap(12)

    def pick(self, page: Column, key: str, says: str, options: Sequence[tuple[object, str]]) -> None:
        """One of several."""
        page.caption(says)
        value = getattr(self.step, key)
        page.add(lambda at, width: page.ui.choice(at, width, key, options, value, partial(self.set, key)))
        page.gap(12)

    def paint(self, ui: Ui) -> None:
        """The form, then the button that takes it."""
        rest = ui.header(self.title, "a step of the lesson", self.back)

        def all_of(page: Column) -> None:
            self.fill(page)
            if self.trouble:
                page.notice(self.trouble)
                page.gap(10)
            page.buttons([Press("Take this step", self.take, "return", main=True)])

        scrolled(ui, "form", rest, all_of, widest=WIDEST)


class WordsForm(StepForm[ReadStep]):
    """Words to read."""

    title = "Words to read"
    first = "say"

    def fill(self, page: Column) -> None:
        """The words."""
        self.line(page, "say", "What is to be read")
        page.text(self.step.say, BODY, SOFT)
        page.gap(12)

    def lacks(self) -> str:
        """Some words."""
        return "" if self.step.say.strip() else "Write what is to be read."


class DrillForm(StepForm[DrillStep]):
    """A drill."""

    title = "A drill"

    def fill(self, page: Column) -> None:
        """Which drill, how often, about what, and how long an answer may take."""
        ui, step = page.ui, self.step
        self.pick(page, "drill", "Which drill", [(skill, SKILLS[skill]) for skill in SKILLS])
        page.caption("Questions")
        page.block(TOUCH, lambda rect: ui.stepper(
            rect.topleft, "questions", step.times, 1, MOST_TIMES, partial(self.set, "times")))  # fmt: skip
        page.gap(12)
        if step.drill in OF_A_HAND:
            self.line(page, "hand", "A hand of the sheet; leave it empty for those that come up")
            page.buttons([Press("Choose a hand", lambda: ChooseHandPopup(self, self.sheet, self._of), "h")])
            page.gap(12)
        if step.drill is Skill.PASS:
            self.pick(page, "moment", "Which pass", ANY)
        self.pick(page, "seconds", "Time for each answer", CLOCKS)
        self.line(page, "say", "What is to be read before it; may be empty")

    def _of(self, hand: str) -> Screen | None:
        self.set("hand", hand)
        return self

    def take(self) -> Screen | None:
        """What does not go with the drill is left out; a hand's name may be begun only."""
        step = self.step
        hand = step.hand.strip() if step.drill in OF_A_HAND else ""
        names = [one.name for one in self.sheet.hands]
        if hand and hand not in names:
            begun = [name for name in names if name.lower().startswith(hand.lower())]
            guess = begun[0] if len(begun) == 1 else nearest(hand, names)
            hint = f"; did you mean {guess}?" if guess else "."
            if len(begun) != 1:
                self.trouble = f"There is no hand of that name on this sheet{hint}"
                return self
            hand = begun[0]
        self.step = replace(step, hand=hand, moment=step.moment if step.drill is Skill.PASS else None)
        return super().take()


class DealForm(StepForm[DealStep]):
    """A deal to play. A new step has a fresh deal already."""

    title = "A deal to play"

    def __init__(
        self, routes: Routes, sheet: Sheet, step: DealStep, back: Scene, done: Callable[[DealStep], Screen | None]
    ) -> None:
        super().__init__(routes, sheet, step, back, done)
        if not step.deal:
            self.new()
            self._opened = self.step

    def fill(self, page: Column) -> None:
        """Its code."""
        self.line(page, "deal", "The deal’s code", "such as K7Q2-M4X9-3TRB")
        page.buttons([Press("Another deal by my house rules", self.new, "n")])
        page.gap(12)
        self.line(page, "say", "What is to be read before it; may be empty")

    def new(self) -> Screen | None:
        """A fresh deal of the sheet."""
        desk = self.routes.desk
        return self.set("deal", str(DealCode.of(self.sheet, desk.house, desk.chance.randrange(SEEDS))))

    def lacks(self) -> str:
        """A code that is for this sheet."""
        try:
            code = DealCode.parse(self.step.deal)
        except ValueError as error:
            return f"{str(error).rstrip('.')}."
        return "" if code.is_for(self.sheet) else "This code was made for another sheet, or another edition of it."


class PositionForm(StepForm[PositionStep]):
    """A position with a question."""

    title = "A position with a question"
    first = "position"

    def entered(self) -> Screen | None:
        """Enter: lay the position out first, then take the step."""
        return self.lay() if self.step.position.strip() and not self.step.rack else self.take()

    def fill(self, page: Column) -> None:
        """The position, the question, the answers."""
        self.line(page, "position", "Its title")
        page.caption("The position")
        try:
            page.tiles([Face(kind) for kind in parse_tiles(self.step.rack)], TILE)
        except TileError:
            page.text("The rack can't be read; lay it out anew.", BODY)
        page.gap(8)
        page.buttons([Press("Lay it out" if not self.step.rack else "Change it", self.lay, "l")])
        page.gap(12)
        self.line(page, "ask", "The question; empty for: which tile do you let go?")
        ui, text = page.ui, self.choices_typed()
        page.caption("Answers to choose from, with / between them; empty where a tile is let go")
        page.block(TOUCH, lambda rect: ui.field(rect, "choices", text, self.choose, longest=LONGEST, enter=self.take))
        page.gap(12)
        if self.step.choices:
            self.pick(page, "answer", "The right answer", [(choice, choice) for choice in self.step.choices])
        else:
            self.line(page, "answer", "Tiles that are right to let go, such as 9d 2b; empty: the advice grades")
        self.line(page, "say", "What is to be read after the answer; may be empty")

    _typed: str | None = None

    def choices_typed(self) -> str:
        """The answers as they were typed, or as the step had them."""
        return " / ".join(self.step.choices) if self._typed is None else self._typed

    def choose(self, text: str) -> Screen | None:
        """The answers as typed. The right one is chosen among them."""
        self._typed = text
        self.set("choices", tuple(part.strip() for part in text.split("/") if part.strip()))
        if self.step.choices and self.step.answer not in self.step.choices:
            self.set("answer", self.step.choices[0])
        return None

    def lay(self) -> Screen | None:
        """Lay the tiles out."""
        try:
            layout = Layout.of(self.step) if self.step.rack else Layout()
        except PositionError:
            layout = Layout()
        return PositionScene(self.routes, self.sheet, self, layout, self._laid)

    def _laid(self, layout: Layout) -> Screen:
        rack, shown, exposed = layout.texts()
        self.step = replace(self.step, rack=rack, shown=shown, exposed=exposed, draws=layout.draws)
        return self

    def take(self) -> Screen | None:
        """Blanks around the answers don't count."""
        self.step = replace(self.step, answer=self.step.answer.strip())
        return super().take()

    def lacks(self) -> str:
        """A title, a rack, and answers that fit."""
        if not self.step.position.strip():
            return "Give the position a title."
        if not self.step.rack:
            return "Lay the position out first."
        if self.step.choices and self.step.answer not in self.step.choices:
            return "Choose the right answer."
        return ""


class ChooseHandPopup(Popup):
    """Every hand of the sheet, one to choose."""

    def __init__(self, parent: Scene, sheet: Sheet, choose: Callable[[str], Screen | None]) -> None:
        super().__init__(parent)
        self.sheet, self.choose = sheet, choose

    def paint(self, ui: Ui) -> None:
        """Section after section."""

        def fill(column: Column) -> None:
            column.heading("Which hand?")
            for section in self.sheet.sections:
                column.gap(10)
                column.caption(section.name)
                with column.grid(190, 6) as cell:
                    for hand in section.hands:
                        one = cell()
                        with one.card(f"hand {hand.name}", partial(self.choose, hand.name), says=hand.name) as card:
                            card.text(hand.name, BODY)

        pane_of(ui, 900, "hands", fill, [Press("Back", self.back, "escape")])


FORMS: dict[type, Callable[..., StepForm]] = {  # type: ignore[type-arg]
    ReadStep: WordsForm,
    DrillStep: DrillForm,
    DealStep: DealForm,
    PositionStep: PositionForm,
}
"""The form for each kind of step."""
