"""Another deal, from home: by chance or by its code."""

from __future__ import annotations

from functools import partial

from engine.words import sentence
from game.draw.theme import BODY, BODY_BOLD, SMALL, SOFT, TOUCH
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column
from game.ui.layout import Rect
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.deal.twists import twist_clause
from game.words.house import house_words
from game.words.sheet import sheet_words

CODE_LENGTH = 100
FIELD = 210
"""Units of width that the field of a code has at least."""


class AnotherDeal:
    """What is typed as a code, what was wrong with it, and the panel of both ways to a deal."""

    def __init__(self, routes: Routes) -> None:
        self.routes, self.desk = routes, routes.desk
        self._code = ""
        self._fault = ""

    def fill(self, inside: Column, home: Scene, main: bool, apart: float) -> None:
        """The sheet, the house rules, a new deal and a code in full. `main`: a new deal is what comes next."""
        inside.text(sheet_words(self.desk.current_sheet, self.desk.chosen), BODY_BOLD)
        inside.text(f"{sentence(house_words(self.desk.house))}{twist_clause(self.desk)}.", BODY, SOFT)
        inside.gap(12)
        inside.buttons([Press("Deal", self._deal, "d", main=main), *self._set_up(home)])
        inside.gap(apart)
        inside.caption("A certain deal, by its code")
        button = inside.ui.button_size("Deal it")[0]
        with inside.aside(button, gap=10, right=True, stacked=inside.width < inside.ui.u(FIELD) + button, apart=8) as (
            field,
            press,
        ):
            self._fill_code(field, press)
        self._told(inside)

    def fill_short(self, inside: Column, home: Scene, title: str, main: bool, keys: bool, lines: int) -> None:
        """The same in two lines, or in one, where how it is set up stands among the places."""
        ui = inside.ui
        deal = Press("Deal", self._deal, "d", main=main)
        inside.text(f"{title}: {sheet_words(self.desk.current_sheet, self.desk.chosen)}.", SMALL, SOFT)
        inside.gap(4)
        button = ui.button_size("Deal it")[0]
        if lines > 1:
            inside.buttons([deal, *self._set_up(home)], show_keys=keys)
            inside.gap(8)
            with inside.aside(button, gap=10, right=True) as (field, press):
                self._fill_code(field, press)
        else:
            new = ui.button_size("Deal", "d" if keys else "")[0]
            narrow = inside.width < new + button + ui.u(FIELD + 20)
            with inside.aside(new, gap=10, stacked=narrow, apart=8) as (left, right):
                left.buttons([deal], show_keys=keys)
                with right.aside(button, gap=10, right=True) as (field, press):
                    self._fill_code(field, press)
        self._told(inside)

    def _set_up(self, home: Scene) -> list[Press]:
        """What the next deal is played with, and how."""
        return [
            Press("Sheet and sections", lambda: self.routes.choosing(home), "c"),
            Press("House rules", lambda: self.routes.house_rules(home), "r"),
        ]

    def _fill_code(self, field: Column, press: Column) -> None:
        ui = field.ui
        size = (press.width, ui.u(TOUCH))
        field.block(TOUCH, partial(self._code_field, ui))
        able = bool(self._code.strip())
        press.block(TOUCH, lambda rect: ui.button(Rect(rect.topleft, size), "Deal it", self._deal_code, enabled=able))

    def _told(self, inside: Column) -> None:
        if self._fault:
            inside.gap(10)
            inside.notice(self._fault)

    def _code_field(self, ui: Ui, rect: Rect) -> None:
        ui.field(
            rect, "deal code", self._code, self._write, hint="such as K7Q2-M4X9-3TRB", enter=self._deal_code,
            longest=CODE_LENGTH,
        )  # fmt: skip

    def _write(self, text: str) -> Scene | None:
        self._code, self._fault = text, ""
        return None

    def _deal(self) -> Scene | None:
        return self._try(None)

    def _deal_code(self) -> Scene | None:
        return self._try(self._code) if self._code.strip() else None

    def _try(self, code: str | None) -> Scene | None:
        try:
            return self.routes.new_deal(code)
        except ValueError as error:
            self._fault = sentence(f"{str(error).rstrip('.')}.")
            return None
