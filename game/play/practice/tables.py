"""All that is kept, as tables for a spreadsheet: one CSV file each, in UTF-8. Nothing leaves the machine.

The first row names the columns; `columns.txt` beside them says what each holds. A text that a spreadsheet could take
for a formula gets an apostrophe in front (OWASP, “CSV Injection”). A file that is there is replaced only if asked.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from engine.drills.schedule import Schedule
from engine.sheet.model import Sheet
from engine.store.files import write_safely
from engine.store.store import Store
from engine.store.values import Json, LineSummary
from game.play.practice.drilling import key_of
from game.play.practice.ledgers import Ledgers
from game.play.practice.looks import looks_of
from game.play.practice.progress import DRILL
from game.play.reviewing import PARTS

FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n")
"""How a text begins that a spreadsheet may take for a formula."""
MARK = "\ufeff"
"""Tells spreadsheets that a file is UTF-8."""
Cell = str | int | float | None


@dataclass(frozen=True)
class CsvTable:
    """One file."""

    name: str
    columns: Mapping[str, str]
    """Each column and what it holds."""
    rows: tuple[tuple[Cell, ...], ...]

    def to_csv(self) -> str:
        """The file's text."""
        out = io.StringIO()
        writer = csv.writer(out, lineterminator="\r\n")
        writer.writerow(self.columns)
        writer.writerows([safe(cell) for cell in row] for row in self.rows)
        return MARK + out.getvalue()


def safe(cell: Cell) -> str:
    """A cell that no spreadsheet takes for a formula; numbers stay as they are."""
    if cell is None:
        return ""
    if not isinstance(cell, str):
        return str(cell)
    return f"'{cell}" if cell.startswith(FORMULA) else cell


class FilesThereError(ValueError):
    """Files of these names are there already."""

    def __init__(self, names: Sequence[str]) -> None:
        super().__init__(", ".join(names))
        self.names = tuple(names)


def write_tables(tables: Sequence[CsvTable], folder: Path, replace: bool = False) -> tuple[Path, ...]:
    """Write every table into a folder, which is made if need be, and say in `columns.txt` what they hold.

    Raises FilesThereError, having written nothing, where a file is there and may not be replaced, and OSError.
    """
    texts = {f"{table.name}.csv": table.to_csv() for table in tables} | {"columns.txt": described(tables)}
    there = [name for name in texts if (folder / name).exists() or (folder / name).is_symlink()]
    if there and not replace:
        raise FilesThereError(there)
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in texts.items():
        write_safely(folder / name, text)
    return tuple(folder / name for name in texts)


def described(tables: Iterable[CsvTable]) -> str:
    """What every column of every table holds."""
    lines = ["Times are UTC, dates are days of your own calendar, costs are picks, chances lie between 0 and 1."]
    for table in tables:
        lines += ["", f"{table.name}.csv"]
        lines += [f"  {name}: {about}" for name, about in table.columns.items()]
    return "\n".join(lines) + "\n"


def all_tables(store: Store, sheets: Sequence[Sheet], today: date) -> tuple[CsvTable, ...]:
    """Games, choices, passes, drills, ledger and cards. Raises StoreError."""
    lines = sorted(store.lines(None), key=lambda line: line.id)
    names = {sheet.fingerprint: f"{sheet.name} {sheet.season}" for sheet in sheets}
    return (
        _games(lines), _choices(store, lines), _passes(store, names), _drills(store, names),
        _ledger(store, sheets, today), _cards(store, sheets),
    )  # fmt: skip


def _games(lines: Sequence[LineSummary]) -> CsvTable:
    columns = {
        "game": "number of the line of play", "forked_from": "the line it was taken back from, if any",
        "deal": "deal code", "sheet": "sheet", "season": "season of the sheet",
        "kind": "game, match, wanted hand or passes",
        "table": "quiet, full, or two for two hands", "advice_hidden": "1 where no advice was seen",
        "imported": "1 where it came from a file",
        "started": "when it was dealt", "touched": "when it was last played", "entries": "actions so far",
        "ended": "how it ended; empty if it has not", "won": "1 where you won", "hand": "the hand that was made",
        "picks": "tiles you had drawn", "points": "points of the winner",
    }  # fmt: skip
    rows = []
    for line in lines:
        end = line.ending
        won = None if end is None else int(end.winner == line.house.seat)
        rows.append((
            line.id, line.parent, line.deal, line.sheet_name, line.season, line.kind,
            line.house.table, int(line.advice_hidden), int(line.imported),
            line.started.isoformat(), line.touched.isoformat(), line.entries, None if end is None else end.kind, won,
            None if end is None else end.hand, None if end is None else end.picks, None if end is None else end.points,
        ))  # fmt: skip
    return CsvTable("games", columns, tuple(rows))


