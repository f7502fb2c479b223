"""How the passes are painted: which pass it is, the hands in reach before and after it, what goes out, what came in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from engine import words
from engine.advice.advise.answers import Advice, CourtesyAdvice, PassAdvice, PassChoice, RoundAdvice
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
    TITLE,
    TOUCH,
    VERMILION_TEXT,
)
from game.draw.tiles import SLOT, TURNED, Face, height_for
from game.scenes.table.board import BoardLook, board
from game.scenes.table.frame import frame, strip
from game.scenes.table.rack import RackLook, rack
from game.scenes.table.reasons import TRYING, outlook_text
from game.scenes.table.view import moment_presses, quiet_keys
from game.ui.buttons import Press
from game.ui.layout import Rect, Space, inset
from game.ui.widgets import Ui
from game.words.odds import passed_words

if TYPE_CHECKING:
    from game.scenes.table.passes import PassScene

SIDE_FROM = 900
"""Units of width from which the hands in reach stand beside what goes out."""
NEAREST = 5


def paint_passes(scene: PassScene, ui: Ui) -> None:
    """One frame of the passes."""
    here = scene.rack
    cut = frame(ui, lambda ui: _header(scene, ui), len(here), scene.back, scene.clock_text)
    page = cut.page
    if not strip(ui, cut.bar, scene.prompt(), scene.trouble, _presses(scene), cut.low):
        page.top(ui.notice(scene.trouble, page.rect.topleft, page.rect.width) - page.rect.top, ui.u(10))
    rack(ui, cut.rack, here, _rack_look(scene, here), scene.press_tile)
    _middle(scene, ui, page.rect)
    quiet_keys(ui, more_presses(scene))


def _header(scene: PassScene, ui: Ui) -> Rect:
    space = Space(ui.page())
    row = space.top(ui.u(TOUCH), ui.u(10))
    home = Rect(row.left, row.top, ui.button_size("Home")[0] + ui.u(16), row.height)
    ui.button(home, "Home", scene.back, name="back", key="escape", arrow=True)
    left = home.right + ui.u(16)
    if scene.clock_text:
        wide = ui.width(scene.clock_text, BODY_BOLD) + ui.u(4)
        ui.fitted(scene.clock_text, Rect(row.right - wide, row.top, wide, row.height), BODY_BOLD, across="right")
        row = Rect(row.left, row.top, row.width - wide - ui.u(20), row.height)
    title = "Looking back" if scene.looking_back else "The passes"
    wide = ui.width(title, TITLE) + ui.u(2)
    ui.fitted(title, Rect(left, row.top, wide, row.height), TITLE, VERMILION_TEXT if scene.looking_back else INK)
    left += wide + ui.u(20)
    right = _steps(scene, ui, Rect(left, row.top, row.right - left, row.height))
    state = scene.sitting.state
    note = f"{state.sheet.name} {state.sheet.season}  ·  deal {scene.code}"
    room = Rect(right + ui.u(16), row.top, row.right - right - ui.u(16), row.height)
    if ui.width(note, BODY) <= room.width:
        ui.fitted(note, room, BODY, SOFT, "right")
    return space.rect


def _steps(scene: PassScene, ui: Ui, rect: Rect) -> int:
    """Which pass it is, as a row of words; the present one is filled, those played are ticked. Gives the right edge."""
    state = scene.sitting.state
    steps = list(DIRECTIONS[: state.house.passes]) + (["courtesy"] if state.house.courtesy else [])
    courtesy = scene.phase in (Phase.ASKING, Phase.GIVING)
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
        here = index == now and scene.phase is not Phase.AGREEING
        done = index < state.passes_done
        ui.panel(pill, TEAL if here else LIT if done else CARD, TEAL if here or done else EDGE, 16, 1.5)
        with ui.within(pill):
            ui.fitted(step, pill, SMALL_BOLD if here or done else SMALL, ON_TEAL if here else INK, "middle")
        x += wide
    return x


def _rack_look(scene: PassScene, here: tuple[Kind, ...]) -> RackLook:
    came = list(scene.came)
    new = set()
    for place in range(len(here) - 1, -1, -1):
        if here[place] in came:
            came.remove(here[place])
            new.add(place)
    chosen = None if scene.chosen is None or scene.chosen in scene.picked else scene.chosen
    return RackLook(chosen=chosen, new=frozenset(new), picked=frozenset(scene.picked))


def _presses(scene: PassScene) -> list[Press]:
    """From the least needed, which a narrow window leaves to the popup, to the main one."""
    key = scene.desk.settings.key
    presses = []
    if scene.may_advise:
        presses.append(Press("Hide advice" if scene.shown else "Advice", scene.toggle_advice, key("advice")))
    if scene.looking_back:
        presses.append(Press("Forward", lambda: scene.step(True), key("forward")))
    presses.append(Press("Step back", lambda: scene.step(False), key("back"), enabled=bool(scene.sitting.decisions)))
    if scene.may_be_blind:
        says = "None blind" if scene.blind == 3 else f"{words.in_words(scene.blind + 1).capitalize()} blind"
        presses.append(Press(says, scene.more_blind, key("blind")))
    presses.append(Press("More", scene.more, "e"))
    if scene.picking:
        ready = len(scene.picked) == scene.needed
        says = "Give them" if scene.phase is Phase.GIVING else f"Pass {scene.direction}"
        presses.append(Press(says, scene.pass_them, "return", main=True, enabled=ready))
    return presses


def more_presses(scene: PassScene) -> list[Press]:
    """Everything that can be done besides the choice itself."""
    says = "Hide the advice" if scene.shown else "Show the advice"
    toggle = Press(says, scene.toggle_advice, scene.desk.settings.key("advice"), enabled=scene.may_advise)
    blind = [Press("Pass another tile blind", scene.more_blind, scene.desk.settings.key("blind"))]
    return [toggle, *(blind if scene.may_be_blind else []), *moment_presses(scene)]


def _middle(scene: PassScene, ui: Ui, rect: Rect) -> None:
    """The hands in reach beside what goes out; one under the other where the window is narrow."""
    advice = scene.advice_shown
    if advice is not None and rect.width >= ui.u(SIDE_FROM):
        space = Space(rect)
        _choice_panel(scene, ui, space.right(round(rect.width * 0.42), ui.u(16)))
        _board(scene, ui, space.rect, advice)
        return
    _choice_panel(scene, ui, rect)


def _board(scene: PassScene, ui: Ui, rect: Rect, advice: PassAdvice | RoundAdvice | CourtesyAdvice) -> None:
    shown = Advice(advice.draws, 0.0, advice.hands, (), (), 0.0)
    after = None
    if isinstance(advice, PassAdvice):
        after = scene.odds_after(_going(scene, advice))
    board(ui, rect, shown, BoardLook(after=after), lambda _: None)


def _choice_panel(scene: PassScene, ui: Ui, rect: Rect) -> None:
    ui.panel(rect)
    inner = inset(rect, ui.u(18), ui.u(12))
    with ui.within(rect):
        ui.scroll("choice", inner, lambda area: _choice(scene, ui, area))


def _choice(scene: PassScene, ui: Ui, area: Rect) -> int:
    y = ui.paragraph(scene.question(), area.topleft, area.width, HEADING) + ui.u(8)
    if scene.picking:
        y = _slots(scene, ui, area, y)
    elif scene.phase is Phase.AGREEING:
        stop = isinstance(scene.advice_shown, RoundAdvice) and not scene.advice_shown.agree
        presses = [
            Press("Play it", scene.agree, "p", main=not stop),
            Press("Stop here", scene.stop, scene.desk.settings.key("stop"), main=stop),
        ]
        y = ui.buttons((area.left, y), area.width, presses) + ui.u(14)
    else:
        best = scene.advice_shown.ask if isinstance(scene.advice_shown, CourtesyAdvice) else 3
        presses = [
            Press("None" if number == 0 else str(number), lambda number=number: scene.ask(number), str(number),  # type: ignore[misc]
                  main=number == best)
            for number in range(4)
        ]  # fmt: skip
        y = ui.buttons((area.left, y), area.width, presses) + ui.u(14)
    if scene.came and scene.sitting.state.passes_done:
        y = _came(scene, ui, area, y)
    return _why(scene, ui, area, y)


def _slots(scene: PassScene, ui: Ui, area: Rect, y: int) -> int:
    """What goes out: chosen tiles, backs for those passed on unseen, outlines for what is still to be chosen."""
    width = min(ui.u(78), area.width // 4, max(int(area.height * 0.3 / 1.38), ui.u(34)))
    x = area.left
    total = scene.needed + scene.blind
    out = scene.out
    for index in range(total):
        place = Rect(x, y, width, height_for(width))
        if index < len(out):
            ui.tile(Face(out[index]), place)
            here = scene.picked[index]
            ui.target(f"out {index}", place, lambda here=here: scene.press_tile(here), "take it back", radius=9)  # type: ignore[misc]
        elif index >= scene.needed:
            ui.tile(Face(None, TURNED), place)
        else:
            ui.tile(Face(None, SLOT), place)
        x += width + ui.u(10)
    room = Rect(x + ui.u(8), y, area.right - x - ui.u(8), height_for(width))
    if scene.may_be_blind:
        said = (
            f"{words.sentence(words.count(scene.blind, 'tile'))} of those coming in will go on, unseen."
            if scene.blind
            else "Last pass of the round: up to three of the tiles coming in may be passed on, unseen."
        )
        if room.width > ui.u(150):
            ui.fitted(said, room, BODY, SOFT)
        else:
            y = ui.paragraph(said, (area.left, y + height_for(width) + ui.u(6)), area.width, BODY, SOFT)
            return y + ui.u(14)
    return y + height_for(width) + ui.u(14)


def _came(scene: PassScene, ui: Ui, area: Rect, y: int) -> int:
    width = ui.u(34)
    high = height_for(width)
    label = f"Came in from {scene.came_from}:"
    wide = ui.width(label, BODY) + ui.u(10)
    ui.fitted(label, Rect(area.left, y, min(wide, area.width // 2), high), BODY, SOFT)
    x = area.left + min(wide, area.width // 2) + ui.u(6)
    for kind in scene.came:
        ui.tile(Face(kind), Rect(x, y, width, high))
        x += width + ui.u(5)
    return y + high + ui.u(14)


def _why(scene: PassScene, ui: Ui, area: Rect, y: int) -> int:
    advice = scene.advice_shown
    if advice is None:
        if scene.shown and scene.may_advise:
            return ui.paragraph("Weighing every choice of three…", (area.left, y), area.width, BODY, SOFT)
        return y
    if isinstance(advice, RoundAdvice | CourtesyAdvice):
        return ui.paragraph(advice.because, (area.left, y), area.width, BODY)
    best = advice.choices[0]
    y = ui.paragraph(f"Advised: {say_tiles(best.kinds)}", (area.left, y), area.width, BODY_BOLD)
    y = ui.paragraph(best.because, (area.left, y), area.width, BODY) + ui.u(8)
    presses = [Press("Choose these", lambda: scene.take_advised(best.kinds), "c")]
    if advice.blind:
        y = ui.paragraph(advice.blind_because, (area.left, y), area.width, BODY) + ui.u(8)
        blind = f"{words.in_words(advice.blind).capitalize()} blind, as advised"
        presses.append(Press(blind, lambda: scene.take_advised(advice.blind_kinds, advice.blind), "u"))
    y = ui.buttons((area.left, y), area.width, presses) + ui.u(12)
    if advice.outlook is not None:
        within = f"the {words.count(advice.draws - advice.coming, 'draw')} of play"
        within += ", after those three" if advice.blind else ""
        y = outlook_text(ui, area, y, advice.outlook, within) + ui.u(12)
    elif scene.trying:
        y = ui.paragraph(TRYING, (area.left, y), area.width, SMALL, SOFT) + ui.u(12)
    mine = tuple(sorted(scene.out))
    if scene.blind == 0 and len(mine) == 3 and mine != best.kinds:
        y = _mine(scene, ui, area, y, advice, mine)
    y = ui.paragraph("Next best", (area.left, y), area.width, SMALL_BOLD, SOFT)
    for choice in advice.choices[1:4]:
        y = _other(ui, area, y, choice)
    if ui.page().width < ui.u(SIDE_FROM):
        y = _near(scene, ui, area, y + ui.u(12), advice)
    return y


def _near(scene: PassScene, ui: Ui, area: Rect, y: int, advice: PassAdvice) -> int:
    """The nearest hands in a line each, where there is no room for the board."""
    after = scene.odds_after(_going(scene, advice))
    y = ui.paragraph("Within reach, and after this pass", (area.left, y), area.width, SMALL_BOLD, SOFT)
    for reach in advice.hands[:NEAREST]:
        then = words.odds(after.get(reach.hand.name, 0.0))
        said = f"{reach.hand.name}: {reach.missing} to come, {words.odds(reach.odds)} to {then}"
        y = ui.paragraph(said, (area.left, y), area.width, SMALL)
    return y


def _going(scene: PassScene, advice: PassAdvice) -> tuple[Kind, ...]:
    """The tiles chosen to go if there are three, else those advised."""
    out = tuple(sorted(scene.out))
    return out if scene.blind == 0 and len(out) == scene.needed else advice.choices[0].kinds


def _mine(scene: PassScene, ui: Ui, area: Rect, y: int, advice: PassAdvice, mine: tuple[Kind, ...]) -> int:
    for place, choice in enumerate(advice.choices):
        if choice.kinds == mine:
            because = scene.explained(mine)
            said = f"Your choice is number {place + 1} of {len(advice.choices)}, {passed_words(choice)}. {because}"
            return ui.paragraph(said, (area.left, y), area.width, BODY) + ui.u(12)
    return y


def _other(ui: Ui, area: Rect, y: int, choice: PassChoice) -> int:
    figure = passed_words(choice)
    wide = ui.width(figure, SMALL) + ui.u(4)
    high = max(ui.tall(say_tiles(choice.kinds), area.width - wide - ui.u(12), SMALL), ui.line(SMALL))
    ui.paragraph(say_tiles(choice.kinds), (area.left, y), area.width - wide - ui.u(12), SMALL)
    ui.fitted(figure, Rect(area.right - wide, y, wide, ui.line(SMALL)), SMALL, SOFT, "right")
    return y + high + ui.u(3)
