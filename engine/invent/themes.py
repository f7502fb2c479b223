"""What sections are about: for each theme a sentence, and a way to throw up hands that fit it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from engine.invent.dice import Dice
from engine.sheet.groups import HAND_TILES, size_name
from engine.tiles import WIND_NAMES

Texts = tuple[str, str]
"""Groups and clauses, as the notation writes them."""


@dataclass(frozen=True)
class Theme:
    """What the hands of a section have in common."""

    sentence: str
    throw: Callable[[Dice, str], Texts]
    """Throws up a hand for a season. It need not come to 14 tiles: what doesn't fit is thrown again."""
    always: bool = False
    """Whether every sheet has a section of it."""
    flowers: bool = False
    """Whether all its hands take flowers."""


_OFTEN = (1, 2, 2, 3, 3, 3, 3, 4, 4, 5)
"""Sizes of groups, as often as they come up."""
_LARGEST = 6
_SMALL = (1, 1, 2)
_GAPS = (
    (0, 2, 3),
    (0, 1, 3),
    (0, 2, 5),
    (0, 3, 4),
    (0, 1, 3, 4),
    (0, 2, 3, 5),
    (0, 1, 4, 5),
    (0, 3, 5),
    (0, 4),
    (0, 5),
)
_SUITS = {
    1: ("a",),
    2: ("aa", "ab"),
    3: ("aaa", "aab", "abb", "aba", "abc"),
    4: ("aabb", "abab", "abba", "aabc", "abbc", "abca"),
    5: ("aabbb", "aaabb", "ababa", "aabbc", "abcba"),
}
"""How suits follow each other along a row of numbers."""
_LIMITS = ("", "", "", "n odd", "n even", "n in 2..5", "n in 3..6")


def _number(size: int, suit: str, offset: int, letter: str = "n") -> str:
    return f"{size_name(size)} {suit}.{letter}{offset:+d}" if offset else f"{size_name(size)} {suit}.{letter}"


def _fixed(size: int, suit: str, rank: int) -> str:
    return f"{size_name(size)} {suit}.{rank}"


def _sizes(dice: Dice, parts: int, of: Sequence[int] = _OFTEN) -> list[int]:
    return [dice.pick(of) for _ in range(parts)]


def _row(dice: Dice, offsets: Sequence[int], sizes: Sequence[int], suits: str | None = None) -> list[str]:
    """A row of numbers, one group for each offset."""
    suits = suits or dice.pick(_SUITS[len(offsets)])
    return [_number(size, suit, offset) for size, suit, offset in zip(sizes, suits, offsets, strict=True)]


def _rest(dice: Dice, left: int) -> list[str]:
    """Something that fills up what is left of 14 tiles: flowers, a dragon, or, where four are left, the four winds."""
    if not 1 <= left <= 6:
        return []
    size = size_name(left)
    if left == 4:  # the four winds seldom: they have a section of their own
        way = dice.below(10)
        if way == 0:
            return ["single each wind"]
        if way < 6:
            return dice.shuffled([f"pair dragon of {dice.pick('abc')}", "pair flower"])
        if way < 8:
            return [f"kong dragon of {dice.pick('abc')}"]
    if 2 <= left <= 3 and dice.once_in(2):
        return [f"{size} dragon of {dice.pick('abc')}"]
    if left == 5 and dice.once_in(2):
        return dice.shuffled(["pair flower", f"pung dragon of {dice.pick('abc')}"])
    if left == 6 and dice.once_in(2):
        return ["kong flower", f"pair dragon of {dice.pick('abc')}"]
    return [f"{size} flower"]


def _filled(dice: Dice, groups: list[str], tiles: int, where: str = "") -> Texts:
    """The groups with the rest at a random place among them."""
    rest = _rest(dice, HAND_TILES - tiles)
    place = dice.below(len(groups) + 1)
    return ", ".join([*groups[:place], *rest, *groups[place:]]), where


