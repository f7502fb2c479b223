"""What all parts of a sheet file are judged with: where faults go, the values of keys, texts and names."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, field

from engine.sheet.tree import Listing, Mapping, Node, Refused, Report, Scalar, offset_of
from engine.words import nearest, quoted

MOST_NAME = 60
MOST_TEXT = 2000
STEPS_A_SHEET = 150_000
WORDING_STEPS_A_SHEET = 80_000
_JOINERS = "\u200c\u200d"  # unseen, but part of words and signs in some scripts

Fields = dict[str, Node]


@dataclass
class SheetReading:
    """What all hands of a file share: where faults go, the text, and how much trying is left."""

    text: str
    report: Report
    season: str | None = None
    """None when the file gives none that can be used; hands that need it are not expanded then."""
    work: int = STEPS_A_SHEET
    words: int = WORDING_STEPS_A_SHEET
    """How much trying is left for the wording."""
    names: dict[str, int] = field(default_factory=dict)
    hand: str = ""
    """The name of the hand that is being read."""
    examples: dict[str, str] = field(default_factory=lambda: EXAMPLES)
    """What to write for each key."""

    def fields(self, node: Mapping, known: Sequence[str], required: Sequence[str], what: str) -> Fields:
        """The values of a mapping by key; unknown and missing keys are faults."""
        found: Fields = {}
        meant: set[str] = set()
        for key, value in node.items:
            if key.value in known:
                found[key.value] = value
                continue
            guess = nearest(key.value, known)
            cure = f"write {guess}" if guess else f"take it out, or write one of {', '.join(known)}"
            self.report(key.start, f"{quoted(key.value)} is no key of {what}; {cure}")
            meant.add(guess or "")
        for name in required:
            if node.complete and name not in found and name not in meant:
                self.report(node.start, f"{what} lacks its {name}; write {self.examples[name]}")
        return found

    def string(self, node: Node, key: str) -> Scalar | None:
        """The node as a text that isn't empty, else a fault."""
        if isinstance(node, Refused):
            return None
        if not isinstance(node, Scalar):
            kind = "a list" if isinstance(node, Listing) else "a mapping"
            self.report(node.start, f"{key} is {kind}; write it as one text, such as {self.examples[key]}")
            return None
        if not node.value.strip():
            self.report(node.start, f"{key} is empty; write {self.examples[key]}")
            return None
        if len(node.value) > MOST_TEXT:
            self.report(node.start, f"{key} is {len(node.value):,} characters long; write at most {MOST_TEXT:,}")
            return None
        return node

    def name(self, node: Node, key: str) -> str | None:
        """A name: trimmed, 1 to 60 characters that can be seen."""
        scalar = self.string(node, key)
        if scalar is None:
            return None
        name = scalar.value.strip()
        if len(name) > MOST_NAME:
            self.report(scalar.start, f"this name is {len(name)} characters long; write at most {MOST_NAME}")
            return None
        for char in name:
            if unicodedata.category(char) in ("Cc", "Cf", "Cs", "Zl", "Zp") and char not in _JOINERS:
                what = (
                    "a line break or tab" if char in "\n\r\t" else f"a character that can't be seen (U+{ord(char):04X})"
                )
                self.report(scalar.start, f"the name {quoted(name)} holds {what}; take it out")
                return None
        return name

    def at(self, scalar: Scalar, offset: int, message: str) -> None:
        """Report a fault inside a scalar's value."""
        self.report(offset_of(self.text, scalar, offset), message)


EXAMPLES: dict[str, str] = {
    "sheet": "sheet: and the sheet's name",
    "season": "season: and its year in digits, such as season: 2026",
    "maker": "maker: and who made it",
    "sections": "sections: and below it a list, each item beginning with - section:",
    "section": "section: and the section's name",
    "hands": "hands: and below it a list, each item beginning with - hand:",
    "hand": "hand: and the hand's name",
    "groups": "groups: quint a.n, kong a.n+1, pung b.n+3, pair flower",
    "either": "either: and below it a list, each item one line of groups",
    "where": "where: n odd, or leave it out",
    "hold": "hold: open, or hold: concealed",
    "points": "points: 30",
}
"""What to write for each key."""
