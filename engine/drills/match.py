"""A match: several deals of the full table with points kept across them, perhaps against the clock.

Points are kept by place as the player sees it (0 the player, 1 to the right, 2 across, 3 to the left), for the seats
move on: after each deal East passes to the right, so that the player who was East is North in the next.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from engine.advice.stats import ENOUGH
from engine.drills.allowances import by_allowance
from engine.rules.house import RANGES, SEATS, House
from engine.rules.state import Outcome
from engine.store.values import Json, Result

KIND = "match"
"""The kind of a match's lines and of its result in the store."""
MOST_DEALS = 8
TIME = "time"
"""The outcome of a deal that the clock ended: nobody scores."""

Points = tuple[int, int, int, int]
"""By place."""


@dataclass(frozen=True)
class MatchRules:
    """How many deals, and how long each may last. Raises ValueError with what to choose instead."""

    deals: int = 4
    minutes: int | None = None
    """For each deal; None without a clock."""
    east_stays: bool = False
    """Whether East stays East after winning a deal."""
    loss_limit: int = 0
    """The most points that a seat may lose in all deals together; 0 for no limit."""

    def __post_init__(self) -> None:
        if type(self.deals) is not int or not 1 <= self.deals <= MOST_DEALS:
            raise ValueError(f"a match of {self.deals!r} deals can't be; choose 1 to {MOST_DEALS}")
        if self.minutes is not None and (type(self.minutes) is not int or not 1 <= self.minutes <= 60):
            raise ValueError(f"{self.minutes!r} minutes a deal can't be; choose 1 to 60, or no clock")
        low, high = RANGES["loss_limit"]
        if type(self.loss_limit) is not int or not low <= self.loss_limit <= high:
            raise ValueError(f"a limit of {self.loss_limit!r} points can't be; choose {low} to {high}")
        if type(self.east_stays) is not bool:
            raise ValueError(f"east_stays is {self.east_stays!r}; choose True or False")

    def at(self, house: House) -> MatchRules:
        """The same by the house rules of the table."""
        return replace(self, east_stays=house.east_stays, loss_limit=house.loss_limit)

    @property
    def seconds(self) -> float | None:
        """The allowance of one deal."""
        return None if self.minutes is None else self.minutes * 60.0


@dataclass(frozen=True)
class DealResult:
    """How one deal of a match went."""

    outcome: str
    """`mahjong`, `wall`, `dead`, or `time` when the clock ended it."""
    points: Points
    seconds: float
    """Time spent on it."""
    winner: int | None = None
    """The winner's place."""
    hand: str = ""
    line: int | None = None
    """The store's number of the deal, where it is kept."""


def deal_result(outcome: Outcome | None, player: int, seconds: float, line: int | None = None) -> DealResult:
    """The result of a deal that ended so, seen from the player's seat; None when the clock ended it."""
    if outcome is None:
        return DealResult(TIME, (0, 0, 0, 0), seconds, line=line)
    you, right, across, left = (outcome.payments[(player + place) % len(SEATS)] for place in range(len(SEATS)))
    winner = None if outcome.winner is None else (outcome.winner - player) % len(SEATS)
    hand = outcome.hand.name if outcome.hand is not None else ""
    return DealResult(outcome.kind, (you, right, across, left), seconds, winner, hand, line)


