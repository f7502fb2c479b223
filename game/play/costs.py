"""What the player's choices at the full table have cost: discards and calls, reckoned at once, then tried out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from engine import words
from engine.advice.advise.calls import advise_call
from engine.advice.moment import Moment, Work
from engine.advice.review.costs import EFFORT, interval_of
from engine.advice.review.review import Review
from engine.advice.rollout.discards import compare
from engine.rules.actions import Action, Call, Discard, LetGo
from engine.rules.house import seat_name
from engine.rules.observation import observe
from engine.rules.state import Phase
from engine.sheet.groups import size_name
from engine.tiles import Kind, name
from game.play.advisor import Advisor
from game.play.sitting import Sitting
from game.words.situation import call_words


def full_costs_of(sitting: Sitting, advisor: Advisor) -> list[Costly]:
    """The player's discards and calls that cost something, dearest first."""
    costly = [*costs_of(sitting, advisor), *_call_costs(sitting, advisor)]
    return sorted(costly, key=lambda one: -one.cost)


def full_costs_tried(
    sitting: Sitting,
    advisor: Advisor,
    costly: Sequence[Costly],
    stopped: Callable[[], bool],
    breathe: Callable[[], None],
) -> tuple[list[Costly], int]:
    """The same once the discards among them were played on, with the draws that are the player's own: those that cost
    something beyond doubt, and how many can't be told apart from the advised ones. Calls stay as reckoned."""
    from game.words.costs import costly_choice

    found, unsure = [], 0
    for one in costly:
        if one.let_go == one.better:
            found.append(one)
            continue
        state = sitting.states[one.index]
        seen = observe(state, sitting.player)
        moment = Moment.seen(advisor.table, seen).near()
        tried = compare(moment, one.better, one.let_go, Work(EFFORT, stopped, breathe))
        within = interval_of(tried)
        if within[0] > 0 and tried.behind >= WORTH_NAMING:
            found.append(costly_choice(one.index, state, one.let_go, one.better, tried.behind, within))
        else:
            unsure += 1
    return sorted(found, key=lambda one: -one.cost), unsure


def _call_costs(sitting: Sitting, advisor: Advisor) -> list[Costly]:
    found = []
    for index in sitting.decisions:
        state, action = sitting.states[index], sitting.entries[index].action
        if state.phase is not Phase.CALLING:
            continue
        advice = advise_call(advisor.table, observe(state, sitting.player))
        mine = advice.of(action)
        if mine is None or advice.best.worth - mine.worth < WORTH_NAMING:
            continue
        cost = advice.best.worth - mine.worth
        last = state.discards[-1]
        did = _did(action)
        better = call_words(advice.best.action)
        said = (
            f"When {seat_name(last.seat).capitalize()} let the {name(last.kind)} go, you {did}; "
            f"“{better}” would have kept {words.points_of_odds(cost)} points of odds more, as reckoned."
        )
        found.append(Costly(index, last.kind, last.kind, cost, said))
    return found


def _did(action: Action) -> str:
    match action:
        case Call(size, _):
            return f"called it for a {size_name(size)}"
        case LetGo():
            return "let it go"
    return "called it for mahjong"


WORTH_NAMING = 0.0005
"""Costs below this probability are the same choice for a player, and are not called a mistake."""


@dataclass(frozen=True)
class Costly:
    """A choice of the player's that was worth less than the best one at that moment."""

    index: int
    """The state at which it was made."""
    let_go: Kind
    better: Kind
    cost: float
    """Probability lost."""
    sentence: str
    tried: bool = False
    """Whether the cost was found by trying both out, not reckoned."""


def costs_of(sitting: Sitting, advisor: Advisor) -> list[Costly]:
    """The player's discards that cost something, dearest first; ties in the order played."""
    from game.words.costs import costly_choice

    costly = []
    for index in sitting.decisions:
        action = sitting.entries[index].action
        state = sitting.states[index]
        if not isinstance(action, Discard) or state.phase is not Phase.TURN:
            continue
        advice = advisor.advise(observe(state, sitting.player))
        cost = next((keep.cost for keep in advice.keeps if keep.kind == action.kind), 0.0)
        if cost < WORTH_NAMING:
            continue
        costly.append(costly_choice(index, state, action.kind, advice.keeps[-1].kind, cost))
    return sorted(costly, key=lambda one: -one.cost)


def costs_tried(sitting: Sitting, found: Review) -> tuple[list[Costly], int]:
    """The player's choices that cost something beyond doubt, dearest first, once they were tried out: tiles let go and
    tiles passed; and how many more were reckoned to but can't be told apart from the advised ones."""
    from game.words.costs import _costly_pass, costly_choice

    costly, unsure = [], 0
    for decision in found.decisions:
        if not decision.chosen or not decision.best:
            continue
        if not decision.fault:
            unsure += decision.within is not None
        elif decision.cost >= WORTH_NAMING:
            state = sitting.states[decision.index]
            if decision.passing:
                costly.append(_costly_pass(state, decision))
            else:
                index, chosen, best = decision.index, decision.chosen[0], decision.best[0]
                costly.append(costly_choice(index, state, chosen, best, decision.cost, decision.within))
    return sorted(costly, key=lambda one: -one.cost), unsure
