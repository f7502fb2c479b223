"""A hand before and after tiles go, in the unit that tells something."""

from dataclasses import replace

import pytest

from engine.advice.advise.answers import Chance, Known
from engine.advice.advise.hands import HandReach
from game.words.odds import before_and_after, chance_words, change


def reach(odds, picks):
    """A hand in reach with these figures."""
    return HandReach(hand=None, variant=None, missing=5, odds=odds, slots=(), picks=picks)


@pytest.mark.parametrize(
    ("before", "after", "said", "sign"),
    [
        (reach(0.46, 30.0), reach(0.27, 35.0), "46%, then 27%", -1),
        (reach(0.46, 30.0), reach(0.52, 35.0), "46%, then 52%", 1),
        (reach(0.46, 30.0), reach(0.463, 29.0), "46%, then 46%", 0),
        (reach(0.46, 30.0), None, "46%, then 0%", -1),
        (reach(0.999, 30.0), reach(0.9, 35.0), "over 99%, then 90%", -1),
        (reach(0.999, 30.2), reach(0.998, 34.0), "about 22, then 26 picks", -1),
        (reach(0.999, 30.2), reach(1.0, 26.0), "about 22, then 18 picks", 1),
        (reach(0.999, 3.0), reach(0.999, 3.2), "about 1, then 1 pick", 0),
    ],
)
def test_percent_unless_both_are_all_but_sure(before, after, said, sign):
    """Then picks of play: the eight tiles that passes bring are not counted among them."""
    assert before_and_after(before, after, 8) == said
    assert change(before, after) == sign


def test_turns_at_a_full_table():
    """The unit follows the table."""
    one = reach(0.999, 30.0)
    assert before_and_after(one, replace(one, picks=31.0), 0, turns=True) == "about 30, then 31 turns"


def test_a_chance_at_an_end_needs_no_range():
    """One end of it is enough; elsewhere the range is told."""
    for share, half, said in (
        (0.9, 0.02, "90%, give or take 2%"),
        (0.5, 0.001, "50%, give or take 1%"),
        (1.0, 0.06, "94% or more"),
        (0.998, 0.005, "over 99%"),
        (0.0, 0.06, "6% or less"),
        (0.001, 0.005, "under 1%"),
    ):
        chance = Chance(share, Known.PLAYED, half, 24)
        assert chance_words(chance, "five draws") == f"A hand within five draws: {said}"
