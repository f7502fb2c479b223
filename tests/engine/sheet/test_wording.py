"""The words for what may vary: plain English for every shape of hand, exact about what is allowed."""

from __future__ import annotations

import pytest
from depth import deep
from hypothesis import given, settings
from sheets_made import MadeHand, hands

from engine.sheet.clauses import parse_where
from engine.sheet.model import Line
from engine.sheet.notation import write_groups
from engine.sheet.parsing import parse_groups
from engine.sheet.shelf import find, shipped
from engine.sheet.variants import StepsLeft
from engine.sheet.wording import wording


def words(text: str, where: str = "", season: str = "2026") -> str:
    """The wording of a hand whose alternatives stand apart by slashes."""
    patterns = [parse_groups(line).patterns for line in text.split(" / ")]
    lines = [Line(each, write_groups(each)) for each in patterns]
    return wording(lines, parse_where(where).clauses if where else (), season)


RUNS = [
    ("pair a.n, quint a.n+1, single a.n+2, kong a.n+3, pair a.n+4", "", "any five numbers in a row, one suit"),
    ("quint a.n, kong a.n+1, pung b.n+2, pair b.n+3", "", "any four numbers in a row, two suits"),
    ("pung a.n, sextet b.n+1, pung c.n+2, pair flower", "", "any three numbers in a row, three suits"),
    ("quint a.n, pung a.n+2, sextet a.n+4", "", "any three odd or three even numbers in a row, one suit"),
    ("quint a.n, pung a.n+2, sextet a.n+4", "n odd", "any three odd numbers in a row, one suit"),
    ("quint a.n, pung a.n+2, sextet a.n+4", "n even", "any three even numbers in a row, one suit"),
    ("quint a.n, quint a.n+2, kong flower", "", "any two numbers two apart, one suit"),
    ("quint a.n, quint b.n+4, kong flower", "", "any two numbers four apart, two suits"),
    ("quint a.n, kong b.n+3, quint a.n+6", "", "any three numbers, each three above the last, two suits"),
    (
        "quint a.n, kong b.n+3, quint a.n+6",
        "n odd",
        "any three numbers, each three above the last, beginning with an odd number, two suits",
    ),
    ("quint a.n, pung a.n+1, pung a.n+3, pung a.n+4", "", "any four numbers spaced as shown, one suit"),
    ("quint a.n, quint a.n+1, kong flower", "n in 4 5", "any two numbers in a row from 4 to 6, one suit"),
    ("quint a.n, quint a.n+1, kong flower", "n in 4", "the numbers 4 and 5, one suit"),
    ("quint a.n, quint a.n+1, kong flower", "n odd", "any two numbers in a row beginning with an odd number, one suit"),
    (
        "quint a.n, quint a.n+1, kong flower",
        "n in 1 4 8",
        "any two numbers in a row beginning with 1, 4 or 8, one suit",
    ),
    (
        "quint a.n, quint a.n+1, kong flower",
        "n in 1 2 3 6 7 8",
        "any two numbers in a row not beginning with 4 or 5, one suit",
    ),
    (
        "quint a.n, quint a.n+1, kong flower",
        "n in 1 3 6 7 8",
        "any two numbers in a row beginning with 1, 3, 6, 7 or 8, one suit",
    ),
    ("quint a.n-1, quint a.n, kong flower", "n < 4", "any two numbers in a row from 1 to 3, one suit"),
    ("quint bam.n, quint bam.n+1, kong flower", "", "any two numbers in a row, in bams"),
    ("quint bam.n, quint crak.n+1, kong flower", "", "any two numbers in a row, in bams and craks"),
    ("quint bam.n, quint a.n+1, kong flower", "", "any two numbers in a row, bams and any one suit"),
    (
        "pung a.n, pung a.n+1, quint b.m, pung flower",
        "n < m",
        "any two numbers in a row and any number, the first of the row lower than the single number, two suits",
    ),
    (
        "pung a.n+1, pung a.n+2, quint b.m, pung flower",
        "n < m",
        "any two numbers in a row from 2 to 9 and any number, "
        "one below the first of the row lower than the single number, two suits",
    ),
    (
        "pung a.n, quint a.n+1, pung b.m, pung b.m+1",
        "n < m",
        "any two numbers in a row and any two numbers in a row, "
        "the first of the first row lower than the first of the second row, two suits",
    ),
]
SINGLES = [
    ("sextet a.n, quint wind east, pung flower", "", "any number, one suit"),
    ("quint a.n, pung b.n, sextet c.n", "", "any one number, three suits"),
    ("quint a.n, quint b.n, kong flower", "n odd", "any one odd number, two suits"),
    ("quint a.n, quint b.n, kong flower", "n in 2..6", "any one number from 2 to 6, two suits"),
    ("quint a.n, quint b.n, kong flower", "n in 2 6", "either 2 or 6, two suits"),
    ("quint a.n, quint b.n, kong flower", "n in 3 6 9", "one of 3, 6 or 9, two suits"),
    ("quint a.n, quint b.n, kong flower", "n != 5", "any one number but 5, two suits"),
    ("quint a.n, quint b.n, kong flower", "n in 3", "the number 3, two suits"),
    ("quint a.n, pung a.3, sextet zero", "n in 4..9", "3 and any number from 4 to 9, one suit"),
]
PAIRS_OF_LETTERS = [
    ("quint a.x, quint b.y, kong flower", "", "any two numbers, alike or different, two suits"),
    ("quint a.x, quint b.y, kong flower", "x != y", "any two different numbers, two suits"),
    ("quint a.x, quint b.y, kong flower", "x < y", "any two different numbers, two suits"),
    ("quint a.x, sextet b.y, pung flower", "x < y", "any two numbers, the first lower than the second, two suits"),
    ("quint a.x, sextet b.y, pung flower", "x + y = 10", "any two numbers adding up to 10, two suits"),
    ("quint a.x, quint b.y, kong flower", "x + y = 10; x < y", "any two different numbers adding up to 10, two suits"),
    ("quint a.x, sextet b.y, pung flower", "x + x = y", "any two numbers, the second twice the first, two suits"),
    ("quint a.x, sextet b.y, pung flower", "2 * x = y", "any two numbers, the second twice the first, two suits"),
    ("quint a.x, sextet b.y, pung flower", "x * 3 = y", "any two numbers, the second three times the first, two suits"),
    (
        "quint a.x, sextet b.y, pung flower",
        "x + 2 = y",
        "any two numbers, the second two more than the first, two suits",
    ),
    (
        "quint a.x, sextet b.y, pung flower",
        "x * x = y",
        "any two numbers, the first times itself making the second, two suits",
    ),
    ("quint a.x, quint b.y, kong flower", "x odd; y odd; x != y", "any two different odd numbers, two suits"),
    (
        "quint a.x, sextet b.y, pung flower",
        "x odd; y even",
        "any two numbers, alike or different, the first odd, the second even, two suits",
    ),
]
MORE_LETTERS = [
    ("sextet a.x, kong a.y, kong a.z", "x < y; y < z", "any three numbers in rising order, one suit"),
    (
        "pung a.x, pung a.y, pung a.z, pung a.w, pair flower",
        "x != y; x != z; x != w; y != z; y != w; z != w",
        "any four different numbers, one suit",
    ),
    (
        "pung a.x, pung b.y, quint c.z, pung flower",
        "x + y = z; x < y",
        "any three numbers, the first two different and adding up to the third, three suits",
    ),
    (
        "sextet a.x, kong a.y, kong b.z",
        "y + z = x",
        "any three numbers, the last two adding up to the first, two suits",
    ),
    (
        "pair flower, pung a.x, pung b.y, sextet c.z",
        "x * y = z; x in 2..4; y in 2..4",
        "any three numbers, the first two making the third when multiplied, the first two from 2 to 4, three suits",
    ),
    (
        "sextet a.x, kong a.y, kong b.z",
        "z < x; x in 3 5; y odd",
        "any three numbers, the third lower than the first, the first 3 or 5, the second odd, two suits",
    ),
    (
        "pair a.x, pair a.y, pung a.z, pung b.v, kong b.w",
        "x + y = z; y + z = v; z + v = w",
        "any five numbers, the first two adding up to the third, the second and third adding up to the fourth, "
        "the third and fourth adding up to the last, two suits",
    ),
]
HONOURS = [
    ("quint wind u, quint flower, kong wind east", "", "any wind"),
    ("quint wind u, quint wind v, kong flower", "", "any two winds, alike or different"),
    ("quint wind u, quint wind v, kong flower", "u != v", "any two different winds"),
    ("quint wind u, quint wind v, kong dragon d", "u != v", "any two different winds and any dragon"),
    (
        "quint wind u, quint wind v, pair wind w, pair dragon d",
        "u != v",
        "any three winds, the first two different; any dragon",
    ),
    ("quint dragon u, quint dragon v, kong flower", "u != v", "any two different dragons"),
    ("kong dragon of a, quint flower, quint wind east", "", "any dragon"),
    ("quint dragon of a, quint dragon of b, kong flower", "", "any two different dragons"),
    ("pung dragon of a, pung dragon of b, quint dragon of c, pung flower", "", "the three dragons in any order"),
    ("sextet a.n, quint dragon of a, pung flower", "", "any number, one suit with its dragon"),
    ("quint a.n, pair dragon of a, quint b.n, pair dragon of b", "", "any one number, two suits, each with its dragon"),
    (
        "quint a.n, pung dragon of a, pung b.n+1, pung flower",
        "",
        "any two numbers in a row, two suits, the first with its dragon",
    ),
    ("sextet a.n, quint dragon of b, pung flower", "", "any number, one suit and the dragon of another"),
    ("quint a.n, quint b.n, kong dragon of c", "", "any one number, two suits and the dragon of the third"),
    ("kong a.n, quint dragon of b, quint dragon of c", "", "any number, one suit and the dragons of the other two"),
    (
        "quint wind u, pung a.n, pung a.n+1, pung wind v",
        "u != v",
        "any two numbers in a row, one suit; any two different winds",
    ),
    ("quint dragon of a, kong bam.n, quint flower", "", "any number, in bams; any dragon"),
]
FIXED = [
    ("kong flower, quint wind east, quint wind west", "", "just as shown"),
    ("kong a.1, kong b.1, sextet c.1", "", "three suits in any order"),
    ("kong a.1, quint b.2, quint b.3", "", "any two suits"),
    ("sextet a.5, quint flower, pung wind north", "", "any one suit"),
    ("quint bam.2, quint crak.4, kong flower", "", "just as shown"),
    ("single season a, quint b.2, quint c.6", "", "the digits of 2026, three suits"),
    ("single season a, kong flower, sextet wind east", "", "the digits of 2026, one suit"),
    ("single season a, quint b.n, quint c.n", "n in 2 6", "the digits of 2026 and either 2 or 6, three suits"),
    ("pung a.1, pair a.3, pair a.5, single b.n, pair b.n+1, pair c.7, pair c.8", "", (
        "1, 3, 5, 7, 8 and any two numbers in a row, three suits"
    )),
]  # fmt: skip
ALTERNATIVES = [
    (
        "pair flower, pung a.x, pung b.y, sextet c.z / pair flower, pung a.x, pung a.y, sextet a.z",
        "x + y = z",
        "any three numbers, the first two adding up to the third, three suits or one suit",
    ),
    (
        "kong a.n, quint a.n+1, quint dragon of a / kong a.n, quint a.n+2, quint dragon of a",
        "",
        "any two numbers in a row or any two numbers two apart, one suit with its dragon",
    ),
    ("quint a.n, quint b.n, kong wind east / quint a.n, quint b.n, kong wind west", "", "any one number, two suits"),
    (
        "sextet a.n, quint wind u, pung flower / sextet a.n, quint b.n, pung dragon v",
        "",
        "any number, one suit; any wind; or any one number, two suits; any dragon",
    ),
    (
        "quint a.x, quint a.y, kong flower / quint a.x, quint b.y, kong c.z",
        "x + y = z",
        "any two numbers adding up to a number from 1 to 9, one suit; "
        "or any three numbers, the first two adding up to the third, three suits",
    ),
    ("quint a.n, quint b.n, kong flower / kong a.n, quint a.n+8, quint a.n+9", "", "any one number, two suits"),
]  # the last one's second alternative can't be made: there is no number nine above another