def _stairs(dice: Dice, _: str) -> Texts:
    steps = dice.pick((3, 3, 4, 4, 5))
    sizes = _sizes(dice, steps)
    return _filled(dice, _row(dice, range(steps), sizes), sum(sizes), dice.pick(_LIMITS))


def _gaps(dice: Dice, _: str) -> Texts:
    offsets = dice.pick(_GAPS)
    sizes = _sizes(dice, len(offsets))
    return _filled(dice, _row(dice, offsets, sizes), sum(sizes), dice.pick(_LIMITS))


def _crossing(dice: Dice, _: str) -> Texts:
    step = dice.pick((1, 2, 3, 4))
    one, other = _sizes(dice, 2), _sizes(dice, 2)
    groups = [*_row(dice, (0, step), one, "aa"), *_row(dice, (0, step), other, "bb")]
    return _filled(dice, groups, sum(one) + sum(other), dice.pick(_LIMITS))


def _one_number(dice: Dice, _: str) -> Texts:
    sizes = _sizes(dice, 3)
    groups = [_number(size, suit, 0) for size, suit in zip(sizes, "abc", strict=True)]
    tiles = sum(sizes)
    if dice.once_in(2):
        size = dice.pick(_OFTEN)
        groups.append(_number(size, dice.pick("abc"), dice.pick((-2, -1, 1, 2, 3))))
        tiles += size
    return _filled(dice, groups, tiles, dice.pick(_LIMITS))


def _sums(dice: Dice, _: str) -> Texts:
    sizes = _sizes(dice, 3)
    suits = dice.pick(_SUITS[3])
    sign, limits = dice.pick(
        (("+", "x < y"), ("+", "x < y; z in 5..9"), ("*", "x in 2..4; y in 2..4"), ("+", "z even"))
    )
    groups = [f"{size_name(size)} {suit}.{letter}" for size, suit, letter in zip(sizes, suits, "xyz", strict=True)]
    return _filled(dice, groups, sum(sizes), f"x {sign} y = z; {limits}")


def _partners(dice: Dice, _: str) -> Texts:
    total = dice.pick((6, 8, 9, 10, 11, 12))
    sizes = _sizes(dice, dice.pick((2, 3, 4)))
    letters = "xyxy"[: len(sizes)]
    suits = dice.pick(("aabb", "abba", "abab", "abca"))[: len(sizes)]
    groups = [f"{size_name(size)} {suit}.{letter}" for size, suit, letter in zip(sizes, suits, letters, strict=True)]
    tiles = sum(sizes)
    if total < 10 and dice.once_in(2):
        size = dice.pick(_OFTEN)
        groups.insert(1, _fixed(size, "c", total))
        tiles += size
    return _filled(dice, groups, tiles, f"x + y = {total}" + dice.pick(("; x < y", "")))


_LARGE = (
    (6, 5, 3), (6, 6, 2), (5, 5, 4), (5, 6, 2, 1), (5, 5, 3, 1), (6, 4, 3, 1), (6, 3, 3, 2), (6, 4, 2, 2),
    (5, 4, 3, 2), (5, 5, 2, 2), (5, 3, 3, 3), (5, 3, 3, 2, 1), (6, 3, 2, 2, 1),
)  # fmt: skip
"""Sizes that come to fourteen with a quint or a sextet among them."""
_ROWS = (
    (1, 4, 9),
    (1, 3, 6),
    (1, 2, 4, 8),
    (2, 3, 5, 7),
    (2, 3, 5, 8),
    (1, 3, 4, 7),
    (2, 5, 8),
    (3, 6, 8),
    (2, 4, 7),
    (1, 5, 6),
)
"""Squares, triangles, doublings, primes, each the sum of the two before, and some that only look well."""


def _known_numbers(dice: Dice, _: str) -> Texts:
    row = dice.pick(_ROWS)
    sizes = _sizes(dice, len(row))
    suits = dice.pick(_SUITS[len(row)])
    groups = [_fixed(size, suit, rank) for size, suit, rank in zip(sizes, suits, row, strict=True)]
    return _filled(dice, groups, sum(sizes))


