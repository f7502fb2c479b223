"""The end of a deal: what was made, who pays what, what went wrong, and the costliest choices with a way back there."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from engine import words
from engine.sheet.groups import Group
from engine.tiles import Kind, name
from engine.words import points_text
from game.draw.theme import BODY, BODY_BOLD, GREAT, HEADING, INK, LIT, SMALL, SOFT, TEAL, TITLE, VERMILION_TEXT
from game.draw.tiles import Face, height_for
from game.play.costs import Cost, tiles_of
from game.play.ended import FinishedGame
from game.scenes.season.steps_chart import fill_luck
from game.scenes.table.board import row_of_slots
from game.scenes.table.frame import LOW_UNDER, SHORT_UNDER
from game.scenes.table.popups import slip_text
from game.scenes.table.seats import lay, other_seats
from game.scenes.table.turn import TurnMoment
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect, inset
from game.ui.scene import Scene
from game.ui.scrolling import GUTTER
from game.ui.widgets import Ui
from game.words.actions import say_seat
from game.words.costs import cost_sentence
from game.words.season.luck import luck_steps, points_steps
from game.words.situation import (
    headline,
    near_sentence,
    outcome_sentences,
    payment_note,
    payments,
    place_words,
    seat_words,
)

COSTLIEST = 3
NEAR = 3
"""So many missing tiles or fewer are a near miss."""
SEAT_WIDE = 140
"""Units of a seat's payment at least."""
BESIDE = 1100
"""Units of width from which luck stands beside all else."""
RESULT, CHOICES, LUCK, RACKS = "Result", "Choices", "Luck", "Racks"
"""The parts of the page where it can't all be seen at once: one is shown at a time."""
TILE, MADE_TILE = 34, 60
"""Units of width of a tile at most, and of one of the hand that was made."""


def ending(ui: Ui, rect: Rect, moment: TurnMoment) -> None:
    """Paint the panel: all of it where it can be seen at once, else one part of it under the names of all."""
    ui.panel(rect)
    with ui.within(rect):
        inner = inset(rect, ui.u(22), ui.u(14))
        whole = Column(ui, inner.width - ui.u(GUTTER))
        _fill(moment, whole)
        if whole.whole <= inner.height:
            scrolled(ui, "ending", inner, partial(_fill, moment), roomy=True)
        else:
            _part(ui, inset(rect, ui.u(10), ui.u(8)), moment)


def rack_stays(ui: Ui) -> bool:
    """Whether the rack stands under the page: not in a short window, where the page shows it."""
    return ui.window.height >= ui.look.unit(ui.window.size) * SHORT_UNDER


def _parts(moment: TurnMoment) -> dict[str, Callable[[Column], object]]:
    """The parts that there are, and what each holds."""
    found: dict[str, Callable[[Column], object]] = {RESULT: partial(_result, moment)}
    if moment.policy.shows_costs:
        found[CHOICES] = partial(_costliest, moment=moment, alone=True)
    if _weighs_luck(moment):
        found[LUCK] = partial(_luck, moment=moment, alone=True)
    if moment.others:
        found[RACKS] = partial(_racks, moment=moment)
    return found


def _part(ui: Ui, rect: Rect, moment: TurnMoment) -> None:
    """One part of the page, under the names of all."""
    parts = _parts(moment)
    shown = moment.part if moment.part in parts else RESULT

    def show(part: str) -> Scene | None:
        moment.part = part
        return None

    low = rect.top
    if len(parts) > 1:
        low = ui.choice(rect.topleft, rect.width, "part", [(one, one) for one in parts], shown, show) + ui.u(8)
    under = Rect(rect.left, low, rect.width, rect.bottom - low)
    scrolled(ui, f"ending, {shown}", under, parts[shown], roomy=True)


def _result(moment: TurnMoment, page: Column) -> None:
    """What came of it and what can be done now."""
    _headline(moment, page)
    _came_of_it(page, moment, presses(moment, racks=False))
    _went_wrong(page, moment)


def _headline(moment: TurnMoment, page: Column) -> None:
    state = moment.state
    assert state.outcome is not None
    page.text(headline(state.outcome, moment.sitting.player), GREAT if page.ui.window.height >= page.ui.u(LOW_UNDER)
              else TITLE, TEAL)  # fmt: skip
    page.text(" ".join(outcome_sentences(state, moment.policy.paid(moment.sitting))))
    page.gap(10)


def _fill(moment: TurnMoment, page: Column) -> None:
    """What came of it and what can be done now first, then what can be learned from it: luck beside the choices."""
    _headline(moment, page)
    if not _weighs_luck(moment):
        _all_but_luck(page, moment)
        return
    with page.beside([1.15, 1], gap=32, least=BESIDE) as (left, right):
        _all_but_luck(left, moment)
        _luck(right, moment)


def _all_but_luck(page: Column, moment: TurnMoment) -> None:
    """The hand, what is paid, what can be done now, what went wrong, and the costliest choices."""
    _came_of_it(page, moment, presses(moment))
    if moment.part == RACKS:
        _racks(page, moment)
        page.gap(10)
    _went_wrong(page, moment)
    if moment.policy.shows_costs:
        _costliest(page, moment)
        page.gap(12)


