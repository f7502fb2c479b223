"""Reads back why a tile is kept or let go: what uses it, what is feared of it."""

import plain_advice as plain
from claims_words import NUMBER, full, names_in

from engine.tiles import JOKER, NAMES
from engine.words import in_words, listed, picks


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
