"""What a simulation counted, as an aligned table, as sentences and as CSV."""

from __future__ import annotations

import csv
import io

from engine import words
from engine.advice.simulation.tally import Count, SheetTally
from engine.advice.stats import ENOUGH, Interval, wilson
from engine.sheet.model import Hand, Sheet

HEADS = ("Section and hand", "Made", "Share %", "95% within", "Mean picks", "95% within", "Median", "95% within")
COLUMNS = (
    "what", "section", "name", "made", "deals", "share", "share_low", "share_high",
    "picks_mean", "picks_mean_low", "picks_mean_high", "picks_median", "picks_median_low", "picks_median_high",
)  # fmt: skip
TOO_FEW = "too few"


def heading(sheet: Sheet) -> str:
    """Which sheet, or which sections of it, were played."""
    cut = f", only {words.listed([section.name for section in sheet.sections])}" if sheet.chosen else ""
    return f"{sheet.name}, season {sheet.season}{cut}"


def explained(tally: SheetTally, picks: int, seed: int) -> list[str]:
    """What was played and how it ended, in sentences."""
    whole = tally.whole
    deals = f"{whole.deals:,} {'deal' if whole.deals == 1 else 'deals'}"
    low, high = whole.share_within
    said = [
        f"{deals} of seed {seed} on the quiet table without passes, played by the fast policy with at most {picks} "
        f"{'pick' if picks == 1 else 'picks'} each.",
        f"A hand was made in {whole.made:,} of {whole.deals:,}, {percent(whole.share, 1)}% "
        f"({percent(low, 1)} to {percent(high, 1)}).",
    ]
    if whole.mean is not None and whole.mean_within is not None:
        said[1] = (
            f"{said[1][:-1]}, where it was after {whole.mean:.1f} picks in the mean, {whole.median:g} in the median."
        )
    said.append(
        "Intervals hold the true figure 95 times in 100: Wilson's for shares, Student's for means, for medians the one "
        "between two of the sorted picks. Picks are those of the deals that made the hand; from fewer than "
        f"{words.in_words(ENOUGH)} deals no mean or median is said."
    )
    return said


def as_lines(sheet: Sheet, tally: SheetTally, picks: int, seed: int) -> list[str]:
    """The whole report for a terminal."""
    rows: list[tuple[str, ...]] = [HEADS]
    for section in tally.sections:
        rows.append(_row(section, ""))
        rows += [_row(hand, "  ") for hand in tally.hands if hand.section == section.name]
    rows.append(_row(tally.whole, "", "Any hand"))
    widths = [max(len(row[column]) for row in rows) for column in range(len(HEADS))]
    lines = [
        "  ".join(
            [row[0].ljust(widths[0]), *(cell.rjust(width) for cell, width in zip(row[1:], widths[1:], strict=True))]
        )
        for row in rows
    ]
    return [
        f"{heading(sheet)}.",
        *explained(tally, picks, seed),
        "",
        *(line.rstrip() for line in lines),
        "",
        never(tally),
    ]


def never(tally: SheetTally) -> str:
    """Names the hands that were never made, and how rare that says they are."""
    if not tally.never:
        return "Every hand was made at least once."
    deals = tally.whole.deals
    _, most = wilson(0, deals)
    names = words.listed([count.name for count in tally.never])
    hands = words.count(len(tally.never), "hand")
    return (
        f"Never made in {deals:,} {'deal' if deals == 1 else 'deals'}: {names}. That is {hands} of {len(tally.hands)}; "
        f"95 times in 100 such a hand is made in at most {percent(most)}% of all deals."
    )


def percent(share: float, decimals: int = 2) -> str:
    """In percent, without the sign; never rounded to 0 or 100 unless it is that."""
    least = 10.0**-decimals
    rounded = round(100 * share, decimals)
    if 0 < share < 1:
        rounded = min(max(rounded, least), 100 - least)
    return f"{rounded:.{decimals}f}"


def _row(count: Count, indent: str, name: str | None = None) -> tuple[str, ...]:
    low, high = count.share_within
    cells = [
        indent + (name or count.name),
        f"{count.made:,}",
        percent(count.share) if count.made else "never",
        f"{percent(low)} to {percent(high)}",
    ]
    for value, within, form in (
        (count.mean, count.mean_within, "{:.1f}"),
        (count.median, count.median_within, "{:g}"),
    ):
        if value is None:
            cells += ["", ""]
        elif within is None:
            cells += [TOO_FEW, ""]
        else:
            cells += [form.format(value), f"{form.format(within[0])} to {form.format(within[1])}"]
    return tuple(cells)


def as_csv(tally: SheetTally) -> str:
    """One line for the sheet, every section and every hand; shares from 0 to 1; empty where there is no figure."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    for what, counts in (("sheet", (tally.whole,)), ("section", tally.sections), ("hand", tally.hands)):
        for count in counts:
            said: list[float | None] = [count.share, *count.share_within]
            said += [count.mean, *_ends(count.mean_within), count.median, *_ends(count.median_within)]
            figures = ["" if figure is None else f"{figure:.6g}" for figure in said]
            writer.writerow([what, count.section, count.name, count.made, count.deals, *figures])
    return text.getvalue()


def _ends(within: Interval | None) -> tuple[float | None, float | None]:
    return within or (None, None)


def made_words(hand: Hand, counted: SheetTally | None, done: bool) -> list[str]:
    """How often one hand comes off, in sentences."""
    if counted is None:
        return ["Nobody has counted yet: deals can be played in the background to see how often this hand is made."]
    count = next(one for one in counted.hands if one.name == hand.name)
    low, high = count.share_within
    said = [
        f"It was made in {count.made:,} of {count.deals:,} practice deals{'' if done else ' so far'}. Between "
        f"{percent(low, 1)}% and {percent(high, 1)}% is likely."
    ]
    if count.mean is not None and count.made >= ENOUGH:
        said.append(f"Where it was made, it took {count.mean:.1f} picks on average.")
    elif count.made:
        said.append("That is too few to say in how many picks.")
    return said
