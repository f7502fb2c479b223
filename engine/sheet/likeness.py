"""How much two hands have in common: as they stand, and when suits change places and numbers move.

A variant is written as one whole number, with a bit for each of its tiles. What two variants share are then the bits
that both numbers have, and that is counted in one step.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import permutations

from engine.sheet.groups import HAND_TILES, Group, Variant
from engine.sheet.model import Hand
from engine.tiles import DRAGONS, SUITS, Counts, dragon_of, rank_of, suit_of

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


def moved(groups: Iterable[Group], suits: Sequence[int], step: int) -> Moved:
    """The sizes and places of groups when each suit becomes another and each number goes up by `step`. A dragon goes
    with its suit. Numbers may leave 1 to 9, so that every move can be taken back."""
    found = []
    for group in groups:
        suit, rank = suit_of(group.kind), rank_of(group.kind)
        if suit is not None and rank is not None:
            place = (suits[suit], rank + step)
        elif group.kind in DRAGONS:
            place = (-1, dragon_of(suits[DRAGONS.index(group.kind)]))
        else:
            place = (-1, group.kind)
        found.append((group.size, place))
    return found


MOVES = tuple((suits, step) for step in sorted(range(-8, 9), key=abs) for suits in permutations(range(len(SUITS))))
"""Every way to exchange suits and to move all numbers by the same step. Leaving all as it is comes first."""


class Coder:
    """Gives every tile and every group its own bits, so that likeness is one count of bits."""

    def __init__(self) -> None:
        self._bits: dict[tuple[int, ...], int] = {}
        self._groups: dict[tuple[int, Place, int, int], int] = {}

    def code(self, groups: Moved) -> int:
        """A bit for each tile and one more for each tile of a group, so that a group kept whole counts twice."""
        code = 0
        tiles: dict[Place, int] = {}
        whole: dict[tuple[int, Place], int] = {}
        for group in groups:
            size, place = group
            start, nth = tiles.get(place, 0), whole.get(group, 0)
            tiles[place], whole[group] = start + size, nth + 1
            code |= self._group(size, place, start, nth)
        return code

    def _group(self, size: int, place: Place, start: int, nth: int) -> int:
        """The bits of a group that is the `nth` of its like, after `start` tiles of its kind."""
        code = self._groups.get((size, place, start, nth))
        if code is None:
            code = 0
            for one in range(size):
                code |= self._bit((*place, start + one)) | self._bit((*place, size, nth, one))
            self._groups[size, place, start, nth] = code
        return code

    def _bit(self, name: tuple[int, ...]) -> int:
        return 1 << self._bits.setdefault(name, len(self._bits))


class Forms:
    """A hand's forms: the variants that no move makes from one another, each with all that it can be moved to.

    A run of three in one suit has many variants and one form. Two numbers with a given sum have a form for each way
    to part the sum.
    """

    def __init__(self, hand: Hand, coder: Coder) -> None:
        self.hand = hand
        self.first: list[Variant] = []
        """Of each form, the first variant."""
        self.codes: list[tuple[int, ...]] = []
        """Of each form, the code after every move of MOVES."""
        known: set[int] = set()
        for variant in hand.variants:
            if coder.code(moved(variant.groups, *MOVES[0])) not in known:
                codes = tuple(coder.code(moved(variant.groups, *move)) for move in MOVES)
                known.update(codes)
                self.first.append(variant)
                self.codes.append(codes)

    def alike(self, other: Forms) -> float:
        """From 0 to SAME: tiles in common, and again those of whole groups in common, when suits may change places
        and numbers move. It is the mean over the forms of both hands of the best that the other hand has to offer,
        and so the same from both sides."""
        rows = [
            [max((code & theirs[0]).bit_count() for code in codes) for theirs in other.codes] for codes in self.codes
        ]
        best = [max(row) for row in rows] + [max(column) for column in zip(*rows, strict=True)]
        return sum(best) / len(best)

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

    def pairs(self, other: Forms) -> Iterator[tuple[Moved, Moved]]:
        """Every form of this hand after every move, beside every form of the other."""
        for variant in self.first:
            for move in MOVES:
                groups = moved(variant.groups, *move)
                for theirs in other.first:
                    yield groups, moved(theirs.groups, *MOVES[0])


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
