"""What happened at the full table since the player's last discard, as sentences that tell no more than all can see.

A choice about a discard is hidden until all who were asked have chosen, and letting it go is never told: that would say
who could have called.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from engine.rules.actions import Call, Discard, Draw, Exchange, Mahjong
from engine.rules.sentences import fault_clause
from engine.rules.state import CHANCE, Exposure, Phase, State
from engine.tiles import Kind, name
from game.play.sitting import Entry, Sitting
from game.words.actions import say_action, say_seat


@dataclass(frozen=True)
class Told:
    """One thing that happened."""

    seat: int
    sentence: str
    kind: Kind | None = None
    """The tile that it is about."""


def happened(sitting: Sitting) -> tuple[Told, ...]:
    """Everything since the player's last discard before the cursor, that discard left out."""
    begin = 0
    for index in sitting.decisions:
        if index < sitting.cursor and isinstance(sitting.entries[index].action, Discard):
            begin = index + 1
    return told(sitting.entries, sitting.states, sitting.player, begin, sitting.cursor)


def told(
    entries: Sequence[Entry], states: Sequence[State], player: int, begin: int, end: int, draws: bool = True
) -> tuple[Told, ...]:
    """What the entries from `begin` up to `end` did; with `draws` also what the player drew."""
    found: list[Told] = []
    for index in range(begin, end):
        entry, before, after = entries[index], states[index], states[index + 1]
        if before.phase is Phase.CALLING:
            found += _settled(before, after)
            continue
        said = _one(entry, before, player)
        if said is not None and (draws or not isinstance(entry.action, Draw)):
            found.append(said)
        found += _died(before, after)
    return tuple(found)


def _one(entry: Entry, before: State, player: int) -> Told | None:
    action = entry.action
    seat = before.turn if entry.seat == CHANCE else entry.seat
    you = seat == player
    match action:
        case Draw(kind):
            return Told(seat, f"You draw the {name(kind)}.", kind) if you else None
        case Discard(kind):
            return Told(seat, f"You let the {name(kind)} go." if you else say_action(action, seat), kind)
        case Exchange(owner, _, kind):
            return Told(seat, _exchanged(seat, owner, kind, player), kind)
        case Mahjong():
            return Told(seat, "You show mahjong." if you else say_action(action, seat))
    return None


def _exchanged(seat: int, owner: int, kind: Kind, player: int) -> str:
    who = "You take" if seat == player else f"{say_seat(seat)} takes"
    if owner == player:
        whose = "your own" if seat == player else "your"
    else:
        whose = "its own" if owner == seat else f"{say_seat(owner)}'s"
    return f"{who} the joker out of {whose} exposure for the {name(kind)}."


def _settled(before: State, after: State) -> list[Told]:
    """What came of the calls once the last seat asked has chosen; nothing before that."""
    if after.phase is Phase.CALLING:
        return []
    kind = before.discards[-1].kind
    found = _died(before, after)
    if after.outcome is not None and after.outcome.winner is not None:
        seat = after.outcome.winner
        return [*found, Told(seat, _call_words(Mahjong(), seat, kind, before.house.seat), kind)]
    for seat in range(4):
        laid = _laid(before, after, seat)
        if laid is not None:
            call = Call(laid.size, laid.jokers)
            found.insert(0, Told(seat, _call_words(call, seat, kind, before.house.seat), kind))
    return found


def _laid(before: State, after: State, seat: int) -> Exposure | None:
    """What the seat has laid, or has laid wrongly and taken back."""
    if len(after.exposures[seat]) > len(before.exposures[seat]):
        return after.exposures[seat][-1]
    died = after.died[seat] if before.died[seat] is None else None
    return died.exposure if died is not None else None


def _call_words(action: Call | Mahjong, seat: int, kind: Kind, player: int) -> str:
    said = say_action(action, seat, kind)
    return f"You call{said.partition(' calls')[2]}" if seat == player else said


def _died(before: State, after: State) -> list[Told]:
    """Hands that died with this entry, and why."""
    found = []
    for seat, died in enumerate(after.died):
        if before.died[seat] is None and died is not None:
            whose = "Your" if seat == before.house.seat else f"{say_seat(seat)}'s"
            found.append(Told(seat, f"{whose} hand is dead: {fault_clause(died.fault)}."))
    return found
