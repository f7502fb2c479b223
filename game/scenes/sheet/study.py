"""What a sheet leans on: sentences, and pictures of which every cell answers with the hands behind it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from engine.sheet.groups import size_name
from engine.sheet.model import Hand, Section, Sheet
from engine.sheet.study.counts import Study
from engine.sheet.variants import RANKS
from engine.tiles import DRAGONS, FLOWER, WINDS, Kind
from engine.words import counted, sentence
from game.draw.theme import (
    BLUE,
    BODY,
    BODY_BOLD,
    CARD,
    EDGE,
    INK,
    LIT,
    SKY,
    SMALL,
    SMALL_BOLD,
    SOFT,
    TEAL,
    TOUCH,
    Style,
    mix,
)
from game.scenes.routes import Routes
from game.scenes.sheet.hand_page import HandScene
from game.scenes.sheet.hands import rack_strip
from game.scenes.sheet.heat import HeatMap
from game.scenes.sheet.made import Made
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect, Space, columns
from game.ui.popups import pane_of
from game.ui.scene import Popup, Scene
from game.ui.widgets import Ui
from game.words.study import sentences, shape_words

SAID, TILES, SECTIONS, SHAPES, COUNTS = "In words", "Tiles", "Sections", "Order of groups", "Flowers, suits, jokers"
PICTURES = (SAID, TILES, SECTIONS, SHAPES, COUNTS)
BESIDE = 980
"""Units of width from which the hands behind a cell stand beside the picture."""
WIDEST = 1600
WARMEST = 0.75
"""How much of the blue is mixed into the fullest cell; ink stays easy to read on it."""
LARGE = Style(20)
"""Sentences are set large: this is what a first look is for."""
SUITS_NEEDED = ("No suit: no numbers", "One suit", "Two suits", "Three suits")
NAMES_BESIDE = 620
"""Units of width from which a section's name stands beside its cells."""
NAME = 170
Head = tuple[str, tuple[Kind, ...]]
HEADS: tuple[Head, ...] = (
    *((str(rank), tuple(kind for kind in range(27) if kind % 9 == rank - 1)) for rank in RANKS),
    ("W", tuple(WINDS)), ("D", tuple(DRAGONS)), ("F", (FLOWER,)),
)  # fmt: skip
"""Columns of the picture of sections: each number in any suit, winds, dragons, flowers."""
COLUMN_NAMES = {"W": "winds", "D": "dragons", "F": "flowers"}


Counted = tuple[Study, tuple[str, ...]]
"""A study, and what a teacher says of it."""


