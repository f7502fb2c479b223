"""The player's progress in whole sentences: every figure with its numerator, denominator and interval."""

from __future__ import annotations

from datetime import date, timedelta

from engine import words
from engine.advice.stats import Interval
from game.play.practice.figures import Figure, Share
from game.play.practice.progress import DrillFigures, ProgressReport, WeekFigures
from game.words.drills import SKILLS
from game.words.season.progress import MINUS, per_choice, play_line, points_line

TOO_FEW = "too few to say more"


def share_words(share: Share, what: str) -> str:
    """`18 of 24 games won, 75% (likely 55% to 88%)`; the counts alone under ten. `what` is what was counted."""
    counts = f"{share.good:,} of {share.of:,} {what}"
    if share.within is None:
        return f"{counts}; {TOO_FEW}"
    low, high = share.within
    return f"{counts}, {words.odds(share.good / share.of)} (likely {words.odds(low)} to {words.odds(high)})"


def range_words(within: Interval, digits: int = 1) -> str:
    """`likely 2.1 to 3.4`."""
    return f"likely {_signed(within[0], digits)} to {_signed(within[1], digits)}"


def _signed(value: float, digits: int) -> str:
    shown = f"{abs(value):.{digits}f}"
    return shown if value >= 0 or not float(shown) else f"{MINUS}{shown}"


def games_words(report: ProgressReport) -> list[str]:
    """Games played to their end, and those that were not."""
    said = []
    for share, where in ((report.quiet, "Quiet table"), (report.full, "Full table")):
        if share.of:
            said.append(f"{where}: {share_words(share, 'games won')}.")
    if not said:
        said.append("No game played to its end yet.")
    if report.picks.number:
        said.append(_picks(report.picks))
    if report.wanted.of:
        said.append(f"Counted apart: {share_words(report.wanted, 'games dealt for a wanted hand won')}.")
    if report.left:
        said.append(f"{words.sentence(words.count(report.left, 'game'))} left before the end.")
    return said


def _picks(found: Figure) -> str:
    if found.value is None or found.within is None:
        return f"Picks to a hand: {words.count(found.number, 'win')}, {TOO_FEW}."
    half = f"Half of your {found.number} wins at the quiet table took {found.value:g} picks or fewer"
    return f"{half} ({range_words(found.within, 0)})."


def choices_words(report: ProgressReport) -> list[str]:
    """What choices cost, with luck apart."""
    said = [play_line(report.play)] if report.play.games or not report.points.games else []
    if report.points.games:
        said.append(points_line(report.points))
    cost = report.game_cost
    if cost.value is not None and cost.within is not None:
        said.append(
            f"A whole game cost you {cost.value:.1f} picks on average ({range_words(cost.within)}), over "
            f"{words.count(cost.number, 'game')} in which you looked nothing up."
        )
    if report.looked_up.good:
        said.append(f"You looked advice up first for {report.looked_up.good:,} of {report.looked_up.of:,} choices that "
                    "mattered: those are left out.")  # fmt: skip
    luck, chose = report.luck, report.choices
    if luck.within is not None and luck.value is not None and chose.value is not None and chose.within is not None:
        said.append(
            f"Luck apart: deal, passes and draws changed the chance of a hand by {_points(luck.value)} a game "
            f"({_percents(luck.within)}), your choices by {_points(chose.value)} ({_percents(chose.within)}), over "
            f"{words.count(luck.number, 'game')}."
        )
    return said


def _points(value: float) -> str:
    return f"{'+' if value > 0 else ''}{_signed(100 * value, 1)}%"


def _percents(within: Interval) -> str:
    return f"likely {_signed(100 * within[0], 1)}% to {_signed(100 * within[1], 1)}%"


def time_words(seconds: Figure) -> str:
    """How long a choice takes."""
    if seconds.value is None:
        return "No choice was timed yet."
    if seconds.within is None:
        return f"Time for a choice: {words.count(seconds.number, 'choice')}, {TOO_FEW}."
    return (
        f"Half of your {seconds.number:,} choices took {seconds.value:.1f} seconds or less "
        f"({range_words(seconds.within)}); breaks of over five minutes are left out."
    )


def passes_words(report: ProgressReport) -> list[str]:
    """How passes were chosen in games."""
    if not report.passes.of:
        return ["No pass counts yet."]
    said = [f"{share_words(report.passes, 'passes cost nothing')}."]
    cost = report.passes_cost
    if cost.value is not None and cost.within is not None:
        said.append(
            f"The passes of a game cost you {cost.value:.1f} picks on average ({range_words(cost.within)}), over "
            f"{words.count(cost.number, 'game')}."
        )
    return said


def drill_words(one: DrillFigures) -> str:
    """One drill: right answers, nearly right ones, time."""
    clock = "by the clock" if one.timed else "without a clock"
    near = f", {one.near} nearly" if one.near else ""
    time = f"; half of them within {one.seconds.value:.0f} seconds" if one.seconds.within is not None else ""
    return f"{SKILLS[one.skill]} ({clock}): {share_words(one.right, 'right')}{near}{time}."


def section_words(name: str, share: Share) -> str:
    """Right answers about the hands of one section."""
    return f"{name}: {share_words(share, 'right')}."


def week_words(week: WeekFigures) -> str:
    """One week: games, what a choice cost, drills."""
    said = [f"{week.games.good} of {words.count(week.games.of, 'game')} won"] if week.games.of else []
    if week.play.games:
        cost = f"{per_choice(week.play.cost)} picks a choice" if week.play.enough else "too few games to say the cost"
        said.append(f"{cost} ({week.play.lost:,.1f} over {week.play.decisions:,})")
    if week.drills.of:
        said.append(f"{week.drills.good} of {words.count(week.drills.of, 'answer')} right")
    return f"{week_name(week.monday)}: {'; '.join(said)}."


def week_name(monday: date) -> str:
    """`2 to 8 March`, `30 March to 5 April`."""
    sunday = monday + timedelta(days=6)
    first = "" if monday.month == sunday.month else f" {words.MONTHS[monday.month - 1]}"
    return f"{monday.day}{first} to {sunday.day} {words.MONTHS[sunday.month - 1]}"


def report_lines(report: ProgressReport, change: str = "") -> list[tuple[str, list[str]]]:
    """All of it under headings. `change` is a sentence on how the cost of choices went on."""
    found = [
        ("Games", games_words(report)),
        ("Choices", [*choices_words(report), *([change] if change else []), time_words(report.seconds)]),
        ("Passes", passes_words(report)),
    ]
    if report.drills:
        found.append(("Drills", [drill_words(one) for one in report.drills]))
        found.append(("Drills by section", [section_words(*one) for one in report.sections]))
    if report.weeks:
        found.append(("Week by week", [week_words(one) for one in report.weeks]))
    return found
