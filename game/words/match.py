"""A match in words: where the four seats stand, and what a deal brought."""

from __future__ import annotations

from engine import words
from engine.drills.match import DealResult, Match
from game.words.actions import say_seat

PLACES = ("You", "Right", "Across", "Left")
"""Who the four are in a match, since their seats change."""


def deal_words(result: DealResult) -> str:
    """How one deal went, in a few words."""
    if result.outcome == "mahjong" and result.winner is not None:
        return f"{'You' if result.winner == 0 else PLACES[result.winner]}: {result.hand}"
    return {"wall": "Wall game", "dead": "No live hand left", "time": "Time was up"}.get(result.outcome, result.outcome)


def standing(match: Match) -> str:
    """Where the player stands, in one sentence."""
    totals = match.totals
    played = words.count(len(match.results), "deal")
    tied = sum(points == totals[0] for points in totals) > 1
    place = words.ordinal(match.rank)
    points = f"{totals[0]} points" if totals[0] >= 0 else f"{-totals[0]} points below nothing"
    return f"After {played} you are {'joint ' if tied else ''}{place} of four, with {points}."


def seat_sentence(match: Match) -> str:
    """Which deal is next and where the player sits in it."""
    return f"Deal {match.number} of {match.rules.deals}: you are {say_seat(match.seat)}."
