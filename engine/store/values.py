"""What the store hands out, as frozen values, and the two errors that it raises."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, TypeAlias

from engine.rules.house import House
from engine.store.endings import GameEnd
from engine.words import shown

Json: TypeAlias = "bool | int | float | str | list[Json] | dict[str, Json] | None"
Row: TypeAlias = Mapping[str, Any]

LONGEST_TEXT = 20_000
"""Characters that a note may have."""


class StoreError(ValueError):
    """The store can't do what was asked. The message says what to do instead, and may be shown to the player."""

    def __init__(self, message: str) -> None:
        super().__init__(shown(message))


class UnsoundRowError(ValueError):
    """A row that the store can't have written like this: the file was damaged."""


@dataclass(frozen=True)
class StoredSheet:
    """A sheet that was played or loaded once. `whole` is False while only an imported deal has named it."""

    fingerprint: str
    name: str
    season: str
    maker: str
    first_seen: datetime
    whole: bool


@dataclass(frozen=True)
class LineSummary:
    """One line of play of a deal, for a list of past deals."""

    id: int
    parent: int | None
    """The line that it was forked from."""
    forked_at: int
    """How many entries it shares with its parent. 0 without one."""
    deal: str
    """Deal code. Empty where there is none."""
    sheet_name: str
    season: str
    fingerprint: str
    chosen: tuple[str, ...] | None
    """Sections that the sheet was cut to. None for all."""
    house: House
    kind: str
    """Of practice: `game`, `passes`, `match` or what the caller named."""
    advice_hidden: bool
    """Whether no advice was seen from the start to now."""
    imported: bool
    """Whether it came in as a text file instead of being played here."""
    started: datetime
    touched: datetime
    """When it was last played to."""
    sequence: int
    """Grows with every entry of any line: of two lines, the one with the higher number was played to last. A clock that
    is set back doesn't change it."""
    entries: int
    """Length of the record, the shared part included."""
    notes: int
    ending: GameEnd | None
    """How it ended. None while unfinished."""
    set_aside: bool
    """Whether it has no end, and another line of the same deal was played to later: the player took it back."""

    @property
    def finished(self) -> bool:
        """Whether it has an end."""
        return self.ending is not None


@dataclass(frozen=True)
class PastDeal:
    """A deal with every line of play that was made of it."""

    lines: tuple[LineSummary, ...]
    """The first line, then its forks, oldest first."""

    @property
    def latest(self) -> LineSummary:
        """The line that was played to last."""
        return max(self.lines, key=lambda line: line.sequence)

    @property
    def others(self) -> tuple[LineSummary, ...]:
        """All lines but the latest, oldest first."""
        return tuple(line for line in self.lines if line is not self.latest)


@dataclass(frozen=True)
class DeletedDeal:
    """All that the store held of a deal that was deleted: enough to put it back."""

    rows: Mapping[str, tuple[Row, ...]]
    """Rows by table."""
    reviews: Mapping[int, int]
    """The line of each review whose figures stayed, by the review's number."""
    results: Mapping[int, int]
    """The line of each result that stayed, by the result's number."""


@dataclass(frozen=True)
class Note:
    """A player's words on a line. `moment` is how many entries came before, None for the deal as a whole."""

    id: int
    line: int
    moment: int | None
    text: str
    at: datetime


@dataclass(frozen=True)
class Result:
    """The tally of one drill. `allowance` is the seconds allowed, None for an untimed one."""

    id: int
    at: datetime
    kind: str
    allowance: float | None
    figures: Mapping[str, Json]
    line: int | None


@dataclass(frozen=True)
class StoredReview:
    """What a measure of play needs of the review of one finished game. The review itself can be made again."""

    id: int
    line: int | None
    """None where the game was deleted, or lost with only its figures rescued."""
    at: datetime
    """When the game was played to its end."""
    choices: int
    """Unforced ones."""
    cost: float
    """Picks lost by all of them together."""
    faults: int
    """How many of them were worse than the best choice beyond doubt."""
    advice_seen: bool
    """Whether choices that were looked up may be among these, or the game is a fork of another: it doesn't count."""
