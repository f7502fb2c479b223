"""The three other seats at the full table: where each sits, what it exposes and holds, whose turn it is."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from engine.rules.state import Exposure, Phase, State
from engine.tiles import name
from engine.words import in_words
from game.draw.theme import BLUE, BODY_BOLD, CARD, EDGE, INK, LIT, SMALL, SMALL_BOLD, SOFT, TEAL, VERMILION_TEXT
from game.draw.tiles import TURNED, Face, height_for, width_for
from game.scenes.table.frame import pill
from game.ui.buttons import Press
from game.ui.layout import Rect, Space, columns, inset
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.actions import say_seat
from game.words.situation import kinds_shown, place_words

SEAT = "seat "
"""Names of the seats' targets start with this; the seat's number follows."""
GAP, BETWEEN = 0.05, 0.32
"""Space between two tiles of an exposure and between two exposures, in widths of a tile."""
LARGEST = 46
"""Units of an exposed tile of another seat at most."""
LEAST = 26
"""Units under which the marks on a tile are hard to read."""
SMALLEST = 14
"""Units under which a row of tiles tells nothing."""
STRIP = 48
"""Units of height of a low strip of all three."""
HIGH = 112
"""Units of a seat's panel."""
TWO_ROWS = 126
"""Units of a seat's panel in which exposures stand in two rows."""


@dataclass(frozen=True)
class Others:
    """The others as the player sees them."""

    state: State
    player: int
    look_at: Callable[[int], Scene | None]
    """What pressing a seat does."""


def other_seats(player: int) -> tuple[int, int, int]:
    """From the left to the right as the player sees them: left neighbour, across, right neighbour."""
    return (player + 3) % 4, (player + 2) % 4, (player + 1) % 4


def laid_tiles(exposures: Sequence[Exposure]) -> float:
    """Tile widths that exposures take up side by side."""
    tiles = sum(one.size * (1 + GAP) for one in exposures)
    return tiles + BETWEEN * max(len(exposures) - 1, 0)


def lay(ui: Ui, exposures: Sequence[Exposure], at: tuple[int, int], width: int) -> int:
    """Exposures side by side from a point, tiles so many pixels wide; gives the x behind them."""
    x, y = at
    for place, exposure in enumerate(exposures):
        x += round(width * BETWEEN) if place else 0
        for kind, joker in kinds_shown(exposure):
            ui.tile(Face(kind, joker=joker), Rect(x, y, width, height_for(width)))
            x += width + max(round(width * GAP), 1)
    return x


def last_discard(state: State) -> int | None:
    """The seat whose discard lies last and was not called."""
    return state.discards[-1].seat if state.discards and not state.discards[-1].called else None


def split(exposures: Sequence[Exposure]) -> list[tuple[Exposure, ...]]:
    """The exposures in two rows, as even as can be, in the order they were laid."""
    cut = min(range(1, len(exposures)), key=lambda at: max(laid_tiles(exposures[:at]), laid_tiles(exposures[at:])))
    return [tuple(exposures[:cut]), tuple(exposures[cut:])]


def seats_height(ui: Ui, width: int, others: Others) -> int:
    """Pixels of height that three panels side by side need in such a width."""
    room = (width - 2 * ui.u(10)) // 3 - ui.u(24)
    crowded = any(laid_tiles(one) * ui.u(LEAST) > room for one in _others_exposures(others))
    return ui.u(TWO_ROWS if crowded else HIGH)


def _others_exposures(others: Others) -> list[tuple[Exposure, ...]]:
    return [others.state.exposures[seat] for seat in other_seats(others.player)]


def seats_row(ui: Ui, rect: Rect, others: Others) -> None:
    """The three panels beside one another."""
    for cell, seat in zip(columns(rect, [1, 1, 1], ui.u(10)), other_seats(others.player), strict=True):
        seat_panel(ui, cell, others, seat)


def seats_strip(ui: Ui, rect: Rect, others: Others, discards: Press) -> None:
    """The three seats and the discards in a low strip, each a press away from all there is to see of it."""
    cells = columns(rect, [1, 1, 1, 1], ui.u(6))
    for cell, seat in zip(cells, other_seats(others.player), strict=False):
        _small_panel(ui, cell, others, seat)
    ui.panel(cells[3], CARD, EDGE, 10)
    ui.target(discards.says, cells[3], discards.do, discards.says, keys=discards.key)
    with ui.within(cells[3]):
        ui.fitted(discards.says, inset(cells[3], ui.u(6), ui.u(2)), BODY_BOLD, INK, "middle")


def _small_panel(ui: Ui, rect: Rect, others: Others, seat: int) -> None:
    """One other seat in a low strip: its name, and what it shows or has let go last, as tiles or in a word."""
    state = others.state
    target = f"{SEAT}{seat}"
    turn = state.turn == seat and state.phase is not Phase.OVER
    ui.panel(rect, LIT if ui.lit(target) else CARD, TEAL if turn else EDGE, 10, 3 if turn else 1)
    ui.target(target, rect, lambda: others.look_at(seat), f"look at {say_seat(seat)}")
    inner = Space(inset(rect, ui.u(8), ui.u(3)))
    with ui.within(rect):
        if last_discard(state) == seat:
            high = inner.rect.height
            spot = Rect(inner.right(width_for(high), ui.u(6)).topleft, (width_for(high), height_for(width_for(high))))
            ui.tile(Face(state.discards[-1].kind), spot)
        ui.fitted(say_seat(seat), inner.top(ui.line(SMALL_BOLD)), SMALL_BOLD)
        laid = state.exposures[seat]
        wide = min(int(inner.rect.width / laid_tiles(laid)), width_for(inner.rect.height)) if laid else 0
        if wide >= ui.u(SMALLEST):
            lay(ui, laid, inner.rect.topleft, wide)
            return
        says = "dead hand" if state.dead[seat] else f"shows {in_words(len(laid))}" if laid else "shows none"
        if ui.width(says, SMALL) <= inner.rect.width:  # else a press on the seat tells it
            ui.text(says, inner.rect.topleft, SMALL, SOFT)


