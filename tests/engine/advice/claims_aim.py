"""Reads back what is said to aim for: the hands, what is missing, what else they share, and why a plan turns."""

import re

from claims_words import KIND, NUMBER, NUMBERS, SO_MANY, TILE, full, how_many, kind_named, names_in

from engine.tiles import JOKER, NAMES
from engine.words import in_words, listed


def check_aim(said, counted):
    """The sentence on what to aim for. Returns what it claims and the hands it names as goals."""
    names = counted.names
    match = full(
        rf"You are one tile from (?P<hand>{names}): (?:an? (?P<tile>{TILE}) (?P<what>makes its pair|is the single that "
        rf"it lacks)(?P<joker>, which no joker fills)?; (?P<left>{NUMBER}) (?:is|are) unseen"
        rf"|(?P<outs>an? .+) completes it; "
        rf"(?P<left2>{NUMBER})(?: of these)? (?:is|are) unseen|tiles of (?P<kinds>{NUMBER}) kinds complete it; "
        rf"(?P<left3>{NUMBER}) of them are unseen)\.",
        said,
    )
    if match:
        hand = match["hand"]
        assert counted.missing(hand) == 1
        outs = counted.outs(hand)
        if match["tile"]:
            kind = KIND[match["tile"]]
            assert outs == {kind}
            assert counted.unseen[kind] == NUMBERS[match["left"]]
            assert bool(match["joker"]) == counted.jokers
            assert counted.lacks(hand, kind)[0] == 1
            sizes = {group.size for group in counted.best(hand).groups if group.kind == kind and group.size < 3}
            assert (2 if "pair" in match["what"] else 1) in sizes
        elif match["outs"]:
            assert {KIND[one] for one in re.findall(TILE, match["outs"])} == outs
            assert NUMBERS[match["left2"]] == sum(counted.unseen[kind] for kind in outs)
        else:
            assert NUMBERS[match["kinds"]] == len(outs)
            assert NUMBERS[match["left3"]] == sum(counted.unseen[kind] for kind in outs)
        return "one away", [hand]
    match = full(r"Stay open between (?P<hands>.+?): (?P<ties>.+)\.", said)
    if match:
        hands = names_in(match["hands"], counted)
        assert listed(hands) == match["hands"]
        assert len(hands) in (2, 3)
        check_ties(match["ties"], hands, counted)
        return "open", hands
    match = full(
        rf"(?:Go for|Stay with) (?P<hand>{names})(?:, with (?P<second>{names}) as the second string)?: (?P<ties>.+)\.",
        said,
    )
    if match:
        hands = [match["hand"], *([match["second"]] if match["second"] else [])]
        if len(hands) == 1:
            check_still_to_come(match["ties"], hands[0], counted)
        else:
            check_ties(match["ties"], hands, counted)
        return "go for", hands
    match = full(r"Turn from (?P<old>.+?) to (?P<new>.+?): (?P<why>.+)\.", said)
    assert match, said
    new, old = names_in(match["new"], counted), names_in(match["old"], counted)
    check_turn(match["why"], new, old[0], counted)
    return "turn", new


def check_turn(why, new, old, counted):
    """Why the plan turns: what is said of the hand aimed for first and of the old one."""
    names, lead = counted.names, new[0]
    lost = full(rf"(?P<lost>{names}) can no longer be made", why)
    if lost:
        assert lost["lost"] == old
        assert not counted.can_be_made(old, counted.rack)
        return
    near = full(rf"(?P<near>{names}) needs (?P<n>{NUMBER}) tiles? now, (?P<far>{names}) (?P<m>{NUMBER})", why)
    if near:
        assert (near["near"], near["far"]) == (lead, old)
        assert counted.missing(lead) == NUMBERS[near["n"]] < NUMBERS[near["m"]]
        assert NUMBERS[near["m"]] == counted.near(old) or NUMBERS[near["m"]] == counted.missing(old)
        return
    here = "it" if len(new) == 1 else re.escape(lead)
    came = full(rf"the (?P<tile>{TILE}) that came serves {here} and not {re.escape(old)}", why)
    if came:
        kind = KIND[came["tile"]]
        held = counted.rack[kind]
        assert held
        assert counted.needs(lead, kind, held)
        assert not counted.needs(old, kind, held)
        return
    gone = full(rf"{re.escape(old)} lacks {SO_MANY}, and (?P<more>one more|{NUMBER} more) ha(?:s|ve) gone", why)
    if gone:
        kind = KIND[gone[2]]
        assert sum(counted.lacks(old, kind)) >= how_many(gone[1]) > 0
        assert counted.gone(kind) >= NUMBERS[gone["more"].split()[0]]
        assert not sum(counted.lacks(lead, kind))
        return
    its = "its groups" if len(new) == 1 else f"groups of {re.escape(lead)}"
    if full(rf"{its} may be called, while {re.escape(old)} is concealed", why):
        assert counted.calls
        assert counted.by_name[old].concealed
        assert not counted.by_name[lead].concealed
        return
    ways = full(
        rf"{here} can be made in (?P<a>{NUMBER}) ways with (?P<most>{NUMBER}) tiles? or fewer, "
        rf"{re.escape(old)} in (?P<b>{NUMBER})",
        why,
    )
    if ways:
        most = counted.missing(lead)
        assert NUMBERS[ways["most"]] == most
        assert [counted.ways(one, most) for one in (lead, old)] == [NUMBERS[ways["a"]], NUMBERS[ways["b"]]]
        return
    match = full(
        rf"{re.escape(lead)} (?:and {re.escape(old)} need (?P<each>{NUMBER}) tiles? each|needs (?P<n>{NUMBER}) tiles? "
        rf"and {re.escape(old)} (?P<m>{NUMBER})), but (?P<what>.+)",
        why,
    )
    if not match:
        assert why == f"{'its' if len(new) == 1 else 'their'} tiles are likelier to come now", why
        return
    needs = (match["each"], match["each"]) if match["each"] else (match["n"], match["m"])
    assert [NUMBERS[one] for one in needs] == [counted.missing(lead), counted.missing(old)]
    jokers = full(
        rf"jokers may fill (?P<a>{NUMBER}) for {re.escape(lead)} and (?:(?P<none>none)|only (?P<b>{NUMBER})) for "
        rf"{re.escape(old)}",
        match["what"],
    )
    if jokers:
        assert [counted.unfilled(lead), counted.unfilled(old)] == [
            NUMBERS[jokers["a"]], 0 if jokers["none"] else NUMBERS[jokers["b"]],
        ]  # fmt: skip
        return
    helped = full(
        rf"(?P<a>{NUMBER}) unseen tiles help {re.escape(lead)} and only (?P<b>{NUMBER}) {re.escape(old)}",
        match["what"],
    )
    if helped:
        assert [counted.helping(lead), counted.helping(old)] == [NUMBERS[helped["a"]], NUMBERS[helped["b"]]]
        assert NUMBERS[helped["a"]] > NUMBERS[helped["b"]]
        return
    paid = [counted.by_name[one].points for one in (lead, old)]
    assert match["what"] == f"{lead} pays {paid[0]} points and {old} {paid[1]}"
    assert counted.calls
    assert paid[0] > paid[1]