class StudyScene(Scene):
    """One sheet. The player turns over sentences and pictures; what was pressed stays marked."""

    def __init__(self, routes: Routes, sheet: Sheet, back: Scene, rack: Sequence[Kind] = ()) -> None:
        """`rack` is what the player holds at a table: it stays in sight."""
        super().__init__(routes.look)
        self.routes, self.sheet, self.rack = routes, sheet, tuple(rack)
        self.heat: HeatMap | None = None
        """None until the sheet is counted."""
        self.picture = SAID
        self.asked = ""
        """The name of the cell that was pressed, empty at first."""
        self.title = ""
        self.hands: tuple[Hand, ...] = ()
        """The hands behind it."""
        self._said: tuple[str, ...] = ()
        self._said_of_made = False
        """Whether the sentences know how often the hands come off."""
        self.made = Made(sheet, routes.desk.worker)
        self._beside = True
        """Whether there is room for the hands beside the picture, as last drawn; else they come in a popup."""
        self._back = back
        self._in_background(lambda: _counted(Study.of(sheet)), self._told)

    def _in_background(self, work: Callable[[], Counted], told: Callable[[Counted], None]) -> None:
        """Count on the worker's thread; at once where there is none."""
        worker = self.routes.desk.worker
        if worker is None:
            told(work())
        else:
            worker.submit(lambda _: work(), told)

    def _told(self, counted: Counted) -> None:
        study, self._said = counted
        self.heat = HeatMap(study, self.made, self._cell)
        self.dirty = True

    def _told_of_made(self, counted: Counted) -> None:
        _, self._said = counted
        self.dirty = True

    @property
    def study(self) -> Study:
        """The counts. Raises RuntimeError while they are not there."""
        if self.heat is None:
            raise RuntimeError("the sheet is still being counted")
        return self.heat.study

    def back(self) -> Scene | None:
        """Where the reader came from."""
        return self._back

    def update(self, seconds: float) -> None:
        """The deals in the background may have gone on; once all are played, the sentences are made anew."""
        super().update(seconds)
        if self.made.running:
            self.dirty = True
        weighed = self.heat.weighed if self.heat is not None and self.made.done else None
        if weighed is not None and not self._said_of_made:
            self._said_of_made = True
            self._in_background(lambda: _counted(weighed), self._told_of_made)

    def show(self, picture: str) -> Scene | None:
        """Turns to sentences or to a picture."""
        self.picture, self.asked, self.hands = picture, "", ()
        return None

    def ask(self, name: str, title: str, hands: Sequence[Hand]) -> Scene | None:
        """A cell was pressed: its hands are named."""
        self.asked, self.title, self.hands = name, title, tuple(hands)
        return None if self._beside else BehindPopup(self)

    # Painting.

    def paint(self, ui: Ui) -> None:
        """What to turn to, then the sentences, or the picture and the hands behind the pressed cell."""
        hands = self.sheet.hands
        note = f"{self.sheet.name} {self.sheet.season} · {counted(len(hands), 'hand')}"
        note += f" · {counted(sum(len(hand.variants) for hand in hands), 'way')} to make them"
        rest = Space(ui.header("What the sheet leans on", note, self.back))
        rack_strip(ui, rest, self.rack)
        if self.heat is None:
            ui.paragraph("The sheet is being counted.", rest.rect.topleft, rest.rect.width, LARGE)
            return
        self._beside = rest.rect.width >= ui.u(BESIDE) and self.picture != SAID
        if not self._beside:
            scrolled(ui, "study", rest.rect, self._page, WIDEST, gap=14)
            return
        high = ui.measure(lambda: self._choice(ui, rest.rect.topleft, rest.rect.width)) - rest.rect.top
        self._choice(ui, rest.top(high, ui.u(14)).topleft, rest.rect.width)
        left, right = columns(rest.rect, [1.9, 1], ui.u(14))
        scrolled(ui, f"study {self.picture}", left, self._picture_panel)
        scrolled(ui, f"hands of {self.asked}", right, self._hands_panel)

    def _choice(self, ui: Ui, at: tuple[int, int], width: int) -> int:
        return ui.choice(at, width, "picture", [(one, one) for one in PICTURES], self.picture, self.show)

    def _page(self, page: Column) -> None:
        page.add(lambda at, width: self._choice(page.ui, at, width))
        if self.picture != SAID:
            self._picture_panel(page)
            return
        with page.panel() as inside:
            for place, said in enumerate(self._said):
                inside.gap(12 if place else 0)
                inside.text(said, LARGE, most=1100)
        page.buttons([Press("See it tile by tile", partial(self.show, TILES), "return", main=True)])

    def _picture_panel(self, column: Column) -> None:
        assert self.heat is not None
        with column.panel() as inside:
            {
                TILES: self.heat.fill, SECTIONS: self._sections, SHAPES: self._shapes, COUNTS: self._counts,
            }[self.picture](inside)  # fmt: skip

    def _hands_panel(self, column: Column) -> None:
        with column.panel() as inside:
            inside.heading(self.title if self.asked else "Hands behind it")
            inside.gap(4)
            if self.asked:
                self.behind(inside)
            else:
                inside.text("Press a cell of the picture: the hands that it counts are named here.", BODY, SOFT)

    def behind(self, column: Column) -> None:
        """The hands behind the pressed cell, each a way to its page."""
        column.text(counted(len(self.hands), "hand") if self.hands else "No hand.", SMALL_BOLD, SOFT)
        for hand in self.hands:
            column.gap(6)
            with column.card(f"hand {hand.name}", partial(self._open, hand), says=hand.name, pad=6) as card:
                card.text(hand.name, BODY_BOLD, TEAL)
                card.text(f"{hand.section} · {hand.points} points", SMALL, SOFT)

    def _open(self, hand: Hand) -> Scene | None:
        return HandScene(self.routes, self.sheet, hand, self, self.made, self.rack)

    # Cells.

    def _cell(self, ui: Ui, rect: Rect, name: str, title: str, hands: Sequence[Hand], share: float) -> None:
        """A ground as warm as its share, a target, and a border where it was pressed."""
        fill = LIT if ui.lit(name) else mix(CARD, SKY, WARMEST * share)
        here = self.asked == name
        ui.panel(rect, fill, BLUE if here else EDGE, 6, 3 if here else 1)
        ui.target(name, rect, partial(self.ask, name, title, hands), f"{title}: {counted(len(hands), 'hand')}")

    # Sections by tiles.

    def _sections(self, column: Column) -> None:
        column.text(
            "Across: the numbers in any suit, then winds (W), dragons (D) and flowers (F). Each cell says how many "
            "hands of the section want them.",
            SMALL, SOFT,
        )  # fmt: skip
        column.gap(10)
        beside = column.has(NAMES_BESIDE)
        if beside:
            self._heads(column)
            column.gap(4)
        for place, section in enumerate(self.sheet.sections):
            column.gap(6 if place else 4)
            if beside:
                with column.aside(column.ui.u(NAME), gap=0, down="middle") as (name, cells):
                    name.text(section.name, SMALL_BOLD, most=NAME - 10)
                    self._cells(cells, section, HEADS, named=False)
                continue
            column.text(section.name, SMALL_BOLD)
            half = len(HEADS) if column.has(len(HEADS) * 28) else len(HEADS) // 2
            for start in range(0, len(HEADS), half):
                column.gap(4 if start else 2)
                self._cells(column, section, HEADS[start : start + half], named=True)

    @staticmethod
    def _heads(column: Column) -> None:
        """What the columns of cells stand for."""
        ui = column.ui

        def paint(line: Rect) -> None:
            for (head, _), cell in zip(HEADS, columns(line, [1.0] * len(HEADS), ui.u(4)), strict=True):
                ui.fitted(head, cell, SMALL_BOLD, SOFT, "middle")

        with column.aside(ui.u(NAME), gap=0) as (_, heads):
            heads.put(ui.line(SMALL_BOLD), paint)

    def _cells(self, column: Column, section: Section, heads: Sequence[Head], *, named: bool) -> None:
        """A cell for each of some kinds of tiles: how many hands of the section want them; `named` with their name."""
        ui = column.ui

        def paint(line: Rect) -> None:
            for (head, kinds), cell in zip(heads, columns(line, [1.0] * len(heads), ui.u(4)), strict=True):
                found = self._wanting(section.name, kinds)
                title = f"{section.name}: {COLUMN_NAMES.get(head, f'a {head}')}"
                self._cell(ui, cell, f"{section.name} {head}", title, found, len(found) / max(len(section.hands), 1))
                with ui.within(cell):
                    text = f"{head}: {len(found)}" if named else f"{len(found)}"
                    ui.fitted(text, cell, SMALL if named else BODY_BOLD, INK, "middle")

        column.put(ui.u(TOUCH), paint)

    def _wanting(self, section: str, kinds: Sequence[Kind]) -> tuple[Hand, ...]:
        wanted = {hand.name for kind in kinds for hand in self.study.wanting(kind, section)}
        return tuple(hand for hand in self.sheet.hands if hand.name in wanted)

    # Shapes.

    def _shapes(self, column: Column) -> None:
        column.text(
            "The sizes of groups in the order in which the sheet lays them, commonest first; a bar is as long as "
            "its hands are many.",
            SMALL, SOFT,
        )  # fmt: skip
        rows = [(sentence(shape_words(shape)), self.study.shaped(shape)) for shape, _ in self.study.shapes]
        self._bars(column, "", rows)

    # Flowers, suits, jokers, hold.

    def _counts(self, column: Column) -> None:
        study = self.study
        self._bars(
            column, "Flowers, by the size of their group",
            [(sentence(f"a {size_name(size)}"), study.with_flowers(size)) for size in study.flowers],
        )  # fmt: skip
        self._bars(
            column, "Suits that the numbers may need",
            [(SUITS_NEEDED[number], study.with_suits(number)) for number in study.suits],
        )  # fmt: skip
        self._bars(
            column, "Tiles for which a joker may stand",
            [(f"{number} of 14", study.with_jokers(number)) for number in study.jokers],
        )  # fmt: skip
        hands = self.sheet.hands
        self._bars(
            column, "Held",
            [("Open", tuple(hand for hand in hands if not hand.concealed)),
             ("Concealed", tuple(hand for hand in hands if hand.concealed))],
        )  # fmt: skip

    def _bars(self, column: Column, title: str, rows: Sequence[tuple[str, tuple[Hand, ...]]]) -> None:
        """A bar a row, each to press."""
        if title:
            column.gap(14)
            column.caption(title)
        most = max((len(hands) for _, hands in rows), default=0)
        for place, (words, hands) in enumerate(rows):
            column.gap(6 if place else 8)
            column.add(partial(self._bar, column.ui, f"{title} {words}", words, hands, most))

    def _bar(
        self, ui: Ui, name: str, words: str, hands: Sequence[Hand], most: int, at: tuple[int, int], width: int
    ) -> int:
        pad = ui.u(10)
        room = width - 2 * pad
        rect = Rect(*at, width, max(ui.tall(words, room, BODY) + ui.u(28), ui.u(TOUCH)))
        self._cell(ui, rect, name, words, hands, 0.0)
        with ui.within(rect):
            end = ui.paragraph(words, (rect.left + pad, rect.top + ui.u(5)), room, BODY)
            bar = Rect(rect.left + pad, end + ui.u(3), room - ui.width("00 hands", SMALL_BOLD) - pad, ui.u(10))
            ui.bar(bar, len(hands) / max(most, 1))
            label = (bar.right + pad, bar.centery - ui.line(SMALL_BOLD) // 2)
            ui.text(counted(len(hands), "hand"), label, SMALL_BOLD, SOFT)
        return rect.bottom


def _counted(study: Study) -> Counted:
    """A study with its slow parts worked out, and what a teacher says of it."""
    study.variants, study.tiles  # noqa: B018 - worked out once and kept
    return study, sentences(study)


class BehindPopup(Popup):
    """The hands behind a pressed cell, where there is no room for them beside the picture."""

    def __init__(self, parent: StudyScene) -> None:
        super().__init__(parent)
        self._study = parent

    def paint(self, ui: Ui) -> None:
        """Their names, each a way to its page."""

        def fill(column: Column) -> None:
            column.heading(self._study.title)
            column.gap(4)
            self._study.behind(column)

        pane_of(ui, 620, "behind", fill, [Press("Back", self.back, "escape", main=True)])
