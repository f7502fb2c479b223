"""What a simulated player chooses: before play, in its own turn, and when a discard may be called.

In its turn it shows mahjong when the hand is made, takes jokers out of exposures when they help, then lets a tile go.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from engine.advice.contest.threats import Threats
from engine.advice.table import Real, SheetTable
from engine.rules.actions import (
    PASS_TILES,
    Action,
    Agree,
    Ask,
    Call,
    Discard,
    Exchange,
    Give,
    LetGo,
    Mahjong,
    Pass,
    Stop,
)
from engine.rules.matching import match
from engine.rules.observation import Observation
from engine.rules.state import Exposure, Phase
from engine.seats.character import Character, whim
from engine.seats.judging import Hold, Judge, lacking
from engine.tiles import JOKER, KINDS, Kind


def choose_turn(observation: Observation, judge: Judge, character: Character, threats: Threats) -> Action:
    """The action of a seat that holds fourteen tiles."""
    if _makes_mahjong(observation):
        return Mahjong()
    hold = Hold.seen_by(observation)
    left = judge.keeps(hold)
    swap = _swap(observation, judge, character, hold, float(left.max()))
    if swap is not None:
        return swap
    if character.wary and not observation.house.closes_calls(observation.wall_left):
        left = np.where(left >= 0, np.maximum(left - character.wary * threats.of(observation), 0.0), left)
    goes = _let_go(observation, left, character.slips)
    redeemed = next((one for one in observation.legal if isinstance(one, Exchange) and one.kind == goes), None)
    return redeemed if redeemed is not None and character.redeems else Discard(goes)


def _makes_mahjong(observation: Observation) -> bool:
    """Whether mahjong is legal and a hand is made; a mistake may be legal too."""
    return Mahjong() in observation.legal and observation.hand is not None


def _swap(observation: Observation, judge: Judge, character: Character, hold: Hold, worth: float) -> Exchange | None:
    """The joker exchange that finishes the hand, or else the one that helps most. None when none helps, or when the
    seat overlooks it."""
    exchanges = [action for action in observation.legal if isinstance(action, Exchange)]
    if not exchanges:
        return None
    overlooked = whim(observation, "exchange") < character.overlooks
    best = worth * (1 + SAME)
    chosen = None
    for exchange in exchanges:
        change = np.zeros(KINDS, np.int64)
        change[exchange.kind] -= 1
        change[JOKER] += 1
        after = hold.changed(change)
        if match(observation.sheet, after.counts.tolist(), after.laid) is not None:
            return exchange
        helped = float(judge.keeps(after).max())
        if helped > best and not overlooked:
            best, chosen = helped, exchange
    return chosen


def _let_go(observation: Observation, left: Real, slips: float) -> Kind:
    """The kind whose going leaves most, or by a slip the second best. Of equal ones it is any. A joker goes only when
    nothing else is held."""
    if whim(observation, "slip") < slips and np.count_nonzero(left >= 0) > 1:
        left = left.copy()
        left[left.argmax()] = -1.0
    best = left.max()
    if best < 0:
        return JOKER
    tied = np.flatnonzero(left >= best - SAME * best)
    return int(tied[int(whim(observation, "discard") * len(tied))])


def choose_call(observation: Observation, judge: Judge, character: Character, table: SheetTable) -> Action:
    """The choice of a seat that is asked about a discard.

    A seat that aims at a concealed hand calls for mahjong only. A seat that is not hasty calls only what brings some
    variant nearer.
    """
    kind = observation.discards[-1].kind
    if _makes_mahjong(observation):
        return Mahjong()
    calls = [action for action in observation.legal if isinstance(action, Call)]
    if not calls or whim(observation, "call") < character.overlooks:
        return LetGo()
    hold = Hold.seen_by(observation)
    aim = judge.aim(hold)
    if aim is None or table.concealed[aim]:
        return LetGo()
    before = lacking(table, hold)
    hasty = whim(observation, "haste") < character.hasty
    if not hasty and not hold.laid and before >= TOO_FAR:
        return LetGo()
    best = judge.worth(hold) * character.eager
    chosen: Action = LetGo()
    for call in calls:
        laid = Exposure(call.size, kind, call.jokers)
        change = np.zeros(KINDS, np.int64)
        change[kind] -= laid.real - 1
        change[JOKER] -= laid.jokers
        after = hold.changed(change, laid)
        if not hasty and lacking(table, after) >= before:
            continue
        worth = float(judge.keeps(after).max())
        if worth > best:
            best, chosen = worth, call
    return chosen


TOO_FAR = 6
"""With so many tiles lacking nothing is exposed yet: it would say too much and rule out too much."""
SAME = 1e-9
"""Worths that differ by a smaller share are taken as equal."""


@dataclass(frozen=True)
class Spare:
    """Tiles in the order in which they would go. With each goes a share of the rack's worth."""

    kinds: tuple[Kind, ...]
    lost: tuple[float, ...]

    def within(self, limit: float) -> int:
        """How many can go before one of them costs more than the limit."""
        return next((place for place, lost in enumerate(self.lost) if lost > limit), len(self.lost))


def choose_before_play(observation: Observation, judge: Judge, character: Character) -> Action:
    """The choice of the seat to act in PASSING, AGREEING, ASKING or GIVING."""
    if observation.phase is Phase.GIVING:
        return Give(cheapest(observation, judge, observation.settled).kinds)
    spare = cheapest(observation, judge, PASS_TILES)
    number = spare.within(character.spare)
    if observation.phase is Phase.AGREEING:
        return Agree() if number == PASS_TILES else Stop()
    if observation.phase is Phase.ASKING:
        return Ask(number)
    blind = Pass(spare.kinds[:number], PASS_TILES - number)
    return blind if blind in observation.legal else Pass(spare.kinds)


def cheapest(observation: Observation, judge: Judge, number: int) -> Spare:
    """The tiles whose loss costs least, never a joker."""
    hold = Hold.seen_by(observation)
    worth = judge.worth(hold)
    kinds: list[Kind] = []
    lost: list[float] = []
    for _ in range(number):
        left = judge.keeps(hold)
        best = left.max()
        tied = np.flatnonzero(left >= best - SAME * max(best, 0.0))
        kind = int(tied[int(whim(observation, f"spare {len(kinds)}") * len(tied))])
        kinds.append(kind)
        lost.append(1.0 - float(best) / worth if worth > 0 else 0.0)
        worth = float(best)
        hold = hold.without(kind)
    return Spare(tuple(kinds), tuple(lost))
