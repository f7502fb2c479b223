"""A line of play kept in the store: what a Sitting calls whenever something happens."""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from dataclasses import dataclass, replace

from engine.advice.table import SheetTable
from engine.rules.actions import Action, IllegalActionError, MalformedActionError
from engine.rules.deal import DealCode
from engine.rules.game import start
from engine.rules.house import FULL, QUIET, TWO, House
from engine.rules.record import Header, play_back
from engine.rules.state import State
from engine.rules.twists.known import sheet_of_deal
from engine.seats.character import Strength
from engine.seats.players import table_of
from engine.sheet.model import Sheet
from engine.store.endings import GameEnd
from engine.store.store import Store
from game.play.practice.looks import keep_looks
from game.play.sitting import Entry, SeatPlayer, Sitting


@dataclass
class KeptLine:
    """One line of the store, as a keeper."""

    store: Store
    line: int
    sound: int | None = None
    """How many entries can be read and may have happened, where the later ones are damaged."""

    def append(self, seat: int, action: Action, after: State) -> None:
        """Add one entry, and how the game ended if it did. Both are on disk when this returns.

        A line that is damaged further on is played on in a fork from before the damage.
        """
        if self.sound is not None:
            self.line, self.sound = self.store.fork(self.line, self.sound), None
        self.store.append(self.line, seat, action, None if after.outcome is None else GameEnd.of(after))

    def fork(self, at: int) -> KeptLine:
        """A new line with this one's first `at` entries."""
        return KeptLine(self.store, self.store.fork(self.line, at))


def begin(
    store: Store,
    sheet: Sheet,
    code: DealCode,
    *,
    others: SeatPlayer | None = None,
    kind: str = "game",
    advice_hidden: bool = False,
) -> Sitting:
    """Deal, and keep the line from its first entry on."""
    whole = code.wall()
    store.add_sheet(sheet)
    line = store.start_line(Header.of(sheet, code.house, whole, str(code)), kind, advice_hidden)
    keep_looks(store, line)
    return Sitting(start(sheet, code.house, whole), keeper=KeptLine(store, line), others=others)


def resume(store: Store, line: int, *, others: SeatPlayer | None = None) -> Sitting:
    """The line as it was left, at the exact choice that was due.

    A line whose later entries are damaged, or can't have happened, stands at the player's last choice before that; the
    next choice starts a fork there. Raises StoreError where nothing of the line can be opened.
    """
    record = store.record(line)
    sheet = store.sheet_of(line)
    beginning = start(sheet, record.header.house, record.header.wall)
    entries = [Entry(seat, action) for seat, action in record.entries]
    if len(entries) == store.line(line).entries:
        with contextlib.suppress(IllegalActionError, MalformedActionError):
            return Sitting(beginning, entries=entries, keeper=KeptLine(store, line), others=others)
    states = play_back(record, sheet).states
    sound = max((place for place, state in enumerate(states) if state.to_act == beginning.house.seat), default=0)
    return Sitting(beginning, entries=entries[:sound], keeper=KeptLine(store, line, sound), others=others)


def damaged(sitting: Sitting) -> bool:
    """Whether the line could be opened only in part."""
    return isinstance(sitting.keeper, KeptLine) and sitting.keeper.sound is not None


def line_of(sitting: Sitting) -> int | None:
    """The store's number of the line that is played, or None where nothing is kept."""
    return sitting.keeper.line if isinstance(sitting.keeper, KeptLine) else None


def others_of(
    sheet: Sheet,
    whole: Sheet,
    house: House,
    table: Callable[[Sheet], SheetTable],
    strength: Strength = Strength.STEADY,
) -> SeatPlayer | None:
    """The others at a table where `sheet`, a cut of `whole` or all of it, is played; `table` compiles a sheet.

    At a quiet table they pass towards the whole sheet, whatever sections the player has chosen; at a full table all
    four play for the same hands. None where the player is alone from the first tile.
    """
    if house.table == TWO or (house.table == QUIET and house.passes == 0):
        return None
    theirs = sheet_of_deal(sheet if house.table == FULL else whole, house)
    strengths = [strength] * 4
    for place, named in enumerate(house.strengths, start=1):
        strengths[(house.seat + place) % 4] = Strength(named)
    players = table_of(strengths, table(theirs))
    return lambda observation: players(replace(observation, sheet=theirs))
