"""What luck and choices did in a finished game, as the lines that the window and the text table share."""

from __future__ import annotations

from collections.abc import Callable, Collection

from engine.advice.moment import Work
from engine.advice.review.costs import EFFORT, try_costs
from engine.advice.review.review import Review, review
from engine.advice.review.skill import figures_of
from engine.rules.house import QUIET
from engine.rules.state import Phase
from engine.store.store import Store
from engine.store.values import Json, StoreError
from game.play.advisor import Advisor
from game.play.practice.looks import looks_of
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
