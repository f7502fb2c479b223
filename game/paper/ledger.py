"""The season's ledger on paper: every hand with a box to tick and room for the date."""

from __future__ import annotations

from engine.drills.ledger import Ledger
from engine.sheet.model import Sheet
from engine.words import counted
from game.draw.theme import SOFT
from game.paper.fonts import BOLD, width
from game.paper.page import LEADING, SIZE, SMALL, Paper
from game.words.season.ledger import pace_words, short_words, summary_words

ROW = 17.5
"""Points of height of a hand."""


def print_ledger(paper: Paper, sheet: Sheet, ledger: Ledger | None) -> None:
    """All hands, section after section. Without a ledger nothing was played yet, and all boxes are empty."""
    paper.heading(f"The season of {sheet.name} {sheet.season}")
    if ledger is not None and (ledger.games or ledger.won):
        paper.text(summary_words(ledger))
        if ledger.pace is not None:
            paper.text(pace_words(ledger.pace))
    paper.text("Tick a hand when you have won it, and write down the day.", SMALL, colour=SOFT)
    paper.gap(4)
    paper.columns(2)
    records = {} if ledger is None else {record.hand: record for record in ledger.records}
    for section in sheet.sections:
        paper.heading(section.name, 1, keep=ROW + 10)
        for hand in section.hands:
            record = records.get(hand.name)
            won = record is not None and bool(record.wins.all)
            said = "" if record is None or not (record.wins.all or record.tries or record.near) else short_words(record)
            paper.need(ROW + (SMALL * LEADING if said else 0))
            paper.y -= ROW
            paper.box(paper.left, paper.y + 3, ticked=won)
            paper.write(hand.name, paper.left + 16, paper.y + 4, SIZE, bold=True)
            paper.write(
                counted(hand.points, "point"), paper.left + 24 + width(hand.name, BOLD, SIZE), paper.y + 4, SMALL
            )
            paper.line(paper.left + paper.width - 62, paper.y + 2, 62)
            if said:
                paper.text(said, SMALL, colour=SOFT, indent=16)
    paper.end_columns()
