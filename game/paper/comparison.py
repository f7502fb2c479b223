"""Two seasons side by side, on paper: what was kept, changed, came and went, and what to unlearn."""

from __future__ import annotations

from engine.sheet.compare.comparison import Comparison
from engine.sheet.compare.racks import racks
from engine.tiles import say_tiles
from game.draw.theme import SOFT
from game.paper.page import SMALL, Paper
from game.paper.sheet import print_hand
from game.words.compare.report import (
    changed_sentence,
    drift_sentences,
    headline,
    names_of,
    shape_sentences,
    unlearn_sentence,
)

RACKS = 6


def print_comparison(paper: Paper, compared: Comparison) -> None:
    """From the old sheet to the new one."""
    old, new = compared.old, compared.new
    paper.heading(f"From {old.name} {old.season} to {new.name} {new.season}")
    paper.text(headline(compared))
    for said in (*drift_sentences(compared), *shape_sentences(compared)):
        paper.gap(3)
        paper.text(said)
    if compared.unlearn:
        paper.heading("To unlearn", 1)
        for one in compared.unlearn:
            paper.text(unlearn_sentence(one))
            paper.gap(3)
    if compared.changed:
        paper.heading("Changed", 1)
        for pair in compared.changed:
            paper.text(changed_sentence(pair))
            paper.gap(3)
    if compared.kept:
        paper.heading("Kept", 1)
        paper.text(f"{names_of([pair.new for pair in compared.kept])}.")
    if compared.gone:
        paper.heading("Gone", 1)
        paper.text(f"{names_of(compared.gone)}.")
    if compared.new_hands:
        paper.heading("New", 1, keep=90)
        paper.columns(2)
        for hand in compared.new_hands:
            print_hand(paper, new, hand)
        paper.end_columns()
    tempting = racks(compared, RACKS, seed=1)
    if tempting:
        paper.heading("Racks that look like the old sheet", 1, keep=90)
        paper.text(
            "Which hand of the new sheet would you turn to? The answers are on the next page.", SMALL, colour=SOFT
        )
        for place, rack in enumerate(tempting, 1):
            paper.gap(6)
            paper.text(f"{place}.", bold=True)
            paper.rack(rack.rack, say_tiles(rack.rack))
        paper.new_page()
        paper.heading("Answers", 1)
        for place, rack in enumerate(tempting, 1):
            old_hand = rack.unlearn.hand.name
            turn = f"turn to {rack.hand.name}" if old_hand != rack.hand.name else "look how it is made now"
            paper.text(f"{place}. It looks like the old {old_hand}; {turn}.")
