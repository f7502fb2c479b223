"""The season's calendar: what part of the season it is, what helps most in it, and the next useful ten minutes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import Enum

from engine.drills.ledger import SeasonDates

LEARNING = timedelta(weeks=4)
"""A sheet is got to know in so long."""
PLAYED_IN = 0.4
"""The share of the season by which it is played in."""
WAITING = timedelta(weeks=4)
"""So long before its end the next sheet is waited for."""
A_SEASON = timedelta(days=365)
"""How long a season is while the player has set no end."""


class SeasonPart(Enum):
    """A part of the season."""

    BEFORE = "before"
    """The sheet has not begun."""
    GETTING_TO_KNOW = "getting to know"
    PLAYING_IN = "playing in"
    KEEPING_FRESH = "keeping fresh"
    WAITING = "waiting for the next"
    OVER = "over"


class Exercise(Enum):
    """What one can do to get better; the value is its name in the store."""

    STUDY = "study"
    LAY_HANDS = "lay hands"
    QUIET_GAMES = "quiet games"
    PASSES = "passes"
    FULL_TABLES = "full tables"
    MATCHES = "matches"
    WANTED_HANDS = "wanted hands"
    OTHER_SHEETS = "other sheets"
    INVENTED_SHEETS = "invented sheets"
    TWISTS = "twists"


EXERCISES: dict[SeasonPart, tuple[Exercise, ...]] = {
    SeasonPart.BEFORE: (Exercise.STUDY, Exercise.LAY_HANDS),
    SeasonPart.GETTING_TO_KNOW: (Exercise.STUDY, Exercise.LAY_HANDS, Exercise.PASSES, Exercise.QUIET_GAMES),
    SeasonPart.PLAYING_IN: (Exercise.QUIET_GAMES, Exercise.PASSES, Exercise.FULL_TABLES, Exercise.LAY_HANDS),
    SeasonPart.KEEPING_FRESH: (Exercise.FULL_TABLES, Exercise.MATCHES, Exercise.WANTED_HANDS, Exercise.LAY_HANDS),
    SeasonPart.WAITING: (
        Exercise.WANTED_HANDS,
        Exercise.INVENTED_SHEETS,
        Exercise.OTHER_SHEETS,
        Exercise.TWISTS,
        Exercise.MATCHES,
    ),
    SeasonPart.OVER: (Exercise.INVENTED_SHEETS, Exercise.OTHER_SHEETS, Exercise.TWISTS, Exercise.WANTED_HANDS),
}
"""What helps most in each part, the most useful first."""


def season_from(begins: date, ends: date | None = None) -> SeasonDates:
    """A season; a year long where no end is set. Raises ValueError when it would end before it begins."""
    last = ends or begins + A_SEASON - timedelta(days=1)
    if last < begins:
        raise ValueError("the season ends before it begins; choose a later end")
    return SeasonDates(begins, last)


def part_of(season: SeasonDates, today: date) -> SeasonPart:
    """The part of the season a day lies in. A short season has all parts, in proportion."""
    if today < season.begins:
        return SeasonPart.BEFORE
    if today > season.ends:
        return SeasonPart.OVER
    whole = season.ends - season.begins + timedelta(days=1)
    gone, left = today - season.begins, season.ends - today
    if gone < min(LEARNING, whole / 4):
        return SeasonPart.GETTING_TO_KNOW
    if left < min(WAITING, whole / 5):
        return SeasonPart.WAITING
    return SeasonPart.PLAYING_IN if gone < whole * PLAYED_IN else SeasonPart.KEEPING_FRESH


class Next(Enum):
    """What the next useful ten minutes can be."""

    READ_SHEET = "read the sheet"
    MATCH = "go on with the match"
    DEAL = "go on with the deal"
    PRACTISE = "practise what is due"
    WIN_HAND = "a hand still to win"
    PLAY = "play a game"


@dataclass(frozen=True)
class SeasonStanding:
    """What is known of the player's season on one sheet, for choosing what comes next."""

    sheet_read: bool
    """Whether the sheet has been opened to read, or a game played on it."""
    match_left: bool
    """Whether a match was left before its end."""
    deal_left: bool
    """Whether a deal was left before its end."""
    due: int
    """Items of practice due now, at most one session's."""
    games: int
    """Games finished on this sheet."""
    to_win: tuple[str, ...]
    """Hands not won yet, the most promising first."""


@dataclass(frozen=True)
class Suggestion:
    """One thing to do next."""

    next: Next
    hand: str = ""
    """The hand to win."""
    number: int = 0
    """How many items are due."""


ENOUGH_GAMES = 5
"""Games after which a hand still to win is suggested by name."""


def suggestions(standing: SeasonStanding) -> Sequence[Suggestion]:
    """What to do next, the most useful first; never empty, for one can always play."""
    found = []
    if standing.match_left:
        found.append(Suggestion(Next.MATCH))
    if standing.deal_left:
        found.append(Suggestion(Next.DEAL))
    if not standing.sheet_read:
        found.append(Suggestion(Next.READ_SHEET))
    if standing.due:
        found.append(Suggestion(Next.PRACTISE, number=standing.due))
    if standing.to_win and standing.games >= ENOUGH_GAMES:
        found.append(Suggestion(Next.WIN_HAND, hand=standing.to_win[0]))
    return (*found, Suggestion(Next.PLAY))