def _choices(store: Store, lines: Sequence[LineSummary]) -> CsvTable:
    columns = {
        "game": "number of the line of play; empty where it was deleted", "ended_at": "when the game ended",
        "counts": "0 where choices that were looked up may be among them, or the game was taken back",
        "choices": "choices that mattered", "lost": "picks they lost together", "worse": "how many were clearly worse",
        "looked_up": "choices that were looked up first, and left out", "luck": "luck of deal, passes and draws",
        "chosen": "what choices did to the chance of a hand", "result": "1 for a hand, 0 for none",
        "seconds": "median seconds of a choice",
    }  # fmt: skip
    parts: dict[int, Mapping[str, Json]] = {}
    for result in store.results(PARTS):
        if result.line is not None:
            parts.setdefault(result.line, result.figures)
    seats, looks = {line.id: line.house.seat for line in lines}, looks_of(store)
    rows = []
    for one in store.reviews():
        figures = parts.get(one.line or 0, {})
        times = sorted(store.choice_seconds(one.line, seats[one.line])) if one.line in seats and one.line else []
        looked = figures.get("looked_up", len(looks.get(one.line or 0, ())))
        rows.append((
            one.line, one.at.isoformat(), int(not one.advice_seen), one.choices, one.cost, one.faults, _cell(looked),
            _cell(figures.get("luck")), _cell(figures.get("choices")), _cell(figures.get("result")),
            times[len(times) // 2] if times else None,
        ))  # fmt: skip
    return CsvTable("choices", columns, tuple(rows))


def _passes(store: Store, names: Mapping[str, str]) -> CsvTable:
    columns = {
        "at": "when", "where": "rehearsal or game", "game": "number of the line of play",
        "allowed": "seconds allowed; empty without a clock", "seconds": "seconds taken", "passes": "passes chosen",
        "best": "passes that cost nothing", "lost": "picks they lost together", "sheet": "sheet",
    }  # fmt: skip
    rows = []
    for result in reversed(store.results("passes")):
        figures = result.figures
        rows.append((
            result.at.isoformat(), "rehearsal", result.line, result.allowance, _cell(figures.get("seconds")),
            _cell(figures.get("passes")), _cell(figures.get("best")), _cell(figures.get("picks")),
            names.get(str(figures.get("sheet")), ""),
        ))  # fmt: skip
    for result in reversed(store.results(PARTS)):
        figures = result.figures
        rows.append((
            result.at.isoformat(), "game", result.line, None, None, _cell(figures.get("passes")),
            _cell(figures.get("passes_best")), _cell(figures.get("passes_cost")), "",
        ))  # fmt: skip
    return CsvTable("passes", columns, tuple(rows))


def _drills(store: Store, names: Mapping[str, str]) -> CsvTable:
    columns = {
        "at": "when", "drill": "which drill", "allowed": "seconds allowed; empty without a clock", "sheet": "sheet",
        "section": "section of the hand", "hand": "hand", "grade": "right, near or wrong", "seconds": "seconds taken",
    }  # fmt: skip
    rows = []
    for result in reversed(store.results()):
        if result.kind.startswith(DRILL):
            figures = result.figures
            rows.append((
                result.at.isoformat(), result.kind.removeprefix(DRILL), result.allowance,
                names.get(str(figures.get("sheet")), str(figures.get("sheet", ""))), _cell(figures.get("section")),
                _cell(figures.get("hand")), _cell(figures.get("grade")), _cell(figures.get("seconds")),
            ))  # fmt: skip
    return CsvTable("drills", columns, tuple(rows))


def _ledger(store: Store, sheets: Sequence[Sheet], today: date) -> CsvTable:
    columns = {
        "sheet": "sheet", "season": "season of the sheet", "section": "section", "hand": "hand",
        "quiet_hidden": "wins at the quiet table, advice hidden", "quiet_seen": "wins there with advice at hand",
        "full_hidden": "wins at the full table, advice hidden", "full_seen": "wins there with advice at hand",
        "wanted": "wins in games dealt for a wanted hand", "ticked": "wins at a real table, ticked by hand",
        "first": "day of the first win", "tries": "games in which it was won or gone for at the end",
        "near": "games in which it was one or two tiles short", "best": "its best chance at any choice",
    }  # fmt: skip
    rows = []
    for sheet in sheets:
        ledger = Ledgers(store, sheet).ledger(today)
        for one in ledger.records:
            if ledger.games or ledger.wanted or one.wins.all:
                wins = one.wins
                rows.append((
                    sheet.name, sheet.season, one.section, one.hand, wins.quiet_hidden, wins.quiet_seen,
                    wins.full_hidden, wins.full_seen, wins.wanted, wins.ticked,
                    None if one.first is None else one.first.isoformat(), one.tries, one.near, one.best,
                ))  # fmt: skip
    return CsvTable("ledger", columns, tuple(rows))


def _cards(store: Store, sheets: Sequence[Sheet]) -> CsvTable:
    columns = {
        "sheet": "sheet", "season": "season of the sheet", "hand": "hand", "drill": "which drill",
        "begun": "first practised", "last": "last practised", "due": "when it comes up again",
        "stability": "days after which nine in ten are still known", "difficulty": "1 (easy) to 10 (hard)",
        "grade": "of the last answer",
    }  # fmt: skip
    rows = []
    for sheet in sheets:
        schedule, _ = Schedule.from_json(store.get(key_of(sheet)))
        for item, memory in sorted(schedule.memories.items()):
            card = memory.card
            rows.append((
                sheet.name, sheet.season, item.hand, item.skill, memory.begun.isoformat(),
                None if card.last_review is None else card.last_review.isoformat(), card.due.isoformat(),
                card.stability, card.difficulty, memory.grade.value,
            ))  # fmt: skip
    return CsvTable("cards", columns, tuple(rows))


def _cell(value: Json) -> Cell:
    return value if isinstance(value, str | int | float) else None
