"""Choose as they would: a choice of the strongest seat at a full table, seen over its shoulder, before it is made.

Only choices that matter are asked about: where one that comes into question costs something, and where not all see it.
"""

from __future__ import annotations

from dataclasses import dataclass

from engine.advice.advise.answers import Advice, Known
from engine.advice.advise.calls import CallAdvice, deepen_call
from engine.advice.advise.defence import WORTH_A_WARNING, Defence
from engine.advice.advise.plan import Plan
from engine.advice.moment import Moment, Work
from engine.advice.table import SheetTable
from engine.drills.grades import Grade, Price
from engine.drills.let_one_go import LetGoTask, judge_let_go
from engine.rules.actions import Action, Call, Discard, LetGo
from engine.rules.observation import Observation
from engine.rules.state import Phase
from engine.tiles import Kind

LEAST, MOST = 0.15, 1.0
"""A choice matters where one of the few that come into question costs LEAST turns or more, and where the next best one
costs MOST at most: else all see it."""
FEW = 4
"""Tiles that come into question: the cheapest ones."""


@dataclass(frozen=True, eq=False)
class FollowTask:
    """A choice of the seat that is followed."""

    seen: Observation
    """What that seat sees."""
    does: Action
    """What it will do."""
    rack: Advice
    """The advice of the moment, as estimated."""
    defence: Defence
    """What the others show."""
    call: CallAdvice | None = None
    """Where a discard may be called."""
    plan: Plan | None = None
    """What its own tile leads to, where the advice would let another one go."""

    @property
    def choices(self) -> tuple[Action, ...]:
        """What may be chosen: one discard of each kind held, or the answers to a discard."""
        if self.call is not None:
            return tuple(choice.action for choice in self.call.choices)
        return tuple(Discard(kind) for kind in sorted(set(self.seen.rack)))


@dataclass(frozen=True)
class FollowJudged:
    """What a choice costs, beside what the seat does."""

    chosen: Action
    price: Price
    does_price: Price
    """What its own choice costs by the advice."""
    advised: Action
    """What the advice would do, looking at its own hand only."""
    rack: Advice
    """With the close choices tried out."""
    call: CallAdvice | None
    feeds: int | None = None
    """The seat that the tile chosen may serve, where the seat followed lets a safer one go."""

    @property
    def grade(self) -> Grade:
        """By the cost; a choice that feeds a seat is nearly right at best."""
        if self.feeds is not None and self.price.grade is Grade.RIGHT:
            return Grade.NEAR
        return self.price.grade


def follow_matters(task: FollowTask) -> bool:
    """Whether the choice is worth stopping for."""
    if task.call is not None:
        called = isinstance(task.does, Call)
        return len(task.call.choices) > 1 and (called or LEAST <= task.call.choices[1].picks <= MOST)
    if not isinstance(task.does, Discard) or task.rack.finished:
        return False
    costs = [keep.picks for keep in task.rack.keeps[-FEW:]]
    return len(costs) > 1 and max(costs) >= LEAST and costs[-2] <= MOST


def judge_follow(task: FollowTask, table: SheetTable, chosen: Action, work: Work) -> FollowJudged:
    """What a choice costs. Close choices are tried out as far as `work` allows. Raises ValueError for one that is not
    among the choices."""
    if chosen not in task.choices:
        raise ValueError("choose one of the answers that are offered")
    if task.call is not None:
        return _answer(task, table, chosen, work)
    assert isinstance(chosen, Discard)
    assert isinstance(task.does, Discard)
    moment = Moment.seen(table, task.seen)
    asked = LetGoTask(moment, tuple(sorted(task.seen.rack)), (), task.seen.picks)
    mine = judge_let_go(asked, chosen.kind, work)
    same = chosen == task.does
    does = mine if same else judge_let_go(asked, task.does.kind, work)
    price = Price(0.0, moment.draws, Known.EXACT) if same else mine.price
    return FollowJudged(
        chosen,
        price,
        does.price,
        Discard(mine.best),
        mine.advice,
        None,
        _feeds(task.defence, chosen.kind, task.does.kind),
    )


def _feeds(defence: Defence, chosen: Kind, does: Kind) -> int | None:
    """The seat that the chosen tile may serve, where the other tile serves it clearly less."""
    share = defence.share(chosen)
    if share < WORTH_A_WARNING or defence.share(does) >= share / 2:
        return None
    return defence.most_at_risk(chosen)


def _answer(task: FollowTask, table: SheetTable, chosen: Action, work: Work) -> FollowJudged:
    advice = deepen_call(table, task.seen, work) if work.effort else task.call
    assert advice is not None
    draws = task.seen.picks_left

    def price(action: Action) -> Price:
        found = advice.of(action)
        if found is None or action == task.does:
            return Price(0.0, draws, Known.EXACT)
        return Price(found.picks, draws, found.known, found.half, found.games)

    own = advice.of(task.does)
    does = Price(0.0 if own is None else own.picks, draws, Known.ESTIMATED if own is None else own.known)
    return FollowJudged(chosen, price(chosen), does, advice.best.action, task.rack, advice)


def is_choice(seen: Observation) -> bool:
    """Whether the seat has a choice at this moment that can be followed: its turn, or a discard that it may call."""
    if seen.phase is Phase.TURN:
        return True
    return seen.phase is Phase.CALLING and any(isinstance(one, Call) for one in seen.legal) and LetGo() in seen.legal
