"""Laying out a position: tiles counted, groups with jokers, what can't be laid says why; text and back."""

import pytest

from engine.drills.lesson.model import PositionStep
from engine.rules.laid_out import PositionError
from engine.rules.state import Exposure
from engine.tiles import JOKER, parse_tiles
from game.play.practice.laying_out import EXPOSED, RACK, SHOWN, Layout


def test_tiles_and_groups_are_laid():
    """By tile and by typing; what is left is counted."""
    layout = Layout()
    layout.type(RACK, "3x5d 2b jk")
    layout.add(SHOWN, parse_tiles("2b")[0])
    layout.type(EXPOSED, "kong we jokers 2; pung dr")
    assert layout.exposures == [Exposure(4, 27, 2), Exposure(3, parse_tiles("dr")[0], 0)]
    assert layout.left(parse_tiles("5d")[0]) == 1
    assert layout.left(parse_tiles("2b")[0]) == 2
    assert layout.left(27) == 2
    assert layout.left(JOKER) == 5
    assert layout.room == 2
    with pytest.raises(PositionError, match="give 6 or 7"):
        layout.laid()
    layout.type(RACK, "9c 9c")
    assert layout.laid().counts[JOKER] == 1
    rack, shown, exposed = layout.texts()
    assert exposed == "kong we jokers 2; pung dr"
    again = Layout.of(PositionStep("x", rack, shown, exposed))
    assert (again.rack, again.shown, again.exposures) == (layout.rack, layout.shown, layout.exposures)
    layout.clear()
    assert layout.room == 14


@pytest.mark.parametrize(
    ("part", "text", "why"),
    [
        (RACK, "5x5d", "all tiles of that kind are laid"),
        (RACK, "14x1b", "laid already"),
        (SHOWN, "9z", "is no tile"),
        (EXPOSED, "pair we", "an exposed group is a"),
        (EXPOSED, "kong jk", "name the tile"),
        (EXPOSED, "sextet we jokers 1", "too few tiles left for a sextet"),
    ],
)
def test_what_can_not_be_laid_says_why(part, text, why):
    """In one sentence."""
    with pytest.raises(ValueError, match=why):
        Layout().type(part, text)


def test_a_full_rack_takes_no_more():
    """Nor a group for which there is no room."""
    layout = Layout()
    layout.type(RACK, "4x1b 4x2b 4x3b 4b 5b")
    with pytest.raises(ValueError, match="the rack is full"):
        layout.add(RACK, 0 + 9)
    with pytest.raises(ValueError, match="no room"):
        layout.expose(3, 20, 0)
