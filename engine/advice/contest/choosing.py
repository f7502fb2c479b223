"""The choices of a seat at a full table, by what the contest says, without reasons."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from engine.advice.contest.contest import Contest, goes_best
from engine.advice.worth.worth import SAME
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

TIE = 0.1
"""A call that gains no more turns than this is not made: letting go keeps the hand open."""
COURTESY = 2
"""Tiles that the courtesy pass is expected to bring."""


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
    return Discard(goes_best(contest.discards(observation)))


def good_exchange(contest: Contest, observation: Observation) -> Exchange | None:
    """The joker exchange that finishes the hand or leaves most, if it leaves more than none. One that leaves as much
    is made, too, where the tile would go anyway."""
    exchanges = [action for action in observation.legal if isinstance(action, Exchange)]
    if not exchanges:
        return None
    keeps = contest.keeps(contest.rack(observation))
    goes = goes_best(contest.danger(observation).taken_off(keeps))
    best, chosen = keeps[goes_best(keeps)], None
    laid = observation.exposures[observation.seat]
    for exchange in exchanges:
        counts = list(observation.counts)
        counts[exchange.kind] -= 1
        counts[JOKER] += 1
        if match(observation.sheet, counts, laid) is not None:
            return exchange
        left = contest.exchanged(observation, exchange)
        if left > best or (exchange.kind == goes and chosen is None and left >= best - SAME):
            best, chosen = left, exchange
    return chosen


def choose_call(contest: Contest, observation: Observation) -> Action:
    """Mahjong, the call that leaves most, or letting go."""
    if Mahjong() in observation.legal and observation.hand is not None:
        return Mahjong()
    calls = calls_that_go_on(observation)
    if not calls:
        return LetGo()
    best = pass_over = contest.passed_over(observation)
    chosen: Action = LetGo()
    for call in calls:
        if not too_soon(contest, observation, call):
            left, _ = contest.called(observation, call)
            if left > best:
                best, chosen = left, call
    if chosen != LetGo() and best - pass_over <= TIE * contest.a_turn(contest.rack(observation)):
        return LetGo()
    return chosen


def calls_that_go_on(observation: Observation) -> list[Call]:
    """The legal calls after which a tile can be let go. One that lays the whole rack is a mahjong, or a dead hand."""
    calls = [action for action in observation.legal if isinstance(action, Call)]
    return [call for call in calls if call.size <= len(observation.rack)]


def too_soon(contest: Contest, observation: Observation, call: Call) -> bool:
    """Whether a call brings no hand nearer, or exposes a first group while too much is lacking."""
    own, kind = observation.exposures[observation.seat], observation.discards[-1].kind
    before = contest.lacking(contest.after(own), observation.counts, observation.unseen)
    if not own and before >= contest.tuning.too_far:
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
        return Ask(first_best(worths))
    if observation.phase is Phase.AGREEING:
        return Agree() if going_on(contest, observation) > 0 else Stop()
    worth, kinds = best_gone(contest, observation, PASS_TILES, to_come(observation))
    blind = best_blind(contest, observation, worth)
    return blind.action if blind is not None and blind.gains else Pass(kinds)


@dataclass(frozen=True)
class Blind:
    """Passing tiles on unseen."""

    action: Pass
    worth: float
    """What it leaves."""
    gains: bool
    """Whether that is enough more than passing three from the rack to count on."""


def best_blind(contest: Contest, observation: Observation, worth: float) -> Blind | None:
    """The best way to pass tiles on unseen, where passing three from the rack leaves this `worth`; None where it is not
    allowed. Each tile passed on unseen is one that stays in the rack, and one fewer that comes in."""
    if not observation.house.may_be_blind(observation.passes_done):
        return None
    coming, best = to_come(observation), None
    for blind in range(1, PASS_TILES + 1):
        left, stay = best_gone(contest, observation, PASS_TILES - blind, coming - blind)
        if best is None or left > best.worth:
            best = Blind(Pass(stay, blind), left, left > worth * contest.tuning.blind_gain)
    return best


def going_on(contest: Contest, observation: Observation) -> float:
    """What a second round of passes leaves more than stopping, with the best courtesy pass then."""
    most = PASS_TILES * observation.house.courtesy
    stop = max(best_gone(contest, observation, number, number)[0] for number in range(most + 1))
    return best_gone(contest, observation, PASS_TILES, to_come(observation))[0] - stop


def first_best(worths: Sequence[float]) -> int:
    """The place of the best; of equal ones the first."""
    return next(place for place, worth in enumerate(worths) if worth >= max(worths) - SAME)


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
    worths = contest.passes(contest.rack(observation, coming), choices).tolist()
    best = first_best(worths)
    return worths[best], choices[best]
