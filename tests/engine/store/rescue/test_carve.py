"""Rows read from the bare pages are those that SQLite itself gives."""

import sqlite3

import pytest
from depth import deep
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


@settings(max_examples=deep(50, 80), deadline=None, suppress_health_check=[HealthCheck.too_slow])
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


def test_a_row_of_every_length_is_found(tmp_path):
    """Up to more than two pages of 512 bytes: each way in which SQLite lets a row run over into further pages."""
    path = tmp_path / "a.sqlite"
    db = sqlite3.connect(path)
    db.execute("PRAGMA page_size = 512")
    db.execute("CREATE TABLE t (id INTEGER PRIMARY KEY, a)")
    db.executemany("INSERT INTO t VALUES (?, ?)", [(length, "x" * length) for length in range(1, 1300)])
    db.commit()
    db.close()
    found = {number: values[1] for number, values in carve(path.read_bytes(), 512) if len(values) == 2}
    assert found == {length: "x" * length for length in range(1, 1300)}
    headless = b"\xff" * 512 + path.read_bytes()[512:]
    assert {number: values[1] for number, values in carve(headless, 512) if len(values) == 2} == found


def with_bytes_left_free(length, here):
    """A file of pages of 512 bytes, 32 of them left free. Row 7 has `length` bytes, so many of them in the leaf."""
    kind = 13 + 2 * (length - 4)  # of a text that is so long
    payload = bytes([4, 0, 0x80 | kind >> 7, kind & 127]) + b"y" * (length - 4)
    first = bytearray(512)
    first[:16], first[20], first[100] = b"SQLite format 3\0", 32, 2
    leaf = bytearray(512)
    leaf[0], leaf[3:5], leaf[8:10] = 13, (1).to_bytes(2, "big"), (12).to_bytes(2, "big")
    cell = bytes([0x80 | length >> 7, length & 127, 7]) + payload[:here]
    rest = payload[here:]
    leaf[12 : 12 + len(cell) + 4] = cell + (3).to_bytes(4, "big")
    pages = []
    for start in range(0, len(rest), 476):
        more = start + 476 < len(rest)
        following = (4 + start // 476) if more else 0
        pages.append((following.to_bytes(4, "big") + rest[start : start + 476]).ljust(512, b"\xee"))
    return bytes(first) + bytes(leaf) + b"".join(pages)


@pytest.mark.parametrize(("length", "here"), [(1000, 48), (921, 445), (922, 35)])
def test_bytes_that_are_left_free_at_the_end_of_pages_are_heeded(length, here):
    """How much lies in the leaf is worked by hand from 1.7: U = 480, X = 445, M = 35, K = 35 + (P - 35) mod 476."""
    [(number, values)] = carve(with_bytes_left_free(length, here), 512)
    assert (number, values) == (7, (None, "y" * (length - 4)))


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
