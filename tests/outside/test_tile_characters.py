"""Tile characters against the Unicode Character Database, block Mahjong Tiles, as Python's `unicodedata` has it."""

import unicodedata

from engine import tiles

SUIT_WORDS = {"bam": "BAMBOOS", "crak": "CHARACTERS", "dot": "CIRCLES"}
RANK_WORDS = "ONE TWO THREE FOUR FIVE SIX SEVEN EIGHT NINE".split()


def test_number_tiles_have_the_characters_that_unicode_names():
    """MAHJONG TILE FIVE OF CIRCLES is the 5 dot, and so for all 27."""
    for suit, suit_word in enumerate(SUIT_WORDS.values()):
        for rank, rank_word in enumerate(RANK_WORDS, start=1):
            character = unicodedata.lookup(f"MAHJONG TILE {rank_word} OF {suit_word}")
            assert tiles.character(tiles.number(suit, rank)) == character


def test_winds_dragons_and_joker_have_the_characters_that_unicode_names():
    """MAHJONG TILE EAST WIND is the east wind, MAHJONG TILE JOKER the joker."""
    for kind in (*tiles.WINDS, *tiles.DRAGONS, tiles.JOKER):
        assert unicodedata.name(tiles.character(kind)) == f"MAHJONG TILE {tiles.name(kind).upper()}"


def test_all_flower_and_season_characters_are_the_flower():
    """The four plants and the four seasons of the block are one kind here."""
    words = "PLUM ORCHID BAMBOO CHRYSANTHEMUM SPRING SUMMER AUTUMN WINTER".split()
    for word in words:
        assert tiles.kind_of(unicodedata.lookup(f"MAHJONG TILE {word}")) == tiles.FLOWER


def test_the_set_holds_152_tiles():
    """Three suits of 36, 16 winds, 12 dragons, 8 flowers, 8 jokers (common practice, no source)."""
    assert sum(tiles.full_set()) == 152 == 3 * 36 + 16 + 12 + 8 + 8
    assert sum(tiles.full_set(0)) == 144
