"""From patterns and clauses to variants: every way to make a hand that the set can supply.

Letters are tried one after another, each over what it may stand for, and a branch is left as soon as a clause fails.
Letters that stand in `where` only need one value that satisfies the clauses, so they make no variants of their own.
While trying, a group is one number, SCALE * size + kind, so that sorted numbers are sorted groups.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from itertools import permutations

from engine.sheet.clauses import Clause, any_use, holds, variables
from engine.sheet.groups import Group, Variant
from engine.sheet.model import Line
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
    dragon_of,
    number,
)
from engine.tiles import name as tile_name

RANKS = tuple(range(1, 10))
SCALE = 64
_VARIANT_STEPS = 3  # keeping a variant takes about as long as three steps of the search


class TooManyWaysError(ValueError):
    """A hand whose letters can be filled in more ways than it is sensible to try."""


@dataclass
class StepsLeft:
    """How many steps of trying are still allowed; `spend` raises TooManyWaysError when none is left."""

    left: int = 200_000

    def spend(self, steps: int = 1) -> None:
        """Count some steps."""
        self.left -= steps
        if self.left < 0:
            raise TooManyWaysError("the letters of this hand can be filled in too many ways")


def expand(
    lines: Sequence[Line],
    where: Sequence[Clause],
    season: str,
    jokers: int = COPIES[JOKER],
    work: StepsLeft | None = None,
) -> tuple[Variant, ...]:
    """All different variants of a hand that a set with so many jokers supplies, in a fixed order: by line, then by
    the values of the letters as they come up. The hand must have been checked: letters used in one way, known words,
    14 tiles a line. Raises TooManyWaysError when `work` runs out."""
    work = work or StepsLeft()
    uses = letter_uses([pattern for line in lines for pattern in line.patterns], where)
    seen: set[tuple[int, ...]] = set()
    found: list[Variant] = []
    known: dict[int, Group] = {}

    def keep(codes: list[int]) -> None:
        key = tuple(sorted(codes))
        if key in seen:
            return
        seen.add(key)
        work.spend(_VARIANT_STEPS)
        for code in key:
            if code not in known:
                known[code] = Group(*divmod(code, SCALE))
        variant = Variant(tuple(known[code] for code in codes))
        if variant.suppliable(jokers):
            found.append(variant)

    for line in lines:
        _try_all(line.patterns, where, uses, season, work, keep)
    return tuple(found)


class _Found(Exception):  # noqa: N818 (nothing is wrong)
    """A way was found: no more are wanted."""


def first_way(
    patterns: Sequence[Pattern], where: Sequence[Clause], season: str, work: StepsLeft
) -> tuple[Group, ...] | None:
    """The groups of one line with the first letters' values that its clauses allow; None where there are none.

    The line may be unfinished: its tiles are not counted, and the set need not supply them. Each of its letters must be
    used in one way. Raises TooManyWaysError when `work` runs out.
    """
    found: list[int] = []

    def take(codes: list[int]) -> None:
        found.extend(codes)
        raise _Found

    with suppress(_Found):
        _try_all(patterns, where, letter_uses(patterns, where), season, work, take)
        return None
    return tuple(Group(*divmod(code, SCALE)) for code in found)


def why_none(lines: Sequence[Line], where: Sequence[Clause], season: str, jokers: int = COPIES[JOKER]) -> str:
    """Why a hand has no variant, in one sentence that ends with what to do."""
    uses = letter_uses([pattern for line in lines for pattern in line.patterns], where)
    ways: list[list[int]] = []
    for line in lines:
        _try_all(line.patterns, where, uses, season, StepsLeft(), ways.append)
    if ways:
        shortage = _shortage([Group(*divmod(code, SCALE)) for code in ways[0]], jokers)
        return f"the set can't supply this hand: {shortage}; make a group smaller or change its tile"
    for letter, use in uses.items():
        if use == RANK and not any(ranks_allowed(line.patterns, where, letter) for line in lines):
            return (
                f"no value of {letter} keeps its numbers in 1 to 9 and its clauses true; change an offset or a clause"
            )
    return "no choice of letters makes all its clauses true; ease or take out a clause"


def _shortage(groups: Sequence[Group], jokers: int) -> str:
    for kind in sorted({group.kind for group in groups}):
        real = sum(group.size for group in groups if group.kind == kind and not group.takes_jokers)
        if real > COPIES[kind]:
            return (
                f"its singles and pairs take {real} tiles {tile_name(kind)} and the set holds {COPIES[kind]}, "
                "which no joker can stand in for"
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


def _try_all(
    patterns: Sequence[Pattern],
    where: Sequence[Clause],
    uses: Mapping[str, str],
    season: str,
    work: StepsLeft,
    take: Callable[[list[int]], None],
) -> None:
    """Give `take` the groups of every assignment of one line, as numbers in sheet order."""
    here = list(dict.fromkeys(letter for pattern in patterns for letter, _ in pattern.letters))
    suits = [letter for letter in here if uses[letter] == SUIT]
    bound = {letter for clause in where if len(variables(clause)) > 1 for letter in variables(clause)}
    shown = sorted((letter for letter in here if uses[letter] != SUIT), key=lambda letter: letter not in bound)
    hidden = [letter for letter in uses if uses[letter] != SUIT and letter not in here]
    order = [*shown, *hidden]
    domains = [_domain(letter, uses[letter], patterns, where) for letter in order]
    due: list[list[Clause]] = [[] for _ in order]  # a clause is judged as soon as its last letter has a value
    for clause in where:
        if len(variables(clause)) > 1:  # the others have narrowed the domains
            due[max(order.index(letter) for letter in variables(clause))].append(clause)
    atoms = [atom for pattern in patterns for atom in _atoms(pattern, season)]
    places = [shown.index(atom.variable) if atom.variable else -1 for atom in atoms]
    rows = [
        [
            (atom.code + (atom.stride * chosen[suits.index(atom.suit)] if atom.suit else 0), place)
            for atom, place in zip(atoms, places, strict=True)
        ]
        for chosen in permutations(range(len(SUITS)), len(suits))
    ]
    values: dict[str, int] = {}

    def satisfiable(depth: int) -> bool:
        """Whether the hidden letters from here on have values that make the clauses true."""
        if depth == len(order):
            return True
        for value in domains[depth]:
            work.spend(1 + len(due[depth]))
            values[order[depth]] = value
            if all(holds(clause, values) for clause in due[depth]) and satisfiable(depth + 1):
                return True
        return False

    def fill(depth: int) -> None:
        if depth < len(shown):
            for value in domains[depth]:
                work.spend(1 + len(due[depth]))
                values[order[depth]] = value
                if all(holds(clause, values) for clause in due[depth]):
                    fill(depth + 1)
        elif satisfiable(depth):
            work.spend(len(rows))
            filled = [*(values[letter] for letter in shown), 0]  # the last one serves atoms without a variable
            for row in rows:
                take([code + filled[place] for code, place in row])

    fill(0)


def _domain(letter: str, use: str, patterns: Sequence[Pattern], where: Sequence[Clause]) -> tuple[int, ...]:
    """What a letter may stand for: ranks, or indices of winds or dragons."""
    if use == WIND:
        return tuple(range(len(WIND_NAMES)))
    if use == DRAGON:
        return tuple(range(len(DRAGON_NAMES)))
    return ranks_allowed(patterns, where, letter)


@dataclass(frozen=True)
class _Atom:
    """One group as a sum: its number is code + stride * (index of the suit letter) + (value of the variable)."""

    code: int
    suit: str = ""
    stride: int = 0
    variable: str = ""


def _atoms(pattern: Pattern, season: str) -> list[_Atom]:
    """The groups that a pattern stands for."""
    base = SCALE * pattern.size
    match pattern.tile:
        case Number(suit=suit, variable=variable, offset=offset):
            return [_numbered(base + offset - 1, suit, variable or "")]
        case Wind(name=name):
            known = name in WIND_NAMES
            return [_Atom(base + WINDS[WIND_NAMES.index(name) if known else 0], variable="" if known else name)]
        case Dragon(name=name):
            known = name in DRAGON_NAMES
            return [_Atom(base + DRAGONS[DRAGON_NAMES.index(name) if known else 0], variable="" if known else name)]
        case DragonOf(suit=suit) if suit in SUIT_LETTERS:
            return [_Atom(base + dragon_of(0), suit, dragon_of(1) - dragon_of(0))]
        case DragonOf(suit=suit):
            return [_Atom(base + dragon_of(SUITS.index(suit)))]
        case Flower():
            return [_Atom(base + FLOWER)]
        case Zero():
            return [_Atom(base + WHITE)]
        case EachWind():
            return [_Atom(base + kind) for kind in WINDS]
        case EachDragon():
            return [_Atom(base + kind) for kind in DRAGONS]
        case Season(suit=suit):
            digits = [int(digit) for digit in season]
            return [_numbered(base + digit - 1, suit, "") if digit else _Atom(base + WHITE) for digit in digits]


def _numbered(code: int, suit: str, variable: str) -> _Atom:
    stride = number(1, 1) - number(0, 1)
    if suit in SUIT_LETTERS:
        return _Atom(code, suit, stride, variable)
    return _Atom(code + stride * SUITS.index(suit), variable=variable)
