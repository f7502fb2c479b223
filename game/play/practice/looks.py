"""Which choices of a game were looked up: advice stood on the screen before they were made. Those don't count.

Every line that begins here keeps its looks: one result of the kind `looked` that says so, then one for each moment.
Of a line without them nothing is known, and it counts only where advice was hidden throughout.
"""

from __future__ import annotations

import contextlib

from engine.store.store import Store
from engine.store.values import StoreError

LOOKED = "looked"
"""The kind of these results in the store."""
BEGUN = -1
"""In place of a moment: from here on looks are kept."""


def keep_looks(store: Store, line: int) -> None:
    """From now on the line's looks are kept. Raises StoreError."""
    store.add_result(LOOKED, {"moment": BEGUN}, line=line)


def note_look(store: Store, line: int, moment: int) -> None:
    """Advice was seen at a moment of a line: how many entries came before. What the store refuses is let be."""
    with contextlib.suppress(StoreError):
        store.add_result(LOOKED, {"moment": moment}, line=line)


def looks_of(store: Store) -> dict[int, frozenset[int]]:
    """The moments at which advice was seen, for every line whose looks are kept. Raises StoreError."""
    found: dict[int, set[int]] = {}
    begun = set()
    for result in store.results(LOOKED):
        moment = result.figures.get("moment")
        if result.line is None or type(moment) is not int:
            continue
        if moment == BEGUN:
            begun.add(result.line)
        found.setdefault(result.line, set()).add(moment)
    return {line: frozenset(moments - {BEGUN}) for line, moments in found.items() if line in begun}
