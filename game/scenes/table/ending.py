"""The end of a game: what was made, what it counts, and the three costliest choices, each a way back to its moment."""

from __future__ import annotations

from typing import TYPE_CHECKING

from engine import words
from engine.tiles import name
from game.draw.theme import BODY, GREAT, HEADING, LIT, SMALL, SOFT, TEAL
from game.draw.tiles import Face, height_for
from game.play.costs import Cost, tiles_of
from game.ui.buttons import Press
from game.ui.layout import Rect
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.costs import cost_sentence
from game.words.situation import headline, outcome_sentences

if TYPE_CHECKING:
    from game.scenes.table.scene import TableScene

COSTLIEST = 3


def ending(ui: Ui, rect: Rect, table: TableScene) -> None:
    """Paint the panel."""
    ui.panel(rect)
    pad = ui.u(22)
    inner = rect.inflate(-2 * pad, -2 * ui.u(14))

    def content(area: Rect) -> int:
        state = table.sitting.state
        outcome = state.outcome
        assert outcome is not None
        y = ui.paragraph(headline(outcome, table.sitting.player), area.topleft, area.width, GREAT, TEAL)
        y = ui.paragraph(" ".join(outcome_sentences(state)), (area.left, y), area.width, BODY) + ui.u(10)
        if outcome.variant is not None:
            y = made_hand(ui, area, y, table)
        presses = [
            Press("New deal", table.new_deal, "return", main=True),
            Press("Same deal again", table.again, "g"),
            Press("Step back", lambda: table.step(False), table.desk.settings.key("back")),
            Press("Notes", table.note, table.desk.settings.key("note")),
        ]
        y = ui.buttons((area.left, y), area.width, presses) + ui.u(18)
        return luck(ui, area, costliest(ui, area, y, table) + ui.u(12), table)

    with ui.within(rect):
        ui.scroll("ending", inner, content)


def made_hand(ui: Ui, area: Rect, y: int, table: TableScene) -> int:
    """The hand as it was made, jokers where they stand, groups apart."""
    state = table.sitting.state
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


def costliest(ui: Ui, area: Rect, y: int, table: TableScene) -> int:
    """The three costliest choices, each a way back to its moment; gives the y under them."""
    y = ui.paragraph("Your costliest choices", (area.left, y), area.width, HEADING) + ui.u(4)
    if table.costly is None:
        return ui.paragraph("Looking through your choices…", (area.left, y), area.width, BODY, SOFT)
    if not table.costly:
        said = "No choice of yours cost anything that the odds can tell."
        y = ui.paragraph(said, (area.left, y), area.width, BODY)
        return ui.paragraph(_unsure(table), (area.left, y), area.width, SMALL, SOFT) if table.unsure else y
    for costly in table.costly[:COSTLIEST]:
        y = _choice(ui, Rect(area.left, y, area.width, 0), costly, table) + ui.u(8)
    choices = len(table.sitting.decisions)
    sure = " beyond doubt" if table.unsure is not None and all(one.tried for one in table.costly) else ""
    note = (
        f"{words.sentence(words.count(len(table.costly), 'choice'))} of {choices} cost something{sure}. "
        f"{_unsure(table)}Press one to go back there and try another way."
    )
    return ui.paragraph(note, (area.left, y), area.width, SMALL, SOFT)


def _unsure(table: TableScene) -> str:
    """What trying out has left open, or that it is under way."""
    if table.trying:
        return "This is a first estimate; trying them out… "
    if not table.unsure:
        return ""
    what = words.count(table.unsure, "more", "more") if table.costly else words.count(table.unsure, "choice")
    seemed = "" if table.costly else " that seemed to cost something"
    return f"{words.sentence(what)}{seemed} can’t be told apart from the advised ones. "


def luck(ui: Ui, area: Rect, y: int, table: TableScene) -> int:
    """What luck and choices did, and how they add up; gives the y under it. Nothing for a game that isn't reviewed."""
    if table.luck == []:
        return y
    y = ui.paragraph("Luck and choices", (area.left, y), area.width, HEADING) + ui.u(4)
    if table.luck is None:
        return ui.paragraph("Weighing luck and choices…", (area.left, y), area.width, BODY, SOFT)
    for line in table.luck:
        y = ui.paragraph(line, (area.left, y), area.width, BODY) + ui.u(4)
    press = Press("Your play over time", lambda: table.routes.play_over_time(table))
    return ui.buttons((area.left, y + ui.u(8)), area.width, [press])


def _choice(ui: Ui, rect: Rect, costly: Cost, table: TableScene) -> int:
    tile = ui.u(34)
    said = cost_sentence(table.sitting, costly)
    gone, instead = tiles_of(table.sitting, costly)
    room = rect.width - 2 * tile - ui.u(64)
    high = max(ui.tall(said, room, BODY), height_for(tile), ui.u(44)) + ui.u(12)
    row = Rect(rect.left, rect.top, rect.width, high)
    target = f"choice {costly.index}"

    def visit() -> Scene | None:
        return table.go_to(costly.index)

    ui.panel(row, LIT if ui.lit(target) else None, radius=10)
    ui.target(target, row, visit, f"go back to where the {name(gone)} went")
    top = row.top + (high - height_for(tile)) // 2
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
