"""Reads the answers to “why not this hand?” back, and compares each claim with a fresh count."""

import re

import plain_advice as plain
from claims import KIND, NUMBER, NUMBERS, SO_MANY, how_many

from engine.words import odds


def check_why_not(said, hand, advice, counted):
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
    if min(reach[lead].odds, reach[name].odds) > 0.995:
        about = [f"about {round(reach[one].picks)} picks" for one in (name, lead)]
        beside = "" if lead == name else f", {lead} {about[1]}"
        assert often == f"Going for it alone takes {about[0]} on average{beside}"
    else:
        assert often == f"Going for it alone makes it {chance} of the time{beside}"
    met = {more["what"] or "beside"}
    if lacks:
        found = re.findall(SO_MANY, re.split(", where|;", lacks[0])[0])
        assert found, lacks[0]
        for number, tile in found:
            assert sum(counted.lacks(name, KIND[tile])) >= how_many(number) > 0
        strict = re.search(rf"{SO_MANY} (in a pair|as a single|as singles), where no joker may stand", lacks[0])
        if strict:
            assert counted.lacks(name, KIND[strict[2]])[0] == how_many(strict[1])
            met.add("strict")
    return met
