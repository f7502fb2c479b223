"""The simulated players: what sits at the other seats. Each sees its own Observation only and answers with an action.

A player is a pure function: the same observation gets the same action, whatever was asked before.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from engine.advice.contest.choosing import choose as choose_in_contest
from engine.advice.contest.contest import Contest
from engine.advice.contest.threats import Threats
from engine.advice.table import SheetTable
from engine.rules.actions import Action
from engine.rules.observation import Observation
from engine.rules.passing import BEFORE_PLAY
from engine.rules.state import Phase
from engine.seats.character import CHARACTERS, Character, Strength
from engine.seats.choices import choose_before_play, choose_call, choose_turn
from engine.seats.judging import FewInMind, Glance, Judge
from engine.seats.reckoning import Reckoning

SeatPlayer = Callable[[Observation], Action]


def player(strength: Strength, table: SheetTable) -> SeatPlayer:
    """A player of that strength for the sheet of `table`; it may sit at any seat and at several.

    It raises ValueError when asked about another sheet, another number of jokers, or when nothing is to be chosen.
    """
    if strength is Strength.EXPERT:
        return _expert(table)
    character = CHARACTERS[strength]
    judge = _judge(character, table)
    threats = Threats(table)

    def choose(observation: Observation) -> Action:
        _check(observation, table)
        if len(observation.legal) == 1:
            return observation.legal[0]
        if observation.phase in BEFORE_PLAY:
            return choose_before_play(observation, judge, character)
        if observation.phase is Phase.CALLING:
            return choose_call(observation, judge, character, table)
        return choose_turn(observation, judge, character, threats)

    return choose


def _expert(table: SheetTable) -> SeatPlayer:
    """A player that chooses by the contest, as advised at a full table."""
    contest = Contest(table)

    def choose(observation: Observation) -> Action:
        _check(observation, table)
        return choose_in_contest(contest, observation)

    return choose


def table_of(strengths: Sequence[Strength], table: SheetTable) -> SeatPlayer:
    """One player for all seats, which plays each with its strength: four of them, East's first, or one for all.

    Raises ValueError for another number of strengths.
    """
    if len(strengths) not in (1, 4):
        raise ValueError(f"{len(strengths)} strengths were given; give four, East's first, or one for all seats")
    players = {strength: player(strength, table) for strength in set(strengths)}
    return lambda observation: players[strengths[observation.seat % len(strengths)]](observation)


def _judge(character: Character, table: SheetTable) -> Judge:
    if character.strength is Strength.SHARP:
        return Reckoning(table)
    return FewInMind(table, character.few) if character.few else Glance(table)


def _check(observation: Observation, table: SheetTable) -> None:
    sheet, other = observation.sheet, table.sheet
    if (sheet.fingerprint, sheet.chosen, sheet.twist) != (other.fingerprint, other.chosen, other.twist):
        raise ValueError(f"this player knows the sheet {other.name}, not {sheet.name}; make one for that sheet")
    if observation.house.jokers != table.jokers:
        raise ValueError(f"this player counts on {table.jokers} jokers; make one for {observation.house.jokers}")
    if not observation.legal:
        raise ValueError("this seat has nothing to choose now; ask the seat to act")
