"""Why not this hand: every claim counted anew, for hands of the plan, beside it, and out of reach."""

import re
from random import Random

import plain_advice as plain
import pytest
from claims import KIND, NUMBER, NUMBERS, TILE, Counted

from engine.advice.advise.discard import advise
from engine.advice.advise.why_not import why_not_hand
from engine.advice.moment import Moment
from engine.advice.table import SheetTable
from engine.rules.state import Exposure
from engine.sheet.shelf import find
from engine.words import odds


@pytest.fixture(scope="module")
def table():
    """The smaller shipped sheet."""
    return SheetTable.of(find("first-steps"))


def check(said, hand, advice, counted):
    """Every sentence on one hand. Returns the claims met."""
    name = hand.name
    reach = {one.hand.name: one for one in advice.hands}
    if name not in reach:
        match = re.fullmatch(rf"{name} needs (?P<n>{NUMBER}) more tiles?, more than the draws that are left\.", said)
        if match:
            assert NUMBERS[match["n"]] > counted.draws
        else:
            assert said == f"{name} can't be made any more: too many of its tiles have gone."
            assert not any(plain.can_still_be(v, counted.rack, counted.unseen) for v in counted.variants(name))
        return {"out of reach"}
    near, often, *lacks = [part.rstrip(".") for part in said.split(". ")]
    more = re.fullmatch(
        rf"{name} (?:is (?P<what>what the plan goes for|the second string): it )?needs (?P<n>{NUMBER}) more tiles?"
        rf"(?:, (?P<lead>{counted.names}) (?P<m>{NUMBER}))?",
        near,
    )
    assert more, near
    assert NUMBERS[more["n"]] == counted.missing(name)
    assert (more["what"] == "what the plan goes for") == (name in advice.plan.names)
    if more["lead"]:
        assert more["lead"] == advice.plan.names[0]
    chance = odds(float(plain.odds(counted.best(name), counted.rack, counted.unseen, counted.draws)))
    lead = advice.plan.names[0]
    beside = "" if lead == name else f", {lead} {odds(reach[lead].odds)}"
    assert often == f"Going for it alone makes it {chance} of the time{beside}"
    met = {more["what"] or "beside"}
    if lacks:
        for number, tile in re.findall(rf"({NUMBER}) ({TILE})", lacks[0].partition(";")[0]):
            if number != "no":
                assert sum(counted.lacks(name, KIND[tile])) >= NUMBERS[number] > 0
        strict = re.search(rf"({NUMBER}) ({TILE}) (in a pair|as a single), where no joker may stand", lacks[0])
        if strict:
            assert counted.lacks(name, KIND[strict[2]])[0] == NUMBERS[strict[1]]
            met.add("strict")
    return met


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
                met |= check(why_not_hand(moment, advice, hand), hand, advice, counted)
    rack, unseen = plain.random_rack(random, 14, shown=40)
    moment = Moment.of(table, rack, unseen, 1)
    advice = advise(moment)
    counted = Counted(table, rack, unseen, 1)
    met |= set().union(*(check(why_not_hand(moment, advice, one), one, advice, counted) for one in table.sheet.hands))
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
