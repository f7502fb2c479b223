"""A line of groups is changed group by group."""

import pytest

from engine.sheet.writing.group_list import part_at, parts_of, put_group, swap_groups, take_out

LINE = "quint a.n, kong b.n+2,  pung c.n+5"


def test_parts_stand_where_they_are_typed():
    """Each group with its place; an empty one between two commas counts."""
    assert [(part.text, LINE[part.start : part.end]) for part in parts_of(LINE)] == [
        (text, text) for text in ("quint a.n", "kong b.n+2", "pung c.n+5")
    ]
    assert [part.whole for part in parts_of("pair flower,, pu")] == [True, False, False]
    assert parts_of("  ") == ()


@pytest.mark.parametrize(
    ("line", "caret", "instead", "made"),
    [
        ("", 0, None, "pair flower|"),
        ("kong a.n", 8, None, "kong a.n, pair flower|"),
        ("kong a.n, ", 10, None, "kong a.n, pair flower|"),
        ("kong a.n, pa", 12, None, "kong a.n, pair flower|"),
        ("pa", 2, None, "pair flower|"),
        (LINE, 3, None, "quint a.n, pair flower|, kong b.n+2,  pung c.n+5"),
        (LINE, 0, 1, "quint a.n, pair flower|,  pung c.n+5"),
        (LINE, 0, 7, "quint a.n, kong b.n+2,  pair flower|"),
    ],
)
def test_a_group_is_added(line, caret, instead, made):
    """After the group at the caret, in place of what is only begun, or in place of the one that is chosen."""
    text, at = put_group(line, "pair flower", caret, instead)
    assert f"{text[:at]}|{text[at:]}" == made


def test_groups_are_taken_out_and_moved():
    """First, last and only; over the edge nothing happens."""
    assert take_out(LINE, 0)[0] == "kong b.n+2,  pung c.n+5"
    assert take_out(LINE, 2)[0] == "quint a.n, kong b.n+2"
    assert take_out("pair flower", 0) == ("", 0)
    assert take_out(LINE, 5)[0] == LINE
    text, at = swap_groups(LINE, 0, 1)
    assert text == "kong b.n+2, quint a.n,  pung c.n+5"
    assert part_at(text, at) == 1
    assert swap_groups(text, 1, -1)[0] == LINE
    assert swap_groups(LINE, 2, 1)[0] == LINE
