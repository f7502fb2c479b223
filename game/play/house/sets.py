"""Named sets of house rules: those that ship and those that a player keeps in the store."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass, replace

from engine.rules.house import FULL, House
from engine.store.store import Store
from engine.store.values import Json
from engine.words import nearest, quoted
from game.play.defaults import FOUR_PLAY, USUAL_GAME

KEPT = "house sets"
"""The setting that holds the player's own sets."""
MOST_SETS = 40
MOST_NAME = 60


@dataclass(frozen=True)
class HouseSet:
    """House rules with a name."""

    name: str
    house: House


SHIPPED = (
    HouseSet("Quiet evening", USUAL_GAME),
    HouseSet("Long evening", replace(USUAL_GAME, picks=0)),
    HouseSet("Four at the table", FOUR_PLAY),
    HouseSet("Every slip counts", replace(FOUR_PLAY, slips=True, mistake_pays=25)),
    HouseSet("The wall runs short", House(table=FULL, passes=3, courtesy=True, last_tiles=16, concealed_bonus=10)),
)
"""Sets that every player has. They can't be changed; under another name they can be kept and changed."""


def own_sets(store: Store) -> list[HouseSet]:
    """The player's own sets, by name. What is not sound is left out. Raises StoreError."""
    kept = store.get(KEPT)
    found = []
    for name, rules in kept.items() if isinstance(kept, dict) else ():
        try:
            found.append(HouseSet(name, House(**rules)))  # type: ignore[arg-type]
        except (TypeError, ValueError):
            continue
    return sorted(found, key=lambda one: one.name.casefold())


def all_sets(store: Store) -> list[HouseSet]:
    """Those that ship, then the player's own. Raises StoreError."""
    return [*SHIPPED, *own_sets(store)]


def clean_name(name: str) -> str:
    """The name as it is kept: blanks at its ends and doubled ones don't count. Raises ValueError with a sentence."""
    clean = " ".join(name.split())
    if not clean or not clean.isprintable() or len(clean) > MOST_NAME:
        raise ValueError(f"give the set a name of 1 to {MOST_NAME} letters")
    if any(clean.casefold() == one.name.casefold() for one in SHIPPED):
        raise ValueError(f"{quoted(clean)} is a set that ships; give yours another name")
    return clean


def keep_set(store: Store, made: HouseSet) -> HouseSet:
    """Keep a set; one of the same name is replaced. A twist is no house rule, and is left out.

    Raises ValueError with a sentence for a name that can't be used or too many sets, and StoreError.
    """
    name = clean_name(made.name)
    others = [one for one in own_sets(store) if one.name.casefold() != name.casefold()]
    if len(others) >= MOST_SETS:
        raise ValueError(f"there are {MOST_SETS} sets already; delete one first")
    kept = HouseSet(name, replace(made.house, twist=""))
    _write(store, [*others, kept])
    return kept


def drop_set(store: Store, name: str) -> None:
    """Forget one of the player's own sets. Raises StoreError."""
    _write(store, [one for one in own_sets(store) if one.name != name])


def find_set(sets: Sequence[HouseSet], name: str) -> HouseSet:
    """The set of that name, in capitals or not. Raises ValueError, with what there is, where there is none."""
    wanted = " ".join(name.split()).casefold()
    for one in sets:
        if one.name.casefold() == wanted:
            return one
    names = [one.name for one in sets]
    guess = nearest(name, names)
    hint = f"did you mean {quoted(guess)}?" if guess else f"there are {', '.join(map(quoted, names))}"
    raise ValueError(f"there is no set of house rules called {quoted(name)}; {hint}")


def _write(store: Store, sets: Sequence[HouseSet]) -> None:
    kept: dict[str, Json] = {one.name: asdict(one.house) for one in sets}
    store.set(KEPT, kept)
