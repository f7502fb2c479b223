"""How a hand is shown to be read: its first variant as groups of tiles, each with the tab that says what may vary."""

from __future__ import annotations

from dataclasses import dataclass

from engine.sheet.groups import Group
from engine.sheet.model import Hand, Line, Sheet
from engine.sheet.notation import SUIT_LETTERS, DragonOf, Number, Pattern, Season, Zero
from engine.sheet.variants import expand
from engine.tiles import Kind


@dataclass(frozen=True)
class ShownGroup:
    """So many tiles alike, and what stands on the tab over them."""

    size: int
    kind: Kind
    tab: str
    """A suit letter where the suit may vary, `0` for a white dragon that is a zero, else nothing."""


def shown_rows(sheet: Sheet, hand: Hand) -> tuple[tuple[ShownGroup, ...], ...]:
    """One row of groups for every alternative of the hand that the set can supply."""
    if len(hand.lines) == 1:
        return (_row(sheet, hand.lines[0], hand.variants[0].groups),)
    rows = []
    for line in hand.lines:
        variants = expand((line,), hand.where, sheet.season)
        if variants:
            rows.append(_row(sheet, line, variants[0].groups))
    return tuple(rows)


def _row(sheet: Sheet, line: Line, groups: tuple[Group, ...]) -> tuple[ShownGroup, ...]:
    tabs = [tab for pattern in line.patterns for tab in _tabs(pattern, sheet.season)]
    return tuple(ShownGroup(group.size, group.kind, tab) for group, tab in zip(groups, tabs, strict=True))


def _tabs(pattern: Pattern, season: str) -> list[str]:
    """A tab for each group that the pattern stands for."""
    match pattern.tile:
        case Season(suit=suit):
            letter = suit if suit in SUIT_LETTERS else ""
            return ["0" if digit == "0" else letter for digit in season]
        case Zero():
            return ["0"]
        case Number(suit=suit) | DragonOf(suit=suit):
            return [suit if suit in SUIT_LETTERS else ""]
    return [""] * pattern.groups(season)


def hold_words(hand: Hand) -> str:
    """Whether the hand may be exposed, in a word."""
    return "concealed" if hand.concealed else "open"
