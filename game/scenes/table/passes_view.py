"""How the passes are painted: which pass it is, the hands in reach before and after it, what goes out, what came in."""

from __future__ import annotations

from collections.abc import Sequence

from engine import words
from engine.advice.advise.answers import Advice, Chance, CourtesyAdvice, Known, PassAdvice, PassChoice, RoundAdvice
from engine.rules.actions import Give, Pass
from engine.rules.passing import DIRECTIONS, FIRST_ROUND
from engine.rules.state import Phase
from engine.tiles import Kind, say_tiles
from game.draw.theme import (
    BODY,
    BODY_BOLD,
    CARD,
    EDGE,
    HEADING,
    INK,
    LIT,
    ON_TEAL,
    SMALL,
    SMALL_BOLD,
    SOFT,
    TEAL,
)
from game.draw.tiles import SLOT, TURNED, Face, height_for
from game.scenes.table.board import BoardLook, board
from game.scenes.table.frame import LOW_UNDER, frame, strip, under_strip
from game.scenes.table.passes import PassMoment
from game.scenes.table.rack import RackLook, rack
from game.scenes.table.reasons import TRYING, chance_text
from game.scenes.table.view import advice_press, heading, moment_presses, paint_stopped, quiet_keys
from game.ui.buttons import Press
from game.ui.layout import Rect, Space, inset
from game.ui.widgets import Ui
from game.words.odds import before_and_after, passed_words

SIDE_FROM = 900
"""Units of width from which the hands in reach stand beside what goes out."""
NEAREST = 5


def paint_passes(moment: PassMoment, ui: Ui) -> None:
    """One frame of the passes."""
    if moment.stopped:
        paint_stopped(moment, ui)
        return
    here = moment.rack
    clock = moment.policy.clock_text(moment.state)
    cut = frame(ui, heading(moment), len(here), clock, lambda ui, rect: _steps(moment, ui, rect))
    asks = moment.prompt()
    if not strip(ui, cut.bar, asks, moment.trouble, _presses(moment), cut.low):
        under_strip(ui, cut.page, asks, moment.trouble)
    rack(ui, cut.rack, here, _rack_look(moment), moment.press_tile)
    _middle(moment, ui, cut.page.rect)
    quiet_keys(ui, more_presses(moment))


