"""What a teacher would say about a sheet, as data: each remark holds the figures of its claim, and no sentence.

Every remark is true of the sheet by counting. `remarks` gives all that can be said, the most telling first: what bears
on what to keep and what to pass comes before what is only good to know.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from engine.sheet.clauses import Reckon
from engine.sheet.groups import Variant
from engine.sheet.likeness import bits, shared
from engine.sheet.model import Hand
from engine.sheet.notation import Season
from engine.sheet.study.counts import Shape, Study, has_rank, kinds_of_rank
from engine.sheet.variants import RANKS
from engine.tiles import COPIES, DRAGONS, FLOWER, WHITE, WINDS, Kind, rank_of

SHORT = 4
"""A group of so many tiles takes every tile of its kind that the set holds."""
FEW_HANDS = 1 / 4
"""Winds or dragons wanted in less than this share of the hands are worth a remark."""
RUN = 3
"""Numbers in a row that make a run."""


@dataclass(frozen=True)
class MostWanted:
    """The number that most hands want; no other number is wanted in as many."""

    rank: int
    hands: int
    sections: int


@dataclass(frozen=True)
class SumsPress:
    """A number that hands with sums can't be made without, and how many hands and sections want it in all."""

    rank: int
    hands: int
    sections: int
    size: int
    """Tiles of its largest group in those sums."""


@dataclass(frozen=True)
class SeasonPress:
    """A digit that the season holds, and which other hands feel it."""

    digit: int
    """1 to 9; 0 for the white dragon that stands for zero."""
    times: int
    """How often the season holds it."""
    inside: int
    """Hands made with the season's digits."""
    outside: int
    """Other hands that want the same tile or number."""
    sections: int
    """Sections of those other hands."""


@dataclass(frozen=True)
class LeastWanted:
    """The number that fewest hands want; every other number is wanted in more. It is no digit of the season, and no sum
    takes four of it."""

    rank: int
    hands: int


@dataclass(frozen=True)
class MidRun:
    """The number that stands in more runs (three numbers in a row) than any other, counted in variants."""

    rank: int
    variants: int
    of: int
    """Variants with a run."""


@dataclass(frozen=True)
class FlowersWanted:
    """In how many hands flowers are wanted, and the size of group that most hands want them in."""

    hands: int
    of: int
    size: int
    with_size: int


@dataclass(frozen=True)
class NoJokerHelps:
    """Hands of singles and pairs only: no joker may stand anywhere in them."""

    hands: tuple[str, ...]


@dataclass(frozen=True)
class NeedsJoker:
    """Hands that the set can't supply without a joker, in whichever way they are made."""

    hands: tuple[str, ...]


@dataclass(frozen=True)
class Concealed:
    """How many hands may not be exposed."""

    hands: int
    of: int


@dataclass(frozen=True)
class CommonShape:
    """The order of sizes that most hands have."""

    shape: Shape
    hands: int
    of: int


@dataclass(frozen=True)
class SuitsNeeded:
    """How many hands can be made with the numbers of one suit, and how many need all three."""

    one: int
    three: int
    of: int


@dataclass(frozen=True)
class HonoursHome:
    """Winds, or dragons, are wanted in few hands, and most of those stand in one section."""

    winds: bool
    """True for winds, False for dragons."""
    hands: int
    of: int
    section: str
    at_home: int
    """Of those hands, how many stand in the section."""


@dataclass(frozen=True)
class Unwanted:
    """Kinds that no hand needs."""

    kinds: tuple[Kind, ...]


@dataclass(frozen=True)
class NarrowAndWide:
    """The hand with fewest variants and the hand with most."""

    narrow: str
    ways: int
    wide: str
    most: int


@dataclass(frozen=True)
class CloseHands:
    """The two hands whose variants share most tiles; no other two share as many."""

    one: str
    other: str
    tiles: int
    """The most tiles that a variant of one shares with a variant of the other."""


@dataclass(frozen=True)
class CountsForMore:
    """A tile that hands made need much more often than its number of hands lets one think."""

    kind: Kind
    hands: float
    """The share of the hands that want it, 0 to 1."""
    made: float
    """The share of the hands made that need it, 0 to 1."""


Remark = (
    MostWanted | SumsPress | SeasonPress | LeastWanted | MidRun | FlowersWanted | NoJokerHelps | NeedsJoker
    | Concealed | CommonShape | SuitsNeeded | HonoursHome | Unwanted | NarrowAndWide | CloseHands | CountsForMore
)  # fmt: skip


def remarks(study: Study) -> tuple[Remark, ...]:
    """All that can be said of a sheet, the most telling first."""
    found: list[tuple[float, Remark]] = []
    for say in _SAYERS:
        found += say(study)
    return tuple(remark for _, remark in sorted(found, key=lambda pair: -pair[0]))


Said = Iterator[tuple[float, Remark]]
"""Remarks, each with how telling it is: about 0 to 10."""


def _ranks_wanted(study: Study) -> list[tuple[int, int]]:
    """Each number with the hands that want it, most wanted first."""
    return sorted(((rank, len(study.wanting_rank(rank))) for rank in RANKS), key=lambda pair: -pair[1])


def _most_wanted(study: Study) -> Said:
    (rank, most), (_, second) = _ranks_wanted(study)[:2]
    if most > second:
        yield 9, MostWanted(rank, most, len(study.sections_of(study.wanting_rank(rank))))


def _least_wanted(study: Study) -> Said:
    (_, second), (rank, least) = _ranks_wanted(study)[-2:]
    pressed = [remark for _, remark in _sums_press(study) if isinstance(remark, SumsPress) and remark.rank == rank]
    if 0 < least < second and not pressed and str(rank) not in study.sheet.season:
        yield 6, LeastWanted(rank, least)


