"""What a choice cost, in words."""

from __future__ import annotations

from engine import words
from engine.advice.review.review import Decision
from engine.advice.stats import Interval
from engine.rules.passing import DIRECTIONS
from engine.rules.state import State
from engine.tiles import Kind, name, say_tiles
from game.play.costs import Costly
from game.play.rehearsing import PassCost


def _costly_pass(state: State, decision: Decision) -> Costly:
    """A pass that cost something; the tiles shown are ones that only it, or only the advised one, gives away."""
    mine, best = decision.chosen, decision.best
    gone = next(kind for kind in mine if mine.count(kind) > best.count(kind))
    better = next((kind for kind in best if best.count(kind) > mine.count(kind)), gone)
    said = (
        f"In pass {state.passes_done + 1} you gave away {say_tiles(mine)}; {say_tiles(best)} would have kept "
        f"{words.points_of_odds(decision.cost)} points of odds more{_give_or_take(decision.within)}."
    )
    return Costly(decision.index, gone, better, decision.cost, said, decision.within is not None)


def _give_or_take(within: Interval | None) -> str:
    half = 0.0 if within is None else (within[1] - within[0]) / 2
    return f", give or take {words.give_or_take(half)}" if half else ""


def costly_choice(
    index: int, state: State, let_go: Kind, better: Kind, cost: float, within: Interval | None = None
) -> Costly:
    """A choice that cost something, `within` the interval where it was tried out."""
    said = (
        f"{_moment(state)} you let the {name(let_go)} go; letting the {name(better)} go would have kept "
        f"{words.points_of_odds(cost)} points of odds more{_give_or_take(within)}."
    )
    return Costly(index, let_go, better, cost, said, within is not None)


def _moment(state: State) -> str:
    return f"At pick {state.picks}" if state.picks else "At the start"


def _pass_cost(
    index: int, state: State, mine: tuple[Kind, ...], best: tuple[Kind, ...], cost: float, half: float | None = None
) -> PassCost:
    """`half` is half of the interval of the cost where it was tried out."""
    way = DIRECTIONS[state.passes_done]
    where = way if way == "across" else f"to the {way}"
    said = f"Pass {state.passes_done + 1}, {where}: {say_tiles(mine)}. "
    if cost > 0:
        give = "" if half is None else f", give or take {words.give_or_take(half)}"
        said += f"{words.sentence(say_tiles(best))} would have kept {words.points_of_odds(cost)} points more{give}."
    elif half is None or mine == best:
        said += "None better was found."
    else:
        said += f"{words.sentence(say_tiles(best))} seemed better, but that can't be told."
    return PassCost(index, mine, best, cost, said)
