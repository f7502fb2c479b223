"""Review of a quiet game: what luck brought and what the player's choices cost, in parts that add up to the result.

A position's value is the chance that a hand is made by the last draw if play goes on as advised (`finish`). The parts
are steps from one value to the next, so that they add up exactly (to rounding) from the average deal to the result: 1
for a mahjong, else 0; the last value where the game is not over.

    deal     value of what was dealt, less that of the average deal
    arrived  value after what came in with each pass, less its mean over what others tend to let go (`incoming`)
    draws    value after each draw, less its mean over every tile that might have come: nothing on average, exactly
    choices  value after each choice, less that after the advised one
    passing  what the advised passes were to bring: mean value after one, less the value before
    rest     mean value over the draws that might have come, less the value before: how much the estimate was off

All these values are estimates, not measured by rollouts. If they were perfect, the rest would be 0. What a choice cost
is an estimate too, until it is tried out (`costs`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np

from engine.advice.advise.passes import advise_courtesy, advise_passes
from engine.advice.moment import USUAL, Work
from engine.advice.review.spoiled import counted, usual_worth
from engine.advice.stats import Interval
from engine.advice.table import Real, SheetTable, Whole
from engine.advice.worth.finish import NOTHING, after_draws, chances, dealt, standing, values
from engine.advice.worth.incoming import let_go_by_others, weighted_order
from engine.advice.worth.worth import SAME
from engine.rules.actions import Action, Discard, Draw, Give, Mahjong
from engine.rules.house import QUIET
from engine.rules.observation import Observation, observe
from engine.rules.state import Phase, State
from engine.tiles import KINDS, Kind

DEALS = 1000
"""Random deals that the average deal is estimated from."""
ARRIVALS = 128
"""Ways that a pass may turn out, sampled."""
SEED = 20260
"""Of both samples: the same game always gets the same review."""


class NotReviewedError(ValueError):
    """A game that can't be reviewed; the message says why."""


@dataclass(frozen=True)
class Decision:
    """One choice of the player's."""

    index: int
    """The state at which it was made."""
    chosen: tuple[Kind, ...]
    """The tiles let go or passed; () where a wrong hand was shown."""
    best: tuple[Kind, ...]
    """The advised ones; () where mahjong could have been shown."""
    cost: float
    """In picks, against the best one, as advice says it at the table: estimated, and then never negative, or tried out
    where `within` is there, which may by chance come out below 0."""
    value: float
    """Its part of `choices`: the chance of a hand after it, less that after the advised one. Above 0 at times, as
    advice weighs how soon a hand comes, too."""
    unforced: bool
    """Whether some other choice would have cost more or less."""
    passing: bool = False
    """Whether tiles were passed, not let go in a turn."""
    within: Interval | None = None
    """A 95% interval of the cost where both were played on, just the cost where everything that may come was looked
    at; None while it is only estimated."""

    spoiled: float | None = None
    """What it costs in the measure of play, in picks, where the rack was worth next to nothing already (`spoiled`)."""

    @property
    def counted(self) -> float:
        """What it costs in the measure of play, in picks."""
        return self.cost if self.spoiled is None else self.spoiled

    @property
    def fault(self) -> bool:
        """Whether it was clearly worse than the best one. It is not where the interval holds 0."""
        return self.cost > SAME and (self.within is None or self.within[0] > 0)


@dataclass(frozen=True)
class Turn:
    """What one draw did."""

    index: int
    """The state before it."""
    kind: Kind
    luck: float
    """Value after it, less the mean over every tile that might have come."""


@dataclass(frozen=True)
class Average:
    """The average deal, estimated."""

    value: float
    error: float
    """Standard error."""


