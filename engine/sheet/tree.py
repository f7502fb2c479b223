"""From the text of a file to a guarded tree of mappings, lists and strings, each with its place.

The tree is made from PyYAML's event stream, in pure Python, so that everything a sheet has no use for (anchors,
aliases, tags, deep nesting, endless files) is refused before it can do harm, and everything is a string as written.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

import yaml

from engine.words import quoted

MOST_DEPTH = 8
MOST_EVENTS = 6_000

Report = Callable[[int, str], None]
"""Takes a fault: where in the text, counted in characters, and what to say."""


@dataclass(frozen=True)
class Scalar:
    """A string; `start` and `end` are where it stands in the text, `style` how it is quoted (None when plain)."""

    value: str
    start: int
    end: int
    style: str | None


@dataclass(frozen=True)
class Listing:
    """A list; not complete when the reading broke off inside it."""

    items: tuple[Node, ...]
    start: int
    complete: bool = True


@dataclass(frozen=True)
class Mapping:
    """Keys with values, in the order written; a key that came twice is here once, as first written.
    Not complete when the reading broke off inside it."""

    items: tuple[tuple[Scalar, Node], ...]
    start: int
    complete: bool = True


@dataclass(frozen=True)
class Refused:
    """Something that a fault has already been reported for."""

    start: int


Node = Scalar | Listing | Mapping | Refused


class _StoppedError(Exception):
    """The rest of the file can't be read."""


def tree(text: str, report: Report, what: str = "sheet") -> Node | None:
    """The tree of the one document, None for an empty one; every fault goes to `report`. Where the reading breaks off,
    the tree holds what came before. `what` the file holds, as faults call it."""
    builder = _Builder(text, report, what)
    try:
        return builder.document()
    except _StoppedError:
        return builder.so_far()


@dataclass
class _Open:
    """A list or mapping that is being read."""

    start: int
    mapping: bool
    keys: list[Scalar | None] = field(default_factory=list)  # None for a refused key
    values: list[Node] = field(default_factory=list)
    seen: set[str] = field(default_factory=set)

    def close(self, complete: bool = True) -> Node:
        if not self.mapping:
            return Listing(tuple(self.values), self.start, complete)
        pairs = zip(self.keys, self.values, strict=False)  # a last key may still wait for its value
        return Mapping(tuple((key, value) for key, value in pairs if key), self.start, complete)