def _flowers(dice: Dice, _: str) -> Texts:
    flowers = dice.pick((4, 5, 5, 6, 6))
    offsets = dice.pick((*_GAPS, (0, 1), (0, 1, 2)))
    sizes = _sizes(dice, len(offsets))
    groups = _row(dice, offsets, sizes)
    groups.insert(dice.below(len(groups) + 1), f"{size_name(flowers)} flower")
    left = HAND_TILES - flowers - sum(sizes)
    if 2 <= left <= 4:
        groups.append(f"{size_name(left)} dragon of {dice.pick('abc')}")
    elif left == 1:
        groups.append(f"single wind {dice.pick(WIND_NAMES)}")
    return ", ".join(groups), dice.pick(_LIMITS)


def _winds(dice: Dice, _: str) -> Texts:
    offsets = dice.pick((*_GAPS, (0, 1), (0, 1, 2)))
    sizes = _sizes(dice, len(offsets))
    groups = _row(dice, offsets, sizes)
    left = HAND_TILES - sum(sizes)
    if left == 4 or (left == 6 and dice.once_in(2)):
        return ", ".join(
            [*dice.shuffled(["single each wind", *(["pair flower"] if left == 6 else [])]), *groups]
        ), dice.pick(_LIMITS)
    one, other = dice.shuffled(WIND_NAMES)[:2]
    return _between(dice, groups, left, (1, 2, 3, 3, 4), f"wind {one}", f"wind {other}"), dice.pick(_LIMITS)


def _between(dice: Dice, groups: list[str], left: int, firsts: Sequence[int], one: str, other: str) -> str:
    """The groups between a group of one tile and one of another, often with flowers before the last, so that all comes
    to `left` tiles more; nothing where it can't."""
    first = dice.pick(firsts)
    flowers = dice.pick((0, 0, 1, 2, 3))
    last = left - first - flowers
    if not 0 <= last <= _LARGEST:
        return ""
    around = [f"{size_name(first)} {one}", *groups]
    if flowers:
        around.append(f"{size_name(flowers)} flower")
    if last:
        around.append(f"{size_name(last)} {other}")
    return ", ".join(around)


def _dragons(dice: Dice, _: str) -> Texts:
    offsets = dice.pick((*_GAPS, (0, 1), (0, 1, 2)))
    sizes = _sizes(dice, len(offsets))
    groups = _row(dice, offsets, sizes)
    left = HAND_TILES - sum(sizes)
    if left in (3, 6, 9) and dice.once_in(2):
        return ", ".join([f"{size_name(left // 3)} each dragon", *groups]), dice.pick(_LIMITS)
    other = f"dragon of {dice.pick('bc')}"
    return _between(dice, groups, left, (2, 3, 3, 4, 5), "dragon of a", other), dice.pick(_LIMITS)


def _season(dice: Dice, season: str) -> Texts:
    offsets = dice.pick(((0,), (0, 1), (0, 2), (0, 3), (0, 1, 3), (0, 2, 3)))
    sizes = _sizes(dice, len(offsets))
    suits = dice.pick(("bcb", "bbc", "abc", "cba", "bca", "acb"))[: len(offsets)]
    groups = ["single season a", *_row(dice, offsets, sizes, suits)]
    return _filled(dice, groups, len(season) + sum(sizes), dice.pick(_LIMITS))


def _mirrors(dice: Dice, _: str) -> Texts:
    offsets = dice.pick(((0, 1), (0, 2), (0, 3), (0, 1, 2), (0, 1, 3), (0, 2, 3)))
    sizes = _sizes(dice, len(offsets), (1, 1, 2, 2, 3, 3, 4))
    left = HAND_TILES - 2 * sum(sizes)
    middle = [f"{size_name(left)} {dice.pick(('flower', 'dragon of c'))}"] if 1 <= left <= 6 else []
    there = _row(dice, offsets, sizes, "a" * len(offsets))
    back = _row(dice, offsets, sizes, "b" * len(offsets))[::-1]
    return ", ".join([*there, *middle, *back]), dice.pick(_LIMITS)


