"""What luck and choices did in a finished game, as the lines that the window and the text table share."""

from __future__ import annotations

from collections.abc import Callable

from engine.advice.moment import Work
from engine.advice.review.costs import EFFORT, try_costs
from engine.advice.review.review import Review, review
from engine.advice.review.skill import figures_of
from engine.rules.house import QUIET
from engine.rules.state import Phase
from engine.store.store import Store
from engine.store.values import StoreError
from game.play.advisor import Advisor
from game.play.sitting import Sitting


def review_job(sitting: Sitting, advisor: Advisor) -> Callable[[Callable[[], bool]], Review | None]:
    """The work of reviewing the line as it stands now, to be done anywhere: it is given a way to ask whether to stop.

    It gives None for a game that is not over, or not played alone at the quiet table.
    """
    states, actions = tuple(sitting.states), tuple(entry.action for entry in sitting.entries)
    if states[-1].phase is not Phase.OVER or states[0].house.table != QUIET:
        return lambda _: None
    return lambda stopped: review(advisor.table, states, actions, Work(stopped=stopped))


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
    figures = figures_of(found)
    try:
        return store.save_review(line, figures.choices, figures.cost, figures.faults)
    except StoreError:
        return False
