"""What has changed about a hand, in words: “the kong in suit b became a quint”.

Groups are called by what the player sees beside the sentence: their size, and the letter on the tab over them.
"""

from __future__ import annotations

from typing import assert_never

from engine.sheet.compare.changes import Change, Spot, TileStep, What
from engine.sheet.groups import size_name
from engine.sheet.notation import (
    SUIT_LETTERS,
    Dragon,
    DragonOf,
    EachDragon,
    EachWind,
    Flower,
    Number,
    Pattern,
    Season,
    Wind,
    Zero,
)
from engine.words import in_words, listed, ordinal


def change_words(change: Change) -> str:
    """A change as a part of a sentence: `it has 30 points instead of 25`."""
    match change.what:
        case What.POINTS:
            return f"it has {change.new} points instead of {change.old}"
        case What.HOLD:
            return f"it is {change.new} now and was {change.old}"
        case What.NAME:
            return f"it was called {change.old}"
        case What.GROUP | What.TILE:
            return _made_otherwise(change)
        case _:
            assert_never(change.what)


def _made_otherwise(change: Change) -> str:
    """What has become of its groups and tiles."""
    if change.ways is not None:
        was, now = change.ways
        return f"it can be made in {now} ways instead of {was}"
    if change.spoken:
        return f"its tiles are “{change.new}” now and were “{change.old}”"
    if change.row:
        way = listed([f"a {group_words(group)}" for group in change.row])
        return f"one way to make it has {'gone' if change.old else 'come'}: {way}"
    if change.now is None and change.was is not None:
        return f"{_the(change.was)} has gone"
    if change.was is None and change.now is not None:
        return f"a {group_words(change.now.group)} has come"
    if change.was is None or change.now is None:
        raise ValueError(f"{change} says neither what was nor what is")
    return _became(change.was, change.now, change.step)


def _became(was: Spot, now: Spot, step: TileStep | None) -> str:
    """What has become of a group."""
    old, new = was.group, now.group
    tile, after = old.tile, new.tile
    if not isinstance(tile, Number) or not isinstance(after, Number):
        return f"{_the(was)} became a {size_name(new.size) if tile == after else group_words(new)}"
    there = [_suit(after)] if after.suit != tile.suit else []
    if old.size != new.size:
        smaller = size_name(new.size) if step == TileStep(False, 0) else group_words(new)
        return " ".join([f"{_the(was)} became a {smaller}", *(there if step == TileStep(False, 0) else [])])
    if (tile.variable is None) != (after.variable is None):
        return f"{_the(was)} became a {group_words(new)}"
    if step is not None and step.suit and not there:
        there = ["in another suit"]
    if tile.variable is None:
        moved = (
            []
            if after.offset == tile.offset
            else [f"{_article(after.offset)} {after.offset}" if new.size == 1 else f"of {after.offset}s"]
        )
        return f"{_the(was)} is {' '.join([*moved, *there])} now"
    if step is None:
        return f"{_the(was)} takes {' '.join(['another of the numbers', *there])} now"
    if step.number:
        count = abs(step.number)
        numbers = f"{in_words(count)} number{'s' if count > 1 else ''}"
        there.append(f"{numbers} {'higher' if step.number > 0 else 'lower'}")
    return f"{_the(was)} is {listed(there)} now"


def _the(spot: Spot) -> str:
    """`the pung in suit a`, or `the second pung in suit a` where the hand has several."""
    said = group_words(spot.group)
    alike = [place for place, group in enumerate(spot.row) if group_words(group) == said]
    return f"the {said}" if len(alike) == 1 else f"the {ordinal(alike.index(spot.place) + 1)} {said}"


def group_words(group: Pattern) -> str:
    """A group without an article: `pung of 6s in suit b`, `pair of flowers`, `single dragon of suit a`."""
    one = group.size == 1
    match group.tile:
        case Number(variable=None, offset=rank):
            tile = f"{rank} {_suit(group.tile)}" if one else f"of {rank}s {_suit(group.tile)}"
        case Number():
            tile = _suit(group.tile)
        case Flower():
            tile = "flower" if one else "of flowers"
        case Zero():
            tile = "zero" if one else "of zeros"
        case Wind(name=name):
            tile = _honour(name, "wind", one)
        case Dragon(name=name):
            tile = _honour(name, "dragon", one)
        case DragonOf(suit=suit):
            goes_with = f"dragon of {f'suit {suit}' if suit in SUIT_LETTERS else f'the {suit}s'}"
            tile = goes_with if one else f"of the {goes_with}"
        case EachWind():
            tile = "of each wind"
        case EachDragon():
            tile = "of each dragon"
        case Season(suit=suit):
            tile = f"of each digit of the season {_suit(Number(suit, None, 0))}"
        case _:
            assert_never(group.tile)
    return f"{size_name(group.size)} {tile}"


def _suit(tile: Number) -> str:
    return f"in suit {tile.suit}" if tile.suit in SUIT_LETTERS else f"in {tile.suit}s"


def _honour(name: str, what: str, one: bool) -> str:
    """A wind or dragon, by its name or by a letter that may stand for any."""
    if len(name) == 1:
        return what if one else f"of any {what}"
    return f"{name} {what}" if one else f"of {name} {what}s"


def _article(rank: int) -> str:
    return "an" if rank == 8 else "a"