@pytest.mark.parametrize(("text", "where", "said"), RUNS + SINGLES + PAIRS_OF_LETTERS + MORE_LETTERS + HONOURS + FIXED)
def test_words(text: str, where: str, said: str) -> None:
    """Each shape of hand is told in plain words."""
    assert words(text, where) == said


@pytest.mark.parametrize(("text", "where", "said"), ALTERNATIVES[:-1])
def test_alternatives(text: str, where: str, said: str) -> None:
    """What alternatives share is said once; the rest is joined by "or"."""
    assert words(text, where) == said


def test_an_alternative_that_cannot_be_made_is_not_told() -> None:
    """Words are about what can be made: numbers that leave 1 to 9 together are no offer."""
    assert (
        words("quint a.n, quint b.n, kong flower / kong a.n-4, quint a.n+1, quint a.n+5") == "any one number, two suits"
    )


def test_the_season_is_named() -> None:
    """The digits that are told are those of the sheet's own season."""
    assert words("single season a, sextet flower, kong b.n", season="1999").startswith("the digits of 1999 and any")


def test_order_is_told_where_it_matters_only() -> None:
    """`x < y` is "different" where swapping the numbers makes the same hands, and an order elsewhere."""
    assert "different" in words("pair flower, quint a.x, quint a.y, pair zero", "x < y")
    assert "lower" in words("pair flower, sextet a.x, kong a.y, pair zero", "x < y")


