"""Where things stand: offsets into a file's text as line and column, and a YAML scalar's characters in the text."""

from __future__ import annotations

import re
from bisect import bisect_right

from engine.sheet.events import Scalar


class Places:
    """Turns an offset into the text into line and column, both from 1."""

    def __init__(self, text: str) -> None:
        self._starts = [0, *(found.end() for found in re.finditer(r"\r\n|\r|\n", text))]

    def of(self, offset: int) -> tuple[int, int]:
        """Line and column of an offset."""
        line = bisect_right(self._starts, offset)
        return line, offset - self._starts[line - 1] + 1


def offset_of(text: str, scalar: Scalar, offset: int) -> int:
    """Where in the whole text the character stands that is at `offset` of a scalar's value.

    Quotes, folded lines and block indents lie between value and text, so the value's visible characters are followed
    one by one. Where that fails (escapes in double quotes) it is the scalar's beginning.
    """
    start = scalar.start
    if scalar.style in ("|", ">"):
        start = text.find("\n", scalar.start, scalar.end) + 1 or scalar.start
    elif scalar.style is not None:
        start += 1
    if scalar.style == '"' and "\\" in text[start : scalar.end]:
        return scalar.start
    place = start
    for char in scalar.value[: offset + 1]:
        if char.isspace():
            continue
        found = text.find(char, place, scalar.end)
        if found < 0:
            return scalar.start
        place = found + 1
    visible = scalar.value[offset : offset + 1].strip()
    return max(place - 1, start) if visible else min(place, max(scalar.end - 1, start))
