"""Why a tile is worth keeping: the sentence first, then the draws that would help most."""

from __future__ import annotations

from engine import words
from engine.advice.advise.answers import Advice, Help, Keep
from engine.advice.rollout.race import Outlook
from engine.tiles import Kind, name
from game.draw.theme import BLUE, BODY, BODY_BOLD, HEADING, RULE, SMALL, SMALL_BOLD, SOFT
from game.draw.tiles import Face, height_for
from game.ui.layout import Rect, Space, inset
from game.ui.widgets import Ui
from game.words.odds import draws_to_come, outlook_note, outlook_words, tried_words

TRYING = "Reckoned so far; trying the close choices out…"
MOST_HELPS = 5
MOST_CLOSE = 4
HELP_ROW = 44
TRIED_ROW = 38
"""Units of height of both."""


def reasons(ui: Ui, rect: Rect, advice: Advice, tile: Kind | None, trying: bool = False) -> None:
    """The reasons in a panel of their own, scrolled if they don't fit."""
    ui.panel(rect)
    inner = inset(rect, ui.u(18), ui.u(10))
    with ui.within(rect):
        ui.scroll("reasons", inner, lambda area: reasons_text(ui, area, advice, tile, trying))


def reasons_text(
    ui: Ui, area: Rect, advice: Advice, tile: Kind | None, trying: bool = False, alone: bool = True
) -> int:
    """The reasons from a point down; gives the y under them. `trying`: better figures are on their way;
    `alone`: nobody else plays."""
    kind = tile if tile is not None and any(keep.kind == tile for keep in advice.keeps) else advice.let_go
    y = area.top
    if kind is not None:
        keep = next(keep for keep in advice.keeps if keep.kind == kind)
        title = f"Let go the {name(kind)}" if kind == advice.let_go else f"Why keep the {name(kind)}"
        y = ui.paragraph(title, (area.left, y), area.width, HEADING) + ui.u(6)
        y = ui.paragraph(keep.because, (area.left, y), area.width, BODY) + ui.u(16)
    y = _outlook(ui, area, y, advice, trying, alone)
    y = _close(ui, area, y, advice)
    return _helps(ui, area, y, advice)


def _outlook(ui: Ui, area: Rect, y: int, advice: Advice, trying: bool, alone: bool) -> int:
    """What the rack is worth, and how likely a hand is once that was tried out."""
    if advice.outlook is not None:
        y = outlook_text(ui, area, y, advice.outlook, draws_to_come(advice.draws), alone) + ui.u(8)
    worth = f"Your rack is worth {words.odds(advice.worth)}"
    y = ui.paragraph(worth, (area.left, y), area.width, BODY_BOLD)
    note = "the chance, averaged over the draws to come, that some hand is made by then. Costs are points of it."
    if advice.outlook is None:
        note = f"reckoned: {note}"
    y = ui.paragraph(note, (area.left, y), area.width, SMALL, SOFT)
    if advice.outlook is None and trying:
        y = ui.paragraph(TRYING, (area.left, y), area.width, SMALL, SOFT)
    return y + ui.u(16)


def outlook_text(ui: Ui, area: Rect, y: int, outlook: Outlook, within: str, alone: bool = True) -> int:
    """How likely a hand is, and how that is known."""
    y = ui.paragraph(outlook_words(outlook, within, alone=alone), (area.left, y), area.width, BODY_BOLD)
    return ui.paragraph(outlook_note(outlook), (area.left, y), area.width, SMALL, SOFT)


def _close(ui: Ui, area: Rect, y: int, advice: Advice) -> int:
    """How the other choices that were tried out stand to the advised one, the closest first."""
    tried = [(keep.tried.behind, keep) for keep in advice.keeps if keep.tried and keep.kind != advice.let_go]
    if not tried or advice.outlook is None or advice.outlook.exact:
        return y
    y = ui.paragraph("Other choices, tried out", (area.left, y), area.width, SMALL_BOLD, SOFT) + ui.u(6)
    for _, keep in sorted(tried, key=lambda one: one[0])[:MOST_CLOSE]:
        y = _tried(ui, Rect(area.left, y, area.width, ui.u(TRIED_ROW)), keep) + ui.u(4)
    return y + ui.u(12)


def _tried(ui: Ui, rect: Rect, keep: Keep) -> int:
    tile = max(int(rect.height / 1.38), 8)
    space = Space(rect)
    place = space.left(tile, ui.u(10))
    ui.tile(Face(keep.kind), Rect(place.left, rect.top + (rect.height - height_for(tile)) // 2, tile, height_for(tile)))
    ui.fitted(tried_words(keep), space.rect, SMALL)
    return rect.bottom


def _helps(ui: Ui, area: Rect, y: int, advice: Advice) -> int:
    if not advice.helps:
        return y
    y = ui.paragraph("Next draws that help most, as reckoned", (area.left, y), area.width, SMALL_BOLD, SOFT) + ui.u(6)
    best = max(one.worth for one in advice.helps)
    for one in advice.helps[:MOST_HELPS]:
        y = _help(ui, Rect(area.left, y, area.width, ui.u(HELP_ROW)), one, advice.estimated, best) + ui.u(4)
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