def check_still_to_come(text, hand, counted):
    """How many tiles a hand lacks, or which ones and what the rack's jokers fill of them."""
    need = full(rf"(?P<n>{NUMBER}) tiles are still to come", text)
    if need:
        assert NUMBERS[need["n"]] == counted.missing(hand) > 1
        return
    said = full(
        rf"it lacks (?P<tiles>.+?)(?:, and your (?:joker|{NUMBER} jokers) fills? (?P<filled>{NUMBER}) of these)?", text
    )
    assert said, text
    named = {KIND[tile]: 0 for _, tile in re.findall(SO_MANY, said["tiles"])}
    for number, tile in re.findall(SO_MANY, said["tiles"]):
        named[KIND[tile]] += how_many(number)
    filled = NUMBERS[said["filled"]] if said["filled"] else 0
    assert sum(named.values()) - filled == counted.missing(hand) <= 4
    assert filled <= counted.rack[JOKER]
    for kind, number in named.items():
        strict, loose = counted.lacks(hand, kind)
        assert number == strict + (loose if counted.unfilled(hand) else 0)


def check_ties(text, hands, counted):
    """What several hands have in common, or how far they are."""
    match = full(rf"(?P<all>both|all {NUMBER}) use your (?P<tiles>.+)", text)
    if match:
        assert match["all"] == ("both" if len(hands) == 2 else f"all {in_words(len(hands))}")
        for tile in re.split(r", | and ", match["tiles"]):
            kind = kind_named(tile)
            assert tile == NAMES[kind] + ("s" if counted.rack[kind] > 1 else "")
            assert counted.rack[kind] > 0
            assert all(counted.best(hand).total[kind] for hand in hands)
        return
    match = full(rf"(?P<rest>.+), and they share only your (?P<tile>{TILE})", text)
    if match:
        kind = KIND[match["tile"]]
        assert counted.rack[kind] == 1
        assert shared_by(hands, counted) == [kind]
        check_far(match["rest"], hands, counted)
        return
    check_far(text, hands, counted)
    if " needs " not in text or text.startswith("each needs"):
        assert not shared_by(hands, counted)


def shared_by(hands, counted):
    """Kinds of the rack that all of several hands use."""
    return [kind for kind in range(JOKER) if counted.rack[kind] and all(counted.best(one).total[kind] for one in hands)]


def check_far(text, hands, counted):
    """How far several hands are."""
    match = full(
        rf"(?:each needs (?P<each>{NUMBER}) tiles?|they need (?P<far>.+) tiles), "
        r"(?:and (?P<ahead>neither|none) is ahead yet|but come about as soon)"
        rf"|each needs (?P<just>{NUMBER}) tiles?|they need (?P<only>.+) tiles",
        text,
    )
    if match:
        needs = [counted.missing(hand) for hand in hands]
        level = "neither" if len(hands) == 2 else "none"
        if not (match["just"] or match["only"]):
            assert match["ahead"] == (level if max(needs) - min(needs) <= 1 else None)
        if match["each"] or match["just"]:
            assert set(needs) == {NUMBERS[match["each"] or match["just"]]}
        else:
            assert (match["far"] or match["only"]) == listed([in_words(number) for number in needs])
        return
    match = full(rf"it needs (?P<n>{NUMBER}) tiles?, (?P<second>{counted.names}) (?P<m>{NUMBER})", text)
    assert match, text
    assert NUMBERS[match["n"]] == counted.missing(hands[0])
    assert match["second"] == hands[1]
    assert NUMBERS[match["m"]] == counted.missing(hands[1])
