"""What a rehearsal of the passes comes to: the cost of each pass, and what the advised line would have held."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from engine.advice.advise.answers import Advice
from engine.advice.advise.passes import advise_courtesy, advise_passes, advise_second_round, compare_passes
from engine.advice.moment import Work
from engine.advice.review.costs import EFFORT, interval_of
from engine.rules.actions import Action, Agree, Ask, Give, Pass, Stop
from engine.rules.house import QUIET, House
from engine.rules.observation import Observation, observe
from engine.rules.passing import BEFORE_PLAY
from engine.rules.state import Phase
from engine.tiles import Kind
from game.play.advisor import Advisor
from game.play.costs import WORTH_NAMING
from game.play.sitting import SeatPlayer, Sitting


@dataclass(frozen=True)
class PassCost:
    """One pass of the player's and what it was worth against the best choice at that moment."""

    index: int
    """The state at which it was chosen."""
    kinds: tuple[Kind, ...]
    better: tuple[Kind, ...]
    cost: float
    """Probability lost."""
    sentence: str


@dataclass(frozen=True)
class Held:
    """What a line holds once the passes are done."""

    rack: tuple[Kind, ...]
    advice: Advice


def pass_costs(sitting: Sitting, advisor: Advisor) -> list[PassCost]:
    """Every pass of three chosen from the rack, in the order played, as reckoned."""
    from game.words.costs import _pass_cost

    costs = []
    for index in sitting.decisions:
        action = sitting.entries[index].action
        state = sitting.states[index]
        if not isinstance(action, Pass) or action.blind:
            continue
        advice = advise_passes(advisor.table, observe(state, sitting.player))
        best = advice.choices[0]
        mine = next((choice for choice in advice.choices if choice.kinds == action.kinds), best)
        costs.append(_pass_cost(index, state, action.kinds, best.kinds, mine.less))
    return costs


def pass_costs_tried(
    sitting: Sitting,
    advisor: Advisor,
    reckoned: Sequence[PassCost],
    stopped: Callable[[], bool],
    breathe: Callable[[], None],
) -> list[PassCost]:
    """The same, each pass that is reckoned to have cost something tried out against the best one: only what is beyond
    doubt is a cost. Raises StoppedError once `stopped` says so."""
    from game.words.costs import _pass_cost

    costs = []
    for one in reckoned:
        if one.cost <= 0:
            costs.append(one)
            continue
        state = sitting.states[one.index]
        seen = observe(state, sitting.player)
        tried = compare_passes(advisor.table, seen, one.better, one.kinds, Work(EFFORT, stopped, breathe))
        sure = interval_of(tried)[0] > 0 and tried.behind >= WORTH_NAMING
        cost = tried.behind if sure else 0.0
        costs.append(_pass_cost(one.index, state, one.kinds, one.better, cost, tried.half))
    return costs


def advised(advisor: Advisor, observation: Observation) -> Action:
    """What the advice does at a choice before play."""
    table = advisor.table
    if observation.phase is Phase.PASSING:
        advice = advise_passes(table, observation)
        return Pass(advice.blind_kinds, advice.blind) if advice.blind else Pass(advice.choices[0].kinds)
    if observation.phase is Phase.AGREEING:
        return Agree() if advise_second_round(table, observation).agree else Stop()
    courtesy = advise_courtesy(table, observation)
    return Ask(courtesy.ask) if observation.phase is Phase.ASKING else Give(courtesy.give)


def advised_line(sitting: Sitting, advisor: Advisor, others: SeatPlayer | None) -> Sitting:
    """The same deal with every choice before play as advised; the other seats choose as they would have."""
    line = Sitting(sitting.states[0], others=others)
    while line.state.phase in BEFORE_PLAY:
        line.act(advised(advisor, line.observation))
    return line


def held(sitting: Sitting, advisor: Advisor) -> Held:
    """What the player holds at the first moment of play, or at the latest moment if play hasn't begun."""
    for state in sitting.states:
        if state.phase not in BEFORE_PLAY:
            break
    observation = observe(state, sitting.player)
    return Held(observation.rack, advisor.advise(observation))


def rehearsal_house(house: House) -> House:
    """House rules for a rehearsal: the player's, at a quiet table, with the passes."""
    return replace(house, table=QUIET, passes=house.passes or 6, courtesy=house.courtesy or not house.passes)
