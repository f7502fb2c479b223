"""Play: drawing, discarding, calling, exchanging jokers, and how a game ends.

Some things the rules leave to the table. Here they are settled as follows (common practice, no source). A dead hand
keeps its tiles and its exposures. The jokers in those may still be exchanged. It draws, discards and calls no more,
and the next live seat draws. The exposure that killed it goes back to the rack. Where a wrong call for mahjong kills a
hand, the discard goes to the next best call.
"""

from __future__ import annotations

from dataclasses import replace

from engine.rules.actions import LARGEST_CALL, SMALLEST_CALL, Action, Call, Discard, Draw, Exchange, LetGo, Mahjong
from engine.rules.faults import call_fault, faults_to_show, refusal_of_exposure
from engine.rules.house import FULL, QUIET
from engine.rules.matching import allows, hand_of
from engine.rules.refusals import Refusal, Rule
from engine.rules.scoring import mistakes_paid, won
from engine.rules.state import CHANCE, NO_CHOICES, Died, Discarded, Exposure, Outcome, Phase, State, refuse, take
from engine.rules.twists.calls import call_barred, exchange_barred
from engine.sheet.groups import Variant
from engine.sheet.model import Hand
from engine.tiles import JOKER, Kind


def play_actions(state: State) -> tuple[Action, ...]:
    """Every legal action in DRAWING, TURN and CALLING, in a fixed order."""
    if state.phase is Phase.DRAWING:
        return (Draw(state.wall[0]),)
    if state.phase is Phase.CALLING:
        return (LetGo(), *_calls(state, state.to_act, state.discards[-1].kind))
    seat = state.turn
    rack = state.racks[seat]
    kinds = sorted(set(rack))
    wins = _may_show(state, seat)
    return (
        *((Mahjong(),) if wins else ()),
        *(Discard(kind) for kind in kinds),
        *(
            Exchange(owner, place, laid.kind)
            for owner, exposures in enumerate(state.exposures)
            for place, laid in enumerate(exposures)
            if laid.jokers and laid.kind in kinds and exchange_barred(state) is None
        ),
    )


def _slips(state: State, seat: int) -> bool:
    """Only the player may make mistakes, and only where the house lets them happen."""
    return state.house.slips and seat == state.house.seat


def _may_show(state: State, seat: int) -> bool:
    return _slips(state, seat) or hand_of(state, seat) is not None


def _calls(state: State, seat: int, kind: Kind) -> tuple[Action, ...]:
    """What the seat may call the discard for in CALLING; nothing for a joker or for a dead hand."""
    if kind == JOKER or state.dead[seat] or state.house.closes_calls(len(state.wall)):
        return ()
    rack = state.racks[seat]
    like, jokers = rack.count(kind), rack.count(JOKER)
    exposed = state.exposures[seat]
    found: list[Action] = [Mahjong()] if _may_show(state, seat) else []
    for size in range(SMALLEST_CALL, LARGEST_CALL + 1):
        rest = size - 1
        if like + jokers < rest:
            break
        if _slips(state, seat) or allows(state.sheet, (*exposed, Exposure(size, kind)), state.house.jokers):
            found += (
                call
                for number in range(max(0, rest - like), min(jokers, rest) + 1)
                if call_barred(state, seat, call := Call(size, number)) is None
            )
    return tuple(found)


def apply_play(state: State, action: Action) -> State:
    """The state after a legal action in DRAWING, TURN or CALLING. Raises IllegalActionError."""
    match state.phase, action:
        case Phase.DRAWING, Draw(kind):
            return _draw(state, action, kind)
        case Phase.TURN, Discard(kind):
            return _discard(state, action, kind)
        case Phase.TURN, Mahjong():
            return _show(state)
        case Phase.TURN, Exchange():
            return _exchange(state, action)
        case Phase.CALLING, LetGo() | Mahjong() | Call():
            return _choose_call(state, action)
        case Phase.TURN, Call():
            raise refuse(state, action, Refusal(Rule.TOO_LATE))
        case Phase.DRAWING, _:
            raise refuse(state, action, Refusal(Rule.SEAT_DRAWS, seat=state.turn))
        case Phase.TURN, _:
            raise refuse(state, action, Refusal(Rule.TURN_NOW))
    raise refuse(state, action, Refusal(Rule.CALL_NOW))


