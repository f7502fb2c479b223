"""A position laid out by hand: rack, tiles seen, exposed groups, by presses or typed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from engine.rules.laid_out import PositionError
from engine.rules.state import Exposure
from engine.sheet.model import Sheet
from engine.tiles import JOKER, KINDS, Kind, name
from engine.words import sentence
from game.draw.theme import BODY, SMALL, SOFT, TOUCH
from game.draw.tiles import SLOT, Face, height_for
from game.play.practice.laying_out import EXPOSED, RACK, SHOWN, Layout
from game.scenes.lessons.advised import AdvisedScene
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column
from game.ui.layout import Rect, flow
from game.ui.scene import Scene
from game.ui.screen import Screen
from game.ui.scrolling import GUTTER
from game.ui.widgets import Ui
from game.words.actions import say_exposure

WIDEST = 1240
TILE, POOL = 50, 46
"""Units of width of a tile that is laid, and of one to choose."""
PARTS = ((RACK, "the rack"), (SHOWN, "seen elsewhere"), (EXPOSED, "exposed groups"))
SIZES = ((3, "pung"), (4, "kong"), (5, "quint"), (6, "sextet"))
HINTS = {RACK: "such as 5d 3x2b we", SHOWN: "such as 5d 3x2b we", EXPOSED: "such as kong 5d jokers 1"}
MOST_DRAWS = 99


class PositionScene(Scene):
    """Lay a position and ask about it. `use` takes it where it is made for a lesson."""

    def __init__(
        self,
        routes: Routes,
        sheet: Sheet,
        back: Scene,
        layout: Layout | None = None,
        use: Callable[[Layout], Screen | None] | None = None,
    ) -> None:
        super().__init__(routes.look)
        self.routes, self.sheet = routes, sheet
        self.layout = layout or Layout()
        self.part = RACK
        self.size, self.jokers = 3, 0
        self.typed, self.trouble = "", ""
        self._back, self._use = back, use
        self.ui.to("typed")

    def back(self) -> Screen | None:
        """To where it was begun."""
        return self._back

    # Laying.

    def _try(self, do: Callable[[], object]) -> Screen | None:
        """Do it, or say why that can't be."""
        try:
            do()
            self.trouble = ""
        except ValueError as error:
            self.trouble = sentence(f"{str(error).rstrip('.')}.")
        return None

    def put(self, kind: Kind) -> Screen | None:
        """A tile of the pool goes where it is chosen to go."""
        if self.part == EXPOSED:
            return self._try(lambda: self.layout.expose(self.size, kind, min(self.jokers, self.size - 1)))
        return self._try(lambda: self.layout.add(self.part, kind))

    def take(self, from_: list[Kind], place: int) -> Screen | None:
        """A laid tile goes back."""
        del from_[place]
        self.trouble = ""
        return None

    def take_group(self, place: int) -> Screen | None:
        """An exposed group goes back."""
        del self.layout.exposures[place]
        return None

    def lay_typed(self) -> Screen | None:
        """Lay what is typed; with nothing typed, do what comes next."""
        if not self.typed.strip():
            return self.ask() if self._use is None else self.use()
        self._try(lambda: self.layout.type(self.part, self.typed))
        if not self.trouble:
            self.typed = ""
        return None

    def clear(self) -> Screen | None:
        """Begin anew."""
        self.layout.clear()
        self.trouble = ""
        return None

    def use(self) -> Screen | None:
        """Take the position into the lesson, once it is one."""
        self._try(self.layout.laid)
        return None if self.trouble or self._use is None else self._use(self.layout)

    def ask(self) -> Screen | None:
        """What is advised on it, once it is a position."""
        table = self.routes.desk.advisor(self.sheet, JOKERS).table
        try:
            moment = self.layout.moment(table)
        except PositionError as error:
            self.trouble = str(error)
            return None
        self.trouble = ""
        return AdvisedScene(self.routes, self.sheet, tuple(self.layout.rack), moment, self)

    # What is on it.

    def paint(self, ui: Ui) -> None:
        """What is laid, the tiles to choose from, the ways on."""
        rest = ui.header("Lay out a position", f"{self.sheet.name} {self.sheet.season}", self.back)
        wide = min(rest.width - ui.u(GUTTER), ui.u(WIDEST))
        left, gap = rest.left + (rest.width - ui.u(GUTTER) - wide) // 2, ui.u(12)
        page, below = Column(ui, wide), Column(ui, wide)
        self._lay(page)
        self._ways(below)
        room = rest.height - below.height - gap
        if room < rest.height // 2:  # little room: everything scrolls together
            ui.scroll("position", rest, lambda area: below.paint((left, page.paint((left, area.top)) + gap)))
            return
        place = Rect(rest.left, rest.top, rest.width, min(room, page.height))
        ui.scroll("position", place, lambda area: page.paint((left, area.top)))
        below.paint((left, place.bottom + gap))

    def _lay(self, page: Column) -> None:
        page.text("Lay a rack as you had it, or as you wonder about it; then ask.", BODY, SOFT)
        page.gap(10)
        self._laid(page)
        page.gap(12)
        with page.panel() as inside:
            inside.caption("The next tile goes to")
            inside.add(lambda at, width: inside.ui.choice(at, width, "part", PARTS, self.part, self._to))
            if self.part == EXPOSED:
                inside.gap(8)
                inside.add(lambda at, width: inside.ui.choice(at, width, "size", SIZES, self.size, self._sized))
                inside.gap(8)
                self._stepper(inside, "jokers in it", self.jokers, 0, self.size - 1, self._jokered)
            inside.gap(10)
            inside.add(lambda at, width: self._pool(inside.ui, at, width))
            inside.gap(12)
            inside.caption("Or type it, and press Enter")
            ui, hint = inside.ui, HINTS[self.part]
            inside.block(TOUCH, lambda rect: ui.field(rect, "typed", self.typed, self._write, hint=hint,
                                                      enter=self.lay_typed))  # fmt: skip
            inside.gap(12)
            self._stepper(inside, "draws to come", self.layout.draws, 0, MOST_DRAWS, self._drawn)

    def _ways(self, page: Column) -> None:
        """What is wrong, and the ways on."""
        if self.trouble:
            page.notice(self.trouble)
            page.gap(10)
        presses = [Press("What is advised?", self.ask, "return", main=self._use is None)]
        if self._use is not None:
            presses.insert(0, Press("Take this position", self.use, "t", main=True))
        page.buttons([*presses, Press("Clear", self.clear, "c")])

    def _stepper(self, page: Column, says: str, value: int, low: int, high: int, change: Callable[[int], None]) -> None:
        ui = page.ui
        page.caption(says.capitalize())

        def set_to(number: int) -> Screen | None:
            change(number)
            return None

        page.block(TOUCH, lambda rect: ui.stepper(rect.topleft, says, value, low, high, set_to))

    def _to(self, part: str) -> Screen | None:
        self.part, self.trouble = part, ""
        return None

    def _sized(self, size: int) -> Screen | None:
        self.size, self.jokers = size, min(self.jokers, size - 1)
        return None

    def _jokered(self, jokers: int) -> None:
        self.jokers = jokers

    def _drawn(self, draws: int) -> None:
        self.layout.draws = draws

    def _write(self, text: str) -> Screen | None:
        self.typed = text
        return None

    def _laid(self, page: Column) -> None:
        """What is laid so far; a press takes a tile back."""
        layout = self.layout
        with page.panel() as inside:
            inside.caption(f"Your rack: {len(layout.rack)} tiles; 13, or 14 where one is to go")
            inside.add(lambda at, width: self._row(inside.ui, at, width, RACK, layout.rack))
            if layout.exposures:
                inside.gap(10)
                inside.caption("Exposed by you; press a group to take it back")
                inside.add(lambda at, width: self._groups(inside.ui, at, width))
            if layout.shown:
                inside.gap(10)
                inside.caption("Seen elsewhere: let go, or exposed by others")
                inside.add(lambda at, width: self._row(inside.ui, at, width, SHOWN, layout.shown))

    def _row(self, ui: Ui, at: tuple[int, int], width: int, part: str, kinds: list[Kind]) -> int:
        wide = ui.u(TILE)
        bottom = at[1] + height_for(wide)
        sizes = [(wide, height_for(wide))] * len(kinds)
        for place, rect in enumerate(flow(sizes, at, width, (ui.u(6), ui.u(6)))):
            ui.tile(Face(kinds[place]), rect)
            ui.target(f"{part} {place}", rect, partial(self.take, kinds, place), f"take the {name(kinds[place])} out")
            bottom = max(bottom, rect.bottom)
        return bottom

    def _groups(self, ui: Ui, at: tuple[int, int], width: int) -> int:
        wide, gap = ui.u(TILE), ui.u(3)
        groups = self.layout.exposures
        sizes = [(min(one.size * (wide + gap) - gap, width), height_for(wide)) for one in groups]
        bottom = at[1]
        for place, rect in enumerate(flow(sizes, at, width, (ui.u(16), ui.u(8)))):
            each = min(wide, (rect.width + gap) // groups[place].size - gap)
            ui.tiles(_faces(groups[place]), rect.topleft, each, gap)
            says = f"take back {say_exposure(groups[place])}"
            ui.target(f"group {place}", rect, partial(self.take_group, place), says)
            bottom = max(bottom, rect.bottom)
        return bottom

    def _pool(self, ui: Ui, at: tuple[int, int], width: int) -> int:
        """All kinds, each with how many are left."""
        wide, line = ui.u(POOL), ui.line(SMALL)
        sizes = [(wide, height_for(wide) + line)] * KINDS
        bottom = at[1]
        for kind, rect in enumerate(flow(sizes, at, width, (ui.u(8), ui.u(4)))):
            left = self.layout.left(kind)
            able = left > 0 and not (self.part == EXPOSED and kind == JOKER)
            ui.tile(Face(kind) if able else Face(kind, SLOT), Rect(rect.left, rect.top, wide, height_for(wide)))
            ui.fitted(str(left), Rect(rect.left, rect.bottom - line, wide, line), SMALL, SOFT, "middle")
            ui.target(f"tile {kind}", rect, partial(self.put, kind), f"lay the {name(kind)}", enabled=able)
            bottom = max(bottom, rect.bottom)
        return bottom


JOKERS = 8
"""Jokers of the set that a position is laid from."""


def _faces(one: Exposure) -> Sequence[Face]:
    return [Face(one.kind, joker=place >= one.real) for place in range(one.size)]
