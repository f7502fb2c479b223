"""Twists: each changes what its sentence says, and nothing else; codes and records carry it."""

from collections import Counter
from dataclasses import replace
from itertools import permutations

import pytest
from twist_kit import tiles

from engine.rules.actions import Call, Discard, Exchange, IllegalActionError, LetGo, Mahjong
from engine.rules.deal import DealCode, DealCodeError
from engine.rules.faults import faults_to_show
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import FULL, QUIET, House, parse_house, write_house
from engine.rules.matching import match
from engine.rules.observation import observe
from engine.rules.refusals import HandFault, Rule
from engine.rules.sentences import fault_sentence, sentence
from engine.rules.state import Discarded, Exposure, Phase, tiles_in
from engine.rules.twists.known import sheet_of_deal, twist_named, twists_for
from engine.rules.twists.names import TWISTS
from engine.rules.twists.sheets import rare_section
from engine.tiles import full_set, kind_of
from game.words.deal.twists import twist_effect


def makes(kit, twist, text, exposures=()):
    """The name of the hand that the tiles make under a twist, or None."""
    house = House(table=FULL, twist=twist)
    found = match(sheet_of_deal(kit.sheet, house), tiles(text), exposures, house)
    return None if found is None else found[0].name


def test_the_twists_are_sixteen_and_say_one_sentence_each():
    """Names as the deal codes count them; no sentence twice; ten of them mean something at the quiet table."""
    named = [twist_named(name) for name in TWISTS]
    assert [twist.name for twist in named] == list(TWISTS) == [twist.name for twist in twists_for(FULL)]
    assert (len(twists_for(QUIET)), len(twists_for(FULL))) == (10, 16)
    for said in [twist.says for twist in named] + [twist.unweighed for twist in named if twist.unweighed]:
        assert said.count(".") == 1
        assert said.endswith(".")
    assert len({twist.says for twist in named}) == len({twist.title for twist in named}) == 16


@pytest.mark.parametrize("name", TWISTS)
def test_codes_and_house_lines_carry_the_twist(kit, name):
    """Version 3, at most 28 characters; the wall is that of the deal without the twist."""
    unusual = House(vote=False, loss_limit=300, others="sharp sharp sharp")
    for house in (House(table=FULL, passes=6, courtesy=True), unusual):
        bent = House(**{**vars(house), "twist": name})
        code = DealCode.of(kit.sheet, bent, 4711)
        assert DealCode.parse(str(code).lower()) == code
        assert (code.version, code.house.twist) == (3, name)
        assert len(str(code).replace("-", "")) in (20, 24, 28)
        assert code.wall() == DealCode.of(kit.sheet, house, 4711).wall()
        assert parse_house(write_house(bent)) == bent


def test_the_numbers_of_the_twists_are_pinned(kit):
    """A code is a promise: a twist keeps its number."""
    pinned = {
        "mirror": "mirror", "step": "step", "winds": "winds", "dragons": "dragons", "petals": "petals",
        "proud": "proud", "ten": "ten", "rare": "rare", "flowers": "flowers", "quick": "quick", "open": "open",
        "closed": "closed", "slow": "slow", "large": "large", "glue": "glue", "left": "left",
    }  # fmt: skip
    assert tuple(pinned) == TWISTS
    plain = DealCode.of(kit.sheet, House(), 1)
    with pytest.raises(DealCodeError):
        DealCode.parse(str(DealCode(House(), plain.seed, plain.edition, version=3)))


def test_an_unknown_twist_is_refused():
    """With the ones that there are."""
    with pytest.raises(ValueError, match="twist is “upside down”; choose one of mirror, step"):
        House(twist="upside down")


def test_a_sheet_is_twisted_once_and_can_be_had_plain(kit):
    """The same value every time, whether or not it was twisted before; a cut of it is plain."""
    house = House(twist="mirror")
    once = sheet_of_deal(kit.sheet, house)
    assert sheet_of_deal(once, house) is sheet_of_deal(kit.sheet, house) is once
    assert once.plain == kit.sheet
    assert sheet_of_deal(once, House()) is once.plain
    assert once.cut(["Sums"]) == kit.sheet.cut(["Sums"])
    assert (once.fingerprint, once.twist) == (kit.sheet.fingerprint, "mirror")
    assert start(once, house, kit.wall(("", "", "", ""))).sheet is once


