"""The fast policy: a player for many quiet games at once, who plays by the odds."""

from __future__ import annotations

from engine.advice.rollout.games import Batch
from engine.advice.table import SheetTable, Whole
from engine.advice.worth.choice import let_go
from engine.advice.worth.worth import weigh


def by_odds(table: SheetTable, batch: Batch) -> Whole:
    """Let go the tile whose going leaves the rack worth most: what `advise` advises."""
    weighed = weigh(table, batch.racks, batch.unseen, batch.draws, short=batch.short, alive=batch.alive)
    return let_go(table, batch.racks, batch.short, batch.alive, weighed.left)
