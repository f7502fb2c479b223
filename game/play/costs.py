"""What the player's choices have cost: passes, calls and discards, at once estimated, later tried out.

Every table, every end of a game and every rehearsal asks here. What is found is data; `game.words.costs` words it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from engine.advice.advise.passes import advise_courtesy, advise_passes, advise_second_round, compare_passes
from engine.advice.moment import Moment, Work
from engine.advice.review.costs import EFFORT, interval_of
from engine.advice.review.full import FullReview
from engine.advice.review.review import Review
from engine.advice.rollout.discards import compare
from engine.advice.rollout.race import Tried
from engine.advice.stats import Interval
from engine.rules.actions import Action, Agree, Ask, Discard, Give, Pass, Stop
from engine.rules.house import FULL
from engine.rules.observation import Observation, observe
from engine.rules.state import Phase, State
from engine.tiles import Kind
from engine.words import TRIFLE
from game.play.advisor import Advisor
from game.play.sitting import Sitting

TRIFLE_POINTS = 0.5
"""A choice that costs fewer points than this is not named."""


@dataclass(frozen=True)
class Cost:
    """One choice of the player's against the best one at that moment."""

    index: int
    """The state at which it was made."""
    chosen: Action
    best: Action
    cost: float
    """In picks; in turns at a table of four. Estimated it is never negative; tried out it may come out below 0."""
    within: Interval | None = None
    """A 95% interval of the cost, where both choices were tried out."""

    points: float | None = None
    """In points at a table of four, as the review of the game weighs it; None where that is not known."""

    @property
    def tried(self) -> bool:
        """Whether the cost was found by trying both choices out, and not estimated."""
        return self.within is not None

    @property
    def open(self) -> bool:
        """Whether trying out could not tell the two choices apart."""
        return self.within is not None and self.within[0] <= 0

    @property
    def lost(self) -> float:
        """What the choice cost: nothing where it is too little to name, or where it can't be told. A tile that costs
        turns may be worth it for being safe: then it costs no points."""
        slight = self.points is not None and self.points < TRIFLE_POINTS
        return 0.0 if self.open or slight or self.cost < TRIFLE else self.cost


def costs_of(sitting: Sitting, advisor: Advisor) -> tuple[Cost, ...]:
    """Every choice that can be weighed, in the order played, as estimated; those that cost nothing are among them.

    That is: passes of three tiles from the rack, the vote on a second round, the courtesy pass, answers to a discard,
    and discards. Blind passes are not weighed.
    """
    found = (_cost(sitting, advisor, index) for index in sitting.decisions)
    return tuple(one for one in found if one is not None)


def costs_in_points(costs: Iterable[Cost], found: FullReview) -> tuple[Cost, ...]:
    """The same choices of a game among four, with what each cost in points by the review of the game."""
    points = {one.index: one.cost for one in found.decisions}
    return tuple(replace(one, points=points.get(one.index)) for one in costs)


def costs_reviewed(sitting: Sitting, found: Review, estimated: Iterable[Cost] = ()) -> tuple[Cost, ...]:
    """The same choices with the costs that a review of the game gives them: tried out, if the review was. Votes and the
    courtesy pass, which it doesn't weigh, stay as `estimated`."""
    costs = [one for one in estimated if isinstance(one.chosen, Agree | Stop | Ask | Give)]
    for decision in found.decisions:
        chosen = sitting.entries[decision.index].action
        if not decision.chosen or not decision.best or isinstance(chosen, Give):
            continue
        best: Action = Pass(decision.best) if decision.passing else Discard(decision.best[0])
        costs.append(Cost(decision.index, chosen, best, decision.cost, decision.within))
    return tuple(sorted(costs, key=lambda one: one.index))


def costs_tried(
    sitting: Sitting,
    advisor: Advisor,
    costs: Iterable[Cost],
    stopped: Callable[[], bool] = lambda: False,
    breathe: Callable[[], None] = lambda: None,
) -> tuple[Cost, ...]:
    """The same choices, with those that are estimated to cost something tried out against the best ones.

    At a table of four nothing is tried out, as rollouts play alone. Votes and the courtesy pass stay estimated. A long
    job: it calls `breathe` every few milliseconds, and raises StoppedError once `stopped` says so.
    """
    if sitting.states[0].house.table == FULL:
        return tuple(costs)
    work, tried = Work(EFFORT, stopped, breathe), []
    for one in costs:
        if one.lost > 0 and sitting.states[one.index].phase is Phase.CALLING:
            tried.append(_answer_tried(sitting, one, advisor, work))
            continue
        result = _compared(sitting.states[one.index], one, advisor, work) if one.lost > 0 else None
        if result is None:
            tried.append(one)
            continue
        draws = observe(sitting.states[one.index], sitting.player).picks_left
        tried.append(replace(one, cost=result.behind * draws, within=interval_of(result, draws)))
    return tuple(tried)


