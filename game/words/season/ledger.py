"""The season's ledger in words, for the terminal and the window."""

from __future__ import annotations

from datetime import date

from engine import words
from engine.drills.ledger import HandRecord, Ledger, WinningPace


def summary_words(ledger: Ledger) -> str:
    """How many hands are won, after how many games."""
    hands = len(ledger.records)
    said = f"{ledger.won} of {hands} hands won, in {words.count(ledger.games, 'game')} on this sheet."
    if ledger.wanted:
        said += f" Counted apart: {words.count(ledger.wanted, 'game')} dealt for a wanted hand."
    return said


def pace_words(pace: WinningPace) -> str:
    """What it takes to have won every hand by the season's end, and where one stands."""
    if not pace.left:
        return "Every hand of the sheet is won."
    if pace.needed is None:
        return f"The season is over; {words.count(pace.left, 'hand')} stayed unwon."
    left = f"{words.sentence(words.count(pace.left, 'hand'))} left and {words.count(pace.days, 'day')} to go"
    said = f"{left}: {pace.needed:.1f} new hands a week would win them all."
    return said if pace.so_far is None else f"{said} So far it is {pace.so_far:.1f} a week."


def record_words(record: HandRecord) -> str:
    """One hand's line, as a sentence."""
    wins = record.wins
    if not wins.all:
        said = "not won yet"
    else:
        kinds = (
            (wins.quiet_hidden, "at the quiet table with advice hidden"),
            (wins.quiet_seen, "at the quiet table with advice at hand"),
            (wins.full_hidden, "at the full table with advice hidden"),
            (wins.full_seen, "at the full table with advice at hand"),
            (wins.wanted, "in a game dealt for a wanted hand"),
            (wins.ticked, "at a real table"),
        )
        said = f"won {times(wins.all)}: {words.listed([f'{number} {where}' for number, where in kinds if number])}"
        if record.first is not None:
            said += f"; first on {day_words(record.first)}"
    tried = f"gone for in {words.count(record.tries, 'game')}"
    near = f", {words.count(record.near, 'near miss', 'near misses')}" if record.near else ""
    best = f", at best {words.odds(record.best)} likely" if record.best else ""
    return f"{record.hand}: {said}; {tried}{near}{best}."


def short_words(record: HandRecord) -> str:
    """The same in a few words, for a row."""
    if record.wins.all:
        first = "" if record.first is None else f", first on {day_words(record.first)}"
        return f"won {times(record.wins.all)}{first}"
    tries = f", gone for in {words.count(record.tries, 'game')}" if record.tries else ""
    near = f", {words.count(record.near, 'near miss', 'near misses')}" if record.near else ""
    return f"not won yet{tries}{near}"


def times(number: int) -> str:
    """`once`, `twice`, `5 times`."""
    return {1: "once", 2: "twice"}.get(number, f"{number} times")


def day_words(day: date) -> str:
    """`14 March 2026`."""
    return f"{day.day} {words.MONTHS[day.month - 1]} {day.year}"
