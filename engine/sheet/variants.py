"""From patterns and clauses to variants: every way to make a hand that the set can supply.

Letters are tried one after another, each over what it may stand for, and a branch is left as soon as a clause fails.
Variables that stand in `where` only need one value that satisfies the clauses, so they make no variants of their own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import permutations

from engine.sheet.clauses import Clause, any_use, holds, variables
from engine.sheet.model import Group, Line, Variant
from engine.sheet.notation import (
    DRAGON,
    RANK,
    SUIT,
    SUIT_LETTERS,
    WIND,
    Dragon,
    DragonOf,
    EachDragon,
    EachWind,
    Flower,
    Number,
    Pattern,
    Season,
    Wind,
    Zero,
)
from engine.tiles import (
    COPIES,
    DRAGON_NAMES,
    DRAGONS,
    FLOWER,
    JOKER,
    SUITS,
    WHITE,
    WIND_NAMES,
    WINDS,
    Kind,
    dragon_of,
    number,
)
from engine.tiles import (
    name as tile_name,
)

RANKS = tuple(range(1, 10))


class TooManyWaysError(ValueError):
    """A hand whose letters can be filled in more ways than it is sensible to try."""


@dataclass
class Work:
    """How much trying is still allowed; `spend` raises TooManyWaysError when nothing is left."""

    left: int = 200_000

    def spend(self) -> None:
        """Count one step."""
        if self.left <= 0:
            raise TooManyWaysError("the letters of this hand can be filled in too many ways")
        self.left -= 1


def expand(
    lines: Sequence[Line],
    where: Sequence[Clause],
    season: str,
    jokers: int = COPIES[JOKER],
    work: Work | None = None,
) -> tuple[Variant, ...]:
    """All different variants of a hand that a set with so many jokers supplies, in a fixed order: by line, then by
    the values of the letters as they come up. The sheet must have been checked: letters used in one way, known words,
    14 tiles a line. Raises TooManyWaysError when `work` runs out."""
    work = work or Work()
    found: dict[tuple[Group, ...], Variant] = {}
    uses = letter_uses([pattern for line in lines for pattern in line.patterns], where)
    for line in lines:
        for groups in _ways(line.patterns, where, uses, season, work):
            key = tuple(sorted(groups))
            if key not in found and _supplied(key, jokers):
                found[key] = Variant(groups)
    return tuple(found.values())


def supplied(variant: Variant, jokers: int = COPIES[JOKER]) -> bool:
    """Whether a set with so many jokers holds the tiles: singles and pairs real, jokers in the larger groups."""
    return _supplied(variant.groups, jokers)


def _supplied(groups: Sequence[Group], jokers: int) -> bool:
    real: dict[Kind, int] = {}
    loose: dict[Kind, int] = {}
    for group in groups:
        tiles = loose if group.takes_jokers else real
        tiles[group.kind] = tiles.get(group.kind, 0) + group.size
    for kind, count in real.items():
        if count > COPIES[kind]:
            return False
    needed = 0
    for kind, count in loose.items():
        needed += max(0, count - (COPIES[kind] - real.get(kind, 0)))
    return needed <= jokers


def why_none(lines: Sequence[Line], where: Sequence[Clause], season: str, jokers: int = COPIES[JOKER]) -> str:
    """Why a hand has no variant, in one sentence that ends with what to do."""
    uses = letter_uses([pattern for line in lines for pattern in line.patterns], where)
    for line in lines:
        for groups in _ways(line.patterns, where, uses, season, Work()):
            return (
                f"the set can't supply this hand: {_shortage(groups, jokers)}; make a group smaller or change its tile"
            )
    for letter, use in uses.items():
        if use == RANK and not any(ranks_allowed(line.patterns, where, letter) for line in lines):
            return (
                f"no value of {letter} keeps its numbers in 1 to 9 and its clauses true; change its + or - or a clause"
            )
    return "no choice of letters makes all its clauses true; ease or take out a clause"


def _shortage(groups: Sequence[Group], jokers: int) -> str:
    for kind in sorted({group.kind for group in groups}):
        real = sum(group.size for group in groups if group.kind == kind and not group.takes_jokers)
        if real > COPIES[kind]:
            return (
                f"its singles and pairs take {real} tiles {tile_name(kind)} and the set holds {COPIES[kind]}, "
                "which no joker can eke out"
            )
    return f"it needs more than the {jokers} jokers of the set"


def letter_uses(patterns: Sequence[Pattern], where: Sequence[Clause]) -> dict[str, str]:
    """Each letter's use (SUIT, RANK, WIND or DRAGON) in the order met; one that stands in clauses only is a number,
    or what it is compared with."""
    uses: dict[str, str] = {}
    for pattern in patterns:
        for letter, use in pattern.letters:
            uses.setdefault(letter, use)
    for clause in where:
        names = variables(clause)
        known = [uses[name] for name in names if name in uses]
        for name in names:
            uses.setdefault(name, known[0] if known and any_use(clause) else RANK)
    return uses


def ranks_allowed(patterns: Sequence[Pattern], where: Sequence[Clause], variable: str) -> tuple[int, ...]:
    """The values a rank variable may take: all its ranks within 1 to 9, and the clauses about it alone hold."""
    offsets = [p.tile.offset for p in patterns if isinstance(p.tile, Number) and p.tile.variable == variable]
    alone = [clause for clause in where if variables(clause) == (variable,)]
    return tuple(
        value
        for value in RANKS
        if all(value + offset in RANKS for offset in offsets)
        and all(holds(clause, {variable: value}) for clause in alone)
    )


def _ways(
    patterns: tuple[Pattern, ...], where: Sequence[Clause], uses: Mapping[str, str], season: str, work: Work
) -> Iterator[tuple[Group, ...]]:
    """The groups of every assignment of one line."""
    here = list(dict.fromkeys(letter for pattern in patterns for letter, _ in pattern.letters))
    suits = [letter for letter in here if uses[letter] == SUIT]
    shown = [letter for letter in here if uses[letter] != SUIT]
    hidden = [letter for letter in uses if uses[letter] != SUIT and letter not in shown]
    domains = {letter: _domain(letter, uses[letter], patterns, where) for letter in (*shown, *hidden)}
    makers = [_maker(pattern, season) for pattern in patterns]
    for values in _assignments(shown, hidden, domains, where, work):
        for chosen in permutations(range(len(SUITS)), len(suits)):
            work.spend()
            filled = {**values, **dict(zip(suits, chosen, strict=True))}
            yield tuple(group for make in makers for group in make(filled))


def _domain(letter: str, use: str, patterns: Sequence[Pattern], where: Sequence[Clause]) -> tuple[int, ...]:
    if use == WIND:
        return tuple(range(len(WIND_NAMES)))
    if use == DRAGON:
        return tuple(range(len(DRAGON_NAMES)))
    return ranks_allowed(patterns, where, letter)


def _assignments(
    shown: list[str],
    hidden: list[str],
    domains: Mapping[str, tuple[int, ...]],
    where: Sequence[Clause],
    work: Work,
) -> Iterator[dict[str, int]]:
    """Values of the shown letters for which some values of the hidden ones make all clauses true."""
    order = [*shown, *hidden]
    due: list[list[Clause]] = [[] for _ in order]  # a clause is judged as soon as its last letter has a value
    for clause in where:
        due[max(order.index(letter) for letter in variables(clause))].append(clause)
    values: dict[str, int] = {}

    def fill(depth: int, until: int) -> Iterator[None]:
        if depth == until:
            yield
            return
        letter = order[depth]
        for value in domains[letter]:
            work.spend()
            values[letter] = value
            if all(holds(clause, values) for clause in due[depth]):
                yield from fill(depth + 1, until)

    for _ in fill(0, len(shown)):
        if any(True for _ in fill(len(shown), len(order))):
            yield {letter: values[letter] for letter in shown}


def _maker(pattern: Pattern, season: str) -> Callable[[Mapping[str, int]], tuple[Group, ...]]:
    """A function from the letters' values to the groups that a pattern stands for."""
    size = pattern.size

    def suit_index(suit: str, values: Mapping[str, int]) -> int:
        return values[suit] if suit in SUIT_LETTERS else SUITS.index(suit)

    def make(values: Mapping[str, int]) -> tuple[Group, ...]:
        match pattern.tile:
            case Number(suit=suit, variable=variable, offset=offset):
                rank = offset + (values[variable] if variable else 0)
                kinds: tuple[Kind, ...] = (number(suit_index(suit, values), rank),)
            case Wind(name=name):
                kinds = (WINDS[WIND_NAMES.index(name) if name in WIND_NAMES else values[name]],)
            case Dragon(name=name):
                kinds = (DRAGONS[DRAGON_NAMES.index(name) if name in DRAGON_NAMES else values[name]],)
            case DragonOf(suit=suit):
                kinds = (dragon_of(suit_index(suit, values)),)
            case Flower():
                kinds = (FLOWER,)
            case Zero():
                kinds = (WHITE,)
            case EachWind():
                kinds = tuple(WINDS)
            case EachDragon():
                kinds = tuple(DRAGONS)
            case Season(suit=suit):
                kinds = tuple(
                    WHITE if digit == "0" else number(suit_index(suit, values), int(digit)) for digit in season
                )
        return tuple(Group(size, kind) for kind in kinds)

    return make
