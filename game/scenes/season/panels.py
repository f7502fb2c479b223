"""Cards of figures on the progress screen: shares as bars with their intervals, weeks as rows."""

from __future__ import annotations

from functools import partial

from engine import words
from game.draw.theme import BLUE, BODY, BODY_BOLD, INK, RULE, SMALL, SMALL_BOLD, SOFT, TITLE
from game.play.practice.figures import Share
from game.play.practice.progress import ProgressReport, WeekFigures
from game.ui.column import Column
from game.ui.layout import Rect
from game.ui.widgets import Ui
from game.words.drills import SKILLS
from game.words.season.home import day_and_month
from game.words.season.report import TOO_FEW, games_words, passes_words, time_words

BAR = 22
"""Units of height of a bar with its interval."""
MOST_WEEKS = 12
"""Weeks that are listed, the latest ones."""
WEEK_COLUMNS = ("games won", "picks lost", "right answers")


def fill_games(page: Column, report: ProgressReport) -> None:
    """Games won, picks to a hand, games left."""
    with page.panel("Games", fills=True) as inside:
        for share, where in ((report.quiet, "quiet table"), (report.full, "full table")):
            if share.of:
                _share_row(inside, f"Games won at the {where}", share)
        for said in games_words(report):
            inside.gap(4)
            inside.text(said, SMALL if report.quiet.of or report.full.of else BODY, SOFT)


def fill_time(page: Column, report: ProgressReport) -> None:
    """Time for a choice, and the passes."""
    with page.panel("Time and passes", fills=True) as inside:
        if report.seconds.value is not None and report.seconds.enough:
            inside.text(f"{report.seconds.value:.1f} s", TITLE)
        inside.text(time_words(report.seconds), SMALL, SOFT)
        inside.gap(10)
        if report.passes.of:
            _share_row(inside, "Passes without a cost", report.passes)
        for said in passes_words(report):
            inside.gap(4)
            inside.text(said, SMALL, SOFT)


def fill_drills(page: Column, report: ProgressReport) -> None:
    """Right answers by drill, those by the clock apart."""
    with page.panel("Drills", fills=True) as inside:
        for one in report.drills:
            _share_row(inside, f"{SKILLS[one.skill]}{', by the clock' if one.timed else ''}", one.right)


def fill_sections(page: Column, report: ProgressReport) -> None:
    """Right answers by section of the sheet."""
    with page.panel("Drills by section", fills=True) as inside:
        for name, share in report.sections:
            _share_row(inside, name, share)
        inside.gap(6)
        inside.text("The thin line shows how sure a share is: it likely lies there.", SMALL, SOFT)


def _share_row(page: Column, name: str, share: Share) -> None:
    """A name, the counts, and a bar; the bar is left out where there is too little to say."""
    page.gap(0 if page.empty else 8)
    ui = page.ui
    counts = f"{share.good:,} of {share.of:,}"
    if share.within is not None:
        counts += f", {words.odds(share.good / share.of)}"
    with page.aside(ui.width(counts, BODY_BOLD) + ui.u(4), gap=10, right=True, down="bottom") as (left, right):
        left.text(name, BODY)
        right.text(counts, BODY_BOLD, INK, "right")
    if share.within is None:
        page.text(TOO_FEW.capitalize() + ".", SMALL, SOFT)
    else:
        page.gap(2)
        page.block(BAR, partial(_bar, ui, share))


def _bar(ui: Ui, share: Share, rect: Rect) -> None:
    """The share as a bar, and under it a line with ends for its interval."""
    thick = rect.height // 2
    ui.bar(Rect(rect.left, rect.top, rect.width, thick), share.good / max(share.of, 1), BLUE, RULE)
    if share.within is None:
        return
    low, high = (rect.left + round(rect.width * end) for end in share.within)
    y, line, tall = rect.top + round(thick * 1.5), max(ui.u(2), 1), ui.u(8)
    ui.panel(Rect(low, y - line // 2, max(high - low, line), line), SOFT, None, 0)
    for x in (low, high - line):
        ui.panel(Rect(x, y - tall // 2, line, tall), SOFT, None, 0)


def fill_weeks(page: Column, report: ProgressReport) -> None:
    """The latest weeks, the last one first: games won, what a choice cost, right answers."""
    weeks = report.weeks[-MOST_WEEKS:][::-1]
    with page.panel("Week by week", fills=True) as inside:
        _week_row(inside, "week from", WEEK_COLUMNS, head=True)
        for week in weeks:
            inside.rule()
            inside.gap(3)
            _week_row(inside, day_and_month(week.monday), week_cells(week))
        inside.gap(6)
        inside.text("Picks lost stand over the number of choices that count.", SMALL, SOFT)


def week_cells(week: WeekFigures) -> tuple[str, ...]:
    """Games won of those played, picks lost over so many choices, right answers of all."""
    games = f"{week.games.good} of {week.games.of}" if week.games.of else ""
    lost = f"{week.play.lost:,.1f} over {week.play.decisions:,}" if week.play.games else ""
    return games, lost, f"{week.drills.good} of {week.drills.of}" if week.drills.of else ""


def _week_row(page: Column, name: str, cells: tuple[str, ...], head: bool = False) -> None:
    style = SMALL_BOLD if head else SMALL
    with page.beside([1.4, 1, 1.4, 1.2], gap=6) as parts:
        parts[0].text(name, style, SOFT if head else INK)
        for part, cell in zip(parts[1:], cells, strict=True):
            part.text(cell, style, SOFT if head else INK, "right")
