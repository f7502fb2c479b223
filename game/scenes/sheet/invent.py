"""Inventing a sheet: what is wished for, how far the play has come that balances it, and the sheet that came of it."""

from __future__ import annotations

import random
from functools import partial
from pathlib import Path

from engine.invent.draft import FEWEST_HANDS, MOST_HANDS, sections_for
from engine.invent.making import HANDS, KEPT, SEASON, Invented, Wish
from engine.sheet.model import Sheet
from engine.store.files import write_safely
from engine.words import counted
from game.draw.theme import BODY, BODY_BOLD, SMALL, SMALL_BOLD, SOFT, TEAL, TOUCH
from game.play.writing.inventing import BalanceLook, Failed, Inventing
from game.scenes.deal_popups import FilePopup
from game.scenes.paths import last_folder, remember
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect
from game.ui.popups import Question
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.invent import file_name, look_words, loosened_words, made_words, next_season, wish_fault

WIDEST = 1180
SEEDS = 1_000_000
"""A seed that the player didn't write is one of so many, so that it is easily written again."""
SOME_HANDS = (12, 18, 24, 36, 48, 60)
SOME_KEPT = (0, 20, 40, 60, 80)
DIGITS = 4
LONGEST_SEED = 9
BAR = 18
"""Units of height of the bar that shows how far the work has come."""


