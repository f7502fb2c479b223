"""How a turn, a call or the end is painted: header, what to do, what lies between, one's own tiles on the ledge.

All places come from the window's proportions. Buttons that find no room are in the popup of everything else, and their
keys work all the same.
"""

from __future__ import annotations

from collections.abc import Sequence

from engine import words
from engine.rules.actions import Action, Call, Exchange, LetGo
from engine.rules.twists.known import twist_of
from engine.tiles import name
from game.draw.theme import BLUE, BODY_BOLD, GREAT, ON_TEAL, PAPER, RULE, SMALL, SOFT, TEAL
from game.draw.tiles import Face, height_for, width_for
from game.scenes.table.between import between
from game.scenes.table.ending import ending, rack_stays
from game.scenes.table.ending import presses as ending_presses
from game.scenes.table.frame import NARROW, Heading, frame, header, pill, strip, under_strip
from game.scenes.table.moment import SeatMoment
from game.scenes.table.rack import RackLook, above, rack, tile_width
from game.scenes.table.seats import laid_tiles, lay
from game.scenes.table.turn import TurnMoment
from game.scenes.twists import TwistPopup
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect
from game.ui.widgets import Ui
from game.words.actions import say_seat
from game.words.situation import call_words, prompt

RACK = 14
"""Tiles that the rack always has room for."""
ENDED_RACK = 20
"""The same at the end: smaller tiles, as what came of the deal is to be read then."""
STOPPED_WIDE = 480
"""Units of width of what is said when the clock has ended a deal."""
YOU_SHOW = "You show"
LAID = 0.8
"""One's own exposed tiles are so much narrower than those of the rack."""


def paint_turn(moment: TurnMoment, ui: Ui) -> None:
    """One frame of the table."""
    if moment.stopped:
        paint_stopped(moment, ui)
        return
    clock = moment.policy.clock_text(moment.state)
    stays = not moment.finished or rack_stays(ui)
    cut = frame(ui, heading(moment), _rack_room(moment), clock, rack_stays=stays)
    asks = prompt(moment.sitting)
    lead = None
    if moment.calling:
        lead = lambda ui, rect: _asked_about(moment, ui, rect)  # noqa: E731
    elif moment.others and not (moment.finished or moment.looking_back) and cut.bar.width >= ui.u(NARROW):
        lead = _your_turn
    presses = _presses(moment, cut.bar.width < ui.u(NARROW))
    if not strip(ui, cut.bar, asks, moment.trouble, presses, cut.low, lead, _brief(moment)):
        under_strip(ui, cut.page, asks, moment.trouble)
    if stays:
        _own(moment, ui, cut.rack)
    if moment.finished:
        ending(ui, cut.page.rect, moment)
    else:
        between(moment, ui, cut.page)
    quiet_keys(ui, [*(ending_presses(moment) if moment.finished else ()), *more_presses(moment)])


def heading(moment: SeatMoment) -> Heading:
    """What stands in the header, alike at every moment."""
    state, policy = moment.state, moment.policy
    chosen = state.sheet.chosen
    return Heading(
        policy.title(state),
        moment.back,
        policy.back_says,
        moment.looking_back,
        notes=(f"{len(state.wall)} left in the wall" if state.discards or not moment.before_play else "",
               policy.clock_text(state)),
        parts=(
            _place(moment),
            f"twist: {twist_of(state.house).title}" if state.house.twist else "",
            f"{state.sheet.name} {state.sheet.season}",
            words.count(len(chosen), "section") if chosen else "",
            f"deal {moment.code}" if moment.code else "",
        ),
    )  # fmt: skip


def _place(moment: SeatMoment) -> str:
    """How far the deal has come, or where the player sits."""
    state = moment.state
    if moment.before_play:
        return ""
    if moment.others:
        return f"you are {say_seat(moment.sitting.player)}"
    return f"pick {state.picks} of {state.house.picks}" if state.house.picks else f"pick {state.picks}"


def paint_stopped(moment: SeatMoment, ui: Ui) -> None:
    """The clock has ended the deal."""
    rest = header(ui, heading(moment))

    def fill(page: Column) -> None:
        page.spring(2)
        page.text("Time is up", GREAT, TEAL)
        page.text("The clock has ended this deal, and nobody scores.")
        page.gap(14)
        page.buttons([Press("Go on", moment.new_deal, "return", main=True)])
        page.spring(3)

    scrolled(ui, "stopped", rest, fill, widest=STOPPED_WIDE)


