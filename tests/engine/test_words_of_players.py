"""Figures and sentences shared by the window and the text table."""

from datetime import UTC, datetime

import pytest

from engine import words


@pytest.mark.parametrize(
    ("probability", "said"),
    [(0.0, "0%"), (1e-9, "under 1%"), (0.0049, "under 1%"), (0.0051, "1%"), (0.41, "41%"), (0.996, "over 99%"),
     (1 - 1e-9, "over 99%"), (1.0, "100%")],
)  # fmt: skip
def test_odds_never_say_never_of_what_may_happen(probability, said):
    """0% and 100% stand for what can't and what must happen only."""
    assert words.odds(probability) == said


@pytest.mark.parametrize(
    ("cost", "turns", "said"),
    [(0.0, False, "0 picks"), (1e-6, False, "under 0.1 picks"), (0.1, True, "0.1 turns"), (1.0, False, "1 pick"),
     (1.02, True, "1 turn"), (2.44, False, "2.4 picks"), (9.96, False, "10 picks"), (23.4, True, "23 turns")],
)  # fmt: skip
def test_costs_are_never_rounded_to_nothing(cost, turns, said):
    """A cost that would round to nothing is under 0.1; the unit stands with every figure."""
    assert words.picks(cost, turns=turns) == said


@pytest.mark.parametrize(
    ("number", "said"), [(0, "no tiles"), (1, "one tile"), (3, "three tiles"), (10, "ten tiles"), (11, "11 tiles")]
)
def test_counts_are_words_up_to_ten(number, said):
    """Small numbers are words, and the noun agrees."""
    assert words.count(number, "tile") == said


def test_lists_and_sentences():
    """Words are joined as in a sentence, which begins with a capital."""
    assert words.listed([]) == ""
    assert words.listed(["a"]) == "a"
    assert words.listed(["a", "b", "c"]) == "a, b and c"
    assert words.listed(["a", "b"], "or") == "a or b"
    assert words.sentence("its end.") == "Its end."
    assert words.sentence("") == ""


def test_when_is_the_players_own_time():
    """Day, month in letters, year, and the clock with two digits for the minutes."""
    assert words.when(datetime(2026, 3, 14, 19, 5).astimezone()) == "14 March 2026 at 19:05"
    assert words.when(datetime(2026, 12, 1, 0, 30).astimezone(UTC)) == "1 December 2026 at 0:30"
