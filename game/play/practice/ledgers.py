"""The season's ledger over the store: the figures of each finished game, wins ticked by hand, the season's dates.

The figures of a game are stored as a result of the kind `ledger` beside its line. Its record gives them again.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

from engine.advice.table import SheetTable
from engine.drills.calendar import season_from
from engine.drills.ledger import HandFigures, Ledger, LedgerGame, SeasonDates, figures_of, ledger_of
from engine.rules.house import FULL, TWO, House
from engine.rules.observation import observe
from engine.rules.state import CHANCE, Phase, State
from engine.sheet.model import Sheet
from engine.store.store import Store
from engine.store.values import Json, LineSummary, StoreError
from game.play.lines import resume

KIND = "ledger"
"""The kind of these results in the store."""
NEAR = "wanted hand"
"""The kind of a deal that was picked because a hand is within reach, so that it is counted apart."""
GAMES = ("game", "match", NEAR)
"""Kinds of lines that count."""
READ = "sheets read"
"""The setting that names the sheets that were opened to read, by fingerprint."""


@dataclass(frozen=True)
class PlayedGame:
    """The states of a finished game, and who the player was."""

    states: Sequence[State]
    player: int

    def figures(self, table: SheetTable) -> HandFigures:
        """What the game says about the hands of its sheet."""
        moments = [
            observe(state, self.player)
            for state in self.states
            if state.to_act == self.player and state.to_act != CHANCE and state.phase in (Phase.TURN, Phase.CALLING)
        ]
        last = self.states[-1]
        outcome = last.outcome
        won = outcome is not None and outcome.winner == self.player and outcome.hand is not None
        name = outcome.hand.name if won and outcome is not None and outcome.hand is not None else None
        return figures_of(table, moments, observe(last, self.player), name)


def counts_as_usual(house: House) -> bool:
    """Whether a game by these rules is one like all others: no twist, and one hand to make."""
    return not house.twist and house.table != TWO


class Ledgers:
    """The ledger of one whole sheet. `table` compiles a sheet that may be cut to some sections."""

    def __init__(self, store: Store, sheet: Sheet, table: Callable[[Sheet, int], SheetTable] = SheetTable.of) -> None:
        self.store = store
        self.sheet = sheet
        self._table = table

    # Games.

    def lines(self) -> list[LineSummary]:
        """The finished games of this sheet that count, oldest first: played here to an end, nothing taken back, without
        a twist, and with one rack."""
        found = [
            line
            for line in self.store.lines(None, finished=True, sheet=self.sheet.fingerprint)
            if line.kind in GAMES and line.parent is None and not line.imported and counts_as_usual(line.house)
        ]
        return sorted(found, key=lambda line: line.id)

    def stored(self) -> dict[int, HandFigures]:
        """The figures stored so far, by line."""
        found: dict[int, HandFigures] = {}
        for result in self.store.results(KIND):
            figures = HandFigures.from_json(dict(result.figures))
            if result.line is not None and figures is not None:
                found.setdefault(result.line, figures)
        return found

    def waiting(self) -> list[LineSummary]:
        """Games whose figures are not worked out yet."""
        known = self.stored()
        return [line for line in self.lines() if line.id not in known]

    def open(self, line: LineSummary) -> PlayedGame | None:
        """A finished game from its record; None where the record is damaged."""
        try:
            sitting = resume(self.store, line.id)
        except (StoreError, ValueError):
            return None
        return PlayedGame(tuple(sitting.states), sitting.player)

    def figures(self, game: PlayedGame) -> HandFigures:
        """What a game says about the hands of its sheet. It takes some tenths of a second, and reads no store."""
        first = game.states[0]
        return game.figures(self._table(first.sheet, first.house.jokers))

    def keep(self, line: int, figures: HandFigures) -> None:
        """Store the figures of a game."""
        self.store.add_result(KIND, figures.to_json(), line=line)

    def fill(self, done: Callable[[int, int], None] = lambda _, __: None) -> None:
        """Work out what is waiting. `done` is told how many of how many."""
        waiting = self.waiting()
        for number, line in enumerate(waiting, 1):
            game = self.open(line)
            if game is not None:
                self.keep(line.id, self.figures(game))
            done(number, len(waiting))

    @property
    def read(self) -> bool:
        """Whether the sheet was ever opened to read."""
        return self.sheet.fingerprint in _sheets_read(self.store)

    # Ticks and dates.

    @property
    def ticks(self) -> list[tuple[str, date]]:
        """Hands won at a real table, ticked by hand, and the day of each."""
        kept = self.store.get(f"ticks {self.sheet.fingerprint}", [])
        return [tick for row in (kept if isinstance(kept, list) else []) if (tick := _tick(row)) is not None]

    def tick(self, hand: str, day: date) -> None:
        """A hand was won at a real table. Raises KeyError for a hand that is not on the sheet."""
        self.sheet.hand(hand)
        self._keep_ticks([*self.ticks, (hand, day)])

    def untick(self, hand: str) -> None:
        """Take the latest tick of a hand back."""
        ticks = self.ticks
        place = max((place for place, (name, _) in enumerate(ticks) if name == hand), default=None)
        if place is not None:
            del ticks[place]
            self._keep_ticks(ticks)

    def _keep_ticks(self, ticks: Sequence[tuple[str, date]]) -> None:
        rows: list[Json] = [[hand, day.isoformat()] for hand, day in ticks]
        self.store.set(f"ticks {self.sheet.fingerprint}", rows)

    @property
    def season(self) -> SeasonDates | None:
        """The season's first and last day as the player set them, else from the first game on; None before that."""
        return self.season_from(self.lines())

    def season_from(self, lines: Sequence[LineSummary]) -> SeasonDates | None:
        """The same, where the games that count are read already."""
        kept = self.store.get(f"season {self.sheet.fingerprint}")
        if isinstance(kept, dict):
            begins, ends = (_day(kept.get(key)) for key in ("begins", "ends"))
            if begins is not None and (ends is None or ends >= begins):
                return season_from(begins, ends)
        first = lines[:1]
        return season_from(first[0].started.astimezone().date()) if first else None

    def set_season(self, begins: date, ends: date) -> None:
        """Keep the season's first and last day. Raises ValueError when it would end before it begins."""
        season_from(begins, ends)
        self.store.set(f"season {self.sheet.fingerprint}", {"begins": begins.isoformat(), "ends": ends.isoformat()})

    # The whole.

    def ledger(self, today: date, lines: Sequence[LineSummary] | None = None) -> Ledger:
        """The ledger as it stands, from the games whose figures are known; `lines` where those are read already."""
        known, given = self.stored(), self.lines() if lines is None else lines
        games = [self._game(line, known[line.id]) for line in given if line.id in known]
        return ledger_of(self.sheet, games, self.ticks, self.season_from(given), today)

    def _game(self, line: LineSummary, figures: HandFigures) -> LedgerGame:
        wanted = self.store.get(f"wanted {line.id}")
        return LedgerGame(
            day=line.touched.astimezone().date(),
            full=line.house.table == FULL,
            hidden=line.advice_hidden,
            wanted=wanted if isinstance(wanted, str) else "" if line.kind == NEAR else None,
            figures=figures,
        )


def want(store: Store, line: int, hand: str) -> None:
    """Remember that a game was dealt for a hand. Raises StoreError."""
    store.set(f"wanted {line}", hand)


def note_read(store: Store, sheet: Sheet) -> None:
    """The sheet is opened to read. Raises StoreError."""
    read = _sheets_read(store)
    if sheet.fingerprint not in read:
        store.set(READ, [*read, sheet.fingerprint])


def _sheets_read(store: Store) -> list[str]:
    kept = store.get(READ)
    return [one for one in kept if isinstance(one, str)] if isinstance(kept, list) else []


def _tick(row: Json) -> tuple[str, date] | None:
    if isinstance(row, list) and len(row) == 2 and isinstance(row[0], str):
        day = _day(row[1])
        return None if day is None else (row[0], day)
    return None


def _day(value: Json) -> date | None:
    try:
        return date.fromisoformat(value) if isinstance(value, str) else None
    except ValueError:
        return None
