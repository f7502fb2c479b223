"""The study of a sheet: its counts against a slow count over all variants, the hands behind them, and weights."""

from __future__ import annotations

from collections import Counter

import pytest
from counted_slowly import slow_sheet
from depth import deep
from random_sheets import random_sheet

from engine.invent.making import Wish, drafted
from engine.sheet.groups import Group, Variant
from engine.sheet.model import Sheet
from engine.sheet.reader import read
from engine.sheet.shelf import find, shipped
from engine.sheet.study.counts import Study, has_rank, suits_of
from engine.sheet.writer import write
from engine.tiles import CODES, FLOWER, JOKER, KINDS

MADE = range(24)
SOME_MADE = MADE[::3]


def sheet_called(name: str | int) -> Sheet:
    return find(name) if isinstance(name, str) else random_sheet(name, 5)


@pytest.mark.parametrize("name", [*shipped(), *MADE])
@pytest.mark.slow
def test_tiles_against_a_slow_count(name: str | int) -> None:
    """Hands, variants and groups of every tile, on every shipped sheet and on many made by chance."""
    sheet = sheet_called(name)
    slow = slow_sheet(sheet)
    study = Study.of(sheet)
    assert study.variants == sum(len(one.variants) for one in slow)
    assert [wanted.kind for wanted in study.tiles] == list(range(JOKER))
    for wanted in study.tiles:
        code = CODES[wanted.kind]
        needing = [groups for one in slow for groups in one.variants if any(tile == code for _, tile in groups)]
        assert wanted.hands == sum(code in one.codes for one in slow), code
        assert wanted.variants == len(needing), code
        assert wanted.groups == sum(tile == code for groups in needing for _, tile in groups), code


INVENTED = range(deep(12, 50))


@pytest.mark.slow
def test_invented_sheets_read_back_and_are_counted() -> None:
    """Many sheets of the inventor, not yet balanced: written out they read back without a fault, no two are alike in
    name or share a third of their hands, and the study counts on each what the slow count finds."""
    seen: dict[str, set[frozenset[tuple[object, ...]]]] = {}
    for seed in INVENTED:
        sheet = drafted(Wish(seed, hands=12))
        reading = read(write(sheet))
        assert reading.faults == ()
        assert reading.sheet is not None
        assert reading.sheet.hands == sheet.hands
        hands = {frozenset(variant.key for variant in hand.variants) for hand in sheet.hands}
        assert sheet.name not in seen
        assert all(3 * len(hands & other) < len(hands) for other in seen.values())
        seen[sheet.name] = hands
        slow = slow_sheet(sheet)
        study = Study.of(sheet)
        assert study.variants == sum(len(one.variants) for one in slow)
        hands_with = Counter(code for one in slow for code in one.codes)
        groups_of = Counter(tile for one in slow for groups in one.variants for _, tile in groups)
        needing = Counter(tile for one in slow for groups in one.variants for tile in {tile for _, tile in groups})
        for wanted in study.tiles:
            code = CODES[wanted.kind]
            assert wanted.hands == hands_with[code], (seed, code)
            assert wanted.variants == needing[code], (seed, code)
            assert wanted.groups == groups_of[code], (seed, code)


@pytest.mark.parametrize("name", [*shipped(), *SOME_MADE])
@pytest.mark.slow
def test_other_counts_against_a_slow_count(name: str | int) -> None:
    """Flowers by size, suits, places for jokers, concealed hands; of the shapes, their sizes in any order."""
    sheet = sheet_called(name)
    slow = slow_sheet(sheet)
    study = Study.of(sheet)
    for size in range(1, 7):
        assert study.flowers.get(size, 0) == sum(
            any((size, "fl") in groups for groups in one.variants) for one in slow
        ), size
    for number in range(4):
        assert study.suits.get(number, 0) == sum(
            any(len({code[1] for _, code in groups if code[0].isdigit()}) == number for groups in one.variants)
            for one in slow
        ), number
    for number in range(15):
        assert study.jokers.get(number, 0) == sum(
            any(sum(size for size, _ in groups if size > 2) == number for groups in one.variants) for one in slow
        ), number
    assert study.concealed == sum(one.hand.concealed for one in slow)
    sizes = {tuple(sorted(shape)) for shape, _ in study.shapes}
    assert sizes == {tuple(sorted(size for size, _ in groups)) for one in slow for groups in one.variants}


@pytest.mark.parametrize("name", shipped())
def test_the_hands_behind_a_figure(name: str) -> None:
    """Every figure names as many hands as it counts, and by section they are parted without rest."""
    study = Study.of(find(name))
    for wanted in study.tiles:
        hands = study.wanting(wanted.kind)
        assert len(hands) == wanted.hands
        parts = [study.wanting(wanted.kind, section.name) for section in study.sheet.sections]
        assert [hand for part in parts for hand in part] == list(hands)
        assert len(study.sections_of(hands)) == sum(bool(part) for part in parts)
    assert all(len(study.shaped(shape)) == hands for shape, hands in study.shapes)
    assert all(len(study.with_flowers(size)) == hands for size, hands in study.flowers.items())
    assert len(study.wanting(FLOWER)) <= sum(study.flowers.values())


