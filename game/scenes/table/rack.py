"""The rack on its ledge: tiles as large as the window lets them be, and under each what letting it go costs."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import partial

from engine import words
from engine.advice.advise.answers import Advice
from engine.tiles import Kind, name
from game.draw.theme import (
    BLUE,
    CLOTH,
    INK,
    LEAST_TEXT,
    ORANGE,
    SMALL,
    SMALL_BOLD,
    SOFT,
    VERMILION_TEXT,
    WOOD,
    WOOD_DEEP,
    WOOD_LIT,
    Style,
)
from game.draw.tiles import Face, height_for
from game.ui.layout import Rect
from game.ui.scene import Scene
from game.ui.widgets import Ui

TILE = "tile "
"""Names of the rack's targets start with this; the tile's place from the left follows."""
LIFT = 10
LET_GO = ("let go", "go")
"""What stands under the tile that is best let go, the longer one where there is room."""
UNIT, UNIT_HIGH = Style(LEAST_TEXT), 15
"""How the unit is set under a cost, and its height in units."""
ROOMY_FROM = 450
"""Units of the window's height from which the rack has air about it."""


@dataclass(frozen=True)
class RackLook:
    """How the rack is shown just now."""

    chosen: int | None = None
    """The tile that is chosen, from the left."""
    lit: frozenset[Kind] = frozenset()
    """Kinds that serve the hand pointed at."""
    new: frozenset[int] = field(default_factory=frozenset)
    """Places of tiles that have just come."""
    advice: Advice | None = None
    """Shown as costs under the tiles, if given."""
    let_go: Kind | None = None
    """The tile that is best let go, marked where costs are shown."""
    gives: Kind | None = None
    """The tile that is best given for a joker first: it is marked instead, and no costs are shown."""
    gone: frozenset[int] = field(default_factory=frozenset)
    """Looking back: places of tiles that went from here."""
    picked: frozenset[int] = field(default_factory=frozenset)
    """Places of tiles that are chosen to go in a pass."""


def rack_height(ui: Ui, width: int, tiles: int) -> int:
    """Pixels of height that the rack takes up in a strip of this width, its costs included."""
    return height_for(tile_width(ui, width, tiles)) + above(ui) + ui.u(3) + ledge_height(ui) + ui.line(SMALL) + ui.u(4)


def ledge_height(ui: Ui) -> int:
    """Pixels of the wooden ledge."""
    return ui.u(18 if _roomy(ui) else 8)


def _roomy(ui: Ui) -> bool:
    return ui.window.height >= ui.u(ROOMY_FROM)


