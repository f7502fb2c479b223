"""The sheet of a deal with a twist: the same hands, with other variants, points or exposures."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

from engine.rules.twists.twist import Twist
from engine.sheet.groups import JOKERS_FROM, Group, Variant
from engine.sheet.model import Hand, Section, Sheet
from engine.tiles import COPIES, JOKER


class _SheetKey:
    """A sheet by its edition and its sections, so that looking one up does not compare every hand."""

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.key = sheet.name, sheet.season, sheet.fingerprint, sheet.chosen

    def __hash__(self) -> int:
        return hash(self.key)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _SheetKey) and self.key == other.key


def twisted(sheet: Sheet, twist: Twist) -> Sheet:
    """The sheet as the twist changes it; the plain sheet where it changes no hand. Made once for each edition.

    A sheet that has a twist already is taken without it. A hand that no set can supply any more is left out.
    """
    if not (twist.rewrite or twist.concealed is not None or twist.jokers_from != JOKERS_FROM or twist.rare_doubles):
        return sheet.plain
    return _made(_SheetKey(sheet.plain), twist)


@lru_cache(maxsize=16)
def _made(key: _SheetKey, twist: Twist) -> Sheet:
    sheet = key.sheet
    rare = rare_section(sheet) if twist.rare_doubles else ""
    sections = []
    for section in sheet.sections:
        hands = [_changed(hand, twist, 2 if section.name == rare else 1) for hand in section.hands]
        kept = tuple(hand for hand in hands if hand.variants)
        if kept:
            sections.append(Section(section.name, kept))
    return replace(sheet, sections=tuple(sections), twist=twist.name, jokers_from=twist.jokers_from, source=sheet)


def _changed(hand: Hand, twist: Twist, times: int) -> Hand:
    known: dict[tuple[Group, ...], Variant] = {}
    for variant in _ways(hand, twist):
        known.setdefault(variant.key, variant)
    supplied = tuple(variant for variant in known.values() if variant.suppliable(COPIES[JOKER]))
    concealed = hand.concealed if twist.concealed is None else twist.concealed
    return replace(hand, variants=supplied, concealed=concealed, points=hand.points * times)


def _ways(hand: Hand, twist: Twist) -> Iterator[Variant]:
    """The hand's own variants, then those that the twist adds."""
    if twist.jokers_from != JOKERS_FROM:
        for variant in hand.variants:
            yield Variant(tuple(Group(one.size, one.kind, twist.jokers_from) for one in variant.groups))
        return
    yield from hand.variants
    if twist.rewrite is not None:
        for variant in hand.variants:
            yield from twist.rewrite(variant)


def rare_section(sheet: Sheet) -> str:
    """The name of the section whose hands have the fewest variants together; the first one of equals."""
    return min(sheet.sections, key=lambda section: sum(len(hand.variants) for hand in section.hands)).name
