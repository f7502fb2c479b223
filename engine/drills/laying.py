"""Lay a hand: from loose tiles, in another variant, with a given tile in it, or from memory; and which group is off."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from engine.drills.grades import Grade
from engine.drills.racks import pick, tiles_of
from engine.sheet.groups import Group, Variant
from engine.sheet.model import Hand
from engine.tiles import JOKER, Kind

MOST_JOKERS = 2
"""Jokers among the loose tiles at most, unless the variant needs more."""


class Stage(Enum):
    """What is asked."""

    LOOSE = "loose"
    """Lay the hand from its fourteen loose tiles."""
    ANOTHER = "another"
    """Lay a variant that was not laid before; any tile of the set may be taken."""
    FORCED = "forced"
    """Lay a variant that has a given tile in it; any tile of the set may be taken."""
    MEMORY = "memory"
    """Lay any variant of the hand from its name alone."""


@dataclass(frozen=True)
class LayTask:
    """One hand to lay."""

    hand: Hand
    stage: Stage
    tiles: tuple[Kind, ...]
    """The loose tiles, in random order; empty where any tile may be taken."""
    accepted: tuple[Variant, ...]
    """Variants that answer the task."""
    forced: Kind | None = None
    """The tile that must be in it."""


class Off(Enum):
    """What is wrong with one group."""

    SIZE = "size"
    """Right tile, wrong number of them."""
    TILE = "tile"
    """Right size, another tile."""
    GROUP = "group"
    """Neither size nor tile."""
    JOKER = "joker"
    """A joker in a single or a pair."""
    MIXED = "mixed"
    """Tiles that are not all alike."""
    MISSING = "missing"
    """A group of the hand that was not laid."""
    EXTRA = "extra"
    """A group too many."""


@dataclass(frozen=True)
class OffGroup:
    """A group that is off."""

    place: int | None
    """Its place among the groups laid; None for one that is missing."""
    off: Off
    meant: Group | None
    """The group that belongs there in the nearest variant; None for one too many."""


@dataclass(frozen=True)
class Judged:
    """What came of laying."""

    nearest: Variant
    """The accepted variant that is nearest to what was laid."""
    off: tuple[OffGroup, ...]
    """Empty when the hand is right."""

    @property
    def grade(self) -> Grade:
        """Right, nearly right with one group off, or wrong."""
        return (Grade.RIGHT, Grade.NEAR)[len(self.off)] if len(self.off) < 2 else Grade.WRONG


def lay_task(hand: Hand, stage: Stage, chance: random.Random, laid: Sequence[Variant] = ()) -> LayTask:
    """A task for a hand; `laid` are variants that were laid before.

    Where a hand has no variant left that was not laid, or no tile that tells its variants apart, the task for the
    stage before is given.
    """
    if stage is Stage.ANOTHER:
        done = {variant.key for variant in laid}
        fresh = tuple(variant for variant in hand.variants if variant.key not in done)
        if fresh:
            return LayTask(hand, stage, (), fresh)
    if stage is Stage.FORCED:
        telling = [
            kind
            for kind in range(JOKER)
            if 0 < sum(bool(one.total[kind]) for one in hand.variants) < len(hand.variants)
        ]
        if telling:
            kind = telling[pick(chance, len(telling))]
            return LayTask(hand, stage, (), tuple(one for one in hand.variants if one.total[kind]), kind)
    if stage is Stage.MEMORY:
        return LayTask(hand, stage, (), hand.variants)
    variant = hand.variants[pick(chance, len(hand.variants))]
    tiles = tiles_of(variant, pick(chance, MOST_JOKERS + 1), chance)
    return LayTask(hand, Stage.LOOSE, tiles, accepted_for(hand, tiles))


def accepted_for(hand: Hand, tiles: Sequence[Kind]) -> tuple[Variant, ...]:
    """The variants that fourteen tiles make."""
    held = Counter(tiles)
    jokers = held.pop(JOKER, 0)
    return tuple(
        variant
        for variant in hand.variants
        if all(variant.real[kind] <= held[kind] <= variant.total[kind] for kind in range(JOKER))
        and sum(variant.total) - held.total() == jokers
    )


def judge(task: LayTask, groups: Sequence[Sequence[Kind]]) -> Judged:
    """Which groups are off, against the accepted variant that is nearest to what was laid.

    A group is the tiles laid in one place, jokers among them. Order doesn't matter. Raises ValueError for an empty
    group.
    """
    if any(not group for group in groups):
        raise ValueError("a group without tiles was laid; leave it out")
    found = (Judged(variant, tuple(_off(groups, variant))) for variant in task.accepted)
    return min(found, key=lambda one: (len(one.off), sum(off.off is Off.GROUP for off in one.off)))


def _off(groups: Sequence[Sequence[Kind]], variant: Variant) -> list[OffGroup]:
    """The groups that are off against one variant: right ones are set aside first, then the most alike ones."""
    left = list(variant.groups)
    open_places = []
    for place, tiles in enumerate(groups):
        meant = next((group for group in left if _is(tiles, group)), None)
        if meant is None:
            open_places.append(place)
        else:
            left.remove(meant)
    found = []
    for like in (_same_tile, _same_size, _anything):
        for place in list(open_places):
            meant = next((group for group in left if like(groups[place], group)), None)
            if meant is not None:
                left.remove(meant)
                open_places.remove(place)
                found.append(OffGroup(place, _why(groups[place], meant), meant))
    found.extend(OffGroup(place, Off.EXTRA, None) for place in open_places)
    found.sort(key=lambda one: one.place or 0)
    return [*found, *(OffGroup(None, Off.MISSING, group) for group in left)]


def _is(tiles: Sequence[Kind], group: Group) -> bool:
    """Whether these tiles are that group."""
    jokers = sum(kind == JOKER for kind in tiles)
    alike = all(kind in (group.kind, JOKER) for kind in tiles)
    return len(tiles) == group.size and alike and (jokers == 0 or group.takes_jokers)


def _same_tile(tiles: Sequence[Kind], group: Group) -> bool:
    return group.kind in tiles


def _same_size(tiles: Sequence[Kind], group: Group) -> bool:
    return len(tiles) == group.size


def _anything(_: Sequence[Kind], __: Group) -> bool:
    return True


def _why(tiles: Sequence[Kind], meant: Group) -> Off:
    """What is wrong with tiles that were laid for a group."""
    kinds = set(tiles) - {JOKER}
    if len(kinds) > 1:
        return Off.MIXED
    if kinds <= {meant.kind} and len(tiles) == meant.size:
        return Off.JOKER
    if kinds <= {meant.kind}:
        return Off.SIZE
    return Off.TILE if len(tiles) == meant.size else Off.GROUP
