"""The choices of a seat at a full table, by what the contest says, without reasons."""

from __future__ import annotations

from itertools import combinations

import numpy as np

from engine.advice.contest.contest import Contest
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
from engine.rules.passing import FIRST_ROUND
from engine.rules.state import Exposure, Phase
from engine.tiles import JOKER, Kind

COURTESY = 2
"""Tiles that the courtesy pass is expected to bring."""
CALL_MARGIN = 1.0
"""A call is made where it leaves so many times what letting go does."""
TOO_FAR = 6
"""With so many tiles lacking nothing is exposed yet: it would say too much and rule out too much."""
BLIND_GAIN = 1.03
"""Tiles are passed on unseen only where that leaves so many times as much."""


def choose(contest: Contest, observation: Observation) -> Action:
    """The action of the seat to act. Raises ValueError when nothing is to be chosen."""
    if not observation.legal:
        raise ValueError("this seat has nothing to choose now; ask the seat to act")
    if len(observation.legal) == 1:
        return observation.legal[0]
    if observation.phase is Phase.TURN:
        return choose_turn(contest, observation)
    if observation.phase is Phase.CALLING:
        return choose_call(contest, observation)
    return choose_before_play(contest, observation)


def choose_turn(contest: Contest, observation: Observation) -> Action:
    """Mahjong, a joker exchange that helps, or the tile to let go."""
    if Mahjong() in observation.legal and observation.hand is not None:
        return Mahjong()
    exchange = good_exchange(contest, observation)
    if exchange is not None:
        return exchange
    left = contest.discards(observation)
    return Discard(max(left, key=lambda kind: left[kind]))


def good_exchange(contest: Contest, observation: Observation) -> Exchange | None:
    """The joker exchange that finishes the hand or leaves most, if it leaves more than none."""
    exchanges = [action for action in observation.legal if isinstance(action, Exchange)]
    if not exchanges:
        return None
    best, chosen = max(contest.keeps(contest.rack(observation)).values()), None
    laid = observation.exposures[observation.seat]
    for exchange in exchanges:
        counts = list(observation.counts)
        counts[exchange.kind] -= 1
        counts[JOKER] += 1
        if match(observation.sheet, counts, laid) is not None:
            return exchange
        left = contest.exchanged(observation, exchange)
        if left > best:
            best, chosen = left, exchange
    return chosen


def choose_call(contest: Contest, observation: Observation) -> Action:
    """Mahjong, the call that leaves most, or letting go."""
    if Mahjong() in observation.legal and observation.hand is not None:
        return Mahjong()
    calls = [action for action in observation.legal if isinstance(action, Call)]
    if not calls:
        return LetGo()
    best = contest.passed_over(observation) * CALL_MARGIN
    chosen: Action = LetGo()
    for call in calls:
        if not too_soon(contest, observation, call):
            left, _ = contest.called(observation, call)
            if left > best:
                best, chosen = left, call
    return chosen


def too_soon(contest: Contest, observation: Observation, call: Call) -> bool:
    """Whether a call brings no hand nearer, or exposes a first group while too much is lacking."""
    own, kind = observation.exposures[observation.seat], observation.discards[-1].kind
    before = contest.lacking(contest.after(own), observation.counts, observation.unseen)
    if not own and before >= TOO_FAR:
        return True
    laid = Exposure(call.size, kind, call.jokers)
    counts = list(observation.counts)
    counts[kind] -= laid.real - 1
    counts[JOKER] -= laid.jokers
    return contest.lacking(contest.after((*own, laid)), counts, observation.unseen) >= before


def choose_before_play(contest: Contest, observation: Observation) -> Action:
    """The pass, the vote, or the courtesy pass."""
    if observation.phase is Phase.GIVING:
        return Give(best_gone(contest, observation, observation.settled, observation.settled)[1])
    if observation.phase is Phase.ASKING:
        worths = [best_gone(contest, observation, number, number)[0] for number in range(PASS_TILES + 1)]
        return Ask(int(np.argmax(worths)))
    if observation.phase is Phase.AGREEING:
        stop = max(
            best_gone(contest, observation, number, number)[0]
            for number in range(PASS_TILES * observation.house.courtesy + 1)
        )
        return Agree() if best_gone(contest, observation, PASS_TILES, to_come(observation))[0] > stop else Stop()
    coming = to_come(observation)
    worth, kinds = best_gone(contest, observation, PASS_TILES, coming)
    best: Action = Pass(kinds)
    if observation.house.may_be_blind(observation.passes_done):
        for blind in range(1, PASS_TILES + 1):
            left, stay = best_gone(contest, observation, PASS_TILES - blind, coming - blind)
            if left > worth * BLIND_GAIN and Pass(stay, blind) in observation.legal:
                worth, best = left, Pass(stay, blind)
    return best


def to_come(observation: Observation) -> int:
    """Tiles that passes bring from this one on: three by each that is left of the round, and the courtesy pass. A
    second round is not counted on before it begins where anyone may stop it."""
    done, last = observation.passes_done, observation.house.passes
    end = min(last, FIRST_ROUND) if done < FIRST_ROUND and observation.house.vote else last
    return PASS_TILES * (end - done) + COURTESY * observation.house.courtesy


def best_gone(contest: Contest, observation: Observation, number: int, coming: int) -> tuple[float, tuple[Kind, ...]]:
    """What is left by the best choice of so many tiles to go, none of them a joker, and that choice."""
    rack = sorted(kind for kind in observation.rack if kind != JOKER)
    choices = sorted(set(combinations(rack, number)))
    worths = contest.worths(contest.rack(observation, coming), choices)
    best = int(worths.argmax())
    return float(worths[best]), choices[best]
