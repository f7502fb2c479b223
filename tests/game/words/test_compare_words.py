"""What has changed about a hand is said in words, for every kind of change, never in the notation of sheet files."""

import re

import pytest
from random_sheets import Made, sheet_of

from engine.sheet.compare.changes import Change, Spot, TileStep, What
from engine.sheet.compare.comparison import compare
from engine.sheet.parsing import parse_groups
from engine.sheet.reader import read
from engine.sheet.shelf import find
from game.words.compare.changed import change_words, group_words
from game.words.compare.report import changed_sentence, report

SIZES = ("single", "pair", "pung", "kong", "quint", "sextet")
LOOM = "quint a.n, kong b.n+2, pung a.n+4, pair flower"
NOTATION = re.compile(r"\b[abc]\.[a-z0-9]|\b[a-z][+-]\d|each (wind|dragon)|dragon of [abc]")


def made(groups, where="", concealed=False, points=25, name="Loom"):
    """A hand of the tests' own sheets."""
    parts = [group.strip().split(" ", 1) for group in groups.split(",")]
    return Made(name, tuple((SIZES.index(size) + 1, tile) for size, tile in parts), where, concealed, points)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (made(LOOM), made(LOOM, points=30), "it has 30 points instead of 25"),
        (made(LOOM), made(LOOM, concealed=True), "it is concealed now and was open"),
        (made(LOOM), made(LOOM, name="Shuttle"), "it was called Loom"),
        (
            made(LOOM),
            made("quint a.n, kong b.n+2, pung a.n+4, pair dragon red"),
            "the pair of flowers became a pair of red dragons",
        ),
        (
            made(LOOM),
            made("quint a.n, kong b.n+2, pung a.n+3, pair flower"),
            "the pung in suit a is one number lower now",
        ),
        (made(LOOM), made("quint a.n, kong b.n+2, pung c.n+4, pair flower"), "the pung in suit a is in suit c now"),
        (
            made(LOOM),
            made("quint a.n, pung b.n+2, kong a.n+4, pair flower"),
            "the kong in suit b became a pung; the pung in suit a became a kong",
        ),
        (
            made(LOOM),
            made("quint a.n, kong b.n+2, single a.n+4, pair flower, pair c.n+4"),
            "the pung in suit a became a single; a pair in suit c has come",
        ),
        (
            made("quint a.n, kong b.n+2, single a.n+4, pair flower, pair c.n+4"),
            made(LOOM),
            "the single in suit a became a pung; the pair in suit c has gone",
        ),
        (
            made(LOOM),
            made(LOOM, "n odd"),
            "its tiles are “any three odd numbers in a row, two suits” now and were “any three odd or three even "
            "numbers in a row, two suits”",
        ),
        (
            made("quint a.1, kong b.5, pung wind east, pair dragon of a"),
            made("quint a.1, kong b.6, pung wind east, pair dragon of a"),
            "the kong of 5s in suit b is of 6s now",
        ),
        (
            made("quint a.1, kong b.5, pung wind east, single a.4, single b.6"),
            made("quint a.1, kong b.5, pung wind east, single a.4, single c.8"),
            "the single 6 in suit b is an 8 in suit c now",
        ),
        (
            made("quint a.n, pair a.n+1, pair a.n+3, pung wind u, pair zero"),
            made("quint a.n, pair a.n+1, pair a.n+5, pung wind u, pair zero"),
            "the second pair in suit a is two numbers higher now",
        ),
    ],
)  # fmt: skip
def test_every_kind_of_change_has_its_words(old, new, said):
    """Points, hold, name; a group that grew, moved, came or went; what its letters may stand for."""
    (pair,) = compare(sheet_of([old]), sheet_of([new])).changed
    assert changed_sentence(pair) == f"{pair.new.name}: {said}."


def test_a_way_to_make_it_that_came():
    """A hand of alternatives with one more of them is told group by group."""
    text = find("first-steps").canonical
    first = re.search(r"groups: (.+)\n", text)
    groups = first[1]
    size = groups.split()[0]
    other = groups.replace(size, "single", 1) + f", {SIZES[SIZES.index(size) - 1]} flower"
    more = read(text.replace(f"groups: {groups}\n", f"either:\n          - {groups}\n          - {other}\n", 1)).sheet
    (pair,) = compare(find("first-steps"), more).changed
    (change,) = [one for one in pair.changes if one.row]
    assert change_words(change).startswith("one way to make it has come: a single ")
    assert not NOTATION.search(changed_sentence(pair))


def test_numbers_that_move_otherwise_from_way_to_way():
    """Where no one step tells it, it is said to be another number; the count of ways is the last resort."""
    row = parse_groups("pair a.x, quint b.y").patterns
    moved = Change(What.TILE, "pair a.x", "pair a.y", was=Spot(row, 0), now=Spot(parse_groups("pair a.y").patterns, 0))
    assert change_words(moved) == "the pair in suit a takes another of the numbers now"
    assert change_words(Change(What.TILE, "", "", True, ways=(24, 18))) == "it can be made in 18 ways instead of 24"
    elsewhere = Change(What.TILE, "", "", was=Spot(row, 0), now=Spot(row, 0), step=TileStep(True, -3))
    assert change_words(elsewhere) == "the pair in suit a is in another suit and three numbers lower now"


@pytest.mark.parametrize(
    ("group", "said"),
    [
        ("single flower", "single flower"), ("pung zero", "pung of zeros"), ("kong wind u", "kong of any wind"),
        ("single wind north", "single north wind"), ("quint dragon of b", "quint of the dragon of suit b"),
        ("single dragon of bam", "single dragon of the bams"), ("pair crak.3", "pair of 3s in craks"),
        ("single dot.n+1", "single in dots"), ("single each wind", "single of each wind"),
        ("pair each dragon", "pair of each dragon"),
        ("single season a", "single of each digit of the season in suit a"),
    ],
)  # fmt: skip
def test_every_tile_has_its_words(group, said):
    """As the sheet's screen shows it: a size, a tile, the letter on the tab."""
    (pattern,) = parse_groups(group).patterns
    assert group_words(pattern) == said


def test_a_season_is_told_without_notation():
    """The whole report of two seasons holds nothing that only a writer of sheet files can read."""
    lines = report(compare(find("lantern-street"), find("lantern-street-2027")))
    assert lines
    assert not [line for line in lines if NOTATION.search(line)]
