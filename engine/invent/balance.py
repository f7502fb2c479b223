"""Balances a draft by play: what is made too often or too seldom is thrown again, until a longer look is content."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from engine.advice.moment import StoppedError
from engine.advice.simulation.simulate import NONE, PICKS, Ended, simulate
from engine.advice.table import SheetTable
from engine.invent.dice import Dice
from engine.invent.draft import WHOLE, Draft, DraftSection, HandSlot, most_of_a_hand
from engine.invent.points import points
from engine.sheet.model import Sheet

DEALS = 5000
"""Deals of the look that a sheet must stand."""
LOOK = 1500
"""Deals of each look before."""
ROUNDS = 14
"""Looks before it is given up."""
LEAST_OF_A_SECTION = 400
"""The smallest share of a section in all hands made, in parts of WHOLE: 4%."""
_SEED = 20_260
_TIGHTER = (4, 5)
"""The shorter looks ask for this part of what the long one allows, as chance may add to it."""
_RARE = 3
"""A hand made so seldom in a shorter look is thrown again."""


class UnbalancedError(ValueError):
    """No balance was found."""


@dataclass(frozen=True)
class Shares:
    """What a look counted."""

    deals: int
    made: tuple[int, ...]
    """For each hand, in sheet order."""

    @property
    def total(self) -> int:
        """Hands made."""
        return sum(self.made)

    def of(self, made: int) -> int:
        """A count as a share of all hands made, in parts of WHOLE."""
        return made * WHOLE // max(self.total, 1)


def most_of_a_section(sections: int) -> int:
    """The largest share that a section may have of all hands made: 18%, or more where there are few."""
    return max(1800, 14_400 // sections)


Told = Callable[[int, int, str], None]
"""Hears how many deals of how many this look has done, and which look it is."""


def balance(
    draft: Draft,
    dice: Dice,
    build: Callable[[Draft], Sheet],
    *,
    workers: int | None = None,
    told: Told = lambda _, __, ___: None,
    stopped: Callable[[], bool] = lambda: False,
    look: int = LOOK,
    deals: int = DEALS,
) -> Shares:
    """Throw again what is out of balance until all is well; the shares of the last, long look.

    `build` makes a sheet of the draft. Raises StoppedError once `stopped` says so, UnbalancedError where no balance is
    found.
    """
    for number in range(1, ROUNDS + 1):
        shares = _look(build(draft), look, number, f"look {number}", workers, told, stopped)
        wrong = out_of_balance(draft, shares, tight=True)
        if not wrong:
            shares = _look(build(draft), deals, 0, "the long look", workers, told, stopped)
            wrong = out_of_balance(draft, shares, tight=False)
            if not wrong:
                return shares
        _mend(draft, wrong, shares, dice)
    raise UnbalancedError(f"no balance was found in {ROUNDS} looks; take another seed, or keep fewer hands")


def _look(
    sheet: Sheet,
    deals: int,
    number: int,
    what: str,
    workers: int | None,
    told: Told,
    stopped: Callable[[], bool],
) -> Shares:
    ended: Ended = simulate(
        SheetTable.of(sheet),
        deals,
        PICKS,
        _SEED + number,
        workers=workers,
        told=lambda done: told(done, deals, what),
        stopped=stopped,
    )
    if stopped() or len(ended) < deals:
        raise StoppedError
    made = np.bincount(ended.hand[ended.hand != NONE], minlength=len(sheet.hands))
    return Shares(deals, tuple(made.tolist()))


def out_of_balance(draft: Draft, shares: Shares, *, tight: bool) -> list[HandSlot]:
    """The slots whose hands should be thrown again, with their targets set to what is wanted now."""
    few, many = _TIGHTER if tight else (1, 1)
    rare = max(shares.deals * _RARE // LOOK, 1) if tight else 1
    most_hand = most_of_a_hand(len(draft.slots)) * few // many
    most_section = most_of_a_section(len(draft.parts)) * few // many
    least_section = LEAST_OF_A_SECTION * many // few
    wrong: list[HandSlot] = []
    made = iter(shares.made)
    for part in draft.parts:
        counts = [next(made) for _ in part.slots]
        share = [shares.of(count) for count in counts]
        loose = [place for place, slot in enumerate(part.slots) if not slot.fixed]
        for place in loose:
            if share[place] > most_hand or counts[place] < rare:
                wrong.append(part.slots[place])
        whole = sum(share)
        if whole > most_section and loose:
            most = max(loose, key=lambda place: share[place])
            slot = part.slots[most]
            slot.target = max(share[most] - (whole - most_section) * 3 // 2, slot.target // 2)
            wrong.append(slot)
        elif whole < least_section and loose:
            least = min(loose, key=lambda place: share[place])
            slot = part.slots[least]
            slot.target = min(share[least] + (least_section - whole) * 3 // 2 + 50, most_hand * 3 // 5)
            wrong.append(slot)
    return list({id(slot): slot for slot in wrong}.values())


def _mend(draft: Draft, wrong: list[HandSlot], shares: Shares, dice: Dice) -> None:
    """Throw hands again, in view of how much oftener those of their section came than they had promised."""
    paces = _paces(draft, shares)
    for slot in wrong:
        part = next(part for part in draft.parts if slot in part.slots)
        draft.fill(slot, dice, paces[draft.parts.index(part)])


def _paces(draft: Draft, shares: Shares) -> list[tuple[int, int]]:
    """For each section, as a fraction from a half to two: the share that came by the share promised."""
    promised = max(sum(idea.pull for idea in draft.ideas), 1)
    made = iter(shares.made)
    paces: list[tuple[int, int]] = []
    for part in draft.parts:
        came = sum(next(made) for _ in part.slots) * WHOLE // max(shares.total, 1)
        said = _pull(part) * WHOLE // promised
        more, less = max(came, 1), max(said, 1)
        paces.append((min(max(more, less // 2), 2 * less), less))
    return paces


def _pull(part: DraftSection) -> int:
    return sum(slot.idea.pull for slot in part.slots if slot.idea is not None)


def price(draft: Draft, shares: Shares) -> None:
    """Set the points of all hands that have none yet."""
    for slot, made in zip(draft.slots, shares.made, strict=True):
        if slot.points is None and slot.idea is not None:
            slot.points = points(made, shares.total, len(draft.slots), slot.idea.concealed)
