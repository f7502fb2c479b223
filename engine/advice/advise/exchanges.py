"""Which joker to exchange in one's own turn: what each exchange gains in turns, and why."""

from __future__ import annotations

from dataclasses import dataclass

from engine.advice.advise.answers import Advice
from engine.advice.advise.discard import advise
from engine.advice.advise.plan import Plan
from engine.advice.advise.reasons import takes_luck
from engine.advice.advise.reasons_calls import exchange_title, say_aim_with_joker, why_exchange
from engine.advice.contest.choosing import TIE, good_exchange
from engine.advice.moment import Moment
from engine.advice.table import SheetTable
from engine.rules.actions import Exchange
from engine.rules.observation import Observation
from engine.rules.state import Phase
from engine.tiles import Kind
from engine.words import TRIFLE


@dataclass(frozen=True)
class ExchangeChoice:
    """One joker that may be taken for a real tile."""

    action: Exchange
    picks: float
    """How many turns sooner a hand comes by it; below 0 where it comes later."""
    good: bool
    """Whether it is advised: it gains something, or gives for nothing a tile that the plan can spare."""
    title: str
    """What is done, in a few words: `Give the 5 dot for South's joker`."""
    because: str
    """One plain sentence."""
    turns: bool = False
    """Whether the aim is another hand with the joker."""
    finishes: bool = False
    """Whether the joker makes a hand."""
    aim: str = ""
    """What to aim for with the joker, in one sentence; empty where the sentence above says it or no hand is left."""
    plan: Plan | None = None
    """The plan with the joker."""


@dataclass(frozen=True)
class ExchangeAdvice:
    """The joker exchanges that are open now, best first."""

    choices: tuple[ExchangeChoice, ...]

    @property
    def best(self) -> ExchangeChoice | None:
        """The exchange to make before letting a tile go, if there is one."""
        return next((choice for choice in self.choices if choice.good), None)


def advise_exchange(table: SheetTable, observation: Observation, before: Plan | None = None) -> ExchangeAdvice:
    """Every joker exchange that is open in the seat's own turn, and what it gains. The plan `before` stays while it is
    nearly as good as any.

    Raises ValueError when it is not the seat's turn.
    """
    if observation.phase is not Phase.TURN or observation.to_act != observation.seat:
        raise ValueError("it is not this seat's turn; jokers are exchanged in one's own turn only")
    moment = Moment.seen(table, observation)
    now = advise(moment, before, helps=False)
    chosen = None if now.contested is None else good_exchange(now.contested.contest, observation)
    choices = []
    for action in observation.legal:
        if isinstance(action, Exchange):
            after = advise(moment.swapped(action.kind), before, helps=False)
            gain = _turns_gained(now, after)
            finishes = after.hands[0].hand.name if after.finished and not now.finished else ""
            turn = _turn(now.plan, after.plan)
            spare = action.kind == now.let_go
            least = TIE if turn[0] and now.contested is None else 0.0
            enough = gain > least or (spare and gain > -TRIFLE)
            good = bool(finishes) or (not now.finished and enough)
            if now.contested is not None:
                good = good and chosen is not None
                turn = ("", "") if good and gain <= TIE else turn
            said = why_exchange(
                action.kind,
                gain,
                spare=spare and good,
                finishes=finishes,
                least=observation.sheet.jokers_from,
                turns_to=turn,
                needs=_needing(now.plan, action.kind, moment.counts[action.kind]),
                hand=after.plan.names[0] if after.plan.aim and after.plan.aim[0].jokers_in else "",
                far=not after.plan.aim,
                luck=bool(after.plan.aim) and takes_luck(after.plan),
            )
            title = exchange_title(action.kind, action.seat, own=action.seat == observation.seat)
            turns = bool(turn[0]) and not spare
            aim = "" if turns or finishes or not after.plan.aim else say_aim_with_joker(after.plan)
            choices.append(ExchangeChoice(action, gain, good, title, said, turns, bool(finishes), aim, after.plan))
    order = sorted(choices, key=lambda one: (one.action != chosen, -one.picks))
    return ExchangeAdvice(tuple(order))


def _turns_gained(now: Advice, after: Advice) -> float:
    """How many turns an exchange is worth, the best tile having gone before it and after it."""
    if now.contested is None or after.contested is None:
        return now.needed - after.needed
    here, there = now.contested.keeps[now.contested.fastest], after.contested.keeps[after.contested.fastest]
    return now.contested.turns(there - here, now.contested.contest.a_turn(now.contested.rack, (now.contested.fastest,)))


def _turn(now: Plan, after: Plan) -> tuple[str, str]:
    """The hand aimed for first now and the one after an exchange that gives it up; two empty names where none does."""
    if not now.aim or not after.aim or now.names[0] in {one.hand.name for one in after.targets}:
        return "", ""
    return now.names[0], after.names[0]


def _needing(plan: Plan, kind: Kind, held: int) -> str:
    """The hand aimed for first, if it uses every tile of the kind that is held; else empty."""
    return plan.names[0] if plan.aim and plan.aim[0].needs[kind] >= held else ""