# What to do.


def _brief(moment: TurnMoment) -> str:
    """The tile that is asked about, or that was drawn where a joker is to be had: words for a short window."""
    if moment.calling:
        return name(moment.state.discards[-1].kind)
    if not moment.exchanges or moment.finished:
        return ""
    return name(moment.state.drawn) if moment.state.drawn is not None else "Your turn"


def _your_turn(ui: Ui, rect: Rect) -> int:
    return pill(ui, (rect.left, rect.centery), "your turn")


def _asked_about(moment: TurnMoment, ui: Ui, rect: Rect) -> int:
    """The discard that may be called and, where it does not wait, how long it may be; gives the x behind."""
    wide = width_for(rect.height)
    spot = Rect(rect.left, rect.top, wide, height_for(wide))
    ui.tile(Face(moment.state.discards[-1].kind), spot)
    ui.panel(spot.inflate(ui.u(4), ui.u(4)), None, BLUE, 8, 3)
    left = spot.right
    seconds = moment.seconds_left
    if seconds is None:
        return left
    box = Rect(left + ui.u(12), rect.top + ui.u(6), ui.width("30 s", BODY_BOLD) + ui.u(20), rect.height - ui.u(12))
    ui.panel(box, TEAL, None, 10)
    with ui.within(box):
        ui.fitted(f"{int(seconds + 0.999)} s", box, BODY_BOLD, ON_TEAL, "middle")
    return box.right


def _presses(moment: TurnMoment, narrow: bool) -> list[Press]:
    """From the least needed, which a narrow window leaves to the popup, to the main one; with short names there."""
    key = moment.desk.settings.key
    if moment.finished:
        return [Press("More", moment.more, "e"), *(one for one in ending_presses(moment) if one.main)]
    presses = []
    here = moment.rack
    tile = here[moment.chosen] if moment.chosen is not None and moment.chosen < len(here) else None
    onward = moment.looking_back and tile is None and not moment.wins and not moment.calling
    forward = Press("Forward", lambda: moment.step(True), key("forward"), main=onward)
    if moment.looking_back and not onward:
        presses.append(forward)
    if moment.may_advise and moment.shown:  # else the button stands where the advice will be
        if moment.advised:
            presses.append(Press("Why?", moment.why, key("why")))
        presses.append(Press("Hide advice", moment.toggle_advice, key("advice")))
    if not moment.policy.stands:
        presses.append(Press("Step back", lambda: moment.step(False), key("back"), enabled=moment.may_step_back))
    if moment.calling:
        return [*presses, *_call_presses(moment, narrow)]
    presses.append(Press("More", moment.more, "e"))
    swap = isinstance(_advised(moment), Exchange) and tile is None and not onward
    if moment.exchanges:
        says = "Exchange" if narrow else "Exchange a joker"
        presses.append(Press(says, moment.exchange, key("exchange"), main=swap and not moment.wins))
    if moment.wins:
        presses.append(Press("Mahjong", moment.mahjong, key("mahjong"), main=True))
    elif onward:
        presses.append(forward)
    else:
        says = "Let a tile go" if tile is None else f"Let go the {name(tile)}"
        presses.append(Press(says, moment.let_go, "return", main=not (swap and moment.exchanges)))
    return presses


def _advised(moment: TurnMoment) -> Action | None:
    """What is advised on the screen; None where no advice is shown."""
    verdict = moment.advice_shown.verdict if moment.advice_shown is not None else None
    return verdict.action if verdict is not None else None


def _call_presses(moment: TurnMoment, narrow: bool) -> list[Press]:
    key = moment.desk.settings.key
    presses = [Press("Let all go until my turn", moment.let_all_go, "u")]
    calls = moment.calls
    advised = isinstance(_advised(moment), Call) and bool(calls) and not moment.looking_back
    says = call_words(calls[0]) if len(calls) == 1 and not narrow else "Call it…"
    call = Press(says, moment.call, key("call"), main=advised and not moment.wins)
    more = Press("More", moment.more, "e")
    if moment.wins:
        return [
            *presses,
            *([call] if calls else []),
            more,
            Press(call_words(LetGo()), moment.let_it_go, "l"),
            Press("Mahjong", moment.mahjong, key("mahjong"), main=True),
        ]
    return [
        *presses,
        more,
        *([call] if calls else []),
        Press(call_words(LetGo()), moment.let_it_go, "l" if advised else "return", main=not advised),
    ]


