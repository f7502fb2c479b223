"""The season's ledger: for every hand of a sheet, how often it was won, tried and nearly made, and what is left.

A game's figures are worked out once from its record and kept with it, so the ledger can always be made again.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from engine.advice.advise.hands import best_of_each_hand
from engine.advice.odds.reach import missing
from engine.advice.table import SheetTable
from engine.rules.observation import Observation
from engine.sheet.model import Sheet
from engine.store.values import Json

SHORT = 2
"""A hand that lacked so many tiles or fewer at the end was a near miss."""
LOOK_AHEAD = 40
"""Draws that the odds of a moment look ahead at most."""
WEEK = 7.0


@dataclass(frozen=True)
class HandFigures:
    """What one finished game says about the hands of its sheet."""

    won: str | None
    """The hand that the player made."""
    tried: str | None
    """The hand that the player was going for at the end: the likeliest one at the last choice."""
    near: Mapping[str, int]
    """Hands that were one or two tiles short at the end, and how many they lacked."""
    best: Mapping[str, float]
    """For each hand, its best exact odds at any of the player's choices, 0 to 1; hands without odds are left out."""

    def to_json(self) -> dict[str, Json]:
        """As plain values for the store; odds to four decimals."""
        return {
            "won": self.won,
            "tried": self.tried,
            "near": dict(self.near),
            "best": {name: round(odds, 4) for name, odds in self.best.items()},
        }

    @classmethod
    def from_json(cls, value: Json) -> HandFigures | None:
        """What `to_json` gave, or None for anything else."""
        if not isinstance(value, dict):
            return None
        won, tried, near, best = (value.get(key) for key in ("won", "tried", "near", "best"))
        if not isinstance(near, dict) or not isinstance(best, dict):
            return None
        if not all(one is None or isinstance(one, str) for one in (won, tried)):
            return None
        return cls(
            won if isinstance(won, str) else None,
            tried if isinstance(tried, str) else None,
            {name: short for name, short in near.items() if type(short) is int},
            {name: float(odds) for name, odds in best.items() if isinstance(odds, int | float)},
        )


def figures_of(table: SheetTable, moments: Sequence[Observation], last: Observation, won: str | None) -> HandFigures:
    """The figures of a game: `moments` are what the player saw at each choice in play, `last` what was seen at the end.

    Odds are those of going for a hand alone by one's own draws, 40 of them at most.
    """
    best: dict[str, float] = {}
    tried = None
    for moment in moments:
        here = table.after(moment.exposures[moment.seat])
        draws = min(moment.picks_left, LOOK_AHEAD)
        rows, odds = best_of_each_hand(here, moment.counts, moment.unseen, draws)
        names = [here.sheet.hands[int(here.hand[row])].name for row in rows]
        for name, row in zip(names, rows, strict=True):
            best[name] = max(best.get(name, 0.0), odds[int(row)])
        tried = names[0] if names else tried
    near: dict[str, int] = {}
    if won is None:
        here = table.after(last.exposures[last.seat])
        for row, short in enumerate(missing(here, last.counts).tolist()):
            name = here.sheet.hands[int(here.hand[row])].name
            if 0 < short <= SHORT and short < near.get(name, SHORT + 1):
                near[name] = short
    return HandFigures(won, won or tried, near, best)


@dataclass(frozen=True)
class LedgerGame:
    """A finished game as the ledger counts it."""

    day: date
    """In the player's own time."""
    full: bool
    """Whether it was at a full table."""
    hidden: bool
    """Whether advice was hidden throughout."""
    wanted: str | None
    """The hand that the game was dealt for, empty where it is not known which; None for a fair deal without a wish."""
    figures: HandFigures


@dataclass(frozen=True)
class Wins:
    """How often a hand was won, by kind of game."""

    quiet_hidden: int = 0
    quiet_seen: int = 0
    full_hidden: int = 0
    full_seen: int = 0
    wanted: int = 0
    """In games that were dealt for a wanted hand, this one or another; counted apart, not among the others."""
    ticked: int = 0
    """At a real table, ticked by hand."""

    @property
    def all(self) -> int:
        """All of them together."""
        return self.quiet_hidden + self.quiet_seen + self.full_hidden + self.full_seen + self.wanted + self.ticked


