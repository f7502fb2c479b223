"""Tile kinds: every small helper goes there and back, and bad text says what to write."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine import tiles

KINDS = st.integers(0, tiles.KINDS - 1)


def test_every_kind_is_read_back_from_its_code_and_its_character():
    """Code and character name the kind they were made from, in any case."""
    for kind in range(tiles.KINDS):
        assert tiles.kind_of(tiles.code(kind)) == kind
        assert tiles.kind_of(tiles.code(kind).upper()) == kind
        assert tiles.kind_of(tiles.character(kind)) == kind


def test_codes_and_names_are_all_different():
    """No two kinds share a code, a name or a character."""
    for words in (tiles.CODES, tiles.NAMES, tiles.CHARACTERS):
        assert len(set(words)) == tiles.KINDS


def test_codes_agree_with_names():
    """A code's letters are the first letters of the name's words, so that neither list can be swapped unseen."""
    for kind, (code, name) in enumerate(zip(tiles.CODES, tiles.NAMES, strict=True)):
        first, _, second = name.partition(" ")
        expected = {"flower": "fl", "joker": "jk"}.get(name)
        if expected is None and kind < 27:
            expected = first + second[0]
        elif expected is None:
            expected = second[0] + first[0]
        assert code == expected


@given(st.integers(0, 2), st.integers(1, 9))
def test_number_tiles_give_back_suit_and_rank(suit, rank):
    """Suit and rank go in and come out again."""
    kind = tiles.number(suit, rank)
    assert (tiles.suit_of(kind), tiles.rank_of(kind)) == (suit, rank)
    assert tiles.name(kind) == f"{rank} {tiles.SUITS[suit]}"


def test_honours_have_neither_suit_nor_rank():
    """Winds, dragons, flower and joker belong to no suit."""
    for kind in range(27, tiles.KINDS):
        assert tiles.suit_of(kind) is None
        assert tiles.rank_of(kind) is None


@pytest.mark.parametrize(("suit", "name"), [(0, "green dragon"), (1, "red dragon"), (2, "white dragon")])
def test_dragon_goes_with_suit(suit, name):
    """Green goes with bams, red with craks, white with dots (common practice, no source)."""
    assert tiles.name(tiles.dragon_of(suit)) == name


@given(st.lists(KINDS, max_size=20))
def test_a_rack_is_read_back_from_its_text(kinds):
    """Writing and reading a rack keeps its tiles and their order."""
    assert tiles.parse_tiles(tiles.write_tiles(kinds)) == tuple(kinds)
    assert tiles.parse_tiles("".join(tiles.character(kind) for kind in kinds)) == tuple(kinds)


@given(st.lists(st.integers(0, 9), min_size=36, max_size=36))
def test_counts_and_kinds_are_inverse(counts):
    """Counts made from kinds made from counts are the counts."""
    assert tiles.counts_of(tiles.kinds_of(counts)) == tuple(counts)


def test_repeats_may_be_written_short():
    """`3x5d` stands for three 5 dots; commas part tiles too."""
    assert tiles.parse_tiles("3x5d, we") == tiles.parse_tiles("5d 5d 5d we")


@pytest.mark.parametrize("text", ["0d", "5x", "0x5d", "15x5d", "999999x5d", "x5d", "🀄x", "5d5d", "\0", "ja", "w"])
def test_a_text_that_is_no_tile_says_what_to_write(text):
    """One sentence quotes the word and shows what a code looks like."""
    with pytest.raises(tiles.TileError, match="write"):
        tiles.parse_tiles(text)


@pytest.mark.parametrize(("suit", "rank"), [(3, 1), (-1, 1), (0, 0), (0, 10)])
def test_there_is_no_number_tile_outside_the_suits(suit, rank):
    """A suit or rank out of range is refused."""
    with pytest.raises(tiles.TileError):
        tiles.number(suit, rank)


def test_tiles_are_said_as_a_list():
    """Names are joined as in a sentence."""
    assert tiles.say_tiles(()) == ""
    assert tiles.say_tiles((tiles.FLOWER,)) == "flower"
    assert tiles.say_tiles((0, tiles.EAST, tiles.JOKER)) == "1 bam, east wind and joker"