class InventScene(Scene):
    """A form, then a bar, then the sheet; Esc during the work ends it and leaves nothing."""

    def __init__(self, routes: Routes, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes, self.desk = routes, routes.desk
        self._back = back
        self.hands = HANDS
        self.like: Sheet | None = None
        self.kept = KEPT
        self.season = SEASON
        self.seed = str(random.SystemRandom().randrange(SEEDS))
        self.inventing: Inventing | None = None
        """What is under way or has come; None while the form is shown."""
        self.kept_already = False
        """Whether the sheet that was made is among the player's sheets."""
        self.said = ""

    @property
    def made(self) -> Invented | None:
        """The sheet, once it is there."""
        return self.inventing.made if self.inventing is not None else None

    def back(self) -> Scene | None:
        """Out of the work to the form, from a sheet that isn't kept by a question, and else where one came from."""
        if self.inventing is not None and self.inventing.under_way:
            return self.stop()
        if self.made is not None and not self.kept_already:
            text = f"Seed {self.inventing.wish.seed if self.inventing else ''} makes it again, with the same wishes."
            presses = [Press("Leave it", self._leave, "l"), Press("Keep it", self._keep_and_leave, "k", main=True)]
            return Question(self, "Leave without keeping the sheet?", text, presses)
        return self._leave()

    def _leave(self) -> Scene | None:
        return self._back

    def _keep_and_leave(self) -> Scene | None:
        self.keep()
        return self._leave()

    # What is wished for.

    @property
    def fault(self) -> str:
        """What has to be written otherwise first; empty where nothing has."""
        return wish_fault(self.season, self.seed, self.like)

    def start(self) -> Scene | None:
        """Begin the work, if the form is filled in."""
        worker = self.desk.worker
        if self.fault or worker is None:
            return None
        wish = Wish(int(self.seed), self.hands, self.season, self.like, self.kept)
        self.kept_already, self.said = False, ""
        self.inventing = Inventing(wish, worker, self._changed)
        return None

    def stop(self) -> Scene | None:
        """End the work; the form as it was filled in."""
        if self.inventing is not None:
            self.inventing.stop()
        form = InventScene(self.routes, self._back)
        form.hands, form.like, form.kept = self.hands, self.like, self.kept
        form.season, form.seed = self.season, self.seed
        return form

    def again(self) -> Scene | None:
        """The form once more, with another seed."""
        form = self.stop()
        assert isinstance(form, InventScene)
        form.other_seed()
        return form

    def other_seed(self) -> Scene | None:
        """Any other seed."""
        self.seed = str(random.SystemRandom().randrange(SEEDS))
        return None

    def take(self, like: Sheet | None) -> Scene | None:
        """The next season of this sheet, or a fresh one for None."""
        self.like = like
        self.season = SEASON if like is None else next_season(like.season)
        return None

    def _changed(self) -> None:
        self.dirty = True

    def _set(self, field: str, value: int | str) -> Scene | None:
        setattr(self, field, value)
        return None

    # What came of it.

    def keep(self) -> Scene | None:
        """Put the sheet among the player's sheets."""
        if self.made is not None and not self.kept_already:
            self.desk.add_sheet(self.made.sheet)
            self.kept_already = True
            self.said = "It is among your sheets now."
        return None

    def play(self) -> Scene | None:
        """Keep the sheet, choose it for the deals to come, and deal."""
        if self.made is None:
            return None
        self.keep()
        self.desk.choose_sheet(self.made.sheet, None)
        return self.routes.new_deal()

    def save(self) -> Scene | None:
        """Ask for a file to write the sheet to."""
        if self.made is None:
            return None
        name = last_folder(self.desk.store) + file_name(self.made.sheet)
        return FilePopup(self, "Write the sheet to a file", "Write it", self._save_to, name)

    def _save_to(self, path: Path) -> str:
        if self.made is None:
            return ""
        write_safely(path, self.made.text)
        remember(self.desk.store, path)
        self.said = f"It is written to {path}."
        return ""

    # Painting.

    def paint(self, ui: Ui) -> None:
        """The form, the bar or the sheet."""
        note = "hands that nobody has seen, balanced by play"
        fill, action = self._form, Press("Invent it", self.start, "return", main=True, enabled=not self.fault)
        if self.made is not None:
            fill, action = self._result, Press("Play it", self.play, "return", main=True)
        elif self.inventing is not None:
            fill, action = self._work, Press("Stop", self.stop, "s", enabled=self.inventing.under_way)
        rest = ui.header("Invent a sheet", note, self.back, action=action)
        scrolled(ui, "invent", rest, fill, WIDEST, roomy=True)

    def _form(self, page: Column) -> None:
        if self.fault:
            page.notice(self.fault)
            page.gap(12)
        sheets: list[tuple[Sheet | None, str]] = [(None, "A fresh sheet")]
        sheets += [
            (sheet, f"The season after {sheet.name} {sheet.season}")
            for sheet in self.desk.sheets()
            if len(sheet.hands) <= MOST_HANDS
        ]
        with page.panel("What sheet?") as inside:
            inside.add(lambda at, width: page.ui.choice(at, width, "like", sheets, self.like, self.take))
            inside.gap(10)
            if self.like is None:
                self._hands(inside)
            else:
                self._share(inside)
        page.gap(16)
        with page.panel() as inside, inside.beside([1, 1.6], least=640, gap=20) as (left, right):
            left.caption("Season, four digits")
            left.block(TOUCH, partial(self._field, page.ui, "season", self.season, DIGITS))
            right.caption("Seed: the same one makes the same sheet")
            right.block(TOUCH, partial(self._field, page.ui, "seed", self.seed, LONGEST_SEED))
            right.gap(8)
            right.buttons([Press("Another seed", self.other_seed, "n")])
        page.gap(16)
        page.text(
            "Many thousand deals are played to see that no hand comes too often and none never. A sheet of sixty hands "
            "takes a minute or two; a small one much less.",
            BODY, SOFT, most=900,
        )  # fmt: skip

    def _hands(self, inside: Column) -> None:
        options = [(number, str(number)) for number in SOME_HANDS]
        if self.hands not in SOME_HANDS:
            options.append((self.hands, str(self.hands)))
        inside.caption("How many hands?")
        inside.add(
            lambda at, width: inside.ui.choice(
                at, width, "hands", options, self.hands, lambda number: self._set("hands", number)
            )
        )
        inside.gap(8)
        inside.caption(f"Or another number, {FEWEST_HANDS} to {MOST_HANDS}")
        inside.add(
            lambda at, _: (
                inside.ui.stepper(
                    at, "number of hands", self.hands, FEWEST_HANDS, MOST_HANDS, lambda to: self._set("hands", to)
                ).bottom
            )
        )
        if loosened := loosened_words(self.hands, sections_for(self.hands)):
            inside.gap(6)
            inside.text(loosened, SMALL, SOFT)

    def _share(self, inside: Column) -> None:
        options = [(share, f"{share}%") for share in SOME_KEPT]
        inside.caption("How many of its hands are kept?")
        inside.add(
            lambda at, width: inside.ui.choice(
                at, width, "kept", options, self.kept, lambda share: self._set("kept", share)
            )
        )
        inside.gap(6)
        inside.text("Up to a third of its hands are changed in one thing each; the others are new.", SMALL, SOFT)

    def _field(self, ui: Ui, name: str, text: str, longest: int, rect: Rect) -> None:
        ui.field(
            rect, name, text, lambda value: self._set(name, value.strip()), hint=name, enter=self.start,
            longest=longest,
        )  # fmt: skip

    def _work(self, page: Column) -> None:
        assert self.inventing is not None
        told = self.inventing.told
        with page.panel("The sheet is being made") as inside:
            if isinstance(told, Failed):
                inside.notice(told.why)
                inside.gap(14)
                inside.buttons([Press("Back to the form", self.again, "return", main=True)])
                return
            look = told if isinstance(told, BalanceLook) else None
            share = self.inventing.share
            inside.text(look_words(look))
            inside.gap(12)
            inside.block(BAR, lambda rect: page.ui.bar(rect, share))
            inside.gap(14)
            inside.text("Esc stops it, and nothing is left of it.", SMALL, SOFT)

    def _result(self, page: Column) -> None:
        made = self.made
        assert made is not None
        assert self.inventing is not None
        with page.panel(f"{made.sheet.name} {made.sheet.season}") as inside:
            inside.text(made_words(made, self.inventing.wish.seed))
            if loosened := loosened_words(len(made.sheet.hands), len(made.sheet.sections)):
                inside.gap(6)
                inside.text(loosened, SMALL, SOFT)
            if self.said:
                inside.gap(8)
                inside.text(self.said, BODY_BOLD, TEAL)
            inside.gap(12)
            inside.buttons([
                Press("Keep it", self.keep, "k", enabled=not self.kept_already),
                Press("Read it", lambda: self.routes.sheet(made.sheet, self), "h"),
                Press("Study it", lambda: self.routes.study(made.sheet, self), "u"),
                *([Press("What changed", lambda: self.routes.compare(made.sheet, self), "c")] if self.like else []),
                Press("Write to a file", self.save, "w"),
                Press("Another one", self.again, "n"),
            ])  # fmt: skip
        page.gap(16)
        counts = iter(made.shares.made)
        with page.grid(least=420, gap=12, most=2) as cell:
            for section, theme in zip(made.sheet.sections, made.themes, strict=True):
                share = 100 * sum(next(counts) for _ in section.hands) / max(made.shares.total, 1)
                with cell().panel(pad=14, fills=True) as inside:
                    inside.text(section.name, BODY_BOLD)
                    inside.text(theme)
                    said = f"{counted(len(section.hands), 'hand')}, {share:.1f}% of the hands made"
                    inside.text(said, SMALL_BOLD, SOFT)
