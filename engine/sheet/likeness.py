"""How much two hands have in common: as they stand, and when suits change places and numbers move.

A variant is written as one whole number, with a bit for each of its tiles. What two variants share are then the bits
that both numbers have, and that is counted in one step.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from functools import cache, cached_property
from itertools import permutations, repeat
from operator import or_

from engine.sheet.groups import HAND_TILES, Group, Variant
from engine.sheet.model import Hand
from engine.tiles import COPIES, DRAGONS, FLOWER, SUITS, WINDS, Counts, Kind, dragon_of, rank_of, suit_of

_WIDTH = 8
"""Bits of a kind: no variant needs more than eight tiles alike."""

Place = tuple[int, int]
"""A tile that may lie beyond 1 to 9 after a move: its suit and rank, or -1 and its kind."""

Moved = list[tuple[int, Place]]
"""The size and the place of each group of a variant, in its order."""

_STILL = 6
"""How much more two forms must share, as in `Forms.alike`, to be read as one hand with its numbers moved."""

SAME = 2 * HAND_TILES
"""The likeness of a hand with itself."""


def bits(counts: Counts) -> int:
    """36 counts as one number: bit `8 * kind + i` for the tile number `i` of its kind."""
    return sum(((1 << count) - 1) << (_WIDTH * kind) for kind, count in enumerate(counts))


def shared(one: int, other: int) -> int:
    """Tiles that two variants, given as bits, have in common: 0 to 14."""
    return (one & other).bit_count()


@cache
def _places(suits: tuple[int, ...], step: int) -> tuple[Place, ...]:
    """Where a tile of each kind lies when each suit becomes another and each number goes up by `step`."""
    places = []
    for kind in range(len(COPIES)):
        suit, rank = suit_of(kind), rank_of(kind)
        if suit is not None and rank is not None:
            places.append((suits[suit], rank + step))
        elif kind in DRAGONS:
            places.append((-1, dragon_of(suits[DRAGONS.index(kind)])))
        else:
            places.append((-1, kind))
    return tuple(places)


def moved(groups: Iterable[Group], suits: tuple[int, ...], step: int) -> Moved:
    """The sizes and places of groups when each suit becomes another and each number goes up by `step`. A dragon goes
    with its suit. Numbers may leave 1 to 9, so that every move can be taken back."""
    places = _places(suits, step)
    return [(group.size, places[group.kind]) for group in groups]


_ORDERS = tuple(permutations(range(len(SUITS))))

MOVES = tuple((suits, step) for step in sorted(range(-8, 9), key=abs) for suits in _ORDERS)
"""Every way to exchange suits and to move all numbers by the same step. Leaving all as it is comes first."""


@cache
def _places_of(kind: Kind) -> tuple[Place, ...]:
    """Where a tile of this kind lies after every move of MOVES."""
    return tuple(_places(*move)[kind] for move in MOVES)


class Coder:
    """Gives every tile and every group its own bits, so that likeness is one count of bits.

    There is a bit for each tile and one more for each tile of a group, so that a group kept whole counts twice. Tiles
    that a move takes beyond 1 to 9 have none, since no hand that stays where it is has such a tile.
    """

    def __init__(self) -> None:
        self._bits: dict[tuple[int, ...], int] = {}
        self._groups: dict[tuple[int, Kind, int, int], tuple[int, ...]] = {}
        self._placed: dict[tuple[Place, int, int, int], int] = {}

    def codes(self, groups: Iterable[Group]) -> tuple[int, ...]:
        """The code of the groups after every move of MOVES."""
        codes: Iterable[int] = repeat(0, len(MOVES))
        tiles: dict[Kind, int] = {}
        whole: dict[tuple[int, Kind], int] = {}
        for group in groups:
            size, kind = group.size, group.kind
            start, nth = tiles.get(kind, 0), whole.get((size, kind), 0)
            tiles[kind], whole[size, kind] = start + size, nth + 1
            codes = map(or_, codes, self._group(size, kind, start, nth))
        return tuple(codes)

    def _group(self, size: int, kind: Kind, start: int, nth: int) -> tuple[int, ...]:
        """After every move, the bits of a group that is the `nth` of its like, after `start` tiles of its kind. Groups
        of one kind stay so in every move."""
        codes = self._groups.get((size, kind, start, nth))
        if codes is None:
            places = _places_of(kind)
            at = {place: self._at(place, size, start, nth) for place in dict.fromkeys(places)}
            codes = tuple(map(at.__getitem__, places))
            self._groups[size, kind, start, nth] = codes
        return codes

    def _at(self, place: Place, size: int, start: int, nth: int) -> int:
        """The bits of such a group at a place."""
        suit, rank = place
        if suit >= 0 and not 1 <= rank <= 9:
            return 0
        code = self._placed.get((place, size, start, nth))
        if code is None:
            code = 0
            for one in range(size):
                code |= self._bit((*place, start + one)) | self._bit((*place, size, nth, one))
            self._placed[place, size, start, nth] = code
        return code

    def _bit(self, name: tuple[int, ...]) -> int:
        return 1 << self._bits.setdefault(name, len(self._bits))


Profile = tuple[tuple[int, ...], ...]
"""The sizes of a variant's groups, largest first: of numbers, of dragons, of each wind, of flowers. No move changes
it."""


def profile(groups: Iterable[Group]) -> Profile:
    """The profile of a variant."""
    sizes: dict[str | int, list[int]] = {"numbers": [], "dragons": [], **{kind: [] for kind in (*WINDS, FLOWER)}}
    for group in groups:
        place = "numbers" if group.kind < WINDS.start else "dragons" if group.kind in DRAGONS else group.kind
        sizes[place].append(group.size)
    return tuple(tuple(sorted(found, reverse=True)) for found in sizes.values())


def at_most(one: Profile, other: Profile) -> int:
    """What two variants with these profiles can share at most, from 0 to SAME: as `Forms.alike` counts it."""
    tiles = sum(min(sum(mine), sum(theirs)) for mine, theirs in zip(one, other, strict=True))
    whole = sum(sum((Counter(mine) & Counter(theirs)).elements()) for mine, theirs in zip(one, other, strict=True))
    return tiles + whole


def _settled(variant: Variant) -> tuple[tuple[int, Place], ...]:
    """What all variants that moves make from one another have in common, and no others: the first, in sorted order, of
    those whose lowest number is 1."""
    low = min((rank for group in variant.groups if (rank := rank_of(group.kind)) is not None), default=1)
    return min(tuple(sorted(moved(variant.groups, suits, 1 - low))) for suits in _ORDERS)


class Forms:
    """A hand's forms: the variants that no move makes from one another, each with all that it can be moved to.

    A run of three in one suit has many variants and one form. Two numbers with a given sum have a form for each way
    to part the sum.
    """

    def __init__(self, hand: Hand, coder: Coder) -> None:
        self.hand = hand
        self._coder = coder
        self.first: list[Variant] = []
        """Of each form, the first variant."""
        known: set[tuple[tuple[int, Place], ...]] = set()
        for variant in hand.variants:
            form = _settled(variant)
            if form not in known:
                known.add(form)
                self.first.append(variant)
        self.profiles = frozenset(profile(variant.groups) for variant in self.first)

    @cached_property
    def codes(self) -> tuple[tuple[int, ...], ...]:
        """Of each form, the code after every move of MOVES."""
        return tuple(self._coder.codes(variant.groups) for variant in self.first)

    def alike(self, other: Forms) -> float:
        """From 0 to SAME: tiles in common, and again those of whole groups in common, when suits may change places
        and numbers move. It is the mean over the forms of both hands of the best that the other hand has to offer,
        and so the same from both sides."""
        rows = [
            [max(map(int.bit_count, map(theirs[0].__and__, codes))) for theirs in other.codes] for codes in self.codes
        ]
        best = [max(row) for row in rows] + [max(column) for column in zip(*rows, strict=True)]
        return sum(best) / len(best)

    def alike_at_most(self, other: Forms) -> int:
        """A bound of `alike` that takes next to no time."""
        return max(at_most(mine, theirs) for mine in self.profiles for theirs in other.profiles)

    def readings(self, other: Forms) -> Iterator[tuple[Moved, Moved]]:
        """For each of this hand's forms, its groups moved onto what is nearest to it of the other hand's forms, and
        the groups of that. Moves that leave the numbers are preferred where little speaks against it."""
        for variant, codes in zip(self.first, self.codes, strict=True):
            _, move, theirs = max(
                (
                    ((code & their_codes[0]).bit_count() + (0 if move[1] else _STILL), move, theirs)
                    for theirs, their_codes in zip(other.first, other.codes, strict=True)
                    for move, code in zip(MOVES, codes, strict=True)
                ),
                key=lambda found: found[0],
            )
            yield moved(variant.groups, *move), moved(theirs.groups, *MOVES[0])

    def moved_near(self, other: Forms, least: int) -> Iterator[tuple[int, int, Moved, Moved]]:
        """Forms of this hand after a move beside forms of the other, each with its place, where they share at least so
        much, from 0 to SAME as `alike` counts it."""
        for place, (variant, codes) in enumerate(zip(self.first, self.codes, strict=True)):
            for their_place, (theirs, their_codes) in enumerate(zip(other.first, other.codes, strict=True)):
                for move, code in zip(MOVES, codes, strict=True):
                    if (code & their_codes[0]).bit_count() >= least:
                        yield place, their_place, moved(variant.groups, *move), moved(theirs.groups, *MOVES[0])


def forms_of(hands: Iterable[Hand], coder: Coder) -> tuple[Forms, ...]:
    """The forms of many hands. What is to be compared needs the same coder."""
    return tuple(Forms(hand, coder) for hand in hands)


def neighbours(hand: Hand, hands: Iterable[Hand], number: int = 3) -> tuple[tuple[Hand, float], ...]:
    """The other hands that share most tiles with this one, nearest first, each with the tiles shared in the mean over
    this hand's variants. A player who aims at this hand can turn to them."""
    own = tuple(bits(variant.total) for variant in hand.variants)
    found = []
    for other in hands:
        if other.name != hand.name:
            theirs = tuple(bits(variant.total) for variant in other.variants)
            found.append((other, sum(max(shared(one, two) for two in theirs) for one in own) / len(own)))
    return tuple(sorted(found, key=lambda pair: -pair[1])[:number])
