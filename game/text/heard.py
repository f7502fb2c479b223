"""What can be heard of the table at any moment, as sentences: tiles, exposures, discards, seats, the sheet."""

from __future__ import annotations

from collections.abc import Iterable

from engine import words
from engine.advice.advise.hands import HandReach
from engine.rules.house import QUIET, SEATS
from engine.rules.state import Exposure
from engine.sheet.groups import size_name
from engine.sheet.model import Hand, Sheet
from engine.tiles import name, say_tiles
from game.play.rack_order import BY_SUIT, arranged
from game.play.sitting import Sitting
from game.words.actions import say_exposure, say_seat
from game.words.deal.twists import twist_sentences
from game.words.happened import happened
from game.words.sheet import ShownGroup, hold_words, shown_rows
from game.words.situation import place_words


def opening(sitting: Sitting) -> list[str]:
    """What is played, and its twist."""
    state = sitting.state
    said = [f"You play {state.sheet.name} at a {state.house.table} table."]
    if state.house.twist:
        said.append("This deal has a twist.")
    return said + twist_sentences(state)


def rack(sitting: Sitting) -> str:
    """The player's tiles, by suit."""
    held = arranged(sitting.observation.rack, BY_SUIT)
    return f"You hold {words.count(len(held), 'tile')}: {say_tiles(held)}."


def own_exposures(sitting: Sitting) -> list[str]:
    """What the player shows, if anything."""
    laid = sitting.state.exposures[sitting.player]
    return [f"You show {_shown(laid)}."] if laid else []


def discards(sitting: Sitting) -> list[str]:
    """What has gone, and how much of the wall is left."""
    gone = [discard.kind for discard in sitting.state.discards if not discard.called]
    left = words.sentence(words.count(len(sitting.state.wall), "tile"))
    return [
        f"Let go so far: {say_tiles(gone)}." if gone else "Nothing has been let go yet.",
        f"{left} left in the wall.",
    ]


def table(sitting: Sitting) -> list[str]:
    """What each of the others holds and shows, then the player, then what has gone."""
    state, player = sitting.state, sitting.player
    said = []
    for step in range(1, len(SEATS)) if state.house.table != QUIET else ():
        seat = (player + step) % len(SEATS)
        laid = state.exposures[seat]
        dead = " Its hand is dead." if state.dead[seat] else ""
        said.append(
            f"{say_seat(seat)}, {place_words(seat, player)}, holds "
            f"{words.count(len(state.racks[seat]), 'tile')} and shows {_shown(laid)}.{dead}"
        )
    return [*said, *own_exposures(sitting), *discards(sitting), *twist_sentences(state)]


def gone_from(sitting: Sitting, seat: int) -> str:
    """What one of the others has let go."""
    gone = [one.kind for one in sitting.state.discards if one.seat == seat and not one.called]
    who = say_seat(seat)
    return f"{who} has let go {say_tiles(gone)}." if gone else f"{who} let go none."


def since_last_discard(sitting: Sitting) -> list[str]:
    """What was done since the player's last discard."""
    return [one.sentence for one in happened(sitting)] or ["Nothing since your last discard."]


def sheet_sentences(sheet: Sheet) -> list[str]:
    """Every hand, section by section."""
    said = []
    for section in sheet.sections:
        said.append(f"Section {section.name}.")
        said += [hand_sentence(sheet, hand) for hand in section.hands]
    return said


def hand_sentence(sheet: Sheet, hand: Hand) -> str:
    """One hand of the sheet: how it may be held, what it counts, a way to make it, and what may vary."""
    ways = "; or ".join(_groups(row) for row in shown_rows(sheet, hand))
    return f"{hand.name}, {hold_words(hand)}, {hand.points} points. Such as {ways}. What may vary: {hand.wording}."


def still_to_come(reach: HandReach) -> str:
    """`Still to come: 4 dot, 7 dot and 7 dot.`"""
    missing = [slot.kind for group in reach.slots for slot in group if not slot.held]
    return f"Still to come: {say_tiles(missing)}." if missing else "It is complete."


def _shown(laid: Iterable[Exposure]) -> str:
    return words.listed([say_exposure(one) for one in laid]) or "nothing"


def _groups(row: Iterable[ShownGroup]) -> str:
    said = []
    for group in row:
        tile = "white dragon for zero" if group.tab == "0" else name(group.kind)
        said.append(f"{size_name(group.size)} of {tile}" if group.size > 1 else tile)
    return words.listed(said)
