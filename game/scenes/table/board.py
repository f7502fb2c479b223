"""The reach board: the nearest hands as rows of fourteen slots, filled where a tile is held, else outlined.

Pointing at a hand lights the tiles that serve it, pointing at a tile lights the hands it serves; the scene that owns
the board says what is lit.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from engine import words
from engine.advice.advise.answers import Advice
from engine.advice.advise.hands import HandReach, Slot
from engine.tiles import Kind
from game.draw.theme import (
    BLUE,
    BLUE_TEXT,
    BODY,
    BODY_BOLD,
    HEADING,
    INK,
    LIT,
    RULE,
    SMALL,
    SOFT,
    TEAL,
    VERMILION_TEXT,
    Colour,
    Style,
)
from game.draw.tiles import SLOT, SOLID, Face, height_for
from game.play.rehearsing import Held
from game.ui.column import Column, scrolled
from game.ui.layout import Rect, Space, inset
from game.ui.scene import Scene
from game.ui.scrolling import GUTTER
from game.ui.widgets import Ui
from game.words.odds import SURE, before_and_after, change, rough

ROOMY = 800
"""Units of height of a window from which the tiles are as large as they get."""
LARGEST, LARGE = 52, 40
"""Units of width of a tile at most, in a high window and in a low one."""
EDGE_WIDE = 21
"""Units beside the tiles of a row, for its edge and margins."""
HEADING_FROM = 190
"""Units of height from which the board has a heading."""
PAD = 14
SHOWN = 0.01
"""Hands less likely than this don't fill the board."""
FEWEST = 3
"""So many hands are shown however unlikely they are."""
MOST_GROUPS = 7
"""Groups that have their usual space between them; more stand closer."""
GAP, BETWEEN = 0.07, 0.4
"""Space between two tiles and between two groups, in widths of a tile."""
ROW = "hand "
"""Names of the board's targets start with this; the hand's place in the advice follows."""


@dataclass(frozen=True)
class BoardLook:
    """What the board is to show besides the advice."""

    tile: Kind | None = None
    """The tile whose hands are lit."""
    chosen: int | None = None
    """The hand that the player has pressed: it stays lit."""
    turns: bool = False
    """Whether picks are turns of a full table."""
    after: Mapping[str, HandReach] | None = None
    """Each hand by its name once the tiles chosen have gone, where a pass is being chosen."""
    coming: int = 0
    """Tiles that passes still bring."""


def board(
    ui: Ui,
    rect: Rect,
    advice: Advice,
    look: BoardLook,
    press: Callable[[int], Scene | None],
    empty: str = "No hand of this sheet can still be made with the draws to come.",
) -> None:
    """Paint the board in its panel; a row is a target that `press(place)` answers."""
    ui.panel(rect)
    inside = Space(inset(rect, ui.u(PAD), ui.u(8)))
    with ui.within(rect):
        if rect.height > ui.u(HEADING_FROM):
            _heading(ui, inside.top(ui.u(34)), advice, look)
        if not advice.hands:
            ui.fitted(empty, inside.rect, BODY, SOFT, "middle")
            return
    scrolled(ui, "board", inside.rect, lambda page: rows(page, advice, look, press))


def _heading(ui: Ui, rect: Rect, advice: Advice, look: BoardLook) -> None:
    draws = words.count(advice.draws, "draw")
    mean = f", and {'turns' if advice.turns else 'picks'} on average" if any(map(_mostly_made, advice.hands)) else ""
    alone = "alone, undisturbed" if advice.turns else "alone"
    note = f"chance within {draws}{mean}, going for that hand {alone}"
    if look.after is not None:
        note = f"each {alone}, within {advice.draws} tiles: now, then after this pass"
    title = ui.fitted("Within reach", rect, HEADING, across="left")
    room = Rect(title.right + ui.u(16), rect.top, rect.right - title.right - ui.u(38), rect.height)
    if room.width > ui.u(90):
        ui.fitted(note, room, SMALL, SOFT, "right")


def board_tile(ui: Ui, width: int) -> int:
    """Pixels of width of the tiles on a board so wide: as large as a row of fourteen allows, within what is easy to
    read and leaves room for several hands."""
    room = width - 2 * ui.u(PAD) - ui.u(GUTTER) - ui.u(EDGE_WIDE)
    roomy = ui.window.height >= ui.u(ROOMY)
    return max(min(int(room / _tiles_across(MOST_GROUPS)), ui.u(LARGEST if roomy else LARGE)), 8)


