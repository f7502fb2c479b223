"""Lines of play: started, played on, forked, ended, and read again.

A line is one line of play of a deal. A fork starts another line that shares its parent's first entries and copies
none of them. Nothing recorded is changed or removed by it. A moment is how many entries came before: 0 is the deal,
`summary.entries` is the latest.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Sequence
from datetime import datetime
from types import EllipsisType
from typing import Any

from engine.rules.actions import Action, parse_action
from engine.rules.record import Header, Record
from engine.sheet.model import Sheet
from engine.store.connection import StoreConnection
from engine.store.endings import GameEnd, end_text
from engine.store.lineage import line_row, sound_entries
from engine.store.notes import words_of_note
from engine.store.rows import chosen_of, chosen_text, clean, header_columns, header_of, insert, moment_of, stamp
from engine.store.sheets import SheetsPart, insert_sheet
from engine.store.values import Row, StoreError, UnsoundRowError

GAME = "game"
"""The kind of a line that is a whole game. Other kinds are named by those who start them."""

NEXT = "(SELECT coalesce(max(sequence), 0) + 1 FROM lines)"
"""The number for the line that is played to now (see `LineSummary.sequence`)."""


class LinesPart(SheetsPart):
    """The lines of play in an open store. Every method may raise StoreError."""

    def __init__(self, connection: StoreConnection, now: Callable[[], datetime]) -> None:
        super().__init__(connection, now)
        self._known: dict[int, int] = {}  # entries of each line as this program last saw it
        self._broken: set[int] = set()  # lines whose later entries are damaged

    def start_line(self, header: Header, kind: str = GAME, advice_hidden: bool = False) -> int:
        """Start a line of play of a deal whose sheet is stored. Gives the line's number."""
        row = header_columns(header) | self._start_row(kind, advice_hidden)

        def work(db: sqlite3.Connection) -> int:
            if db.execute("SELECT 1 FROM sheets WHERE fingerprint = ?", (row["sheet"],)).fetchone() is None:
                raise StoreError(f"the sheet of this deal ({row['sheet']}) isn't stored here; load its file first")
            return insert(db, "lines", {**row, "sequence": next_sequence(db)})

        line = self._connection.write(work)
        self._known[line] = 0
        return line

    def append(self, line: int, seat: int, action: Action, end: GameEnd | None = None) -> int:
        """Store one action, and with it the end of the game if it ended it. Gives the number of entries there are now.

        It is on the disk when this returns. Refused for a finished line, for one that `record` found damaged, and
        where another program has carried the line on.
        """
        if line in self._broken:
            raise StoreError(f"the later part of deal {line} is damaged; fork it before that to play on")
        known, at, text = self._known.get(line), stamp(self._now()), str(action)
        ended = None if end is None else end_text(end)
        parse_action(text)  # what can't be read back must not be stored

        def work(db: sqlite3.Connection) -> int:
            row = line_row(db, line)
            number = int(row["entries"])
            if row["ended"] is not None:
                raise StoreError(f"deal {line} is finished; fork it to play it another way")
            if known is not None and number != known:
                raise StoreError(f"deal {line} was carried on in another window; open it again from the past deals")
            insert(db, "entries", {"line": line, "number": number, "seat": seat, "action": text, "at": at})
            db.execute(
                f"UPDATE lines SET entries = ?, touched = ?, sequence = {NEXT}, ended = ? WHERE id = ?",
                (number + 1, at, ended, line),
            )
            return number + 1

        entries = self._connection.write(work)
        self._known[line] = entries
        return entries

    def add_record(
        self,
        record: Record,
        kind: str = GAME,
        end: GameEnd | None = None,
        notes: Sequence[tuple[int | None, str]] = (),
    ) -> int:
        """Store a whole record that was not played here, with notes (moment and words). Gives the line's number.

        Its sheet may be missing. It is then known by name until it is stored.
        """
        header, row = record.header, self._start_row(kind, advice_hidden=False)
        row |= header_columns(header) | {"imported": 1, "entries": len(record.entries)}
        row["ended"] = None if end is None else end_text(end)
        now = row["started"]
        entries = [(number, seat, str(action), now) for number, (seat, action) in enumerate(record.entries)]
        remarks = [(moment, words_of_note(text), now) for moment, text in notes]

        def work(db: sqlite3.Connection) -> int:
            if db.execute("SELECT 1 FROM sheets WHERE fingerprint = ?", (header.fingerprint,)).fetchone() is None:
                insert_sheet(db, (header.fingerprint, header.sheet, header.season, "", None, now))
            line = insert(db, "lines", {**row, "sequence": next_sequence(db)})
            db.executemany(f"INSERT INTO entries (line, number, seat, action, at) VALUES ({line}, ?, ?, ?, ?)", entries)
            db.executemany(f"INSERT INTO notes (line, moment, text, at) VALUES ({line}, ?, ?, ?)", remarks)
            return line

        return self._connection.write(work)

    def finish(self, line: int, end: GameEnd) -> None:
        """Write how a line ended, where no action did it. Written once, it stands."""
        ended, at = end_text(end), stamp(self._now())

        def work(db: sqlite3.Connection) -> None:
            row = line_row(db, line)
            if row["ended"] is None:
                statement = f"UPDATE lines SET ended = ?, touched = ?, sequence = {NEXT} WHERE id = ?"
                db.execute(statement, (ended, at, line))
            elif row["ended"] != ended:
                raise StoreError(f"deal {line} is finished already; fork it to play it another way")

        self._connection.write(work)

    def advice_seen(self, line: int) -> None:
        """Note that the player saw advice: from now on the line doesn't count as one with advice hidden."""
        if self._connection.read(lambda db: line_row(db, line))["advice_hidden"]:
            self._connection.write(
                lambda db: db.execute("UPDATE lines SET advice_hidden = 0 WHERE id = ?", (line,)) and None
            )

    def fork(
        self,
        line: int,
        at: int,
        sections: tuple[str, ...] | EllipsisType | None = ...,
        kind: str | None = None,
    ) -> int:
        """Start another line that shares the first `at` entries. Gives its number.

        `sections` plays it on the sheet cut to others (None: the whole sheet). `kind` makes it another kind of
        practice. What isn't given is as it was.
        """
        now = stamp(self._now())

        def work(db: sqlite3.Connection) -> int:
            parent = line_row(db, line)
            if not 0 <= at <= parent["entries"]:
                raise StoreError(f"deal {line} has no moment {at}; choose 0 to {parent['entries']}")
            row = {name: parent[name] for name in ("deal", "sheet", "chosen", "house", "wall", "kind", "advice_hidden")}
            row |= {"parent": line, "forked_at": at, "entries": at, "imported": 0, "started": now, "touched": now}
            row |= {} if sections is ... else {"chosen": chosen_text(sections)}
            row |= {} if kind is None else {"kind": clean(kind)}
            return insert(db, "lines", {**row, "sequence": next_sequence(db)})

        child = self._connection.write(work)
        self._known[child] = at
        return child

    def record(self, line: int) -> Record:
        """The whole record of a line, what it shares with others included.

        Of a damaged one it is the part before the damage, and `trouble` says so.
        """
        row, entries = self._connection.read(lambda db: (line_row(db, line), sound_entries(db, line)))
        try:
            header = header_of(row)
        except UnsoundRowError as error:
            raise StoreError(f"deal {line} is damaged ({error}); choose another one") from error
        self._known[line] = len(entries)
        if len(entries) < row["entries"]:
            self._broken.add(line)
            self._connection.notice(
                f"deal {line} is damaged after entry {len(entries)}; what comes before can be played on from a fork"
            )
        return Record(header, entries)

    def choice_seconds(self, line: int, seat: int) -> tuple[float, ...]:
        """How long each action of a seat took, in seconds: the time since the action before it, or since the deal.

        What a fork shares with its parent is left out. So are times below zero: then the clock was set back.
        """

        def work(db: sqlite3.Connection) -> tuple[Row, list[Row]]:
            query = "SELECT seat, at FROM entries WHERE line = ? ORDER BY number"
            return line_row(db, line), db.execute(query, (line,)).fetchall()

        row, entries = self._connection.read(work)
        found, before = [], row["started"]
        for entry in entries:
            if entry["seat"] == seat:
                try:
                    found.append((moment_of(entry["at"]) - moment_of(before)).total_seconds())
                except UnsoundRowError:
                    continue
            before = entry["at"]
        return tuple(seconds for seconds in found if seconds >= 0)

    def sheet_of(self, line: int) -> Sheet:
        """The sheet that a line is played on, cut to its chosen sections."""
        row = self._connection.read(lambda db: line_row(db, line))
        sheet = self.sheet(row["sheet"])
        try:
            chosen = chosen_of(row["chosen"])
            return sheet if chosen is None else sheet.cut(chosen)
        except ValueError as error:
            raise StoreError(f"deal {line} can't be opened: {error}") from error

    def _start_row(self, kind: str, advice_hidden: bool) -> dict[str, Any]:
        now = stamp(self._now())
        return {
            "parent": None,
            "forked_at": 0,
            "entries": 0,
            "ended": None,
            "kind": clean(kind),
            "advice_hidden": int(advice_hidden),
            "imported": 0,
            "started": now,
            "touched": now,
        }


def next_sequence(db: sqlite3.Connection) -> int:
    """The number for the line that is played to now."""
    return int(db.execute(f"SELECT {NEXT}").fetchone()[0])