# Twists that change which tiles make a hand. Each is held against a slow reading of its sentence.


def renamed(kit, rename):
    """The variants of each hand as sorted (size, code) pairs, with what a rename of codes gives besides."""
    found = {}
    for hand in kit.sheet.hands:
        ways = set()
        for variant in hand.variants:
            groups = [(group.size, group.kind) for group in variant.groups]
            for new in (groups, *rename(groups)):
                uses = Counter()
                for size, kind in new:
                    uses[kind] += size
                # Only jokers make up for copies that the set lacks, and none of them in singles and pairs.
                strict = Counter()
                for size, kind in new:
                    strict[kind] += size * (size < 3)
                short = sum(max(0, count - full_set()[kind]) for kind, count in uses.items())
                if short <= 8 and all(count <= full_set()[kind] for kind, count in strict.items()):
                    ways.add(tuple(sorted(new)))
        found[hand.name] = ways
    return found


def by_kind(table):
    """A rename by a table of tile codes."""
    kinds = {kind_of(one): kind_of(other) for one, other in table.items()}
    return lambda groups: [[(size, kinds.get(kind, kind)) for size, kind in groups]]


MIRROR = {f"{rank}{suit}": f"{10 - rank}{suit}" for suit in "bcd" for rank in range(1, 10)}


def stepped(groups):
    """Every number one higher, where there is no 9."""
    ranks = {kind_of(f"{rank}{suit}"): kind_of(f"{rank + 1}{suit}") for suit in "bcd" for rank in range(1, 9)}
    nines = {kind_of(f"9{suit}") for suit in "bcd"}
    return [] if any(kind in nines for _, kind in groups) else [[(s, ranks.get(kind, kind)) for s, kind in groups]]


def wandering(groups):
    """The dragons in every order."""
    codes = ("dg", "dr", "dw")
    return [one for order in permutations(codes) for one in by_kind(dict(zip(codes, order, strict=True)))(groups)]


@pytest.mark.parametrize(
    ("name", "rename"),
    [
        ("mirror", by_kind(MIRROR)),
        ("step", stepped),
        ("winds", by_kind({"we": "ww", "ww": "we", "wn": "ws", "ws": "wn"})),
        ("dragons", wandering),
        ("petals", by_kind({"fl": "dw"})),
    ],
)
def test_the_variants_are_those_of_the_sentence(kit, name, rename):
    """Every variant of the sheet, and every one that the sentence adds, once each."""
    bent = sheet_of_deal(kit.sheet, House(twist=name))
    wanted = renamed(kit, rename)
    assert {hand.name: len(hand.variants) for hand in bent.hands} == {one: len(ways) for one, ways in wanted.items()}
    for hand in bent.hands:
        ways = {tuple(sorted((group.size, group.kind) for group in variant.groups)) for variant in hand.variants}
        assert ways == wanted[hand.name]
        plain = kit.sheet.hand(hand.name)
        assert (hand.points, hand.concealed) == (plain.points, plain.concealed)


@pytest.mark.parametrize(
    ("name", "text", "hand"),
    [
        ("mirror", "2x9b 4x7b 3x6b 2x5b 3x4b", "Landing"),
        ("step", "6xfl 2x2b 2x3c 4x4d", "Small sums"),
        ("winds", "3x1b jk jk 3xww jk 4x2b jk", "Two fives"),
        ("dragons", "3x3b jk jk jk 2xdw 2xdr 4xfl", "Doubled"),
        ("petals", "3x3b jk jk jk 2xdg 2xdr 4xdw", "Doubled"),
    ],
)
def test_tiles_that_only_the_twist_makes_a_hand(kit, name, text, hand):
    """They are none without it."""
    assert makes(kit, name, text) == hand
    assert makes(kit, "", text) is None


