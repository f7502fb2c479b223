"""What is worked out about a finished game: what the choices cost, what luck did, and the costs once tried out."""

from __future__ import annotations

from dataclasses import dataclass, replace

from engine.advice.advise.hands import Slot, slots_of
from engine.advice.odds.reach import missing
from engine.advice.review.full import FullReview
from engine.advice.review.review import Review
from engine.rules.house import FULL
from engine.rules.state import State
from engine.sheet.model import Hand
from engine.tiles import counts_of
from game.play.advisor import Advisor
from game.play.costs import Cost, costs_in_points, costs_of, costs_reviewed, costs_tried, dearest, left_open
from game.play.jobs import Step
from game.play.reviewing import points_job, review_job, tried_job
from game.play.sitting import Sitting
from game.play.worker import Job


@dataclass(frozen=True)
class NearMiss:
    """The hand that a seat was nearest to at the end."""

    seat: int
    hand: Hand
    missing: int
    """Tiles that it lacked."""
    slots: tuple[tuple[Slot, ...], ...]
    """Its fourteen places in their groups, and which of them were filled."""


@dataclass(frozen=True)
class FinishedGame:
    """What is known so far about a finished game."""

    costs: tuple[Cost, ...]
    """Every choice that can be weighed, in the order played."""
    near: tuple[NearMiss, ...] = ()
    """For each seat that did not win and is not dead, what it was nearest to."""
    review: Review | None = None
    """What luck and choices did; None until it is known, and for a game that is not reviewed."""
    points: FullReview | None = None
    """The same of a game among four, in points."""
    reviewed: bool = False
    """Whether that has been looked at."""
    tried: bool = False
    """Whether the costs were tried out, and are no longer first estimates."""

    @property
    def costly(self) -> tuple[Cost, ...]:
        """The choices that cost something, dearest first."""
        return tuple(dearest(self.costs))

    @property
    def unsure(self) -> int:
        """How many choices were tried out and can't be told apart from the best ones."""
        return left_open(self.costs)


def look_through(sitting: Sitting, advisor: Advisor, *, weighed: bool = True) -> FinishedGame:
    """The choices of a finished game as they are estimated, at once; only the near misses where they are not
    `weighed`."""
    costs = costs_of(sitting, advisor) if weighed else ()
    return FinishedGame(costs, near_misses(sitting.states[-1], advisor))


def near_misses(state: State, advisor: Advisor) -> tuple[NearMiss, ...]:
    """What each seat that did not win and is not dead was nearest to: fewest tiles to come, then most points, then the
    first on the sheet. At the quiet table only the player has played."""
    found = []
    won = state.outcome.winner if state.outcome is not None else None
    seats = range(4) if state.house.table == FULL else (state.house.seat,)
    for seat in seats:
        counts, laid = counts_of(state.racks[seat]), state.exposures[seat]
        table = advisor.table.after(laid)
        if seat == won or state.dead[seat] or not len(table):
            continue
        short = missing(table, counts).tolist()
        points = [hand.points for hand in table.sheet.hands]
        row = min(range(len(table)), key=lambda row: (short[row], -points[int(table.hand[row])], row))
        hand = table.sheet.hands[int(table.hand[row])]
        found.append(NearMiss(seat, hand, short[row], slots_of(table.variants[row], counts, laid)))
    return tuple(found)


def later_steps(sitting: Sitting, advisor: Advisor) -> list[Step[FinishedGame]]:
    """The steps that make a better answer of it: what luck did, then the costs tried out if the advisor does so."""

    def luck(ended: FinishedGame, job: Job[FinishedGame]) -> FinishedGame:
        points = points_job(sitting, advisor)(lambda: job.stopped, job.breathe)
        costs = ended.costs if points is None else costs_in_points(ended.costs, points)
        review = review_job(sitting, advisor)(lambda: job.stopped)
        return replace(ended, costs=costs, review=review, points=points, reviewed=True)

    def tried(ended: FinishedGame, job: Job[FinishedGame]) -> FinishedGame:
        if not advisor.effort:
            return ended
        if ended.review is None:
            costs = costs_tried(sitting, advisor, ended.costs, lambda: job.stopped, job.breathe)
            return replace(ended, costs=costs, tried=True)
        review = tried_job(sitting, advisor, ended.review)(lambda: job.stopped, job.breathe)
        return replace(ended, costs=costs_reviewed(sitting, review, ended.costs), review=review, tried=True)

    return [luck, tried]


def looked_through(sitting: Sitting, advisor: Advisor) -> FinishedGame:
    """All that can be known about a finished game, worked out at once: some seconds."""
    found, job = look_through(sitting, advisor), Job[FinishedGame].alone()
    for step in later_steps(sitting, advisor):
        found = step(found, job)
    return found
