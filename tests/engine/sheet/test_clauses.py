"""The clauses after `where`: text to values and back, whether they hold, and a cure for every slip."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.sheet.clauses import (
    Clause,
    Compare,
    Parity,
    Reckon,
    Within,
    any_use,
    holds,
    operands,
    parse_clause,
    parse_where,
    variables,
    write_where,
)
from engine.sheet.parsing import NotationError

READ: list[tuple[str, Clause]] = [
    ("n odd", Parity("n", True)),
    ("n even", Parity("n", False)),
    ("n in 2..6", Within("n", (2, 3, 4, 5, 6))),
    ("n in 3 6 9", Within("n", (3, 6, 9))),
    ("n in 4", Within("n", (4,))),
    ("x < y", Compare("x", "<", "y")),
    ("x < 5", Compare("x", "<", 5)),
    ("2 < x", Compare(2, "<", "x")),
    ("u != v", Compare("u", "!=", "v")),
    ("x + y = z", Reckon("x", "+", "y", "z")),
    ("x + y = 10", Reckon("x", "+", "y", 10)),
    ("2 * x = y", Reckon(2, "*", "x", "y")),
]


@pytest.mark.parametrize(("text", "clause"), READ)
def test_clauses_read_and_write(text: str, clause: Clause) -> None:
    """Every form is read to its value and written as it was."""
    assert parse_clause(text) == clause
    assert str(clause) == text


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("X+Y=Z", "x + y = z"),
        ("n in 9 3 3 6", "n in 3 6 9"),
        ("n in 2 3 4", "n in 2..4"),
        ("n in 2..2", "n in 2"),
        ("n  IN 2 .. 6", "n in 2..6"),
        ("u!=v", "u != v"),
    ],
)
def test_looser_writing_is_read_as_the_plain_form(text: str, plain: str) -> None:
    """Spaces, capitals and the order of listed numbers don't matter."""
    assert str(parse_clause(text)) == plain


@given(st.integers(1, 9), st.integers(1, 9), st.integers(1, 9))
def test_clauses_hold_as_python_reckons(x: int, y: int, z: int) -> None:
    """Each form is true exactly when Python's own operator says so."""
    values = {"x": x, "y": y, "z": z}
    assert holds(parse_clause("x odd"), values) == (x % 2 == 1)
    assert holds(parse_clause("x even"), values) == (x % 2 == 0)
    assert holds(parse_clause("x in 2..6"), values) == (2 <= x <= 6)
    assert holds(parse_clause("x in 3 6 9"), values) == (x in (3, 6, 9))
    assert holds(parse_clause("x < y"), values) == (x < y)
    assert holds(parse_clause("x != y"), values) == (x != y)
    assert holds(parse_clause("x + y = z"), values) == (x + y == z)
    assert holds(parse_clause("x * y = z"), values) == (x * y == z)
    assert holds(parse_clause("x + y = 10"), values) == (x + y == 10)
    assert holds(parse_clause("4 < x"), values) == (x > 4)


def test_letters_and_operands() -> None:
    """A clause knows its letters, each once, and its operands in order."""
    assert variables(parse_clause("x + x = y")) == ("x", "y")
    assert operands(parse_clause("x + 2 = y")) == ("x", 2, "y")
    assert operands(parse_clause("n odd")) == ("n",)


def test_only_difference_is_for_winds_too() -> None:
    """`u != v` makes sense for winds and dragons, everything else for numbers only."""
    assert any_use(parse_clause("u != v"))
    for text in ("u < v", "u != 3", "u odd", "u in 2..3", "u + v = 4"):
        assert not any_use(parse_clause(text))


SLIPS = [
    ("", "", "a clause is missing"),
    ("n", "n", "is no clause"),
    ("n od", "od", "write odd"),
    ("n is odd", "n", "is no clause"),
    ("odd n", "odd", "is no clause"),
    ("n in", "in", "write n in 2..6"),
    ("n in 6..2", "6", "write 2..6"),
    ("n in 0..3", "0", "no number from 1 to 9"),
    ("n in 2-6", "-", "no number from 1 to 9"),
    ("n in 2, 4", ",", "no number from 1 to 9"),
    ("x > y", ">", "turn it round"),
    ("x <= y", "<=", "only < can be written"),
    ("x = y", "=", "use the same letter twice"),
    ("u != u", "u", "compares u with itself"),
    ("x < x", "x", "compares x with itself"),
    ("x ≠ y", "≠", "write !="),
    ("x - y = z", "-", "turn it into a sum"),
    ("x + y", "x", "is no clause"),
    ("x + y + z = w", "x", "is no clause"),
    ("x * y = 100", "100", "at most two digits"),
    ("a != b", "a", "different suits anyway"),
    ("nn odd", "nn", "is no variable"),
    ("2 < 3", "2", "says nothing about the hand"),
    ("u != east", "east", "is no variable"),
    ("x < ²", "²", "is no variable"),
    ("n in ² 3", "²", "no number from 1 to 9"),
]


@pytest.mark.parametrize(("text", "word", "cure"), SLIPS)
def test_slips_are_placed_and_cured(text: str, word: str, cure: str) -> None:
    """A slip is reported at its word, with what to write instead."""
    with pytest.raises(NotationError) as caught:
        parse_clause(text)
    assert cure in str(caught.value)
    assert text[caught.value.offset :].startswith(word)


def test_all_slips_of_a_where_line_are_reported() -> None:
    """One bad clause does not hide the next; the good ones are still read."""
    text = "n od; x < y; ; x > y"
    parsed = parse_where(text)
    assert [error.offset for error in parsed.errors] == [text.index("od"), text.index("; ;"), text.index(">")]
    assert write_where(parsed.clauses) == "x < y"
    assert parsed.offsets == (text.index("x <"),)


def test_too_many_clauses() -> None:
    """A where line of hundreds of clauses is refused at the first one too many."""
    assert "write at most 20" in str(parse_where("; ".join(["n odd"] * 300)).errors[0])


@given(st.text(alphabet="abnxy 123<>=!+*.;oddevin²", max_size=20))
def test_any_text_is_read_or_refused(text: str) -> None:
    """Whatever is typed, the outcome is clauses that round-trip, or errors inside the text."""
    parsed = parse_where(text)
    assert parsed.clauses or parsed.errors
    assert all(0 <= error.offset <= len(text) for error in parsed.errors)
    if parsed.clauses:
        assert parse_where(write_where(parsed.clauses)).clauses == parsed.clauses
