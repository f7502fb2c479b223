"""How the two-hand game is painted: both racks, what to do, and the advice under them."""

from __future__ import annotations

from functools import partial

from engine import words
from engine.advice.advise.hands import HandReach, slots_of
from engine.advice.advise.two_hands import UNWEIGHED, TwoAdvice
from engine.rules.actions import ChangeRacks, Discard, PutOn
from engine.rules.state import ShownHand
from engine.rules.twists.known import twist_of
from engine.rules.two_hands import racks_of
from engine.tiles import Kind, counts_of, name
from game.draw.theme import (
    BLUE,
    BODY,
    BODY_BOLD,
    GREAT,
    HEADING,
    ORANGE,
    SMALL,
    SOFT,
    TEAL,
    VERMILION_TEXT,
    WOOD,
    WOOD_DEEP,
    WOOD_LIT,
)
from game.draw.tiles import Face, height_for
from game.scenes.table.board import row_of_slots
from game.scenes.table.frame import LOW_UNDER, Heading, header
from game.scenes.twists import TwistPopup
from game.scenes.two.moment import TwoHandsMoment
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect
from game.ui.widgets import Ui
from game.words.deal.two_hands import NO_REVIEW, asked
from game.words.situation import headline, outcome_sentences

WIDEST = 1400
LARGEST = 104
"""Units of a rack tile's width at most."""
SLOTS = 38
"""Units of a tile's width in the hands that are near."""
TWO_COLUMNS = 1040
AIR, SCANT, LEDGE = 16, 7, 8
"""Units over the tiles of a rack, the same in a low window, and of its ledge."""


def paint_two(scene: TwoHandsMoment, ui: Ui) -> None:
    """One frame."""
    state = scene.state
    house = state.house
    picks = f"pick {state.picks} of {house.picks}" if house.picks else f"pick {state.picks}"
    rest = header(ui, Heading(
        "Two hands",
        scene.back,
        looking_back=scene.looking_back,
        notes=(f"{len(state.wall)} left in the wall",),
        parts=(
            picks,
            f"twist: {twist_of(house).title}" if house.twist else "",
            f"{state.sheet.name} {state.sheet.season}",
            f"deal {scene.code}" if scene.code else "",
        ),
    ))  # fmt: skip
    scrolled(ui, "two hands", rest, partial(_fill, scene), widest=WIDEST)


def _fill(scene: TwoHandsMoment, page: Column) -> None:
    """What is asked stands under the racks; over them in a low window, where it must not be scrolled away."""
    low = _low(page)
    if scene.finished:
        _ended(scene, page)
    elif low:
        _asked(scene, page, _choices(scene))
        page.gap(4)
    for rack in (0, 1):
        _rack(scene, page, rack, SCANT if low else AIR)
        page.gap(4 if low else 10)
    if scene.finished:
        return
    if low:
        page.buttons(_others(scene))
    else:
        _asked(scene, page, [*_choices(scene), *_others(scene)])
    if scene.shown and scene.may_advise:
        page.gap(12)
        _advice(scene, page)


def _low(page: Column) -> bool:
    """Whether the window is so low that both racks are only seen beside few words."""
    return page.ui.window.height < page.ui.u(LOW_UNDER)


def _ended(scene: TwoHandsMoment, page: Column) -> None:
    state = scene.state
    assert state.outcome is not None
    with page.panel() as inside:
        inside.text(headline(state.outcome, scene.sitting.player), GREAT, TEAL)
        for said in outcome_sentences(state):
            inside.text(said)
        inside.gap(14)
        inside.buttons([
            Press("Another deal", scene.new_deal, "return", main=True),
            Press("Step back", lambda: scene.step(False), scene.desk.settings.key("back")),
            Press("Discards", scene.discards, "d"),
        ])  # fmt: skip
        inside.gap(12)
        inside.text(NO_REVIEW, SMALL, SOFT)
    page.gap(12)


