"""How the quiet table is painted: header, hands in reach and reasons, discards, what to do, the rack on its ledge.

All places come from the window's proportions. In a low or narrow window the reasons and the discards move into popups,
so that the rack and the board always have room.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from engine import words
from engine.rules.actions import Mahjong
from engine.tiles import name
from game.draw.theme import BODY, BODY_BOLD, HEADING, INK, SOFT, TITLE, TOUCH, VERMILION_TEXT
from game.draw.tiles import Face, height_for
from game.scenes.table.board import BoardLook, board
from game.scenes.table.ending import ending
from game.scenes.table.frame import frame, strip
from game.scenes.table.rack import RackLook, rack
from game.scenes.table.reasons import reasons
from game.ui.buttons import Press
from game.ui.layout import Rect, Space, inset
from game.ui.widgets import Ui
from game.words.situation import prompt

if TYPE_CHECKING:
    from game.scenes.table.moment import SeatScene
    from game.scenes.table.scene import TableScene

SIDE_FROM = 980
"""Units of width from which the reasons stand beside the board."""
DISCARDS_FROM = 560
"""Units of height from which the discards have a strip of their own."""
LEAST_MIDDLE = 60
"""Units of height."""
DISCARD_ROW = 50
"""Units of height of that strip."""
BAR = 24
"""Units of width that a scrolled area keeps for its bar."""
BOTH_FROM = 700
"""The same beside the board: in less height there is room for one hand more instead."""


def paint_table(table: TableScene, ui: Ui) -> None:
    """One frame of the table."""
    roomy = ui.window.height >= ui.u(DISCARDS_FROM if table.advice_shown is None else BOTH_FROM)
    here = table.rack
    cut = frame(ui, lambda ui: _header(table, ui), len(here), table.back)
    page = cut.page
    if not strip(ui, cut.bar, prompt(table.sitting), table.trouble, _presses(table), cut.low):
        page.top(ui.notice(table.trouble, page.rect.topleft, page.rect.width) - page.rect.top, ui.u(10))
    rack(ui, cut.rack, here, _rack_look(table), table.press_tile)
    if roomy and not table.finished:
        _discards(table, ui, page.bottom(ui.u(DISCARD_ROW), ui.u(10)))
    if table.finished:
        ending(ui, page.rect, table)
    elif page.rect.height >= ui.u(LEAST_MIDDLE):  # less is left only under a long notice in a low window
        _middle(table, ui, page.rect)
    quiet_keys(ui, more_presses(table))


def _header(table: TableScene, ui: Ui) -> Rect:
    state = table.sitting.state
    space = Space(ui.page())
    row = space.top(ui.u(TOUCH), ui.u(10))
    home = Rect(row.left, row.top, ui.button_size("Home")[0] + ui.u(16), row.height)
    ui.button(home, "Home", table.back, name="back", key="escape", arrow=True)
    left = home.right + ui.u(16)
    wall = f"{len(state.wall)} left in the wall"
    picks = f"pick {state.picks} of {state.house.picks}" if state.house.picks else f"pick {state.picks}"
    wide = min(ui.width(wall, BODY_BOLD) + ui.u(4), (row.right - left) // 2)
    ui.fitted(wall, Rect(row.right - wide, row.top, wide, row.height), BODY_BOLD, across="right")
    room = row.right - wide - left - ui.u(16)
    title = "Looking back" if table.looking_back else "Quiet table"
    title_wide = min(ui.width(title, TITLE) + ui.u(2), room)
    ui.fitted(title, Rect(left, row.top, title_wide, row.height), TITLE, VERMILION_TEXT if table.looking_back else INK)
    left += title_wide + ui.u(16)
    rest = Rect(left, row.top + ui.u(2), room - title_wide - ui.u(16), row.height - ui.u(2))
    parts = [picks, f"{state.sheet.name} {state.sheet.season}", *([f"deal {table.code}"] if table.code else [])]
    if state.sheet.chosen:
        parts.insert(2, words.count(len(state.sheet.chosen), "section"))
    while parts and ui.width("  ·  ".join(parts), BODY) > rest.width:
        parts.pop()
    if parts:
        ui.fitted("  ·  ".join(parts), rest, BODY, SOFT)
    return space.rect


def _rack_look(table: TableScene) -> RackLook:
    here = table.rack
    new: frozenset[int] = frozenset()
    drawn = table.sitting.state.drawn
    if drawn is not None and not table.finished and drawn in here:
        new = frozenset({len(here) - 1 - here[::-1].index(drawn)})
    return RackLook(None if table.finished else table.chosen, table.lit, new, table.advice_shown)


def _presses(table: TableScene) -> list[Press]:
    """From the least needed, which a narrow window leaves to the popup, to the main one."""
    key = table.desk.settings.key
    if table.finished:
        return [Press("More", table.more, "e")]
    presses = []
    if table.may_advise and table.shown:  # else the button stands where the advice will be
        presses.append(Press("Hide advice", table.toggle_advice, key("advice")))
    here = table.rack
    tile = here[table.chosen] if table.chosen is not None and table.chosen < len(here) else None
    mahjong = Mahjong() in table.sitting.legal()
    onward = table.looking_back and tile is None and not mahjong
    if table.looking_back and not onward:
        presses.append(Press("Forward", lambda: table.step(True), key("forward")))
    presses.append(Press("Step back", lambda: table.step(False), key("back"), enabled=table.may_step_back))
    presses.append(Press("More", table.more, "e"))
    if mahjong:
        presses.append(Press("Mahjong", table.mahjong, key("mahjong"), main=True))
    elif onward:
        presses.append(Press("Forward", lambda: table.step(True), key("forward"), main=True))
    else:
        says = "Let a tile go" if tile is None else f"Let go the {name(tile)}"
        presses.append(Press(says, table.let_go, "return", main=True))
    return presses


def more_presses(table: TableScene) -> list[Press]:
    """Everything that can be done besides the choice itself."""
    key = table.desk.settings.key
    return [
        Press(
            "Hide the advice" if table.shown else "Show the advice",
            table.toggle_advice,
            key("advice"),
            enabled=table.may_advise,
        ),
        Press("Why?", table.why, key("why"), enabled=table.may_advise),
        *moment_presses(table),
    ]


def moment_presses(scene: SeatScene) -> list[Press]:
    """What can be done at every moment of a deal."""
    key = scene.desk.settings.key
    return [
        Press("Step back", lambda: scene.step(False), key("back"), enabled=scene.may_step_back),
        Press("Step forward", lambda: scene.step(True), key("forward"), enabled=scene.looking_back),
        Press("Play it another way", scene.other_sections, "v"),
        Press("Lines of this deal", scene.ways, "l"),
        Press("Read the sheet", scene.sheet, key("sheet")),
        Press("All discards", scene.discards, "d"),
        Press("Notes", scene.note, key("note")),
        Press(f"Rack order: {scene.desk.settings.rack_order}", scene.change_order, key("order")),
        Press("Move the tile left", lambda: scene.move_tile(-1), key("tile left")),
        Press("Move the tile right", lambda: scene.move_tile(1), key("tile right")),
        Press("First choice of the deal", scene.again, "home"),
        Press("Latest moment", scene.latest, "end"),
    ]


def quiet_keys(ui: Ui, presses: Sequence[Press]) -> None:
    """Let keys do what has no button on the table itself, only in the popup of everything else."""
    taken = {one for target in ui.targets for one in target.keys}
    for press in presses:
        if press.key not in taken and press.enabled:
            ui.target(f"key {press.key}", Rect(0, 0, 0, 0), press.do, press.says, keys=press.key, quiet=True)


def _discards(table: TableScene, ui: Ui, rect: Rect) -> None:
    """The latest discards in one strip; all of them are a press away."""
    gone = [discard.kind for discard in table.sitting.state.discards if not discard.called]
    name_of = "discards"
    high = rect.height
    tile = row_tile(ui, DISCARD_ROW)
    label = f"Discards ({len(gone)})"
    wide = ui.width(label, BODY_BOLD) + ui.u(28)
    button = Rect(rect.left, rect.top + (high - ui.u(TOUCH)) // 2, wide, ui.u(TOUCH))
    ui.button(button, label, table.discards, name=name_of, key="d")
    x = button.right + ui.u(14)
    step = tile + max(ui.u(4), 2)
    fit = max((rect.right - x) // step, 0)
    for kind in gone[-fit:] if fit else []:
        ui.tile(Face(kind), Rect(x, rect.top + (high - height_for(tile)) // 2, tile, height_for(tile)))
        x += step


def _middle(table: TableScene, ui: Ui, rect: Rect) -> None:
    """Board and reasons; or a calm place when advice isn't shown."""
    advice = table.advice_shown
    if advice is None:
        _calm(table, ui, rect)
        return
    space = Space(rect)
    beside = rect.width - board_width(ui, rect.width)
    if beside:
        reasons(ui, space.right(beside - ui.u(16), ui.u(16)), advice, table.tile, table.trying)
    board(ui, space.rect, advice, BoardLook(table.tile, table.hand), table.press_hand)


