"""Shuffles and deal codes: pinned deals, every slip caught, and errors that say what to do."""

import random
from dataclasses import replace
from pathlib import Path

import pytest
from depth import deep
from houses import EXAMPLES, FIRST_HOUSES, HOUSES
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.rules import deal
from engine.rules.deal import ALPHABET, SEEDS, USUAL, DealCode, DealCodeError, edition_of, shuffle
from engine.rules.house import FULL, House, write_house
from engine.rules.state import tiles_in
from engine.tiles import counts_of, full_set, parse_tiles, write_tiles

DATA = Path(__file__).parents[2] / "data"
SEED = st.integers(0, SEEDS - 1)


def golden():
    """The pinned deals: code, house as the record writes it, and the wall."""
    blocks = (DATA / "deals.txt").read_text(encoding="utf-8").strip().split("\n\n")
    return [dict(line.split(": ", 1) for line in block.splitlines()) for block in blocks if not block.startswith("#")]


@pytest.mark.parametrize("block", golden(), ids=lambda block: block["code"])
def test_three_deals_are_pinned(block):
    """The wall of a code never changes, whatever Python runs it: a code is a promise."""
    code = DealCode.parse(block["code"])
    assert write_tiles(code.wall()) == block["wall"]
    assert write_house(code.house) == block["house"]
    assert str(code) == block["code"]
    assert str(code.seed) == block["seed"]


def test_the_pinned_deals_are_three_and_of_different_houses():
    """Two short codes and a long one."""
    assert sorted(len(block["code"]) for block in golden()) == [14, 14, 19]


@settings(max_examples=300)
@given(HOUSES, SEED)
@pytest.mark.slow
def test_a_code_is_read_back_however_it_is_typed(kit, house, seed):
    """Case, hyphens and spaces don't count; 12 characters for the usual rules, 16 to 28 for others."""
    code = DealCode.of(kit.sheet, house, seed)
    text = str(code)
    assert len(text.replace("-", "")) in ((12,) if house in USUAL else (16, 20, 24, 28))
    for typed in (
        text,
        text.lower(),
        text.replace("-", ""),
        text.replace("-", " "),
        f"  {text}\n",
        text.replace("-", "–"),
    ):
        assert DealCode.parse(typed) == code
    assert code.is_for(kit.sheet)
    assert not code.is_for(kit.other)


@settings(max_examples=100)
@given(FIRST_HOUSES, SEED)
def test_rules_that_old_codes_know_are_written_as_old_codes_were(kit, house, seed):
    """Version 1, in 12 or 16 characters, so that programs of before can deal it too."""
    code = DealCode.of(kit.sheet, house, seed)
    assert code.version == 1
    assert len(str(code).replace("-", "")) == (12 if house in USUAL else 16)


@pytest.mark.parametrize("name", EXAMPLES)
def test_one_later_rule_makes_a_code_of_twenty_characters(kit, name):
    """Each rule by itself is kept by the code, which deals the same wall as one without it."""
    house = House(**{"table": FULL, "passes": 6, "courtesy": True, name: EXAMPLES[name]})
    code = DealCode.of(kit.sheet, house, 99)
    assert (code.version, len(str(code).replace("-", ""))) == (2, 20)
    assert DealCode.parse(str(code)).house == house
    assert code.wall() == DealCode.of(kit.sheet, House(), 99).wall()


@given(SEED)
def test_look_alikes_are_read_as_what_they_look_like(kit, seed):
    """O for 0, I and L for 1, U for V."""
    code = DealCode.of(kit.sheet, USUAL[0], seed)
    text = str(code)
    for letter, alike in (("0", "O"), ("0", "o"), ("1", "I"), ("1", "l"), ("V", "U"), ("V", "u")):
        assert DealCode.parse(text.replace(letter, alike)) == code
    assert not set("ILOU") & set(ALPHABET)
    assert len(ALPHABET) == 32


SAMPLES = [(USUAL[0], 0), (USUAL[1], 123456789), (USUAL[2], SEEDS - 1), (House(picks=40, seat=2), 987654321)]