def _came_of_it(page: Column, moment: TurnMoment, offered: Sequence[Press]) -> None:
    """The hand, what is paid, how near it came, and what can be done now."""
    state = moment.state
    if state.outcome is not None and state.outcome.variant is not None:
        _made_hand(page, moment)
        page.gap(14)
    if moment.others:
        _payments(page, moment)
    won = state.outcome is not None and state.outcome.winner == moment.sitting.player
    if not _near(page, moment) and not won and not rack_stays(page.ui):
        page.caption("Your rack")
        _rack(page, moment, moment.sitting.player)
        page.gap(14)
    said = moment.policy.ending_words()
    if said:
        page.text(said, BODY_BOLD)
        page.gap(10)
    page.buttons([one for one in offered if not one.main])
    page.gap(18)


def _went_wrong(page: Column, moment: TurnMoment) -> None:
    """Slips, each with its reason."""
    if not moment.slips:
        return
    page.text("What went wrong", HEADING, VERMILION_TEXT)
    page.gap(4)
    for slip in moment.slips:
        slip_text(page, slip, moment.state.sheet)
        page.gap(12)


def _near(page: Column, moment: TurnMoment) -> bool:
    """What the player was nearest to, where somebody else won or nobody did. Gives whether there was such a hand."""
    ended, player = moment.ended, moment.sitting.player
    mine = next((one for one in ended.near if one.seat == player), None) if ended is not None else None
    if mine is None or mine.missing > NEAR:
        return False
    page.text(near_sentence(mine, player), BODY_BOLD)
    page.gap(6)
    row_of_slots(page, mine.slots, TILE)
    page.gap(14)
    return True


def _racks(page: Column, moment: TurnMoment) -> None:
    """What the others held, what they showed, and what they were nearest to."""
    player, ended = moment.sitting.player, moment.ended
    near = {one.seat: one for one in ended.near} if ended is not None else {}
    for seat in other_seats(player):
        page.heading(f"{say_seat(seat)}, {place_words(seat, player)}")
        if seat in near:
            page.text(near_sentence(near[seat], player))
        page.gap(4)
        _rack(page, moment, seat)
        page.gap(12)


