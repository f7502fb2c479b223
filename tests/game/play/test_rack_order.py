"""The rack's order: whatever the order, it is the same tiles."""

from collections import Counter

from hypothesis import given
from hypothesis import strategies as st

from engine.tiles import parse_tiles
from game.play.rack_order import AS_DRAWN, BY_HAND, BY_SUIT, ORDERS, arranged, moved

RACKS = st.lists(st.integers(0, 35), max_size=14)


@given(RACKS, RACKS, st.sampled_from(ORDERS))
def test_every_order_shows_the_same_tiles(rack, own, order):
    """No tile is lost or doubled, whatever arrangement went before."""
    assert Counter(arranged(rack, order, own)) == Counter(rack)


@given(RACKS, st.integers(0, 20), st.data())
def test_moving_keeps_all_tiles(rack, to, data):
    """A tile set down elsewhere is the only change."""
    if rack:
        start = data.draw(st.integers(0, len(rack) - 1))
        after = moved(rack, start, to)
        assert Counter(after) == Counter(rack)
        assert after[min(to, len(rack) - 1)] == rack[start]


def test_by_hand_keeps_places_and_puts_new_tiles_last():
    """What the player arranged stays; the tile just drawn stands at the end."""
    own = parse_tiles("5d 1b we 5d")
    assert arranged(parse_tiles("1b 5d 9c 5d"), BY_HAND, own) == parse_tiles("5d 1b 5d 9c")


def test_by_suit_and_as_drawn():
    """By suit puts jokers and flowers first; as drawn leaves the order of arrival."""
    rack = parse_tiles("we 5d fl 1b jk")
    assert arranged(rack, BY_SUIT) == parse_tiles("jk fl 1b 5d we")
    assert arranged(rack, AS_DRAWN) == rack
