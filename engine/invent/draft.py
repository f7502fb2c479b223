"""A sheet in the making: sections with their themes, and a slot for every hand with what is wanted of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

import numpy as np

from engine.invent.bounds import WHOLE, bounds
from engine.invent.chance import PACE
from engine.invent.dice import Dice
from engine.invent.idea import Idea, idea_of
from engine.invent.shapes import leans, too_like
from engine.invent.themes import SMALL, THEMES, Theme

FEWEST_HANDS, MOST_HANDS = 12, 96
A_SECTION = 6
"""Hands of a usual section."""
_SHORTEST = 3
"""Hands of a section on a small sheet."""
_SECTIONS, _ONE_MORE = 5, 10
"""A larger sheet has so many sections, and one more for every so many hands."""
_LARGER, _LEAST_OF_LARGER = 20, 8
"""From so many hands on a sheet is a larger one; it has so many sections at least."""
_SMALL_SECTION = 4
"""Hands of the section of singles and pairs: rare hands, so that it should not be large."""
_SMALL_SHARE = 800
"""What that section should have of all hands made, in parts of WHOLE."""
_AVERAGE = 100
_WEIGHTS = (180, 60, 130, 80, 45, 105)
"""How often the hands of a section should be made, in hundredths of the average: some often, some seldom."""
_THROWS = 200
"""Throws for a slot before less is asked of them."""
_CHANGES = 60
"""The same for a slot whose hand is an old one changed: there are not many ways to do that."""
_WIDEST = 21
"""Shares are never asked for more loosely than up to half of this, times or parts."""
_NEAR = 12
"""Two variants with so many of their 14 tiles in common are nearly the same."""


@dataclass(eq=False)
class HandSlot:
    """The place of one hand."""

    theme: Theme
    target: int
    """The share that it should have of the hands made, in parts of WHOLE."""
    concealed: bool
    idea: Idea | None = None
    fixed: bool = False
    """Whether its hand is to stay as it is."""
    throw: Callable[[Dice, str], Idea | None] | None = None
    """Where its ideas come from, if not from the theme."""
    name: str = ""
    """The name that it keeps; empty for one that is still to get a name."""
    points: int | None = None

    def thrown(self, dice: Dice, season: str) -> Idea | None:
        """One more idea for it; None where what came up can't be used."""
        if self.throw is not None:
            return self.throw(dice, season)
        groups, where = self.theme.throw(dice, season)
        if not groups:
            return None
        return idea_of(season, where, self.concealed or self.theme is SMALL, groups)


@dataclass(eq=False)
class DraftSection:
    """A section: its theme and its slots."""

    theme: Theme
    slots: list[HandSlot]
    name: str = ""


def _no_pause() -> None:
    return None


@dataclass
class Draft:
    """All sections."""

    season: str
    parts: list[DraftSection] = field(default_factory=list)
    pause: Callable[[], None] = _no_pause
    """Called before every throw. It may wait, or raise to end the work."""

    @property
    def slots(self) -> list[HandSlot]:
        """All slots in sheet order."""
        return [slot for part in self.parts for slot in part.slots]

    @property
    def ideas(self) -> Iterator[Idea]:
        """The hands that are there."""
        return (slot.idea for slot in self.slots if slot.idea is not None)

    def fill(self, slot: HandSlot, dice: Dice, pace: tuple[int, int] = (1, 1)) -> None:
        """Find a hand for a slot, not one that was there before. `pace` says, as a fraction, how much oftener hands of
        this section came than their pull had promised."""
        mates = [other for part in self.parts if slot in part.slots for other in part.slots if other is not slot]
        before = slot.idea
        slot.idea = None
        more, less = pace
        wanted = slot.target * less // more
        wide, loose = 3, 0
        while True:
            for _ in range(_THROWS if slot.throw is None else _CHANGES):
                self.pause()
                idea = slot.thrown(dice, self.season)
                if idea is None or (before is not None and idea.lines == before.lines):
                    continue
                share = idea.pull * WHOLE // PACE
                if not wanted * 2 <= share * wide or not share * 2 <= wanted * wide:
                    continue
                if self._fits(idea, slot, mates, loose):
                    slot.idea = idea
                    return
            wide += 2
            if wide > _WIDEST and slot.throw is not None:  # the old hand can't be changed: any hand of the section
                slot.throw, slot.name, wide = None, "", 3
            elif wide > _WIDEST:  # the sheet is full of what its section is made of
                wide, loose = 3, loose + 1

    def _fits(self, idea: Idea, slot: HandSlot, mates: list[HandSlot], loose: int) -> bool:
        """Whether an idea may stand in the sheet beside all the others. `loose`: 1 for any number of hands with
        flowers, 2 for any number of hands of one shape too."""
        if not own(idea) or (idea.small and slot.theme is not SMALL and slot.throw is None):
            return False
        shapes = Counter(mate.idea.sizes for mate in mates if mate.idea is not None)
        if slot.theme is not SMALL and loose < 2 and shapes[idea.sizes] >= 2:
            return False
        others = list(self.ideas)
        if idea.flowers and not slot.theme.flowers and not loose:
            taking = sum(one.flowers for one in others)
            if (
                2 * taking > len(others) + A_SECTION
            ):  # half of the hands, and some to spare for the flowers' own section
                return False
        return not any(nearly_alike(idea, other) for other in others)


