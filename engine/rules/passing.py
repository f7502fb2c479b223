"""Before play: the passes of both rounds, the vote between them, and the courtesy pass.

All four seats choose, one after another, unseen by the others; once the last has chosen, tiles change hands at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations

from engine.rules.actions import PASS_TILES, Action, Agree, Ask, Give, Pass, Stop
from engine.rules.house import FULL, LAST_OF_A_ROUND
from engine.rules.refusals import Refusal, Rule
from engine.rules.state import CHANCE, NO_CHOICES, Handed, Phase, State, refuse, take
from engine.tiles import JOKER, Kind

DIRECTIONS = ("right", "across", "left", "left", "across", "right")
"""Where the six passes go; the courtesy pass goes across."""
STEPS = (1, 2, 3, 3, 2, 1)
"""Added to a seat: who gets its tiles."""
FIRST_ROUND = 3
"""Passes of the first round."""
ACROSS = 2


def begin(state: State) -> State:
    """A dealt table ready for its first choice: the first pass, or play when the house leaves the passes out."""
    return replace(state, phase=Phase.PASSING, to_act=0) if state.house.passes else begin_play(state)


def begin_play(state: State) -> State:
    """The first turn: East discards from 14; a quiet player who sits elsewhere draws."""
    seat = 0 if state.house.table == FULL else state.house.seat
    phase, to_act = (Phase.TURN, seat) if seat == 0 else (Phase.DRAWING, CHANCE)
    return replace(state, phase=phase, turn=seat, to_act=to_act, chosen=NO_CHOICES)


def passing_actions(state: State) -> tuple[Action, ...]:
    """Every legal choice of the seat to act in PASSING, AGREEING, ASKING or GIVING, in a fixed order."""
    if state.phase is Phase.AGREEING:
        return Agree(), Stop()
    if state.phase is Phase.ASKING:
        return tuple(Ask(number) for number in range(PASS_TILES + 1))
    passable = sorted(kind for kind in state.racks[state.to_act] if kind != JOKER)
    if state.phase is Phase.GIVING:
        return tuple(Give(kinds) for kinds in _choices(passable, state.settled[state.to_act]))
    most_blind = PASS_TILES if state.house.may_be_blind(state.passes_done) else 0
    return tuple(
        Pass(kinds, blind) for blind in range(most_blind + 1) for kinds in _choices(passable, PASS_TILES - blind)
    )


def _choices(kinds: Sequence[Kind], number: int) -> list[tuple[Kind, ...]]:
    return sorted(set(combinations(kinds, number)))


def apply_pass(state: State, action: Action) -> State:
    """The state after the choice of the seat to act. Raises IllegalActionError."""
    _check(state, action)
    seat = state.to_act
    chosen = (*state.chosen[:seat], action, *state.chosen[seat + 1 :])
    waiting = [other for other in range(4) if chosen[other] is None and _takes_part(state, other)]
    if waiting:
        return replace(state, chosen=chosen, to_act=waiting[0])
    state = replace(state, chosen=NO_CHOICES, to_act=0)
    if state.phase is Phase.AGREEING:
        agreed = all(isinstance(choice, Agree) for choice in chosen)
        return replace(state, phase=Phase.PASSING) if agreed else _after_passes(state)
    if state.phase is Phase.ASKING:
        return _settle(replace(state, asked_for=tuple(c.number for c in chosen if isinstance(c, Ask))))
    if state.phase is Phase.GIVING:
        return begin_play(_move(state, tuple(c if isinstance(c, Give) else Give(()) for c in chosen), ACROSS))
    moved = _move(state, tuple(c for c in chosen if isinstance(c, Pass)), STEPS[state.passes_done])
    moved = replace(moved, passes_done=state.passes_done + 1)
    if moved.passes_done == moved.house.passes:
        return _after_passes(moved)
    return replace(moved, phase=Phase.AGREEING) if moved.passes_done == FIRST_ROUND and moved.house.vote else moved


def _check(state: State, action: Action) -> None:
    rack = state.racks[state.to_act]
    match state.phase, action:
        case Phase.PASSING, Pass(kinds, blind):
            if blind and not state.house.blind:
                raise refuse(state, action, Refusal(Rule.NO_BLIND_PASS))
            if blind and state.passes_done not in LAST_OF_A_ROUND:
                raise refuse(state, action, Refusal(Rule.BLIND_TOO_EARLY))
            if blind and not state.house.may_be_blind(state.passes_done):
                raise refuse(state, action, Refusal(Rule.BLIND_OTHER_ROUND, number=state.house.blind_round))
        case Phase.GIVING, Give(kinds):
            number = state.settled[state.to_act]
            if len(kinds) != number:
                raise refuse(state, action, Refusal(Rule.COURTESY_SETTLED, number=number))
        case (Phase.AGREEING, Agree() | Stop()) | (Phase.ASKING, Ask()):
            return
        case _:
            raise refuse(state, action, Refusal(_WANTED[state.phase]))
    if JOKER in kinds:
        raise refuse(state, action, Refusal(Rule.JOKER_PASSED))
    for kind in kinds:
        if kinds.count(kind) > rack.count(kind):
            raise refuse(state, action, Refusal(Rule.TOO_FEW_HELD, seat=state.to_act, kind=kind))


_WANTED = {
    Phase.PASSING: Rule.PASS_NOW,
    Phase.AGREEING: Rule.VOTE_NOW,
    Phase.ASKING: Rule.ASK_NOW,
    Phase.GIVING: Rule.GIVE_NOW,
}


def _takes_part(state: State, seat: int) -> bool:
    return state.phase is not Phase.GIVING or state.settled[seat] > 0


def _after_passes(state: State) -> State:
    return replace(state, phase=Phase.ASKING, to_act=0) if state.house.courtesy else begin_play(state)


def _settle(state: State) -> State:
    giving = [seat for seat in range(4) if state.settled[seat]]
    return replace(state, phase=Phase.GIVING, to_act=giving[0]) if giving else begin_play(state)


def _move(state: State, outs: Sequence[Pass | Give], step: int) -> State:
    """All tiles change hands at once.

    Tiles travel in the order they stood in the rack, and a seat that passes blind hands on the first ones of those that
    come to it; when they in turn are tiles that a neighbour hands on, they come from further round. Every tile put out
    goes on until a seat keeps it, its own seat perhaps. Should nobody put out a tile, none moves.
    """
    parted = [take(rack, out.kinds) for rack, out in zip(state.racks, outs, strict=True)]
    own = [taken for _, taken in parted]
    blind = [out.blind if isinstance(out, Pass) else 0 for out in outs]

    def tile(seat: int, place: int) -> Kind:
        while place >= len(own[seat]):
            place -= len(own[seat])
            seat = (seat - step) % 4
        return own[seat][place]

    came: list[tuple[Kind, ...]] = [(), (), (), ()]
    if any(own):
        for seat in range(4):
            giver = (seat - step) % 4
            sent = len(own[giver]) + blind[giver]
            came[seat] = tuple(tile(giver, place) for place in range(blind[seat], sent))
    return replace(
        state,
        racks=tuple(left + new for (left, _), new in zip(parted, came, strict=True)),
        handed=tuple((*before, Handed(out, new)) for before, out, new in zip(state.handed, outs, came, strict=True)),
    )


BEFORE_PLAY = (Phase.PASSING, Phase.AGREEING, Phase.ASKING, Phase.GIVING)
"""Phases of the passes."""
