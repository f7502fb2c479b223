"""Which hands of a sheet fourteen tiles make, and which ones the exposures laid so far still allow.

Every variant of a sheet is one bit of a whole number. Each kind of tile has two tables of such numbers. The first says
which variants need no more than so many real tiles of the kind, the second which variants have room for so many. A rack
makes the variants whose bit is set in every table.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Protocol

from engine.rules.house import House
from engine.rules.state import Discarded, Exposure, Phase, State
from engine.rules.twists.known import twist_of
from engine.sheet.groups import HAND_TILES, Group, Variant
from engine.sheet.model import Hand, Sheet
from engine.tiles import COPIES, FLOWER, JOKER, KINDS, Kind, counts_of

COMMON = House()
"""The rules that most tables play by."""


class Laid(Protocol):
    """A group lying face up: `size` tiles of `kind`, `jokers` of them jokers."""

    @property
    def size(self) -> int: ...
    @property
    def kind(self) -> Kind: ...
    @property
    def jokers(self) -> int: ...


class SheetIndex:
    """The bit tables of one sheet for a set with so many jokers.

    Each bit is one variant that such a set has the tiles for, in sheet order.
    """

    def __init__(self, sheet: Sheet, jokers: int) -> None:
        self.pairs: tuple[tuple[Hand, Variant], ...] = tuple(
            (hand, variant) for hand in sheet.hands for variant in hand.variants if variant.suppliable(jokers)
        )
        places = {id(hand): place for place, hand in enumerate(sheet.hands)}
        self.hands: tuple[int, ...] = tuple(places[id(hand)] for hand, _ in self.pairs)
        """Which hand of `sheet.hands` each variant makes."""
        self.all = (1 << len(self.pairs)) - 1
        self.open = 0
        wants_more = [[0] * (HAND_TILES + 1) for _ in range(KINDS)]  # [kind][c]: needs more than c real ones
        has_room = [[0] * (HAND_TILES + 1) for _ in range(KINDS)]  # [kind][c]: uses c or more
        holds: dict[tuple[Group, int], int] = {}
        for place, (hand, variant) in enumerate(self.pairs):
            bit = 1 << place
            self.open |= 0 if hand.concealed else bit
            real, uses = [0] * KINDS, [0] * KINDS
            seen: dict[Group, int] = {}
            for group in variant.groups:
                kind = group.kind
                for _ in range(group.size):
                    uses[kind] += 1
                    has_room[kind][uses[kind]] |= bit
                    if not group.takes_jokers:
                        wants_more[kind][real[kind]] |= bit
                        real[kind] += 1
                seen[group] = times = seen.get(group, 0) + 1
                holds[group, times] = holds.get((group, times), 0) | bit
        self.holds = holds
        self.room = tuple((self.all, *row[1:]) for row in has_room)
        self.content = tuple(tuple(self.all & ~bits for bits in row) for row in wants_more)

    def holding(self, exposures: Sequence[Laid | Group]) -> int:
        """The variants that have every exposure among their groups, alike in size and kind. Concealed hands count
        too."""
        bits = self.all
        groups = [Group(exposure.size, exposure.kind) for exposure in exposures]
        for group in set(groups):
            bits &= self.holds.get((group, groups.count(group)), 0)
        return bits

    def allowing(self, exposures: Sequence[Laid | Group]) -> int:
        """The variants that the exposures still allow. With nothing exposed that is all of them, else open hands
        only."""
        return self.holding(exposures) & self.open if exposures else self.all

    def fitting(self, counts: Sequence[int], exposures: Sequence[Exposure], among: int, strict: bool = True) -> int:
        """The variants that rack and exposures make, out of the bits `among`. None unless they are 14 tiles together.

        With `strict` off, jokers may also stand for singles and in pairs. That helps to find out what is wrong.
        """
        if sum(counts) + sum(exposure.size for exposure in exposures) != HAND_TILES:
            return 0
        laid = [0] * KINDS
        for exposure in exposures:
            laid[exposure.kind] += exposure.size
        bits = among
        missing = []
        for kind in range(JOKER):
            count = counts[kind]
            if not count:
                missing.append(kind)
                continue
            bits &= self.room[kind][count + laid[kind]] if count + laid[kind] <= HAND_TILES else 0
            if strict:
                bits &= self.content[kind][count]
            if not bits:
                return 0
        if strict:
            for kind in missing:
                bits &= self.content[kind][0]
        return bits

    def chosen(self, bits: int) -> Iterator[tuple[Hand, Variant]]:
        """The hands and variants of the bits, in sheet order."""
        while bits:
            lowest = bits & -bits
            yield self.pairs[lowest.bit_length() - 1]
            bits ^= lowest


class _Same:
    """A sheet as a key. It equals nothing but itself: comparing sheets hand by hand would take longer than the
    index."""

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet

    def __hash__(self) -> int:
        return id(self.sheet)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and self.sheet is other.sheet


@lru_cache(maxsize=16)
def _index(key: _Same, jokers: int) -> SheetIndex:
    return SheetIndex(key.sheet, jokers)


def index_of(sheet: Sheet, jokers: int = COPIES[JOKER]) -> SheetIndex:
    """The sheet's index for a set with so many jokers, made when first asked for."""
    return _index(_Same(sheet), jokers)


