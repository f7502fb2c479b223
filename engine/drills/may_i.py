"""May I? Quick questions to answer with yes or no: call this, show this as mahjong, expose for this hand.

The slips of a new season are mixed in: a hand of the last sheet, an exposure for a concealed hand, a joker in a pair.
The rules give every answer, so that a drill can't teach what the table would not allow.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from engine.drills.grades import Grade
from engine.drills.racks import pick, rack_near, shuffled, tiles_of
from engine.rules.faults import find_faults
from engine.rules.refusals import Found
from engine.sheet.groups import Group, Variant
from engine.sheet.model import Hand, Sheet
from engine.tiles import JOKER, Kind, counts_of, full_set


class Asked(Enum):
    """What is asked."""

    MAHJONG = "mahjong"
    """Is this mahjong?"""
    CALL = "call"
    """May this discard be called for an exposure, going for this hand?"""
    OPEN = "open"
    """May this hand be exposed at all?"""


class Trap(Enum):
    """What was put into the question to trip the player up; None of them in a fair one."""

    LAST_SHEET = "last sheet"
    JOKER = "joker in a pair"
    ONE_OFF = "one tile off"
    CONCEALED = "concealed"
    TOO_FEW = "too few held"
    PAIR = "called for a pair"


@dataclass(frozen=True)
class MayTask:
    """One question."""

    asked: Asked
    hand: Hand
    """The hand it is about; of the last sheet where that is the trap."""
    answer: bool
    """Whether yes is right."""
    trap: Trap | None = None
    rack: tuple[Kind, ...] = ()
    """Tiles held, sorted: fourteen for a mahjong, thirteen for a call."""
    group: Group | None = None
    """The group that would be exposed."""
    faults: tuple[Found, ...] = ()
    """Why no is right for a mahjong."""


def may_task(sheet: Sheet, hand: Hand, chance: random.Random, last: Sheet | None = None) -> MayTask:
    """A question about a hand of the sheet, as often to be answered with yes as with no.

    `last` is the sheet of the season before, whose hands are mixed in where there is one.
    """
    asked = (Asked.MAHJONG, Asked.MAHJONG, Asked.CALL, Asked.CALL, Asked.OPEN)[pick(chance, 5)]
    if asked is Asked.OPEN:
        return MayTask(asked, hand, not hand.concealed, Trap.CONCEALED if hand.concealed else None)
    if asked is Asked.CALL:
        return _call(hand, chance)
    return _mahjong(sheet, hand, chance, last)


def judge_answer(task: MayTask, yes: bool) -> Grade:
    """Right or wrong."""
    return Grade.RIGHT if yes == task.answer else Grade.WRONG


def _mahjong(sheet: Sheet, hand: Hand, chance: random.Random, last: Sheet | None) -> MayTask:
    variant = hand.variants[pick(chance, len(hand.variants))]
    tiles = tiles_of(variant, pick(chance, 4), chance)
    if chance.random() < 0.5:
        return _shown(sheet, hand, tiles, None, last)
    traps = [Trap.ONE_OFF]
    if any(not group.takes_jokers for group in variant.groups):
        traps.append(Trap.JOKER)
    if last is not None:
        traps.append(Trap.LAST_SHEET)
    trap = traps[pick(chance, len(traps))]
    if trap is Trap.LAST_SHEET and last is not None:
        hand = last.hands[pick(chance, len(last.hands))]
        variant = hand.variants[pick(chance, len(hand.variants))]
        return _shown(sheet, hand, tiles_of(variant, 0, chance), trap, last)
    if trap is Trap.JOKER:
        return _shown(sheet, hand, _joker_in_pair(variant, chance), trap, last)
    return _shown(sheet, hand, _one_off(tiles, chance), trap, last)


def _shown(sheet: Sheet, hand: Hand, tiles: Sequence[Kind], trap: Trap | None, last: Sheet | None) -> MayTask:
    """The question whether these tiles are mahjong, answered by the rules, whatever was meant."""
    others = (last,) if last is not None else ()
    faults = find_faults(sheet, counts_of(tiles), other_sheets=others)
    return MayTask(Asked.MAHJONG, hand, not faults, trap if faults else None, tuple(sorted(tiles)), None, faults)


def _joker_in_pair(variant: Variant, chance: random.Random) -> list[Kind]:
    """A variant's tiles with a joker in one of its singles or pairs."""
    tiles = list(tiles_of(variant, 0, chance))
    pairs = [group.kind for group in variant.groups if not group.takes_jokers]
    tiles[tiles.index(pairs[pick(chance, len(pairs))])] = JOKER
    return tiles


def _one_off(tiles: Sequence[Kind], chance: random.Random) -> list[Kind]:
    """The tiles with one that is no joker exchanged for a neighbour in its suit, or for another tile."""
    changed = list(tiles)
    places = [place for place, kind in enumerate(changed) if kind != JOKER]
    place = places[pick(chance, len(places))]
    kind = changed[place]
    room = [other for other in range(JOKER) if other != kind and changed.count(other) < full_set(0)[other]]
    near = [other for other in room if abs(other - kind) == 1 and other // 9 == kind // 9]
    choices = near or room
    changed[place] = choices[pick(chance, len(choices))]
    return changed


def _call(hand: Hand, chance: random.Random) -> MayTask:
    """The question whether a discard may be called for a group of a hand that the player is going for."""
    variant = hand.variants[pick(chance, len(hand.variants))]
    group = variant.groups[pick(chance, len(variant.groups))]
    rack = list(rack_near(variant, 4, chance))
    held = rack.count(group.kind) + rack.count(JOKER)
    if group.takes_jokers and chance.random() < 0.6:
        rack = _with(rack, group, chance)
        held = rack.count(group.kind) + rack.count(JOKER)
    if not group.takes_jokers:
        trap: Trap | None = Trap.PAIR
    elif hand.concealed:
        trap = Trap.CONCEALED
    else:
        trap = Trap.TOO_FEW if held < group.size - 1 else None
    return MayTask(Asked.CALL, hand, trap is None, trap, tuple(sorted(rack)), group)


def _with(rack: Sequence[Kind], group: Group, chance: random.Random) -> list[Kind]:
    """The rack with the rest of a group in it, as far as the set has the tiles, in place of other tiles."""
    wanted = min(group.size - 1, full_set(0)[group.kind] - 1)
    jokers = group.size - 1 - wanted
    others = [kind for kind in shuffled(chance, rack) if kind not in (group.kind, JOKER)]
    mine = [group.kind] * wanted + [JOKER] * max(jokers, rack.count(JOKER))
    return [*mine, *others][: len(rack)] if len(mine) + len(others) >= len(rack) else list(rack)
