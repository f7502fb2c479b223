"""What is said while a sheet is being invented: faults of the form, how far the work is, and what came of it."""

from __future__ import annotations

import re

from engine.invent.bounds import MOST_OF_A_HAND, MOST_OF_A_SECTION, WHOLE, bounds
from engine.invent.draft import MOST_HANDS
from engine.invent.making import Invented
from engine.rules.deal import SEEDS
from engine.sheet.model import Sheet
from engine.words import counted, in_words
from game.play.writing.inventing import BalanceLook

_PERCENT = WHOLE // 100


def next_season(season: str) -> str:
    """The season after this one, four digits."""
    return f"{(int(season) + 1) % 10_000:04}"


def wish_fault(season: str, seed: str, like: Sheet | None) -> str:
    """What has to be written otherwise before a sheet can be made; empty where nothing has."""
    if not (len(season) == 4 and season.isascii() and season.isdigit()):
        return "Write the season as four digits, such as 2027."
    if not (seed.isascii() and seed.isdigit() and int(seed) < SEEDS):
        return f"Write the seed as a whole number below {SEEDS:,}."
    if like is not None and len(like.hands) > MOST_HANDS:
        return f"{like.name} has {len(like.hands)} hands; choose a sheet of at most {MOST_HANDS}."
    return ""


def look_words(look: BalanceLook | None) -> str:
    """How far the work has come."""
    if look is None:
        return "Hands are thought up, one section after another."
    said = f"Practice deals are played to see what comes too often or too seldom: {look.done:,} of {look.deals:,}."
    if look.number == 1:
        return said
    times = {2: "once", 3: "twice"}.get(look.number, f"{in_words(look.number - 1)} times")
    return f"{said} Hands were replaced {times} so far, and then the count began anew."


def made_words(made: Invented, seed: int) -> str:
    """What sheet was made, and how it was measured."""
    most = 100 * max(made.shares.made) / max(made.shares.total, 1)
    ways = sum(len(hand.variants) for hand in made.sheet.hands)
    return (
        f"{counted(len(made.sheet.hands), 'hand')}, {counted(ways, 'way')} to make them, from seed {seed}. Every hand "
        f"was made in {made.shares.deals:,} practice deals; the commonest was {most:.1f}% of the hands made."
    )


def loosened_words(hands: int, sections: int) -> str:
    """What a sheet of so many hands in so many sections can't keep to, and what it keeps to instead; empty where it
    keeps to all."""
    kept = bounds(hands, sections)
    usual, section = f"{MOST_OF_A_HAND / _PERCENT:.0f}%", f"{MOST_OF_A_SECTION / _PERCENT:.0f}%"
    here, there = f"{kept.hand / _PERCENT:.1f}%", f"{kept.most / _PERCENT:.0f}%"
    of = "of the hands made"
    match kept.loosened_hand, kept.loosened_section:
        case True, True:
            few = f"A sheet of {counted(hands, 'hand')} can't keep every hand under {usual} {of}"
            return f"{few}, nor every section under {section}: here the limits are {here} and {there}."
        case True, False:
            few = f"A sheet of {counted(hands, 'hand')} can't keep every hand under {usual} {of}"
            return f"{few}: here the limit is {here}."
        case False, True:
            few = f"A sheet of {counted(sections, 'section')} can't keep every section under {section} {of}"
            return f"{few}: here the limit is {there}."
    return ""


def file_name(sheet: Sheet) -> str:
    """A name for its file, such as `mossy-mill-2027.yaml`."""
    stem = re.sub(r"[^a-z0-9]+", "-", sheet.name.casefold()).strip("-") or "sheet"
    return f"{stem}-{sheet.season}.yaml"
