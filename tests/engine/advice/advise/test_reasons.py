"""No sentence claims what the numbers don't show: every claim is read back and counted afresh."""

import re
from random import Random

import plain_advice as plain
import pytest

from engine.advice.advise.discard import advise
from engine.advice.moment import Moment
from engine.advice.table import SheetTable
from engine.sheet.shelf import find
from engine.tiles import JOKER, KINDS, NAMES, full_set, kinds_of
from engine.words import in_words

NUMBERS = {in_words(number): number for number in range(100)}
WORDS = "|".join(NUMBERS)
NEED = re.compile(
    rf"^(?:(?P<none>none)|(?P<some>{WORDS})|(?P<every>both|all (?P<count>{WORDS})))"
    rf" of your (?:(?P<of>{WORDS}) )?nearest hands (?:needs?|has|have) (?P<place>a place for )?"
    rf"(?P<what>it|both|all (?:{WORDS}))(?: in a larger group)?(?P<rest>.*)$"
)


def needing(reach, rack, kind):
    """Whether the hand's best variant uses every tile of the kind held."""
    if kind == JOKER:
        bare = (*rack[:JOKER], 0)
        strict = sum(max(need - held, 0) for need, held in zip(reach.variant.real, rack, strict=True))
        return plain.missing(reach.variant, bare) - strict >= rack[JOKER]
    return reach.variant.total[kind] >= rack[kind]


def take(text, pattern):
    """The match at the start of the text, and what follows."""
    match = re.match(pattern, text)
    return match, text[match.end() :] if match else text


def check(sentence, advice, keep, rack, unseen, draws):
    """Read a sentence claim by claim, each against a fresh count; nothing may be left over. Returns claims met."""
    met = set()
    goes = keep is advice.keeps[-1]
    held = rack[keep.kind]
    text = sentence[:-1]
    assert sentence.endswith(".")
    if not goes:
        name, _, text = text.partition(": ")
        assert NAMES[keep.kind] in name
        if name.endswith("could go as well"):
            assert keep.cost == 0
            met.add("as well")
        else:
            number = {"both": 2}.get(name.split()[1]) or NUMBERS.get(name.split()[2] if "all" in name else "one")
            assert number == held
    near = advice.hands[:5]
    users = [reach for reach in near if needing(reach, rack, keep.kind)]
    match = NEED.match(text[:1].lower() + text[1:])
    if match is None:
        match, rest = take(text[:1].lower() + text[1:], r"the one hand in reach (needs|has|doesn't need|doesn't have) ")
        assert match
        assert len(near) == 1
        assert ("doesn't" in match[1]) == (not users)
        _, rest = take(rest, rf"(a place for )?(it|both|all ({WORDS}))( in a larger group)?")
    else:
        said = 0 if match["none"] else NUMBERS[match["some"]] if match["some"] else len(near)
        assert said == len(users)
        assert (match["place"] is not None) == (keep.kind == JOKER)
        assert match["count"] is None or NUMBERS[match["count"]] == len(near)
        assert match["of"] is None or NUMBERS[match["of"]] == len(near)
        what = match["what"]
        assert held == {"it": 1, "both": 2}.get(what, NUMBERS.get(what.removeprefix("all ")))
        rest = match["rest"]
        met.add("none" if match["none"] else "need")
    rest = check_places(rest, users, rack, keep.kind, met)
    match, rest = take(
        rest, rf", but (?:({WORDS}) further hands? do(?:es)?|other ways to make a hand use (?:it|both|all \w+))"
    )
    if match:
        further = sum(needing(reach, rack, keep.kind) for reach in advice.hands[5:])
        assert not users
        assert keep.cost > 0
        assert further == (NUMBERS[match[1]] if match[1] else 0)
        met.add("further")
    match, rest = take(rest, r"; (no other is left to come|only one more can come)")
    if match:
        assert unseen[keep.kind] == (0 if match[1].startswith("no") else 1)
        met.add("scarce")
    match, rest = take(rest, r"; (without it|with one fewer) (.+?) can't be made any more")
    if match:
        assert (match[1] == "without it") == (held == 1)
        fewer = plain.without(rack, keep.kind)
        lost = [
            reach.hand.name
            for reach in advice.hands
            if not any(
                plain.can_still_be(v, fewer, unseen) and plain.missing(v, fewer) <= draws for v in reach.hand.variants
            )
        ]
        assert match[2] == (lost[0] if len(lost) == 1 else f"{in_words(len(lost))} hands")
        met.add("lost")
    match, rest = take(rest, r"; letting (it|one) go costs (.+)$")
    if match:
        assert (match[1] == "it") == (held == 1)
        check_cost(match[2], keep.cost)
        met.add("cost")
    match, rest = take(rest, r", but letting (it|one) go costs nothing$")
    if match:
        assert (match[1] == "it") == (held == 1)
        assert keep.cost == 0 < len(users)
        met.add("nothing")
    match, rest = take(rest, r", but letting any other tile go costs (.+?)( more)?$")
    if match:
        assert goes
        others = [other.cost for other in advice.keeps[:-1]]
        if match[1] == "no less":
            assert min(others) == 0
        else:
            check_cost(match[1], min(others))
        met.add("other")
    assert rest == "", sentence
    assert goes or "as well" in met or "cost" in met
    return met