def _draw(state: State, action: Draw, kind: Kind) -> State:
    if kind != state.wall[0]:
        raise refuse(state, action, Refusal(Rule.NEXT_TILE_IS, kind=state.wall[0]))
    seat = state.turn
    return replace(
        state,
        wall=state.wall[1:],
        racks=_with_rack(state, seat, (*state.racks[seat], kind)),
        phase=Phase.TURN,
        to_act=seat,
        drawn=kind,
        picks=state.picks + (seat == state.house.seat),
        called_from=None,
    )


def _with_rack(state: State, seat: int, rack: tuple[Kind, ...]) -> tuple[tuple[Kind, ...], ...]:
    return (*state.racks[:seat], rack, *state.racks[seat + 1 :])


def _discard(state: State, action: Discard, kind: Kind) -> State:
    seat = state.turn
    if kind not in state.racks[seat]:
        raise refuse(state, action, Refusal(Rule.NOT_HELD, seat=seat, kind=kind))
    rack, _ = take(state.racks[seat], (kind,))
    state = replace(
        state,
        racks=_with_rack(state, seat, rack),
        discards=(*state.discards, Discarded(seat, kind)),
        drawn=None,
        called_from=None,
    )
    if state.house.table == FULL:
        calling = replace(state, phase=Phase.CALLING)
        others = ((seat + step) % 4 for step in (1, 2, 3))
        asked = tuple(other for other in others if _calls(calling, other, kind))
        if asked:
            return replace(calling, to_act=asked[0], asked=asked)
    return _next_draw(state, seat)


def _next_draw(state: State, seat: int) -> State:
    """The draw of the next live seat after `seat`, or the end of the game."""
    cleared = replace(state, drawn=None, called_from=None, asked=(), chosen=NO_CHOICES, to_act=CHANCE)
    if state.house.table == FULL:
        live = [other for step in (1, 2, 3, 4) if not state.dead[other := (seat + step) % 4]]
    else:
        live = [] if state.dead[seat] else [seat]
    if not live:
        return _unwon(cleared, "dead")
    if not state.wall:
        return _unwon(cleared, "wall")
    if state.house.table != FULL and state.house.picks and state.picks >= state.house.picks:
        return _unwon(cleared, "picks")
    return replace(cleared, phase=Phase.DRAWING, turn=live[0])


def _mistaken(state: State) -> list[int]:
    """Seats that have shown a mahjong by mistake."""
    return [seat for seat, died in enumerate(state.died) if died is not None and died.exposure is None]


def _unwon(state: State, kind: str) -> State:
    """The end of a game that nobody has won; only mistakes are paid."""
    paid = (0, 0, 0, 0) if state.house.table == QUIET else mistakes_paid(state.house, _mistaken(state))
    return _over(state, Outcome(kind, payments=paid))


def _won(state: State, seat: int, found: tuple[Hand, Variant], discarder: int | None) -> State:
    let_go = sum(discard.seat == seat for discard in state.discards)
    shown = won(state.house, seat, found, state.racks[seat], state.exposures[seat], discarder, _mistaken(state), let_go)
    return _over(state, shown)


def _over(state: State, outcome: Outcome) -> State:
    return replace(state, phase=Phase.OVER, to_act=CHANCE, outcome=outcome, chosen=NO_CHOICES, asked=())


def _show(state: State) -> State:
    """Mahjong in one's own turn."""
    seat = state.turn
    found = hand_of(state, seat)
    if found is None:
        if not _slips(state, seat):
            raise refuse(state, Mahjong(), _refusal_of_mahjong(state, seat))
        return _next_draw(_killed(state, seat, Died(faults_to_show(state, seat)[0])), seat)
    return _won(state, seat, found, state.called_from)


def _killed(state: State, seat: int, died: Died) -> State:
    return replace(
        state,
        dead=(*state.dead[:seat], True, *state.dead[seat + 1 :]),
        died=(*state.died[:seat], died, *state.died[seat + 1 :]),
    )


def _exchange(state: State, action: Exchange) -> State:
    seat = state.turn
    rack = state.racks[seat]
    laid = state.exposures[action.seat]
    if action.exposure >= len(laid):
        raise refuse(state, action, Refusal(Rule.NO_SUCH_EXPOSURE, seat=action.seat, number=len(laid)))
    exposure = laid[action.exposure]
    if exposure.kind != action.kind:
        raise refuse(state, action, Refusal(Rule.OTHER_EXPOSURE, kind=exposure.kind))
    if not exposure.jokers:
        raise refuse(state, action, Refusal(Rule.NO_JOKER_THERE))
    barred = exchange_barred(state)
    if barred is not None:
        raise refuse(state, action, barred)
    if action.kind not in rack:
        raise refuse(state, action, Refusal(Rule.NOTHING_TO_GIVE, seat=seat, kind=action.kind))
    # The called tile may have completed the hand already. Then the discarder pays, whatever is exchanged afterwards.
    complete = state.called_from is not None and hand_of(state, seat) is not None
    left, _ = take(rack, (action.kind,))
    changed = (*laid[: action.exposure], replace(exposure, jokers=exposure.jokers - 1), *laid[action.exposure + 1 :])
    return replace(
        state,
        racks=_with_rack(state, seat, (*left, JOKER)),
        exposures=(*state.exposures[: action.seat], changed, *state.exposures[action.seat + 1 :]),
        drawn=state.drawn if state.drawn in left else None,
        called_from=state.called_from if complete else None,
    )


