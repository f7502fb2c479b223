"""A sheet on paper: every hand in small tiles, section after section."""

from __future__ import annotations

from engine.sheet.model import Hand, Sheet
from engine.words import counted
from game.draw.theme import SOFT
from game.paper.fonts import BOLD, REGULAR, width
from game.paper.page import LEADING, SIZE, SMALL, STANDS_ABOVE, Paper
from game.words.sheet import hold_words, shown_rows

TILE, LARGE_TILE = 15.0, 26.0
"""Points of width of a tile, in two columns and in one."""


def print_sheet(paper: Paper, sheet: Sheet, large: bool = False) -> None:
    """The whole sheet. `large`: one column with larger tiles."""
    paper.heading(f"{sheet.name}, season {sheet.season}")
    maker = f" {sheet.maker[:1].upper()}{sheet.maker[1:]}." if sheet.maker else ""
    paper.text(f"{counted(len(sheet.hands), 'hand')}.{maker}", SIZE, colour=SOFT)
    paper.text(
        "Every hand is shown in one of its ways; the words under it say what may vary. Suits a, b and c are any three "
        "different suits. Concealed hands may not be exposed before mahjong.", SMALL, colour=SOFT,
    )  # fmt: skip
    paper.text(STANDS_ABOVE, SMALL, colour=SOFT)
    paper.gap(4)
    paper.columns(1 if large else 2)
    tile = LARGE_TILE if large else TILE
    for section in sheet.sections:
        paper.heading(section.name, 1, keep=_height(paper, sheet, section.hands[0], tile))
        for hand in section.hands:
            print_hand(paper, sheet, hand, tile)


def print_hand(paper: Paper, sheet: Sheet, hand: Hand, tile: float = TILE) -> None:
    """A hand: its name, how it is held, its points, its groups, and what may vary. It is never parted."""
    paper.need(_height(paper, sheet, hand, tile))
    paper.y -= SIZE * LEADING
    base = paper.y + SIZE * 0.28
    paper.write(hand.name, paper.left, base, SIZE, bold=True)
    said = counted(hand.points, "point")
    if hand.concealed:
        said = f"{hold_words(hand)} · {said}"
    paper.write(said, paper.left + paper.width - width(said, REGULAR, SMALL), base, SMALL)
    paper.y -= 2
    for row in shown_rows(sheet, hand):
        paper.groups(row, tile)
    paper.text(f"{hand.wording[:1].upper()}{hand.wording[1:]}.", SMALL, colour=SOFT)
    paper.gap(8)


def _height(paper: Paper, sheet: Sheet, hand: Hand, tile: float) -> float:
    rows = sum(paper.groups_height(row, tile) + 2 for row in shown_rows(sheet, hand))
    lines = paper.lines(f"{hand.wording}.", SMALL)
    name = width(hand.name, BOLD, SIZE)
    return SIZE * LEADING * (1 if name < paper.width else 2) + rows + lines * SMALL * LEADING + 12