def _large(dice: Dice, _: str) -> Texts:
    sizes = dice.shuffled(dice.pick(_LARGE))
    kinds = dice.shuffled(dice.pick((["flower"], ["dragon of a"], ["flower", "dragon of a"])))
    left = len(sizes) - len(kinds)
    if left > 3:
        return "", ""
    offsets = dice.shuffled((0, 0, 1, 2, 3))[:left]
    groups = _row(dice, offsets, sizes[len(kinds) :], dice.pick(("abc", "abb", "aab", "bab"))[:left])
    honours = [f"{size_name(size)} {kind}" for size, kind in zip(sizes, kinds, strict=False)]
    return ", ".join([*groups, *honours]), dice.pick(_LIMITS)


def _parity(dice: Dice, _: str) -> Texts:
    offsets = dice.pick(((0, 2), (0, 2, 4), (0, 4), (0, 2, 6), (0, 4, 6), (0, 6)))
    sizes = _sizes(dice, len(offsets))
    return _filled(dice, _row(dice, offsets, sizes), sum(sizes), dice.pick(("n odd", "n even")))


def _far_apart(dice: Dice, _: str) -> Texts:
    sizes = _sizes(dice, dice.pick((2, 3, 3, 4)))
    letters = dice.pick(("xyxy", "xxyy", "xyyx"))[: len(sizes)]
    suits = dice.pick(("abba", "aabb", "abca", "abcb"))[: len(sizes)]
    steps = [dice.pick((0, 0, 1)) if letter == "x" else dice.pick((0, 0, -1)) for letter in letters]
    groups = [
        _number(size, suit, step, letter) for size, suit, step, letter in zip(sizes, suits, steps, letters, strict=True)
    ]
    return _filled(dice, groups, sum(sizes), "x in 1..3; y in 7..9")


_HONOURS: tuple[list[str], ...] = (
    ["pair flower"], ["single each dragon"], ["single each wind"], ["pair flower", "single each dragon"],
    ["pair flower", "single each wind"], ["pair dragon of c", "pair flower"], [],
)  # fmt: skip


def _small(dice: Dice, _: str) -> Texts:
    """Singles and pairs only; any theme may have one."""
    offsets = dice.pick(((0, 1, 2), (0, 1, 3), (0, 2, 3), (0, 1, 2, 3), (0, 2, 4), (0, 3)))
    suits = dice.pick(("ab", "ab", "abc"))
    groups: list[str] = []
    tiles = 0
    for suit in suits:
        sizes = _sizes(dice, len(offsets), _SMALL)
        groups += _row(dice, offsets, sizes, suit * len(offsets))
        tiles += sum(sizes)
    honours = dice.pick(_HONOURS)
    place = dice.below(len(groups) + 1)
    return ", ".join([*groups[:place], *honours, *groups[place:]]), dice.pick(_LIMITS)


SMALL = Theme("Singles and pairs, which no joker helps.", _small)
THEMES = (
    Theme("Numbers next to each other, in groups of unequal sizes.", _stairs),
    Theme("Numbers with gaps between them.", _gaps),
    Theme("The same two numbers meet in two suits.", _crossing),
    Theme("One number in all three suits.", _one_number),
    Theme("Two numbers and what they make, added or multiplied.", _sums),
    Theme("Two numbers that are partners, as they come to a given sum.", _partners),
    Theme("Numbers that stay as they are: squares, triangles, doublings and other rows.", _known_numbers),
    Theme("Flowers, four, five or six at a time.", _flowers, always=True, flowers=True),
    Theme("The winds, alone or one against another.", _winds, always=True),
    Theme("The dragons, and the suits that they go with.", _dragons, always=True),
    Theme("The digits of the season.", _season, always=True),
    Theme("What is laid in one suit comes back in another, turned round.", _mirrors),
    Theme("Large groups, for those who hold jokers.", _large),
    Theme("Odd numbers alone, or even ones alone.", _parity),
    Theme("A low number and a high one, far apart.", _far_apart),
)
