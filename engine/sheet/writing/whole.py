"""What of a sheet being written can be played: the hands that are whole, in sections that have any."""

from __future__ import annotations

from dataclasses import dataclass, replace

from engine.sheet.reader import Reading, read
from engine.sheet.writing.document import Document, Place
from engine.sheet.writing.hand_text import HandText
from engine.sheet.writing.keyed import Keyed
from engine.sheet.writing.look import HandLook, Laid, laid, look_at

_MOST_FORMS = 4000
"""Forms that are remembered: while one types, every letter makes another."""


class Looks:
    """What each hand's text came to, remembered by text and season, so that only a changed hand is read again."""

    def __init__(self) -> None:
        self._known: dict[tuple[str, str | None], HandLook] = {}
        self._forms: dict[str, HandText | None] = {}
        self._heads: dict[str, Keyed | None] = {}
        self._laid: dict[tuple[str, str, str], Laid] = {}

    def known(self, text: str, season: str | None) -> HandLook | None:
        """What it came to; None if it was not read yet."""
        return self._known.get((text, season))

    def learn(self, text: str, season: str | None, look: HandLook) -> None:
        """Remember what it came to. Where that becomes too much, what was learnt first is forgotten."""
        self._known[text, season] = look
        while len(self._known) > _MOST_FORMS:
            del self._known[next(iter(self._known))]

    def of(self, text: str, season: str | None) -> HandLook:
        """What it comes to, read at once if need be."""
        found = self.known(text, season)
        if found is None:
            found = look_at(text, season)
            self.learn(text, season, found)
        return found

    def head(self, text: str) -> Keyed | None:
        """The fields of the head of a sheet or section; None where only its lines can be shown."""
        if text not in self._heads:
            if len(self._heads) > _MOST_FORMS:
                self._heads.clear()
            self._heads[text] = Keyed.of(text)
        return self._heads[text]

    def laid(self, groups: str, where: str, season: str) -> Laid:
        """Tiles for a line of groups as far as it is typed."""
        key = groups, where, season
        if key not in self._laid:
            if len(self._laid) > _MOST_FORMS:
                self._laid.clear()
            self._laid[key] = laid(groups, where, season)
        return self._laid[key]

    def form(self, text: str) -> HandText | None:
        """The fields of a hand's text; None where only its lines can be shown."""
        if text not in self._forms:
            if len(self._forms) > _MOST_FORMS:
                self._forms.clear()
            self._forms[text] = HandText.of(text)
        return self._forms[text]

    def names_twice(self, document: Document) -> frozenset[Place]:
        """Hands that bear the name of an earlier one."""
        seen: set[str] = set()
        twice = set()
        for place, text in document.hands():
            form = self.form(text)
            name = form.name.strip() if form is not None else ""
            if name and name in seen:
                twice.add(place)
            seen.add(name)
        return frozenset(twice)

    def season(self, document: Document) -> str | None:
        """The season that the sheet's head gives; None where it gives none that can be used."""
        keyed = self.head(document.head)
        text = keyed.value("season").strip() if keyed is not None else ""
        return text if text.isascii() and text.isdigit() and len(text) <= 4 else None

    def whole(self, document: Document) -> frozenset[Place]:
        """Hands that were read without a fault, and whose names are their own."""
        season = self.season(document)
        twice = self.names_twice(document)
        looks = ((place, self.known(text, season)) for place, text in document.hands())
        return frozenset(place for place, look in looks if look is not None and look.hand and place not in twice)


@dataclass(frozen=True)
class Playable:
    """The sheet of the whole hands, if there are any, and how many hands there are in all."""

    reading: Reading
    whole: int
    hands: int


def playable(document: Document, whole: frozenset[Place], source: str = "sheet") -> Playable:
    """The sheet of those hands; its reading has faults where the head is not written yet, or no hand is whole."""
    sections = []
    hands = sum(1 for _ in document.hands())
    for number, section in enumerate(document.sections):
        kept = tuple(text for index, text in enumerate(section.hands) if Place(number, index) in whole)
        if kept:
            sections.append(replace(section, hands=kept))
    return Playable(read(replace(document, sections=tuple(sections)).text, source), len(whole), hands)
