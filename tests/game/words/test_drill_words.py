"""What a drill asks: with the tiles where none are drawn beside it, without them where they are."""

import pytest

from engine.drills.let_one_go import LetGoTask
from engine.drills.may_i import Asked, MayTask
from engine.sheet.groups import Group
from engine.sheet.shelf import find
from engine.sheet.writing.hand_text import HandText
from engine.sheet.writing.look import FormFault
from engine.tiles import parse_tiles
from game.words.drills import may_asked
from game.words.practice.moments import let_go_asked
from game.words.writing import fault_words

HAND = find("first-steps").hands[0]
RACK = tuple(parse_tiles("3x1b 2x3c"))


@pytest.mark.parametrize(
    ("seen", "said"),
    [
        (True, "You are going for Stepping stones and hold this rack."),
        (False, "You are going for Stepping stones and hold 1 bam, 1 bam, 1 bam, 3 crak and 3 crak."),
    ],
)
def test_may_i_call(seen, said):
    """The tiles are said only where they are not drawn."""
    task = MayTask(Asked.CALL, HAND, True, rack=RACK, group=Group(3, 11))
    assert may_asked(task, seen).startswith(said)


def test_let_one_go():
    """Where nothing else is asked for, the tiles are said."""
    task = LetGoTask(None, RACK, (), 0)
    assert let_go_asked(task, seen=True) == "Before the first of 40 picks. Which tile do you let go?"
    assert let_go_asked(task).startswith(
        "Your rack: 1 bam, 1 bam, 1 bam, 3 crak and 3 crak. Before the first of 40 picks."
    )


@pytest.mark.parametrize(
    ("name", "points", "field", "said"),
    [
        ("", "20", "hand", "Give the hand a name."),
        ("", "20", "points", "No number."),
        ("Tall jar", "", "points", "Say how many points it counts, 1 to 1,000."),
        ("Tall jar", "", "hand", "No number."),
    ],
)
def test_an_empty_field_of_a_hand_says_what_to_do(name, points, field, said):
    """Where it is filled, the fault is said."""
    text = f"      - hand: {name}\n        groups: quint a.n\n        points: {points}\n"
    assert fault_words(FormFault(field, 0, 0, "no number", 0), HandText.of(text)) == said
