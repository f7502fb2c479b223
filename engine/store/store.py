"""The store: everything a player has done, in one SQLite file, each action kept the moment it is made.

A line is one line of play of a deal. A fork starts another line that shares its parent's first entries and copies
none of them; nothing recorded is changed or removed by it. A moment is how many entries came before: 0 is the deal,
`summary.entries` is the latest.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path
from types import EllipsisType, TracebackType
from typing import Any

from engine.rules.actions import Action, parse_action
from engine.rules.record import Header, Record
from engine.sheet.model import Sheet
from engine.store.connection import Keeper
from engine.store.files import default_path
from engine.store.keepsakes import Keepsakes, words_of_note
from engine.store.lines import ending, entry_rows, header_columns, header_of, insert_line, insert_sheet, line_row
from engine.store.rows import (
    Json,
    LineSummary,
    StoreError,
    UnsoundRowError,
    action_of,
    chosen_of,
    chosen_text,
    clean,
    stamp,
    summary_of,
)

GAME = "game"
"""The kind of a line that is a whole game; other kinds are named by those who start them."""


class Store(Keepsakes):
    """An open store. Use it from one thread, as a context manager or with `close`.

    Opening never fails: what is wrong with the file is said in `trouble`, and then play goes on in memory or in a
    fresh file. Methods raise StoreError, with a sentence for the player, for what can't be done.
    """

    def __init__(self, path: Path | str | None = None, now: Callable[[], datetime] = lambda: datetime.now(UTC)) -> None:
        super().__init__(Keeper(Path(path or default_path()).absolute(), now), now)
        self._known: dict[int, int] = {}  # entries of each line as this program last saw it
        self._broken: set[int] = set()  # lines whose later entries are damaged

    def __enter__(self) -> Store:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self.close()

    def close(self) -> None:
        """Close the file."""
        self._keeper.close()

    @property
    def path(self) -> Path:
        """The store's file."""
        return self._keeper.path

    @property
    def trouble(self) -> str | None:
        """One sentence for the player on what is wrong with the file, or None. It may change with every write."""
        return self._keeper.trouble

    @property
    def saving(self) -> bool:
        """Whether what happens now reaches the file."""
        return self._keeper.saving

    def start_line(self, header: Header, kind: str = GAME, advice_hidden: bool = False) -> int:
        """Start a line of play of a deal whose sheet is kept; its number."""
        row = header_columns(header) | self._start_row(kind, advice_hidden)

        def work(db: sqlite3.Connection) -> int:
            if db.execute("SELECT 1 FROM sheets WHERE fingerprint = ?", (row["sheet"],)).fetchone() is None:
                raise StoreError(f"the sheet of this deal ({row['sheet']}) isn't kept here; load its file first")
            return insert_line(db, row)

        line = self._keeper.write(work)
        self._known[line] = 0
        return line

    def append(
        self,
        line: int,
        seat: int,
        action: Action,
        outcome: str | None = None,
        figures: Mapping[str, Json] | None = None,
    ) -> int:
        """Keep one action, and with it the outcome if it ended the deal; the number of entries there are now.

        It is on the disk when this returns. Refused for a finished line, and where another program carried it on.
        """
        if line in self._broken:
            raise StoreError(f"the later part of deal {line} is damaged; fork it before that to play on")
        known, at, text = self._known.get(line), stamp(self._now()), str(action)
        end = None if outcome is None else ending(outcome, figures)
        parse_action(text)  # what can't be read back must not be kept

        def work(db: sqlite3.Connection) -> int:
            row = line_row(db, line)
            number = int(row["entries"])
            if row["outcome"] is not None:
                raise StoreError(f"deal {line} is finished; fork it to play it another way")
            if known is not None and number != known:
                raise StoreError(f"deal {line} was carried on in another window; open it again from the past deals")
            db.execute(
                "INSERT INTO entries (line, number, seat, action, at) VALUES (?, ?, ?, ?, ?)",
                (line, number, seat, text, at),
            )
            db.execute("UPDATE lines SET entries = ?, touched = ? WHERE id = ?", (number + 1, at, line))
            if end:
                db.execute("UPDATE lines SET outcome = ?, figures = ? WHERE id = ?", (*end, line))
            return number + 1

        entries = self._keeper.write(work)
        self._known[line] = entries
        return entries

    def add_record(
        self,
        record: Record,
        kind: str = GAME,
        outcome: str | None = None,
        figures: Mapping[str, Json] | None = None,
        notes: Sequence[tuple[int | None, str]] = (),
    ) -> int:
        """Keep a whole record that was not played here, with notes (moment and words), at once; the line's number.

        Its sheet may be missing: it is then known by name until it is kept.
        """
        header, row = record.header, self._start_row(kind, advice_hidden=False)
        row |= header_columns(header) | {"imported": 1, "entries": len(record.entries)}
        if outcome is not None:
            row["outcome"], row["figures"] = ending(outcome, figures)
        now = row["started"]
        entries = [(number, seat, str(action), now) for number, (seat, action) in enumerate(record.entries)]
        remarks = [(moment, words_of_note(text), now) for moment, text in notes]

        def work(db: sqlite3.Connection) -> int:
            if db.execute("SELECT 1 FROM sheets WHERE fingerprint = ?", (header.fingerprint,)).fetchone() is None:
                insert_sheet(db, (header.fingerprint, header.sheet, header.season, "", None, now))
            line = insert_line(db, row)
            db.executemany(f"INSERT INTO entries (line, number, seat, action, at) VALUES ({line}, ?, ?, ?, ?)", entries)
            db.executemany(f"INSERT INTO notes (line, moment, text, at) VALUES ({line}, ?, ?, ?)", remarks)
            return line

        return self._keeper.write(work)

    def finish(self, line: int, outcome: str, figures: Mapping[str, Json] | None = None) -> None:
        """Write the outcome of a line: one sentence, and figures to go with it. Written once, it stands."""
        end, at = ending(outcome, figures), stamp(self._now())

        def work(db: sqlite3.Connection) -> None:
            row = line_row(db, line)
            if row["outcome"] is None:
                statement = "UPDATE lines SET outcome = ?, figures = ?, touched = ? WHERE id = ?"
                db.execute(statement, (*end, at, line))
            elif (row["outcome"], row["figures"]) != end:
                raise StoreError(f"deal {line} is finished already; fork it to play it another way")

        self._keeper.write(work)

    def advice_seen(self, line: int) -> None:
        """Note that the player saw advice: from now on the line doesn't count as one with advice hidden."""
        if self._keeper.read(lambda db: line_row(db, line))["advice_hidden"]:
            self._keeper.write(
                lambda db: db.execute("UPDATE lines SET advice_hidden = 0 WHERE id = ?", (line,)) and None
            )

    def fork(
        self,
        line: int,
        at: int,
        sections: tuple[str, ...] | EllipsisType | None = ...,
        kind: str | None = None,
    ) -> int:
        """Start another line that shares the first `at` entries; its number.

        `sections` plays it on the sheet cut to others (None: the whole sheet), `kind` makes it another kind of
        practice; what isn't given is as it was.
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
            return insert_line(db, row)

        child = self._keeper.write(work)
        self._known[child] = at
        return child

    def record(self, line: int) -> Record:
        """The whole record of a line, what it shares with others included.

        Of a damaged one the part before the damage; `trouble` then says so.
        """
        row, rows = self._keeper.read(lambda db: (line_row(db, line), list(entry_rows(db, line))))
        try:
            header = header_of(row)
        except UnsoundRowError as error:
            raise StoreError(f"deal {line} is damaged ({error}); choose another one") from error
        entries: list[tuple[int, Action]] = []
        for entry in rows:
            try:
                entries.append((entry["seat"], action_of(entry)))
            except UnsoundRowError:
                break
        self._known[line] = len(entries)
        if len(entries) < row["entries"]:
            self._broken.add(line)
            self._keeper.notice(
                f"deal {line} is damaged after entry {len(entries)}; what comes before can be played on from a fork"
            )
        return Record(header, tuple(entries))

    def sheet_of(self, line: int) -> Sheet:
        """The sheet that a line is played on, cut to its chosen sections."""
        row = self._keeper.read(lambda db: line_row(db, line))
        sheet = self.sheet(row["sheet"])
        try:
            chosen = chosen_of(row["chosen"])
            return sheet if chosen is None else sheet.cut(chosen)
        except ValueError as error:
            raise StoreError(f"deal {line} can't be opened: {error}") from error

    def line(self, line: int) -> LineSummary:
        """The summary of one line."""
        found = self._summaries("lines.id = :line", {"line": line}) if 0 < line < 1 << 63 else []
        if not found:
            raise StoreError(f"there is no deal numbered {line} here; choose one from the list of past deals")
        return found[0]

    def lines(
        self,
        limit: int | None = 50,
        skip: int = 0,
        finished: bool | None = None,
        kind: str | None = None,
        sheet: str | None = None,
    ) -> tuple[LineSummary, ...]:
        """Past and present lines, the one touched last first; by fingerprint of the sheet if asked."""
        condition = """(:kind IS NULL OR kind = :kind) AND (:sheet IS NULL OR sheet = :sheet)
            AND (:finished IS NULL OR (outcome IS NOT NULL) = :finished)"""
        values = {"kind": kind, "sheet": sheet, "finished": finished}
        return tuple(self._summaries(condition, values, -1 if limit is None else limit, skip))

    def last_line(self, kind: str | None = None) -> int | None:
        """The unfinished line that was played last, to resume; None if there is none. Imported ones don't count."""
        found = self._summaries(
            "outcome IS NULL AND NOT imported AND (:kind IS NULL OR kind = :kind)", {"kind": kind}, limit=1
        )
        return found[0].id if found else None

    def branches(self, line: int) -> tuple[LineSummary, ...]:
        """Every line of the same beginning: the first one and all its forks, oldest first."""
        condition = """lines.id IN (
            WITH RECURSIVE up (id, parent) AS (
                SELECT id, parent FROM lines WHERE id = :line
                UNION ALL SELECT lines.id, lines.parent FROM lines JOIN up ON lines.id = up.parent
            ), family (id) AS (
                SELECT id FROM up WHERE parent IS NULL
                UNION ALL SELECT lines.id FROM lines JOIN family ON lines.parent = family.id
            ) SELECT id FROM family)"""
        self.line(line)
        return tuple(sorted(self._summaries(condition, {"line": line}), key=lambda summary: summary.id))

    def _summaries(
        self, condition: str, values: Mapping[str, Any], limit: int = -1, skip: int = 0
    ) -> list[LineSummary]:
        query = f"""SELECT lines.*, sheets.name AS sheet_name, sheets.season,
                (SELECT count(*) FROM notes WHERE notes.line = lines.id) AS notes
            FROM lines LEFT JOIN sheets ON sheets.fingerprint = lines.sheet
            WHERE {condition} ORDER BY touched DESC, lines.id DESC LIMIT :limit OFFSET :skip"""
        values = {**values, "limit": limit, "skip": skip}
        return self._sound(self._keeper.read(lambda db: db.execute(query, values).fetchall()), summary_of)

    def _start_row(self, kind: str, advice_hidden: bool) -> dict[str, Any]:
        now = stamp(self._now())
        return {
            "parent": None, "forked_at": 0, "entries": 0, "kind": clean(kind), "advice_hidden": int(advice_hidden),
            "imported": 0, "started": now, "touched": now,
        }  # fmt: skip
