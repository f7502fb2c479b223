"""What happened, in whole sentences: for the text table, the record and a screen reader."""

from __future__ import annotations

from engine.rules.actions import Action, Agree, Ask, Call, Discard, Draw, Exchange, Give, LetGo, Mahjong, Pass, Stop
from engine.rules.house import seat_name
from engine.rules.state import CHANCE, Exposure, Outcome
from engine.sheet.groups import size_name
from engine.tiles import Kind, name, say_tiles

_NUMBERS = ("no", "one", "two", "three", "four", "five", "six")
_PLACES = ("first", "second", "third", "fourth")


def say_seat(seat: int) -> str:
    """`East` for 0, `The wall` for CHANCE."""
    return "The wall" if seat == CHANCE else seat_name(seat).capitalize()


def _some(number: int, noun: str = "tile") -> str:
    return f"{_NUMBERS[number]} {noun}{'' if number == 1 else 's'}"


def say_action(action: Action, seat: int, tile: Kind | None = None, hidden: bool = False) -> str:
    """One sentence for what `seat` did; for a draw, the seat that got the tile.

    `tile` is the discard that a call takes. With `hidden`, tiles that only the seat itself may know are left out.
    """
    who = say_seat(seat)
    match action:
        case Draw(kind):
            return f"{who} draws a tile." if hidden else f"{who} draws the {name(kind)}."
        case Discard(kind):
            return f"{who} lets go the {name(kind)}."
        case Mahjong():
            return f"{who} shows mahjong." if tile is None else f"{who} calls the {name(tile)} for mahjong."
        case Pass(kinds, blind):
            unseen = f"{_some(blind)} unseen"
            if hidden:
                return f"{who} passes three tiles."
            if not kinds:
                return f"{who} passes on {unseen}."
            return f"{who} passes {say_tiles(kinds)}{f', and {unseen}' if blind else ''}."
        case Agree():
            return f"{who} agrees to a second round of passes."
        case Stop():
            return f"{who} stops the passes."
        case Ask(number):
            return f"{who} asks to exchange {_some(number)} across."
        case Give(kinds):
            return f"{who} gives {_some(len(kinds)) if hidden or not kinds else say_tiles(kinds)} across."
        case LetGo():
            return f"{who} does not call."
        case Call(size, jokers):
            what = "the discard" if tile is None else f"the {name(tile)}"
            filled = f", {_some(jokers, 'joker')} in it" if jokers else ""
            return f"{who} calls {what} for a {size_name(size)}{filled}."
        case Exchange(owner, place, kind):
            whose = "its own" if owner == seat else f"{say_seat(owner)}'s"
            return f"{who} puts the {name(kind)} into {whose} {_PLACES[place]} exposure and takes the joker out."


def say_exposure(exposure: Exposure) -> str:
    """`a kong of 5 dot, one joker in it`."""
    filled = f", {_some(exposure.jokers, 'joker')} in it" if exposure.jokers else ""
    return f"a {size_name(exposure.size)} of {name(exposure.kind)}{filled}"


def say_outcome(outcome: Outcome) -> str:
    """How the game ended, in one or two sentences."""
    if outcome.kind == "wall":
        return "The wall is used up: a wall game, nobody scores."
    if outcome.kind == "picks":
        return "The last pick allowed is played: nobody scores."
    if outcome.winner is None or outcome.hand is None:
        return "The hand is dead, and no live hand is left."
    how = "self-drawn" if outcome.discarder is None else f"on {say_seat(outcome.discarder)}'s discard"
    jokerless = ", without a joker" if outcome.jokerless else ""
    return (
        f"{say_seat(outcome.winner)} makes mahjong with “{outcome.hand.name}”, {how}{jokerless}. "
        f"The hand is worth {outcome.hand.points} points, and {outcome.points} are collected."
    )
