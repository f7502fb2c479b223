"""The end of a deal: what was made, who pays what, what went wrong, and the costliest choices with a way back there."""

from __future__ import annotations

from engine import words
from engine.tiles import name
from engine.words import points_text
from game.draw.theme import BODY, BODY_BOLD, GREAT, HEADING, INK, LIT, RULE, SMALL, SOFT, TEAL, VERMILION_TEXT
from game.draw.tiles import Face, height_for
from game.play.costs import Cost, tiles_of
from game.play.ended import FinishedGame
from game.scenes.table.board import slots
from game.scenes.table.popups import slip_text
from game.scenes.table.seats import lay, other_seats
from game.scenes.table.turn import TurnMoment
from game.ui.buttons import Press
from game.ui.layout import Rect, grid
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.actions import say_seat
from game.words.costs import cost_sentence
from game.words.season.progress import luck_lines
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
SEAT_WIDE = 190
"""Units of a seat's payment at least."""


def ending(ui: Ui, rect: Rect, moment: TurnMoment) -> None:
    """Paint the panel."""
    ui.panel(rect)
    inner = rect.inflate(-2 * ui.u(22), -2 * ui.u(14))

    def content(area: Rect) -> int:
        state = moment.state
        assert state.outcome is not None
        y = ui.paragraph(headline(state.outcome, moment.sitting.player), area.topleft, area.width, GREAT, TEAL)
        how = " ".join(outcome_sentences(state, moment.policy.paid(moment.sitting)))
        y = ui.paragraph(how, (area.left, y), area.width, BODY) + ui.u(10)
        if state.outcome.variant is not None:
            y = made_hand(ui, area, y, moment)
        if moment.others:
            y = _payments(ui, area, y, moment)
        y = _near(ui, area, y, moment)
        said = moment.policy.ending_words()
        y = ui.paragraph(said, (area.left, y), area.width, BODY_BOLD) + ui.u(10) if said else y
        presses = moment.policy.ending_presses(moment.sitting) or usual_presses(moment)
        if moment.others:
            turn = "Turn the racks back" if moment.turned else "Turn the other racks over"
            presses = [*presses, Press(turn, moment.turn_racks, "o")]
        y = ui.buttons((area.left, y), area.width, presses) + ui.u(18)
        if moment.turned:
            y = _racks(ui, area, y, moment) + ui.u(10)
        if moment.slips:
            y = ui.paragraph("What went wrong", (area.left, y), area.width, HEADING, VERMILION_TEXT) + ui.u(4)
            for slip in moment.slips:
                y = slip_text(ui, area, y, slip, state.sheet) + ui.u(12)
        if moment.policy.shows_costs:
            y = luck(ui, area, costliest(ui, area, y, moment) + ui.u(12), moment)
        return y

    with ui.within(rect):
        ui.scroll("ending", inner, content)


def _near(ui: Ui, area: Rect, y: int, moment: TurnMoment) -> int:
    """What the player was nearest to, where somebody else won or nobody did."""
    ended, player = moment.ended, moment.sitting.player
    mine = next((one for one in ended.near if one.seat == player), None) if ended is not None else None
    if mine is None or mine.missing > NEAR:
        return y
    y = ui.paragraph(near_sentence(mine, player), (area.left, y), area.width, BODY_BOLD) + ui.u(6)
    tile = max(min(ui.u(34), int(area.width / (14 * 1.07 + 7 * 0.4))), 8)
    slots(ui, Rect(area.left, y, area.width, height_for(tile)), mine.slots, tile, None)
    return y + height_for(tile) + ui.u(14)


