"""Reads the answers to “why not this hand?” back, and compares each claim with a fresh count."""

import re

import plain_advice as plain
from claims_words import KIND, NUMBER, NUMBERS, SO_MANY, how_many

from engine.tiles import JOKER
from engine.words import about_picks, odds


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
    alone = "Going for it alone, undisturbed," if counted.calls else "Going for it alone"
    if min(reach[lead].odds, reach[name].odds) > 0.95:
        about = [about_picks(max(round(reach[one].picks), 1)) for one in (name, lead)]
        beside = "" if lead == name else f", {lead} {about[1]}"
        assert often == f"{alone} takes {about[0]} on average{beside}"
    else:
        assert often == f"{alone} makes it {chance} of the time{beside}"
    met = {more["what"] or "beside"}
    if lacks and lacks[0].startswith(("But ", "It is about as good")):
        met.add(check_against(lacks[0], name, advice, counted))
    elif lacks:
        found = re.findall(SO_MANY, re.split(", where|;", lacks[0])[0])
        assert found, lacks[0]
        for number, tile in found:
            assert sum(counted.lacks(name, KIND[tile])) >= how_many(number) > 0
        strict = re.search(rf"{SO_MANY} (in a pair|as a single|as singles)(, where no joker may stand)?", lacks[0])
        assert counted.jokers or "joker" not in lacks[0]
        if strict:
            assert counted.lacks(name, KIND[strict[2]])[0] == how_many(strict[1])
            assert bool(strict[4]) == counted.jokers
            met.add("strict")
    return met


def check_against(said, name, advice, counted):
    """Why the plan goes for another hand that is no likelier by itself. Returns the claim met."""
    lead, hands = advice.plan.names[0], counted.by_name
    if said == f"It is about as good as {lead}: keep it in mind":
        return "as good"
    if said == f"But {name} is concealed, and groups of {lead} may be called":
        assert counted.calls
        assert hands[name].concealed
        assert not hands[lead].concealed
        return "concealed"
    if said == f"But {lead} pays {hands[lead].points} points and {name} {hands[name].points}":
        assert hands[lead].points > hands[name].points
        assert counted.calls
        return "pays"
    names = counted.names
    match = re.fullmatch(
        rf"But {lead} uses (?P<a>{NUMBER}) of your tiles together with (?P<second>{names}), "
        rf"and only (?P<b>{NUMBER}) together with {name}",
        said,
    )
    if match:
        assert match["second"] == advice.plan.targets[1].hand.name
        assert NUMBERS[match["a"]] == in_common(lead, match["second"], counted)
        assert NUMBERS[match["b"].replace("none", "no")] == in_common(lead, name, counted)
        return "in common"
    match = re.fullmatch(
        rf"But {lead} has (?P<a>{NUMBER}) ways that need (?P<n>{NUMBER}) more tiles? at most, "
        rf"{name} (?P<b>no|one|{NUMBER}) ways?",
        said,
    )
    assert match, said
    most = counted.missing(lead)
    assert NUMBERS[match["n"]] == most
    assert [counted.ways(one, most) for one in (lead, name)] == [NUMBERS[match["a"]], NUMBERS[match["b"]]]
    return "ways"


def in_common(one, other, counted):
    """Tiles of the rack that the best ways of two hands both use, jokers left out."""
    counted.asked += 1
    first, second = counted.best(one).total, counted.best(other).total
    return sum(min(counted.rack[kind], first[kind], second[kind]) for kind in range(JOKER))
