"""How the full table is painted: header, the three others, what lies between, what to do, one's own tiles.

All places come from the window's proportions. Where there is no room for everything at once, what lies between the
header and the rack is one list to scroll, what matters most first.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from engine.rules.actions import LetGo
from engine.rules.house import seat_name
from engine.tiles import name
from game.draw.theme import (
    BLUE,
    BODY,
    BODY_BOLD,
    INK,
    LEAST_TEXT,
    ON_TEAL,
    PAPER,
    RULE,
    SMALL,
    SOFT,
    TEAL,
    TITLE,
    TOUCH,
    VERMILION_TEXT,
    Style,
)
from game.draw.tiles import Face, height_for, width_for
from game.scenes.table.frame import frame, pill
from game.scenes.table.full_between import one_list, side_by_side
from game.scenes.table.full_ending import full_ending
from game.scenes.table.rack import RackLook, above, rack, tile_width
from game.scenes.table.seats import laid_tiles, lay
from game.scenes.table.view import moment_presses, quiet_keys
from game.ui.buttons import Press
from game.ui.layout import Rect, Space
from game.ui.widgets import Ui
from game.words.situation import call_words

if TYPE_CHECKING:
    from game.scenes.table.full import FullScene

ROOMY = (900, 300)
"""Units of width and height between header and rack from which all stands side by side."""
LAID = 0.8
"""One's own exposed tiles are so much narrower than those of the rack."""
NARROW = 560
"""Units of width of the strip under which buttons have short names."""
ALWAYS_THERE = 3
"""Buttons that stand in the strip however little room it leaves for words, which then stand under it."""


def paint_full(scene: FullScene, ui: Ui) -> None:
    """One frame of the full table."""
    cut = frame(ui, lambda ui: _header(scene, ui), 14, scene.back, scene.clock_text)
    page = cut.page
    said = _strip(scene, ui, cut.bar, cut.low)
    _own(scene, ui, cut.rack)
    if scene.trouble and not said:
        page.top(ui.notice(scene.trouble, page.rect.topleft, page.rect.width) - page.rect.top, ui.u(10))
    elif not said:
        y = ui.paragraph(scene.prompt, page.rect.topleft, page.rect.width, BODY_BOLD)
        page.top(y - page.rect.top, ui.u(6))
    if scene.finished:
        full_ending(ui, page.rect, scene)
    elif page.rect.width >= ui.u(ROOMY[0]) and page.rect.height >= ui.u(ROOMY[1]):
        side_by_side(scene, ui, page)
    else:
        one_list(scene, ui, page.rect)
    quiet_keys(ui, more_presses(scene))


