"""A kept deal in words: what it is called, and how its line of play ended."""

from __future__ import annotations

from engine.store.values import LineSummary
from game.words.situation import ending_sentences


def about_deal(line: LineSummary) -> str:
    """`deal K7Q2-M4X9-3TRB`; by its number where it has no code."""
    return f"deal {line.deal or line.id}"


def how_it_ended(line: LineSummary) -> str:
    """How the line ended, or that it has not."""
    return "Not finished." if line.ending is None else " ".join(ending_sentences(line.ending, line.house))
