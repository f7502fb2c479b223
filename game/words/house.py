"""House rules in words, for the window and the text table alike."""

from __future__ import annotations

from engine.rules.house import FULL, TWO, House
from engine.rules.twists.known import twist_of
from engine.words import count, listed
from game.words.actions import say_seat

SIDES = ("to the right", "across", "to the left")
"""Where the three others sit, in the order of `House.strengths`."""


def passes_words(passes: int) -> str:
    """What of the two rounds of passes is played."""
    if passes == 0:
        return "no passes"
    if passes == 3:
        return "one round of passes"
    if passes == 6:
        return "two rounds of passes"
    return count(passes, "pass", "passes")


def house_words(house: House) -> str:
    """The rules of a table in one line: `quiet table, you are East, 8 jokers, all of the wall, no passes`."""
    if house.table == TWO:
        return ", ".join(two_hands_words(house))
    parts = [
        "full table" if house.table == FULL else "quiet table",
        f"you are {say_seat(house.seat)}",
        "no jokers" if house.jokers == 0 else f"{house.jokers} joker{'s' if house.jokers > 1 else ''}",
    ]
    if house.table != FULL:
        parts.append("all of the wall" if house.picks == 0 else f"{house.picks} pick{'s' if house.picks > 1 else ''}")
    parts.append(passes_words(house.passes))
    if house.plays_courtesy:
        parts.append("courtesy pass")
    if house.passes and not house.blind:
        parts.append("no blind passes")
    if house.slips:
        parts.append("slips may happen")
    return ", ".join([*parts, *unusual_words(house)])


def two_hands_words(house: House) -> list[str]:
    """What the two-hand game has of house rules."""
    jokers = "no jokers" if house.jokers == 0 else count(house.jokers, "joker")
    picks = "all of the wall" if house.picks == 0 else count(house.picks, "pick")
    twist = [f"the twist {twist_of(house).title}"] if house.twist else []
    return ["the two-hand game", jokers, picks, *twist]


def unusual_words(house: House) -> list[str]:
    """A clause for each rule of this table that is not as most tables have it."""
    said = []
    if house.passes > 3 and not house.vote:
        said.append("the second round is always played")
    if house.passes and house.blind and house.blind_round:
        said.append(f"blind passes in the {('first', 'second')[house.blind_round - 1]} round only")
    if house.last_tiles:
        said.append(f"no calls in the last {count(house.last_tiles, 'tile')} of the wall")
    if house.discarder_pays_all:
        said.append("whoever lets the last tile go pays for all")
    if not house.self_drawn_doubles:
        said.append("a self-drawn hand is paid single")
    if not house.jokerless_doubles:
        said.append("a hand without jokers does not double")
    if house.concealed_bonus:
        said.append(f"{count(house.concealed_bonus, 'point')} more with nothing exposed")
    if house.loss_limit:
        said.append(f"nobody loses more than {count(house.loss_limit, 'point')}")
    if house.mistake_pays:
        said.append(f"a mistaken mahjong costs {count(house.mistake_pays, 'point')} to each other seat")
    if house.east_stays:
        said.append("East stays East after winning")
    if house.others:
        seats = [f"{one} {side}" for one, side in zip(house.strengths, SIDES, strict=True)]
        said.append(f"the others are {listed(seats)}")
    if house.twist:
        said.append(f"the twist {twist_of(house).title}")
    return said