def singles_and_pairs_only(variant: Variant) -> bool:
    """Whether no group of the variant could take a joker."""
    return not any(group.takes_jokers for group in variant.groups)


def holds_no_joker(counts: Sequence[int], exposures: Sequence[Exposure]) -> bool:
    """Whether rack and exposures are all real tiles."""
    return counts[JOKER] == 0 and not any(exposure.jokers for exposure in exposures)


def worth(hand: Hand, variant: Variant, jokerless: bool, exposed: bool, house: House = COMMON) -> int:
    """The hand's points, with the house's bonus for a hand with nothing exposed and the twist's for flowers, doubled
    when made without any joker unless no joker could stand in it, or the house does not double."""
    doubled = jokerless and house.jokerless_doubles and not singles_and_pairs_only(variant)
    more = (0 if exposed else house.concealed_bonus) + twist_of(house).flower_points * variant.total[FLOWER]
    return (hand.points + more) * (2 if doubled else 1)


def match(
    sheet: Sheet, counts: Sequence[int], exposures: Sequence[Exposure] = (), house: House = COMMON
) -> tuple[Hand, Variant] | None:
    """The hand and variant that rack (36 counts) and exposures make, or None.

    All in all there must be 14 tiles. Jokers stand in groups of three or more only. Each exposure must be a whole group
    of the variant, and a concealed hand takes no exposure. Of several hands it is the one that collects most by the
    house rules, and of equal ones the first on the sheet.
    """
    index = index_of(sheet)
    bits = index.fitting(counts, exposures, index.allowing(exposures))
    if not bits:
        return None
    jokerless = holds_no_joker(counts, exposures)
    return max(index.chosen(bits), key=lambda pair: worth(pair[0], pair[1], jokerless, bool(exposures), house))


def tiles_to_show(rack: tuple[Kind, ...], seat: int, phase: Phase, discards: Sequence[Discarded]) -> tuple[Kind, ...]:
    """The tiles that a seat would show now. While it may call a discard, that tile comes last."""
    calling = phase is Phase.CALLING and discards[-1].seat != seat
    return (*rack, discards[-1].kind) if calling else rack


def hand_of(state: State, seat: int) -> tuple[Hand, Variant] | None:
    """The hand and variant that a seat could show now, or None. A discard that may be called counts as its tile.

    `legal_actions` does not answer this: where the house lets mistakes happen, mahjong is legal with any tiles.
    """
    tiles = tiles_to_show(state.racks[seat], seat, state.phase, state.discards)
    return match(state.sheet, counts_of(tiles), state.exposures[seat], state.house)


def allows(sheet: Sheet, exposures: Sequence[Exposure], jokers: int = COPIES[JOKER]) -> bool:
    """Whether a set with so many jokers can still make some hand of the sheet with these exposures on the table."""
    return index_of(sheet, jokers).allowing(exposures) != 0


def still_allowed(
    sheet: Sheet, exposures: Sequence[Exposure], jokers: int = COPIES[JOKER]
) -> tuple[tuple[Hand, Variant], ...]:
    """Every hand and variant that these exposures still allow in a set with so many jokers, in sheet order."""
    index = index_of(sheet, jokers)
    return tuple(index.chosen(index.allowing(exposures)))
