"""What one hand's text comes to: the hand, or its faults, each at its place in the form."""

from __future__ import annotations

from dataclasses import dataclass

from engine.sheet.clauses import Clause, parse_where, variables
from engine.sheet.faults import SheetReading
from engine.sheet.groups import Group
from engine.sheet.hand import read_hand
from engine.sheet.model import Hand
from engine.sheet.notation import Pattern
from engine.sheet.parsing import parse_groups
from engine.sheet.tree import Listing, Mapping, Scalar, offset_of, tree
from engine.sheet.variants import StepsLeft, TooManyWaysError, first_way
from engine.sheet.writing.hand_text import HandText

_STEPS_TO_LAY = 3000
"""How much is tried to find tiles to show for a line that is being typed: some milliseconds."""


@dataclass(frozen=True)
class FormFault:
    """What is wrong with a hand, and what to do."""

    field: str
    """The key of the field; empty where the hand as a whole is at fault."""
    line: int
    """Which of the lines of groups, from 0."""
    at: int
    """Where in the field's text, in characters from 0."""
    message: str
    offset: int
    """Where in the hand's text."""


@dataclass(frozen=True)
class HandLook:
    """A hand, or what is wrong with it: one of the two is there."""

    hand: Hand | None
    faults: tuple[FormFault, ...] = ()


def look_at(text: str, season: str | None) -> HandLook:
    """Read one hand's text, with its variants and its wording. `season` is that of the sheet, None if it has none yet.

    It takes some milliseconds, or a few tenths of a second where the hand can be made in very many ways.
    """
    found: list[tuple[int, str]] = []

    def report(at: int, message: str) -> None:
        if (at, message) not in found:
            found.append((at, message))

    reading = SheetReading(text, report, season)
    root = tree(text, report)
    node = root.items[0] if isinstance(root, Listing) and len(root.items) == 1 else root
    hand = read_hand(node, "", reading) if isinstance(node, Mapping) else None
    if hand is None and not found:
        found.append((0, "this is no hand; write - hand: and its name, and its groups and points below that"))
        if season is None:
            found = [(0, "the sheet has no season yet; write its year, so that the digits of the season are known")]
    if not found:
        return HandLook(hand)
    form = HandText.of(text)
    return HandLook(None, tuple(_placed(text, form, at, message) for at, message in sorted(found)))


def _placed(text: str, form: HandText | None, offset: int, message: str) -> FormFault:
    for field, line, span in form.spans() if form is not None else ():
        if span.start <= offset <= span.end:
            return FormFault(field, line, _inside(text, span, offset), message, offset)
    return FormFault("", 0, 0, message, offset)


def _inside(text: str, span: Scalar, offset: int) -> int:
    """Where in a value the character stands that is at `offset` of the text: the way back from `tree.offset_of`."""
    if span.style is None and "\n" not in text[span.start : span.end]:
        return max(0, offset - span.start)
    places = range(len(span.value))
    return next((place for place in places if offset_of(text, span, place) >= offset), len(span.value))


Laid = tuple[tuple[Pattern, tuple[Group, ...]], ...]
"""Patterns of a line, each with the groups that are shown for it."""


def text_faults(text: str) -> tuple[tuple[int, str], ...]:
    """What keeps a piece of a file from being read as YAML: where, and what to do."""
    found: list[tuple[int, str]] = []
    tree(text, lambda at, message: found.append((at, message)))
    return tuple(sorted(set(found)))


def laid(groups: str, where: str, season: str) -> Laid:
    """Tiles for each group of a line as far as it is typed: the first ones that letters and clauses allow.

    Groups and clauses that can't be read yet are left out. Where the clauses, or the letters, allow nothing, each group
    is shown by itself.
    """
    patterns = parse_groups(groups).patterns
    clauses = parse_where(where).clauses if where.strip() else ()
    for tried in (clauses, ()):
        found = _way(patterns, tried, season)
        if found is not None:
            return _shared_out(patterns, found, season)
    shown = []
    for pattern in patterns:
        alone = _way((pattern,), (), season)
        if alone is not None:
            shown.append((pattern, alone))
    return tuple(shown)


def _way(patterns: tuple[Pattern, ...], where: tuple[Clause, ...], season: str) -> tuple[Group, ...] | None:
    uses: dict[str, str] = {}
    for pattern in patterns:
        for letter, use in pattern.letters:
            if uses.setdefault(letter, use) != use:
                return None  # a letter is used in two ways
    kinds = [{uses[name] for name in variables(clause) if name in uses} for clause in where]
    if any(len(kind) > 1 for kind in kinds):
        return None
    try:
        return first_way(patterns, where, season, StepsLeft(_STEPS_TO_LAY))
    except TooManyWaysError:
        return None


def _shared_out(patterns: tuple[Pattern, ...], groups: tuple[Group, ...], season: str) -> Laid:
    shown = []
    begun = 0
    for pattern in patterns:
        end = begun + pattern.groups(season)
        shown.append((pattern, groups[begun:end]))
        begun = end
    return tuple(shown)


def tiles_in(groups: str, season: str) -> int:
    """How many tiles the groups come to that can be read."""
    return sum(pattern.size * pattern.groups(season) for pattern in parse_groups(groups).patterns)
