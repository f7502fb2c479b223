"""Why a tile is worth keeping: the sentence first, then the draws that would help most."""

from __future__ import annotations

from engine.advice.answer import Advice, Help
from engine.tiles import Kind, name
from game import words
from game.draw.theme import BLUE, BODY, BODY_BOLD, HEADING, RULE, SMALL, SMALL_BOLD, SOFT
from game.draw.tiles import Face, height_for
from game.ui.layout import Rect, Space, inset
from game.ui.widgets import Ui

MOST_HELPS = 5
HELP_ROW = 44
"""Units of height."""


def reasons(ui: Ui, rect: Rect, advice: Advice, tile: Kind | None) -> None:
    """The reasons in a panel of their own, scrolled if they don't fit."""
    ui.panel(rect)
    inner = inset(rect, ui.u(18), ui.u(10))
    with ui.within(rect):
        ui.scroll("reasons", inner, lambda area: reasons_text(ui, area, advice, tile))


def reasons_text(ui: Ui, area: Rect, advice: Advice, tile: Kind | None) -> int:
    """The reasons from a point down; gives the y under them."""
    kind = tile if tile is not None and any(keep.kind == tile for keep in advice.keeps) else advice.let_go
    y = area.top
    if kind is not None:
        keep = next(keep for keep in advice.keeps if keep.kind == kind)
        title = f"Let go the {name(kind)}" if kind == advice.let_go else f"Why keep the {name(kind)}"
        y = ui.paragraph(title, (area.left, y), area.width, HEADING) + ui.u(6)
        y = ui.paragraph(keep.because, (area.left, y), area.width, BODY) + ui.u(16)
    y = _worth(ui, area, y, advice)
    return _helps(ui, area, y, advice)


def _worth(ui: Ui, area: Rect, y: int, advice: Advice) -> int:
    worth = f"Your rack is worth {words.odds(advice.worth)}"
    y = ui.paragraph(worth, (area.left, y), area.width, BODY_BOLD)
    note = "the chance, averaged over the draws to come, that some hand is made by then. Costs are points of it."
    return ui.paragraph(note, (area.left, y), area.width, SMALL, SOFT) + ui.u(16)


def _helps(ui: Ui, area: Rect, y: int, advice: Advice) -> int:
    if not advice.helps:
        return y
    y = ui.paragraph("Next draws that help most", (area.left, y), area.width, SMALL_BOLD, SOFT) + ui.u(6)
    best = max(one.worth for one in advice.helps)
    for one in advice.helps[:MOST_HELPS]:
        y = _help(ui, Rect(area.left, y, area.width, ui.u(HELP_ROW)), one, advice.worth, best) + ui.u(4)
    return y


def _help(ui: Ui, rect: Rect, one: Help, before: float, best: float) -> int:
    high = rect.height
    tile = max(int(high / 1.38), 8)
    space = Space(rect)
    place = space.left(tile, ui.u(10))
    ui.tile(Face(one.kind), Rect(place.left, rect.top + (high - height_for(tile)) // 2, tile, height_for(tile)))
    change = f"{words.odds(before)} to {words.odds(one.worth)}"
    wide = ui.width(change, SMALL_BOLD) + ui.u(4)
    ui.fitted(change, space.right(wide, ui.u(8)), SMALL_BOLD, across="right")
    unseen = f"{one.unseen} unseen"
    ui.fitted(unseen, space.left(min(ui.width(unseen, SMALL) + ui.u(6), space.rect.width), ui.u(8)), SMALL, SOFT)
    bar = space.rect
    if bar.width > ui.u(40):
        share = (one.worth - before) / (best - before) if best > before else 0.0
        ui.bar(Rect(bar.left, bar.centery - ui.u(5), bar.width, ui.u(10)), max(share, 0.0), BLUE, RULE)
    return rect.bottom