@pytest.mark.parametrize(("house", "seed"), SAMPLES)
def test_every_single_slip_is_caught(kit, house, seed):
    """Each character replaced by each other one: never another deal, always a sentence about a slip."""
    text = str(DealCode.of(kit.sheet, house, seed)).replace("-", "")
    for place, right in enumerate(text):
        for wrong in ALPHABET:
            if wrong != right:
                with pytest.raises(DealCodeError, match="has a slip in it"):
                    DealCode.parse(text[:place] + wrong + text[place + 1 :])


@settings(max_examples=200)
@given(HOUSES, SEED)
@pytest.mark.slow
def test_every_swap_of_neighbours_is_caught(kit, house, seed):
    """Any two neighbours that differ, the check character included; and so is any other pair."""
    text = str(DealCode.of(kit.sheet, house, seed)).replace("-", "")
    for first in range(len(text)):
        for second in range(first + 1, len(text)):
            if text[first] != text[second]:
                swapped = list(text)
                swapped[first], swapped[second] = swapped[second], swapped[first]
                with pytest.raises(DealCodeError, match="has a slip in it"):
                    DealCode.parse("".join(swapped))


def test_a_code_for_another_sheet_or_edition_says_so(kit):
    """Not dealt, but named: another sheet or another edition."""
    code = DealCode.of(kit.other, House(), 5)
    with pytest.raises(
        DealCodeError, match="made for another sheet or another edition than Copper Kettle of season 2031"
    ):
        code.deal(kit.sheet)
    assert tiles_in(code.deal(kit.other)) == full_set()
    edited = replace(kit.sheet, canonical=kit.sheet.canonical + " ")
    assert edition_of(edited.fingerprint) != edition_of(kit.sheet.fingerprint)


def test_a_newer_shuffle_says_so(kit):
    """A code of a later program is not dealt wrongly."""
    newer = replace(DealCode.of(kit.sheet, House(), 5), version=deal.NEWEST + 1)
    with pytest.raises(DealCodeError, match="newer edition of the game"):
        DealCode.parse(str(newer))


@pytest.mark.parametrize("text", ["", "-", "68CW", "68CW-4000-C1SS-0", "0" * 99, "0" * 100000, "68CW-4000-C1S", "\x00"])
def test_a_code_that_is_not_whole_says_how_long_one_is(text):
    """One sentence, quoting the text cut short."""
    with pytest.raises(DealCodeError) as caught:
        DealCode.parse(text)
    assert len(str(caught.value)) < 250
    assert f"“{text[:40]}”" in str(caught.value)


@pytest.mark.parametrize("char", "!?.,ß€Ωıſ①²٣é*'\"")
def test_a_character_that_no_code_has_is_named(char):
    """Letters of other scripts are not taken for their look-alikes."""
    with pytest.raises(DealCodeError, match="which no code does"):
        DealCode.parse("68CW-4000-C1S" + char)


def written(bits, length):
    """A code of the given bits with a right check character."""
    values = [bits >> 5 * place & 31 for place in range(length - 2, -1, -1)]
    return "".join(ALPHABET[value] for value in (*values, deal._check(values)))


HEAD = 52  # bits of edition and seed, plus those of the number of the usual house rules
LONG = 20  # bits of the house rules