def check_places(rest, users, rack, kind, met):
    """The claims about pairs and singles."""
    match, rest = take(
        rest, r", ((?:each |\w+ )?as a (?:pair|single)(?: and \w+ as a single)?), which a joker can't fill"
    )
    strict = [reach for reach in users if kind != JOKER and rack[kind] <= reach.variant.real[kind]]
    assert (match is not None) == bool(strict)
    if match:
        pairs = [r for r in strict if any(g.size == 2 and g.kind == kind for g in r.variant.groups)]
        said = {"pair": 0, "single": 0}
        for part in match[1].split(" and "):
            who, _, what = part.rpartition("as a ")
            said[what] = {"": 1, "each": len(users)}.get(who.strip()) or NUMBERS[who.strip()]
        assert said == {"pair": len(pairs), "single": len(strict) - len(pairs)}
        met.add("strict")
    return rest


def check_cost(text, cost):
    """`4.1 points of odds`, `under 0.1 points of odds` or `nothing`."""
    if text == "nothing":
        assert cost == 0
    elif text.startswith("under"):
        assert text == "under 0.1 points of odds"
        assert 0 < cost < 0.0005
    else:
        assert text == f"{cost * 100:.1f} points of odds"
        assert cost >= 0.0005


def rack_near(random, table):
    """Fourteen tiles with many of one variant's among them, and what is unseen after some discards."""
    variant = random.choice(table.variants)
    wall = [kind for kind, copies in enumerate(full_set()) for _ in range(copies)]
    random.shuffle(wall)
    rack = [0] * KINDS
    wanted = random.randrange(3, 13)
    for kind in kinds_of(variant.total)[:wanted]:
        if kind in wall:
            wall.remove(kind)
            rack[kind] += 1
    while sum(rack) < 14:
        rack[wall.pop()] += 1
    del wall[: random.choice((0, 0, 30, 80))]
    unseen = [0] * KINDS
    for kind in wall:
        unseen[kind] += 1
    return tuple(rack), tuple(unseen)


@pytest.mark.parametrize("name", ["first-steps", "lantern-street"])
@pytest.mark.slow
def test_every_claim_is_so(name):
    """Over many racks, far and near, every claim of every sentence equals a fresh count, and all claims occur."""
    table = SheetTable.of(find(name))
    random = Random(name)
    met = set()
    for _ in range(60):
        rack, unseen = rack_near(random, table)
        draws = min(random.choice((2, 8, 25, 60)), sum(unseen))
        advice = advise(Moment.of(table, rack, unseen, draws))
        for keep in advice.keeps:
            sentence = keep.because
            if not advice.hands:
                assert "no hand is in reach" in sentence.lower()
            elif advice.hands[0].missing == 0 and keep is advice.keeps[-1]:
                assert sentence.startswith(advice.hands[0].hand.name + " is finished")
            else:
                met |= check(sentence, advice, keep, rack, unseen, draws)
    assert met >= {"none", "need", "strict", "further", "scarce", "lost", "cost", "other"}
