"""Why a seat may not do something now, in one sentence, for a player who tries: also when another seat is to act.

`apply` knows only the seat to act, and seats without a legal call are not asked. A player who wants to call all the
same is to hear what is wrong with it, not merely that it is somebody else's turn.
"""

from __future__ import annotations

from engine.rules.actions import Action, Call, LetGo, Mahjong, what_is_malformed
from engine.rules.house import FULL, QUIET, seat_name
from engine.rules.play import rule_against_call
from engine.rules.refusal import refuse
from engine.rules.state import apply
from engine.rules.table import CHANCE, Phase, State


def why_not(state: State, seat: int, action: Action) -> str | None:
    """Why `seat` may not do this now; None when it may."""
    if seat == state.to_act or what_is_malformed(action) or state.phase is Phase.OVER:
        try:
            apply(state, action)
        except ValueError as error:
            return str(error)
        return None
    return str(refuse(state, action, _rule(state, seat, action)))


def _rule(state: State, seat: int, action: Action) -> str:
    if isinstance(action, LetGo | Mahjong | Call) and state.phase in (Phase.CALLING, Phase.DRAWING) and state.discards:
        last = state.discards[-1]
        if last.seat == seat:
            return "nobody calls a discard of their own"
        rule = rule_against_call(state, seat, action) if state.house.table == FULL else None
        if rule:
            return rule
        if state.phase is Phase.CALLING and state.chosen[seat] is not None:
            return f"{seat_name(seat)} has chosen already"
        if state.phase is Phase.DRAWING:
            return "the discard was let go, and is dead"
    if isinstance(action, Call):
        return "a discard is called before the next tile is drawn, so this comes too late"
    if state.house.table == QUIET and seat != state.house.seat and state.phase in (Phase.DRAWING, Phase.TURN):
        return f"only {seat_name(state.house.seat)} plays at a quiet table"
    if state.to_act == CHANCE:
        return f"{seat_name(state.turn)} draws from the wall next"
    return f"{seat_name(state.to_act)} is to act"
