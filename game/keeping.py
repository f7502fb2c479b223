"""A line of play kept in the store: what a Sitting calls whenever something happens."""

from __future__ import annotations

from dataclasses import dataclass

from engine.practice.store import Json, Store
from engine.rules.actions import Action
from engine.rules.deal import DealCode
from engine.rules.record import Header
from engine.rules.state import State, start
from engine.sheet.model import Sheet
from game.reports import outcome_sentences
from game.sitting import Entry, SeatPlayer, Sitting


@dataclass
class KeptLine:
    """One line of the store, as a keeper."""

    store: Store
    line: int

    def append(self, seat: int, action: Action, after: State) -> None:
        """Add one entry, and how the game ended if it did; both are on disk when this returns."""
        if after.outcome is None:
            self.store.append(self.line, seat, action)
            return
        figures: dict[str, Json] = {
            "kind": after.outcome.kind,
            "points": after.outcome.points,
            "picks": after.picks,
        }
        self.store.append(self.line, seat, action, " ".join(outcome_sentences(after)), figures)

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
    store.keep_sheet(sheet)
    line = store.start_line(Header.of(sheet, code.house, whole, str(code)), kind, advice_hidden)
    return Sitting(start(sheet, code.house, whole), keeper=KeptLine(store, line), others=others)


def resume(store: Store, line: int, *, others: SeatPlayer | None = None) -> Sitting:
    """The line as it was left, at the exact choice that was due."""
    record = store.record(line)
    sheet = store.sheet_of(line)
    beginning = start(sheet, record.header.house, record.header.wall)
    entries = [Entry(seat, action) for seat, action in record.entries]
    return Sitting(beginning, entries=entries, keeper=KeptLine(store, line), others=others)


def line_of(sitting: Sitting) -> int | None:
    """The store's number of the line that is played, or None where nothing is kept."""
    return sitting.keeper.line if isinstance(sitting.keeper, KeptLine) else None
