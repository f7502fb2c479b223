"""The text of one mapping of a sheet file (a hand, or the head of a section or sheet), changed value by value.

Only the span of a value is rewritten, so that remarks, quotes and the order of keys stay as somebody wrote them.
"""

from __future__ import annotations

from dataclasses import dataclass

from engine.sheet.tree import Listing, Mapping, Scalar, tree
from engine.sheet.writer import scalar

ORDER = ("sheet", "season", "maker", "section", "hand", "groups", "either", "where", "hold", "points")
"""In which order keys are written; one that is added stands after those before it."""


@dataclass(frozen=True)
class KeyedValues:
    """A key with its texts: one, or those of a list."""

    key: Scalar
    values: tuple[Scalar, ...]
    listed: bool

    @property
    def end(self) -> int:
        """Where its last text ends."""
        return self.values[-1].end if self.values else self.key.end + 1


class Keyed:
    """A mapping's text and the spans of its values. `change`, `add` and `remove` give a new text."""

    def __init__(self, text: str, start: int, entries: dict[str, KeyedValues]) -> None:
        self.text = text
        self.entries = entries
        self.pad = " " * (start - (text.rfind("\n", 0, start) + 1))
        """The blanks before each key but one behind a dash."""
        self.newline = "\r\n" if "\r\n" in text else "\n"
        """How its lines end."""

    @classmethod
    def of(cls, text: str) -> Keyed | None:
        """The mapping that a piece of a file holds, alone or as the one item of a list; None where the piece can't be
        read as that: it is broken, in brackets, or holds lists in lists."""
        faults: list[int] = []
        root = tree(text, lambda at, _: faults.append(at))
        node = root.items[0] if isinstance(root, Listing) and len(root.items) == 1 else root
        if faults or not isinstance(node, Mapping) or text[node.start : node.start + 1] == "{":
            return None
        entries: dict[str, KeyedValues] = {}
        for key, value in node.items:
            if isinstance(value, Scalar):
                entries[key.value] = KeyedValues(key, (value,), False)
                continue
            if not isinstance(value, Listing) or (text[value.start : value.start + 1] == "[" and value.items):
                return None
            texts = tuple(item for item in value.items if isinstance(item, Scalar))
            if len(texts) < len(value.items):
                return None
            entries[key.value] = KeyedValues(key, texts, True)
        return cls(text, node.start, entries)

    def value(self, key: str) -> str:
        """The text of a key, trimmed of nothing; empty where the key isn't there."""
        entry = self.entries.get(key)
        return entry.values[0].value if entry is not None and entry.values else ""

    def change(self, key: str, value: str, number: int = 0) -> str:
        """Another text for a key, or for one of its list; a key that isn't there is added."""
        entry = self.entries.get(key)
        if entry is None:
            return self.add(key, scalar(value))
        return self.replaced(entry.values[number], value)

    def replaced(self, span: Scalar, value: str) -> str:
        """The text with another value in a span."""
        before, old = self.text[: span.start], self.text[span.start : span.end]
        written = scalar(value)
        if before.endswith((":", "-")):
            written = f" {written}"
        if old.endswith("\n"):
            written += self.newline
        return before + written + self.text[span.end :]

    def add(self, key: str, written: str) -> str:
        """One more key, with its value as YAML has it."""
        before = [entry for name, entry in self.entries.items() if _rank(name) < _rank(key)]
        at = self.after(max((entry.end for entry in before), default=0)) if before else len(self.text)
        return f"{self.text[:at]}{self.pad}{key}: {written}{self.newline}{self.text[at:]}"

    def remove(self, key: str) -> str:
        """The text without a key; a remark at the end of its line stays. The first key of all is left empty."""
        entry = self.entries.get(key)
        if entry is None:
            return self.text
        start = self.text.rfind("\n", 0, entry.key.start) + 1
        if self.text[start : entry.key.start].strip():  # it stands behind the dash
            return self.replaced(entry.values[0], "")
        return self.without(start, entry.end)

    def without(self, start: int, end: int) -> str:
        """The text without the lines of a span that begins at the beginning of a line; its remark stays."""
        stop = self.after(end)
        remark = self.text[end:stop].strip()
        kept = f"{self.pad}{remark}{self.newline}" if remark.startswith("#") else ""
        return self.text[:start] + kept + self.text[stop:]

    def after(self, at: int) -> int:
        """Where the line after the one ends in which a value ends."""
        if at and self.text[at - 1] == "\n":
            return at
        return (self.text.find("\n", at) + 1) or len(self.text)


def _rank(key: str) -> int:
    return ORDER.index(key) if key in ORDER else len(ORDER)