def _header(scene: FullScene, ui: Ui) -> Rect:
    state = scene.state
    space = Space(ui.page())
    row = space.top(ui.u(TOUCH), ui.u(10))
    says = scene.home_says
    home = Rect(row.left, row.top, ui.button_size(says)[0] + ui.u(16), row.height)
    ui.button(home, says, scene.back, name="back", key="escape", arrow=True)
    left = home.right + ui.u(16)
    right = row.right
    for note in (f"{len(state.wall)} left in the wall", scene.clock_text):
        if note:
            wide = min(ui.width(note, BODY_BOLD) + ui.u(4), (right - left) // 2)
            ui.fitted(note, Rect(right - wide, row.top, wide, row.height), BODY_BOLD, across="right")
            right -= wide + ui.u(22)
    title = "Looking back" if scene.looking_back else scene.title
    wide = min(ui.width(title, TITLE) + ui.u(2), right - left)
    ui.fitted(title, Rect(left, row.top, wide, row.height), TITLE, VERMILION_TEXT if scene.looking_back else INK)
    left += wide + ui.u(16)
    rest = Rect(left, row.top + ui.u(2), right - left, row.height - ui.u(2))
    you = f"you are {seat_name(scene.sitting.player).capitalize()}"
    parts = [you, f"{state.sheet.name} {state.sheet.season}", *([f"deal {scene.code}"] if scene.code else [])]
    if state.sheet.chosen:
        parts.insert(2, f"{len(state.sheet.chosen)} sections")
    while parts and ui.width("  ·  ".join(parts), BODY) > rest.width:
        parts.pop()
    if parts:
        ui.fitted("  ·  ".join(parts), rest, BODY, SOFT)
    return space.rect


# What to do.


def _strip(scene: FullScene, ui: Ui, rect: Rect, low: bool) -> bool:
    """What is asked, and the buttons that answer. Whether there was room for what is to be said."""
    says = scene.trouble or scene.prompt
    style = BODY_BOLD if scene.trouble or scene.calling else BODY
    narrow = rect.width < ui.u(NARROW)
    left = rect.left
    if scene.calling:
        left = _asked_about(scene, ui, rect)
    elif not narrow and not scene.finished and not scene.looking_back:
        left = pill(ui, (rect.left, rect.centery), "your turn") + ui.u(12)
    words_need = min(max(ui.width(says, style) * 0.55, ui.u(130)), ui.u(330))
    right = rect.right
    for place, one in enumerate(reversed(_presses(scene, narrow))):
        wide = ui.button_size(one.says, "" if low else one.key)[0]
        if right - wide - (words_need if place >= ALWAYS_THERE else 0) < left:
            break
        button = Rect(right - wide, rect.top, wide, rect.height)
        ui.button(button, one.says, one.do, key=one.key, main=one.main, enabled=one.enabled, show_key=not low)
        right -= wide + ui.u(8)
    room = Rect(left, rect.top, right - left - ui.u(8), rect.height)
    if not _fits(ui, says, room):
        return False
    ui.fitted(says, room, style, VERMILION_TEXT if scene.trouble else INK)
    return True


def _fits(ui: Ui, text: str, room: Rect) -> bool:
    """Whether a text can be set in a rectangle without getting too small, no word broken."""
    if room.width < max(ui.width(word, BODY_BOLD) for word in text.split()):
        return False
    return ui.tall(text, room.width, Style(LEAST_TEXT + 1, bold=True)) <= room.height


def _asked_about(scene: FullScene, ui: Ui, rect: Rect) -> int:
    """The discard that may be called and, where it does not wait, how long it may be; gives the x behind."""
    wide = width_for(rect.height)
    spot = Rect(rect.left, rect.top, wide, height_for(wide))
    ui.tile(Face(scene.state.discards[-1].kind), spot)
    ui.panel(spot.inflate(ui.u(4), ui.u(4)), None, BLUE, 8, 3)
    left = spot.right + ui.u(12)
    seconds = scene.seconds_left
    if seconds is not None:
        text = f"{int(seconds + 0.999)} s"
        box = Rect(left, rect.top + ui.u(6), ui.width("30 s", BODY_BOLD) + ui.u(20), rect.height - ui.u(12))
        ui.panel(box, TEAL, None, 10)
        with ui.within(box):
            ui.fitted(text, box, BODY_BOLD, ON_TEAL, "middle")
        left = box.right + ui.u(12)
    return left


def _presses(scene: FullScene, narrow: bool) -> list[Press]:
    """From the least needed, which a narrow window leaves to the popup, to the main one; with short names there."""
    key = scene.desk.settings.key
    if scene.finished:
        return [Press("More", scene.more, "e")]
    presses = []
    if scene.looking_back:
        presses.append(Press("Forward", lambda: scene.step(True), key("forward")))
    if scene.may_advise and scene.shown:  # else the button stands where the advice will be
        presses.append(Press("Hide advice", scene.toggle_advice, key("advice")))
    if scene.calling:
        return [*presses, *_call_presses(scene, narrow)]
    if scene.steps:
        presses.append(Press("Step back", lambda: scene.step(False), key("back"), enabled=scene.may_step_back))
    presses.append(Press("More", scene.more, "e"))
    if scene.exchanges:
        presses.append(Press("Exchange" if narrow else "Exchange a joker", scene.exchange, key("exchange")))
    if scene.wins:
        presses.append(Press("Mahjong", scene.mahjong, key("mahjong"), main=True))
        return presses
    here = scene.rack
    tile = here[scene.chosen] if scene.chosen is not None and scene.chosen < len(here) else None
    says = "Let a tile go" if tile is None else f"Let go the {name(tile)}"
    presses.append(Press(says, scene.let_go, "return", main=True))
    return presses


def _call_presses(scene: FullScene, narrow: bool) -> list[Press]:
    key = scene.desk.settings.key
    presses = [Press("Let all go until my turn", scene.let_all_go, "u")]
    calls = scene.calls
    call = Press(call_words(calls[0]) if len(calls) == 1 and not narrow else "Call it…", scene.call, key("call"))
    if scene.wins:
        presses += [call] if calls else []
        return [
            *presses,
            Press("More", scene.more, "e"),
            Press(call_words(LetGo()), scene.let_it_go, "l"),
            Press("Mahjong", scene.mahjong, key("mahjong"), main=True),
        ]
    presses.append(Press("More", scene.more, "e"))
    return [*presses, *([call] if calls else []), Press(call_words(LetGo()), scene.let_it_go, "return", main=True)]


def more_presses(scene: FullScene) -> list[Press]:
    """Everything that can be done besides the choice itself. Calls, mahjong and exchanges are there even when they are
    not open: then they say why."""
    key = scene.desk.settings.key
    playing = not scene.finished
    presses = [
        Press(
            "Hide the advice" if scene.shown else "Show the advice",
            scene.toggle_advice,
            key("advice"),
            enabled=scene.may_advise and playing,
        ),
        Press("Why?", scene.why, key("why"), enabled=scene.may_advise and playing and not scene.calling),
        Press("Call the discard", scene.call, key("call"), enabled=playing),
        Press("Mahjong", scene.mahjong, key("mahjong"), enabled=playing),
        Press("Exchange a joker", scene.exchange, key("exchange"), enabled=playing),
    ]
    moments = [one for one in moment_presses(scene) if not (scene.calling and one.key == "l")]
    return [*presses, *moments]


# One's own tiles.


def _own(scene: FullScene, ui: Ui, rect: Rect) -> None:
    """What one has exposed lies at the left on the cloth, the rest stands on the ledge."""
    here = scene.rack
    exposures = scene.state.exposures[scene.sitting.player]
    width = tile_width(ui, rect.width, 14)
    if not exposures:
        rack(ui, rect, here, _rack_look(scene), scene.press_tile)
        return
    laid = round(width * LAID)
    need = round(laid * laid_tiles(exposures))
    gap = round(width * 0.5)
    standing = round(len(here) * width * 1.09) + ui.u(24) + len(here)
    total = need + gap + standing
    left = rect.left + max((rect.width - total) // 2, 0)
    base = rect.top + above(ui) + height_for(width)
    place = Rect(left, base - height_for(laid), need, height_for(laid))
    tray = place.inflate(ui.u(12), ui.u(12))
    ui.panel(tray, PAPER, RULE, 8)
    lay(ui, exposures, place.topleft, laid)
    label = Rect(left, tray.bottom + ui.u(2), need, ui.line(SMALL))
    ui.fitted("You show", label, SMALL, SOFT, "middle")
    right = Rect(left + need + gap, rect.top, min(standing, rect.right - left - need - gap), rect.height)
    rack(ui, right, here, _rack_look(scene), scene.press_tile, least=len(here))


def _rack_look(scene: FullScene) -> RackLook:
    here = scene.rack
    new: frozenset[int] = frozenset()
    drawn = scene.state.drawn
    if drawn is not None and not scene.finished and not scene.calling and drawn in here:
        new = frozenset({len(here) - 1 - here[::-1].index(drawn)})
    return RackLook(None if scene.finished else scene.chosen, scene.lit, new, scene.advice_shown)
