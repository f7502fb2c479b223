"""No hand that a draft may take has a shape that printed sheets come back to, as counted here from its variants alone.

Which shapes these are is common practice, no source. `engine.invent.shapes` looks at how a hand is written; this looks
at the tiles that it comes to, so that neither can hide a fault of the other.
"""

from collections import Counter

import pytest

from engine.invent.dice import Dice
from engine.invent.draft import own
from engine.invent.idea import idea_of
from engine.invent.themes import SMALL, THEMES
from engine.sheet.groups import Group
from engine.tiles import DRAGONS, FLOWER, WINDS, rank_of

DRAFTS = 200
SEASON = "2731"
"""Without a zero, which would be a dragon."""


def never(groups, where, season):
    """The shape that a laid hand must never have; nothing where it has none. `season`: whether the season's digits
    stand in it."""
    sizes = [group.size for group in groups]
    flowers = any(group.kind == FLOWER for group in groups)
    winds = [group for group in groups if group.kind in WINDS]
    dragons = [group for group in groups if group.kind in DRAGONS]
    numbers = [(group.size, rank_of(group.kind)) for group in groups if rank_of(group.kind)]
    kongs = [rank for size, rank in numbers if size == 4]
    like_kongs = max(Counter(kongs).values(), default=0)
    large = Counter(size for size, _ in numbers if size >= 3)
    found = {
        "three kongs and a pair": sorted(sizes) == [2, 4, 4, 4],
        "threes and fours": set(sizes) <= {3, 4},
        "two, three, four, three, two": sizes == [2, 3, 4, 3, 2]
        or [size for size, _ in sorted(numbers, key=lambda one: one[1])] == [2, 3, 4, 3, 2],
        "four winds with dragons": len({group.kind for group in winds}) == 4 and bool(dragons),
        "winds around two like kongs": len(winds) >= 2 and like_kongs >= 2,
        "a sum of kongs with flowers": ("+" in where or "*" in where) and flowers and len(kongs) >= 2,
        "a season with two equal groups and flowers": season and flowers and max(large.values(), default=0) >= 2,
        "seven pairs": set(sizes) == {2},
    }
    return [name for name, there in found.items() if there]


@pytest.mark.parametrize(
    ("groups", "where", "season", "said"),
    [
        ([(4, 0), (4, 10), (4, 22), (2, FLOWER)], "", False, "three kongs and a pair"),
        ([(3, WINDS[0]), (4, 0), (3, WINDS[1]), (4, 3)], "", False, "threes and fours"),
        ([(4, 9), (3, 1), (2, 0), (3, 2), (2, 12)], "", False, None),
        ([(2, 0), (3, 10), (2, 22), (4, 2), (3, 3)], "", False, "two, three, four, three, two"),
        ([(3, 1), (2, 0), (4, 2), (2, 4), (3, 3)], "", False, "two, three, four, three, two"),
        ([(1, 0), (3, WINDS[2]), (4, 4), (4, 13), (2, WINDS[3])], "", False, "winds around two like kongs"),
        ([(4, 0), (4, 10), (5, 20), (1, FLOWER)], "x + y = z", False, "a sum of kongs with flowers"),
        ([(2, kind) for kind in range(7)], "", False, "seven pairs"),
    ],
)
def test_the_finder_finds(groups, where, season, said):
    """Each shape by its name, and no shape in hands that only come near one."""
    found = never([Group(size, kind) for size, kind in groups], where, season)
    assert (said in found) if said else not found


@pytest.mark.slow
def test_two_hundred_drafts_never_fall_into_them():
    """One hand of every theme for each of 200 seeds, of those that a draft may take."""
    looked = 0
    for seed in range(DRAFTS):
        dice = Dice(seed)
        for theme in (*THEMES, SMALL):
            groups, where = theme.throw(dice, SEASON)
            idea = idea_of(SEASON, where, theme is SMALL, groups) if groups else None
            if idea is None or not own(idea):
                continue
            looked += 1
            for variant in (idea.variants[0], idea.variants[-1]):
                assert never(variant.groups, where, "season" in groups) == [], f"{groups}; {where}"
    assert looked > 800
