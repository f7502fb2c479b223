"""The order in which the rack is shown: by suit, as drawn, or as the player has set it by hand."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from engine.tiles import FLOWER, JOKER, Kind

BY_SUIT = "by suit"
AS_DRAWN = "as drawn"
BY_HAND = "by hand"
ORDERS = (BY_SUIT, AS_DRAWN, BY_HAND)


def arranged(rack: Sequence[Kind], order: str, own: Sequence[Kind] = ()) -> tuple[Kind, ...]:
    """The rack (kinds in order of arrival) in the order asked for.

    `own` is the player's own arrangement from before; tiles that have gone drop out of it, new ones come last.
    """
    if order == BY_SUIT:
        return tuple(sorted(rack, key=_by_suit))
    if order == AS_DRAWN:
        return tuple(rack)
    left = Counter(rack)
    kept: list[Kind] = []
    for kind in own:
        if left[kind] > 0:
            left[kind] -= 1
            kept.append(kind)
    seen: Counter[Kind] = Counter(kept)
    new: list[Kind] = []
    for kind in rack:
        if seen[kind] > 0:
            seen[kind] -= 1
        else:
            new.append(kind)
    return (*kept, *new)


def moved(own: Sequence[Kind], start: int, to: int) -> tuple[Kind, ...]:
    """The arrangement with the tile at `start` set down at place `to`."""
    rest = list(own)
    tile = rest.pop(start)
    rest.insert(max(0, min(to, len(rest))), tile)
    return tuple(rest)


def _by_suit(kind: Kind) -> tuple[int, int]:
    """Jokers and flowers first, where they are easy to count; then suits, winds and dragons."""
    first = {JOKER: 0, FLOWER: 1}.get(kind, 2)
    return first, kind