def _racks(ui: Ui, area: Rect, y: int, moment: TurnMoment) -> int:
    """What the others held, what they showed, and what they were nearest to."""
    state, player, ended = moment.state, moment.sitting.player, moment.ended
    near = {one.seat: one for one in ended.near} if ended is not None else {}
    for seat in other_seats(player):
        who = f"{say_seat(seat)}, {place_words(seat, player)}"
        y = ui.paragraph(who, (area.left, y), area.width, HEADING)
        if seat in near:
            y = ui.paragraph(near_sentence(near[seat], player), (area.left, y), area.width, BODY)
        tile = max(min(ui.u(34), int(area.width / 17)), 8)
        x = lay(ui, state.exposures[seat], (area.left, y + ui.u(4)), tile)
        x += tile // 2 if state.exposures[seat] else 0
        held = [Face(kind) for kind in sorted(state.racks[seat])]
        ui.tiles(held, (x, y + ui.u(4)), tile, max(round(tile * 0.05), 1))
        y += height_for(tile) + ui.u(16)
    return y


def usual_presses(moment: TurnMoment) -> list[Press]:
    """What can be done after a game."""
    key = moment.desk.settings.key
    return [
        Press("New deal", moment.new_deal, "return", main=True),
        Press("Same deal again", moment.again, "g"),
        Press("Step back", lambda: moment.step(False), key("back"), enabled=moment.may_step_back),
        Press("Notes", moment.note, key("note")),
    ]


def _payments(ui: Ui, area: Rect, y: int, moment: TurnMoment) -> int:
    """What each seat wins or pays, the player's marked."""
    really = moment.policy.paid(moment.sitting)
    paid = payments(moment.state, really)
    if not any(one.points for one in paid):
        return y
    high = ui.line(BODY_BOLD) + ui.line(HEADING) + ui.u(14)
    bottom = y
    for one, cell in zip(paid, grid(4, Rect(area.left, y, area.width, high), ui.u(SEAT_WIDE), ui.u(10)), strict=True):
        mine = one.seat == moment.sitting.player
        ui.panel(cell, None, TEAL if mine else RULE, 10, 2 if mine else 1)
        who = f"You, {say_seat(one.seat)}" if mine else seat_words(one.seat, moment.sitting.player)
        with ui.within(cell):
            left, room = cell.left + ui.u(12), cell.width - ui.u(24)
            ui.fitted(who, Rect(left, cell.top + ui.u(5), room, ui.line(BODY_BOLD)), BODY_BOLD)
            row = Rect(left, cell.top + ui.u(7) + ui.line(BODY_BOLD), room, ui.line(HEADING))
            ui.fitted(points_text(one.points), row, HEADING, INK if one.points else SOFT)
        bottom = max(bottom, cell.bottom)
    said = payment_note(moment.state, really)
    return ui.paragraph(said, (area.left, bottom + ui.u(6)), area.width, BODY, SOFT) + ui.u(12)


