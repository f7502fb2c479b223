"""What luck and choices did in a finished game, as the lines that the window and the text table share."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Collection
from functools import partial
from typing import TypeAlias

from engine.advice.moment import Work
from engine.advice.review.costs import EFFORT, try_costs
from engine.advice.review.full import PARTS as POINTS_PARTS
from engine.advice.review.full import FullReview, PointsParts, review_full
from engine.advice.review.review import Review, review
from engine.advice.review.skill import figures_of
from engine.drills.match import Match
from engine.rules.house import FULL, QUIET
from engine.rules.state import Phase
from engine.store.store import Store
from engine.store.values import Json, StoreError
from game.play.advisor import Advisor
from game.play.desk import Desk
from game.play.jobs import Step
from game.play.practice.looks import looks_of
from game.play.sitting import Sitting
from game.play.worker import Job


def review_job(sitting: Sitting, advisor: Advisor) -> Callable[[Callable[[], bool]], Review | None]:
    """The work of reviewing the line as it stands now, to be done anywhere: it is given a way to ask whether to stop.

    It gives None for a game that is not over, or not played alone at the quiet table.
    """
    states, actions = tuple(sitting.states), tuple(entry.action for entry in sitting.entries)
    if states[-1].phase is not Phase.OVER or states[0].house.table != QUIET:
        return lambda _: None
    return lambda stopped: review(advisor.table, states, actions, Work(stopped=stopped))


def points_job(
    sitting: Sitting, advisor: Advisor
) -> Callable[[Callable[[], bool], Callable[[], None]], FullReview | None]:
    """The work of reviewing a line at the full table, in points: it is given a way to ask whether to stop, and one to
    let the window breathe. A line that is not over counts as ended by the clock. It gives None for another table, and
    for an advisor that makes no effort. It raises StoppedError once it is to stop."""
    states, actions = tuple(sitting.states), tuple(entry.action for entry in sitting.entries)
    if states[0].house.table != FULL or not advisor.effort:
        return lambda _, __: None

    def work(stopped: Callable[[], bool], breathe: Callable[[], None]) -> FullReview:
        return review_full(advisor.table, states, actions, Work(EFFORT, stopped, breathe), ended=True)

    return work


def keep_review(store: Store, line: int | None, found: Review | None, points: PointsParts | None) -> None:
    """Keep what was found about a finished game at either table."""
    keep_figures(store, line, found)
    keep_points(store, line, points)


POINTS = "points of a game"
"""The kind of the results in the store that say what luck, the others and choices did in a game among four."""


def keep_points(store: Store, line: int | None, found: PointsParts | None) -> None:
    """Keep the parts of a game among four, in hundredths of a point, once, and what its choices came to that were not
    looked up first. What the store refuses is let be."""
    if line is None or found is None:
        return
    with contextlib.suppress(StoreError):
        if kept_points(store, line) is None:
            figures: dict[str, Json] = {**found.parts, "result": found.result, "passed": found.passed}
            if isinstance(found, FullReview):
                figures |= _own_choices(store, line, found)
            store.add_result(POINTS, figures, line=line)


def _own_choices(store: Store, line: int, found: FullReview) -> dict[str, Json]:
    """How many choices were made without looking advice up, and what they came to together. Of a line whose looks
    aren't known they count only where advice was hidden throughout."""
    looks = looks_of(store).get(line)
    if looks is None and not store.line(line).advice_hidden:
        return {"made": 0, "own": 0}
    mine = [one for one in found.decisions if one.index not in (looks or ())]
    return {"made": len(mine), "own": sum(one.value for one in mine)}


def kept_points(store: Store, line: int) -> PointsParts | None:
    """The parts of a game among four, if they are kept whole. Raises StoreError."""
    for result in store.results(POINTS):
        if result.line == line:
            numbers = {name: result.figures.get(name) for name in (*POINTS_PARTS, "result")}
            whole = {name: value for name, value in numbers.items() if type(value) is int}
            if len(whole) == len(numbers):
                return PointsParts(**whole, passed=result.figures.get("passed") is True)
    return None


Deals = tuple[PointsParts | None, ...]
"""What came of the deals of a match; None for one that can't be opened."""


def deal_reviews(desk: Desk, match: Match) -> list[Step[Deals]]:
    """For each deal of a match, the step that adds what luck, the others and choices did in it: as it is kept, or
    worked out. To be called on the window's thread."""
    return [partial(_with_deal, *_deal_job(desk, result.line)) for result in match.results]


def keep_deals(store: Store, match: Match, found: Deals) -> None:
    """Keep what was worked out about the deals of a match."""
    for result, parts in zip(match.results, found, strict=False):
        keep_points(store, result.line, parts)


PointsJob: TypeAlias = "Callable[[Callable[[], bool], Callable[[], None]], PointsParts | None]"


def _deal_job(desk: Desk, line: int | None) -> tuple[PointsParts | None, PointsJob | None]:
    """What is kept of a deal, or else the work that finds it; neither for a deal that can't be opened."""
    if line is None:
        return None, None
    try:
        kept = kept_points(desk.store, line)
        if kept is not None:
            return kept, None
        sitting = desk.sitting_of(line)
    except (StoreError, ValueError):
        return None, None
    first = sitting.states[0]
    return None, points_job(sitting, desk.advisor(first.sheet, first.house.jokers))


def _with_deal(kept: PointsParts | None, work: PointsJob | None, found: Deals, job: Job[Deals]) -> Deals:
    return (*found, kept if work is None else work(lambda: job.stopped, job.breathe))


def tried_job(
    sitting: Sitting, advisor: Advisor, found: Review
) -> Callable[[Callable[[], bool], Callable[[], None]], Review]:
    """The work of trying out what the choices of a reviewed line cost: it is given a way to ask whether to stop, and
    one to let the window breathe."""
    states = tuple(sitting.states)
    return lambda stopped, breathe: try_costs(found, advisor.table, states, Work(EFFORT, stopped, breathe))


def keep_figures(store: Store, line: int | None, found: Review | None) -> bool:
    """Keep what a measure of play needs of a review; whether the game counts. What the store refuses is let be: the
    review can be made again."""
    if line is None or found is None:
        return False
    try:
        looks = looks_of(store).get(line)
        looked = looks or frozenset()
        figures = figures_of(found, looked)
        counts = store.save_review(line, figures.choices, figures.cost, figures.faults, looks is not None)
        if counts and all(result.line != line for result in store.results(PARTS)):
            store.add_result(PARTS, parts_of(found, looked), line=line)
    except StoreError:
        return False
    return counts


PARTS = "parts of a game"
"""The kind of the results in the store that say what luck, passes and choices did in a game."""


def parts_of(found: Review, looked_up: Collection[int]) -> dict[str, Json]:
    """What a review says of one game. Luck and choices are chances of a hand by the last pick, 0 to 1; costs are picks.
    Passes that were looked up first are left out."""
    passes = [one for one in found.decisions if one.passing and one.unforced and one.index not in looked_up]
    return {
        "average": round(found.average.value, 4),
        "luck": round(found.deal + found.arrived + found.draws, 4),
        "choices": round(found.choices, 4),
        "result": round(found.result, 4),
        "looked_up": sum(one.index in looked_up for one in found.unforced),
        "passes": len(passes),
        "passes_best": sum(not one.fault for one in passes),
        "passes_cost": round(max(sum(one.cost for one in passes), 0.0), 4),
    }
