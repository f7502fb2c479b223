"""A deal for a wanted hand: within reach, a fair shuffle, the same for the same seed."""

import random

import plain_advice as plain
import pytest

from engine.advice.table import SheetTable
from engine.drills.wanted import wanted_deal
from engine.rules.deal import DealCode
from engine.rules.game import start
from engine.rules.house import House
from engine.sheet.shelf import find
from engine.tiles import counts_of


@pytest.mark.parametrize("place", [0, 4, 11])
def test_the_wanted_hand_is_within_reach(place):
    """The deal that its code names gives a rack that lacks as many tiles as was said, six at most."""
    sheet, house = find("first-steps"), House(picks=40)
    hand = sheet.hands[place]
    found = wanted_deal(SheetTable.of(sheet, 8), hand.name, house, random.Random(place))
    rack = start(sheet, house, DealCode.of(sheet, house, found.seed).wall()).racks[0]
    assert found.missing == min(plain.missing(variant, counts_of(rack)) for variant in hand.variants)
    assert found.missing <= 6 or found.looked_at == 500


def test_the_same_chance_deals_the_same():
    """And an unknown hand is refused."""
    table = SheetTable.of(find("first-steps"), 8)
    name = table.sheet.hands[2].name
    one, two = (wanted_deal(table, name, House(), random.Random(3)) for _ in range(2))
    assert one == two
    with pytest.raises(KeyError):
        wanted_deal(table, "No such hand", House(), random.Random(3))
