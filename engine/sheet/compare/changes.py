"""What became of one hand from one sheet to the next: its groups, tiles, hold, points and name."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from enum import Enum

from engine.sheet.compare.pairing import best_pairs, ways
from engine.sheet.likeness import Coder, Forms, Moved, Place, forms_of
from engine.sheet.model import Hand, Line, Sheet
from engine.sheet.notation import Dragon, EachDragon, EachWind, Number, Pattern, Season, Tile, Wind, Zero
from engine.sheet.variants import expand
from engine.tiles import DRAGON_NAMES, WIND_NAMES


class What(Enum):
    """What of a hand has changed."""

    GROUP = "group"
    """A group's size, or a group more or less."""
    TILE = "tile"
    """A group's tile, or which tiles may stand for its letters."""
    HOLD = "hold"
    POINTS = "points"
    NAME = "name"


@dataclass(frozen=True)
class Change:
    """One thing that has changed, as it was and as it is."""

    what: What
    old: str
    """Empty for a group that has come."""
    new: str
    """Empty for a group that has gone."""
    spoken: bool = False
    """Whether it is the words about a hand that have changed, and not how a group is written."""


def changes(old_sheet: Sheet, old: Hand, new_sheet: Sheet, new: Hand) -> tuple[Change, ...]:
    """All that has changed, groups and tiles first; nothing when the hand was kept. A hand that is only written
    otherwise, with the same variants, has not changed."""
    found = _made_otherwise(old_sheet, old, new_sheet, new) if ways(old) != ways(new) else []
    if old.concealed != new.concealed:
        found.append(Change(What.HOLD, hold(old), hold(new)))
    if old.points != new.points:
        found.append(Change(What.POINTS, str(old.points), str(new.points)))
    if old.name != new.name:
        found.append(Change(What.NAME, old.name, new.name))
    return tuple(found)


def hold(hand: Hand) -> str:
    """`open` or `concealed`."""
    return "concealed" if hand.concealed else "open"


def _made_otherwise(old_sheet: Sheet, old: Hand, new_sheet: Sheet, new: Hand) -> list[Change]:
    """Which groups differ, alternative by alternative; where none does, what may stand for their letters."""
    before, after = _alternatives(old_sheet, old), _alternatives(new_sheet, new)
    coder = Coder()
    mine, theirs = forms_of(before, coder), forms_of(after, coder)
    together = dict(best_pairs([[one.alike(other) for other in theirs] for one in mine]))
    found: list[Change] = []
    for place, one in enumerate(mine):
        if place not in together:
            found.append(Change(What.GROUP, one.hand.lines[0].text, ""))
        elif ways(one.hand) != ways(theirs[together[place]].hand):
            found += _regrouped(old_sheet, one, new_sheet, theirs[together[place]])
    for place, other in enumerate(theirs):
        if place not in together.values():
            found.append(Change(What.GROUP, "", other.hand.lines[0].text))
    if not found or _clauses(old) != _clauses(new):
        found += _said_otherwise(old, new, needed=not found)
    return found


def _clauses(hand: Hand) -> str:
    """The clauses with their letters called by the order in which they come up, so that a new letter is no change."""
    letters: dict[str, str] = {}
    return re.sub(r"\b[a-z]\b", lambda letter: letters.setdefault(letter[0], f"#{len(letters)}"), hand.where_text)


def _alternatives(sheet: Sheet, hand: Hand) -> list[Hand]:
    """The hand's alternatives as hands of their own, without those that the set can't supply."""
    if len(hand.lines) == 1:
        return [hand]
    ones = [replace(hand, lines=(line,), variants=expand((line,), hand.where, sheet.season)) for line in hand.lines]
    return [one for one in ones if one.variants]


@dataclass(frozen=True)
class _Written:
    """A group of a form, where it was moved to, and how its sheet writes it."""

    size: int
    place: Place
    text: str


Groups = list[_Written]


def _regrouped(old_sheet: Sheet, mine: Forms, new_sheet: Sheet, theirs: Forms) -> tuple[Change, ...]:
    """What has changed in the groups, as most of the hand's forms have it; nothing where all forms are as before."""
    old_line, new_line = mine.hand.lines[0], theirs.hand.lines[0]
    read = Counter(
        tuple(_read(_written(old_sheet, old_line, groups), _written(new_sheet, new_line, their_groups)))
        for groups, their_groups in mine.readings(theirs)
    )
    del read[()]
    return max(read, key=lambda changes: read[changes], default=())


def _read(before: Groups, after: Groups) -> Iterator[Change]:
    """The groups that differ: those with the same tile, then those of the same size, then what is left."""
    rules: tuple[tuple[What | None, Callable[[_Written, _Written], bool]], ...] = (
        (None, lambda mine, other: (mine.size, mine.place) == (other.size, other.place)),
        (None, lambda mine, other: mine.text == other.text),  # only its letters stand for others: said in words
        (What.GROUP, lambda mine, other: mine.place == other.place),
        (What.TILE, lambda mine, other: mine.size == other.size),
        (What.GROUP, lambda *_: True),
    )
    for what, fits in rules:
        for group in list(before):
            other = next((one for one in after if fits(group, one)), None)
            if other is not None:
                before.remove(group)
                after.remove(other)
                if what is not None:
                    yield Change(what, group.text, other.text)
    yield from (Change(What.GROUP, group.text, "") for group in before)
    yield from (Change(What.GROUP, "", group.text) for group in after)


def _said_otherwise(old: Hand, new: Hand, needed: bool) -> list[Change]:
    """Which tiles may stand for the letters, in words."""
    if old.wording != new.wording:
        return [Change(What.TILE, old.wording, new.wording, spoken=True)]
    if needed:
        return [Change(What.TILE, f"{len(old.variants)} ways", f"{len(new.variants)} ways", spoken=True)]
    return []


def _written(sheet: Sheet, line: Line, groups: Moved) -> Groups:
    texts = [text for pattern in line.patterns for text in _texts(pattern, sheet.season)]
    return [_Written(size, place, text) for (size, place), text in zip(groups, texts, strict=True)]


def _texts(pattern: Pattern, season: str) -> list[str]:
    """How the groups that a pattern stands for would be written one by one."""
    match pattern.tile:
        case Season(suit=suit):
            tiles: list[Tile] = [Number(suit, None, int(digit)) if digit != "0" else Zero() for digit in season]
        case EachWind():
            tiles = [Wind(name) for name in WIND_NAMES]
        case EachDragon():
            tiles = [Dragon(name) for name in DRAGON_NAMES]
        case tile:
            tiles = [tile]
    return [str(replace(pattern, tile=tile)) for tile in tiles]
