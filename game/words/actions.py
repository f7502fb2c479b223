"""What happened, in whole sentences: for the text table, the record and a screen reader."""

from __future__ import annotations

from collections.abc import Sequence

from engine import words
from engine.rules.actions import (
    Action,
    Agree,
    Ask,
    Call,
    ChangeRacks,
    Discard,
    Draw,
    Exchange,
    Give,
    LetGo,
    Mahjong,
    Pass,
    PutOn,
    Stop,
)
from engine.rules.house import seat_name
from engine.rules.state import CHANCE, Exposure
from engine.sheet.groups import size_name
from engine.tiles import Kind, name, say_tiles


def say_seat(seat: int) -> str:
    """`East` for 0, `The wall` for CHANCE."""
    return "The wall" if seat == CHANCE else seat_name(seat).capitalize()


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
            unseen = f"{words.count(blind, 'tile')} unseen"
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
            return f"{who} asks to exchange {words.count(number, 'tile')} across."
        case Give(kinds):
            return f"{who} gives {words.count(len(kinds), 'tile') if hidden or not kinds else say_tiles(kinds)} across."
        case LetGo():
            return f"{who} does not call."
        case PutOn(rack):
            return f"{who} puts the tile on rack {rack + 1}."
        case ChangeRacks(first, second):
            return f"{who} changes the {name(first)} of rack 1 for the {name(second)} of rack 2."
        case Call(size, jokers):
            what = "the discard" if tile is None else f"the {name(tile)}"
            filled = f", {words.count(jokers, 'joker')} in it" if jokers else ""
            return f"{who} calls {what} for a {size_name(size)}{filled}."
        case Exchange(owner, place, kind):
            whose = "its own" if owner == seat else f"{say_seat(owner)}'s"
            return (
                f"{who} puts the {name(kind)} into {whose} {words.ordinal(place + 1)} exposure and takes the joker out."
            )


def with_blind(kinds: Sequence[Kind], blind: int) -> str:
    """What is passed: `5 dot and two blind`; `three blind`."""
    said = f"{words.in_words(blind)} blind"
    return f"{say_tiles(kinds)} and {said}" if kinds else said


def say_exposure(exposure: Exposure) -> str:
    """`a kong of 5 dot, one joker in it`."""
    filled = f", {words.count(exposure.jokers, 'joker')} in it" if exposure.jokers else ""
    return f"a {size_name(exposure.size)} of {name(exposure.kind)}{filled}"
