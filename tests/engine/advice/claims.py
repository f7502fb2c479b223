"""Reads the sentences of a plan back, claim by claim, and compares each claim with a fresh count."""

import re

import plain_advice as plain
from claims_aim import check_aim
from claims_words import KIND, NUMBER, NUMBERS, SIZES, TILE, full, names_in, sentences

from engine.tiles import JOKER, NAMES


def check_let_go(said, hands, counted, keeps, held):
    """The sentence on the tile that goes; `counted` is for the rack without it, of which so many were held."""
    goes = keeps[-1].kind
    total = [counted.best(hand).total[goes] for hand in hands]
    tile = rf"(?:the|an?) {NAMES[goes]}"
    if full(rf"(?:It has no|Neither has a|None of them has a) use for {tile}\.", said):
        assert not any(total)
        assert said.split()[0] == {1: "It", 2: "Neither"}.get(len(hands), "None")
        return "no use"
    if full(rf"One {NAMES[goes]} is more than (?:it|either|any of them) needs\.", said):
        who = {1: "it", 2: "either"}.get(len(hands), "any of them")
        assert f"than {who} needs" in said
        assert any(total)
        assert max(total) < held
        return "to spare"
    match = full(rf"(?:The|An?) {NAMES[goes]} serves only (?P<who>.+)\.", said)
    if match:
        users = [hand for hand, number in zip(hands, total, strict=True) if number >= held]
        assert names_in(match["who"], counted) == users
        assert 0 < len(users) < len(hands)
        return "serves only"
    if full(r"No joker may stand in a pair or a single, so one can go\.", said):
        assert goes == JOKER
        return "joker"
    if full(rf"Your jokers can stand in for {tile}\.", said):
        more = tuple(count + (kind == goes) for kind, count in enumerate(counted.rack))
        assert counted.rack[JOKER] > 0
        for hand in hands:
            best = counted.best(hand)
            assert plain.missing(best, more) == plain.missing(best, counted.rack)
        return "jokers stand in"
    match = full(
        rf"(?:The|An?) {NAMES[goes]} has its use too, but "
        r"(?P<why>every other tile costs more|no tile costs less) to lose\.",
        said,
    )
    assert match, said
    assert all(number >= held for number in total)
    others = [keep.picks for keep in keeps[:-1]]
    assert (min(others, default=0) > 0) == match["why"].startswith("every")
    return "has its use"