def _rack(page: Column, moment: TurnMoment, seat: int) -> None:
    """What lies exposed, then what was held."""
    ui, laid = page.ui, moment.state.exposures[seat]
    held = [Face(kind) for kind in sorted(moment.state.racks[seat])]
    tile = max(min(ui.u(TILE), int(page.width / 17)), 8)

    def paint(rect: Rect) -> None:
        x = lay(ui, laid, rect.topleft, tile) + (tile // 2 if laid else 0)
        ui.tiles(held, (x, rect.top), tile, max(round(tile * 0.05), 1))

    page.put(height_for(tile), paint)


def presses(moment: TurnMoment, racks: bool = True) -> list[Press]:
    """What can be done now: what the occasion offers, or else the usual. The main one stands in the strip.

    `racks`: the other racks are turned over by a button.
    """
    found = moment.policy.ending_presses(moment.sitting) or usual_presses(moment)
    if moment.others and racks:
        turn = "Turn the racks back" if moment.part == RACKS else "Turn the other racks over"
        found = [*found, Press(turn, partial(_turn_racks, moment), "o")]
    return found


def _turn_racks(moment: TurnMoment) -> Scene | None:
    """Turn the other racks over, or back."""
    moment.part = "" if moment.part == RACKS else RACKS
    return None


def usual_presses(moment: TurnMoment) -> list[Press]:
    """What can be done after a game."""
    key = moment.desk.settings.key
    return [
        Press("New deal", moment.new_deal, "return", main=True),
        Press("Same deal again", moment.again, "g"),
        Press("Step back", lambda: moment.step(False), key("back"), enabled=moment.may_step_back),
        Press("Notes", moment.note, key("note")),
    ]


def _payments(page: Column, moment: TurnMoment) -> None:
    """What each seat wins or pays, the player's marked."""
    player = moment.sitting.player
    really = moment.policy.paid(moment.sitting)
    paid = payments(moment.state, really)
    if not any(one.points for one in paid):
        return
    with page.grid(SEAT_WIDE, gap=10, most=4) as cell:
        for one in paid:
            mine = one.seat == player
            with cell().panel(fill=LIT if mine else None, pad=10) as inside:
                inside.text(f"You, {say_seat(one.seat)}" if mine else seat_words(one.seat, player), BODY_BOLD)
                inside.text(points_text(one.points), HEADING, INK if one.points else SOFT)
    page.gap(6)
    page.text(payment_note(moment.state, really), BODY, SOFT)
    page.gap(12)


def _made_hand(page: Column, moment: TurnMoment) -> None:
    """The hand as it was made, jokers where they stand, groups apart."""
    outcome = moment.state.outcome
    assert outcome is not None
    assert outcome.variant is not None
    exposed = moment.state.exposures[outcome.winner or 0]
    groups = outcome.variant.groups
    held = _real(groups, [*outcome.tiles, *(one.kind for one in exposed for _ in range(one.real))])
    ui = page.ui
    width = min(ui.u(MADE_TILE), int(page.width / (14 * 1.07 + len(groups) * 0.4)))

    def paint(rect: Rect) -> None:
        x = rect.left
        for group, real in zip(groups, held, strict=True):
            faces = [Face(group.kind, joker=not one) for one in real]
            x = ui.tiles(faces, (x, rect.top), width, max(width // 14, 1)).right + round(width * 0.4)

    page.put(height_for(width), paint)


def _real(groups: Sequence[Group], tiles: Sequence[int]) -> list[list[bool]]:
    """For each group, whether each of its places is filled by the tile itself; else a joker stands there.

    Groups that take no jokers get their tiles first.
    """
    left = list(tiles)
    held: dict[int, list[bool]] = {}
    for index in sorted(range(len(groups)), key=lambda i: groups[i].takes_jokers):
        held[index] = []
        for _ in range(groups[index].size):
            real = groups[index].kind in left
            if real:
                left.remove(groups[index].kind)
            held[index].append(real)
    return [held[index] for index in range(len(groups))]


def _costliest(page: Column, moment: TurnMoment, alone: bool = False) -> None:
    """The three costliest choices, each a way back to its moment; `alone` under the name of the part."""
    if not alone:
        page.heading("Your costliest choices")
        page.gap(4)
    ended = moment.ended
    if ended is None:
        page.text("Looking through your choices…", BODY, SOFT)
        return
    if not ended.costly:
        said = "No choice of yours cost anything that the odds can tell."
        if moment.slips:
            said = "Apart from that, no choice of yours cost anything that the odds can tell."
        page.text(said)
        if ended.unsure:
            page.text(_unsure(ended, moment.trying), SMALL, SOFT)
        return
    for costly in ended.costly[:COSTLIEST]:
        _choice(page, costly, moment)
        page.gap(8)
    choices = len(moment.sitting.decisions)
    sure = " beyond doubt" if ended.tried and all(one.tried for one in ended.costly) else ""
    note = (
        f"{words.sentence(words.count(len(ended.costly), 'choice'))} of {choices} cost something{sure}. "
        f"{_unsure(ended, moment.trying)}Press one to go back there and try another way."
    )
    page.text(note, SMALL, SOFT)


def _unsure(ended: FinishedGame, trying: bool) -> str:
    """What trying out has left open, or that it is under way."""
    if trying:
        return "This is a first estimate; trying them out… "
    if not ended.unsure:
        return ""
    what = words.count(ended.unsure, "more", "more") if ended.costly else words.count(ended.unsure, "choice")
    seemed = "" if ended.costly else " that seemed to cost something"
    return f"{words.sentence(what)}{seemed} can’t be told apart from the advised ones. "


def _weighs_luck(moment: TurnMoment) -> bool:
    """Whether it is said what luck did, now or soon: not in a match's deal, nor of a game that isn't reviewed."""
    ended = moment.ended
    known = ended is not None and (ended.points is not None or ended.review is not None)
    return moment.policy.shows_costs and (known or ended is None or not ended.reviewed)


def _luck(page: Column, moment: TurnMoment, alone: bool = False) -> None:
    """What luck and choices did, and how they add up; `alone` under the name of the part."""
    if not alone:
        page.heading("Luck and choices")
        page.gap(4)
    ended = moment.ended
    if ended is not None and ended.points is not None:
        fill_luck(page, points_steps(ended.points))
    elif ended is not None and ended.review is not None:
        fill_luck(page, luck_steps(ended.review))
    else:
        page.text("Weighing luck and choices…", BODY, SOFT)
        return
    page.gap(12)
    page.buttons([Press("Your progress", lambda: moment.routes.progress(moment))])


def _choice(page: Column, costly: Cost, moment: TurnMoment) -> None:
    """The tile that went, the one that should have gone, and the words; a press goes back there."""
    gone, instead = tiles_of(moment.sitting, costly)
    where = "this choice" if gone is None else f"where the {name(gone)} went"

    def visit() -> Scene | None:
        return moment.go_to(costly.index)

    ui = page.ui
    tile = ui.u(TILE)
    with (
        page.card(f"choice {costly.index}", visit, says=f"go back to {where}", pad=6, edge=10) as card,
        card.aside(2 * tile + ui.u(28), gap=18, down="middle") as (pictures, said),
    ):
        pictures.put(height_for(tile), partial(_instead, ui, gone, instead))
        said.text(cost_sentence(moment.sitting, costly))


def _instead(ui: Ui, gone: Kind | None, instead: Kind | None, rect: Rect) -> None:
    tile = ui.u(TILE)
    if gone is not None:
        ui.tile(Face(gone), Rect(rect.left, rect.top, tile, rect.height))
    if instead is not None:
        ui.mark("right", (rect.left + tile + ui.u(14), rect.centery), 12)
        ui.tile(Face(instead), Rect(rect.right - tile, rect.top, tile, rect.height))
