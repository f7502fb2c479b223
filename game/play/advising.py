"""Everything that is advised at one moment of play, as one value, with one verdict on the tile to let go."""

from __future__ import annotations

from dataclasses import dataclass, replace

from engine.advice.advise.answers import Advice, Keep
from engine.advice.advise.calls import CallAdvice, ExchangeAdvice, advise_call, advise_exchange
from engine.advice.advise.defence import Defence, advise_defence
from engine.rules.actions import Exchange
from engine.rules.house import QUIET
from engine.rules.observation import Observation
from engine.rules.state import Phase
from engine.tiles import Kind
from game.play.advisor import Advisor

WORTH_SAYING = 0.0005
"""A cost under this probability is none for a player."""
NOBODY = Defence(())
"""At a quiet table nobody else has use for a tile."""
SAFER = 0.5
"""A tile is safer when the others have use for it in at most this share of the hands that have use for another."""


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
        return bool(self.rack.keeps and self.rack.hands and self.rack.hands[0].missing == 0)

    @property
    def let_go(self) -> Kind | None:
        """The verdict: the fastest tile to let go, or a safer one that costs nothing more. None where none goes."""
        best = self.rack.let_go
        if best is None or self.finished:
            return None
        safer = self.safer(best)
        return safer.kind if safer is not None and safer.cost < WORTH_SAYING else best

    @property
    def warning(self) -> str | None:
        """What the fastest tile would do for the others, if that is worth a warning."""
        best = self.rack.let_go
        return self.defence.warning(best) if best is not None else None

    def safer(self, kind: Kind) -> Keep | None:
        """The cheapest tile that serves the others far less than this one, where this one is warned of."""
        if self.defence.warning(kind) is None:
            return None
        share = self.defence.share(kind) * SAFER
        others = [keep for keep in self.rack.keeps if keep.kind != kind and self.defence.share(keep.kind) < share]
        return min(others, key=lambda keep: (keep.cost, self.defence.share(keep.kind)), default=None)

    def with_rack(self, rack: Advice) -> TableAdvice:
        """The same with better advice about the rack."""
        return replace(self, rack=rack)


def advise_table(advisor: Advisor, observation: Observation) -> TableAdvice:
    """What is advised at a turn or about a discard, at once."""
    rack = advisor.best(observation)
    if observation.house.table == QUIET:
        return TableAdvice(rack)
    calling = observation.phase is Phase.CALLING
    swaps = any(isinstance(action, Exchange) for action in observation.legal)
    return TableAdvice(
        rack,
        advise_defence(observation),
        advise_call(advisor.table, observation) if calling else None,
        advise_exchange(advisor.table, observation) if swaps else None,
    )