def check_watch(said, hands, counted):
    """The bottleneck."""
    names = counted.names
    speaks = rf"(?P<which>[Aa]n?|[Aa]nother) (?P<tile>{TILE}) (?:speaks )?for (?P<hand>{names})"
    if " speaks for " in said:
        found = re.findall(speaks, said)
        assert [hand for _, _, hand in found] == hands
        for which, tile, hand in found:
            assert (which.lower() == "another") == (counted.rack[KIND[tile]] > 0)
            assert sum(counted.lacks(hand, KIND[tile])) > 0
            assert counted.unseen[KIND[tile]] > 0
            assert not any(counted.best(other).total[KIND[tile]] for other in hands if other != hand)
        return "speaks"
    match = full(
        rf"(?P<hand>{names}) is nearer, (?P<n>{NUMBER}) tiles? away, but concealed: only its last tile may be called\.",
        said,
    )
    if match:
        hand = match["hand"]
        assert counted.calls
        assert [counted.by_name[one].concealed for one in (hand, *hands[:1])] == [True, False]
        assert NUMBERS[match["n"]] == counted.missing(hand) < counted.missing(hands[0])
        alone = [plain.odds(counted.best(one), counted.rack, counted.unseen, counted.draws) for one in (hand, hands[0])]
        assert alone[0] > alone[1]
        return "nearer"
    match = full(
        rf"If anyone lets (?:an? (?P<tile>{TILE})|one of these(?P<but> but a joker)?) go, call it for mahjong\.", said
    )
    if match:
        assert counted.calls
        assert counted.missing(hands[0]) == 1
        outs = counted.outs(hands[0])
        if match["tile"]:
            assert outs - {JOKER} == {KIND[match["tile"]]}
        else:
            assert len(outs - {JOKER}) > 1
            assert bool(match["but"]) == (JOKER in outs)
        return "call it"
    match = full(
        rf"It will take luck: (?:(?P<all>all )?(?P<n>{NUMBER})(?: of the (?P<draws>{NUMBER}))? tiles to come must "
        rf"serve (?P<hand>it|{names})(?:, and no joker helps with (?P<real>any|{NUMBER}) of them)?"
        rf"|(?P<every>all|of) the tiles that (?P<whom>it|{names}) lacks(?:, (?P<strict>{NUMBER}))? (?:is|are) for "
        rf"(?P<place>a pair or single|pairs and singles), which can be called only as the last tile)\."
        rf"|It will take luck, though all the tiles that (?P<free>it|{names}) lacks may be called\.",
        said,
    )
    if match:
        best, missing = counted.best(hands[0]), counted.missing(hands[0])
        assert (match["hand"] or match["whom"] or match["free"]) in ("it", hands[0])
        strict = sum(counted.lacks(hands[0], kind)[0] for kind in range(JOKER))
        assert bool(match["n"]) != counted.calls
        if match["n"]:
            assert NUMBERS[match["n"]] == missing
            assert (missing if match["all"] else NUMBERS[match["draws"]]) == counted.draws
            real = match["real"]
            told = strict if counted.jokers else 0
            assert told == (0 if real is None else missing if real == "any" else NUMBERS[real])
        elif match["free"]:
            assert strict == 0
        else:
            assert strict == (missing if match["every"] == "all" else NUMBERS[match["strict"]])
            assert (match["place"] == "a pair or single") == (strict == 1)
        assert plain.odds(best, counted.rack, counted.unseen, counted.draws) < 0.05
        return "luck"
    match = full(
        rf"Watch for the (?P<tile>{TILE}): (?:(?P<strict>no joker may stand in for it); )?"
        rf"(?:(?P<gone>{NUMBER}) ha(?:s|ve) gone(?:,| and) )?(?P<only>only )?(?P<left>{NUMBER}|none) (?:is|are) unseen"
        r"(?:, (?P<jokers>and (?:your jokers?|jokers) may fill in|so (?:a joker|your jokers?) must help))?\.",
        said,
    )
    if match:
        kind = KIND[match["tile"]]
        strict, loose = counted.lacks(hands[0], kind)
        assert bool(match["strict"]) == (strict > 0 and counted.jokers)
        assert counted.jokers or not match["jokers"]
        assert (NUMBERS[match["gone"]] if match["gone"] else 0) == counted.gone(kind)
        assert (0 if match["left"] == "none" else NUMBERS[match["left"]]) == counted.unseen[kind]
        if match["jokers"] and match["jokers"].startswith("so"):
            assert counted.unseen[kind] < loose
        return "watch"
    match = full(rf"Watch for jokers: no other (?P<tile>{TILE}) is left\.", said)
    if match:
        assert counted.unseen[KIND[match["tile"]]] == 0
        assert counted.lacks(hands[0], KIND[match["tile"]])[1]
        return "jokers only"
    if said.startswith("All that is missing"):
        strict = [kind for kind in range(JOKER) if counted.lacks(hands[0], kind)[0]]
        assert not strict
        assert counted.jokers
        return "larger groups"
    match = full(
        rf"Watch for jokers: (?P<hand>{names}) lacks (?P<n>{NUMBER}) in its (?P<group>pung|kong|quint|sextet) of "
        rf"(?P<tile>{TILE})s, and no other is left\.",
        said,
    )
    if match:
        kind, hand = KIND[match["tile"]], match["hand"]
        assert hand == hands[0]
        assert counted.unseen[kind] == 0
        assert counted.lacks(hand, kind)[1] == NUMBERS[match["n"]]
        assert counted.unfilled(hand) > 0
        return "jokers only"
    match = full(
        rf"Watch for the (?P<tile>{TILE}): (?P<hand>{names}) "
        rf"(?:needs (?P<n>{NUMBER}) (?P<where>in a pair|as a single|as singles)(?P<joker>, where no joker may stand)?"
        rf"|lacks (?P<m>{NUMBER}) in its (?P<group>pung|kong|quint|sextet)"
        rf"|needs a whole (?P<whole>pung|kong|quint|sextet))"
        rf"(?:, and your (?:joker fills|{NUMBER} jokers fill) (?P<filled>{NUMBER}) of (?P<of>{NUMBER}))?; "
        rf"(?:(?P<gone>{NUMBER}) ha(?:s|ve) gone(?:,| and) )?(?P<only>only )?(?P<left>{NUMBER}|none) (?:is|are) unseen"
        r"(?:, (?P<jokers>and (?:your jokers?|jokers) may fill in|so (?:a joker|your jokers?) must help))?\.",
        said,
    )
    assert match, said
    kind, hand = KIND[match["tile"]], match["hand"]
    assert hand == hands[0]
    strict, loose = counted.lacks(hand, kind)
    sizes = [group.size for group in counted.best(hand).groups if group.kind == kind]
    if match["where"]:
        assert strict == NUMBERS[match["n"]]
        assert bool(match["joker"]) == counted.jokers
        assert (2 if "pair" in match["where"] else 1) in sizes
    else:
        group = match["group"] or match["whole"]
        assert loose == (NUMBERS[match["m"]] if match["m"] else SIZES[group])
        assert SIZES[group] in sizes
        assert counted.unfilled(hand) > 0
        places, filled = counted.places(hand), counted.rack[JOKER]
        assert bool(match["filled"]) == (filled > 0 and places == loose)
        if match["filled"]:
            assert (NUMBERS[match["filled"]], NUMBERS[match["of"]]) == (filled, loose)
        elif match["only"]:
            assert match["jokers"].startswith("so")
            assert counted.unseen[kind] < loose
        elif counted.jokers:
            assert ("your" in match["jokers"]) == (filled > 0)
        else:
            assert match["jokers"] is None
    assert (NUMBERS[match["gone"]] if match["gone"] else 0) == counted.gone(kind)
    assert (0 if match["left"] == "none" else NUMBERS[match["left"]]) == counted.unseen[kind]
    return "watch"


def check_plan(advice, counted, keeps, held):
    """Every sentence of the advice for one rack; `counted` is for the 13 tiles that stay. Returns the claims met."""
    said = sentences(advice.because)
    assert len(said) <= 3, advice.because
    claim, hands = check_aim(said[0], counted)
    assert hands[0] == advice.plan.names[0]
    met = {claim}
    rest = said[1:]
    if keeps:
        met.add(check_let_go(rest[0], hands, counted, keeps, held))
        rest = rest[1:]
    met |= {check_watch(one, hands, counted) for one in rest}
    return met