@dataclass(frozen=True)
class Review:
    """A game taken apart."""

    average: Average
    deal: float
    arrived: float
    draws: float
    choices: float
    passing: float
    rest: float
    result: float
    """1 for a mahjong of the player's, 0 for a game over without; the last value of a game that is not over."""
    over: bool
    decisions: tuple[Decision, ...]
    turns: tuple[Turn, ...]

    @property
    def parts(self) -> tuple[float, ...]:
        """All that adds up to the result less the average deal."""
        return self.deal, self.arrived, self.draws, self.choices, self.passing, self.rest

    @property
    def unforced(self) -> tuple[Decision, ...]:
        """The choices that mattered."""
        return tuple(decision for decision in self.decisions if decision.unforced)


@dataclass
class _Sums:
    """The parts while they are added up, and the value reached."""

    now: float
    usual: float
    """What the best choice leaves of an average deal, as a share of the draws."""
    arrived: float = 0.0
    draws: float = 0.0
    choices: float = 0.0
    passing: float = 0.0
    rest: float = 0.0
    decisions: list[Decision] = field(default_factory=list)
    turns: list[Turn] = field(default_factory=list)


def review(
    table: SheetTable,
    states: Sequence[State],
    actions: Sequence[Action],
    work: Work = USUAL,
) -> Review:
    """Review the game of states[0], to which `actions` led on, one state after each, for the player's seat.

    Raises NotReviewedError for a table of four players, or once `work` is stopped.
    """
    first = states[0]
    seat = first.house.seat
    if first.house.table != QUIET:
        raise NotReviewedError("only games at the quiet table are reviewed")
    if len(states) != len(actions) + 1:
        raise ValueError(f"{len(actions)} actions lead to {len(actions) + 1} states, not {len(states)}")
    seen = observe(first, seat)
    average = average_deal(table, len(seen.rack), seen.picks_left)
    sums = _Sums(_value(table, seen), usual_worth(table, seen.picks_left))
    deal = sums.now - average.value
    put_out = 0
    for index, (state, action, after) in enumerate(zip(states, actions, states[1:], strict=False)):
        if work.halted():
            raise NotReviewedError("the review was stopped")
        if isinstance(action, Draw):
            _draw(table, sums, index, observe(state, seat), action.kind)
        elif state.phase is Phase.TURN:
            _turn(table, sums, index, observe(state, seat), action, after)
        elif state.to_act == seat:
            put_out = index
        if len(after.handed[seat]) > len(state.handed[seat]):
            _pass(table, sums, put_out, observe(states[put_out], seat), observe(after, seat))
    last = states[-1]
    result = float(last.outcome is not None and last.outcome.winner == seat) if last.phase is Phase.OVER else sums.now
    return Review(
        average,
        deal,
        sums.arrived,
        sums.draws,
        sums.choices,
        sums.passing,
        sums.rest + (result - sums.now),
        result,
        last.phase is Phase.OVER,
        tuple(sums.decisions),
        tuple(sums.turns),
    )


@lru_cache(maxsize=8)
def average_deal(table: SheetTable, tiles: int, draws: int, deals: int = DEALS) -> Average:
    """The mean value of random deals of 13 or 14 tiles with so many draws to come, from a fixed sample."""
    racks, unseen = dealt(np.random.default_rng(SEED), tiles, table.jokers, deals)
    worth = values(table, racks, unseen, draws)
    return Average(float(worth.mean()), float(worth.std(ddof=1) / deals**0.5))


def _value(table: SheetTable, seen: Observation) -> float:
    return float(values(table, _row(seen.counts), _row(seen.unseen), seen.picks_left)[0])


def _draw(table: SheetTable, sums: _Sums, index: int, seen: Observation, kind: Kind) -> None:
    """Luck is against the mean over all tiles unseen, each as likely as any other."""
    rack, unseen = np.array(seen.counts), np.array(seen.unseen)
    after = after_draws(table, rack, unseen, seen.picks_left)
    mean = sum(seen.unseen[one] * worth for one, worth in after.items()) / sum(seen.unseen)
    sums.rest += mean - sums.now
    sums.draws += after[kind] - mean
    sums.turns.append(Turn(index, kind, after[kind] - mean))
    sums.now = after[kind]


