"""Finding hands: by tile, group, flowers, hold, points and rack, each against a plain look through all variants."""

from __future__ import annotations

from collections import Counter
from itertools import product

import pytest
from counted_slowly import slow_sheet

from engine.sheet.shelf import find, shipped
from engine.sheet.study.finding import Finding, nearest_to
from engine.tiles import CODES, FLOWER, kinds_of


@pytest.mark.parametrize("name", shipped())
@pytest.mark.slow
def test_found_hands_against_a_slow_look(name: str) -> None:
    """Every mixture of what can be looked for."""
    sheet = find(name)
    slow = slow_sheet(sheet)
    kinds = (None, 4, 20, 31, FLOWER)
    for kind, size, flowers, concealed, points in product(
        kinds, (None, 2, 3), (None, True, False), (None, True), (0, 40)
    ):
        finding = Finding(kind, size, flowers, concealed, points)
        wanted = [
            one.hand
            for one in slow
            if one.hand.points >= points
            and (concealed is None or one.hand.concealed)
            and (flowers is None or ("fl" in one.codes) == flowers)
            and any(
                (kind is None or code == CODES[kind]) and (size is None or count == size)
                for way in one.variants
                for count, code in way
            )
        ]
        assert list(finding.among(sheet)) == wanted, finding


def test_nothing_looked_for_finds_all() -> None:
    """An open search shows the whole sheet."""
    sheet = find("first-steps")
    assert Finding().open
    assert Finding().among(sheet) == sheet.hands
    assert not Finding(least_points=25).open


def test_hands_by_a_rack() -> None:
    """The hand that the rack is laid from comes first with 14 tiles; the others follow by tiles counted one by one."""
    sheet = find("first-steps")
    rack = kinds_of(sheet.hand("Low wall").variants[3].total)
    order = nearest_to(rack, sheet.hands)
    assert (order[0][0].name, order[0][1]) == ("Low wall", 14)
    assert [tiles for _, tiles in order] == sorted((tiles for _, tiles in order), reverse=True)
    held = Counter(CODES[kind] for kind in rack)
    found = {hand.name: tiles for hand, tiles in order}
    for one in slow_sheet(sheet):
        needs = [Counter({c: sum(n for n, other in way if other == c) for _, c in way}) for way in one.variants]
        assert found[one.hand.name] == max(sum((held & need).values()) for need in needs)