def board_width(ui: Ui, width: int) -> int:
    """Pixels of the board's width: all of it, or what the reasons and a gap leave."""
    return width if width < ui.u(SIDE_FROM) else width - max(round(width * 0.3), ui.u(320)) - ui.u(16)


def row_tile(ui: Ui, high: float) -> int:
    """Pixels of width of a tile in a row of so many units of height."""
    return max(int(ui.u(high) / 1.38), 8)


def _calm(table: TableScene, ui: Ui, rect: Rect) -> None:
    ui.panel(rect)
    key = table.desk.settings.key
    if table.shown and table.may_advise:
        lines = [("Working out the odds…", HEADING, INK)]
    elif table.may_advise:
        lines = [
            ("Advice is there when you ask", HEADING, INK),
            ("It shows the hands within reach, and what each tile is worth keeping for.", BODY, SOFT),
        ]
    else:
        lines = [
            ("Advice is hidden: this game counts", HEADING, INK),
            ("Afterwards you can look back at every choice with its odds. The sheet is there to read.", BODY, SOFT),
        ]
    presses = [Press("Read the sheet", table.sheet, key("sheet"))]
    if table.may_advise and not table.shown:
        presses.insert(0, Press("Show advice", table.toggle_advice, key("advice")))
    row = sum(ui.button_size(one.says, one.key)[0] for one in presses) + ui.u(12) * (len(presses) - 1)
    natural = max(row, *(ui.width(text, style) for text, style, _ in lines)) + ui.u(BAR)
    inner = inset(rect, (rect.width - min(rect.width - ui.u(40), ui.u(720), natural)) // 2, ui.u(6))

    def content(area: Rect) -> int:
        high = sum(ui.tall(text, area.width, style) + ui.u(8) for text, style, _ in lines) + ui.u(TOUCH + 8)
        y = area.top + max((inner.height - high) // 2, 0)
        for text, style, colour in lines:
            y = ui.paragraph(text, (area.left, y), area.width, style, colour) + ui.u(8)
        return ui.buttons((area.left, y + ui.u(8)), area.width, presses)

    with ui.within(rect):
        ui.scroll("calm", inner, content)
