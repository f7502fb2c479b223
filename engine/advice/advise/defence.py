"""What the other seats show: the hands that their exposures can still become, and which tiles of a rack would serve
those.

Of every variant that a seat's exposures allow, the share of the ways to fill it that the unseen tiles have left tells
how much it counts: 1 when nothing that it needs has been seen, 0 when it can't be made any more. A hand is as likely as
its variants' shares add up to. Nobody knows what the seat is after; this is what the sheet and the tiles allow.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import comb

from engine.rules.house import SEATS, seat_name
from engine.rules.matching import still_allowed
from engine.rules.observation import Observation
from engine.rules.state import Exposure
from engine.sheet.groups import Group, Variant
from engine.sheet.model import Hand
from engine.tiles import JOKER, KINDS, Counts, Kind, full_set, name
from engine.words import in_words

WORTH_A_WARNING = 0.25
"""A tile is warned of when hands of at least this share use it."""


@dataclass(frozen=True)
class CanBecome:
    """A hand that a seat can still make with what it shows."""

    hand: Hand
    variants: int
    """How many of its variants are left."""
    share: float
    """How much of all that the seat can still make it is, by what is left of each variant; all hands add up to 1."""


@dataclass(frozen=True)
class Risk:
    """What one kind of tile would do for a seat."""

    kind: Kind
    share: float
    """The share of what the seat can still make that uses this kind."""
    as_group: float
    """The share that uses it in a group of three or more, which may be called for an exposure."""
    hands: int
    """How many of its hands can use it in some variant that is left."""
    because: str
    """One plain sentence."""


@dataclass(frozen=True)
class OtherSeat:
    """One other seat and what its exposures tell."""

    seat: int
    exposures: tuple[Exposure, ...]
    dead: bool
    hands: tuple[CanBecome, ...]
    """Most likely first; empty while nothing is exposed, when it may be any hand, and for a dead seat."""
    risks: tuple[Risk, ...]
    """Every kind in the observer's rack that it could use, greatest share first."""
    sentence: str
    """What it can become, in one plain sentence."""

    def risk(self, kind: Kind) -> Risk | None:
        """What this kind would do for the seat."""
        return next((risk for risk in self.risks if risk.kind == kind), None)


@dataclass(frozen=True)
class Defence:
    """The other seats, the next in turn first."""

    seats: tuple[OtherSeat, ...]
    pays_all: bool = False
    """Whether the seat that lets the last tile go pays for all three."""

    def share(self, kind: Kind) -> float:
        """The greatest share that any seat's hands have use for this kind."""
        return max((risk.share for one in self.seats for risk in one.risks if risk.kind == kind), default=0.0)

    def most_at_risk(self, kind: Kind) -> int:
        """The seat that this kind would serve most."""
        risks = [
            (risk.share, -place, one.seat)
            for place, one in enumerate(self.seats)
            for risk in one.risks
            if risk.kind == kind
        ]
        return max(risks)[2]

    def warning(self, kind: Kind) -> str | None:
        """The sentence about the seat that this kind would serve most, if it is worth a warning."""
        risks = [risk for one in self.seats for risk in one.risks if risk.kind == kind]
        worst = max(risks, key=lambda risk: risk.share, default=None)
        return worst.because if worst is not None and worst.share >= WORTH_A_WARNING else None


def advise_defence(observation: Observation) -> Defence:
    """What the other seats show, as the observing seat may know it. In the last tiles of the wall, where a house may
    close the calls, no tile of the rack is a risk."""
    seats = []
    for step in range(1, len(SEATS)):
        seat = (observation.seat + step) % len(SEATS)
        exposures = observation.exposures[seat]
        if observation.dead[seat] or not exposures:
            seats.append(OtherSeat(seat, exposures, observation.dead[seat], (), (), _nothing(observation, seat)))
            continue
        left = left_of(still_allowed(observation.sheet, exposures, observation.house.jokers), exposures, observation)
        hands = _hands(left)
        closed = observation.house.closes_calls(observation.wall_left)
        risks = () if closed else _risks(seat, observation.rack, left, hands)
        seats.append(OtherSeat(seat, exposures, False, hands, risks, _becomes(seat, hands)))
    return Defence(tuple(seats), observation.house.discarder_pays_all)


