"""Why not this hand: every claim counted anew, for hands of the plan, beside it, and out of reach."""

from random import Random

import plain_advice as plain
import pytest
from claims_why_not import check_why_not
from counted import Counted

from engine.advice.advise.discard import advise
from engine.advice.advise.why_not import why_not_hand
from engine.advice.moment import Moment
from engine.advice.table import SheetTable
from engine.rules.state import Exposure
from engine.sheet.shelf import find


@pytest.fixture(scope="module")
def table():
    """The smaller shipped sheet."""
    return SheetTable.of(find("first-steps"))


@pytest.mark.slow
def test_every_claim_on_a_hand_is_so(table):
    """Over some racks and all hands of the sheet every claim equals a fresh count."""
    random, met = Random(2), set()
    for draws in (30, 12, 5, 2):
        rack, unseen = plain.random_rack(random, 14, shown=40)
        moment = Moment.of(table, rack, unseen, draws)
        advice = advise(moment)
        counted = Counted(table, rack, unseen, draws)
        for hand in table.sheet.hands:
            if advice.plan.aim:
                met |= check_why_not(why_not_hand(moment, advice, hand), hand, advice, counted)
    rack, unseen = plain.random_rack(random, 14, shown=40)
    moment = Moment.of(table, rack, unseen, 1)
    advice = advise(moment)
    counted = Counted(table, rack, unseen, 1)
    met |= set().union(
        *(check_why_not(why_not_hand(moment, advice, one), one, advice, counted) for one in table.sheet.hands)
    )
    assert met >= {"out of reach", "what the plan goes for", "beside", "strict"}


def test_exposed_groups_rule_hands_out(table):
    """A hand that has no such group can't be made with it exposed, and is said to."""
    rack, unseen = plain.random_rack(Random(4), 10)
    laid = (Exposure(3, 4, 0),)
    moment = Moment.of(table, rack, unseen, 20, laid)
    advice = advise(moment)
    hands = {table.sheet.hands[int(place)].name for place in moment.table.hand}
    for hand in table.sheet.hands:
        said = why_not_hand(moment, advice, hand)
        assert ("with the groups that you have exposed" in said) == (hand.name not in hands)