def _rack(scene: TwoHandsMoment, page: Column, rack: int, air: int) -> None:
    """A line that says what the rack is, and its tiles on a ledge."""
    ui = page.ui
    done = racks_of(scene.state).shown[rack]
    tiles = scene.rack(rack)
    full = done is None and len(tiles) % 2 == 0
    says = f"Rack {rack + 1}"
    note = f"done: {done.hand.name}, {words.count(done.points, 'point')}" if done else f"{len(tiles)} tiles"
    if full and not scene.finished:
        note += ", one of them goes"

    def title(rect: Rect) -> None:
        wide = ui.width(says, BODY_BOLD) + ui.u(12)
        ui.fitted(says, Rect(rect.left, rect.top, wide, rect.height), BODY_BOLD, TEAL if full else SOFT)
        ui.fitted(note, Rect(rect.left + wide, rect.top, rect.width - wide, rect.height), BODY, SOFT)

    page.put(ui.line(BODY_BOLD), title)
    page.gap(0)
    gap = ui.u(5)
    wide = max(min((page.width - 13 * gap) // 14, ui.u(LARGEST), round(ui.window.height * 0.115)), 10)
    page.put(height_for(wide) + ui.u(air + LEDGE), lambda rect: _tiles(scene, ui, rect, rack, tiles, wide, gap))


def _faces(done: ShownHand | None, tiles: tuple[Kind, ...]) -> list[Face]:
    """The tiles as they lie; a hand that is shown lies in its groups, jokers in their places."""
    if done is None:
        return [Face(kind) for kind in tiles]
    groups = slots_of(done.variant, counts_of(tiles), ())
    return [Face(slot.kind, joker=slot.joker) for group in groups for slot in group]


def _tiles(scene: TwoHandsMoment, ui: Ui, rect: Rect, rack: int, tiles: tuple[Kind, ...], wide: int, gap: int) -> None:
    high = height_for(wide)
    ledge = Rect(rect.left, rect.bottom - ui.u(LEDGE), rect.width, ui.u(LEDGE))
    top = ledge.top - high
    ui.look.shapes.ledge(ui.surface, ledge, WOOD_LIT, WOOD, WOOD_DEEP)
    left = rect.centerx - (len(tiles) * (wide + gap) - gap) // 2
    marked = _marked(scene.advice, rack)
    shown = racks_of(scene.state).shown[rack]
    faces, done = _faces(shown, tiles), shown is not None
    fresh = scene.state.drawn if not scene.placing and rack == scene.state.turn and not scene.finished else None
    for place, kind in enumerate(tiles):
        chosen = scene.chosen[rack] == place
        spot = Rect(left + place * (wide + gap), top - (ui.u(6) if chosen else 0), wide, high)
        ui.tile(faces[place], spot)
        if chosen:
            ui.panel(spot.inflate(ui.u(5), ui.u(5)), None, BLUE, 9, 3)
        if kind == marked:
            ui.mark("up", (spot.centerx, ledge.centery), 12, VERMILION_TEXT)
            marked = None
        if kind == fresh:
            mark = Rect(0, 0, wide // 3, max(ui.u(5), 3))
            mark.midbottom = (spot.centerx, spot.top - ui.u(3))
            ui.panel(mark, ORANGE, None, 3)
            fresh = None
        if not (done or scene.finished or scene.placing):
            does = partial(scene.press_tile, rack, place)
            ui.target(f"rack {rack + 1} tile {place}", spot, does, f"choose the {name(kind)}", radius=9, yields=True)


def _marked(advice: TwoAdvice | None, rack: int) -> Kind | None:
    """The tile of a rack that the advice would take now, if any."""
    if advice is None:
        return None
    match advice.action:
        case ChangeRacks(first, second):
            return (first, second)[rack]
        case Discard(kind) if rack == advice.rack:
            return kind
    return None


def _asked(scene: TwoHandsMoment, page: Column, presses: list[Press]) -> None:
    """What is asked, the tile that waits, and the buttons that answer."""
    waiting = racks_of(scene.state).waiting
    if scene.trouble:
        page.notice(scene.trouble)
        page.gap(8)
    if waiting is None:
        _words(scene, page, presses)
        return
    wide = page.ui.u(52)
    with page.aside(wide, gap=14, down="middle") as (tile, rest):
        tile.tile(Face(waiting), wide)
        _words(scene, rest, presses)


def _words(scene: TwoHandsMoment, page: Column, presses: list[Press]) -> None:
    says = asked(scene.state, short=_low(page))
    page.text("The hand is complete: show it, or play on." if scene.wins else says, BODY_BOLD)
    page.gap(6)
    page.buttons(presses)


def _choices(scene: TwoHandsMoment) -> list[Press]:
    if scene.placing:
        best = scene.advice.place if scene.advice is not None and isinstance(scene.advice.action, PutOn) else None
        return [
            Press(f"On rack {rack + 1}", partial(scene.place, rack), str(rack + 1), main=rack == (best or 0))
            for rack in (0, 1)
        ]
    key = scene.desk.settings.key
    shown = [Press("Mahjong", scene.mahjong, key("mahjong"), main=True)] if scene.wins else []
    change = [Press("Change the two", scene.change, key("call"))] if scene.may_change else []
    return [*shown, Press("Let the tile go", scene.let_go, "return", main=not scene.wins), *change]


def _others(scene: TwoHandsMoment) -> list[Press]:
    key = scene.desk.settings.key
    says = "Hide advice" if scene.shown else "Show advice"
    twist = [Press("Twist", lambda: TwistPopup(scene, scene.sitting), "k")] if scene.state.house.twist else []
    return [
        Press(says, scene.toggle_advice, key("advice"), enabled=scene.may_advise),
        Press("Step back", lambda: scene.step(False), key("back")),
        *([Press("Step forward", lambda: scene.step(True), key("forward"))] if scene.looking_back else []),
        Press("Rules", scene.rules, "r"),
        *twist,
        Press("Discards", scene.discards, "d"),
        Press("Sheet", scene.sheet, key("sheet")),
        Press("Note", scene.note, key("note")),
    ]


def _advice(scene: TwoHandsMoment, page: Column) -> None:
    advice = scene.advice
    with page.panel(pad=14) as inside:
        if advice is None:
            inside.text("The advice is being worked out.", BODY, SOFT)
            return
        inside.text(advice.because)
        inside.text(UNWEIGHED, SMALL, SOFT)
        inside.gap(8)
        with inside.beside([1, 1], least=TWO_COLUMNS) as columns:
            for rack, column in enumerate(columns):
                if advice.reach[rack]:
                    column.text(f"Rack {rack + 1}, nearest hands", HEADING)
                    for one in advice.reach[rack]:
                        _near(column, one)


def _near(column: Column, one: HandReach) -> None:
    column.gap(4)
    column.text(f"{one.hand.name}: {one.missing} to come", SMALL)
    row_of_slots(column, one.slots, SLOTS)
