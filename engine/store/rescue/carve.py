"""Rows of a damaged SQLite file read straight from its pages, for when the trees that lead to them are destroyed.

Follows "Database File Format" (https://www.sqlite.org/fileformat2.html): 1.6 B-tree Pages (leaves of tables, type 13),
1.7 Cell Payload Overflow Pages, 2.1 Record Format. Which table a row is from is told by nothing but its values, so the
caller has to check them.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator

TABLE_LEAF = 13
_INTEGER_BYTES = (0, 1, 2, 3, 4, 6, 8)
_MOST_COLUMNS = 40
_LONGEST_HEAD = 9 * (_MOST_COLUMNS + 1)  # bytes; a number takes nine at most
_LONGEST_ROW = 4 << 20  # bytes; a sheet's text is at most a quarter of that
_BYTES = (*_INTEGER_BYTES, 8, 0, 0, _LONGEST_ROW, _LONGEST_ROW)  # by kind of value; 10 and 11 are none (2.1)

Value = int | float | str | bytes | None


class _TornError(Exception):
    """A cell that leads outside of its page or is longer than it can be."""


def carve(content: bytes, page_size: int) -> Iterator[tuple[int, tuple[Value, ...]]]:
    """Row number and values of every row in every leaf of a table, in the order of the pages. Torn rows are left out.

    The column that stands for the row number holds None in the file, and here.
    """
    usable = _usable(content, page_size)
    for page, head in _pages(content, page_size):
        if page[head] == TABLE_LEAF:
            for place in _cells(page, head):
                row = _row_or_none(content, page, place, page_size, usable)
                if row is not None:
                    yield row


def carve_loose(content: bytes, page_size: int) -> Iterator[tuple[int, tuple[Value, ...]]]:
    """Whatever looks like a row at any place of a page that is no sound leaf: its head, or what leads to its rows, may
    be lost. Most of it is none, so the caller has to check the values.
    """
    usable = _usable(content, page_size)
    for page, head in _pages(content, page_size):
        if page[head] in _INNER or not any(page):
            continue
        if page[head] == TABLE_LEAF:
            cells = [_row_or_none(content, page, place, page_size, usable) for place in _cells(page, head)]
            if cells and None not in cells:
                continue
        for place in range(len(page) - 2):
            row = _row_or_none(content, page, place, page_size, usable)
            if row is not None:
                yield row


_INNER = (2, 5, 10)  # pages of indexes, and pages that lead to leaves


def _usable(content: bytes, page_size: int) -> int:
    return page_size - (content[20] if len(content) > 20 and content.startswith(b"SQLite format 3\0") else 0)


def _pages(content: bytes, page_size: int) -> Iterator[tuple[bytes, int]]:
    """Every whole page, and where its head begins."""
    for start in range(0, len(content) - page_size + 1, page_size):
        yield content[start : start + page_size], 100 if start == 0 else 0


def _cells(page: bytes, head: int) -> list[int]:
    """Where the cells of a leaf begin."""
    number = min(int.from_bytes(page[head + 3 : head + 5], "big"), len(page) // 4)
    spots = range(head + 8, head + 8 + 2 * number, 2)
    return [int.from_bytes(page[spot : spot + 2], "big") for spot in spots]


def _row_or_none(
    content: bytes, page: bytes, place: int, page_size: int, usable: int
) -> tuple[int, tuple[Value, ...]] | None:
    try:
        return _row(content, page, place, page_size, usable)
    except (_TornError, IndexError, struct.error):
        return None


def _row(content: bytes, page: bytes, place: int, page_size: int, usable: int) -> tuple[int, tuple[Value, ...]]:
    length, place = _varint(page, place)
    number, place = _varint(page, place)
    if not 0 < length <= min(len(content), _LONGEST_ROW):
        raise _TornError
    here = _bytes_here(length, usable)
    if place + here > len(page):
        raise _TornError
    payload = page[place : place + here]
    if here < length:
        following = int.from_bytes(page[place + here : place + here + 4], "big")
        payload += _overflow(content, following, length - here, page_size, usable)
    return number, _values(payload)


def _bytes_here(length: int, usable: int) -> int:
    """How much of a payload lies in the leaf itself (1.7: X, M and K for leaves of tables)."""
    most, least = usable - 35, (usable - 12) * 32 // 255 - 23
    if length <= most:
        return length
    here = least + (length - least) % (usable - 4)
    return here if here <= most else least


def _overflow(content: bytes, number: int, length: int, page_size: int, usable: int) -> bytes:
    parts: list[bytes] = []
    while length > 0:
        start = (number - 1) * page_size
        if number < 2 or start + page_size > len(content):
            raise _TornError
        part = content[start + 4 : start + 4 + min(length, usable - 4)]
        number = int.from_bytes(content[start : start + 4], "big")
        length -= len(part)
        parts.append(part)
    return b"".join(parts)


def _values(payload: bytes) -> tuple[Value, ...]:
    head, place = _varint(payload, 0)
    left = len(payload) - head  # room for the values; most places of a page are no row, and are told by it at once
    if left < 0 or head > _LONGEST_HEAD:
        raise _TornError
    kinds = []
    while place < head:
        kind = payload[place]
        if kind < 0x80:
            place += 1
        else:
            kind, place = _varint(payload, place)
        left -= _BYTES[kind] if kind < 12 else (kind - 12) >> 1
        if left < 0:
            raise _TornError
        kinds.append(kind)
    if len(kinds) > _MOST_COLUMNS:
        raise _TornError
    values = []
    for kind in kinds:
        value, place = _value(payload, kind, place)
        values.append(value)
    return tuple(values)


def _value(payload: bytes, kind: int, place: int) -> tuple[Value, int]:
    if kind == 0:
        return None, place
    if kind in (8, 9):
        return kind - 8, place
    if kind == 7:
        return float(struct.unpack_from(">d", payload, place)[0]), place + 8
    length = _INTEGER_BYTES[kind] if kind <= 6 else (kind - 12) // 2
    raw = payload[place : place + length]
    if kind in (10, 11) or len(raw) < length:
        raise _TornError
    if kind <= 6:
        return int.from_bytes(raw, "big", signed=True), place + length
    return (raw if kind % 2 == 0 else raw.decode("utf-8", "replace")), place + length


def _varint(data: bytes, place: int) -> tuple[int, int]:
    """A number of one to nine bytes, and the place behind it."""
    number = 0
    for count in range(8):
        byte = data[place + count]
        number = number << 7 | byte & 0x7F
        if byte < 0x80:
            return number, place + count + 1
    return number << 8 | data[place + 8], place + 9
