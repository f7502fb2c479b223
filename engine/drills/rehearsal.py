"""Rehearsing the passes by the clock: the allowance shrinks as the player succeeds, and tallies never mix kinds.

By default the clock comes from the player's own pace. Fixed times stay to choose: mock passes against five minutes,
then four, three and two, are common practice (no source).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from statistics import median

from engine.advice.stats import ENOUGH
from engine.drills.allowances import by_allowance
from engine.store.values import Result

KIND = "passes"
"""The kind of a rehearsal's line and of its result in the store."""
ALLOWANCES = (300.0, 240.0, 180.0, 120.0)
"""Seconds for all passes of one deal, from the first allowance to the last."""

PACE = "pace"
"""The figure of a result that says the allowance came from the player's own pace."""
FOR_A_PACE = 3
"""Rehearsals without a clock that a pace is made of at least."""
TIGHTER = 0.9
"""What a success at one's own pace leaves of the allowance."""
SHORTEST = 20.0
"""Seconds below which no allowance is made."""


@dataclass(frozen=True)
class OwnPace:
    """How fast the player is without a clock, and the allowance that follows from it."""

    rehearsals: int
    """Rehearsals without a clock that were counted."""
    median: float | None
    """The median of their seconds; None while they are too few."""
    allowance: float | None
    """Seconds for the next rehearsal: the median, a tenth less after each success. None while there is no median."""

    @property
    def lacking(self) -> int:
        """Rehearsals without a clock that are still to be done before there is a pace."""
        return max(FOR_A_PACE - self.rehearsals, 0)


def pace_of(results: Iterable[Result]) -> OwnPace:
    """The player's own pace from results, the latest first.

    A later median that is shorter than the allowance takes its place.
    """
    rehearsed = [result for result in results if result.kind == KIND and _figure(result, "seconds") > 0]
    untimed = [_figure(result, "seconds") for result in rehearsed if result.allowance is None]
    if len(untimed) < FOR_A_PACE:
        return OwnPace(len(untimed), None, None)
    usual = median(untimed)
    last = next((result for result in rehearsed if result.allowance is not None and at_own_pace(result)), None)
    if last is None or last.allowance is None:
        return OwnPace(len(untimed), usual, max(usual, SHORTEST))
    in_time = _figure(last, "seconds") <= last.allowance
    then = last.allowance * TIGHTER if in_time else last.allowance
    return OwnPace(len(untimed), usual, max(min(then, usual), SHORTEST))


def at_own_pace(result: Result) -> bool:
    """Whether the allowance of a result came from the player's own pace."""
    return result.figures.get(PACE) is True


def next_allowance(now: float, in_time: bool) -> float:
    """The allowance after a rehearsal: the next shorter one after a success, else the same."""
    shorter = [allowance for allowance in ALLOWANCES if allowance < now]
    return shorter[0] if in_time and shorter else now


@dataclass(frozen=True)
class Tally:
    """Rehearsals of one kind: all untimed ones, all at the player's own pace, or all with one fixed allowance."""

    allowance: float | None
    """Seconds, None for untimed ones; at one's own pace the latest."""
    rehearsals: int
    in_time: int
    """How many were done within the allowance; all of them where there is none."""
    passes: int
    """Passes chosen in all of them."""
    best: int
    """Passes that cost nothing against the best choice."""
    picks: float | None
    """Mean cost of a rehearsal in picks, all its passes together; None if none was counted so."""
    seconds: float
    """Mean seconds a rehearsal took."""
    own: bool = False
    """Whether the allowance came from the player's own pace."""

    @property
    def enough(self) -> bool:
        """Whether there are enough to say shares and means."""
        return self.rehearsals >= ENOUGH


def tallies(results: Iterable[Result]) -> tuple[Tally, ...]:
    """One tally for the untimed rehearsals, one for those at the player's own pace and one for each fixed allowance,
    longest first; only those that were played. The results are the latest first."""
    found = list(results)
    fixed = [result for result in found if not at_own_pace(result)]
    own = [result for result in found if result.kind == KIND and at_own_pace(result)]
    all_of = [_tally(allowance, group) for allowance, group in by_allowance(fixed, KIND)]
    if own:
        first = sum(tally.allowance is None for tally in all_of)
        all_of.insert(first, _tally(own[0].allowance, own, own=True))
    return tuple(all_of)


def _tally(allowance: float | None, results: list[Result], *, own: bool = False) -> Tally:
    seconds = [_figure(result, "seconds") for result in results]
    allowed = [result.allowance if own else allowance for result in results]
    return Tally(
        allowance=allowance,
        rehearsals=len(results),
        in_time=sum(limit is None or spent <= limit for limit, spent in zip(allowed, seconds, strict=True)),
        passes=round(sum(_figure(result, "passes") for result in results)),
        best=round(sum(_figure(result, "best") for result in results)),
        picks=_mean([_figure(result, "picks") for result in results if "picks" in result.figures]),
        seconds=sum(seconds) / len(results),
        own=own,
    )


def _mean(values: list[float]) -> float | None:
    return sum(values) / len(values) if values else None


def _figure(result: Result, name: str) -> float:
    value = result.figures.get(name, 0)
    return float(value) if isinstance(value, int | float) else 0.0