def dearest(costs: Iterable[Cost]) -> list[Cost]:
    """The choices that cost something, dearest first: by points where they are known, else by picks or turns. Ties in
    the order played."""
    return sorted((one for one in costs if one.lost > 0), key=lambda one: (-(one.points or 0.0), -one.lost))


def left_open(costs: Iterable[Cost]) -> int:
    """How many choices were tried out and can't be told apart from the best ones."""
    return sum(one.open for one in costs)


def tiles_of(sitting: Sitting, cost: Cost) -> tuple[Kind | None, Kind | None]:
    """The tiles to show beside a cost: one that went, and one that should have gone instead; None where there is no
    such tile, as for a vote."""
    if isinstance(cost.chosen, Discard) and isinstance(cost.best, Discard):
        return cost.chosen.kind, cost.best.kind
    if isinstance(cost.chosen, Pass | Give) and isinstance(cost.best, Pass | Give):
        return _only_in(cost.chosen.kinds, cost.best.kinds), _only_in(cost.best.kinds, cost.chosen.kinds)
    if isinstance(cost.chosen, Agree | Stop | Ask):
        return None, None
    return sitting.states[cost.index].discards[-1].kind, None


def _only_in(kinds: Sequence[Kind], others: Sequence[Kind]) -> Kind:
    """A kind of which the first three hold more than the second; the first kind where they are the same."""
    return next((kind for kind in kinds if kinds.count(kind) > others.count(kind)), kinds[0])


def _cost(sitting: Sitting, advisor: Advisor, index: int) -> Cost | None:
    state, action = sitting.states[index], sitting.entries[index].action
    seen = observe(state, sitting.player)
    if isinstance(action, Pass) and not action.blind:
        choices = advise_passes(advisor.table, seen).choices
        mine = next((choice for choice in choices if choice.kinds == action.kinds), choices[0])
        return Cost(index, action, Pass(choices[0].kinds), mine.picks)
    if isinstance(action, Agree | Stop | Ask | Give):
        return _before_play(advisor, index, seen, action)
    if isinstance(action, Discard) and state.phase is Phase.TURN:
        keeps = advisor.advise(seen).keeps
        cost = next((keep.picks for keep in keeps if keep.kind == action.kind), 0.0)
        return Cost(index, action, Discard(keeps[-1].kind), cost) if keeps else None
    if state.phase is Phase.CALLING:
        advice = advisor.call(seen)
        answer = advice.of(action)
        return None if answer is None else Cost(index, action, advice.best.action, answer.picks)
    return None


def _before_play(advisor: Advisor, index: int, seen: Observation, action: Agree | Stop | Ask | Give) -> Cost | None:
    """What a vote, or a choice in the courtesy pass, costs as estimated."""
    if isinstance(action, Agree | Stop):
        vote = advise_second_round(advisor.table, seen)
        same = isinstance(action, Agree) == vote.agree
        return Cost(index, action, Agree() if vote.agree else Stop(), 0.0 if same else abs(vote.picks))
    courtesy = advise_courtesy(advisor.table, seen)
    if isinstance(action, Ask):
        cost = courtesy.picks[action.number] if action.number < len(courtesy.picks) else 0.0
        return Cost(index, action, Ask(courtesy.ask), cost)
    mine = next((choice for choice in courtesy.choices if choice.kinds == action.kinds), None)
    return None if mine is None else Cost(index, action, Give(courtesy.give), mine.picks)


def _answer_tried(sitting: Sitting, cost: Cost, advisor: Advisor, work: Work) -> Cost:
    """The cost of an answer to a discard, all answers tried out."""
    advice = advisor.deepen_call(observe(sitting.states[cost.index], sitting.player), work.stopped, work.breathe)
    answer = advice.of(cost.chosen)
    if answer is None or not answer.games:
        return cost
    within = (answer.picks - answer.half, answer.picks + answer.half)
    return replace(cost, best=advice.best.action, cost=answer.picks, within=within)


def _compared(state: State, cost: Cost, advisor: Advisor, work: Work) -> Tried | None:
    """What trying out says of the choice against the best one; None for an answer to a discard."""
    seen = observe(state, state.house.seat)
    if isinstance(cost.chosen, Pass) and isinstance(cost.best, Pass):
        return compare_passes(advisor.table, seen, cost.best.kinds, cost.chosen.kinds, work)
    if isinstance(cost.chosen, Discard) and isinstance(cost.best, Discard):
        return compare(Moment.seen(advisor.table, seen), cost.best.kind, cost.chosen.kind, work)
    return None
