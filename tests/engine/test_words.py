"""Small helps for sentences: quoting, suggesting, listing, numbers."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from engine.words import (
    counted,
    exact_odds,
    in_words,
    listed,
    lowered,
    nearest,
    ordinal,
    picks,
    picks_figure,
    quoted,
    shown,
)


@given(st.text())
def test_quoted_is_short_and_printable(text: str) -> None:
    """Whatever was read, what is quoted can be printed and stays short."""
    shown = quoted(text)
    assert shown.isprintable()
    assert len(shown) <= 33
    assert shown.encode("utf-8")


def test_quoted() -> None:
    """Short text is quoted whole, long text is cut, and what can't be seen becomes a question mark."""
    assert quoted("pong") == "“pong”"
    assert quoted("x" * 31) == f"“{'x' * 30}…”"
    assert quoted("a\nb\x00\ud800") == "“a?b??”"


@given(st.text())
def test_lowered_keeps_offsets(text: str) -> None:
    """Lowering keeps every character at its place."""
    assert len(lowered(text)) == len(text)
    assert lowered("Kong İ") == "kong İ"


def test_nearest() -> None:
    """A slip finds the word meant; something else finds none."""
    assert nearest("Konng", ("pung", "kong")) == "kong"
    assert nearest("xyz", ("pung", "kong")) is None
    assert nearest("kong" * 50, ("kong",)) is None


def test_listed() -> None:
    """Items are joined as one writes them."""
    assert [listed(list("abc"[:n])) for n in range(4)] == ["", "a", "a and b", "a, b and c"]
    assert listed(["a", "b"], "or") == "a or b"


def test_numbers() -> None:
    """Small numbers are words, large ones figures, and nouns follow their number."""
    assert (in_words(1), in_words(14), in_words(15)) == ("one", "fourteen", "15")
    assert (counted(1, "tile"), counted(0, "tile"), counted(1200, "tile")) == ("1 tile", "0 tiles", "1,200 tiles")


def test_costs_in_picks():
    """One decimal below ten, none above, a whole number bare; never nothing of what is something; turns at a table."""
    said = [picks_figure(cost) for cost in (0.0, 1e-9, 0.049, 0.05, 0.96, 1.0, 3.14, 9.94, 9.96, 23.4)]
    assert said == ["0", "under 0.1", "under 0.1", "0.1", "1", "1", "3.1", "9.9", "10", "23"]
    assert (picks(0.98), picks(0.4), picks(2, turns=True)) == ("1 pick", "0.4 picks", "2 turns")


def test_a_message_never_steers_a_terminal() -> None:
    """Escape, bell, C1 and characters that turn the direction of writing become ?; words of any script stay."""
    assert shown("a\x1b[31mred\x07\x9b1m\u202eback\u2066") == "a?[31mred??1m?back?"
    for text in ("two\nlines", "Größe", "👩\u200d👩", "می\u200cخواهم", "🀄\ufe0f"):
        assert shown(text) == text


def test_ordinal() -> None:
    """In words up to ten, then figures with their ending."""
    assert [ordinal(place) for place in (1, 2, 3, 4, 10)] == ["first", "second", "third", "fourth", "tenth"]
    assert [ordinal(place) for place in (11, 12, 13, 21, 22, 23, 111, 0)] == [
        "11th", "12th", "13th", "21st", "22nd", "23rd", "111th", "0th",
    ]  # fmt: skip


def test_exact_odds_are_never_rounded_to_nothing_or_to_all() -> None:
    """One decimal, and words where it would say 0% or 100% of what is only unlikely or likely."""
    shares = (0.0, 0.0004, 0.0006, 0.12345, 0.9994, 0.9996, 1.0)
    said = ["0.0%", "under 0.1%", "0.1%", "12.3%", "99.9%", "over 99.9%", "100.0%"]
    assert [exact_odds(share) for share in shares] == said
