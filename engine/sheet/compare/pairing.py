"""Which hand of one sheet is which hand of another: found by what the hands are, whatever they are called."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Callable, Sequence

from engine.sheet.groups import Group
from engine.sheet.likeness import Coder, Forms, Moved, forms_of
from engine.sheet.model import Hand

ONE_CHANGE = 16
"""The least likeness (`Forms.alike`, 0 to 28) of a hand with itself after one change: a sextet that became other tiles
leaves 16, a kong 20."""
OTHER_LIMITS = 20
"""The least likeness where some forms are the same and only the limits of the letters differ."""
SAME_NAME = 14
"""The least likeness of two hands with the same name, whatever has changed: half of the hand. Here alone the name
decides. Between hands of two sheets that have nothing to do with one another a likeness up to 24 comes up, so that
without one change that explains it, or the name, it says nothing."""
_MOST_FORMS = 0.9
"""The share of the forms of both hands in which one change is enough to tell them apart."""

Key = frozenset[tuple[Group, ...]]


def ways(hand: Hand) -> Key:
    """What a hand is: the set of its variants, whatever its name, its letters and the order of its groups."""
    return frozenset(variant.key for variant in hand.variants)


def _no_pause() -> None:
    return None


def pairs(old: Sequence[Hand], new: Sequence[Hand], pause: Callable[[], None] = _no_pause) -> list[tuple[int, int]]:
    """Places of the hands that are one, in the order of the old ones: first those with the same variants, then
    those that have most in common, so that the sum over all pairs is the greatest. Exchanging the sheets exchanges
    the places. `pause` is called every few milliseconds."""
    if [_order(hand) for hand in new] < [_order(hand) for hand in old]:  # one order, so that ties fall alike
        return sorted((mine, theirs) for theirs, mine in pairs(new, old, pause))
    found = _same(old, new)
    rest_old = [place for place in range(len(old)) if place not in {mine for mine, _ in found}]
    rest_new = [place for place in range(len(new)) if place not in {theirs for _, theirs in found}]
    coder = Coder()
    forms_old = forms_of((old[place] for place in rest_old), coder)
    forms_new = forms_of((new[place] for place in rest_new), coder)
    worth = []
    for mine in forms_old:
        pause()
        worth.append([_worth(mine, theirs) for theirs in forms_new])
    found += [(rest_old[mine], rest_new[theirs]) for mine, theirs in best_pairs(worth) if worth[mine][theirs] > 0]
    return sorted(found)


def _order(hand: Hand) -> tuple[str, str, int, bool]:
    return (hand.name, ";".join(line.text for line in hand.lines) + hand.where_text, hand.points, hand.concealed)


def _same(old: Sequence[Hand], new: Sequence[Hand]) -> list[tuple[int, int]]:
    """Hands with the same variants. Where a sheet has several such hands, those that differ least go together."""
    theirs_by_key: dict[Key, list[int]] = defaultdict(list)
    for place, hand in enumerate(new):
        theirs_by_key[ways(hand)].append(place)
    mine_by_key: dict[Key, list[int]] = defaultdict(list)
    for place, hand in enumerate(old):
        if ways(hand) in theirs_by_key:
            mine_by_key[ways(hand)].append(place)
    found = []
    for key, mine in mine_by_key.items():
        theirs = theirs_by_key[key]
        worth = [[1 + _same_sides(old[one], new[other]) for other in theirs] for one in mine]
        found += [(mine[one], theirs[other]) for one, other in best_pairs(worth)]
    return found


def _same_sides(one: Hand, other: Hand) -> float:
    """What decides between hands that are equally near: how they are held, their points, their name; 0 to 0.7."""
    return (
        0.4 * (one.concealed == other.concealed) + 0.2 * (one.points == other.points) + 0.1 * (one.name == other.name)
    )


def _worth(mine: Forms, theirs: Forms) -> float:
    """What it is worth to take two hands for one; nothing when they have too little in common."""
    same_name = mine.hand.name.casefold() == theirs.hand.name.casefold()
    least = SAME_NAME if same_name else ONE_CHANGE
    if mine.alike_at_most(theirs) < least:
        return 0.0
    alike = mine.alike(theirs)
    if alike >= least and (same_name or _one_change_apart(mine, theirs, alike)):
        return alike + _same_sides(mine.hand, theirs.hand)
    return 0.0


def _one_change_apart(mine: Forms, theirs: Forms, alike: float) -> bool:
    """Whether one change makes the one hand of the other: of a group, of two groups' sizes, or of the limits of the
    letters."""
    changes = _changes(mine, theirs)
    if alike >= OTHER_LIMITS and any(0 in row for row in changes):
        return True
    best = [min(row) for row in changes] + [min(column) for column in zip(*changes, strict=True)]
    near: int = sum(least <= 1 for least in best)
    return near >= _MOST_FORMS * len(best)


def _changes(mine: Forms, theirs: Forms) -> list[list[int]]:
    """For each form of mine and each of theirs the fewest changes between them, 2 for two or more."""
    found = [[2] * len(theirs.first) for _ in mine.first]
    for place, other, groups, their_groups in mine.moved_near(theirs, ONE_CHANGE):
        if found[place][other]:
            found[place][other] = min(found[place][other], _apart(groups, their_groups))
    return found


def _apart(groups: Moved, others: Moved) -> int:
    """Changes between two forms: 0 for none, 1 where one group is another or two groups have parted their tiles
    otherwise, 2 for more."""
    left = list((Counter(groups) - Counter(others)).elements())
    right = list((Counter(others) - Counter(groups)).elements())
    if not left and not right:
        return 0
    if len(left) == len(right) == 1:
        return 1
    exchanged = len(left) == len(right) == 2 and {place for _, place in left} == {place for _, place in right}
    return 1 if exchanged else 2


def best_pairs(worth: Sequence[Sequence[float]]) -> list[tuple[int, int]]:
    """The places (row, column) of a choice with the greatest sum, one to a row and one to a column, as many as the
    shorter side has. The assignment problem, by shortest augmenting paths (the Hungarian method, Kuhn 1955, in the
    form of Jonker and Volgenant 1987)."""
    if not worth or not worth[0]:
        return []
    if len(worth) > len(worth[0]):
        turned = [list(column) for column in zip(*worth, strict=True)]
        return sorted((row, column) for column, row in best_pairs(turned))
    rows, columns = len(worth), len(worth[0])
    row_price, column_price = [0.0] * (rows + 1), [0.0] * (columns + 1)
    row_of = [0] * (columns + 1)  # the row that holds a column; place 0 stands for "none" in rows and columns
    for row in range(1, rows + 1):
        row_of[0] = row
        least = [math.inf] * (columns + 1)
        before = [0] * (columns + 1)
        done = [False] * (columns + 1)
        column = 0
        while row_of[column]:
            done[column] = True
            here, step, following = row_of[column], math.inf, 0
            for other in range(1, columns + 1):
                if not done[other]:
                    cost = -worth[here - 1][other - 1] - row_price[here] - column_price[other]
                    if cost < least[other]:
                        least[other], before[other] = cost, column
                    if least[other] < step:
                        step, following = least[other], other
            for other in range(columns + 1):
                if done[other]:
                    row_price[row_of[other]] += step
                    column_price[other] -= step
                else:
                    least[other] -= step
            column = following
        while column:
            row_of[column] = row_of[before[column]]
            column = before[column]
    return sorted((row_of[column] - 1, column - 1) for column in range(1, columns + 1) if row_of[column])
