"""Which twist the next deals have: none, one that the player chose, or another one for each deal."""

from __future__ import annotations

import random
from dataclasses import replace

from engine.rules.house import House
from engine.rules.twists.known import twists_for
from engine.rules.twists.names import TWISTS
from engine.store.store import Store
from engine.store.values import StoreError

SURPRISE = "surprise"
"""A twist drawn at random for each deal."""
CHOICES = ("", SURPRISE, *TWISTS)
_KEPT = "twist"


def kept_twist(store: Store) -> str:
    """What the player has chosen: one of CHOICES; no twist where nothing sound is kept."""
    kept = store.get(_KEPT)
    return kept if isinstance(kept, str) and kept in CHOICES else ""


def keep_twist(store: Store, choice: str) -> None:
    """Keep the choice for the next deals. A store that can't be written keeps it in memory and says so itself."""
    try:
        store.set(_KEPT, choice)
    except StoreError:
        return


def twist_drawn(choice: str, table: str, chance: random.Random) -> str:
    """The twist of one deal at a table; empty for none, and for one that means nothing at that table."""
    fit = [twist.name for twist in twists_for(table)]
    if choice == SURPRISE:
        return chance.choice(fit)
    return choice if choice in fit else ""


def with_twist(house: House, choice: str, chance: random.Random) -> House:
    """The rules of one deal, with its twist."""
    return replace(house, twist=twist_drawn(choice, house.table, chance))
