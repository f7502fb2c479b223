"""One pass again and again: the same moment of the passes from many racks, graded by what the choice costs.

The deals are fair shuffles. Before the moment the player's seat passes as advised, and the others as they would.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from engine.advice.advise.answers import CourtesyAdvice, Known, PassAdvice, RoundAdvice
from engine.advice.advise.pass_choices import costs_of, draws_of_play, possible_choices, weighed
from engine.advice.advise.passes import (
    advise_courtesy,
    advise_passes,
    advise_second_round,
    choose_before_play,
    compare_passes,
)
from engine.advice.moment import Work
from engine.advice.table import SheetTable
from engine.drills.grades import Price
from engine.drills.let_one_go import PICKS
from engine.rules.actions import PASS_TILES
from engine.rules.deal import SEEDS, shuffle
from engine.rules.game import apply, start
from engine.rules.house import House
from engine.rules.observation import Observation, observe
from engine.rules.state import Phase
from engine.seats.character import Strength
from engine.seats.players import SeatPlayer, player
from engine.tiles import JOKER, Kind


class WhichPass(Enum):
    """A moment of the passes; the value is its name in commands."""

    FIRST_RIGHT = "first-right"
    FIRST_ACROSS = "first-across"
    FIRST_LEFT = "first-left"
    SECOND_ROUND = "second-round"
    """Whether to play a second round at all."""
    SECOND_LEFT = "second-left"
    SECOND_ACROSS = "second-across"
    SECOND_RIGHT = "second-right"
    COURTESY = "courtesy"
    """How many tiles to exchange across, and which."""


PASSES_BEFORE = {
    WhichPass.FIRST_RIGHT: 0,
    WhichPass.FIRST_ACROSS: 1,
    WhichPass.FIRST_LEFT: 2,
    WhichPass.SECOND_ROUND: 3,
    WhichPass.SECOND_LEFT: 3,
    WhichPass.SECOND_ACROSS: 4,
    WhichPass.SECOND_RIGHT: 5,
    WhichPass.COURTESY: 3,
}
"""Passes that were played before each moment. The courtesy pass is taken after the first round, so that its racks are
not all nearly made."""


def moment_of(seen: Observation) -> WhichPass | None:
    """Which moment of the passes a seat is at; None once play has begun."""
    if seen.phase is Phase.AGREEING:
        return WhichPass.SECOND_ROUND
    if seen.phase in (Phase.ASKING, Phase.GIVING):
        return WhichPass.COURTESY
    apart = (WhichPass.SECOND_ROUND, WhichPass.COURTESY)
    passes = {before: moment for moment, before in PASSES_BEFORE.items() if moment not in apart}
    return passes[seen.passes_done] if seen.phase is Phase.PASSING else None


@dataclass(frozen=True)
class PassAnswer:
    """What the player chose: tiles, or whether to go on to a second round."""

    kinds: tuple[Kind, ...] = ()
    agree: bool | None = None


@dataclass(frozen=True, eq=False)
class PassTask:
    """One moment of the passes."""

    moment: WhichPass
    seen: Observation
    """What the player sees then."""

    @property
    def rack(self) -> tuple[Kind, ...]:
        """13 tiles, sorted."""
        return tuple(sorted(self.seen.rack))

    def best(self, table: SheetTable) -> PassAnswer:
        """What is advised, three tiles from the rack in a pass."""
        if self.moment is WhichPass.SECOND_ROUND:
            return PassAnswer(agree=advise_second_round(table, self.seen).agree)
        if self.moment is WhichPass.COURTESY:
            return PassAnswer(advise_courtesy(table, self.seen).give)
        return PassAnswer(advise_passes(table, self.seen).choices[0].kinds)


@dataclass(frozen=True)
class PassJudged:
    """What a choice costs, and what the advice is."""

    answer: PassAnswer
    best: PassAnswer
    price: Price
    advice: PassAdvice | RoundAdvice | CourtesyAdvice


def pass_task(table: SheetTable, moment: WhichPass, chance: random.Random) -> PassTask:
    """A fresh rack at a moment of the passes."""
    others = player(Strength.SHARP, table)
    asks = moment is WhichPass.SECOND_ROUND
    courtesy = moment is WhichPass.COURTESY
    house = House(jokers=table.jokers, picks=PICKS, passes=3 if courtesy else 6, courtesy=True, vote=asks)
    while True:
        seen = _reached(table, house, int(chance.random() * SEEDS), moment, others)
        if seen is not None:
            return PassTask(moment, seen)


def _reached(table: SheetTable, house: House, seed: int, moment: WhichPass, others: SeatPlayer) -> Observation | None:
    """What the player sees at the moment in that deal; None where another seat has stopped the passes before it."""
    state = start(table.sheet, house, shuffle(seed, house.jokers))
    wanted = {WhichPass.SECOND_ROUND: Phase.AGREEING, WhichPass.COURTESY: Phase.ASKING}.get(moment, Phase.PASSING)
    while state.phase in (Phase.PASSING, Phase.AGREEING, Phase.ASKING):
        mine = state.to_act == house.seat
        seen = observe(state, state.to_act)
        if mine and state.phase is wanted and state.passes_done == PASSES_BEFORE[moment]:
            return seen
        state = apply(state, choose_before_play(table, seen) if mine else others(seen))
    return None


def judge_pass(task: PassTask, table: SheetTable, answer: PassAnswer, work: Work) -> PassJudged:
    """What the choice costs. A pass of three that seems to cost something is tried out against the best one, as far as
    `work` allows, as a review of a game does it; all else is estimated.

    Raises ValueError, with what to choose instead, for an answer that is none.
    """
    if task.moment is WhichPass.SECOND_ROUND:
        return _vote(task, table, answer)
    held = list(task.rack)
    for kind in answer.kinds:
        if kind not in held:
            raise ValueError("choose tiles of the rack, each as often as you hold it")
        held.remove(kind)
    if JOKER in answer.kinds:
        raise ValueError("a joker may not be passed; choose another tile")
    if task.moment is WhichPass.COURTESY:
        return _courtesy(task, table, answer)
    if len(answer.kinds) != PASS_TILES:
        raise ValueError("choose three tiles")
    return _three(task, table, tuple(sorted(answer.kinds)), work)


def _three(task: PassTask, table: SheetTable, kinds: tuple[Kind, ...], work: Work) -> PassJudged:
    seen = task.seen
    advice = advise_passes(table, seen)
    best = advice.choices[0].kinds
    mine = next(choice for choice in advice.choices if choice.kinds == kinds)
    draws = draws_of_play(seen)
    price = Price(mine.picks, draws, mine.known, mine.half, mine.games)
    if work.effort and mine.picks > 0:
        price = Price.tried(compare_passes(table, seen, best, kinds, work), draws)
    return PassJudged(PassAnswer(kinds), PassAnswer(best), price, advice)


def _vote(task: PassTask, table: SheetTable, answer: PassAnswer) -> PassJudged:
    if answer.agree is None:
        raise ValueError("say whether to play the second round: yes or no")
    advice = advise_second_round(table, task.seen)
    cost = 0.0 if answer.agree == advice.agree else abs(advice.picks)
    price = Price(cost, draws_of_play(task.seen), Known.ESTIMATED)
    return PassJudged(answer, PassAnswer(agree=advice.agree), price, advice)


def _courtesy(task: PassTask, table: SheetTable, answer: PassAnswer) -> PassJudged:
    """The number costs what the advice says of it, with the best tiles given; other tiles cost what they leave."""
    number = len(answer.kinds)
    if number > PASS_TILES:
        raise ValueError("choose three tiles at most")
    advice = advise_courtesy(table, task.seen)
    kinds = tuple(sorted(answer.kinds))
    cost = advice.picks[number] + (_among(table, task.seen, kinds) if number else 0.0)
    price = Price(cost, draws_of_play(task.seen), Known.ESTIMATED)
    return PassJudged(PassAnswer(kinds), PassAnswer(advice.give), price, advice)


def _among(table: SheetTable, seen: Observation, kinds: Sequence[Kind]) -> float:
    """What giving these tiles costs against the best ones of as many."""
    choices = possible_choices(seen, len(kinds))
    worths = weighed(table, seen, choices, len(kinds))[1]
    return float(costs_of(worths, draws_of_play(seen))[choices.index(tuple(kinds))])