def above(ui: Ui) -> int:
    """Pixels over the tiles, where a chosen one rises to and the mark of a new one is."""
    return ui.u(LIFT + 10 if _roomy(ui) else LIFT // 2 + 5)


def tile_width(ui: Ui, width: int, tiles: int, least: int = 14) -> int:
    """Pixels of a tile's width: as large as fits for `least` tiles or more, but never over a sixth of the window's
    height."""
    room = width - ui.u(24)
    by_width = int(room / (max(tiles, least) * 1.09))
    by_height = int(ui.window.height * 0.165 / 1.38)
    return max(min(by_width, by_height), 10)


def rack(
    ui: Ui,
    rect: Rect,
    kinds: Sequence[Kind],
    look: RackLook,
    press: Callable[[int], Scene | None] | None,
    least: int = 14,
) -> None:
    """Paint the rack at the bottom of the rectangle; a tile is a target that `press(place)` answers, or none for None.
    There is room for `least` tiles or more: groups that lie exposed leave fewer in the rack."""
    width = tile_width(ui, rect.width, len(kinds), least)
    gap = round(width * 0.09)
    high = height_for(width)
    total = len(kinds) * width + (len(kinds) - 1) * gap
    left = rect.centerx - total // 2
    top = rect.top + above(ui)
    lift = ui.u(LIFT if _roomy(ui) else LIFT // 2)
    ledge = Rect(rect.left, top + high + ui.u(3), rect.width, ledge_height(ui))
    ui.look.shapes.ledge(ui.surface, ledge, WOOD_LIT, WOOD, WOOD_DEEP)
    for place, kind in enumerate(kinds):
        target = f"{TILE}{place}"
        picked = place in look.picked
        raised = look.chosen == place or ui.lit(target) or picked
        up = ui.glide(target, 1.0 if raised else 0.0)
        spot = Rect(left + place * (width + gap), top - round(up * lift), width, high)
        ui.tile(Face(kind), spot)
        if picked:
            ui.panel(spot.inflate(ui.u(6), ui.u(6)), None, VERMILION_TEXT, 9, 4)
        elif kind in look.lit or look.chosen == place:
            ui.panel(spot.inflate(ui.u(5), ui.u(5)), None, BLUE, 9, 3)
        if picked or place in look.gone:
            ui.mark("up", (spot.centerx, ledge.centery), 14, VERMILION_TEXT)
        if place in look.new:
            mark = Rect(0, 0, width // 3, max(ui.u(5), 3))
            mark.midbottom = (spot.centerx, spot.top - ui.u(4))
            ui.panel(mark, ORANGE, None, 3)
        if press is not None:
            ui.target(target, spot, partial(press, place), f"choose the {name(kind)}", radius=9, yields=True)
    if look.advice is not None and look.advice.keeps and not look.advice.finished:
        _costs(ui, [Rect(left + place * (width + gap), ledge.bottom + ui.u(2), width, ui.line(SMALL))
                    for place in range(len(kinds))], kinds, look, look.advice)  # fmt: skip


def _costs(ui: Ui, rects: Sequence[Rect], kinds: Sequence[Kind], look: RackLook, advice: Advice) -> None:
    """Picks that letting each tile go costs; the one to let go by name. In little room all are shortened."""
    if look.gives is not None:
        for rect in (rect for rect, kind in zip(rects, kinds, strict=True) if kind == look.gives):
            ui.fitted("give", rect, SMALL_BOLD, VERMILION_TEXT, "middle")
        return
    costs = {keep.kind: keep.picks for keep in advice.keeps}
    room = rects[0].width
    widest = max(ui.width(_cost(cost, tight=False), SMALL_BOLD) for cost in costs.values())
    let_go = next(text for text in LET_GO if ui.width(text, SMALL_BOLD) <= room or text == LET_GO[-1])
    unit = " turns" if advice.turns else " picks"
    for rect, kind in zip(rects, kinds, strict=True):
        if kind == look.let_go:
            ui.fitted(let_go, rect, SMALL_BOLD, VERMILION_TEXT, "middle")
            continue
        cost = costs.get(kind, 0.0)
        style = SMALL_BOLD if kind in look.lit else SMALL
        said = _cost(cost, widest > room - ui.u(3))
        if unit and cost > 0:  # said once, on the first cost, or under it where there is no room for both
            if ui.width(said + unit, style) <= room + ui.u(6):
                said += unit
            else:
                under = Rect(rect.left - ui.u(4), rect.bottom - ui.u(3), rect.width + ui.u(8), ui.u(UNIT_HIGH))
                ui.fitted(unit.strip(), under, UNIT, SOFT, "middle", "top")
            unit = ""
        ui.fitted(said, rect, style, INK if cost else SOFT, "middle")


def _cost(cost: float, tight: bool) -> str:
    """`+3.9`: so many picks later; tight `3.9`."""
    if cost <= 0:
        return "0"
    if cost < words.TRIFLE:
        return "<0.1"
    return words.picks_figure(cost) if tight else "+" + words.picks_figure(cost)


def cloth(ui: Ui, rect: Rect) -> None:
    """The strip of table that the rack stands on, across the whole window."""
    ui.panel(Rect(0, rect.top, ui.window.width, ui.window.height - rect.top), CLOTH, None, 0)
