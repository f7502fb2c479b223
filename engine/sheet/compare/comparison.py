"""Two sheets compared: hands kept, changed, new and gone, shapes and tiles, and what to unlearn."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import cached_property

from engine.sheet.compare.changes import Change, changes
from engine.sheet.compare.pairing import pairs
from engine.sheet.groups import Group, Variant
from engine.sheet.likeness import bits, shared
from engine.sheet.model import Hand, Sheet
from engine.sheet.study.counts import Demand, Shape, Study
from engine.tiles import JOKER, Kind


@dataclass(frozen=True)
class Paired:
    """A hand of the old sheet and what it is on the new one."""

    old: Hand
    new: Hand
    changes: tuple[Change, ...]
    """Empty for a hand that was kept."""


class Because(Enum):
    """Why a hand of the old sheet can lead astray on the new one."""

    GONE = "gone"
    """No variant of it is a hand now."""
    PARTLY = "partly"
    """Some of its variants are a hand now, others are none."""
    CONCEALED = "concealed"
    """Its variants are hands now, but some may no longer be exposed."""


@dataclass(frozen=True)
class Unlearn:
    """A hand that was mahjong and is none now, or not in every way."""

    hand: Hand
    because: Because
    lost: tuple[Variant, ...]
    """Its variants that are no hand now; of CONCEALED, those that may no longer be exposed."""
    nearest: Hand
    """What the hand became, if it was changed; else the new hand that shares most tiles with it."""
    became: bool
    """Whether `nearest` is what it became."""


@dataclass(frozen=True)
class Drift:
    """A tile that more, or fewer, of the hands want than before."""

    kind: Kind
    old: Demand
    new: Demand
    old_share: float
    """Of the old sheet's hands, the share that wants it: 0 to 1."""
    new_share: float


@dataclass(frozen=True)
class Comparison:
    """What has become of an old sheet."""

    old: Sheet
    new: Sheet
    kept: tuple[Paired, ...]
    """In the order of the old sheet, as are `changed` and `gone`."""
    changed: tuple[Paired, ...]
    new_hands: tuple[Hand, ...]
    """In the order of the new sheet."""
    gone: tuple[Hand, ...]

    @cached_property
    def unlearn(self) -> tuple[Unlearn, ...]:
        """In the order of the old sheet."""
        return tuple(_unlearn(self))

    @cached_property
    def studies(self) -> tuple[Study, Study]:
        """The counts of the old and the new sheet."""
        return Study.of(self.old), Study.of(self.new)

    @property
    def shapes_gone(self) -> tuple[Shape, ...]:
        """Orders of sizes that only the old sheet has, its commonest first."""
        old, new = self.studies
        return _without(old, new)

    @property
    def shapes_new(self) -> tuple[Shape, ...]:
        """Orders of sizes that only the new sheet has, its commonest first."""
        old, new = self.studies
        return _without(new, old)

    @cached_property
    def drifts(self) -> tuple[Drift, ...]:
        """Tiles whose share of the hands has moved: those that got dearest first, those that got cheapest last."""
        old, new = self.studies
        found = [
            Drift(kind, before, after, before.hands / old.hands, after.hands / new.hands)
            for kind, (before, after) in enumerate(zip(old.tiles, new.tiles, strict=True))
            if kind != JOKER and before.hands * new.hands != after.hands * old.hands
        ]
        return tuple(sorted(found, key=lambda drift: drift.old_share - drift.new_share))


def _no_pause() -> None:
    return None


def compare(old: Sheet, new: Sheet, pause: Callable[[], None] = _no_pause) -> Comparison:
    """Compare two sheets. Exchanging them exchanges `new_hands` and `gone`. `pause` is called every few milliseconds;
    it may wait, or raise to end the work."""
    together = dict(pairs(old.hands, new.hands, pause))
    found = []
    for place, hand in enumerate(old.hands):
        if place in together:
            pause()
            other = new.hands[together[place]]
            found.append(Paired(hand, other, changes(old, hand, new, other)))
    return Comparison(
        old,
        new,
        tuple(pair for pair in found if not pair.changes),
        tuple(pair for pair in found if pair.changes),
        tuple(hand for place, hand in enumerate(new.hands) if place not in together.values()),
        tuple(hand for place, hand in enumerate(old.hands) if place not in together),
    )


def _without(one: Study, other: Study) -> tuple[Shape, ...]:
    known = dict(other.shapes)
    return tuple(shape for shape, _ in one.shapes if shape not in known)


def _unlearn(comparison: Comparison) -> list[Unlearn]:
    concealed_only: dict[tuple[Group, ...], bool] = {}
    for hand in comparison.new.hands:
        for variant in hand.variants:
            concealed_only[variant.key] = concealed_only.get(variant.key, True) and hand.concealed
    became = {pair.old.name: pair.new for pair in (*comparison.kept, *comparison.changed)}
    new = [(hand, tuple(bits(variant.total) for variant in hand.variants)) for hand in comparison.new.hands]
    found = []
    for hand in comparison.old.hands:
        lost = tuple(variant for variant in hand.variants if variant.key not in concealed_only)
        because = Because.GONE if len(lost) == len(hand.variants) else Because.PARTLY
        if not lost and not hand.concealed:
            lost = tuple(variant for variant in hand.variants if concealed_only[variant.key])
            because = Because.CONCEALED
        if lost:
            now = became.get(hand.name)
            found.append(Unlearn(hand, because, lost, now or _nearest(lost, new), now is not None))
    return found


def _nearest(variants: tuple[Variant, ...], hands: Sequence[tuple[Hand, tuple[int, ...]]]) -> Hand:
    """Of the hands, each with its variants as bits, the one that shares most tiles with the variants given as they
    stand, in the mean over them."""
    mine = tuple(bits(variant.total) for variant in variants)
    return max(hands, key=lambda hand: sum(max(shared(one, other) for other in hand[1]) for one in mine))[0]
