"""Everything that is advised at one moment of play, as one value, with one verdict on the tile to let go."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from engine.advice.advise.answers import Advice
from engine.advice.advise.calls import CallAdvice
from engine.advice.advise.defence import Defence, advise_defence
from engine.advice.advise.exchanges import ExchangeAdvice, advise_exchange
from engine.advice.advise.verdict import Verdict, discard_of, verdict_of
from engine.rules.actions import Call, Discard, Exchange
from engine.rules.house import QUIET
from engine.rules.observation import Observation, observe
from engine.rules.state import Phase
from engine.tiles import Kind
from game.play.advisor import Advisor
from game.play.sitting import Sitting

NOBODY = Defence(())
"""At a quiet table nobody else has use for a tile."""


@dataclass(frozen=True)
class TableAdvice:
    """What is advised about the rack, and at a table of four about the others, a discard and jokers to be had."""

    rack: Advice
    defence: Defence = NOBODY
    call: CallAdvice | None = None
    exchange: ExchangeAdvice | None = None

    @property
    def finished(self) -> bool:
        """Whether the rack is a whole hand: then no tile is to be let go."""
        return self.rack.finished

    @property
    def verdict(self) -> Verdict | None:
        """What to do now, why, and the price of the other way; None where there is nothing to do."""
        return verdict_of(self.rack, self.call, self.exchange, self.defence)

    @property
    def warning(self) -> str | None:
        """Whom the tile that goes would serve, if that is worth a warning and its price does not say so already. A tile
        that is given for a joker serves nobody."""
        verdict = self.verdict
        if verdict is None or verdict.price or not isinstance(verdict.action, Discard):
            return None
        return self.defence.warning(verdict.action.kind)

    @property
    def aimed(self) -> Advice:
        """What is advised about the rack, with the plan that the verdict serves: that of the call or the joker exchange
        that is advised."""
        call = self.call.best if self.call is not None else None
        if call is not None and isinstance(call.action, Call):
            plan = call.plan
        else:
            plan = self.exchange.best.plan if self.gives is not None and self.exchange and self.exchange.best else None
        return self.rack if plan is None else replace(self.rack, plan=plan)

    @property
    def gives(self) -> Kind | None:
        """The tile to give for a joker before any is let go; None where that is not advised."""
        verdict = self.verdict
        return verdict.action.kind if verdict is not None and isinstance(verdict.action, Exchange) else None

    @property
    def let_go(self) -> Kind | None:
        """The fastest tile to let go, or a safer one that costs nothing more. None where none goes."""
        verdict = discard_of(self.rack, self.defence)
        return verdict.kind if verdict is not None else None


def advise_table(advisor: Advisor, observation: Observation, before: Observation | None = None) -> TableAdvice:
    """What is advised at a turn or about a discard, at once. The plan of the moment `before` stays while it is nearly
    as good as any."""
    rack = advisor.best(observation, before)
    if observation.house.table == QUIET:
        return TableAdvice(rack)
    calling = observation.phase is Phase.CALLING
    swaps = any(isinstance(action, Exchange) for action in observation.legal)
    return TableAdvice(
        rack,
        advise_defence(observation),
        advisor.call(observation, before) if calling else None,
        advise_exchange(advisor.table, observation, advisor.plan(before)) if swaps else None,
    )


def deepen_table(
    advisor: Advisor,
    advice: TableAdvice,
    observation: Observation,
    stopped: Callable[[], bool],
    breathe: Callable[[], None],
    before: Observation | None = None,
) -> TableAdvice:
    """The same with the choices tried out: the answers to a discard, or the tiles to let go. Raises StoppedError once
    `stopped` says so."""
    if advice.call is not None:
        return replace(advice, call=advisor.deepen_call(observation, stopped, breathe, before))
    return replace(advice, rack=advisor.deepen(observation, stopped, breathe, before))


def choice_before(sitting: Sitting) -> Observation | None:
    """What the player saw at their choice before this one, whose plan goes on; None at the first one."""
    earlier = [index for index in sitting.decisions if index < sitting.cursor]
    return observe(sitting.states[earlier[-1]], sitting.player) if earlier else None
