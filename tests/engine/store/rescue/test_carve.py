"""Rows read from the bare pages are those that SQLite itself gives."""

import sqlite3

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from engine.store.rescue.carve import carve

VALUES = st.one_of(
    st.none(),
    st.integers(-(2**63), 2**63 - 1),
    st.sampled_from([0, 1, -1, 127, 128, -129, 2**23, -(2**23) - 1, 2**47, 2**31 - 1]),
    st.floats(allow_nan=False),
    st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\x00"), max_size=60),
    st.binary(max_size=60),
    st.integers(3000, 20_000).map(lambda size: "long " * (size // 5)),
)


def sorted_rows(rows):
    """Rows by number, floats told from whole numbers."""
    return sorted((number, tuple(map(repr, values))) for number, values in rows)


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(rows=st.dictionaries(st.integers(1, 2**62), st.tuples(VALUES, VALUES, VALUES), max_size=40))
@pytest.mark.parametrize("page_size", [512, 4096, 32768])
def test_every_row_is_found_as_sqlite_gives_it(quick_folder, rows, page_size):
    """All kinds of values, row numbers of any size, and texts that overflow their page."""
    path = quick_folder() / "a.sqlite"
    db = sqlite3.connect(path)
    db.execute(f"PRAGMA page_size = {page_size}")
    db.execute("CREATE TABLE t (id INTEGER PRIMARY KEY, a, b, c)")
    db.executemany("INSERT INTO t VALUES (?, ?, ?, ?)", [(number, *values) for number, values in rows.items()])
    db.commit()
    expected = [(row[0], row[1:]) for row in db.execute("SELECT id, a, b, c FROM t")]
    db.close()
    found = [(number, values[1:]) for number, values in carve(path.read_bytes(), page_size) if len(values) == 4]
    assert sorted_rows(found) == sorted_rows(expected)


@settings(max_examples=200, deadline=None)
@given(st.binary(max_size=9000), st.integers(0, 8999))
def test_rubbish_raises_nothing(rubbish, place):
    """Bytes of any kind, a leaf's mark among them, give rows or none."""
    content = bytearray(rubbish + bytes(4096))
    content[place % len(content)] = 13
    content[4096 % len(content)] = 13
    for number, values in carve(bytes(content), 4096):
        assert isinstance(number, int)
        assert isinstance(values, tuple)


def test_a_chain_of_pages_that_leads_in_a_circle_ends():
    """A damaged chain of overflow pages is not followed for ever."""
    page = bytearray(4096)
    page[0] = 13
    page[3:5] = (1).to_bytes(2, "big")
    page[8:10] = (100).to_bytes(2, "big")
    page[100:105] = b"\xff\xff\xff\x7f\x01"  # some 268 million bytes of payload, row 1
    circle = (2).to_bytes(4, "big") + bytes(4092)
    assert list(carve(bytes(page) + circle, 4096)) == []
