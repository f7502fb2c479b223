"""Play over time, in words."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from math import hypot

from engine import words
from engine.advice.review.skill import Play
from engine.advice.stats import Interval, half_width
from engine.store.values import StoredReview
from game.play.skill import PlayOverTime, Ten

MINUS = "−"


def per_choice(cost: float) -> str:
    """A mean cost in picks, two decimals: `0.45`; `under 0.01` when it would round to nothing."""
    return "0" if not cost else "under 0.01" if cost < 0.005 else f"{cost:.2f}"


def play_line(play: Play) -> str:
    """How well the player plays, in one sentence: mean and where it likely lies, numerator, denominator, what was
    counted."""
    if not play.games:
        return "No choice counts yet. Those count that you make at the quiet table without looking advice up first."
    games = words.count(play.games, "game")
    if not play.enough:
        return f"{words.sentence(games)} so far: too few games to say how you play. From ten on it is said."
    return (
        f"A choice that mattered cost you {per_choice(play.cost)} picks on average{_likely(play.within)}: "
        f"{play.lost:,.1f} picks lost over {play.decisions:,} choices in {games}."
    )


def points_line(play: Play) -> str:
    """The same of the full table, in points."""
    games = words.count(play.games, "game")
    if not play.enough:
        return f"At the full table {games} so far: too few to say what your choices cost there."
    return (
        f"At the full table a choice cost you {per_choice(play.cost)} points on average{_likely(play.within)}: "
        f"{play.lost:,.0f} points lost over {play.decisions:,} choices in {games}."
    )


def _likely(within: Interval | None) -> str:
    """` (likely 0.31 to 0.64)`; nothing where there is no interval or no width to it."""
    if within is None or within[0] == within[1]:
        return ""
    return f" (likely {per_choice(within[0])} to {per_choice(within[1])})"


def change_line(tens: Sequence[Ten]) -> str:
    """From the first ten games to the latest ten, in one sentence; nothing before there are two.

    The interval is Student's for a difference of two means, with the degrees of freedom of the fewer games.
    """
    full = [ten for ten in tens if ten.full]
    if len(full) < 2:
        return ""
    first, latest = full[0].play, full[-1].play
    change = abs(latest.cost - first.cost)
    half = half_width(hypot(first.error, latest.error), min(first.games, latest.games))
    said = f"In your first ten of these games it was {per_choice(first.cost)}, in your latest full ten "
    said += f"{per_choice(latest.cost)}: "
    if not change:
        return f"{said}no more and no less."
    said += f"{'less' if latest.cost < first.cost else 'more'} by {per_choice(change)} picks"
    if half >= change:
        return f"{said}, which may be chance."
    return f"{said}{_likely((change - half, change + half))}."


def said_of(found: PlayOverTime) -> list[str]:
    """The sentences that the text table says."""
    return [one for one in (play_line(found.hidden), change_line(found.of(hidden=True))) if one]


def days(games: Sequence[StoredReview]) -> str:
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