def test_shapes_keep_the_order_of_the_sheet() -> None:
    """Hands with the same sizes in another order have another shape; the commonest comes first."""
    made = _sheet(
        "pair a.n, pung a.n+1, kong b.n, quint flower",
        "pung a.n, pair a.n+2, kong b.n, quint flower",
        "pair dragon red, pung wind u, kong a.n, quint b.n",
    )
    assert Study.of(made).shapes == (((2, 3, 4, 5), 2), ((3, 2, 4, 5), 1))
    counts = [hands for _, hands in Study.of(find("lantern-street")).shapes]
    assert counts == sorted(counts, reverse=True)


def test_weights() -> None:
    """A tile's weighed figure is the mean, over hands made, of the share of a hand's variants that need it."""
    sheet = find("first-steps")
    weights = {hand.name: 0.0 for hand in sheet.hands} | {"Stepping stones": 3.0, "Doormat": 1.0}
    study = Study.of(sheet, weights)
    for kind in range(FLOWER + 1):
        by_hand = [
            sum(any(group.kind == kind for group in variant.groups) for variant in hand.variants) / len(hand.variants)
            for hand in (sheet.hand("Stepping stones"), sheet.hand("Doormat"))
        ]
        assert study.tiles[kind].weighed == pytest.approx((3 * by_hand[0] + by_hand[1]) / 4)
    assert all(wanted.weighed is None for wanted in Study.of(sheet).tiles)


@pytest.mark.parametrize("weights", [{}, {"Doormat": 0.0}, {"Doormat": 2.0, "Draught": -1.0}])
def test_weights_that_weigh_nothing(weights: dict[str, float]) -> None:
    """Weights that are all nothing, or less than nothing, are refused."""
    with pytest.raises(ValueError, match="must be more than nothing"):
        Study.of(find("first-steps"), weights)


def test_a_hand_alone() -> None:
    """The counts of one hand: what it always needs, and its largest groups."""
    (counts,) = Study.of(_sheet("pung a.5, kong b.n, pair b.5, quint flower")).counts
    fives = [kind for kind in range(KINDS) if CODES[kind][0] == "5"]
    assert not any(counts.always(kind) for kind in fives)
    assert counts.always(FLOWER)
    assert [counts.longest[kind] for kind in fives] == [4, 4, 4]
    assert counts.longest[FLOWER] == 5
    assert {suits_of(variant) for variant in counts.hand.variants} == {2}


# Facts of the trade: common practice, no source.


def test_five_stands_in_more_runs_than_any_other_number() -> None:
    """Hands of three to five numbers in a row: 5, the middle of 1 to 9, is wanted in most variants (common practice,
    no source)."""
    runs = ("quint a.n, kong a.n+1, quint a.n+2", "quint a.n, pung a.n+1, pung a.n+2, pung a.n+3",
            "kong a.n, pair a.n+1, pair a.n+2, kong a.n+3, pair a.n+4")  # fmt: skip
    study = Study.of(_sheet(*runs))
    by_rank = [sum(study.tiles[9 * suit + rank - 1].variants for suit in range(3)) for rank in range(1, 10)]
    assert max(by_rank) == by_rank[4]
    assert by_rank.count(by_rank[4]) == 1
    assert by_rank == by_rank[::-1]


def test_a_season_with_two_2s_lifts_the_2s() -> None:
    """The same hands in a season with two 2s want more groups of 2s than in one with none (common practice, no
    source)."""
    hands = ("single season a, quint b.n, quint c.n", "quint a.n, kong b.n+2, quint flower")
    with_two, without = (Study.of(_sheet(*hands, season=season)) for season in ("2026", "1938"))
    for suit in range(3):
        two, other = 9 * suit + 1, 9 * suit + 3
        assert with_two.tiles[two].groups > without.tiles[two].groups
        assert with_two.tiles[other].groups == without.tiles[other].groups


def _sheet(*hands: str, season: str = "2026") -> Sheet:
    rows = [
        f"      - hand: Hand {place}\n        groups: {text}\n        points: 25" for place, text in enumerate(hands)
    ]
    reading = read(
        "\n".join(["sheet: Made", f"season: {season}", "sections:", "  - section: All", "    hands:", *rows])
    )
    assert reading.sheet is not None, reading.faults
    return reading.sheet


def test_a_number_stands_in_a_variant_whatever_its_suit() -> None:
    """Five bams and three nines of dots hold a 5 and a 9, and no 4; the winds hold no number."""
    variant = Variant((Group(5, CODES.index("5b")), Group(3, CODES.index("9d")), Group(6, CODES.index("we"))))
    assert [rank for rank in range(1, 10) if has_rank(variant, rank)] == [5, 9]
