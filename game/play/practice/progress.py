"""How the player gets on: games, picks, what choices cost, luck apart, time, passes and drills, and week by week.

Who spoils a game early must not look better for it. So a game that is thrown away costs what there was to throw away,
picks lost are added up over whole games, and games left before their end are told, too. A choice that was looked up
first doesn't count.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import TypeVar

from engine.advice.review.skill import GameFigures, Play, measure_of
from engine.advice.review.values import CENTS
from engine.drills.grades import Grade, Skill
from engine.drills.match import KIND as MATCH
from engine.rules.house import FULL
from engine.store.store import GAME, Store
from engine.store.values import Json, LineSummary, Result, StoredReview
from game.play.practice.figures import Figure, Share, mean_of, median_of
from game.play.practice.ledgers import NEAR, counts_as_usual
from game.play.reviewing import PARTS, POINTS

BREAK = 300.0
"""Seconds after which a choice is taken for a break, and left out of the time for a choice."""
DRILL = "drill "
"""How the kinds of results begin that are answers in drills."""
WEEK = timedelta(days=7)

T = TypeVar("T")


@dataclass(frozen=True)
class DrillFigures:
    """Answers in one skill, with a clock or without one."""

    skill: Skill
    timed: bool
    right: Share
    near: int
    """Answers that were nearly right."""
    seconds: Figure
    """Median seconds of an answer."""


@dataclass(frozen=True)
class WeekFigures:
    """One week, by the player's own calendar."""

    monday: date
    games: Share
    """Games won, of those played to their end."""
    play: Play
    """Choices that count."""
    drills: Share
    """Right answers, of all."""


@dataclass(frozen=True)
class ProgressReport:
    """All of it, for one sheet or for all."""

    sheet: str | None
    """The sheet's fingerprint; None for all sheets."""
    quiet: Share
    """Games won at the quiet table, of those played to their end."""
    full: Share
    """The same at the full table, matches among them."""
    left: int
    """Games that were left before their end, and not gone on with."""
    wanted: Share
    """Games dealt for a wanted hand, counted apart."""
    picks: Figure
    """Median picks to a hand, of games won at the quiet table."""
    play: Play
    """What a choice costs in picks, of those that count."""
    points: Play
    """The same at the full table, in points."""
    game_cost: Figure
    """Mean picks lost in a game, of games in which nothing was looked up."""
    looked_up: Share
    """Choices that were looked up first, of all that mattered; they don't count."""
    luck: Figure
    """Mean luck of deal, passes and draws in a game: chance of a hand, against the average."""
    choices: Figure
    """Mean of what choices did in a game: chance of a hand, against the advised ones."""
    seconds: Figure
    """Median seconds of a choice; breaks are left out."""
    passes: Share
    """Passes that cost nothing that can be told, of those that mattered."""
    passes_cost: Figure
    """Mean picks lost by the passes of a game."""
    drills: tuple[DrillFigures, ...]
    sections: tuple[tuple[str, Share], ...]
    """Right answers by section, the section's name first; of all drills, with a clock or without."""
    weeks: tuple[WeekFigures, ...]
    """Weeks in which anything was done, the first one first."""

    @property
    def empty(self) -> bool:
        """Whether there is nothing to say yet."""
        return not self.weeks and not self.left


def progress_of(store: Store, sheet: str | None = None) -> ProgressReport:
    """The report for one sheet, by its fingerprint, or for all. Raises StoreError."""
    lines = [line for line in store.lines(None, sheet=sheet) if line.parent is None and not line.imported]
    usual = [line for line in lines if counts_as_usual(line.house)]
    ended = [line for line in usual if line.finished and line.kind in (GAME, MATCH)]
    own = {line.id: line for line in lines}
    reviews = [
        one for one in store.reviews() if not one.advice_seen and (sheet is None or one.line in own) and one.choices
    ]
    parts = _parts(store.results(PARTS), own)
    whole = [one for one in reviews if one.line is None or not parts.get(one.line, {}).get("looked_up")]
    answers = [
        one
        for one in store.results()
        if one.kind.startswith(DRILL) and (sheet is None or one.figures.get("sheet") == sheet)
    ]
    quiet = [line for line in ended if line.house.table != FULL]
    looked = sum(int(_number(one, "looked_up")) for one in parts.values())
    return ProgressReport(
        sheet=sheet,
        quiet=_won(quiet),
        full=_won(line for line in ended if line.house.table == FULL),
        left=sum(not line.finished and line.kind in (GAME, MATCH) and bool(line.entries) for line in lines),
        wanted=_won(line for line in lines if line.finished and line.kind == NEAR),
        picks=median_of(line.ending.picks for line in quiet if line.ending is not None and _is_won(line)),
        play=measure_of(reviews),
        points=measure_of(list(_in_points(store.results(POINTS), own))),
        game_cost=mean_of(one.cost for one in whole),
        looked_up=Share(looked, looked + sum(one.choices for one in reviews)),
        luck=mean_of(_number(one, "luck") for one in parts.values()),
        choices=mean_of(_number(one, "choices") for one in parts.values()),
        seconds=median_of(_times(store, ended)),
        passes=Share(
            sum(int(_number(one, "passes_best")) for one in parts.values()),
            sum(int(_number(one, "passes")) for one in parts.values()),
        ),
        passes_cost=mean_of(_number(one, "passes_cost") for one in parts.values() if _number(one, "passes")),
        drills=tuple(_drills(answers)),
        sections=tuple(_sections(answers)),
        weeks=_weeks(ended, reviews, answers),
    )