def _tiles_across(groups: int) -> float:
    """Tiles' widths that fourteen tiles in so many groups take up."""
    return 14 * (1 + GAP) + (groups - 1) * BETWEEN


def rows(page: Column, advice: Advice, look: BoardLook, press: Callable[[int], Scene | None]) -> None:
    """A row for each hand."""
    ui = page.ui
    tile = board_tile(ui, page.width + 2 * ui.u(PAD) + ui.u(GUTTER))
    for place, reach in in_order(advice):
        mark = _mark(advice, reach)
        page.put(
            _row_height(ui, page.width, tile, reach, look, mark),
            partial(_row, ui, tile=tile, place=place, reach=reach, look=look, press=press, mark=mark),
        )
        page.gap(4)


def _row_height(ui: Ui, width: int, tile: int, reach: HandReach, look: BoardLook, mark: str) -> int:
    width -= ui.u(EDGE_WIDE)
    under = _under(reach, mark)
    high = height_for(tile) + ui.line(BODY_BOLD) + ui.u(16)
    return high if _beside(ui, width, reach, look, under) else high + ui.tall(under, width, SMALL)


def _beside(ui: Ui, width: int, reach: HandReach, look: BoardLook, under: str) -> bool:
    """Whether the words about a hand have room in one line between its name and its figures."""
    words_wide = ui.width(reach.hand.name, BODY_BOLD) + ui.width(under, SMALL) + ui.u(26)
    if words_wide > width:
        return False
    return words_wide + sum(ui.width(says, style) + ui.u(14) for says, style, _ in _figures(reach, look, INK)) <= width


def _figures(reach: HandReach, look: BoardLook, colour: Colour) -> list[tuple[str, Style, Colour]]:
    """Tiles to come and the chance, and where a pass is being chosen the chance after it, else the picks."""
    chance = words.odds(reach.odds)
    if look.after is not None:
        after = look.after.get(reach.hand.name)
        tone = {-1: VERMILION_TEXT, 0: colour, 1: BLUE_TEXT}[change(reach, after)]
        figure = (before_and_after(reach, after, look.coming, turns=look.turns), BODY_BOLD, tone)
        return [(f"{reach.missing} to come", SMALL, INK), figure]
    picks = (
        [(words.picks(round(reach.picks), turns=look.turns), SMALL, SOFT)]
        if reach.missing and _mostly_made(reach)
        else []
    )
    return [(f"{reach.missing} to come", SMALL, INK), *picks, (chance, BODY_BOLD, colour)]


def in_order(advice: Advice) -> list[tuple[int, HandReach]]:
    """The hands to show and their places in the advice: those of the plan first, then by chance; where that is all but
    sure, by picks. Hands under 1% are left out, but for the first few."""
    named = [*advice.plan.names, *([advice.plan.second.hand.name] if advice.plan.second is not None else [])]
    rank = {name: place for place, name in enumerate(named)}
    likely = [
        (place, one)
        for place, one in enumerate(advice.hands)
        if one.odds >= SHOWN or one.hand.name in rank or place < FEWEST
    ]
    return sorted(
        likely,
        key=lambda each: (rank.get(each[1].hand.name, len(rank)), -min(each[1].odds, SURE), each[1].picks),
    )


def _mostly_made(reach: HandReach) -> bool:
    """Whether the mean of its picks says something: it counts games in which the hand isn't made, too."""
    return reach.odds >= 0.5


def _mark(advice: Advice, reach: HandReach) -> str:
    """What the hand is to the plan."""
    if reach.hand.name in advice.plan.names:
        return "Still open" if advice.plan.open else "Go for this"
    second = advice.plan.second
    return "Second string" if second is not None and second.hand.name == reach.hand.name else ""


def _under(reach: HandReach, mark: str) -> str:
    hold = "concealed; " if reach.hand.concealed else ""
    return f"{f'{mark}. ' if mark else ''}{reach.hand.section}: {hold}{reach.hand.wording}"