@pytest.mark.parametrize(
    ("bits", "length"),
    [
        (0, 12),  # version 0
        (1 << HEAD, 12),  # short, but naming no usual rules
        ((1 << HEAD | 1 << 50) << LONG, 16),  # long, but naming usual rules
        ((1 << HEAD) << LONG | 11 << 15, 16),  # 11 jokers
        ((1 << HEAD) << LONG | 8 << 15 | 100 << 8, 16),  # 100 picks
        ((1 << HEAD) << LONG | 8 << 15 | 7 << 3, 16),  # 7 passes
        ((1 << HEAD) << LONG | 8 << 15 | 40 << 8 | 1 << 1, 16),  # rules that a short code names
        ((2 << HEAD) << LONG | 8 << 15, 16),  # version 2 without its rules
        (((2 << HEAD) << LONG | 8 << 15) << 20, 20),  # version 2 with no rule that needs it
        (((2 << HEAD) << LONG | 8 << 15) << 20 | 1 << 19 | 1, 20),  # something behind the last rule
        (((2 << HEAD) << LONG | 8 << 15) << 20 | 1 << 16 | 63 << 10, 20),  # no call in the last 63 tiles
        (((3 << HEAD) << LONG | 8 << 15) << 20, 20),  # version 3 with neither a twist nor two racks
        (((3 << HEAD) << LONG | 8 << 15) << 20 | 63 << 3, 20),  # a twist that there is not
        (((3 << HEAD) << LONG | 1 << 19 | 8 << 15) << 20 | 1 << 2, 20),  # two racks at a full table
    ],
)
def test_a_code_with_a_right_check_but_nonsense_inside_is_refused(bits, length):
    """It is whole and without a slip, and still none that this game writes."""
    with pytest.raises(DealCodeError, match="was not made by this game"):
        DealCode.parse(written(bits, length))


def test_the_layout_of_the_nonsense_above_is_that_of_a_code():
    """The same bits with sensible values are a code, so that the test above fails for the reason it names."""
    code = DealCode.parse(written((1 << HEAD) << LONG | 1 << 19 | 7 << 15 | 99 << 8 | 3 << 6 | 6 << 3 | 0b101, 16))
    assert code == DealCode(House("full", 7, 99, 3, 6, True, False, True), seed=0, edition=0, version=1)
    code = DealCode.parse(written(((2 << HEAD) << LONG | 1 << 19 | 7 << 15) << 20 | 1 << 19 | 1 << 16 | 40 << 10, 20))
    assert code == DealCode(House("full", 7, blind=False, vote=False, last_tiles=40), seed=0, edition=0, version=2)
    assert DealCode.parse(written(1 << HEAD | 1 << 50 | 77, 12)) == DealCode(USUAL[0], seed=77, edition=0, version=1)


@settings(max_examples=deep(80, 200))
@given(st.text(max_size=60))
@pytest.mark.slow
def test_any_text_is_a_code_or_refused(text):
    """Nothing but DealCodeError comes out."""
    try:
        DealCode.parse(text)
    except DealCodeError as error:
        assert str(error).startswith("the deal code “")  # noqa: PT017 (most texts are no code, some might be)


def slow_shuffle(seed, jokers):
    """The textbook's way: from the last place down, swap with a place chosen among those not yet settled."""
    generator = random.Random(seed)
    tiles = [kind for kind, count in enumerate(full_set(jokers)) for _ in range(count)]
    place = len(tiles)
    while place > 1:
        chosen = int(generator.random() * place)
        place -= 1
        tiles[place], tiles[chosen] = tiles[chosen], tiles[place]
    return tuple(tiles)


@given(SEED, st.integers(0, 10))
def test_a_shuffle_is_the_whole_set_in_the_textbooks_order(seed, jokers):
    """Fisher-Yates over `random()` alone, every tile once, the same each time."""
    wall = shuffle(seed, jokers)
    assert counts_of(wall) == full_set(jokers)
    assert wall == slow_shuffle(seed, jokers) == shuffle(seed, jokers)


@pytest.mark.parametrize("seed", [-1, SEEDS])
def test_a_seed_out_of_range_says_what_to_choose(kit, seed):
    """For the shuffle and the code alike."""
    with pytest.raises(ValueError, match="choose 0 to 2147483647"):
        shuffle(seed)
    with pytest.raises(ValueError, match="choose 0 to 2147483647"):
        DealCode.of(kit.sheet, House(), seed)


def test_the_usual_rules_are_pinned():
    """Codes name them by number, so they may never change."""
    assert (
        House("quiet", 8, 40, 0, 0, False, True, False),
        House("quiet", 8, 40, 0, 6, True, True, False),
        House("full", 8, 0, 0, 6, True, True, False),
    ) == USUAL
    assert parse_tiles(write_tiles(shuffle(1))) == shuffle(1)
