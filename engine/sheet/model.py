"""What a sheet is once read: sections, hands, their patterns and clauses, and the variants that make them."""

from __future__ import annotations

import hashlib
from collections.abc import Collection
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING

if TYPE_CHECKING:  # the notation stands above the model
    from engine.sheet.clauses import Clause
    from engine.sheet.notation import Pattern
from engine.sheet.groups import JOKERS_FROM, Variant


@dataclass(frozen=True)
class Line:
    """One alternative of a hand as the sheet writes it: its groups' texts and their parsed patterns."""

    patterns: tuple[Pattern, ...]
    text: str
    """The groups in canonical form: `pair flower, kong a.x`."""


@dataclass(frozen=True)
class Hand:
    """One named hand of a sheet."""

    name: str
    section: str
    lines: tuple[Line, ...]
    where: tuple[Clause, ...]
    where_text: str
    """The clauses in canonical form, empty when there are none."""
    concealed: bool
    points: int
    wording: str
    """What may vary, in words, generated from the clauses: "any five numbers in a row, one suit"."""
    variants: tuple[Variant, ...]
    """Every variant that the full set (8 jokers) can supply, in a fixed order."""


@dataclass(frozen=True)
class Section:
    """A named run of hands."""

    name: str
    hands: tuple[Hand, ...]


@dataclass(frozen=True)
class Sheet:
    """A sheet of permitted hands."""

    name: str
    season: str
    """As written, digits only, such as "2026"."""
    maker: str
    sections: tuple[Section, ...]
    canonical: str = field(repr=False)
    """The whole sheet (uncut) written out in our plain form: `writer.write` made it, `reader.read` takes it."""
    chosen: tuple[str, ...] | None = None
    """Section names when this is a sheet cut to some sections, else None."""
    twist: str = ""
    """The twist that has changed the hands for one deal; empty for a sheet as it is written."""
    jokers_from: int = JOKERS_FROM
    """The smallest group in which a joker may stand."""
    source: Sheet | None = field(default=None, repr=False, compare=False)
    """The sheet before the twist; None where there is none. See `plain`."""

    @property
    def plain(self) -> Sheet:
        """This sheet without a twist."""
        return self if self.source is None else self.source

    @cached_property
    def hands(self) -> tuple[Hand, ...]:
        """All hands in sheet order."""
        return tuple(hand for section in self.sections for hand in section.hands)

    @cached_property
    def fingerprint(self) -> str:
        """16 hexadecimal digits that tell this edition of the sheet from every other; the same for a cut sheet."""
        return hashlib.sha256(self.canonical.encode()).hexdigest()[:16]

    def hand(self, name: str) -> Hand:
        """The hand of that name. Raises KeyError."""
        for hand in self.hands:
            if hand.name == name:
                return hand
        raise KeyError(name)

    def cut(self, names: Collection[str]) -> Sheet:
        """This sheet, without a twist, with the named sections only, in sheet order.

        Raises ValueError for an unknown or empty choice.
        """
        if self.source is not None:
            return self.source.cut(names)
        known = [section.name for section in self.sections]
        unknown = [name for name in names if name not in known]
        if unknown or not names:
            what = f"there is no section “{unknown[0]}”" if unknown else "no section is chosen"
            raise ValueError(f"{what} on {self.name}; choose from: {', '.join(known)}")
        kept = tuple(section for section in self.sections if section.name in names)
        return replace(self, sections=kept, chosen=tuple(section.name for section in kept))