def more_presses(moment: TurnMoment) -> list[Press]:
    """Everything that can be done besides the choice itself. Calls, mahjong and exchanges are there even when they are
    not open: then they say why."""
    key = moment.desk.settings.key
    playing = not moment.finished
    advise = moment.may_advise and playing
    mahjong = "Mahjong" if moment.wins or moment.state.house.slips else "Mahjong, or why not"
    presses = [
        advice_press(moment, advise),
        Press("Why?", moment.why, key("why"), enabled=advise),
        Press(mahjong, moment.mahjong, key("mahjong"), enabled=playing),
    ]
    if moment.others:
        presses.append(Press("Call the discard", moment.call, key("call"), enabled=playing))
        presses.append(Press("Exchange a joker", moment.exchange, key("exchange"), enabled=playing))
    return [*presses, *(one for one in moment_presses(moment) if not (moment.calling and one.key == "l"))]


def advice_press(moment: SeatMoment, enabled: bool) -> Press:
    """Show or hide the advice."""
    says = "Hide the advice" if moment.shown else "Show the advice"
    return Press(says, moment.toggle_advice, moment.desk.settings.key("advice"), enabled=enabled)


def moment_presses(moment: SeatMoment) -> list[Press]:
    """What can be done at every moment of a deal."""
    key = moment.desk.settings.key
    twist = [Press("The twist", lambda: TwistPopup(moment, moment.sitting), "k")] if moment.state.house.twist else []
    return [
        *twist,
        Press("Step back", lambda: moment.step(False), key("back"), enabled=moment.may_step_back),
        Press("Step forward", lambda: moment.step(True), key("forward"), enabled=moment.looking_back),
        Press("Play it another way", moment.other_sections, "v"),
        Press("Lines of this deal", moment.ways, "l"),
        Press("Read the sheet", moment.sheet, key("sheet")),
        Press("All discards", moment.discards, "d"),
        Press("Notes", moment.note, key("note")),
        Press(f"Rack order: {moment.desk.settings.rack_order}", moment.change_order, key("order")),
        Press("Move the tile left", lambda: moment.move_tile(-1), key("tile left")),
        Press("Move the tile right", lambda: moment.move_tile(1), key("tile right")),
        Press("First choice of the deal", moment.again, "home"),
        Press("Latest moment", moment.latest, "end"),
    ]


def quiet_keys(ui: Ui, presses: Sequence[Press]) -> None:
    """Let keys do what has no button on the table itself, only in the popup of everything else."""
    taken = {one for target in ui.targets for one in target.keys}
    for press in presses:
        if press.key not in taken and press.enabled:
            taken.add(press.key)
            ui.target(f"key {press.key}", Rect(0, 0, 0, 0), press.do, press.says, keys=press.key, quiet=True)


# One's own tiles.


def _rack_room(moment: TurnMoment) -> int:
    """Tiles that the rack has room for just now."""
    return ENDED_RACK if moment.finished else RACK


def _own(moment: TurnMoment, ui: Ui, rect: Rect) -> None:
    """What one has exposed lies at the left on the cloth, the rest stands on the ledge."""
    here, room = moment.rack, _rack_room(moment)
    press = None if moment.finished else moment.press_tile
    exposures = moment.state.exposures[moment.sitting.player]
    if not exposures:
        rack(ui, rect, here, _rack_look(moment), press, least=room)
        return
    width = tile_width(ui, rect.width, room)
    laid = round(width * LAID)
    need = max(round(laid * laid_tiles(exposures)), ui.width(YOU_SHOW, SMALL))
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
    ui.fitted(YOU_SHOW, label, SMALL, SOFT, "middle")
    right = Rect(left + need + gap, rect.top, min(standing, rect.right - left - need - gap), rect.height)
    rack(ui, right, here, _rack_look(moment), press, least=len(here))


def _rack_look(moment: TurnMoment) -> RackLook:
    advice = moment.advice_shown
    costs = advice if advice is not None and not (advice.finished or moment.calling) else None
    return RackLook(
        chosen=None if moment.finished else moment.chosen,
        lit=moment.lit,
        new=moment.fresh,
        advice=costs.rack if costs is not None else None,
        let_go=costs.let_go if costs is not None else None,
        gives=costs.gives if costs is not None else None,
    )