@dataclass(frozen=True)
class Match:
    """A match under way or at its end."""

    rules: MatchRules
    first_seat: int = 0
    """The player's seat in the first deal."""
    results: tuple[DealResult, ...] = ()

    @property
    def over(self) -> bool:
        """Whether all deals are played."""
        return len(self.results) >= self.rules.deals

    @property
    def number(self) -> int:
        """The deal that is played next, from 1; the last one once all are played."""
        return min(len(self.results) + 1, self.rules.deals)

    @property
    def seat(self) -> int:
        """The player's seat in the deal that is played next: East passes to the right, unless the house lets East stay
        after winning."""
        seat = self.first_seat
        for one in self.results:
            east = -seat % len(SEATS)
            if not (self.rules.east_stays and one.winner == east):
                seat = (seat - 1) % len(SEATS)
        return seat

    @property
    def totals(self) -> Points:
        """Points so far, by place; they add up to nothing."""
        you, right, across, left = (sum(one.points[place] for one in self.results) for place in range(len(SEATS)))
        return you, right, across, left

    @property
    def rank(self) -> int:
        """1 when nobody has more points than the player, 2 when one other has, and so on."""
        totals = self.totals
        return 1 + sum(points > totals[0] for points in totals[1:])

    def after(self, result: DealResult) -> Match:
        """The match with one more deal played, in which nobody loses more than is left to lose. Raises ValueError when
        it is over."""
        if self.over:
            raise ValueError(f"all {self.rules.deals} deals of this match are played; begin another")
        points = limited(result.points, self.totals, self.rules.loss_limit)
        return replace(self, results=(*self.results, replace(result, points=points)))

    def figures(self) -> dict[str, Json]:
        """What the store keeps of a finished match."""
        return {
            "deals": len(self.results),
            "points": self.totals[0],
            "rank": self.rank,
            "won": sum(one.winner == 0 for one in self.results),
            "timed out": sum(one.outcome == TIME for one in self.results),
            "seconds": round(sum(one.seconds for one in self.results), 1),
        }

    def to_json(self) -> dict[str, Json]:
        """A dict of plain values, to go on with after a break."""
        return {
            "deals": self.rules.deals,
            "minutes": self.rules.minutes,
            "east stays": self.rules.east_stays,
            "loss limit": self.rules.loss_limit,
            "first seat": self.first_seat,
            "results": [
                {
                    "outcome": one.outcome, "points": list(one.points), "seconds": one.seconds,
                    "winner": one.winner, "hand": one.hand, "line": one.line,
                }
                for one in self.results
            ],
        }  # fmt: skip

    @classmethod
    def from_json(cls, data: object) -> Match | None:
        """The match that such a dict holds; None where it holds none that makes sense."""
        if not isinstance(data, Mapping):
            return None
        try:
            rules = MatchRules(data["deals"], data["minutes"], data.get("east stays", False), data.get("loss limit", 0))
            results = tuple(map(_result, data["results"]))
            seat = data["first seat"]
        except (KeyError, TypeError, ValueError):
            return None
        if type(seat) is not int or not 0 <= seat < len(SEATS) or len(results) > rules.deals:
            return None
        return cls(rules, seat, results)


def limited(points: Points, totals: Points, limit: int) -> Points:
    """The points of one more deal, with no total below minus the limit; 0 for no limit.

    What a seat can't pay is missing from those who get points, the one who gets most first.
    """
    paid = list(points)
    for payer in range(len(SEATS)):
        missing = -(totals[payer] + paid[payer]) - limit if limit and paid[payer] < 0 else 0
        missing = min(missing, -paid[payer])
        for _ in range(max(missing, 0)):
            paid[payer] += 1
            paid[paid.index(max(paid))] -= 1
    you, right, across, left = paid
    return you, right, across, left


def _result(data: Mapping[str, object]) -> DealResult:
    points, seconds, winner, line = data["points"], data["seconds"], data["winner"], data["line"]
    if not isinstance(points, list) or len(points) != len(SEATS) or any(type(one) is not int for one in points):
        raise ValueError("points are four whole numbers")
    if sum(points) or not isinstance(seconds, int | float) or isinstance(seconds, bool):
        raise ValueError("points add up to nothing, seconds are a number")
    if not (winner is None or (type(winner) is int and 0 <= winner < len(SEATS))):
        raise ValueError("a winner is a place")
    you, right, across, left = points
    return DealResult(
        str(data["outcome"]),
        (you, right, across, left),
        float(seconds),
        winner if type(winner) is int else None,
        str(data["hand"]),
        line if type(line) is int else None,
    )


@dataclass(frozen=True)
class MatchTally:
    """Finished matches of one kind: all without a clock, or all with the same time for a deal."""

    allowance: float | None
    matches: int
    first: int
    """Matches in which nobody had more points than the player."""
    deals: int
    won: int
    points: int

    @property
    def enough(self) -> bool:
        """Whether there are enough to say shares and means."""
        return self.matches >= ENOUGH


def tallies(results: Iterable[Result]) -> tuple[MatchTally, ...]:
    """One tally for the matches without a clock and one for each time for a deal, longest first."""
    return tuple(
        MatchTally(
            allowance,
            len(group),
            sum(_figure(one, "rank") == 1 for one in group),
            sum(_figure(one, "deals") for one in group),
            sum(_figure(one, "won") for one in group),
            sum(_figure(one, "points") for one in group),
        )
        for allowance, group in by_allowance(results, KIND)
    )


def _figure(result: Result, name: str) -> int:
    value = result.figures.get(name, 0)
    return value if type(value) is int else 0
