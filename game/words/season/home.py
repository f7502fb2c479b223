"""What the home screen says: the next useful ten minutes and why, and the season at a glance."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from engine import words
from engine.drills.calendar import Next, SeasonPart, Suggestion
from engine.drills.ledger import HandRecord, Ledger, SeasonDates
from engine.drills.schedule import Due, Why
from engine.sheet.model import Sheet
from game.play.practice.figures import Share
from game.play.practice.standing import Better, SeasonGlance
from game.words.drills import SKILLS, due_words
from game.words.season.progress import per_choice

PARTS = {
    SeasonPart.BEFORE: "The season has not begun",
    SeasonPart.GETTING_TO_KNOW: "Getting to know the sheet",
    SeasonPart.PLAYING_IN: "Playing in",
    SeasonPart.KEEPING_FRESH: "Keeping fresh",
    SeasonPart.WAITING: "Waiting for the next sheet",
    SeasonPart.OVER: "The season is over",
}
MOST_NAMED = 3
"""Things of a list that are named on the home screen."""


def next_title(one: Suggestion, due: tuple[Due, ...] = ()) -> str:
    """What to do next, in a few words; `due` is what is to be practised."""
    if one.next is Next.PRACTISE and due and all(item.why is Why.NEW for item in due):
        return "Learn a few hands"
    return {
        Next.READ_SHEET: "Read the sheet",
        Next.MATCH: "Go on with the match",
        Next.DEAL: "Go on with your deal",
        Next.PRACTISE: "Practise what is due",
        Next.WIN_HAND: f"Win {one.hand}",
        Next.PLAY: "Play a deal",
    }[one.next]


def next_reason(one: Suggestion, sheet: Sheet, ledger: Ledger, due: tuple[Due, ...], now: datetime) -> str:
    """Why that is useful now. What was left needs no reason: it says itself where it stands."""
    if one.next is Next.READ_SHEET:
        many, sections = words.count(len(sheet.hands), "hand"), words.count(len(sheet.sections), "section")
        return f"{sheet.name} is new to you. It has {many} in {sections}: look through it before you play."
    if one.next is Next.PRACTISE:
        if not due:
            return ""
        hands = list(dict.fromkeys(item.item.hand for item in due))
        if all(item.why is Why.NEW for item in due):
            return f"Not practised yet: {_few(hands)}. About ten minutes at most."
        more = len(due) - 1
        rest = f" And {words.count(more, 'more question', 'more questions')}." if more else ""
        return f"{due_words(due[0], now)}{rest}"
    if one.next is Next.WIN_HAND:
        record = next((record for record in ledger.records if record.hand == one.hand), None)
        return "" if record is None else to_win_words(record)
    return ""


def to_win_words(record: HandRecord) -> str:
    """Why a hand that is not won yet is worth a game."""
    if record.near:
        return f"You have not won it yet. It was one or two tiles short in {words.count(record.near, 'game')}."
    if record.best:
        return f"You have not won it yet. At its best moment its chance by itself was {words.odds(record.best)}."
    return "You have not won it yet."


def won_words(glance: SeasonGlance) -> str:
    """How many hands are won."""
    return f"of {glance.hands} hands won, in {words.count(glance.games, 'game')}"


def days_words(glance: SeasonGlance) -> str:
    """On how many days something was done."""
    done = sum(done for _, done in glance.week)
    lately = words.in_words(done) if done else "none"
    since = "so far" if glance.season is None else f"since {day_and_month(glance.season.begins)}"
    return f"{words.count(glance.days, 'day')} of play and practice {since}, {lately} of the last seven"


def part_words(part: SeasonPart, season: SeasonDates, today: date) -> str:
    """The part of the season, and how much of it is left."""
    if part is SeasonPart.BEFORE:
        return f"{PARTS[part]}: it begins in {words.count((season.begins - today).days, 'day')}."
    if part is SeasonPart.OVER:
        return f"{PARTS[part]}."
    days = (season.ends - today).days
    left = "today is its last day" if not days else f"{_span(days)} to go"
    return f"{PARTS[part]}, {left}."


def _span(days: int) -> str:
    if days < 14:
        return words.count(days, "day")
    return words.count(days // 7, "week") if days < 90 else words.count(days // 30, "month")


def better_words(better: Better) -> list[str]:
    """What got better of late, one sentence each; nothing where nothing can be said."""
    said = []
    if better.hands:
        said.append(f"Won for the first time in the last two weeks: {_few(better.hands)}.")
    if better.cost is not None:
        first, latest = better.cost
        said.append(
            f"A choice that mattered cost you {per_choice(first)} picks in your first ten games, "
            f"{per_choice(latest)} in your latest ten."
        )
    if better.skill is not None:
        drill = SKILLS[better.skill].rstrip("?")
        said.append(f"{drill}: {_of(better.lately)} right in the last two weeks, {_of(better.before)} before.")
    return said


def _few(names: Sequence[str]) -> str:
    """The first names of a list, and how many more there are."""
    more = len(names) - MOST_NAMED
    return words.listed([*names[:MOST_NAMED], *([f"{words.in_words(more)} more"] if more > 0 else [])])


def _of(share: Share) -> str:
    return f"{share.good} of {share.of} ({words.odds(share.good / share.of)})"


def day_and_month(day: date) -> str:
    """`14 March`."""
    return f"{day.day} {words.MONTHS[day.month - 1]}"