def _row(
    ui: Ui,
    row: Rect,
    tile: int,
    place: int,
    reach: HandReach,
    look: BoardLook,
    press: Callable[[int], Scene | None],
    mark: str,
) -> None:
    """One hand; out of sight it is a target alone."""
    name = f"{ROW}{place}"
    if not ui.shows(row.inflate(0, row.height)):
        ui.target(name, row, lambda: press(place), reach.hand.name)
        return
    uses = look.tile is not None and any(slot.kind == look.tile for group in reach.slots for slot in group)
    lit = uses or ui.lit(name) or look.chosen == place
    if lit:
        ui.panel(row, LIT, None, 8)
    edge = Rect(row.left, row.top + ui.u(4), max(ui.u(5), 2), row.height - ui.u(8))
    ui.panel(edge, BLUE if lit else TEAL if mark else RULE, None, 2)
    ui.target(name, row, lambda: press(place), f"look at {reach.hand.name}", radius=8)
    inner = Space(inset(Rect(edge.right, row.top, row.right - edge.right, row.height), ui.u(8), ui.u(5)))
    with ui.within(row):
        top = Space(inner.top(ui.line(BODY_BOLD)))
        for says, style, colour in reversed(_figures(reach, look, BLUE_TEXT if lit else INK)):
            ui.fitted(says, top.right(ui.width(says, style) + ui.u(2), ui.u(12)), style, colour, "right")
        under = _under(reach, mark)
        if _beside(ui, row.width - ui.u(EDGE_WIDE), reach, look, under):
            ui.fitted(reach.hand.name, top.left(ui.width(reach.hand.name, BODY_BOLD) + ui.u(2), ui.u(12)), BODY_BOLD)
            ui.fitted(under, top.rect, SMALL, SOFT)
        else:
            ui.fitted(reach.hand.name, top.rect, BODY_BOLD)
            y = ui.paragraph(under, inner.rect.topleft, inner.rect.width, SMALL, SOFT)
            inner.top(y - inner.rect.top, ui.u(2))
        slots(ui, inner.rect, reach.slots, tile, look.tile)


def slots(ui: Ui, rect: Rect, groups: Sequence[Sequence[Slot]], width: int, tile: Kind | None) -> None:
    """The fourteen slots of a hand in its groups, in the vertical middle of the rectangle."""
    gap = max(round(width * GAP), 1)
    between = round(width * BETWEEN * min(1.0, (MOST_GROUPS - 1) / max(len(groups) - 1, 1)))
    x, y = rect.left, rect.top + max((rect.height - height_for(width)) // 2, 0)
    for group in groups:
        for slot in group:
            place = Rect(x, y, width, height_for(width))
            ui.tile(Face(slot.kind, SOLID if slot.held else SLOT, joker=slot.held and slot.joker), place)
            if tile == slot.kind:
                ui.panel(place.inflate(ui.u(3), ui.u(3)), None, BLUE, 5, 2)
            x += width + gap
        x += between


def kinds_of(reaches: Sequence[HandReach], place: int | None) -> frozenset[Kind]:
    """The kinds that a row's hand is made of; none for no row."""
    if place is None or place >= len(reaches):
        return frozenset()
    return frozenset(slot.kind for group in reaches[place].slots for slot in group)


def row_of_slots(page: Column, groups: Sequence[Sequence[Slot]], most: float) -> None:
    """The fourteen slots of a hand across a column, their tiles at most so many units wide."""
    width = max(min(int(page.width / _tiles_across(MOST_GROUPS + 1)), page.ui.u(most)), 8)
    page.put(height_for(width), lambda rect: slots(page.ui, rect, groups, width, None))


def held_rows(page: Column, what: Held, most: int = 2) -> None:
    """A line's rack, what it is worth, and its nearest hands."""
    ui = page.ui
    gap = ui.u(3)
    width = max(min((page.width - 13 * gap) // 14, ui.u(40)), 8)
    faces = [Face(kind) for kind in sorted(what.rack)]
    page.put(height_for(width), lambda rect: ui.tiles(faces, rect.topleft, width, gap))
    page.gap(8)
    page.text(words.sentence(rough(what.advice.chance.share)), BODY_BOLD)
    page.gap(4)
    for reach in what.advice.hands[:most]:
        page.text(f"{reach.hand.name}: {words.count(reach.missing, 'tile')} to come, {words.odds(reach.odds)}")
        page.gap(2)
        row_of_slots(page, reach.slots, 30)
        page.gap(8)
