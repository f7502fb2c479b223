"""The reach board: the nearest hands as rows of fourteen slots, filled where a tile is held, else outlined.

Pointing at a hand lights the tiles that serve it, pointing at a tile lights the hands it serves; the scene that owns
the board says what is lit.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

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
from game.ui.layout import Rect, Space, inset
from game.ui.scene import Scene
from game.ui.scrolling import GUTTER
from game.ui.widgets import Ui
from game.words.odds import rough

ODDS = Style(22, bold=True)
WIDE_ROW = 760
"""Units of width from which a row has its name beside the tiles, not above them."""
HEADING_FROM = 190
"""Units of height from which the board has a heading."""
PAD = 14
SHOWN = 0.01
"""Hands less likely than this don't fill the board."""
ALL_BUT_SURE = 0.995
FEWEST = 3
"""So many hands are shown however unlikely they are."""
MOST_GROUPS = 7
"""Groups that have their usual space between them; more stand closer."""
GAP, BETWEEN = 0.07, 0.4
"""Space between two tiles and between two groups, in widths of a tile."""
ODDS_WIDE, MISSING_WIDE = 82, 60
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
    after: Mapping[str, float] | None = None
    """Odds of each hand by its name once the tiles chosen have gone, where a pass is being chosen."""


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
    ui.scroll("board", inside.rect, lambda area: rows(ui, area, advice, look, press))


def _heading(ui: Ui, rect: Rect, advice: Advice, look: BoardLook) -> None:
    draws = words.count(advice.draws, "draw")
    mean = f", and {'turns' if advice.turns else 'picks'} on average" if any(map(_mostly_made, advice.hands)) else ""
    note = f"chance within {draws}{mean}, going for that hand alone"
    if look.after is not None:
        note = f"chance with {advice.draws} tiles to come; below it, after this pass"
    title = ui.fitted("Within reach", rect, HEADING, across="left")
    room = Rect(title.right + ui.u(16), rect.top, rect.right - title.right - ui.u(38), rect.height)
    if room.width > ui.u(90):
        ui.fitted(note, room, SMALL, SOFT, "right")


@dataclass(frozen=True)
class _Columns:
    """How wide things are, alike in all rows; all in pixels."""

    tile: int
    label: int | None
    """The name and its wording beside the tiles; None: they stand above them."""


def _columns(ui: Ui, width: int) -> _Columns:
    """As large as fits beside one another: tiles in groups, figures, and what is left for the words."""
    wide = width >= ui.u(WIDE_ROW)
    room = width * 0.58 if wide else width - ui.u(20)
    tile = max(min(int(room / _tiles_across(MOST_GROUPS)), ui.u(34 if wide else 38)), 8)
    if not wide:
        return _Columns(tile, None)
    return _Columns(tile, width - round(tile * _tiles_across(MOST_GROUPS)) - ui.u(ODDS_WIDE + MISSING_WIDE + 44))


def board_tile(ui: Ui, width: int) -> int:
    """Pixels of width of the tiles on a board so wide."""
    return _columns(ui, width - 2 * ui.u(PAD) - ui.u(GUTTER)).tile


def _tiles_across(groups: int) -> float:
    """Tiles' widths that fourteen tiles in so many groups take up."""
    return 14 * (1 + GAP) + (groups - 1) * BETWEEN


def rows(ui: Ui, area: Rect, advice: Advice, look: BoardLook, press: Callable[[int], Scene | None]) -> int:
    """A row for each hand, from a point down; gives the y under them."""
    columns = _columns(ui, area.width)
    y = area.top
    for place, reach in in_order(advice):
        mark = _mark(advice, reach)
        high = _row_height(ui, area, columns, reach, mark)
        row = Rect(area.left, y, area.width, high)
        if ui.shows(row.inflate(0, high)):
            _row(ui, row, columns, place, reach, look, press, mark)
        else:
            ui.target(f"{ROW}{place}", row, lambda place=place: press(place), reach.hand.name)  # type: ignore[misc]
        y += high + ui.u(4)
    return y


