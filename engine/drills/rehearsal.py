"""Rehearsing the passes by the clock: the allowance shrinks as the player succeeds, and tallies never mix kinds.

Mock passes against five minutes, then four, three and two, are common practice (no source).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from engine.advice.stats import ENOUGH
from engine.drills.allowances import by_allowance
from engine.store.values import Result

KIND = "passes"
"""The kind of a rehearsal's line and of its result in the store."""
ALLOWANCES = (300.0, 240.0, 180.0, 120.0)
"""Seconds for all passes of one deal, from the first allowance to the last."""


def next_allowance(now: float, in_time: bool) -> float:
    """The allowance after a rehearsal: the next shorter one after a success, else the same."""
    shorter = [allowance for allowance in ALLOWANCES if allowance < now]
    return shorter[0] if in_time and shorter else now


@dataclass(frozen=True)
class Tally:
    """Rehearsals of one kind: all untimed ones, or all with one allowance."""

    allowance: float | None
    """Seconds, None for untimed ones."""
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

    @property
    def enough(self) -> bool:
        """Whether there are enough to say shares and means."""
        return self.rehearsals >= ENOUGH


def tallies(results: Iterable[Result]) -> tuple[Tally, ...]:
    """One tally for the untimed rehearsals and one for each allowance, longest first; only those that were played."""
    return tuple(_tally(allowance, group) for allowance, group in by_allowance(results, KIND))


def _tally(allowance: float | None, results: list[Result]) -> Tally:
    seconds = [_figure(result, "seconds") for result in results]
    return Tally(
        allowance=allowance,
        rehearsals=len(results),
        in_time=sum(allowance is None or spent <= allowance for spent in seconds),
        passes=round(sum(_figure(result, "passes") for result in results)),
        best=round(sum(_figure(result, "best") for result in results)),
        picks=_mean([_figure(result, "picks") for result in results if "picks" in result.figures]),
        seconds=sum(seconds) / len(results),
    )


def _mean(values: list[float]) -> float | None:
    return sum(values) / len(values) if values else None


def _figure(result: Result, name: str) -> float:
    value = result.figures.get(name, 0)
    return float(value) if isinstance(value, int | float) else 0.0
