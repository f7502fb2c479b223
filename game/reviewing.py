"""What luck and choices did in a finished game, as the lines that the window and the text table share."""

from __future__ import annotations

from collections.abc import Callable

from engine.advice.fairness import try_costs
from engine.advice.measure import figures_of
from engine.advice.review import Review, review
from engine.practice.store import Store, StoreError
from engine.rules.house import QUIET
from engine.rules.state import Phase
from game import words
from game.advisor import HORIZON, Advisor
from game.sitting import Sitting

MINUS = "−"


def review_job(sitting: Sitting, advisor: Advisor) -> Callable[[Callable[[], bool]], Review | None]:
    """The work of reviewing the line as it stands now, to be done anywhere: it is given a way to ask whether to stop.

    It gives None for a game that is not over, or not played alone at the quiet table.
    """
    states, actions = tuple(sitting.states), tuple(entry.action for entry in sitting.entries)
    if states[-1].phase is not Phase.OVER or states[0].house.table != QUIET:
        return lambda _: None
    return lambda stopped: review(advisor.table, states, actions, look_ahead=HORIZON, stopped=stopped)


def tried_job(
    sitting: Sitting, advisor: Advisor, found: Review
) -> Callable[[Callable[[], bool], Callable[[], None]], Review]:
    """The work of trying out what the choices of a reviewed line cost: it is given a way to ask whether to stop, and
    one to let the window breathe."""
    states = tuple(sitting.states)
    return lambda stopped, breathe: try_costs(
        found, advisor.table, states, look_ahead=HORIZON, stopped=stopped, breathe=breathe
    )


def keep_figures(store: Store, line: int | None, found: Review | None) -> bool:
    """Keep what a measure of play needs of a review; whether the game counts. What the store refuses is let be: the
    review can be made again."""
    if line is None or found is None:
        return False
    figures = figures_of(found)
    try:
        return store.keep_review(line, figures.choices, figures.cost, figures.faults)
    except StoreError:
        return False


def luck_lines(found: Review | None) -> list[str]:
    """Luck of the deal and of the draws, the player's choices, and the sum that shows how they add up; nothing where
    there was no review.

    Points are hundredths of the chance of a hand, each part rounded to tenths and the rest made to fit.
    """
    if found is None:
        return []
    average = round(1000 * found.average.value)
    deal, passes, draws, choices = (
        round(1000 * part) for part in (found.deal, found.arrived + found.passing, found.draws, found.choices)
    )
    result = round(1000 * found.result)
    rest = result - average - deal - passes - draws - choices
    passed = any(decision.passing for decision in found.decisions)
    lines = [
        f"Luck of the deal: {_points(deal)}, against the average deal, which good play finishes "
        f"{_tenths(average)} times in 100."
    ]
    if passed:
        lines.append(f"The passes: {_points(passes)}, what came in and what good passing was to bring.")
    number = len(found.unforced)
    mattered = f"{words.count(number, 'choice')} that mattered" if number else "none of which mattered"
    lines += [
        f"Luck of the draws: {_points(draws)}, against the average of all tiles that might have come.",
        f"Your choices: {_points(choices)}, against the advised ones; {mattered}.",
    ]
    parts = [deal, *([passes] if passed else []), draws, choices]
    total = " ".join([_tenths(average), *(f"{MINUS if part < 0 else '+'} {_tenths(abs(part))}" for part in parts)])
    ends = "a hand was made" if found.result == 1 else "no hand was made"
    off = f" {MINUS if rest < 0 else '+'} {_tenths(abs(rest))} by which the reckoning was off" if rest else ""
    lines.append(
        f"Together: {total}{off} = {result // 10}: {ends}. A point is a hundredth of the chance of a hand by the last "
        "pick, reckoned and not measured by playing on."
    )
    return lines


def _points(tenths: int) -> str:
    sign = "" if not tenths else MINUS if tenths < 0 else "+"
    return f"{sign}{_tenths(abs(tenths))} {'point' if abs(tenths) == 10 else 'points'}"


def _tenths(tenths: int) -> str:
    return f"{tenths // 10}.{tenths % 10}"