def test_proud_jokers_stand_in_groups_of_four_or_more(kit):
    """A joker in the kong is as ever; one in a pung makes no hand, and the fault says why."""
    kong, pung = "2x1d 3x3d jk 3x4d 2x5d 3x6d", "2x1d 4x3d 2x4d jk 2x5d 3x6d"
    assert [makes(kit, twist, text) for twist in ("", "proud") for text in (kong, pung)] == ["Landing"] * 3 + [None]
    state = kit.table(east=pung, twist="proud")
    (fault,) = faults_to_show(state, 0)
    assert fault.fault == HandFault.JOKER_IN_PAIR
    assert fault_sentence(fault).endswith("since in this deal a joker stands in groups of four or more only.")


def test_proud_jokers_are_laid_in_no_pung(kit):
    """A pung of three real tiles may be called for; one with a joker is refused, a kong with one is not."""
    calling = apply(kit.table(east="3d 6d", south="2x3d 2x6d jk", table=FULL, twist="proud"), Discard(kind_of("6d")))
    assert Call(3, 0) in legal_actions(calling)
    assert Call(3, 1) not in legal_actions(calling)
    with pytest.raises(IllegalActionError) as caught:
        apply(calling, Call(3, 1))
    assert caught.value.refusal.rule is Rule.TWIST
    assert "groups of four or more only" in sentence(caught.value.refusal, 1)
    calling = apply(kit.table(east="3d", south="2x3d jk", table=FULL, twist="proud"), Discard(kind_of("3d")))
    assert Call(4, 1) in legal_actions(calling)


# The wall.


def test_ten_tiles_lie_open_beside_the_wall(kit):
    """They are the last ten of the deal: seen by all, drawn by nobody; the set is whole."""
    wall = kit.wall(("", "", "", ""))
    state, plain = (start(kit.sheet, House(table=FULL, twist=twist), wall) for twist in ("ten", ""))
    assert (len(state.wall), len(plain.wall)) == (89, 99)
    assert state.aside == wall[-10:]
    assert tiles_in(state) == full_set()
    for seat in range(4):
        seen = observe(state, seat)
        unseen = Counter(dict(enumerate(observe(plain, seat).unseen)))
        unseen.subtract(wall[-10:])
        assert seen.unseen == tuple(unseen[kind] for kind in range(36))
        assert seen.aside == state.aside
    quiet = start(kit.sheet, House(twist="ten"), wall)
    assert observe(quiet, 0).picks_left == 89


# Calls and exchanges.


def test_open_and_closed_doors(kit):
    """Every hand open: a concealed one may be exposed. Every hand concealed: nothing is called but mahjong."""
    bent = {twist: sheet_of_deal(kit.sheet, House(table=FULL, twist=twist)) for twist in ("", "open", "closed")}
    hidden = {twist: {hand.concealed for hand in sheet.hands} for twist, sheet in bent.items()}
    assert hidden == {"": {False, True}, "open": {False}, "closed": {True}}
    vane = kit.sheet.hand("Vane").variants[0]
    laid = (Exposure(3, vane.groups[4].kind),)
    rest = list(vane.total)
    rest[laid[0].kind] -= 3
    assert [match(bent[twist], rest, laid) is not None for twist in ("", "open", "closed")] == [False, True, False]
    for twist, phase in (("", Phase.CALLING), ("closed", Phase.DRAWING)):
        state = kit.table(east="3d", south="2x3d jk", table=FULL, twist=twist)
        assert apply(state, Discard(kind_of("3d"))).phase is phase


def test_a_slow_start(kit):
    """With eleven tiles let go the call is refused; the twelfth may be called."""
    state = apply(kit.table(east="3d", south="2x3d jk", table=FULL, twist="slow"), Discard(kind_of("3d")))
    assert state.phase is Phase.DRAWING
    earlier = (Discarded(0, kind_of("1b")),) * 10
    calling = replace(state, phase=Phase.CALLING, to_act=1, asked=(1,), discards=(*earlier, *state.discards))
    assert legal_actions(calling) == (LetGo(),)
    later = replace(calling, discards=(earlier[0], *calling.discards))
    assert Call(4, 1) in legal_actions(later)