def _steps(moment: PassMoment, ui: Ui, rect: Rect) -> int:
    """Which pass it is, as a row of words; the present one is filled, those played are ticked. Gives the right edge."""
    state = moment.sitting.state
    steps = list(DIRECTIONS[: state.house.passes]) + (["courtesy"] if state.house.plays_courtesy else [])
    courtesy = moment.phase in (Phase.ASKING, Phase.GIVING)
    now = len(steps) - 1 if courtesy else state.passes_done
    x = rect.left
    high = ui.u(32)
    for index, step in enumerate(steps):
        wide = ui.width(step, SMALL_BOLD) + ui.u(26)
        gap = ui.u(20) if index in (FIRST_ROUND, state.house.passes) and index else ui.u(6)
        x += gap if index else 0
        if x + wide > rect.right:
            return x
        pill = Rect(x, rect.top + (rect.height - high) // 2, wide, high)
        here = index == now and moment.phase is not Phase.AGREEING
        done = index < state.passes_done
        ui.panel(pill, TEAL if here else LIT if done else CARD, TEAL if here or done else EDGE, 16, 1.5)
        with ui.within(pill):
            ui.fitted(step, pill, SMALL_BOLD if here or done else SMALL, ON_TEAL if here else INK, "middle")
        x += wide
    return x


def _rack_look(moment: PassMoment) -> RackLook:
    chosen = None if moment.chosen is None or moment.chosen in moment.picked else moment.chosen
    return RackLook(chosen=chosen, new=moment.fresh, picked=frozenset(moment.picked), gone=moment.gone)


def _presses(moment: PassMoment) -> list[Press]:
    """From the least needed, which a narrow window leaves to the popup, to the main one."""
    key = moment.desk.settings.key
    presses = []
    if moment.may_advise:
        presses.append(Press("Hide advice" if moment.shown else "Advice", moment.toggle_advice, key("advice")))
    onward = moment.looking_back and not moment.picked
    forward = Press("Forward", lambda: moment.step(True), key("forward"), main=onward)
    if moment.looking_back and not onward:
        presses.append(forward)
    presses.append(Press("Step back", lambda: moment.step(False), key("back"), enabled=moment.may_step_back))
    if moment.may_be_blind:
        says = "None blind" if moment.blind == 3 else f"{words.in_words(moment.blind + 1).capitalize()} blind"
        presses.append(Press(says, moment.more_blind, key("blind")))
    presses.append(Press("More", moment.more, "e"))
    if onward:
        return [*presses, forward]
    if moment.picking:
        ready = len(moment.picked) == moment.needed
        says = "Give them" if moment.phase is Phase.GIVING else f"Pass {moment.direction}"
        presses.append(Press(says, moment.pass_them, "return", main=True, enabled=ready))
    return presses


def more_presses(moment: PassMoment) -> list[Press]:
    """Everything that can be done besides the choice itself."""
    blind = [Press("Pass another tile blind", moment.more_blind, moment.desk.settings.key("blind"))]
    toggle = advice_press(moment, moment.may_advise)
    return [toggle, *(blind if moment.may_be_blind else []), *moment_presses(moment)]


def _middle(moment: PassMoment, ui: Ui, rect: Rect) -> None:
    """The hands in reach beside what goes out; one under the other where the window is narrow."""
    advice = moment.advice_shown
    if advice is not None and rect.width >= ui.u(SIDE_FROM):
        space = Space(rect)
        _choice_panel(moment, ui, space.right(round(rect.width * 0.42), ui.u(16)))
        _board(moment, ui, space.rect, advice)
        return
    _choice_panel(moment, ui, rect)


def _board(moment: PassMoment, ui: Ui, rect: Rect, advice: PassAdvice | RoundAdvice | CourtesyAdvice) -> None:
    shown = Advice(advice.draws, Chance(0.0, Known.ESTIMATED), advice.plan, advice.because, advice.hands, (), ())
    after = None
    if isinstance(advice, PassAdvice):
        after = moment.reach_after(_going(moment, advice))
    coming = advice.coming if isinstance(advice, PassAdvice) else 0
    board(ui, rect, shown, BoardLook(after=after, coming=coming, turns=advice.turns), lambda _: None)


def _choice_panel(moment: PassMoment, ui: Ui, rect: Rect) -> None:
    ui.panel(rect)
    inner = inset(rect, ui.u(18), ui.u(12))
    with ui.within(rect):
        ui.scroll("choice", inner, lambda area: _choice(moment, ui, area))


def _choice(moment: PassMoment, ui: Ui, area: Rect) -> int:
    """The question, what goes out and came in, and the advice; in a low window the advice comes first."""
    y = ui.paragraph(moment.question(), area.topleft, area.width, HEADING) + ui.u(8)
    low = ui.window.height < ui.u(LOW_UNDER) and moment.advice_shown is not None and not moment.picked
    y = _why(moment, ui, area, y) + ui.u(10) if low else y
    asking = not moment.looking_back  # else Enter goes forward
    if isinstance(moment.made, Pass | Give) and not moment.picked:
        y = _tile_line(ui, area, y, "Went from here:", moment.made.kinds)
    if moment.picking:
        y = _slots(moment, ui, area, y)
    elif moment.phase is Phase.AGREEING:
        stop = isinstance(moment.advice_shown, RoundAdvice) and not moment.advice_shown.agree
        presses = [
            Press("Play it", moment.agree, "p", main=asking and not stop),
            Press("Stop here", moment.stop, moment.desk.settings.key("stop"), main=asking and stop),
        ]
        y = ui.buttons((area.left, y), area.width, presses) + ui.u(14)
    else:
        best = moment.advice_shown.ask if isinstance(moment.advice_shown, CourtesyAdvice) else 3
        presses = [
            Press("None" if number == 0 else str(number), lambda number=number: moment.ask(number), str(number),  # type: ignore[misc]
                  main=asking and number == best)
            for number in range(4)
        ]  # fmt: skip
        y = ui.buttons((area.left, y), area.width, presses) + ui.u(14)
    if moment.came and moment.sitting.state.passes_done:
        y = _tile_line(ui, area, y, f"Came in from {moment.came_from}:", moment.came)
    return y if low else _why(moment, ui, area, y)


def _slots(moment: PassMoment, ui: Ui, area: Rect, y: int) -> int:
    """What goes out: chosen tiles, backs for those passed on unseen, outlines for what is still to be chosen."""
    width = min(ui.u(78), area.width // 4, max(int(area.height * 0.3 / 1.38), ui.u(34)))
    x = area.left
    total = moment.needed + moment.blind
    out = moment.out
    for index in range(total):
        place = Rect(x, y, width, height_for(width))
        if index < len(out):
            ui.tile(Face(out[index]), place)
            here = moment.picked[index]
            ui.target(f"out {index}", place, lambda here=here: moment.press_tile(here), "take it back", radius=9)  # type: ignore[misc]
        elif index >= moment.needed:
            ui.tile(Face(None, TURNED), place)
        else:
            ui.tile(Face(None, SLOT), place)
        x += width + ui.u(10)
    room = Rect(x + ui.u(8), y, area.right - x - ui.u(8), height_for(width))
    if moment.may_be_blind:
        said = (
            f"{words.sentence(words.count(moment.blind, 'tile'))} of those coming in will go on, unseen."
            if moment.blind
            else "Last pass of the round: up to three of the tiles coming in may be passed on, unseen."
        )
        if room.width > ui.u(150):
            ui.fitted(said, room, BODY, SOFT)
        else:
            y = ui.paragraph(said, (area.left, y + height_for(width) + ui.u(6)), area.width, BODY, SOFT)
            return y + ui.u(14)
    return y + height_for(width) + ui.u(14)


def _tile_line(ui: Ui, area: Rect, y: int, label: str, kinds: Sequence[Kind]) -> int:
    """A few tiles behind a label; gives the y under them."""
    width = ui.u(34)
    high = height_for(width)
    wide = ui.width(label, BODY) + ui.u(10)
    ui.fitted(label, Rect(area.left, y, min(wide, area.width // 2), high), BODY, SOFT)
    x = area.left + min(wide, area.width // 2) + ui.u(6)
    for kind in kinds:
        ui.tile(Face(kind), Rect(x, y, width, high))
        x += width + ui.u(5)
    return y + high + ui.u(14)


def _why(moment: PassMoment, ui: Ui, area: Rect, y: int) -> int:
    advice = moment.advice_shown
    if advice is None:
        if moment.shown and moment.may_advise:
            return ui.paragraph("Weighing every choice of three…", (area.left, y), area.width, BODY, SOFT)
        return y
    if isinstance(advice, CourtesyAdvice) and moment.phase is Phase.GIVING:
        return _give(moment, ui, area, y, advice)
    if isinstance(advice, RoundAdvice | CourtesyAdvice):
        return ui.paragraph(advice.because, (area.left, y), area.width, BODY)
    best = advice.choices[0]
    y = ui.paragraph(f"Advised: {say_tiles(best.kinds)}", (area.left, y), area.width, BODY_BOLD)
    y = ui.paragraph(advice.because, (area.left, y), area.width, BODY) + ui.u(8)
    presses = [Press("Choose these", lambda: moment.take_advised(best.kinds), "c")]
    if advice.blind:
        y = ui.paragraph(advice.blind_because, (area.left, y), area.width, BODY) + ui.u(8)
        blind = f"{words.in_words(advice.blind).capitalize()} blind, as advised"
        presses.append(Press(blind, lambda: moment.take_advised(advice.blind_kinds, advice.blind), "u"))
    y = ui.buttons((area.left, y), area.width, presses) + ui.u(12)
    if advice.chance.known is not Known.ESTIMATED:
        within = f"the {words.count(advice.draws - advice.coming, 'draw')} of play"
        within += ", after those three" if advice.blind else ""
        y = chance_text(ui, area, y, advice.chance, within) + ui.u(12)
    elif moment.trying:
        y = ui.paragraph(TRYING, (area.left, y), area.width, SMALL, SOFT) + ui.u(12)
    mine = tuple(sorted(moment.out))
    if moment.blind == 0 and len(mine) == 3 and mine != best.kinds:
        y = _mine(moment, ui, area, y, advice, mine)
    y = ui.paragraph("Next best", (area.left, y), area.width, SMALL_BOLD, SOFT)
    for choice in advice.choices[1:4]:
        y = _other(ui, area, y, choice, advice.turns)
    if ui.page().width < ui.u(SIDE_FROM):
        y = _near(moment, ui, area, y + ui.u(12), advice)
    return y


def _give(moment: PassMoment, ui: Ui, area: Rect, y: int, advice: CourtesyAdvice) -> int:
    """The tiles to give in the courtesy pass, taken with one press."""
    y = ui.paragraph(f"Advised: {say_tiles(advice.give)}", (area.left, y), area.width, BODY_BOLD)
    because = next((choice.because for choice in advice.choices if choice.kinds == tuple(sorted(advice.give))), "")
    y = ui.paragraph(because, (area.left, y), area.width, BODY) if because else y
    return ui.buttons(
        (area.left, y + ui.u(8)), area.width, [Press("Choose these", lambda: moment.take_advised(advice.give), "c")]
    )


def _near(moment: PassMoment, ui: Ui, area: Rect, y: int, advice: PassAdvice) -> int:
    """The nearest hands in a line each, where there is no room for the board."""
    after = moment.reach_after(_going(moment, advice))
    y = ui.paragraph("Within reach, and after this pass", (area.left, y), area.width, SMALL_BOLD, SOFT)
    for reach in advice.hands[:NEAREST]:
        then = before_and_after(reach, after.get(reach.hand.name), advice.coming, turns=advice.turns)
        said = f"{reach.hand.name}: {reach.missing} to come, {then}"
        y = ui.paragraph(said, (area.left, y), area.width, SMALL)
    return y


def _going(moment: PassMoment, advice: PassAdvice) -> tuple[Kind, ...]:
    """The tiles chosen to go if there are three, else those advised."""
    out = tuple(sorted(moment.out))
    return out if moment.blind == 0 and len(out) == moment.needed else advice.choices[0].kinds


def _mine(moment: PassMoment, ui: Ui, area: Rect, y: int, advice: PassAdvice, mine: tuple[Kind, ...]) -> int:
    for place, choice in enumerate(advice.choices):
        if choice.kinds == mine:
            because = moment.explained(mine)
            cost = passed_words(choice, turns=advice.turns)
            said = f"Your choice is number {place + 1} of {len(advice.choices)}: {cost}. {because}"
            return ui.paragraph(said, (area.left, y), area.width, BODY) + ui.u(12)
    return y


def _other(ui: Ui, area: Rect, y: int, choice: PassChoice, turns: bool) -> int:
    figure = passed_words(choice, turns=turns)
    wide = ui.width(figure, SMALL) + ui.u(4)
    high = max(ui.tall(say_tiles(choice.kinds), area.width - wide - ui.u(12), SMALL), ui.line(SMALL))
    ui.paragraph(say_tiles(choice.kinds), (area.left, y), area.width - wide - ui.u(12), SMALL)
    ui.fitted(figure, Rect(area.right - wide, y, wide, ui.line(SMALL)), SMALL, SOFT, "right")
    return y + high + ui.u(3)
