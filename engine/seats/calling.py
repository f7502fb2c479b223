"""When a discard is called: always for mahjong, for an exposure when the rack is worth more with it laid."""

from __future__ import annotations

import numpy as np

from engine.advice.table import Truth
from engine.rules.actions import Action, Call, LetGo, Mahjong
from engine.rules.observation import Observation
from engine.rules.table import Exposure
from engine.seats.character import Character, whim
from engine.seats.judging import Hold, Judge
from engine.seats.turns import makes_mahjong
from engine.tiles import JOKER, KINDS


def choose_call(observation: Observation, judge: Judge, character: Character, concealed: Truth) -> Action:
    """The choice of a seat that is asked. `concealed` [V] tells which variants are concealed: who aims at one calls for
    nothing but mahjong."""
    kind = observation.discards[-1].kind
    if makes_mahjong(observation, (*observation.rack, kind)):
        return Mahjong()
    calls = [action for action in observation.legal if isinstance(action, Call)]
    if not calls or whim(observation, "call") < character.overlooks:
        return LetGo()
    hold = Hold.seen_by(observation)
    aim = judge.aim(hold)
    if aim is None or concealed[aim]:
        return LetGo()
    best = judge.worth(hold) * character.eager
    chosen: Action = LetGo()
    for call in calls:
        laid = Exposure(call.size, kind, call.jokers)
        change = np.zeros(KINDS, np.int64)
        change[kind] -= laid.real - 1
        change[JOKER] -= laid.jokers
        worth = float(judge.keeps(hold.changed(change, laid)).max())
        if worth > best:
            best, chosen = worth, call
    return chosen