def _choose_call(state: State, action: LetGo | Mahjong | Call) -> State:
    seat = state.to_act
    refusal = refusal_of_call(state, seat, action)
    if refusal:
        raise refuse(state, action, refusal)
    chosen = (*state.chosen[:seat], action, *state.chosen[seat + 1 :])
    waiting = [other for other in state.asked if chosen[other] is None]
    state = replace(state, chosen=chosen)
    return replace(state, to_act=waiting[0]) if waiting else _settle_calls(state)


def refusal_of_call(state: State, seat: int, action: LetGo | Mahjong | Call) -> Refusal | None:
    """Why the seat may not do that with the last discard; None when it may. The state is taken to be in CALLING."""
    last = state.discards[-1]
    if isinstance(action, LetGo) or action in _calls(state, seat, last.kind):
        return None
    if last.kind == JOKER:
        return Refusal(Rule.JOKER_CALLED)
    if state.dead[seat]:
        return Refusal(Rule.DEAD_HAND, seat=seat)
    if state.house.closes_calls(len(state.wall)):
        return Refusal(Rule.CALLS_CLOSED, number=state.house.last_tiles)
    rack = state.racks[seat]
    if isinstance(action, Mahjong):
        return _refusal_of_mahjong(state, seat)
    barred = call_barred(state, seat, action)
    if action.size >= SMALLEST_CALL and barred is not None:
        return barred
    new = Exposure(action.size, last.kind, action.jokers)
    if new.size >= SMALLEST_CALL and (rack.count(new.kind) < new.real - 1 or rack.count(JOKER) < new.jokers):
        return Refusal(Rule.REST_NOT_HELD, seat=seat, number=new.size, kind=new.kind)
    return refusal_of_exposure(state.sheet, state.exposures[seat], new, state.house.jokers)


def _refusal_of_mahjong(state: State, seat: int) -> Refusal:
    """Why tiles that make no hand may not be shown."""
    return Refusal(Rule.NO_MAHJONG, seat=seat, fault=faults_to_show(state, seat)[0])


def _settle_calls(state: State) -> State:
    """Mahjong goes before an exposure; of two like calls, the next in turn order goes first."""
    discarder = state.turn
    kind = state.discards[-1].kind
    for seat in state.asked:
        if not isinstance(state.chosen[seat], Mahjong):
            continue
        found = hand_of(state, seat)
        if found is not None:
            racks = _with_rack(state, seat, (*state.racks[seat], kind))
            return _won(replace(_called(state), turn=seat, racks=racks), seat, found, discarder)
        state = _killed(state, seat, Died(faults_to_show(state, seat)[0]))
    for seat in state.asked:
        choice = state.chosen[seat]
        if isinstance(choice, Call):
            return _expose(state, seat, Exposure(choice.size, kind, choice.jokers))
    return _next_draw(state, discarder)


def _called(state: State) -> State:
    return replace(state, discards=(*state.discards[:-1], replace(state.discards[-1], called=True)))


def _expose(state: State, seat: int, exposure: Exposure) -> State:
    wrong = call_fault(state.sheet, state.exposures[seat], exposure, state.house.jokers)
    if wrong is not None:
        racks = _with_rack(state, seat, (*state.racks[seat], exposure.kind))
        return _next_draw(_killed(replace(_called(state), racks=racks), seat, Died(wrong, exposure)), seat)
    needed = [exposure.kind] * (exposure.real - 1) + [JOKER] * exposure.jokers
    rack, _ = take(state.racks[seat], needed)
    laid = (*state.exposures[seat], exposure)
    return replace(
        _called(state),
        racks=_with_rack(state, seat, rack),
        exposures=(*state.exposures[:seat], laid, *state.exposures[seat + 1 :]),
        phase=Phase.TURN,
        turn=seat,
        to_act=seat,
        called_from=state.turn,
        asked=(),
        chosen=NO_CHOICES,
    )