def test_large_calls(kit):
    """A pung is refused with the twist's sentence, a kong is not."""
    for twist, phase in (("", Phase.CALLING), ("large", Phase.DRAWING)):
        state = kit.table(east="6d", south="2x6d", table=FULL, twist=twist)
        assert apply(state, Discard(kind_of("6d"))).phase is phase
    state = kit.table(east="3d", south="2x3d jk", table=FULL, twist="large")
    calling = apply(state, Discard(kind_of("3d")))
    assert Call(4, 1) in legal_actions(calling)
    with pytest.raises(IllegalActionError) as caught:
        apply(calling, Call(3, 0))
    said = sentence(caught.value.refusal)
    assert said.startswith("The twist of this deal does not allow it. Only groups of four or more")


def test_jokers_stay(kit):
    """No exchange is offered, and one that is tried is refused with the twist's sentence."""
    for twist, there in (("", True), ("glue", False)):
        state = apply(kit.table(east="3d", south="2x3d jk", west="3d", table=FULL, twist=twist), Discard(kind_of("3d")))
        state = apply(state, Call(4, 1))
        state = kit.until_turn_of(apply(state, Discard(state.racks[1][-1])), 2)
        swap = Exchange(1, 0, kind_of("3d"))
        assert (swap in legal_actions(state)) is there
        if not there:
            with pytest.raises(IllegalActionError, match="A joker in an exposure stays there"):
                apply(state, swap)


def test_from_the_left(kit):
    """The next seat may call what East lets go; the seat across may not, except for mahjong."""
    for caller, seat in (("south", 1), ("west", 2)):
        state = apply(kit.table(east="3d", table=FULL, twist="left", **{caller: "2x3d jk"}), Discard(kind_of("3d")))
        assert (state.phase is Phase.CALLING) is (seat == 1)
    whole = "2x1d 3x3d 3x4d 2x5d 3x6d"
    state = apply(kit.table(east="3d", west=whole, table=FULL, twist="left"), Discard(kind_of("3d")))
    assert legal_actions(state) == (LetGo(), Mahjong())


# Points.


WHOLE = "2x1d 4x3d 3x4d 2x5d 3x6d"

BOUQUET = "6xfl 4x1b 2x1c 2x1d"


@pytest.mark.parametrize(
    ("twist", "rack", "without", "points"),
    [
        ("", WHOLE, "", 30 * 2 * 6),
        ("rare", WHOLE, "Stairs pays double", 30 * 2 * 2 * 6),
        ("quick", WHOLE, "pays double: only no tiles", 30 * 2 * 6 * 2),
        ("rare", BOUQUET, "", 35 * 2 * 6),
        ("flowers", BOUQUET, "six flowers in the hand add 12 points", (35 + 12) * 2 * 6),
        ("flowers", WHOLE, "", 30 * 2 * 6),
    ],
)
def test_what_a_hand_pays(kit, twist, rack, without, points):
    """Jokerless, self-drawn: every seat pays double the hand's points, which the twist may raise."""
    state = apply(kit.table(east=rack, table=FULL, twist=twist), Mahjong())
    assert state.outcome.points == points
    assert without in twist_effect(state)
    assert bool(without) == bool(twist_effect(state))


def test_the_rare_section_pays_double(kit):
    """The section whose hands have the fewest variants together, counted here by hand."""
    counts = Counter()
    for hand in kit.sheet.hands:
        counts[hand.section] += len(hand.variants)
    rare = min(counts, key=counts.get)
    assert rare_section(kit.sheet) == rare
    bent = sheet_of_deal(kit.sheet, House(twist="rare"))
    for hand in kit.sheet.hands:
        assert bent.hand(hand.name).points == hand.points * (2 if hand.section == rare else 1)


def test_a_quick_hand_is_one_after_fifteen_tiles_let_go(kit):
    """Fifteen, not sixteen; other seats' discards don't count."""
    for mine, points in ((15, 720), (16, 360)):
        state = kit.table(east=WHOLE, table=FULL, twist="quick")
        before = (Discarded(1, kind_of("1b")),) * 30 + (Discarded(0, kind_of("1b")),) * mine
        assert apply(replace(state, discards=before), Mahjong()).outcome.points == points
    twist = twist_named("quick")
    assert [twist.times(number) for number in (0, 15, 16, 40)] == [2, 2, 1, 1]
    assert all(twist_named(name).times(0) == 1 for name in TWISTS if name != "quick")
