"""Finding hands of a sheet: by tile, size of a group, flowers, hold, points, or by what is in the rack."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from engine.sheet.groups import SIZES
from engine.sheet.study.finding import Finding
from engine.tiles import JOKER, NAMES, Kind
from engine.words import counted
from game.draw.theme import LIT, TEAL
from game.draw.tiles import Face, height_for
from game.scenes.sheet.hands import HandList
from game.ui.buttons import Press
from game.ui.column import Column
from game.ui.layout import flow
from game.ui.popups import pane_of
from game.ui.scene import Popup, Scene
from game.ui.widgets import Ui

TILE = 46
"""Units of width of a tile to choose."""


class FindPopup(Popup):
    """What hands are looked for. Every change counts at once; the button says how many are found."""

    def __init__(self, parent: Scene, hands: HandList) -> None:
        super().__init__(parent)
        self._hands = hands

    def _set(self, finding: Finding) -> None:
        self._hands.finding = finding

    def paint(self, ui: Ui) -> None:
        """The tiles, then the other ways to choose."""
        found = len(self._hands.found)
        show = Press(f"Show {counted(found, 'hand')}", self.back, "return", main=True, enabled=found > 0)
        presses = [show, Press("Look for all again", self._reset), Press("Back", self.back, "escape")]
        pane_of(ui, 820, "find", self._fill, presses)

    def _fill(self, column: Column) -> None:
        finding = self._hands.finding
        column.heading("Find hands")
        column.gap(8)
        column.caption("That need this tile")
        column.add(lambda at, width: self._tiles(column.ui, at, width))
        self._choice(
            column, "With a group of", "size",
            [(None, "any size"), *((size, name) for size, name in enumerate(SIZES, 1))], finding.size,
        )  # fmt: skip
        self._choice(
            column, "Flowers", "flowers", [(None, "with or without"), (True, "with"), (False, "without")],
            finding.flowers,
        )  # fmt: skip
        self._choice(
            column, "Held", "concealed", [(None, "either way"), (False, "open"), (True, "concealed")],
            finding.concealed,
        )  # fmt: skip
        points = sorted({hand.points for hand in self._hands.sheet.hands})
        few = points if len(points) <= 4 else [points[len(points) * part // 4] for part in (1, 2, 3)]
        self._choice(
            column, "Points", "least_points", [(0, "any"), *((least, f"{least} or more") for least in few)],
            finding.least_points,
        )  # fmt: skip
        if self._hands.rack:
            column.gap(12)
            column.add(
                lambda at, width: column.ui.check(
                    at, width, "Put the hands that my rack serves best first", self._hands.by_rack, self._by_rack
                )
            )

    def _choice(self, column: Column, title: str, field: str, options: list[tuple[object, str]], value: object) -> None:
        column.gap(12)
        column.caption(title)

        def pick(chosen: object) -> Scene | None:
            self._set(replace(self._hands.finding, **{field: chosen}))  # type: ignore[arg-type]
            return None

        column.add(lambda at, width: column.ui.choice(at, width, title, options, value, pick))

    def _tiles(self, ui: Ui, at: tuple[int, int], width: int) -> int:
        wide = ui.u(TILE)
        gap = (ui.u(6), ui.u(6))
        bottom = at[1]
        for kind, rect in zip(range(JOKER), flow([(wide, height_for(wide))] * JOKER, at, width, gap), strict=True):
            name = f"tile {NAMES[kind]}"
            here = self._hands.finding.kind == kind
            if here or ui.lit(name):
                ui.panel(rect.inflate(gap[0], gap[1]), TEAL if here else LIT, None, 6)
            ui.tile(Face(kind), rect)
            ui.target(name, rect, partial(self._kind, kind), f"hands that need the {NAMES[kind]}", radius=6)
            bottom = max(bottom, rect.bottom)
        return bottom

    def _kind(self, kind: Kind) -> Scene | None:
        """The tile is looked for; a second press leaves it open again."""
        now = self._hands.finding.kind
        self._set(replace(self._hands.finding, kind=None if now == kind else kind))
        return None

    def _by_rack(self, wanted: bool) -> Scene | None:
        self._hands.by_rack = wanted
        return None

    def _reset(self) -> Scene | None:
        self._set(Finding())
        self._hands.by_rack = False
        return None
