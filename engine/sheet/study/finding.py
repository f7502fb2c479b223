"""Finding hands of a sheet: by a tile, a group, flowers, hold or points, and by what a rack holds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from engine.sheet.model import Hand, Sheet
from engine.tiles import FLOWER, Kind, counts_of


@dataclass(frozen=True)
class Finding:
    """What hands are looked for; what is None is left open."""

    kind: Kind | None = None
    """A tile that a variant needs."""
    size: int | None = None
    """Tiles of a group that a variant has, 1 to 6. With a tile, the group is of that tile."""
    flowers: bool | None = None
    """Whether a variant has flowers; False for hands that have none in any variant."""
    concealed: bool | None = None
    least_points: int = 0

    @property
    def open(self) -> bool:
        """Whether every hand fits."""
        return self == Finding()

    def fits(self, hand: Hand) -> bool:
        """Whether a hand is among those looked for."""
        if self.concealed is not None and hand.concealed != self.concealed:
            return False
        if self.flowers is not None:
            has = any(group.kind == FLOWER for variant in hand.variants for group in variant.groups)
            if has != self.flowers:
                return False
        if hand.points < self.least_points:
            return False
        return (self.kind is None and self.size is None) or any(
            self.kind in (None, group.kind) and self.size in (None, group.size)
            for variant in hand.variants
            for group in variant.groups
        )

    def among(self, sheet: Sheet) -> tuple[Hand, ...]:
        """The hands that fit, in sheet order."""
        return tuple(hand for hand in sheet.hands if self.fits(hand))


def nearest_to(rack: Sequence[Kind], hands: Sequence[Hand]) -> tuple[tuple[Hand, int], ...]:
    """The hands by how many tiles of the rack serve the variant that they serve best, most first, each with that
    number. Jokers serve none here: they help nearly every hand alike."""
    held = counts_of(rack)
    found = [(hand, max(sum(map(min, held, variant.total)) for variant in hand.variants)) for hand in hands]
    return tuple(sorted(found, key=lambda pair: -pair[1]))
