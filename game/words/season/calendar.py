"""The season's calendar in words: its parts, what helps in each and why, and the dates."""

from __future__ import annotations

from datetime import date

from engine.drills.calendar import Exercise, SeasonPart
from engine.drills.ledger import SeasonDates
from engine.words import MONTHS, count

EXERCISES = {
    Exercise.STUDY: ("Study the sheet", "What it leans on: which tiles and shapes keep coming back."),
    Exercise.LAY_HANDS: ("Lay hands", "Lay each hand from loose tiles until it comes by itself."),
    Exercise.QUIET_GAMES: ("Quiet games", "On your own, without haste: choose a hand, and see what each choice costs."),
    Exercise.PASSES: ("Rehearse the passes", "What to pass is where a new sheet is felt first."),
    Exercise.FULL_TABLES: ("Full tables", "Three others draw, call and win: now defence counts, too."),
    Exercise.MATCHES: ("Matches", "Several deals with points kept, as on a club evening."),
    Exercise.WANTED_HANDS: ("Hands still to win", "Deals in which a hand that you have not won yet is within reach."),
    Exercise.OTHER_SHEETS: ("Other sheets", "Another sheet keeps the eye quick while the next one is on its way."),
    Exercise.INVENTED_SHEETS: (
        "An invented sheet",
        "New hands to read: the best practice for the day the next sheet comes.",
    ),
    Exercise.TWISTS: ("A game with a twist", "One rule bent for a game: a change that keeps an old sheet lively."),
}
"""For each exercise its name, and why it helps."""

ABOUT = {
    SeasonPart.BEFORE: "Time to read the new sheet before anybody asks you to play it.",
    SeasonPart.GETTING_TO_KNOW: "The first weeks: read, lay hands, and play without haste.",
    SeasonPart.PLAYING_IN: "The sheet is known; now choices and passes get surer.",
    SeasonPart.KEEPING_FRESH: "You know the sheet; full tables and hands still to win keep it fresh.",
    SeasonPart.WAITING: "The next sheet is near: win what is left, and keep the eye quick.",
    SeasonPart.OVER: "This sheet has had its season; choose the new one when you have it.",
}
"""What each part of the season is for."""

NAMES = {
    SeasonPart.BEFORE: "Before it begins",
    SeasonPart.GETTING_TO_KNOW: "Getting to know",
    SeasonPart.PLAYING_IN: "Playing in",
    SeasonPart.KEEPING_FRESH: "Keeping fresh",
    SeasonPart.WAITING: "Waiting for the next",
    SeasonPart.OVER: "Over",
}


def dates_words(season: SeasonDates) -> str:
    """`1 April 2026 to 31 March 2027`."""
    return f"{full_day(season.begins)} to {full_day(season.ends)}"


def full_day(day: date) -> str:
    """`14 March 2026`."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def ready_for_words(ready: date | None, today: date) -> str:
    """The club evening or other day to be ready for."""
    if ready is None or ready < today:
        return "No day is set. With one, hands come up in time for it."
    days = (ready - today).days
    when = "today" if not days else "tomorrow" if days == 1 else f"in {count(days, 'day')}"
    return f"{full_day(ready)}, {when}: hands come up in time for it."


def read_day(text: str) -> date:
    """A day as a player writes it: `2026-04-01`, `1.4.2026`, `1 April 2026`, `April 1 2026`. Raises ValueError with a
    sentence for the player."""
    plain = " ".join(text.replace(",", " ").replace(".", " ").replace("/", " ").replace("-", " ").split()).lower()
    parts = plain.split(" ")
    if len(parts) == 3:
        months = [name.lower() for name in MONTHS]
        named = [
            place for place, part in enumerate(parts) if any(len(part) > 2 and name.startswith(part) for name in months)
        ]
        try:
            if named == [0] or named == [1]:
                month = next(number for number, name in enumerate(months, 1) if name.startswith(parts[named[0]]))
                return date(int(parts[2]), month, int(parts[1 - named[0]]))
            if not named and len(parts[0]) == 4:
                return date(int(parts[0]), int(parts[1]), int(parts[2]))
            if not named and int(parts[1]) <= 12 and (int(parts[0]) > 12 or "." in text):
                return date(int(parts[2]), int(parts[1]), int(parts[0]))
        except ValueError:
            pass
    raise ValueError("write the day as 2026-04-01 or 1 April 2026")
