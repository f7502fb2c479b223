"""Reads the sentences of advice back, claim by claim, and compares each claim with a fresh count."""

import re

import plain_advice as plain

from engine.tiles import JOKER, NAMES
from engine.words import in_words, listed, picks

NUMBERS = {in_words(number): number for number in range(100)}
NUMBER = "(?:" + "|".join(sorted(NUMBERS, key=len, reverse=True)) + ")"
TILE = "(?:" + "|".join(sorted(NAMES, key=len, reverse=True)) + ")"
KIND = {name: kind for kind, name in enumerate(NAMES)}
SO_MANY = rf"(an?|{NUMBER}) ({TILE})s?"
"""`a 3 crak`, `two 3 craks`: the number and the tile."""
SIZES = {"pung": 3, "kong": 4, "quint": 5, "sextet": 6}


def how_many(word):
    """The number that `a` or a numeral stands for."""
    return 1 if word in ("a", "an") else NUMBERS[word]


def full(pattern, said):
    """The match of the whole sentence."""
    return re.fullmatch(pattern, said)


def names_in(text, counted):
    """The hand names in a list of them, in order."""
    return re.findall(counted.names, text)


def kind_named(text):
    """The kind that a tile's name stands for, singular or plural."""
    return KIND[text] if text in KIND else KIND[text.removesuffix("s")]


def sentences(text):
    """The sentences of a text."""
    return [part + "." for part in text.removesuffix(".").split(". ")]


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


def check_keep(keep, advice, counted, *, turns=False):
    """The sentences on one tile of a rack of 14, `counted` for the whole of it. Returns the claims met."""
    met, kind, held = set(), keep.kind, counted.rack[keep.kind]
    match = full(
        rf"(?P<which>The|One) {NAMES[kind]} could go as well: (?:(?P<who>.+?) needs? it, but |(?P<no>{counted.names}) "
        rf"lacks nothing that it may stand for, and )?"
        rf"(?:it makes no difference|in (?P<games>\d+) games played out no difference showed)\.",
        keep.because,
    )
    if match:
        assert keep.picks == 0
        assert (match["which"] == "The") == (held == 1)
        assert (int(match["games"]) if match["games"] else 0) == keep.games
        if match["no"]:
            assert kind == JOKER
            assert counted.places(match["no"]) == 0
        if match["who"]:
            check_users(match["who"], kind, held, counted)
        return {"as well"}
    match = full(
        rf"(?P<which>The|One) {NAMES[kind]} could go almost as well: (?:(?P<who>.+?) needs? it, but )?"
        rf"it costs under 0\.1 (?:picks|turns)\.",
        keep.because,
    )
    if match:
        assert 0 < keep.picks < 0.05
        assert (match["which"] == "The") == (held == 1)
        assert keep.because.endswith(picks(keep.picks, turns=turns) + ".")
        if match["who"]:
            check_users(match["who"], kind, held, counted)
        return {"almost as well"}
    match = full(
        r"Keep (?P<tiles>.+?): (?P<why>.+?)\. Letting (?P<one>it|one) go costs (?P<cost>.+?)"
        r"(?:, and (?P<lost>.+) could no longer be made)?\.",
        keep.because,
    )
    assert match, keep.because
    amount = {1: "the", 2: "both"}.get(held, f"all {in_words(held)}")
    assert match["tiles"] == f"{amount} {NAMES[kind]}{'' if held == 1 else 's'}"
    assert (match["one"] == "it") == (held == 1)
    said = picks(keep.picks, turns=turns)
    assert keep.picks > 0
    assert match["cost"] == (said if keep.known.value != "estimated" or said.startswith("under") else f"about {said}")
    if match["lost"]:
        fewer = plain.without(counted.rack, kind)
        lost = [one.hand.name for one in advice.hands if not counted.can_be_made(one.hand.name, fewer)]
        assert match["lost"] == (lost[0] if len(lost) == 1 else f"{in_words(len(lost))} hands in reach")
        met.add("lost")
    if match["why"] == f"another seat may be waiting for {match['one']}":
        check_feared(kind, advice)
        return met | {"feared"}
    return met | check_why(match["why"], keep, advice, counted)


def check_feared(kind, advice):
    """A tile that is feared can finish another's hand, and one's own hand alone would keep it for less than half of its
    cost."""
    weighed, goes = advice.contested, advice.let_go
    risk = {one: float(weighed.danger.risks[one]) for one in (kind, goes)}
    left = {one: weighed.contest.worths(weighed.rack, [(one,)])[0] for one in (kind, goes)}
    after = {one: left[one] * (1 - risk[one]) - risk[one] * weighed.danger.fed for one in (kind, goes)}
    assert risk[kind] > 0
    assert after[goes] - after[kind] > 2 * (left[goes] - left[kind])


def check_why(said, keep, advice, counted):
    """Who needs a tile, in what place, and what is left of it."""
    kind, held = keep.kind, counted.rack[keep.kind]
    what = {1: "it", 2: "both"}.get(held, f"all {in_words(held)}")
    if kind == JOKER:
        match = full(rf"(?P<who>.+?) ha(?:s|ve) room for {what} in larger groups", said)
        if match:
            check_users(match["who"], kind, held, counted)
            return {"room"}
        assert said == "jokers fill any group of three or more"
        return {"joker"}
    named = [one.hand.name for one in advice.hands]
    match = full(
        rf"no hand near you needs {what}, but (?P<who>{counted.names})(?: does| and others further off do)", said
    )
    if match:
        assert match["who"] in named
        assert counted.needs(match["who"], kind, held)
        if said.endswith("off do"):
            assert sum(counted.needs(name, kind, held) for name in named) > 1
        return {"further"}
    match = full(rf"another way to make (?P<who>{counted.names}) needs {what}", said)
    if match:
        assert not any(counted.needs(name, kind, held) for name in named)
        assert any(
            variant.total[kind] >= held
            and plain.can_still_be(variant, counted.rack, counted.unseen)
            and plain.missing(variant, counted.rack) <= counted.draws
            for variant in counted.variants(match["who"])
        )
        return {"another way"}
    if said == f"no hand in reach needs {what} now":
        assert not any(counted.needs(name, kind, held) for name in named)
        return {"nobody"}
    match = full(
        rf"(?P<who>.+?) needs? {what}"
        rf"(?P<role>,? ?(?P<hand>{counted.names})? ?(?:in a pair|as a single|as singles)"
        r"(?P<joker>, where no joker may stand)?)?"
        r"(?:; (?P<left>no other is left to come|only one more can come))?",
        said,
    )
    assert match, said
    users = check_users(match["who"], kind, held, counted)
    strict = counted.best(users[0]).real[kind] >= held
    assert bool(match["role"]) == strict
    if strict:
        sizes = {group.size for group in counted.best(users[0]).groups if group.kind == kind}
        assert ("in a pair" in match["role"]) == (2 in sizes)
        assert bool(match["joker"]) == counted.jokers
        assert match["hand"] == (users[0] if len(users) > 1 or "more" in match["who"] else None)
    left = counted.unseen[kind]
    assert match["left"] == (None if left > 1 else "only one more can come" if left else "no other is left to come")
    return {"need", *({"strict"} if strict else ()), *({"scarce"} if left < 2 else ())}


def check_users(who, kind, held, counted):
    """The hands that are said to need a tile do. Returns those named."""
    match = full(rf"(?P<first>{counted.names}) and (?P<more>{NUMBER}) more of your nearest hands", who)
    users = [match["first"]] if match else names_in(who, counted)
    assert users, who
    assert match or listed(users) == who
    assert all(counted.needs(name, kind, held) for name in users), who
    return users