def test_words_without_trying() -> None:
    """With no work left, clauses are told as they are written, and nothing is raised."""
    parsed = parse_groups("quint a.x, quint b.y, kong flower").patterns
    said = wording([Line(parsed, "")], parse_where("x < y").clauses, "2026", StepsLeft(0))
    assert said == "any two numbers, the first lower than the second, two suits"


@settings(max_examples=deep(80, 200), deadline=None)
@given(hands())
@pytest.mark.slow
def test_any_hand_has_words(hand: MadeHand) -> None:
    """The words of any hand are one clean sentence part, without a letter of the notation in it."""
    said = words(" / ".join(hand.lines), hand.where)
    assert said
    assert said == said.strip()
    assert not any(mark in said for mark in ("  ", ",,", " ,", "None", "{", "+", "*", "!="))
    lone = {word for word in said.replace(",", " ").replace(";", " ").split() if len(word) == 1 and word.isalpha()}
    assert lone <= {"a", "n", "m"}  # "a number from 1 to 9"; a hidden letter that several clauses name


@pytest.mark.parametrize("stem", shipped())
def test_every_shipped_hand_has_words(stem: str) -> None:
    """No shipped hand is told in more than a long line."""
    for hand in find(stem).hands:
        assert 0 < len(hand.wording) <= 220, hand.wording
