"""What the player's choices at the full table have cost: discards and calls, reckoned at once, then tried out."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from engine.advice.calls import advise_call
from engine.advice.fairness import EFFORT, interval_of
from engine.advice.trial import compare
from engine.rules.actions import Action, Call, LetGo
from engine.rules.house import seat_name
from engine.rules.observation import observe
from engine.rules.state import Phase
from engine.sheet.model import size_name
from engine.tiles import name
from game import words
from game.advisor import HORIZON, Advisor
from game.full_reports import call_words
from game.reports import WORTH_NAMING, Costly, costly_choice, costs_of
from game.sitting import Sitting


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
    found, unsure = [], 0
    for one in costly:
        if one.let_go == one.better:
            found.append(one)
            continue
        state = sitting.states[one.index]
        seen = observe(state, sitting.player)
        tried = compare(
            advisor.table.after(seen.exposures[seen.seat]),
            seen.counts,
            seen.unseen,
            min(seen.picks_left, HORIZON),
            one.better,
            one.let_go,
            effort=EFFORT,
            stopped=stopped,
            breathe=breathe,
        )
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