@dataclass(frozen=True)
class HandRecord:
    """One hand's line of the ledger."""

    hand: str
    section: str
    wins: Wins
    first: date | None
    """The day of the first win."""
    tries: int
    """Games in which it was won or gone for at the end."""
    near: int
    """Games in which it was one or two tiles short at the end; not those dealt for a wanted hand."""
    best: float
    """Its best odds at any choice of any game, 0 to 1; not of those dealt for a wanted hand."""


@dataclass(frozen=True)
class SeasonDates:
    """When the sheet is played: its first and its last day, as the player set them."""

    begins: date
    ends: date


@dataclass(frozen=True)
class WinningPace:
    """What it takes to have won every hand by the season's end."""

    left: int
    """Hands not won yet."""
    days: int
    """Days left, today included; 0 once the season is over."""
    needed: float | None
    """New hands a week from now on; None once the season is over."""
    so_far: float | None
    """New hands a week since the season began; None in its first week."""


@dataclass(frozen=True)
class Ledger:
    """All hands of a sheet in its order, and what they come to."""

    records: tuple[HandRecord, ...]
    games: int
    """Games that were played to their end; those dealt for a wanted hand are counted apart."""
    wanted: int = 0
    """Games dealt for a wanted hand that were played to their end."""
    pace: WinningPace | None = None
    sections: Mapping[str, tuple[int, int]] = field(default_factory=dict)
    """For each section: hands won, and hands."""

    @property
    def won(self) -> int:
        """Hands won at least once."""
        return sum(record.wins.all > 0 for record in self.records)

    @property
    def avoided(self) -> tuple[HandRecord, ...]:
        """Hands that were within reach (at least a tenth at some choice) in some game and never gone for."""
        return tuple(record for record in self.records if not record.tries and record.best >= 0.1)


def ledger_of(
    sheet: Sheet,
    games: Iterable[LedgerGame],
    ticks: Iterable[tuple[str, date]] = (),
    season: SeasonDates | None = None,
    today: date | None = None,
) -> Ledger:
    """The ledger of a sheet from finished games and from wins at real tables, ticked by hand (hand's name and day)."""
    played = list(games)
    records = tuple(_record(hand.name, hand.section, played, list(ticks)) for hand in sheet.hands)
    sections = {
        section.name: (
            sum(record.wins.all > 0 for record in records if record.section == section.name),
            len(section.hands),
        )
        for section in sheet.sections
    }
    pace = _pace(records, season, today) if season is not None and today is not None else None
    wanted = sum(game.wanted is not None for game in played)
    return Ledger(records, len(played) - wanted, wanted, pace, sections)


def _record(name: str, section: str, games: Sequence[LedgerGame], ticks: Sequence[tuple[str, date]]) -> HandRecord:
    won = [game for game in games if game.figures.won == name]
    days = [game.day for game in won] + [day for hand, day in ticks if hand == name]
    fair = [game for game in won if game.wanted is None]
    ordinary = [game for game in games if game.wanted is None]
    wins = Wins(
        quiet_hidden=sum(not game.full and game.hidden for game in fair),
        quiet_seen=sum(not game.full and not game.hidden for game in fair),
        full_hidden=sum(game.full and game.hidden for game in fair),
        full_seen=sum(game.full and not game.hidden for game in fair),
        wanted=len(won) - len(fair),
        ticked=sum(hand == name for hand, _ in ticks),
    )
    return HandRecord(
        hand=name,
        section=section,
        wins=wins,
        first=min(days, default=None),
        tries=sum(game.figures.tried == name or game.wanted == name for game in games),
        near=sum(name in game.figures.near for game in ordinary),
        best=max((game.figures.best.get(name, 0.0) for game in ordinary), default=0.0),
    )


def _pace(records: Sequence[HandRecord], season: SeasonDates, today: date) -> WinningPace:
    left = sum(not record.wins.all for record in records)
    days = max((season.ends - today).days + 1, 0)
    since = (today - season.begins).days
    fresh = sum(record.first is not None and season.begins <= record.first <= today for record in records)
    return WinningPace(
        left=left,
        days=days,
        needed=None if not days else left * WEEK / days,
        so_far=None if since < WEEK else fresh * WEEK / since,
    )
