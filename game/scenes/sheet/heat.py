"""The heat map of a study: every tile with a figure under it, its ground the fuller, the more it is wanted."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from engine.sheet.model import Hand
from engine.sheet.study.counts import Study
from engine.tiles import DRAGONS, FLOWER, NAMES, WINDS, Kind, rank_of
from game.draw.theme import BODY_BOLD, INK, SMALL, SOFT
from game.draw.tiles import Face, height_for
from game.scenes.sheet.made import Made
from game.ui.buttons import Press
from game.ui.column import Column
from game.ui.layout import Rect, flow
from game.ui.scene import Scene
from game.ui.widgets import Ui

HANDS, WAYS, GROUPS, MADE = "hands", "ways to make them", "groups in those", "hands that come off"
MEASURES = (HANDS, WAYS, GROUPS, MADE)
"""What the figures count."""
GAP = 6
"""Units between cells."""
LEAST_CELL = 46
"""Units of width of a cell; where nine don't fit, five stand in a row."""
ROWS: tuple[tuple[Kind, ...], ...] = (
    tuple(range(9)), tuple(range(9, 18)), tuple(range(18, 27)), (*WINDS, *DRAGONS, FLOWER),
)  # fmt: skip
"""The kinds, row by row."""

Cell = Callable[[Ui, Rect, str, str, Sequence[Hand], float], None]
"""Draws a cell to press: its place, its name, the title over its hands, the hands, and how full its ground is."""


class HeatMap:
    """The figures of a study by tile, by one of four measures."""

    def __init__(self, study: Study, made: Made, cell: Cell) -> None:
        self.study, self.made = study, made
        self.measure = HANDS
        self._cell = cell
        self._weights: tuple[int, Study] | None = None
        """The study by how often hands come off, and on how many deals that was counted."""

    def fill(self, column: Column) -> None:
        ui = column.ui
        options = [(one, one) for one in MEASURES]
        column.caption("Count for each tile the")
        column.add(lambda at, width: ui.choice(at, width, "measure", options, self.measure, self._count_by))
        column.gap(8)
        column.text(
            f"{self._explained} The fuller the ground, the more: numbers beside numbers, the rest beside the rest.",
            SMALL, SOFT,
        )  # fmt: skip
        if self.measure == MADE and not self.made.done:
            column.gap(8)
            if not self.made.running:
                column.buttons([Press("Play deals to see", self._play, "o")])
            else:
                column.text("More deals are being played.", SMALL, SOFT)
        column.gap(10)
        self._tiles(column)

    @property
    def _explained(self) -> str:
        """What the figures of the heat map are."""
        if self.measure == MADE:
            tally = self.made.tally
            played = f" Counted on {tally.whole.deals} practice deals." if tally is not None else ""
            return f"Of 100 hands that come off, so many need the tile.{played}"
        return {
            HANDS: "So many hands want the tile, in one way or another.",
            WAYS: "Of all the ways to make the hands, so many need the tile.",
            GROUPS: "So many groups of the tile stand in those ways.",
        }[self.measure]

    def _count_by(self, measure: str) -> Scene | None:
        self.measure = measure
        return None

    def _play(self) -> Scene | None:
        self.made.start()
        return None

    def figure(self, kind: Kind) -> float:
        wanted = self.study.tiles[kind]
        if self.measure == MADE:
            return 100 * (self.weighed.tiles[kind].weighed or 0.0) if self.weighed is not None else 0.0
        return {HANDS: wanted.hands, WAYS: wanted.variants, GROUPS: wanted.groups}[self.measure]

    @property
    def weighed(self) -> Study | None:
        """The study by how often hands come off; None before any has."""
        tally = self.made.tally
        if tally is None or not tally.whole.made:
            return None
        if self._weights is None or self._weights[0] != tally.whole.deals:
            weights = {count.name: float(count.made) for count in tally.hands}
            self._weights = tally.whole.deals, Study(self.study.sheet, self.study.counts, weights)
        return self._weights[1]

    def _share(self, kind: Kind) -> float:
        """How far a tile stands between those of its sort (numbers, or all else) that have least and most."""
        sort = [self.figure(one) for one in range(FLOWER + 1) if (rank_of(one) is None) == (rank_of(kind) is None)]
        least, most = min(sort), max(sort)
        return (self.figure(kind) - least) / (most - least) if most > least else 0.0

    def _tiles(self, column: Column) -> None:
        """A cell for every kind, nine in a line, or five where nine don't fit."""
        ui = column.ui
        gap = ui.u(GAP)
        across = 9 if column.width >= ui.u(9 * LEAST_CELL) + 8 * gap else 5
        wide = min((column.width - gap * (across - 1)) // across, ui.u(96))
        high = height_for(self._tile_of(ui, wide)) + ui.line(BODY_BOLD) + ui.u(12)
        for kinds in ROWS:
            for start in range(0, len(kinds), across):
                column.put(high, partial(self._line, ui, kinds[start : start + across], wide))
                column.gap(GAP)
        column.forget_gap()

    def _line(self, ui: Ui, kinds: Sequence[Kind], wide: int, line: Rect) -> None:
        cells = flow([(wide, line.height)] * len(kinds), line.topleft, line.width, (ui.u(GAP), 0))
        for kind, cell in zip(kinds, cells, strict=True):
            self._tile_cell(ui, cell, kind, self._share(kind))

    @staticmethod
    def _tile_of(ui: Ui, wide: int) -> int:
        """The width of the tile in a cell so wide."""
        return min(wide - ui.u(12), ui.u(56))

    def _tile_cell(self, ui: Ui, rect: Rect, kind: Kind, share: float) -> None:
        tile = self._tile_of(ui, rect.width)
        title = f"Hands that want the {NAMES[kind]}"
        self._cell(ui, rect, f"tile {NAMES[kind]}", title, self.study.wanting(kind), share)
        ui.tile(Face(kind), Rect(rect.centerx - tile // 2, rect.top + ui.u(6), tile, height_for(tile)))
        with ui.within(rect):
            line = Rect(rect.left, rect.bottom - ui.line(BODY_BOLD) - ui.u(3), rect.width, ui.line(BODY_BOLD))
            ui.fitted(f"{self.figure(kind):,.0f}", line, BODY_BOLD, INK, "middle")
