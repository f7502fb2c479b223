"""A sheet that is being written: its file's text, cut into a head, sections and hands.

The pieces put together are the text again, so that remarks, blank lines and faults stay as they are in every piece that
nobody changes. Nothing here asks whether a piece is right.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

HAND_INDENT, SECTION_INDENT = 6, 2
"""Spaces before the dash of a hand and of a section, in our plain form."""


@dataclass(frozen=True, order=True)
class Place:
    """A hand's place, both from 0; `hand` is -1 for the section itself, and `section` -1 for the head of the sheet."""

    section: int = -1
    hand: int = -1


@dataclass(frozen=True)
class SectionText:
    """The lines of a section before its first hand, and the lines of each hand."""

    head: str
    hands: tuple[str, ...] = ()


@dataclass(frozen=True)
class Document:
    """The pieces in the order of the file. Every piece ends with the end of a line."""

    head: str
    """The lines before the first section: the sheet's name, its season, its maker."""
    sections: tuple[SectionText, ...] = ()
    tail: str = ""
    """Remarks and blank lines after the last hand."""

    @property
    def text(self) -> str:
        """The whole file."""
        return "".join(piece for _, piece in self.pieces()) + self.tail

    def pieces(self) -> Iterator[tuple[Place, str]]:
        """Every piece but the tail with its place, in the order of the file."""
        yield Place(), self.head
        for number, section in enumerate(self.sections):
            yield Place(number), section.head
            for index, hand in enumerate(section.hands):
                yield Place(number, index), hand

    def hands(self) -> Iterator[tuple[Place, str]]:
        """Every hand with its place."""
        return ((place, piece) for place, piece in self.pieces() if place.hand >= 0)

    def has(self, place: Place) -> bool:
        """Whether there is a piece at that place."""
        if place.section < 0:
            return place.hand < 0
        if place.section >= len(self.sections):
            return False
        return place.hand < len(self.sections[place.section].hands)

    def piece(self, place: Place) -> str:
        """The text of a piece. Raises IndexError where there is none."""
        if not self.has(place):
            raise IndexError(f"there is nothing at {place}")
        if place.section < 0:
            return self.head
        section = self.sections[place.section]
        return section.head if place.hand < 0 else section.hands[place.hand]

    def at(self, offset: int) -> tuple[Place, int]:
        """The piece in which a character of the text stands, and where in it; the last piece for the tail."""
        begun = 0
        found = Place(), 0
        for place, piece in self.pieces():
            if begun <= offset:
                found = place, min(offset - begun, len(piece))
            begun += len(piece)
        return found

    # Changes. Each gives a new document.

    def put(self, place: Place, text: str) -> Document:
        """Another text for a piece."""
        if place.section < 0:
            return replace(self, head=ended(text))
        section = self.sections[place.section]
        if place.hand < 0:
            return self._with(place.section, replace(section, head=ended(text)))
        hands = list(section.hands)
        hands[place.hand] = ended(text)
        return self._with(place.section, replace(section, hands=tuple(hands)))

    def add(self, place: Place, text: str) -> Document:
        """One more hand, so that it stands at that place; its lines are indented as those of its new neighbours."""
        section = self.sections[place.section]
        hands = list(section.hands)
        hands.insert(place.hand, indented(ended(text), self._indent(place.section)))
        return self._with(place.section, replace(section, head=_open(section.head), hands=tuple(hands)))

    def remove(self, place: Place) -> Document:
        """The same without a hand, or without a whole section."""
        if place.hand < 0:
            sections = [one for number, one in enumerate(self.sections) if number != place.section]
            return replace(self, sections=tuple(sections))
        section = self.sections[place.section]
        hands = tuple(hand for index, hand in enumerate(section.hands) if index != place.hand)
        return self._with(place.section, replace(section, hands=hands))

    def move(self, place: Place, to: Place) -> Document:
        """A hand taken out and put in again, so that it stands at `to` in what is then there."""
        return self.remove(place).add(to, self.piece(place))

    def add_section(self, number: int, head: str) -> Document:
        """One more section, without hands, so that it has that number."""
        sections = list(self.sections)
        sections.insert(number, SectionText(ended(head)))
        return replace(self, head=_begun(self.head), sections=tuple(sections))

    def move_section(self, number: int, to: int) -> Document:
        """A section with its hands taken out and put in again with the number `to`."""
        sections = list(self.sections)
        sections.insert(to, sections.pop(number))
        return replace(self, sections=tuple(sections))

    def _with(self, number: int, section: SectionText) -> Document:
        sections = list(self.sections)
        sections[number] = section
        return replace(self, sections=tuple(sections))

    def _indent(self, number: int) -> int:
        """How far the hands of a section are indented: as its own, or as those nearest to it."""
        near = sorted(self.hands(), key=lambda one: abs(one[0].section - number))
        return dash_indent(near[0][1]) if near else HAND_INDENT


def ended(text: str) -> str:
    """The text with its last line ended."""
    return text if not text or text.endswith("\n") else text + "\n"


def dash_indent(piece: str) -> int:
    """Spaces before the dash with which a section or hand begins; those of a hand where no dash is found."""
    for line in piece.splitlines():
        if line.lstrip(" ").startswith("-"):
            return len(line) - len(line.lstrip(" "))
    return HAND_INDENT


def indented(piece: str, indent: int) -> str:
    """The piece with its dash after so many spaces, all its lines moved alike."""
    more = indent - dash_indent(piece)
    if not more:
        return piece
    lines = piece.splitlines(keepends=True)
    if more > 0:
        return "".join(" " * more + line if line.strip() else line for line in lines)
    return "".join(line[min(-more, len(line) - len(line.lstrip(" "))) :] for line in lines)


def _open(head: str) -> str:
    """A section's head that hands can follow: with `hands:` and nothing after it."""
    lines = head.splitlines(keepends=True)
    for number, line in enumerate(lines):
        key, colon, rest = line.partition(":")
        if colon and key.strip().removeprefix("- ").strip() == "hands":
            if rest.strip().replace(" ", "") in ("[]", "''", '""'):
                lines[number] = f"{key}:\n"
            return "".join(lines)
    return f"{ended(head)}{' ' * (dash_indent(head) + 2)}hands:\n"


def _begun(head: str) -> str:
    """A sheet's head that sections can follow: with `sections:` and nothing after it."""
    lines = head.splitlines(keepends=True)
    for number, line in enumerate(lines):
        if line.startswith("sections:"):
            if line.removeprefix("sections:").strip().replace(" ", "") in ("[]", "''", '""'):
                lines[number] = "sections:\n"
            return "".join(lines)
    return f"{ended(head)}sections:\n"