def own(idea: Idea) -> bool:
    """Whether a hand is of our own kind: in no worn shape, leaning our way, no tile in two groups."""
    for line in idea.lines:
        if too_like(line, idea.where, idea.season) is not None:
            return False
        tiles = [pattern.tile for pattern in line]
        if len(set(tiles)) < len(tiles):
            return False
        if not idea.small and not leans(line, idea.season):
            return False
    return True


def nearly_alike(one: Idea, other: Idea) -> bool:
    """Whether two hands mostly coincide: more than half the variants of either are nearly one of the other's, or one
    is the same."""
    common = np.minimum(one.totals[:, None], other.totals[None]).sum(axis=2)
    near = common >= _NEAR
    if 2 * near.any(axis=1).sum() > len(near) or 2 * near.any(axis=0).sum() > near.shape[1]:
        return True
    keys = {variant.key for variant in one.variants}
    return any(variant.key in keys for variant in other.variants)


def plan(dice: Dice, hands: int, season: str) -> Draft:
    """Sections, themes and targets for so many hands, still without any hand.

    Raises ValueError for a number of hands out of range.
    """
    if not FEWEST_HANDS <= hands <= MOST_HANDS:
        raise ValueError(f"the number of hands is {hands}; choose {FEWEST_HANDS} to {MOST_HANDS}")
    sections = sections_for(hands)
    themes = _themes(dice, sections)
    lengths = _lengths(themes, hands)
    kept = bounds(hands, sections)
    draft = Draft(season)
    for theme, length in zip(themes, lengths, strict=True):
        shift = dice.below(len(_WEIGHTS))
        targets = [target(_WEIGHTS[(place + shift) % len(_WEIGHTS)], hands, kept.hand) for place in range(length)]
        if theme is SMALL:
            targets = [_SMALL_SHARE // length] * length
        whole = sum(targets)
        if whole > kept.most * 8 // 9:  # a section of more hands than the others: well below what it may have
            targets = [share * kept.most * 4 // 5 // whole for share in targets]
        draft.parts.append(DraftSection(theme, [HandSlot(theme, share, theme is SMALL) for share in targets]))
    _conceal(draft, dice, hands)
    return draft


def sections_for(hands: int) -> int:
    """How many sections a sheet of so many hands has: of three hands each where it is small, and from twenty hands on
    eight at least, of two or more hands. With seven, a sheet of twenty hands found no balance in sixty looks."""
    if hands < _LARGER:
        return (hands + 1) // _SHORTEST
    return max(_LEAST_OF_LARGER, _SECTIONS + hands // _ONE_MORE)


def target(weight: int, hands: int, most: int) -> int:
    """The share that a hand with this weight should have, of `hands` hands of which none may have more than `most`.

    Where `most` is not far above the average the weights are drawn together, so that the heaviest stays well below.
    """
    heaviest = max(_WEIGHTS)
    room = min(max(most * 3 // 5 * hands * _AVERAGE // WHOLE, _AVERAGE), heaviest) - _AVERAGE
    return (_AVERAGE + (weight - _AVERAGE) * room // (heaviest - _AVERAGE)) * WHOLE // (_AVERAGE * hands)


def _themes(dice: Dice, sections: int) -> list[Theme]:
    """So many themes in a random order; those that every sheet has come first where there is room for few."""
    always = [theme for theme in THEMES if theme.always]
    others = dice.shuffled([theme for theme in THEMES if not theme.always])
    chosen = [SMALL, *always, *others] if sections > len(always) + 1 else [*always, *others]
    chosen = chosen[:sections]
    while len(chosen) < sections:  # more sections than themes: some come twice
        chosen.append(dice.pick(others))
    return dice.shuffled(chosen)


def _lengths(themes: list[Theme], hands: int) -> list[int]:
    """How many hands each section has."""
    small = sum(theme is SMALL for theme in themes)
    few = max(_SHORTEST, min(_SMALL_SECTION, hands // len(themes) + 1))
    left = hands - small * few
    even, over = divmod(left, len(themes) - small)
    lengths: list[int] = []
    for theme in themes:
        if theme is SMALL:
            lengths.append(few)
        else:
            lengths.append(even + (over > 0))
            over -= 1
    return lengths


def _conceal(draft: Draft, dice: Dice, hands: int) -> None:
    """Mark hands as concealed until a sixth of the sheet is, at most one more in any section."""
    open_parts = dice.shuffled([part for part in draft.parts if part.theme is not SMALL])
    missing = hands // 6 - sum(slot.concealed for slot in draft.slots)
    for part in open_parts[: max(missing, 0)]:
        dice.pick(part.slots).concealed = True
