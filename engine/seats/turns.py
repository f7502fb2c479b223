"""A seat's own turn: mahjong when the hand is made, jokers out of exposures when they help, then what to let go."""

from __future__ import annotations

import numpy as np

from engine.advice.table import Real
from engine.rules.actions import Action, Discard, Exchange, Mahjong
from engine.rules.matching import match
from engine.rules.observation import Observation
from engine.seats.character import Character, whim
from engine.seats.judging import Hold, Judge
from engine.seats.passing import SAME
from engine.seats.threat import Threats
from engine.tiles import JOKER, KINDS, Kind, counts_of


def choose_turn(observation: Observation, judge: Judge, character: Character, threats: Threats) -> Action:
    """The action of a seat that holds fourteen tiles."""
    if makes_mahjong(observation, observation.rack):
        return Mahjong()
    hold = Hold.seen_by(observation)
    left = judge.keeps(hold)
    swap = _swap(observation, judge, character, hold, float(left.max()))
    if swap is not None:
        return swap
    if character.wary:
        left = np.where(left >= 0, np.maximum(left - character.wary * threats.of(observation), 0.0), left)
    return Discard(_let_go(observation, left, character.slips))


def makes_mahjong(observation: Observation, tiles: tuple[Kind, ...]) -> bool:
    """Whether mahjong is legal and these tiles with the exposures are a hand; a slip may be legal without being one."""
    if Mahjong() not in observation.legal:
        return False
    return match(observation.sheet, counts_of(tiles), observation.exposures[observation.seat]) is not None


def _swap(observation: Observation, judge: Judge, character: Character, hold: Hold, worth: float) -> Exchange | None:
    """The joker exchange that finishes the hand or helps it most; None when none helps, or it is overlooked."""
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
    """The kind that leaves most, or by a slip the next; of equal ones any; a joker only when nothing else is held."""
    if whim(observation, "slip") < slips and np.count_nonzero(left >= 0) > 1:
        left = left.copy()
        left[left.argmax()] = -1.0
    best = left.max()
    if best < 0:
        return JOKER
    tied = np.flatnonzero(left >= best - SAME * best)
    return int(tied[int(whim(observation, "discard") * len(tied))])
