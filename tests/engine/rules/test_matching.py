"""Matching: the bit tables agree with laying out tile after tile, and the cases that a table argues about."""

from dataclasses import replace
from itertools import permutations

import pytest
from depth import deep
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.rules.matching import allows, index_of, match, still_allowed, worth
from engine.rules.state import Exposure
from engine.sheet.groups import Group, Variant
from engine.tiles import JOKER, counts_of, full_set, parse_tiles


def lay_out(groups, counts):
    """The slow way: fill one group after another with real tiles and jokers, trying every number of jokers."""
    if not groups:
        return sum(counts) == 0
    group, rest = groups[0], groups[1:]
    for jokers in range(group.size + 1 if group.takes_jokers else 1):
        if counts[group.kind] >= group.size - jokers and counts[JOKER] >= jokers:
            left = list(counts)
            left[group.kind] -= group.size - jokers
            left[JOKER] -= jokers
            if lay_out(rest, left):
                return True
    return False


def groups_left(variant, exposures):
    """Every way to take the exposures out of the variant's groups, one group for each."""
    for order in permutations(range(len(variant.groups)), len(exposures)):
        taken = [variant.groups[place] for place in order]
        if all(group == Group(one.size, one.kind) for group, one in zip(taken, exposures, strict=True)):
            yield [group for place, group in enumerate(variant.groups) if place not in order]


def slow_match(sheet, counts, exposures):
    """All (hand, variant) pairs that fit, found by trying everything."""
    return [
        (hand, variant)
        for hand in sheet.hands
        if not (hand.concealed and exposures)
        for variant in hand.variants
        if any(lay_out(groups, counts) for groups in groups_left(variant, exposures))
    ]


@st.composite
def shown_hands(draw, sheet):
    """A variant with jokers put in, some groups exposed, and sometimes a tile or an exposure spoilt."""
    hand = draw(st.sampled_from(sheet.hands))
    variant = draw(st.sampled_from(hand.variants))
    rack, exposures = [], []
    for group in variant.groups:
        most = group.size if group.takes_jokers else draw(st.sampled_from([0, 0, 0, 1]))
        jokers = min(most, draw(st.sampled_from([0, 0, 1, 2, 3])))
        if group.takes_jokers and draw(st.booleans()) and not (hand.concealed and draw(st.booleans())):
            exposures.append(Exposure(group.size, group.kind, min(jokers, group.size - 1)))
        else:
            rack += [group.kind] * (group.size - jokers) + [JOKER] * jokers
    spoilt = draw(st.sampled_from(["no", "no", "tile", "count", "size", "kind"]))
    if spoilt == "tile" and rack:
        rack[draw(st.integers(0, len(rack) - 1))] = draw(st.integers(0, 35))
    elif spoilt == "count" and rack:
        rack.pop()
    elif spoilt in ("size", "kind") and exposures:
        one = exposures.pop()
        size = draw(st.integers(3, 6)) if spoilt == "size" else one.size
        kind = draw(st.integers(0, 34)) if spoilt == "kind" else one.kind
        exposures.append(Exposure(size, kind, 0))
    return counts_of(rack), tuple(exposures)


@settings(max_examples=deep(150, 400), deadline=None)
@given(st.data())
@pytest.mark.slow
def test_the_bit_tables_agree_with_laying_out_tiles(kit, data):
    """`match` finds a hand exactly when the slow way does, and it is one of those that collect most."""
    counts, exposures = data.draw(shown_hands(kit.sheet))
    slow = slow_match(kit.sheet, counts, exposures)
    fast = match(kit.sheet, counts, exposures)
    assert (fast is not None) == bool(slow)
    if fast is not None:
        jokerless = counts[JOKER] + sum(one.jokers for one in exposures) == 0
        assert fast in slow
        shown = bool(exposures)
        assert worth(*fast, jokerless, shown) == max(worth(*pair, jokerless, shown) for pair in slow)


@settings(max_examples=200, deadline=None)
@given(st.data())
@pytest.mark.slow
def test_allowed_hands_agree_with_looking_at_every_variant(kit, data):
    """A variant is still allowed when the set can make it, its hand is open and each exposure finds a group of its
    own."""
    _, exposures = data.draw(shown_hands(kit.sheet))
    jokers = data.draw(st.sampled_from([0, 1, 2, 8, 10]))
    whole = full_set(jokers)
    slow = [
        (hand, variant)
        for hand in kit.sheet.hands
        for variant in hand.variants
        if laid_out_of(variant, whole)
        and (not exposures or (not hand.concealed and any(True for _ in groups_left(variant, exposures))))
    ]
    assert list(still_allowed(kit.sheet, exposures, jokers)) == slow
    assert allows(kit.sheet, exposures, jokers) == bool(slow)


def laid_out_of(variant, whole):
    """The slow way to see whether a set holds the tiles: lay out group after group, jokers where real ones lack."""
    left = list(whole)
    for group in sorted(variant.groups, key=lambda group: group.takes_jokers):
        real = min(group.size, left[group.kind])
        if real < group.size and not group.takes_jokers:
            return False
        left[group.kind] -= real
        left[JOKER] -= group.size - real
    return left[JOKER] >= 0


def found(kit, tiles, *exposures):
    """The name of the hand, or None."""
    pair = match(kit.sheet, counts_of(parse_tiles(tiles)), exposures)
    return pair[0].name if pair else None


WIDE = "2x3d 3x8d 4x5d 3x6d 2x7d"