class _Builder:
    """One pass over the events with a stack of open lists and mappings; no recursion."""

    def __init__(self, text: str, report: Report, what: str) -> None:
        self._text = text
        self._what = what
        self._report = report
        self._stack: list[_Open] = []
        self._ending = 0  # of the lists and mappings on the stack, how many have ended; closed at the next event
        self._root: Node | None = None
        self._at = 0

    def so_far(self) -> Node:
        """The tree as far as it was read. What ended or was read just before the break may only seem whole."""
        if self._stack and not self._ending and self._stack[-1].values:
            last = self._stack[-1].values.pop()
            self._stack[-1].values.append(Refused(last.start) if isinstance(last, Scalar) else last)
        while self._stack:
            self._add(self._stack.pop().close(complete=False))
        return self._root or Refused(self._at)

    def document(self) -> Node | None:
        """Read all events."""
        documents = 0
        for count, event in enumerate(self._events()):
            self._at = _index(event.start_mark)
            if count >= MOST_EVENTS:
                self._stack, self._root = [], None  # nothing of such a file is worth the time that judging it takes
                self._stop(f"the file holds far more entries than a {self._what} has; split it into several")
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    self._stop(
                        f"a second document begins here; put one {self._what} into one file and take out the line ---"
                    )
            elif isinstance(event, yaml.CollectionEndEvent):
                self._ending += 1
            else:
                self._close_ended()
                self._take(event)
        return self._root

    def _close_ended(self) -> None:
        for _ in range(self._ending):
            self._add(self._stack.pop().close())
        self._ending = 0

    def _events(self) -> Iterator[yaml.Event]:
        """PyYAML's events, its errors turned into faults. It lets several kinds of plain errors escape."""
        try:
            yield from yaml.parse(self._text, Loader=yaml.SafeLoader)
        except yaml.MarkedYAMLError as error:
            self._at = error.problem_mark.index if error.problem_mark else self._at
            self._broken(error)
        except (yaml.YAMLError, ValueError, ArithmeticError, LookupError, AttributeError, TypeError):
            self._stop(
                "after this the file can't be read as YAML; "
                "take out backslashes in double quotes, and lines that begin with %"
            )

    def _stop(self, message: str) -> None:
        self._report(self._at, message)
        raise _StoppedError

    def _broken(self, error: yaml.MarkedYAMLError) -> None:
        problem = f"{error.context or ''}: {error.problem or ''}"
        char = self._text[self._at : self._at + 1]
        if char == "\t" and "cannot start any token" in problem:
            for found in re.compile(r"^[ ]*\t+(?=[^\s#])", re.MULTILINE).finditer(self._text, self._at + 1):
                self._report(found.end() - 1, _TAB)
            self._stop(_TAB)
        if char == "-" and self._text[self._at + 1 : self._at + 2].strip():
            self._stop("a dash needs a space after it; write it as in - hand: Handrail")
        if "<document start>" in problem:
            self._stop(self._why_ended())
        for pattern, cure in _YAML_CURES:
            if re.search(pattern, problem):
                if error.context_mark and re.search(_BEGINS_EARLIER, pattern):
                    self._at = error.context_mark.index
                self._stop(cure.format(char=quoted(char) if char else "this", what=self._what))
        what = quoted(error.problem or "")
        self._stop(f"this can't be read as YAML ({what}); write it more plainly, or put the text into quotes")

    def _why_ended(self) -> str:
        """The file goes on where YAML takes the sheet to be over, or not begun."""
        before = self._text[: self._at]
        if re.search(r"^%", before, re.MULTILINE):
            return "a line that begins with % stands above; take it out"
        if re.search(r"^\.\.\.", before, re.MULTILINE):
            return f"the line ... above ends the {self._what}; put one into one file, or take that line out"
        return f"the {self._what} ends before this; begin this line exactly below the first one, or take it out"

    def _take(self, event: yaml.Event) -> None:
        if isinstance(event, yaml.AliasEvent):
            self._report(
                self._at,
                f"aliases such as *{(event.anchor or '')[:20]} are not allowed in a {self._what}; write the text out",
            )
            self._add(Refused(self._at))
            return
        if isinstance(event, yaml.NodeEvent) and event.anchor is not None:
            self._report(
                self._at, f"anchors such as &{event.anchor[:20]} are not allowed in a {self._what}; take it out"
            )
        if isinstance(event, (yaml.ScalarEvent, yaml.CollectionStartEvent)) and event.tag is not None:
            written = re.compile(r"![^\s,\[\]{}]*").search(self._text, self._at)
            at, tag = (written.start(), written.group()) if written else (self._at, event.tag)
            self._report(at, f"tags such as {quoted(tag)} are not allowed in a {self._what}; take it out")
        if isinstance(event, yaml.ScalarEvent):
            end = _index(event.end_mark)
            self._add(Scalar(event.value, self._after_properties(event), end, event.style))
        elif isinstance(event, yaml.CollectionStartEvent):
            if len(self._stack) >= MOST_DEPTH:
                self._stop(
                    f"lists and mappings are nested too deeply; a {self._what} needs nothing so deep, write it flatter"
                )
            self._stack.append(_Open(self._at, isinstance(event, yaml.MappingStartEvent)))

    def _after_properties(self, event: yaml.ScalarEvent) -> int:
        """Where a scalar itself begins, after an anchor or a tag."""
        start: int = _index(event.start_mark)
        if event.anchor is None and event.tag is None:
            return start
        found = re.compile(r"(?:[&!]\S*\s+)*").match(self._text, start, _index(event.end_mark))
        return found.end() if found else start

    def _add(self, node: Node) -> None:
        if not self._stack:
            self._root = node
            return
        top = self._stack[-1]
        if not top.mapping or len(top.keys) > len(top.values):
            top.values.append(node)
            return
        top.keys.append(self._key(top, node))

    def _key(self, top: _Open, node: Node) -> Scalar | None:
        if isinstance(node, Scalar):
            if node.value in top.seen:
                self._report(node.start, f"{quoted(node.value)} is written twice here; keep one of the two")
                return None
            top.seen.add(node.value)
            return node
        if not isinstance(node, Refused):
            self._report(
                node.start, "a list or mapping can't be a key; write a word and a colon, such as hand: Handrail"
            )
        return None


def _index(mark: Any) -> int:
    """Where a mark of PyYAML stands; every event of the pure-Python parser has one."""
    index: int = mark.index
    return index


_TAB = "a tab stands where the line is indented; write spaces instead"

_BEGINS_EARLIER = "unexpected end of stream|unexpected document separator|could not find expected"
"""Errors that are best shown where the text in question begins."""

_YAML_CURES = (
    ("directive|version", "a line that begins with % can't be read; take it out"),
    (
        "mapping values are not allowed",
        "a colon stands where none can; put the text into quotes, or indent the line as its neighbours are",
    ),
    ("cannot start any token", "{char} can't begin a text here; put the text into quotes"),
    (
        "unexpected end of stream",
        "the closing quotation mark of this text is missing; write it, or take the opening one out",
    ),
    ("unexpected document separator", "a line of --- or ... stands inside a quoted text; close the quotes before it"),
    ("could not find expected ':'", "a colon with a space after it is missing here; write it as in points: 30"),
    (
        "expected ',' or '[\\]}]'",
        "a comma or a closing bracket is missing here; write it, or write the list line by line with dashes",
    ),
    (
        "expected <block end>",
        "{char} stands out of line here; indent this line exactly as the lines of its own list or hand",
    ),
    (
        "expected the node content",
        "{char} stands where a text or a list should; write it, or take the dash or colon before it out",
    ),
    (
        "sequence entries are not allowed",
        "a dash can't stand here; put the list's lines below the key, each with its own dash",
    ),
    (
        "alphabetic or numeric|alias|anchor",
        "anchors and aliases (& and *) are not allowed in a {what}; put a text that begins so into quotes",
    ),
    ("tag", "tags (words that begin with !) are not allowed in a {what}; put a text that begins so into quotes"),
    (
        "unknown escape|escape sequence|hexdecimal",
        "a backslash in double quotes means something else here; use single quotes",
    ),
    (
        "indentation|comment or a line break|chomping",
        "after | or > the text begins on the next line, indented with spaces; write it so, or write it on one line",
    ),
)


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