def has_sum(hand: Hand) -> bool:
    """Whether its numbers are tied by a sum or a product."""
    return any(isinstance(clause, Reckon) for clause in hand.where)


def _sums_press(study: Study) -> Said:
    sums = [one for one in study.counts if has_sum(one.hand)]
    for rank in RANKS:
        kinds = kinds_of_rank(rank)
        pressing = [one for one in sums if all(has_rank(variant, rank) for variant in one.hand.variants)]
        size = max((one.longest[kind] for one in pressing for kind in kinds), default=0)
        if size >= SHORT:
            hands = study.wanting_rank(rank)
            yield 9.5 - 0.1 * abs(5 - rank), SumsPress(rank, len(hands), len(study.sections_of(hands)), size)


def has_season(hand: Hand) -> bool:
    """Whether it can't be made without the digits of the season."""
    return all(any(isinstance(pattern.tile, Season) for pattern in line.patterns) for line in hand.lines)


def _season_press(study: Study) -> Said:
    inside = [one.hand for one in study.counts if has_season(one.hand)]
    for digit, times in sorted(Counter(map(int, study.sheet.season)).items()) if inside else ():
        wanting = study.wanting_rank(digit) if digit else study.wanting(WHITE)
        outside = [hand for hand in wanting if hand not in inside]
        yield (
            8 if times > 1 else 4,
            SeasonPress(digit, times, len(inside), len(outside), len(study.sections_of(outside))),
        )


def runs_with(variant: Variant) -> frozenset[int]:
    """The numbers that stand in a run of the variant: in three numbers in a row, in whichever suits."""
    ranks = {rank_of(group.kind) for group in variant.groups}
    return frozenset(rank for low in RANKS if {low, low + 1, low + 2} <= ranks for rank in range(low, low + RUN))


def _mid_run(study: Study) -> Said:
    runs = [runs_with(variant) for one in study.counts for variant in one.hand.variants]
    found = Counter(rank for run in runs for rank in run).most_common(2)
    if found and (len(found) == 1 or found[0][1] > found[1][1]):
        yield 5, MidRun(*found[0], sum(map(bool, runs)))


def _flowers(study: Study) -> Said:
    if study.flowers:
        size, with_size = max(study.flowers.items(), key=lambda item: item[1])
        yield 7.5, FlowersWanted(study.tiles[FLOWER].hands, study.hands, size, with_size)


def _jokers(study: Study) -> Said:
    none = tuple(one.hand.name for one in study.counts if set(one.jokers) == {0})
    if none:
        yield 7, NoJokerHelps(none)
    must = tuple(one.hand.name for one in study.counts if all(map(beyond_the_set, one.hand.variants)))
    if must:
        yield 6.5, NeedsJoker(must)


def beyond_the_set(variant: Variant) -> bool:
    """Whether it takes more of a tile than the set holds, so that a joker must stand in."""
    return any(need > COPIES[kind] for kind, need in enumerate(variant.total))


def _concealed(study: Study) -> Said:
    if study.concealed:
        yield 7.2, Concealed(study.concealed, study.hands)


def _shape(study: Study) -> Said:
    shape, hands = study.shapes[0]
    if hands > 1:
        yield 3 + 6 * hands / study.hands, CommonShape(shape, hands, study.hands)


def _suits(study: Study) -> Said:
    three = sum(set(one.suits) == {3} for one in study.counts)
    yield 4.5, SuitsNeeded(study.suits.get(1, 0), three, study.hands)


def _honours(study: Study) -> Said:
    for kinds in (WINDS, DRAGONS):
        hands = [one.hand for one in study.counts if any(one.variants[kind] for kind in kinds)]
        if hands and len(hands) <= FEW_HANDS * study.hands:
            section, at_home = Counter(hand.section for hand in hands).most_common(1)[0]
            if at_home > 1:
                yield 8.5, HonoursHome(kinds == WINDS, len(hands), study.hands, section, at_home)


def _unwanted(study: Study) -> Said:
    kinds = tuple(wanted.kind for wanted in study.tiles if not wanted.hands)
    if kinds:
        yield 8.7, Unwanted(kinds)


def _ways(study: Study) -> Said:
    hands = sorted((one.hand for one in study.counts), key=lambda hand: len(hand.variants))
    if len(hands[0].variants) < len(hands[-1].variants):
        narrow, wide = hands[0], hands[-1]
        yield 5.5, NarrowAndWide(narrow.name, len(narrow.variants), wide.name, len(wide.variants))


def _close(study: Study) -> Said:
    held = [(one, tuple(bits(variant.total) for variant in one.hand.variants)) for one in study.counts]
    found = sorted(
        (
            (max(shared(a, b) for a in mine for b in theirs), one.hand.name, other.hand.name)
            for (one, mine), (other, theirs) in combinations(held, 2)
        ),
        reverse=True,
    )
    if found and (len(found) == 1 or found[0][0] > found[1][0]):
        tiles, first, second = found[0]
        yield 5.2, CloseHands(first, second, tiles)


def _counts_for_more(study: Study) -> Said:
    found = [CountsForMore(one.kind, one.hands / study.hands, one.weighed or 0.0) for one in study.tiles]
    most = max(found, key=lambda remark: remark.made - remark.hands)
    if most.made > most.hands:
        yield 8.2, most


_SAYERS: Sequence[Callable[[Study], Said]] = (
    _most_wanted, _sums_press, _season_press, _least_wanted, _mid_run, _flowers, _jokers, _concealed, _shape, _suits,
    _honours, _unwanted, _ways, _close, _counts_for_more,
)  # fmt: skip