@pytest.mark.parametrize(
    ("tiles", "name"),
    [
        (WIDE, "Landing"),
        ("2x3d 8d 2xjk 4x5d 3x6d 2x7d", "Landing"),
        ("2x3d 3xjk 4xjk jk 2x6d 2x7d", "Landing"),  # whole groups of jokers
        ("3d jk 3x8d 4x5d 3x6d 2x7d", None),  # a joker in a pair
        ("2x3d 3x8d 4x5d 3x6d 7d", None),  # thirteen tiles
        (WIDE + " 9b", None),  # fifteen
        ("we ws ww wn 3x2c 3x1d 4xfl", "Vane"),
        ("we ws ww wn 2c 2xjk 1d 2xjk 2xjk 2xfl", "Vane"),
        ("we ws ww jk 3x2c 3x1d 4xfl", None),  # a joker for a single
        ("2x2b 6b dw 4xwe jk 3xww 2xfl", "This season"),
        ("2b jk 6b dw 4xwe jk 3xww 2xfl", None),  # two 2s of the season are two singles
        ("4x5b 2xjk 4x5c jk 3x5d", "Echo"),  # a pair and a kong of one tile: two real ones for the pair
        ("2x5b 4xjk 4x5c jk 3x5d", "Echo"),
        ("4x3c 2xjk 2xdr 2xdw 4xfl", "Doubled"),  # two pungs of one tile
        ("6xfl 4x3c 2x3d 2x3b", "Bouquet"),
        ("4x1b jk 4xwe 4x2b jk", "Two fives"),
    ],
)
def test_fourteen_tiles_and_the_hand_they_make(kit, tiles, name):
    """Jokers fill groups of three or more, never a pair or a single."""
    assert found(kit, tiles) == name


def test_an_exposure_must_be_a_whole_group(kit):
    """Size and tile count, and an exposed group serves no other."""
    rest = "2x3d 3x8d 3x6d 2x7d"
    assert found(kit, rest, Exposure(4, 22)) == "Landing"
    assert found(kit, rest, Exposure(4, 22, 3)) == "Landing"
    assert found(kit, rest + " 5d", Exposure(3, 22)) is None
    assert found(kit, "2x3d 4x5d 3x6d 2x7d", Exposure(3, 25)) == "Landing"
    assert found(kit, "2x3d 4x5d 3x6d 2x7d", Exposure(3, 20)) is None


def test_two_exposures_alike_need_two_groups_alike(kit):
    """Twice a pung of the same tile fits only a hand that has it twice."""
    pung = Exposure(3, 11, 1)
    assert found(kit, "2xdr 2xdw 4xfl", pung, pung) == "Doubled"
    assert allows(kit.sheet, (pung, pung))
    assert not allows(kit.sheet, (pung, pung, pung))
    kong = Exposure(4, 11)
    assert not allows(kit.sheet, (kong, kong))


def test_an_exposed_kong_leaves_the_pair_of_the_same_tile_to_the_rack(kit):
    """Echo's pair must be real tiles of the rack, however many lie exposed."""
    kong = Exposure(4, 4, 2)
    assert found(kit, "2x5b 4x5c jk 3x5d", kong) == "Echo"
    assert found(kit, "5b jk 4x5c jk 3x5d", kong) is None


def test_a_concealed_hand_takes_no_exposure(kit):
    """The same tiles with one group exposed are no hand."""
    assert found(kit, "we ws ww wn 3x2c 3x1d 4xfl") == "Vane"
    assert found(kit, "we ws ww wn 3x2c 3x1d", Exposure(4, 34)) is None
    assert not allows(kit.sheet, (Exposure(3, 10),))


def test_of_several_hands_the_one_that_collects_most(kit):
    """Doubling for want of jokers is counted before two hands of the same tiles are compared."""
    kongs = kit.sheet.hand("Small sums")
    split = Variant(tuple(Group(2, group.kind) for group in kongs.variants[0].groups for _ in range(group.size // 2)))
    pairs = replace(kit.sheet.hand("Crooked row"), variants=(split,))
    for points, best in ((69, kongs), (71, pairs)):  # against 35 doubled
        shown = replace(pairs, points=points)
        sheet = replace(kit.sheet, sections=(replace(kit.sheet.sections[0], hands=(shown, kongs)),))
        assert match(sheet, split.total)[0].name == best.name
    with_joker = [count - (kind == split.groups[2].kind) for kind, count in enumerate(split.total)]
    with_joker[JOKER] = 1
    assert match(sheet, with_joker)[0] is kongs


def test_the_index_is_made_once_and_tells_equal_looking_sheets_apart(kit):
    """Two sheets with the same name and fingerprint but other hands never share an index."""
    assert index_of(kit.sheet) is index_of(kit.sheet)
    shorter = replace(kit.sheet, sections=kit.sheet.sections[:1])
    assert shorter.fingerprint == kit.sheet.fingerprint
    assert len(index_of(shorter).pairs) < len(index_of(kit.sheet).pairs)


def test_absurd_counts_match_nothing(kit):
    """Negative or huge counts are no hand and no crash."""
    for counts in ([0] * 36, [14] + [0] * 35, [20] + [0] * 35, [0] * 35 + [20], [-1] + [0] * 33 + [8, 7]):
        assert match(kit.sheet, counts) is None
    assert match(kit.sheet, [0] * 36, [Exposure(6, 0)] * 4) is None
