"""How the passes are painted: which pass it is, the hands in reach before and after it, what goes out, what came in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

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
from game.scenes.table.frame import frame, strip, under_strip
from game.scenes.table.passes import PassMoment
from game.scenes.table.popups import WhyPopup
from game.scenes.table.rack import RackLook, rack
from game.scenes.table.reasons import TRYING, chance_text
from game.scenes.table.view import advice_press, heading, moment_presses, paint_stopped, quiet_keys
from game.ui.buttons import Press
from game.ui.column import Column, led, scrolled
from game.ui.layout import Rect, Space, inset
from game.ui.widgets import Ui
from game.words.actions import with_blind
from game.words.odds import average_words, before_and_after, passed_words

SIDE_FROM = 900
"""Units of width from which the hands in reach stand beside what goes out."""
TIGHT = 190
"""Units of height between header and rack under which only the answers and the advice have room."""
ROOMY = 700
"""Units of height of a window from which the slots of what goes out are large."""
SLOT_WIDE, LOW_SLOT, CAME_TILE = 64, 44, 34
"""Units of width of these slots, in a low window too, and of the tiles that came in."""
CALM_WIDE = 440
"""Units of width at most of the choice where nothing is advised."""
NEAREST = 5
APART = 16
"""Units between the hands in reach and the choice."""


def paint_passes(moment: PassMoment, ui: Ui) -> None:
    """One frame of the passes."""
    if moment.stopped:
        paint_stopped(moment, ui)
        return
    here = moment.rack
    clock = moment.policy.clock_text(moment.state)
    cut = frame(ui, heading(moment), len(here), clock, lambda ui, rect: _steps(moment, ui, rect))
    tight = cut.page.rect.height < ui.u(TIGHT)
    asks = moment.prompt() if moment.picking or moment.looking_back or not tight else moment.question()
    if not strip(ui, cut.bar, asks, moment.trouble, _presses(moment, tight), cut.low):
        under_strip(ui, cut.page, asks, moment.trouble)
    rack(ui, cut.rack, here, _rack_look(moment), moment.press_tile)
    _middle(moment, ui, cut.page.rect, tight)
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


def _presses(moment: PassMoment, tight: bool) -> list[Press]:
    """From the least needed, which a narrow window leaves to the popup, to the main one."""
    key = moment.desk.settings.key
    presses = [_why_press(moment)] if moment.advice_shown is not None else []
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
        if tight and not ready and _advised_presses(moment):
            return [*presses, _advised_presses(moment)[0]]
        says = "Give them" if moment.phase is Phase.GIVING else f"Pass {moment.direction}"
        presses.append(Press(says, moment.pass_them, "return", main=True, enabled=ready))
    return presses


def more_presses(moment: PassMoment) -> list[Press]:
    """Everything that can be done besides the choice itself."""
    key = moment.desk.settings.key
    blind = [Press("Pass another tile blind", moment.more_blind, key("blind"))]
    why = replace(_why_press(moment), enabled=moment.advice_shown is not None)
    toggle = advice_press(moment, moment.may_advise)
    return [toggle, why, *(blind if moment.may_be_blind else []), *moment_presses(moment)]


def _why_press(moment: PassMoment) -> Press:
    """The advice whole, with room to read."""
    popup = lambda: WhyPopup(moment, lambda page, _: _reasons(moment, page), None)  # noqa: E731
    return Press("Why?", popup, moment.desk.settings.key("why"))


def _middle(moment: PassMoment, ui: Ui, rect: Rect, tight: bool) -> None:
    """The hands in reach beside the choice and what is advised about it; the latter alone in a narrow window."""
    advice = moment.advice_shown
    if advice is not None and rect.width >= ui.u(SIDE_FROM):
        space = Space(rect)
        reach = space.left(reach_width(ui, rect.width), ui.u(APART))
        _choice_panel(moment, ui, space.rect, tight)
        _board(moment, ui, reach, advice)
        return
    _choice_panel(moment, ui, rect, tight)


def reach_width(ui: Ui, width: int) -> int:
    """Pixels of width of the hands in reach, beside the choice, out of so many."""
    return width - round(width * 0.42) - ui.u(APART)


def _board(moment: PassMoment, ui: Ui, rect: Rect, advice: PassAdvice | RoundAdvice | CourtesyAdvice) -> None:
    shown = Advice(advice.draws, Chance(0.0, Known.ESTIMATED), advice.plan, advice.because, advice.hands, (), ())
    after = None
    if isinstance(advice, PassAdvice):
        after = moment.reach_after(_going(moment, advice))
    coming = advice.coming if isinstance(advice, PassAdvice) else 0
    board(ui, rect, shown, BoardLook(after=after, coming=coming, turns=advice.turns), lambda _: None)


def _choice_panel(moment: PassMoment, ui: Ui, rect: Rect, tight: bool) -> None:
    """The choice, which never scrolls away; under it the advice, of which the first part is always seen whole.

    In a `tight` panel the tiles chosen are seen on the rack alone, and what is asked stands in the strip.
    """
    ui.panel(rect)
    inner = inset(rect, ui.u(18), ui.u(6 if tight else 12))
    if not (tight or (moment.shown and moment.may_advise)):
        with ui.within(rect):
            scrolled(ui, "choice", inner, partial(_calm, moment), widest=CALM_WIDE, roomy=True)
        return
    choice = Column(ui, inner.width)
    if not tight:
        choice.heading(moment.question())
        choice.gap(8)
    if moment.picking:
        if not tight or moment.advice_shown is None:
            _slots(moment, choice)
    else:
        choice.buttons(_answers(moment), show_keys=not tight)
    if moment.made is not None or not moment.picking or not tight:
        choice.space(4 if tight else 10)
    with ui.within(rect):
        y = choice.paint(inner.topleft) if not choice.empty else inner.top
        rest = Rect(inner.left, y, inner.width, inner.bottom - y)
        led(ui, "choice", rest, partial(_verdict, moment), partial(_figures, moment, tight), gap=12)


def _calm(moment: PassMoment, page: Column) -> None:
    """The choice without advice, in the middle."""
    page.spring(2)
    page.heading(moment.question())
    page.gap(8)
    if moment.picking:
        _slots(moment, page)
    else:
        page.buttons(_answers(moment))
    page.gap(12)
    _verdict(moment, page)
    page.gap(12)
    _figures(moment, False, page)
    page.spring(3)


def _answers(moment: PassMoment) -> list[Press]:
    """The answers to a question about the passes to come; the advised one is the main one."""
    asking = not moment.looking_back  # else Enter goes forward
    advice = moment.advice_shown
    if moment.phase is Phase.AGREEING:
        stop = isinstance(advice, RoundAdvice) and not advice.agree
        return [
            Press("Play it", moment.agree, "p", main=asking and not stop),
            Press("Stop here", moment.stop, moment.desk.settings.key("stop"), main=asking and stop),
        ]
    best = advice.ask if isinstance(advice, CourtesyAdvice) else 3
    return [
        Press("None" if number == 0 else str(number), partial(moment.ask, number), str(number),
              main=asking and number == best)
        for number in range(4)
    ]  # fmt: skip


def _advised_presses(moment: PassMoment) -> list[Press]:
    """Take the advised tiles with one press."""
    advice = moment.advice_shown
    if isinstance(advice, CourtesyAdvice) and moment.phase is Phase.GIVING:
        return [_take(moment, advice.give)]
    if not isinstance(advice, PassAdvice):
        return []
    presses = [_take(moment, advice.choices[0].kinds)]
    if advice.blind:
        says = f"{words.in_words(advice.blind).capitalize()} blind, as advised"
        presses.append(Press(says, partial(moment.take_advised, advice.blind_kinds, advice.blind), "u"))
    return presses


def _take(moment: PassMoment, kinds: tuple[Kind, ...]) -> Press:
    """Choose these tiles."""
    return Press(f"{words.in_words(len(kinds)).capitalize()} as advised", partial(moment.take_advised, kinds), "c")


def _slots(moment: PassMoment, page: Column) -> None:
    """What goes out: chosen tiles, backs for those passed on unseen, outlines for what is still to be chosen. Beside
    them what is advised can be taken with one press."""
    ui = page.ui
    total = moment.needed + moment.blind
    width = min(
        ui.u(SLOT_WIDE if ui.window.height >= ROOMY * ui.look.unit(ui.window.size) else LOW_SLOT), page.width // 6
    )
    wide = total * width + (total - 1) * ui.u(10)
    with page.aside(wide, gap=16, stacked=page.width - wide < ui.u(150), apart=8, down="middle") as (tiles, beside):
        tiles.put(height_for(width), lambda rect: _paint_slots(moment, ui, rect, width))
        beside.buttons(_advised_presses(moment))
    if moment.may_be_blind:
        page.gap(6)
        said = "Last pass of the round: up to three of the tiles coming in may be passed on, unseen."
        if moment.blind:
            said = f"{words.sentence(words.count(moment.blind, 'tile'))} of those coming in will go on, unseen."
        page.text(said, BODY, SOFT)


def _paint_slots(moment: PassMoment, ui: Ui, rect: Rect, width: int) -> None:
    out = moment.out
    for index in range(moment.needed + moment.blind):
        place = Rect(rect.left + index * (width + ui.u(10)), rect.top, width, rect.height)
        if index < len(out):
            ui.tile(Face(out[index]), place)
            back = partial(moment.press_tile, moment.picked[index])
            ui.target(f"out {index}", place, back, "take it back", radius=9)
        else:
            ui.tile(Face(None, TURNED if index >= moment.needed else SLOT), place)


def _tile_line(page: Column, label: str, kinds: Sequence[Kind]) -> None:
    """A few tiles behind a label."""
    wide = min(page.ui.width(label, BODY) + page.ui.u(4), page.width // 2)
    with page.aside(wide, gap=12, down="middle") as (said, tiles):
        said.text(label, BODY, SOFT)
        tiles.tiles([Face(kind) for kind in kinds], CAME_TILE, gap=5)
    page.gap(14)


def _reasons(moment: PassMoment, page: Column) -> None:
    """The question, the advice and all figures."""
    page.heading(moment.question())
    page.gap(8)
    _verdict(moment, page)
    page.gap(12)
    _figures(moment, False, page)


def _verdict(moment: PassMoment, page: Column) -> None:
    """What is advised, and why."""
    advice = moment.advice_shown
    if advice is None:
        if moment.shown and moment.may_advise:
            page.text("Weighing every choice of three…", BODY, SOFT)
    elif isinstance(advice, CourtesyAdvice) and moment.phase is Phase.GIVING:
        page.text(f"Advised: {say_tiles(advice.give)}", BODY_BOLD)
        page.text(advice.because)
    elif isinstance(advice, PassAdvice):
        if advice.blind:
            page.text(f"Advised: {with_blind(advice.blind_kinds, advice.blind)}", BODY_BOLD)
            page.text(f"{advice.blind_aim} {advice.blind_because}")
            return
        page.text(f"Advised: {say_tiles(advice.choices[0].kinds)}", BODY_BOLD)
        page.text(advice.because)
    else:
        page.text(advice.because)


def _figures(moment: PassMoment, tight: bool, page: Column) -> None:
    """What stands under the advice: what came in and went out, how likely a hand is, and the other choices."""
    if isinstance(moment.made, Pass | Give) and not moment.picked:
        _tile_line(page, "Went from here:", moment.made.kinds)
    if moment.came and moment.sitting.state.passes_done:
        _tile_line(page, f"Came in from {moment.came_from}:", moment.came)
    advice = moment.advice_shown
    if not isinstance(advice, PassAdvice):
        return
    if tight:  # the first of them stands in the strip
        page.buttons(_advised_presses(moment)[1:])
        page.gap(12)
    if advice.chance.known is not Known.ESTIMATED:
        within = f"the {words.count(advice.draws - advice.coming, 'draw')} of play"
        chance_text(page, advice.chance, within + (", after those three" if advice.blind else ""))
        page.gap(12)
    elif moment.trying:
        page.text(TRYING, SMALL, SOFT)
        page.gap(12)
    _mine(moment, page, advice)
    page.text("Best three from the rack" if advice.blind else "Next best", SMALL_BOLD, SOFT)
    for choice in advice.choices[0 if advice.blind else 1 : 4]:
        _other(page, choice, advice.turns)
        page.gap(3)
    page.text(average_words(advice), SMALL, SOFT)
    if page.ui.page().width < page.ui.u(SIDE_FROM):
        page.gap(12)
        _near(moment, page, advice)


def _near(moment: PassMoment, page: Column, advice: PassAdvice) -> None:
    """The nearest hands in a line each, where there is no room for the board."""
    after = moment.reach_after(_going(moment, advice))
    page.text("Within reach, and after this pass", SMALL_BOLD, SOFT)
    for reach in advice.hands[:NEAREST]:
        then = before_and_after(reach, after.get(reach.hand.name), advice.coming, turns=advice.turns)
        page.text(f"{reach.hand.name}: {reach.missing} to come, {then}", SMALL)


def _going(moment: PassMoment, advice: PassAdvice) -> tuple[Kind, ...]:
    """The tiles chosen to go if there are three, else those advised."""
    out = tuple(sorted(moment.out))
    return out if moment.blind == 0 and len(out) == moment.needed else advice.choices[0].kinds


def _mine(moment: PassMoment, page: Column, advice: PassAdvice) -> None:
    """How the player's own three stand to the advised ones, once three are chosen."""
    mine = tuple(sorted(moment.out))
    if moment.blind or len(mine) != 3 or mine == advice.choices[0].kinds:
        return
    for place, choice in enumerate(advice.choices, 1):
        if choice.kinds == mine:
            cost = passed_words(choice, turns=advice.turns)
            page.text(f"Your choice is number {place} of {len(advice.choices)}: {cost}. {moment.explained(mine)}")
            page.gap(12)


def _other(page: Column, choice: PassChoice, turns: bool) -> None:
    figure = passed_words(choice, turns=turns)
    with page.aside(page.ui.width(figure, SMALL) + page.ui.u(4), gap=12, right=True) as (tiles, cost):
        tiles.text(say_tiles(choice.kinds), SMALL)
        cost.text(figure, SMALL, SOFT, across="right")