def _turn(table: SheetTable, sums: _Sums, index: int, seen: Observation, action: Action, after: State) -> None:
    rack, unseen = _row(seen.counts), _row(seen.unseen)
    stands = standing(table, rack, unseen, seen.picks_left)
    goes = int(stands.goes[0])
    best: tuple[Kind, ...] = () if goes == NOTHING else (goes,)
    left = stands.worth[0]
    top = 1.0 if goes == NOTHING else float(left[goes])
    if isinstance(action, Mahjong):
        if goes != NOTHING and after.outcome is not None and after.outcome.winner is None:  # a wrong hand was shown
            sums.decisions.append(Decision(index, (), best, top * seen.picks_left, -sums.now, True))
            sums.choices -= sums.now
            sums.now = 0.0
        return
    if not isinstance(action, Discard):
        return
    kept = rack.copy()
    kept[0, action.kind] -= 1
    chance = float(chances(table, kept, unseen, seen.picks_left, rack)[0])
    lost = max(top - float(left[action.kind]), 0.0)
    held = left[left >= 0]
    unforced = goes == NOTHING or float(held.max() - held.min()) > SAME
    value = chance - sums.now
    if action.kind == goes:  # nothing but rounding
        value = 0.0
    cost = 0.0 if lost <= SAME else lost * seen.picks_left
    spoiled = None if goes == NOTHING else counted(sums.usual, top, lost, seen.picks_left)
    sums.decisions.append(Decision(index, (action.kind,), best, cost, value, unforced, spoiled=spoiled))
    sums.choices += value
    sums.now += value


def _pass(table: SheetTable, sums: _Sums, index: int, before: Observation, after: Observation) -> None:
    """A pass, courtesy included: what was put out, and what came in for it. The same arrivals are sampled for what was
    chosen and for what was advised, so that their difference is a fair one."""
    out = after.passed[-1]
    mine = out.kinds
    cost, unforced = 0.0, False
    if isinstance(out, Give):
        best = advise_courtesy(table, before).give if mine else ()
    else:
        advice = advise_passes(table, before)
        best = advice.blind_kinds if advice.blind else advice.choices[0].kinds
        if not out.blind:
            cost = next(choice.picks for choice in advice.choices if choice.kinds == mine)
            unforced = advice.choices[-1].picks > SAME
    worth_after = _value(table, after)
    chosen_mean = _mean_after(table, before, mine)
    best_mean = chosen_mean if best == mine else _mean_after(table, before, best)
    sums.passing += best_mean - sums.now
    sums.choices += chosen_mean - best_mean
    sums.arrived += worth_after - chosen_mean
    sums.decisions.append(Decision(index, mine, best, cost, chosen_mean - best_mean, unforced, True))
    sums.now = worth_after


def _mean_after(table: SheetTable, before: Observation, out: tuple[Kind, ...]) -> float:
    """The mean value once these tiles have gone and as many have come, as others let them go.

    Of what others hold only the use of each kind counts here, and what comes in is still a little worse than that: over
    200 deals with six passes and steady seats `arrived` averaged -5.0 points a deal on the smaller shipped sheet,
    plus or minus 1.5, and -3.2 on the larger, plus or minus 1.7.
    """
    if not out:
        return _value(table, before)
    unseen = np.array(before.unseen)
    came = arrivals(unseen, len(out), let_go_by_others(table))
    rack = np.array(before.counts) - np.bincount(out, minlength=KINDS)
    return float(values(table, rack + came, unseen - came, before.picks_left).mean())


def arrivals(unseen: Whole, number: int, ready: Real) -> Whole:
    """[ARRIVALS, 36] what may come in a pass: so many of the unseen tiles, drawn by the weights `ready` [36]. It is
    always the same sample, and the first tile of three is the one of a smaller number."""
    came = weighted_order(np.random.default_rng(SEED), unseen, ready, ARRIVALS)[:, :number]
    return np.array([np.bincount(tiles, minlength=KINDS) for tiles in came])


def _row(counts: Sequence[int]) -> Whole:
    return np.array([counts], np.int64)
