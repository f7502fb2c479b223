"""The one door to a game: deal it, ask what may be done, do it.

One phase table answers both questions; passes and play each know their own phases.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from engine.rules.actions import (
    Action,
    Call,
    IllegalActionError,
    LetGo,
    Mahjong,
    MalformedActionError,
    what_is_malformed,
)
from engine.rules.house import FULL, TWO, House
from engine.rules.passing import apply_pass, begin, passing_actions
from engine.rules.play import apply_play, play_actions, refusal_of_call
from engine.rules.refusals import Refusal, Rule
from engine.rules.state import CHANCE, Phase, State, refuse
from engine.rules.twists.known import sheet_of_deal, twist_of
from engine.rules.two_hands import apply_two, start_two, two_actions
from engine.sheet.model import Sheet
from engine.tiles import Kind, counts_of, full_set

DEALT = 53
"""Tiles dealt: 14 to East, 13 to each other seat."""


def start(sheet: Sheet, house: House, wall: Sequence[Kind]) -> State:
    """Deal from a full wall, the first tile first: three times four tiles to each seat in turn order, one more to each,
    and East's fourteenth. A twist may change the sheet and take tiles off the end of the wall.

    Raises ValueError when the wall is not the full set with the house's jokers.
    """
    if any(type(kind) is not int or not 0 <= kind < 36 for kind in wall) or counts_of(wall) != full_set(house.jokers):
        raise ValueError(
            f"the wall is not the full set of tiles with {house.jokers} jokers; shuffle one for this house"
        )
    if house.table == TWO:
        return start_two(sheet_of_deal(sheet, house), house, wall, twist_of(house).aside)
    racks: list[tuple[Kind, ...]] = [()] * 4
    taken = 0
    for number in (4, 4, 4, 1):
        for seat in range(4):
            racks[seat] += tuple(wall[taken : taken + number])
            taken += number
    racks[0] += (wall[taken],)
    last = len(wall) - twist_of(house).aside
    dealt = State(
        sheet=sheet_of_deal(sheet, house),
        house=house,
        wall=tuple(wall[DEALT:last]),
        aside=tuple(wall[last:]),
        racks=tuple(racks),
        phase=Phase.PASSING,
        turn=0,
        to_act=0,
    )
    return begin(dealt)


def _no_actions(_: State) -> tuple[Action, ...]:
    return ()


def _refuse_all(state: State, action: Action) -> State:
    raise refuse(state, action, Refusal(Rule.ENDED))


_Rules = tuple[Callable[[State], tuple[Action, ...]], Callable[[State, Action], State]]
_BEFORE: _Rules = (passing_actions, apply_pass)
_PLAY: _Rules = (play_actions, apply_play)
_PHASES: dict[Phase, _Rules] = {
    Phase.PASSING: _BEFORE,
    Phase.AGREEING: _BEFORE,
    Phase.ASKING: _BEFORE,
    Phase.GIVING: _BEFORE,
    Phase.DRAWING: _PLAY,
    Phase.TURN: _PLAY,
    Phase.CALLING: _PLAY,
    Phase.OVER: (_no_actions, _refuse_all),
}


_TWO_RACKS: dict[Phase, _Rules] = {
    Phase.DRAWING: (two_actions, apply_two),
    Phase.PLACING: (two_actions, apply_two),
    Phase.TURN: (two_actions, apply_two),
    Phase.OVER: (_no_actions, _refuse_all),
}


def _rules(state: State) -> _Rules:
    return (_PHASES if state.two is None else _TWO_RACKS)[state.phase]


def legal_actions(state: State) -> tuple[Action, ...]:
    """All that may be done now by `state.to_act` (or by the wall), each once, in a fixed order; () when it is over."""
    return _rules(state)[0](state)


def apply(state: State, action: Action) -> State:
    """The state after the action of `state.to_act`.

    Raises MalformedActionError for what is no action at all, IllegalActionError for one that `legal_actions` lacks; the
    message quotes the action, the phase and the rule.
    """
    wrong = what_is_malformed(action)
    if wrong:
        raise MalformedActionError(wrong, repr(action), state.phase.value)
    return _rules(state)[1](state, action)


def why_not(state: State, seat: int, action: Action) -> Refusal | None:
    """Why `seat` may not do this now; None when it may."""
    if seat == state.to_act or what_is_malformed(action) or state.phase is Phase.OVER:
        try:
            apply(state, action)
        except (IllegalActionError, MalformedActionError) as error:
            return error.refusal
        return None
    return _out_of_turn(state, seat, action)


def _out_of_turn(state: State, seat: int, action: Action) -> Refusal:
    """Why a seat that is not to act may not do this."""
    if isinstance(action, LetGo | Mahjong | Call) and state.phase in (Phase.CALLING, Phase.DRAWING) and state.discards:
        last = state.discards[-1]
        if last.seat == seat:
            return Refusal(Rule.OWN_DISCARD)
        calling = replace(state, phase=Phase.CALLING)
        refusal = refusal_of_call(calling, seat, action) if state.house.table == FULL else None
        if refusal:
            return refusal
        if state.phase is Phase.CALLING and state.chosen[seat] is not None:
            return Refusal(Rule.CHOSEN_ALREADY, seat=seat)
        if state.phase is Phase.DRAWING:
            return Refusal(Rule.LET_GO)
    if isinstance(action, Call):
        return Refusal(Rule.TOO_LATE)
    alone = state.house.table != FULL
    if alone and seat != state.house.seat and state.phase in (Phase.DRAWING, Phase.PLACING, Phase.TURN):
        return Refusal(Rule.ONLY_ONE_PLAYS, seat=state.house.seat)
    if state.to_act == CHANCE:
        return Refusal(Rule.SEAT_DRAWS, seat=state.turn)
    return Refusal(Rule.SEAT_ACTS, seat=state.to_act)