def made_hand(ui: Ui, area: Rect, y: int, moment: TurnMoment) -> int:
    """The hand as it was made, jokers where they stand, groups apart."""
    state = moment.sitting.state
    assert state.outcome is not None
    assert state.outcome.variant is not None
    exposed = state.exposures[state.outcome.winner or 0]
    left = [*state.outcome.tiles, *(one.kind for one in exposed for _ in range(one.real))]
    groups = state.outcome.variant.groups
    width = min(ui.u(60), int(area.width / (14 * 1.07 + len(groups) * 0.4)))
    x = area.left
    held: dict[int, list[bool]] = {}
    for index in sorted(range(len(groups)), key=lambda i: groups[i].takes_jokers):
        held[index] = []
        for _ in range(groups[index].size):
            real = groups[index].kind in left
            if real:
                left.remove(groups[index].kind)
            held[index].append(real)
    for index, group in enumerate(groups):
        for real in held[index]:
            place = Rect(x, y, width, height_for(width))
            ui.tile(Face(group.kind, joker=not real), place)
            x += width + max(width // 14, 1)
        x += round(width * 0.35)
    return y + height_for(width) + ui.u(14)


def costliest(ui: Ui, area: Rect, y: int, moment: TurnMoment) -> int:
    """The three costliest choices, each a way back to its moment; gives the y under them."""
    y = ui.paragraph("Your costliest choices", (area.left, y), area.width, HEADING) + ui.u(4)
    ended = moment.ended
    if ended is None:
        return ui.paragraph("Looking through your choices…", (area.left, y), area.width, BODY, SOFT)
    if not ended.costly:
        said = "No choice of yours cost anything that the odds can tell."
        if moment.slips:
            said = "Apart from that, no choice of yours cost anything that the odds can tell."
        y = ui.paragraph(said, (area.left, y), area.width, BODY)
        unsure = _unsure(ended, moment.trying)
        return ui.paragraph(unsure, (area.left, y), area.width, SMALL, SOFT) if ended.unsure else y
    for costly in ended.costly[:COSTLIEST]:
        y = _choice(ui, Rect(area.left, y, area.width, 0), costly, moment) + ui.u(8)
    choices = len(moment.sitting.decisions)
    sure = " beyond doubt" if ended.tried and all(one.tried for one in ended.costly) else ""
    note = (
        f"{words.sentence(words.count(len(ended.costly), 'choice'))} of {choices} cost something{sure}. "
        f"{_unsure(ended, moment.trying)}Press one to go back there and try another way."
    )
    return ui.paragraph(note, (area.left, y), area.width, SMALL, SOFT)


def _unsure(ended: FinishedGame, trying: bool) -> str:
    """What trying out has left open, or that it is under way."""
    if trying:
        return "This is a first estimate; trying them out… "
    if not ended.unsure:
        return ""
    what = words.count(ended.unsure, "more", "more") if ended.costly else words.count(ended.unsure, "choice")
    seemed = "" if ended.costly else " that seemed to cost something"
    return f"{words.sentence(what)}{seemed} can’t be told apart from the advised ones. "


def luck(ui: Ui, area: Rect, y: int, moment: TurnMoment) -> int:
    """What luck and choices did, and how they add up; gives the y under it. Nothing for a game that isn't reviewed."""
    ended = moment.ended
    if moment.others or (ended is not None and ended.reviewed and ended.review is None):
        return y
    y = ui.paragraph("Luck and choices", (area.left, y), area.width, HEADING) + ui.u(4)
    if ended is None or ended.review is None:
        return ui.paragraph("Weighing luck and choices…", (area.left, y), area.width, BODY, SOFT)
    for line in luck_lines(ended.review):
        y = ui.paragraph(line, (area.left, y), area.width, BODY) + ui.u(4)
    press = Press("Your play over time", lambda: moment.routes.play_over_time(moment))
    return ui.buttons((area.left, y + ui.u(8)), area.width, [press])


def _choice(ui: Ui, rect: Rect, costly: Cost, moment: TurnMoment) -> int:
    tile = ui.u(34)
    said = cost_sentence(moment.sitting, costly)
    gone, instead = tiles_of(moment.sitting, costly)
    room = rect.width - 2 * tile - ui.u(64)
    high = max(ui.tall(said, room, BODY), height_for(tile), ui.u(44)) + ui.u(12)
    row = Rect(rect.left, rect.top, rect.width, high)
    target = f"choice {costly.index}"

    def visit() -> Scene | None:
        return moment.go_to(costly.index)

    ui.panel(row, LIT if ui.lit(target) else None, radius=10)
    where = "this choice" if gone is None else f"where the {name(gone)} went"
    ui.target(target, row, visit, f"go back to {where}")
    top = row.top + (high - height_for(tile)) // 2
    if gone is not None:
        ui.tile(Face(gone), Rect(row.left + ui.u(10), top, tile, height_for(tile)))
    if instead is not None:
        ui.mark("right", (row.left + ui.u(24) + tile, row.centery), 12)
        ui.tile(Face(instead), Rect(row.left + ui.u(38) + tile, top, tile, height_for(tile)))
    with ui.within(row):
        text = Rect(row.right - room - ui.u(8), row.top, room, high)
        ui.paragraph(
            said,
            (text.left, row.top + (high - ui.tall(said, room, BODY)) // 2),
            room,
            BODY,
        )
    return row.bottom
