"""Shapes that printed sheets come back to are found, whatever suits and numbers they are written in; ours are not.

Which shapes these are is common practice, no source.
"""

import pytest

from engine.invent.shapes import leans, too_like
from engine.sheet.clauses import parse_where
from engine.sheet.parsing import parse_groups

WORN = [
    ("kong a.n, kong b.n+1, kong c.n+4, pair flower", "", "three kongs and a pair"),
    ("kong a.n, pung a.n+1, kong b.n+2, pung b.n+3", "", "threes and fours only"),
    ("pung wind east, kong a.n, kong b.n+2, pung dragon red", "", "threes and fours only"),
    ("pair a.n, pung a.n+1, kong b.n+2, pung c.n+3, pair a.n+4", "", "two, three, four, three, two"),
    ("pair a.n, pair b.n, pair a.n+2, pair flower, pair c.n, pair c.n+1, pair zero", "", "seven pairs"),
    ("single each wind, pung dragon of a, pung dragon of b, kong a.n", "", "four winds with dragons"),
    ("pung wind east, kong a.n, kong b.n, single flower, pair wind west", "", "winds around two like kongs"),
    ("kong a.x, kong b.y, quint c.z, single flower", "x + y = z", "a sum of kongs with flowers"),
    ("single season a, pung b.n, pung c.n, kong flower", "", "a season with two equal groups and flowers"),
    ("pung a.n, pung a.n+2, pung a.n+4, quint flower", "", "three pungs or kongs in step in one suit"),
    ("pair a.n, pung a.n+1, quint a.n+2, pair a.n+3, pair flower", "", "four groups in step in one suit"),
    (
        "single each wind, pair a.n, pair b.n, pair a.n+1, pair b.n+1, pair flower",
        "",
        "four winds and pairs of two numbers in two suits",
    ),
]


@pytest.mark.parametrize(("text", "where", "said"), WORN)
def test_worn_shapes_are_found(text, where, said):
    """Each by its name."""
    clauses = parse_where(where).clauses if where else ()
    assert too_like(parse_groups(text).patterns, clauses, "2026") == said


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("quint a.n, kong a.n+1, pung b.n+3, pair flower", ""),
        ("sextet flower, quint a.n, pung b.n+2", ""),
        ("single each wind, pung a.n, pair b.n+1, quint c.n+3", ""),
        ("pung a.x, pung b.y, quint c.z, pung flower", "x + y = z"),
        ("single season a, quint b.n, pung c.n+1, pair flower", ""),
    ],
)
def test_shapes_of_our_own_pass(text, where):
    """Unequal sizes, gaps and suits that cross are no worn shape, and are the way our sheets lean."""
    clauses = parse_where(where).clauses if where else ()
    assert too_like(parse_groups(text).patterns, clauses, "2026") is None
    assert leans(parse_groups(text).patterns, "2026")


def test_what_does_not_lean():
    """Pungs in a row and a pair are nobody's, but not the way we lean."""
    assert not leans(parse_groups("pung a.n, pung a.n+1, pung b.n, pung b.n+1, pair flower").patterns, "2026")