@dataclass(frozen=True)
class Left:
    """A variant that is left to a seat, what it needs besides its exposures, and how much it counts."""

    hand: Hand
    needs: tuple[Group, ...]
    weight: float


def left_of(
    allowed: Iterable[tuple[Hand, Variant]],
    exposures: Sequence[Exposure],
    observation: Observation,
) -> tuple[Left, ...]:
    """The variants that the unseen tiles can still fill."""
    whole = full_set(observation.house.jokers)
    found = []
    for hand, variant in allowed:
        needs = needed(variant, exposures)
        ways = ways_to_fill(needs, observation.unseen)
        if ways:
            found.append(Left(hand, needs, float(Fraction(ways, ways_to_fill(needs, whole)))))
    return tuple(found)


def needed(variant: Variant, exposures: Sequence[Exposure]) -> tuple[Group, ...]:
    """The groups of a variant that are not among the exposures."""
    groups = list(variant.groups)
    for exposure in exposures:
        groups.remove(Group(exposure.size, exposure.kind))
    return tuple(groups)


def ways_to_fill(groups: Sequence[Group], tiles: Counts) -> int:
    """How many choices of so many different tiles fill the groups; jokers stand in groups of three or more only."""
    strict, loose = [0] * KINDS, [0] * KINDS
    for group in groups:
        (loose if group.takes_jokers else strict)[group.kind] += group.size
    by_jokers = [1]
    for kind in {group.kind for group in groups}:
        here = [comb(tiles[kind], strict[kind] + loose[kind] - jokers) for jokers in range(loose[kind] + 1)]
        product = [0] * (len(by_jokers) + len(here) - 1)
        for one, ways in enumerate(by_jokers):
            for other, more in enumerate(here):
                product[one + other] += ways * more
        by_jokers = product
    return sum(ways * comb(tiles[JOKER], jokers) for jokers, ways in enumerate(by_jokers))


def _hands(left: Sequence[Left]) -> tuple[CanBecome, ...]:
    total = sum(one.weight for one in left)
    by_name: dict[str, list[Left]] = {}
    for one in left:
        by_name.setdefault(one.hand.name, []).append(one)
    hands = [CanBecome(some[0].hand, len(some), sum(one.weight for one in some) / total) for some in by_name.values()]
    return tuple(sorted(hands, key=lambda one: -one.share))


def _risks(seat: int, rack: Sequence[Kind], left: Sequence[Left], hands: Sequence[CanBecome]) -> tuple[Risk, ...]:
    total = sum(one.weight for one in left)
    risks = []
    for kind in sorted(set(rack) - {JOKER}):
        using = [one for one in left if any(group.kind == kind for group in one.needs)]
        if not using:
            continue
        grouped = [one for one in using if any(group.kind == kind and group.takes_jokers for group in one.needs)]
        share = sum(one.weight for one in using) / total
        as_group = sum(one.weight for one in grouped) / total
        names = {one.hand.name for one in using}
        risks.append(Risk(kind, share, as_group, len(names), _why_risk(seat, kind, len(names), len(hands), as_group)))
    return tuple(sorted(risks, key=lambda one: (-one.share, one.kind)))


def _why_risk(seat: int, kind: Kind, using: int, hands: int, as_group: float) -> str:
    who = seat_name(seat).capitalize()
    if hands == 1:
        which = f"the one hand that {who} can still make can use"
    elif using == hands:
        which = f"all {in_words(hands)} hands that {who} can still make can use"
    else:
        which = f"{in_words(using)} of the {in_words(hands)} hands that {who} can still make can use"
    how = "and it may be called for a group" if as_group > 0 else "but only its last tile may be called"
    said = f"{which} the {name(kind)}, {how}."
    return said[:1].upper() + said[1:]


def _nothing(observation: Observation, seat: int) -> str:
    who = seat_name(seat).capitalize()
    if observation.dead[seat]:
        return f"{who}'s hand is dead: it draws and calls no more."
    return f"{who} shows nothing and may be after any hand."


def _becomes(seat: int, hands: Sequence[CanBecome]) -> str:
    who = seat_name(seat).capitalize()
    if not hands:
        return f"No hand of this sheet can be made with what {who} shows and the tiles left."
    first = hands[0]
    if len(hands) == 1:
        return f"What {who} shows can only become {first.hand.name}."
    return f"What {who} shows can become {in_words(len(hands))} hands, most likely {first.hand.name}."