def unweighed(store: Store) -> list[int]:
    """Games among four, played here to their end, whose luck and choices were never weighed; the latest first. Raises
    StoreError."""
    weighed = {result.line for result in store.results(POINTS)}
    return [
        line.id
        for line in store.lines(None)
        if line.parent is None and not line.imported and line.finished and line.kind in (GAME, MATCH)
        and line.house.table == FULL and not line.house.twist and line.id not in weighed
    ]  # fmt: skip


def _is_won(line: LineSummary) -> bool:
    return line.ending is not None and line.ending.winner == line.house.seat


def _won(lines: Iterable[LineSummary]) -> Share:
    given = list(lines)
    return Share(sum(map(_is_won, given)), len(given))


def _parts(results: Iterable[Result], own: Mapping[int, LineSummary]) -> dict[int, Mapping[str, Json]]:
    """The parts of each game among these lines; a review of a later date stands."""
    found: dict[int, Mapping[str, Json]] = {}
    for result in results:
        line = None if result.line is None else own.get(result.line)
        if line is not None and line.kind == GAME:
            found.setdefault(line.id, result.figures)
    return found


def _in_points(results: Iterable[Result], own: Mapping[int, LineSummary]) -> Iterable[GameFigures]:
    """What the choices of each game among four lost, in points; those that were looked up first are left out."""
    done = set()
    for result in results:
        made, lost = int(_number(result.figures, "made")), -_number(result.figures, "own") / CENTS
        line = None if result.line is None else own.get(result.line)
        if line is not None and line.kind in (GAME, MATCH) and line.id not in done and made > 0:
            done.add(line.id)
            yield GameFigures(made, max(lost, 0.0), 0)


def _number(figures: Mapping[str, Json], name: str) -> float:
    value = figures.get(name)
    return float(value) if isinstance(value, int | float) else 0.0


def _times(store: Store, lines: Iterable[LineSummary]) -> list[float]:
    return [seconds for line in lines for seconds in store.choice_seconds(line.id, line.house.seat) if seconds <= BREAK]


def _right(answers: Iterable[Result]) -> Share:
    grades = [one.figures.get("grade") for one in answers]
    return Share(grades.count(Grade.RIGHT.value), len(grades))


def _drills(answers: Sequence[Result]) -> Iterable[DrillFigures]:
    for skill in Skill:
        for timed in (False, True):
            mine = [
                one for one in answers if one.kind == f"{DRILL}{skill.value}" and (one.allowance is not None) == timed
            ]
            if mine:
                near = sum(one.figures.get("grade") == Grade.NEAR.value for one in mine)
                yield DrillFigures(
                    skill, timed, _right(mine), near, median_of(_number(one.figures, "seconds") for one in mine)
                )


def _sections(answers: Sequence[Result]) -> Iterable[tuple[str, Share]]:
    names = dict.fromkeys(str(one.figures.get("section") or "") for one in reversed(answers))
    for name in names:
        if name:
            yield name, _right(one for one in answers if one.figures.get("section") == name)


def monday_of(moment: datetime) -> date:
    """The Monday of the week in which a moment lies, in the player's own time."""
    day = moment.astimezone().date()
    return day - timedelta(days=day.weekday())


def _weeks(
    ended: Sequence[LineSummary], reviews: Sequence[StoredReview], answers: Sequence[Result]
) -> tuple[WeekFigures, ...]:
    played = _by_week(ended, lambda line: line.touched)
    reviewed = _by_week(reviews, lambda one: one.at)
    answered = _by_week(answers, lambda one: one.at)
    return tuple(
        WeekFigures(monday, _won(played[monday]), measure_of(reviewed[monday]), _right(answered[monday]))
        for monday in sorted({*played, *reviewed, *answered})
    )


def _by_week(given: Iterable[T], at: Callable[[T], datetime]) -> defaultdict[date, list[T]]:
    """What belongs to each week, by its Monday."""
    weeks: defaultdict[date, list[T]] = defaultdict(list)
    for one in given:
        weeks[monday_of(at(one))].append(one)
    return weeks
