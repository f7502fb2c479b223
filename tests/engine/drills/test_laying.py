"""Lay a hand: right ones are right whatever their order, and what is off is named."""

import random
from collections import Counter

import pytest

from engine.drills.grades import Grade
from engine.drills.laying import LayTask, Off, Stage, accepted_for, judge, lay_task
from engine.drills.racks import rack_near, tiles_of
from engine.rules.matching import match
from engine.sheet.groups import Group, Variant
from engine.sheet.shelf import find, shipped
from engine.tiles import JOKER, counts_of, parse_tiles

SHEETS = [find(stem) for stem in shipped()]


def laid(text):
    """Groups written as `5d 5d 5d, jk 2b 2b`."""
    return [parse_tiles(group) for group in text.split(",")]


def as_laid(variant, tiles):
    """Loose tiles laid as a variant, real tiles first where no joker may stand."""
    left = Counter(tiles)
    groups = {}
    for place in sorted(range(len(variant.groups)), key=lambda place: variant.groups[place].takes_jokers):
        group = variant.groups[place]
        real = min(group.size, left[group.kind])
        left[group.kind] -= real
        left[JOKER] -= group.size - real
        groups[place] = [group.kind] * real + [JOKER] * (group.size - real)
    return list(groups.values())


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)
def test_loose_tiles_make_the_hand(sheet):
    """Fourteen tiles that the rules call that hand or one with as many points, and laying them is right."""
    chance = random.Random(5)
    for hand in sheet.hands:
        task = lay_task(hand, Stage.LOOSE, chance)
        assert len(task.tiles) == 14
        assert match(sheet, counts_of(task.tiles)) is not None
        assert any(judge(task, as_laid(variant, task.tiles)).grade is Grade.RIGHT for variant in task.accepted)


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)
def test_every_variant_laid_is_right_and_every_change_is_off(sheet):
    """In any order of groups; with one tile exchanged for another kind it is not."""
    chance = random.Random(6)
    for hand in sheet.hands:
        task = lay_task(hand, Stage.MEMORY, chance)
        variant = hand.variants[int(chance.random() * len(hand.variants))]
        groups = [[group.kind] * group.size for group in reversed(variant.groups)]
        assert judge(task, groups).off == ()
        place = int(chance.random() * len(groups))
        other = next(kind for kind in range(JOKER) if variant.total[kind] == 0)
        groups[place] = [*groups[place][1:], other]
        judged = judge(LayTask(hand, Stage.MEMORY, (), (variant,)), groups)
        assert [one.place for one in judged.off] == [place]
        assert judged.grade is Grade.NEAR


TASK = LayTask(find("first-steps").hands[0], Stage.MEMORY, (), find("first-steps").hands[0].variants)


def one_variant(text):
    """A task whose only variant is the given groups."""
    variant = Variant(tuple(Group(len(tiles), tiles[0]) for tiles in laid(text)))
    return LayTask(TASK.hand, Stage.MEMORY, (), (variant,))


@pytest.mark.parametrize(
    ("given", "off"),
    [
        ("5d 5d jk jk jk, 2b 2b 2b, we we we we, fl fl", []),
        ("5d 5d 5d 5d, 2b 2b 2b 2b, we we we we, fl fl", [(0, Off.SIZE), (1, Off.SIZE)]),
        ("5d 5d 5d 5d 5d, 3b 3b 3b, we we we we, fl fl", [(1, Off.TILE)]),
        ("5d 5d 5d 5d 5d, 2b 2b 2b, we we we we, fl jk", [(3, Off.JOKER)]),
        ("5d 5d 5d 5d 5d, 2b 2b 3b, we we we we, fl fl", [(1, Off.MIXED)]),
        ("5d 5d 5d 5d 5d, 2b 2b 2b, we we we we", [(None, Off.MISSING)]),
        ("5d 5d 5d 5d 5d, 2b 2b 2b, we we we we, fl fl, dr", [(4, Off.EXTRA)]),
        ("5d 5d 5d 5d 5d, 2b 2b 2b, dg dg dg, fl fl", [(2, Off.GROUP)]),
    ],
)
def test_what_is_off_is_named(given, off):
    """Size, tile, a joker in a pair, mixed tiles, a missing group, one too many."""
    judged = judge(one_variant("5d 5d 5d 5d 5d, 2b 2b 2b, we we we we, fl fl"), laid(given))
    assert [(one.place, one.off) for one in judged.off] == off
    assert judged.grade is (Grade.RIGHT, Grade.NEAR, Grade.WRONG)[min(len(off), 2)]


def test_another_variant_is_one_not_laid_before():
    """With all laid, loose tiles are given instead."""
    hand = find("first-steps").hands[0]
    task = lay_task(hand, Stage.ANOTHER, random.Random(1), hand.variants[:-1])
    assert task.accepted == hand.variants[-1:]
    assert lay_task(hand, Stage.ANOTHER, random.Random(1), hand.variants).stage is Stage.LOOSE


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)
def test_a_forced_tile_tells_variants_apart(sheet):
    """All accepted variants use it, and no other variant of the hand does."""
    for seed, hand in enumerate(sheet.hands):
        task = lay_task(hand, Stage.FORCED, random.Random(seed))
        if task.forced is None:
            assert len({variant.total for variant in hand.variants}) == 1 or task.stage is Stage.LOOSE
            continue
        uses = [variant for variant in hand.variants if variant.total[task.forced]]
        assert task.accepted == tuple(uses)
        assert len(uses) < len(hand.variants)


def test_racks_near_a_hand_are_near_it():
    """Thirteen tiles, none more often than the set holds, and no more missing than was asked for."""
    chance = random.Random(2)
    for hand in find("lantern-street").hands:
        variant = hand.variants[0]
        rack = rack_near(variant, 4, chance)
        assert len(rack) == 13
        served = sum(min(count, need) for count, need in zip(counts_of(rack), variant.total, strict=True))
        assert served + counts_of(rack)[JOKER] >= 10
        assert accepted_for(hand, tiles_of(variant, 0, chance))
