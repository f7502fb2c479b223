"""Where the player stands in the season on the current sheet, for the home screen: what comes next, how far they are.

It counts and compares; `game.words.season.home` says it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import hypot

from engine.drills.calendar import SeasonPart, SeasonStanding, Suggestion, part_of, suggestions
from engine.drills.grades import Grade, Skill
from engine.drills.ledger import HandRecord, Ledger, SeasonDates
from engine.drills.schedule import Due
from engine.sheet.model import Sheet
from engine.store.store import Store
from engine.store.values import LineSummary, Result
from game.play.desk import Desk
from game.play.practice.figures import NONE, Share
from game.play.practice.ledgers import Ledgers
from game.play.skill import play_over_time

WEEK = 7
LATELY = timedelta(days=14)
"""What counts as of late."""
PRACTISED = ("drill ", "passes")
"""How the kinds of results begin that are practice, and not figures of a game."""


@dataclass(frozen=True)
class Better:
    """What got better of late; None and () where nothing can be said."""

    hands: tuple[str, ...] = ()
    """Hands of the sheet won for the first time in the last two weeks."""
    skill: Skill | None = None
    """The drill in which the share of right answers grew most."""
    before: Share = NONE
    """Right answers in it until two weeks ago."""
    lately: Share = NONE
    """Right answers in it since then."""
    cost: tuple[float, float] | None = None
    """Picks that a choice cost in the first ten games and in the latest ten; None unless it is less beyond doubt."""


@dataclass(frozen=True)
class SeasonGlance:
    """The season at a glance."""

    won: int
    hands: int
    games: int
    """Games on this sheet that were played to their end; those dealt for a wanted hand are left out."""
    days: int
    """Days since the season began on which something was played or practised."""
    week: tuple[tuple[date, bool], ...]
    """The last seven days, today last, and whether something was done on each."""
    season: SeasonDates | None
    part: SeasonPart | None
    better: Better

    @property
    def begun(self) -> bool:
        """Whether there is anything to say yet."""
        return bool(self.games or self.days or self.won)


@dataclass(frozen=True)
class WhatNext:
    """All that the home screen says of practice."""

    next: Sequence[Suggestion]
    due: tuple[Due, ...]
    ledger: Ledger
    glance: SeasonGlance


def standing_of(desk: Desk, today: date, *, deal_left: bool, match_left: bool) -> WhatNext:
    """Where the player stands on the current sheet. What the store can't say counts as nothing. Raises StoreError."""
    ledgers = desk.ledgers()
    lines = ledgers.lines()
    ledger = ledgers.ledger(today, lines)
    won = won_hands(ledger, lines)
    due = due_now(desk)
    found = SeasonStanding(
        sheet_read=bool(lines) or ledgers.read,
        match_left=match_left,
        deal_left=deal_left,
        due=len(due),
        games=len(lines),
        to_win=tuple(record.hand for record in most_promising(ledger) if record.hand not in won),
    )
    return WhatNext(suggestions(found), due, ledger, glance_of(ledgers, ledger, lines, today))


def due_now(desk: Desk) -> tuple[Due, ...]:
    """What is due in practice; nothing where the store can't say."""
    try:
        return desk.drilling().session()
    except ValueError:
        return ()


def won_hands(ledger: Ledger, lines: Iterable[LineSummary]) -> frozenset[str]:
    """Hands won by the ledger, and by games whose figures are not worked out yet."""
    named = {record.hand for record in ledger.records}
    late = {line.ending.hand for line in lines if line.ending is not None and line.ending.winner == line.house.seat}
    return frozenset({record.hand for record in ledger.records if record.wins.all} | (late & named))


def most_promising(ledger: Ledger) -> list[HandRecord]:
    """Hands that are not won yet: near misses first, then the likeliest at its best moment, then as on the sheet."""
    return sorted(
        (record for record in ledger.records if not record.wins.all), key=lambda record: (-record.near, -record.best)
    )


def practice_days(store: Store, results: Iterable[Result]) -> frozenset[date]:
    """Days, in the player's own time, on which something was played or practised; `results` are those of drills and
    others. Raises StoreError."""
    days = {
        moment.astimezone().date()
        for line in store.lines(None)
        if not line.imported and line.entries
        for moment in (line.started, line.touched)
    }
    days |= {result.at.astimezone().date() for result in results if result.kind.startswith(PRACTISED)}
    return frozenset(days)


def glance_of(ledgers: Ledgers, ledger: Ledger, lines: Sequence[LineSummary], today: date) -> SeasonGlance:
    """The season at a glance. `lines` are the games that count. Raises StoreError."""
    season, results = ledgers.season_from(lines), ledgers.store.results()
    days = practice_days(ledgers.store, results)
    counted = {day for day in days if day <= today and (season is None or day >= season.begins)}
    week = tuple((day, day in days) for day in (today - timedelta(days=back) for back in range(WEEK - 1, -1, -1)))
    return SeasonGlance(
        won=len(won_hands(ledger, lines)),
        hands=len(ledger.records),
        games=ledger.games,
        days=len(counted),
        week=week,
        season=season,
        part=None if season is None else part_of(season, today),
        better=replace(better_of(ledger, results, ledgers.sheet, today), cost=cheaper(ledgers.store, lines)),
    )


def cheaper(store: Store, lines: Iterable[LineSummary]) -> tuple[float, float] | None:
    """What a choice cost in the first ten of these games and in the latest ten, where it became less by two standard
    errors or more. Raises StoreError."""
    own = {line.id for line in lines}
    tens = play_over_time([one for one in store.reviews() if one.line in own]).of(hidden=True)
    full = [ten.play for ten in tens if ten.full]
    if len(full) < 2 or full[0].cost - full[-1].cost < 2 * hypot(full[0].error, full[-1].error):
        return None
    return full[0].cost, full[-1].cost


def better_of(ledger: Ledger, results: Iterable[Result], sheet: Sheet, today: date) -> Better:
    """What got better in the last two weeks. A drill is compared only where both times have enough answers."""
    since = today - LATELY
    fresh = tuple(
        record.hand for record in ledger.records if record.first is not None and since < record.first <= today
    )
    best: tuple[float, Better] = (0.0, Better(fresh))
    answers = [one for one in results if one.figures.get("sheet") == sheet.fingerprint]
    for skill in Skill:
        mine = [one for one in answers if one.kind == f"drill {skill.value}"]
        late = _share(one for one in mine if one.at.astimezone().date() > since)
        before = _share(one for one in mine if one.at.astimezone().date() <= since)
        if late.enough and before.enough:
            gain = late.good / late.of - before.good / before.of
            if gain > best[0]:
                best = (gain, Better(fresh, skill, before, late))
    return best[1]


def _share(results: Iterable[Result]) -> Share:
    grades = [one.figures.get("grade") for one in results]
    return Share(grades.count(Grade.RIGHT.value), len(grades))