def seat_panel(ui: Ui, rect: Rect, others: Others, seat: int) -> None:
    """One other seat: pressing it tells more."""
    state = others.state
    target = f"{SEAT}{seat}"
    turn = state.turn == seat and state.phase is not Phase.OVER
    ui.panel(rect, LIT if ui.lit(target) else CARD, TEAL if turn else EDGE, 10, 2 if turn else 1)
    ui.target(target, rect, lambda: others.look_at(seat), f"look at {say_seat(seat)}")
    inner = Space(inset(rect, ui.u(12), ui.u(8)))
    with ui.within(rect):
        if last_discard(state) == seat and _room_for_latest(ui, inner, others, seat):
            _latest(ui, inner, others)
        _title(ui, inner.top(ui.line(BODY_BOLD), ui.u(4)), others, seat, turn)
        _tiles(ui, inner.rect, others, seat)


def _room_for_latest(ui: Ui, inner: Space, others: Others, seat: int) -> bool:
    """Whether the exposures can still be read beside the large discard."""
    exposures = others.state.exposures[seat]
    room = inner.rect.width - width_for(inner.rect.height) - ui.u(16)
    rows = [exposures] if len(exposures) < 2 or inner.rect.height < ui.u(TWO_ROWS - 20) else split(exposures)
    return room > 0 and all(laid_tiles(row) * ui.u(LEAST) <= room for row in rows)


def _latest(ui: Ui, inner: Space, others: Others) -> None:
    """The discard that lies last, as large as the panel, at its right end."""
    high = inner.rect.height
    wide = width_for(high)
    place = inner.right(wide, ui.u(16))
    spot = Rect(place.left, place.top + (high - height_for(wide)) // 2, wide, height_for(wide))
    ui.tile(Face(others.state.discards[-1].kind), spot)
    ui.panel(spot.inflate(ui.u(6), ui.u(6)), None, BLUE, 9, 3)


def _title(ui: Ui, row: Rect, others: Others, seat: int, turn: bool) -> None:
    state = others.state
    who = say_seat(seat)
    wide = ui.width(who, BODY_BOLD) + ui.u(2)
    ui.fitted(who, Rect(row.left, row.top, wide, row.height), BODY_BOLD)
    left = row.left + wide + ui.u(8)
    if state.dead[seat]:
        says, colour, style = "dead hand", VERMILION_TEXT, SMALL_BOLD
    elif last_discard(state) == seat:
        says, colour, style = f"let go the {name(state.discards[-1].kind)}", INK, SMALL_BOLD
        if left + ui.width(says, style) + ui.u(2) > row.right:
            says = "let it go"
    else:
        says, colour, style = f"{len(state.racks[seat])} tiles", INK, SMALL
    mark = ui.width("turn", SMALL_BOLD) + ui.u(16)
    if turn and left + mark + ui.u(10) + ui.width(says, style) <= row.right:
        left = pill(ui, (left, row.centery), "turn") + ui.u(8)
    need = ui.width(says, style) + ui.u(2)
    room = Rect(max(row.right - need, left), row.top, min(need, row.right - left), row.height)
    ui.fitted(says, room, style, colour, "right")
    where = place_words(seat, others.player)
    if room.left - left >= ui.width(where, SMALL) + ui.u(8):
        ui.fitted(where, Rect(left, row.top, room.left - left - ui.u(8), row.height), SMALL, SOFT)


def _tiles(ui: Ui, rect: Rect, others: Others, seat: int) -> None:
    """What lies exposed, then the backs of what is held, as many as there is room for."""
    exposures = others.state.exposures[seat]
    held = len(others.state.racks[seat])
    width = min(ui.u(LARGEST), width_for(rect.height))
    if exposures:
        width = min(width, int(rect.width / laid_tiles(exposures)))
    if len(exposures) > 1 and width < ui.u(LEAST):
        _in_two_rows(ui, rect, exposures)
        return
    width = max(width, 8)
    y = rect.top + (rect.height - height_for(width)) // 2
    x = lay(ui, exposures, (rect.left, y), width)
    x += round(width * 0.4) if exposures else 0
    back = max(round(ui.u(LARGEST) * 0.62), 6)
    y = rect.bottom - height_for(back) if exposures else rect.top + (rect.height - height_for(back)) // 2
    step = min(back + max(round(back * 0.08), 1), max((rect.right - x - back) // max(held - 1, 1), 1))
    if step < back * 0.3:
        return
    for place in range(held):
        ui.tile(Face(None, TURNED), Rect(x + place * step, y, back, height_for(back)))


def _in_two_rows(ui: Ui, rect: Rect, exposures: Sequence[Exposure]) -> None:
    rows = split(exposures)
    gap = ui.u(4)
    width = width_for((rect.height - gap) // 2)
    width = max(min(width, *(int(rect.width / laid_tiles(row)) for row in rows)), 8)
    for place, row in enumerate(rows):
        lay(ui, row, (rect.left, rect.top + place * (height_for(width) + gap)), width)
