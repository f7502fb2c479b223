"""Balances a draft by play: what is made too often or too seldom is thrown again, until a longer look is content."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from engine.advice.simulation.simulate import NONE, Cores
from engine.advice.table import SheetTable
from engine.invent.bounds import WHOLE, bounds, least_made
from engine.invent.dice import Dice
from engine.invent.draft import Draft, DraftSection, HandSlot
from engine.invent.points import points
from engine.sheet.model import Sheet

DEALS = 5000
"""Deals of the look that a sheet must stand."""
FIRST = 512
"""After so many deals of a look, and each time they have doubled, what is plainly out of balance ends it."""
ROUNDS = 60
"""Looks before it is given up."""
_SEED = 20_260


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


Told = Callable[[int, int, int], None]
"""Hears how many deals of how many this look has done, and which look it is, from 1."""


def work_done(number: int, done: int, deals: int) -> float:
    """A guess how much of the work is done, 0 to 1, with so many of the deals of this look played.

    Most looks end early, so that the first deals of one count for little; each look that came before counts for a
    quarter of what half of the work has left. It may go back a little from one look to the next.
    """
    before = (1 - 0.75 ** (number - 1)) / 2
    return before + (1 - before) * (done / deals) ** 2


def balance(
    draft: Draft,
    dice: Dice,
    build: Callable[[Draft], Sheet],
    *,
    workers: int | None = None,
    told: Told = lambda _, __, ___: None,
    stopped: Callable[[], bool] = lambda: False,
    deals: int = DEALS,
) -> Shares:
    """Throw again what is out of balance until a whole look finds nothing that is; the shares in that look.

    `build` makes a sheet of the draft. Raises StoppedError once `stopped` says so, UnbalancedError where no balance is
    found.
    """
    with Cores(workers, stopped=stopped, drop=True) as cores:
        for number in range(1, ROUNDS + 1):
            shares, wrong = _look(draft, build(draft), deals, number, cores, told)
            if not wrong:
                return shares
            _mend(draft, wrong, shares, dice)
    raise UnbalancedError(f"no balance was found in {ROUNDS} looks; take another seed, or keep fewer hands")


def _look(
    draft: Draft, sheet: Sheet, deals: int, number: int, cores: Cores, told: Told
) -> tuple[Shares, list[HandSlot]]:
    """Play up to so many deals: what was made, and the slots that are out of balance, none after a whole look that
    found nothing."""
    table = SheetTable.of(sheet)
    made = np.zeros(len(sheet.hands), np.int64)
    first = 0

    def heard(done: int) -> None:
        told(first + done, deals, number)

    for last in stages(deals):
        ended = cores.play(table, _SEED + number, first, last - first, told=heard)
        made += np.bincount(ended.hand[ended.hand != NONE], minlength=len(sheet.hands))
        shares = Shares(last, tuple(made.tolist()))
        wrong = out_of_balance(draft, shares, deals)
        if wrong:
            break
        first = last
    return shares, wrong


def stages(deals: int) -> tuple[int, ...]:
    """After how many deals a look is judged: FIRST, twice as many and on, as long as half as many again are to come."""
    found = []
    stage = FIRST
    while stage * 3 < deals * 2:
        found.append(stage)
        stage *= 2
    return (*found, deals)


def out_of_balance(draft: Draft, shares: Shares, deals: int) -> list[HandSlot]:
    """The slots whose hands should be thrown again, with their targets set to what is wanted now. `deals` are those of
    the whole look, which may not have been played yet."""
    of = shares.total * deals // max(shares.deals, 1)
    usual = bounds(len(draft.slots), len(draft.parts)).clear(shares.total, of)
    rare = least_made(shares.deals, deals)
    wrong: list[HandSlot] = []
    made = iter(shares.made)
    for part in draft.parts:
        counts = [next(made) for _ in part.slots]
        share = [shares.of(count) for count in counts]
        loose = [place for place, slot in enumerate(part.slots) if not slot.fixed]
        for place in loose:
            if share[place] > usual.hand or counts[place] < rare:
                wrong.append(part.slots[place])
            if share[place] > usual.hand:
                part.slots[place].target = part.slots[place].target * 5 // 6
        whole = sum(share)
        if whole > usual.most and loose:
            most = max(loose, key=lambda place: share[place])
            slot = part.slots[most]
            slot.target = max(share[most] - (whole - usual.most) * 3 // 2, slot.target // 2)
            wrong.append(slot)
        elif whole < usual.least and loose:
            least = min(loose, key=lambda place: share[place])
            slot = part.slots[least]
            slot.target = min(share[least] + (usual.least - whole) * 3 // 2 + 50, usual.hand * 3 // 4)
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