def _row_height(ui: Ui, area: Rect, columns: _Columns, reach: HandReach, mark: str) -> int:
    tiles = height_for(columns.tile)
    if columns.label is not None:
        text = ui.tall(reach.hand.name, columns.label, BODY_BOLD) + ui.tall(_under(reach, mark), columns.label, SMALL)
        return max(tiles, text) + ui.u(12)
    return tiles + ui.line(BODY_BOLD) + ui.tall(_under(reach, mark), area.width - ui.u(20), SMALL) + ui.u(18)


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
        key=lambda each: (rank.get(each[1].hand.name, len(rank)), -min(each[1].odds, ALL_BUT_SURE), each[1].picks),
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
    columns: _Columns,
    place: int,
    reach: HandReach,
    look: BoardLook,
    press: Callable[[int], Scene | None],
    mark: str,
) -> None:
    name = f"{ROW}{place}"
    uses = look.tile is not None and any(slot.kind == look.tile for group in reach.slots for slot in group)
    lit = uses or ui.lit(name) or look.chosen == place
    if lit:
        ui.panel(row, LIT, None, 8)
    edge = Rect(row.left, row.top + ui.u(4), max(ui.u(5), 2), row.height - ui.u(8))
    ui.panel(edge, BLUE if lit else TEAL if mark else RULE, None, 2)
    ui.target(name, row, lambda: press(place), f"look at {reach.hand.name}", radius=8)
    inner = Space(inset(Rect(edge.right, row.top, row.right - edge.right, row.height), ui.u(8), ui.u(5)))
    colour = BLUE_TEXT if lit else INK
    with ui.within(row):
        if columns.label is not None:
            odds = inner.right(ui.u(ODDS_WIDE))
            missing = inner.right(ui.u(MISSING_WIDE), ui.u(4))
            label = inner.left(columns.label, ui.u(10))
            high = ui.tall(reach.hand.name, label.width, BODY_BOLD) + ui.tall(_under(reach, mark), label.width, SMALL)
            y = label.top + max((label.height - high) // 2, 0)
            y = ui.paragraph(reach.hand.name, (label.left, y), label.width, BODY_BOLD)
            ui.paragraph(_under(reach, mark), (label.left, y), label.width, SMALL, SOFT)
            _missing(ui, missing, reach)
            _odds(ui, odds, reach, look, colour)
        else:
            top = inner.top(ui.line(BODY_BOLD))
            figures = f"{reach.missing} to come"
            odds_text = words.odds(reach.odds)
            if look.after is not None:
                odds_text += f", then {words.odds(look.after.get(reach.hand.name, 0.0))}"
            odds_wide = ui.width(odds_text, BODY_BOLD) + ui.u(2)
            figures_wide = ui.width(figures, SMALL) + ui.u(2)
            ui.fitted(
                odds_text, Rect(top.right - odds_wide, top.top, odds_wide, top.height), BODY_BOLD, colour, "right"
            )
            ui.fitted(
                figures,
                Rect(top.right - odds_wide - figures_wide - ui.u(14), top.top, figures_wide, top.height),
                SMALL,
                INK,
                "right",
            )
            room = top.width - odds_wide - figures_wide - ui.u(28)
            ui.fitted(reach.hand.name, Rect(top.left, top.top, room, top.height), BODY_BOLD)
            y = ui.paragraph(_under(reach, mark), inner.rect.topleft, inner.rect.width, SMALL, SOFT)
            inner.top(y - inner.rect.top, ui.u(4))
        slots(ui, inner.rect, reach.slots, columns.tile, look.tile)


def _odds(ui: Ui, rect: Rect, reach: HandReach, look: BoardLook, colour: Colour) -> None:
    """The odds now and, where a pass is being chosen, after it."""
    if look.after is None:
        line, under = ui.line(ODDS), ui.line(SMALL)
        top = rect.top + max((rect.height - line - under) // 2, 0)
        ui.fitted(words.odds(reach.odds), Rect(rect.left, top, rect.width, line), ODDS, colour, "right")
        if reach.missing and _mostly_made(reach):
            said = words.picks(round(reach.picks), turns=look.turns)
            ui.fitted(said, Rect(rect.left, top + line, rect.width, under), SMALL, SOFT, "right")
        return
    after = look.after.get(reach.hand.name, 0.0)
    step = ui.line(BODY_BOLD)
    top = rect.top + max((rect.height - 2 * step) // 2, 0)
    ui.fitted(words.odds(reach.odds), Rect(rect.left, top, rect.width, step), BODY, SOFT, "right")
    tone = VERMILION_TEXT if after < reach.odds - 0.005 else BLUE_TEXT if after > reach.odds + 0.005 else INK
    ui.fitted(words.odds(after), Rect(rect.left, top + step, rect.width, step), BODY_BOLD, tone, "right")


def _missing(ui: Ui, rect: Rect, reach: HandReach) -> None:
    number = ui.line(ODDS)
    both = number + ui.line(SMALL)
    top = rect.top + max((rect.height - both) // 2, 0)
    ui.fitted(str(reach.missing), Rect(rect.left, top, rect.width, number), ODDS, INK, "middle")
    ui.fitted("to come", Rect(rect.left, top + number, rect.width, ui.line(SMALL)), SMALL, SOFT, "middle")


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


def held_rows(ui: Ui, area: Rect, what: Held, most: int = 2) -> int:
    """A line's rack, what it is worth, and its nearest hands."""
    gap = ui.u(3)
    width = max(min((area.width - 13 * gap) // 14, ui.u(40)), 8)
    x = area.left
    for kind in sorted(what.rack):
        ui.tile(Face(kind), Rect(x, area.top, width, height_for(width)))
        x += width + gap
    y = area.top + height_for(width) + ui.u(8)
    y = ui.paragraph(words.sentence(rough(what.advice.chance.share)), (area.left, y), area.width, BODY_BOLD) + ui.u(4)
    for reach in what.advice.hands[:most]:
        said = f"{reach.hand.name}: {words.count(reach.missing, 'tile')} to come, {words.odds(reach.odds)}"
        y = ui.paragraph(said, (area.left, y), area.width, BODY) + ui.u(2)
        slot = max(min(int(area.width / (14 * 1.07 + 7 * 0.4)), ui.u(30)), 8)
        slots(ui, Rect(area.left, y, area.width, height_for(slot)), reach.slots, slot, None)
        y += height_for(slot) + ui.u(8)
    return y
