"""How well the player plays over time: games told apart by whether advice was hidden, ten by ten, and in words.

Games with advice hidden are the ones that count. The others (advice was at hand, or a deal was tried another way) are
shown, but nothing is said from them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from math import hypot

from engine.advice.measure import ENOUGH, Play, measure_of
from engine.practice.rows import KeptReview
from game import words

TEN = ENOUGH
"""Games in a row that make one point."""


@dataclass(frozen=True)
class Ten:
    """Ten games of one kind in a row; fewer where the last ten is not full yet."""

    hidden: bool
    """Whether these are games with advice hidden."""
    first: int
    """The number of its first game among those of its kind; the first one of all is 1."""
    games: tuple[KeptReview, ...]
    place: float
    """Where its middle lies among all games in order of time; the first one of all is at 0."""
    play: Play

    @property
    def full(self) -> bool:
        """Whether something can be said of it."""
        return self.play.enough

    @property
    def last(self) -> int:
        """The number of its last game."""
        return self.first + len(self.games) - 1


@dataclass(frozen=True)
class PlayOverTime:
    """All reviewed games."""

    games: tuple[KeptReview, ...]
    """In the order in which they were played to their end."""
    hidden: Play
    """The games that count."""
    at_hand: Play
    """The others."""
    tens: tuple[Ten, ...]
    """Of both kinds, in order of their last game."""

    def of(self, hidden: bool) -> tuple[Ten, ...]:
        """The tens of one kind."""
        return tuple(ten for ten in self.tens if ten.hidden == hidden)


def play_over_time(games: Sequence[KeptReview]) -> PlayOverTime:
    """Kept reviews, in order of time, as one whole and ten by ten."""
    placed = list(enumerate(games))
    tens: list[tuple[int, Ten]] = []
    for hidden in (True, False):
        kind = [(place, game) for place, game in placed if game.advice_seen != hidden]
        for first in range(0, len(kind), TEN):
            part = kind[first : first + TEN]
            ten = tuple(game for _, game in part)
            middle = sum(place for place, _ in part) / len(part)
            tens.append((part[-1][0], Ten(hidden, first + 1, ten, middle, measure_of(ten))))
    return PlayOverTime(
        tuple(games),
        measure_of([game for game in games if not game.advice_seen]),
        measure_of([game for game in games if game.advice_seen]),
        tuple(ten for _, ten in sorted(tens, key=lambda one: one[0])),
    )


def points(cost: float) -> str:
    """A mean cost in points of odds, two decimals: `0.45`; `under 0.01` when it would round to nothing."""
    return "0" if not cost else "under 0.01" if cost < 0.00005 else f"{100 * cost:.2f}"


def play_line(play: Play) -> str:
    """How well the player plays, in one sentence: mean and standard error, numerator, denominator, what was counted."""
    if not play.games:
        return "No game with advice hidden has been looked through yet; those are the ones that count."
    games = f"{words.count(play.games, 'game')} with advice hidden"
    if not play.enough:
        return f"{words.sentence(games)} so far: too few games to say how you play. From ten on it is said."
    return (
        f"A choice that mattered cost you {points(play.cost)} points of odds on average, give or take "
        f"{points(play.error)} (one standard error): {100 * play.lost:,.1f} points lost over "
        f"{play.decisions:,} choices in {games}."
    )


def change_line(tens: Sequence[Ten]) -> str:
    """From the first ten games to the latest ten, in one sentence; nothing before there are two."""
    full = [ten for ten in tens if ten.full]
    if len(full) < 2:
        return ""
    first, latest = full[0].play, full[-1].play
    change, error = latest.cost - first.cost, hypot(first.error, latest.error)
    off = f"{points(abs(change))} points, give or take {points(error)}"
    way = "less" if change < 0 else "more" if change > 0 else "no more and no less"
    return (
        f"In your first ten of these games it was {points(first.cost)}, in your latest full ten {points(latest.cost)}: "
        + (f"{way} by {off}." if change else f"{way}.")
    )


def said_of(found: PlayOverTime) -> list[str]:
    """The sentences that the text table says."""
    return [one for one in (play_line(found.hidden), change_line(found.of(hidden=True))) if one]


def days(games: Sequence[KeptReview]) -> str:
    """When games were played, in the player's own time: `3 to 21 March 2026`, `28 February to 3 March 2026`."""
    first, last = (game.at.astimezone() for game in (games[0], games[-1]))
    if first.date() == last.date():
        return _day(last)
    if first.year != last.year:
        return f"{_day(first)} to {_day(last)}"
    same_month = first.month == last.month
    return f"{first.day}{'' if same_month else f' {words.MONTHS[first.month - 1]}'} to {_day(last)}"


def _day(moment: datetime) -> str:
    return f"{moment.day} {words.MONTHS[moment.month - 1]} {moment.year}"
