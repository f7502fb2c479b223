"""What became of one hand from one sheet to the next: its groups, tiles, hold, points and name."""

from __future__ import annotations

import re
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
class Spot:
    """One group of a hand, and where it stands."""

    row: tuple[Pattern, ...]
    """All groups of that way to make the hand, in the order in which they are shown; each stands for one group."""
    place: int
    """Which of them it is."""

    @property
    def group(self) -> Pattern:
        """The group itself."""
        return self.row[self.place]


@dataclass(frozen=True)
class TileStep:
    """How far a group's tile has moved, once suits and numbers of both hands are laid over each other."""

    suit: bool
    """Whether it is in another suit."""
    number: int
    """How many numbers higher; below nothing for lower."""


@dataclass(frozen=True)
class Change:
    """One thing that has changed, as it was and as it is."""

    what: What
    old: str
    """Empty for what has come."""
    new: str
    """Empty for what has gone."""
    spoken: bool = False
    """Whether it is the words about a hand that have changed, and not how a group is written."""
    was: Spot | None = None
    """The group that was; None where none was, or where no group is meant."""
    now: Spot | None = None
    """The group that is."""
    step: TileStep | None = None
    """From the number that was to the one that is; None where it differs from one way to make the hand to the next."""
    row: tuple[Pattern, ...] = ()
    """A whole way to make the hand that has come or gone."""
    ways: tuple[int, int] | None = None
    """How many ways there were and are, where nothing else tells what has changed."""


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
            found.append(Change(What.GROUP, one.hand.lines[0].text, "", row=one.hand.lines[0].patterns))
        elif ways(one.hand) != ways(theirs[together[place]].hand):
            found += _regrouped(old_sheet, one, new_sheet, theirs[together[place]])
    for place, other in enumerate(theirs):
        if place not in together.values():
            found.append(Change(What.GROUP, "", other.hand.lines[0].text, row=other.hand.lines[0].patterns))
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
    spot: Spot

    @property
    def text(self) -> str:
        return str(self.spot.group)


Groups = list[_Written]


def _regrouped(old_sheet: Sheet, mine: Forms, new_sheet: Sheet, theirs: Forms) -> tuple[Change, ...]:
    """What has changed in the groups, as most of the hand's forms have it; nothing where all forms are as before."""
    old_row, new_row = (
        _row(sheet, hand.lines[0]) for sheet, hand in ((old_sheet, mine.hand), (new_sheet, theirs.hand))
    )
    read: dict[tuple[tuple[What, str, str], ...], list[tuple[Change, ...]]] = {}
    for groups, their_groups in mine.readings(theirs):
        found = tuple(_read(_written(old_row, groups), _written(new_row, their_groups)))
        if found:
            read.setdefault(tuple((one.what, one.old, one.new) for one in found), []).append(found)
    usual = max(read.values(), key=len, default=[()])
    return tuple(
        first if all(one.step == first.step for one in alike) else replace(first, step=None)
        for first, *alike in zip(*usual, strict=True)
    )


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
                    step = _step(group.place, other.place)
                    yield Change(what, group.text, other.text, was=group.spot, now=other.spot, step=step)
    yield from (Change(What.GROUP, group.text, "", was=group.spot) for group in before)
    yield from (Change(What.GROUP, "", group.text, now=group.spot) for group in after)


def _step(before: Place, after: Place) -> TileStep | None:
    """From one number to another; None where either is none."""
    (suit, rank), (new_suit, new_rank) = before, after
    return TileStep(suit != new_suit, new_rank - rank) if suit >= 0 and new_suit >= 0 else None


def _said_otherwise(old: Hand, new: Hand, needed: bool) -> list[Change]:
    """Which tiles may stand for the letters, in words."""
    if old.wording != new.wording:
        return [Change(What.TILE, old.wording, new.wording, spoken=True)]
    if needed:
        was, now = len(old.variants), len(new.variants)
        return [Change(What.TILE, f"{was} ways", f"{now} ways", spoken=True, ways=(was, now))]
    return []


def _written(row: tuple[Pattern, ...], groups: Moved) -> Groups:
    return [_Written(size, place, Spot(row, nth)) for nth, (size, place) in enumerate(groups)]


def _row(sheet: Sheet, line: Line) -> tuple[Pattern, ...]:
    """The groups of a line one by one, in the order in which they are shown."""
    return tuple(group for pattern in line.patterns for group in _one_by_one(pattern, sheet.season))


def _one_by_one(pattern: Pattern, season: str) -> list[Pattern]:
    """The groups that a pattern stands for."""
    match pattern.tile:
        case Season(suit=suit):
            tiles: list[Tile] = [Number(suit, None, int(digit)) if digit != "0" else Zero() for digit in season]
        case EachWind():
            tiles = [Wind(name) for name in WIND_NAMES]
        case EachDragon():
            tiles = [Dragon(name) for name in DRAGON_NAMES]
        case tile:
            tiles = [tile]
    return [replace(pattern, tile=tile) for tile in tiles]
