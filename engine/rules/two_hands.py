"""The two-hand game: one player, two racks, and a hand to be made on each from one wall.

The rules are our own:

- Thirteen tiles are dealt to each of two racks. Nobody else plays. There are no passes and no calls.
- In a turn the player draws a tile and puts it on either rack. Then one tile of the first rack may change places with
  one of the second, once a turn. Then one tile is let go from the rack that has fourteen.
- Fourteen tiles of one rack that make a hand may be shown instead of letting a tile go. That rack is done: every tile
  drawn goes on the other one from then on, and nothing changes racks any more.
- The game is won once both hands are shown; their points are added. It ends unwon with the last tile of the wall, or
  with the last pick that the house allows.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from engine.rules.actions import Action, ChangeRacks, Discard, Draw, Mahjong, PutOn
from engine.rules.house import House
from engine.rules.matching import hand_of, holds_no_joker, worth
from engine.rules.refusals import Refusal, Rule
from engine.rules.state import CHANCE, Discarded, Outcome, Phase, ShownHand, State, TwoRacks, refuse, take
from engine.rules.twists.known import twist_of
from engine.sheet.model import Sheet
from engine.tiles import Kind, counts_of

RACKS = (0, 1)


def start_two(sheet: Sheet, house: House, wall: Sequence[Kind], aside: int = 0) -> State:
    """Deal from a full wall, the first tile first: three times four tiles to each rack in turn, then one more to each.

    The last `aside` tiles lie open beside the wall.
    """
    racks: list[tuple[Kind, ...]] = [(), ()]
    taken = 0
    for number in (4, 4, 4, 1):
        for rack in RACKS:
            racks[rack] += tuple(wall[taken : taken + number])
            taken += number
    last = len(wall) - aside
    return State(
        sheet=sheet,
        house=house,
        wall=tuple(wall[taken:last]),
        racks=(racks[0], racks[1], (), ()),
        phase=Phase.DRAWING,
        turn=0,
        to_act=CHANCE,
        aside=tuple(wall[last:]),
        two=TwoRacks(),
    )


def racks_of(state: State) -> TwoRacks:
    """What only the two-hand game knows. Raises ValueError for a state of another game."""
    if state.two is None:
        raise ValueError("this is no two-hand game; start one at the table for two racks")
    return state.two


def open_racks(state: State) -> tuple[int, ...]:
    """The racks, 0 and 1, on which no hand is shown yet."""
    return tuple(rack for rack in RACKS if racks_of(state).shown[rack] is None)


def two_actions(state: State) -> tuple[Action, ...]:
    """Every legal action in DRAWING, PLACING and TURN, in a fixed order."""
    if state.phase is Phase.DRAWING:
        return (Draw(state.wall[0]),)
    if state.phase is Phase.PLACING:
        return tuple(PutOn(rack) for rack in open_racks(state))
    return (
        *((Mahjong(),) if hand_of(state, state.turn) is not None else ()),
        *(Discard(kind) for kind in sorted(set(state.racks[state.turn]))),
        *_changes(state),
    )


def _changes(state: State) -> tuple[ChangeRacks, ...]:
    two = racks_of(state)
    if two.changed or len(open_racks(state)) < len(RACKS):
        return ()
    first, second = (sorted(set(state.racks[rack])) for rack in RACKS)
    return tuple(ChangeRacks(one, other) for one in first for other in second if one != other)


def apply_two(state: State, action: Action) -> State:
    """The state after a legal action in DRAWING, PLACING or TURN. Raises IllegalActionError."""
    refusal = _refusal(state, action)
    if refusal is not None:
        raise refuse(state, action, refusal)
    match action:
        case Draw(kind):
            return _drawn(state, kind)
        case PutOn(rack):
            return _placed(state, rack, racks_of(state).waiting)
        case ChangeRacks(first, second):
            return _changed(state, first, second)
        case Discard(kind):
            left, _ = take(state.racks[state.turn], (kind,))
            gone = (*state.discards, Discarded(state.house.seat, kind))
            return _next_turn(replace(_with(state, state.turn, left), discards=gone))
    return _shown(state)


def _refusal(state: State, action: Action) -> Refusal | None:
    """Why this may not be done now; None when it may."""
    if state.phase is Phase.DRAWING:
        if not isinstance(action, Draw):
            return Refusal(Rule.SEAT_DRAWS, seat=state.house.seat)
        return None if action.kind == state.wall[0] else Refusal(Rule.NEXT_TILE_IS, kind=state.wall[0])
    if state.phase is Phase.PLACING:
        return None if isinstance(action, PutOn) else Refusal(Rule.PLACE_NOW)
    match action:
        case Mahjong():
            found = hand_of(state, state.turn)
            return None if found is not None else Refusal(Rule.NO_HAND_THERE, number=state.turn + 1)
        case Discard(kind):
            return _lacks(state, state.turn, kind)
        case ChangeRacks(first, second):
            if racks_of(state).changed:
                return Refusal(Rule.CHANGED_ALREADY)
            if len(open_racks(state)) < len(RACKS):
                return Refusal(Rule.ONE_RACK_LEFT)
            alike = Refusal(Rule.CHANGE_ALIKE) if first == second else None
            return _lacks(state, 0, first) or _lacks(state, 1, second) or alike
    return Refusal(Rule.TWO_RACKS_NOW)


def _lacks(state: State, rack: int, kind: Kind) -> Refusal | None:
    if kind in state.racks[rack]:
        return None
    return Refusal(Rule.NOT_ON_RACK, number=rack + 1, kind=kind)


def _with(state: State, rack: int, tiles: tuple[Kind, ...]) -> State:
    racks = list(state.racks)
    racks[rack] = tiles
    return replace(state, racks=tuple(racks))


def _drawn(state: State, kind: Kind) -> State:
    """The tile waits to be placed; where only one rack is left, it goes there by itself."""
    two = replace(racks_of(state), waiting=kind)
    state = replace(state, wall=state.wall[1:], drawn=kind, picks=state.picks + 1, to_act=state.house.seat, two=two)
    left = open_racks(state)
    return _placed(state, left[0], kind) if len(left) == 1 else replace(state, phase=Phase.PLACING)


def _placed(state: State, rack: int, kind: Kind | None) -> State:
    tiles = state.racks[rack] if kind is None else (*state.racks[rack], kind)
    two = replace(racks_of(state), waiting=None)
    return replace(_with(state, rack, tiles), phase=Phase.TURN, turn=rack, two=two)


def _changed(state: State, first: Kind, second: Kind) -> State:
    mine, _ = take(state.racks[0], (first,))
    other, _ = take(state.racks[1], (second,))
    state = _with(_with(state, 0, (*mine, second)), 1, (*other, first))
    return replace(state, two=replace(racks_of(state), changed=True))


def _shown(state: State) -> State:
    """The hand of the rack with fourteen tiles lies open; with the second one the game is won."""
    found = hand_of(state, state.turn)
    if found is None:
        raise refuse(state, Mahjong(), Refusal(Rule.NO_HAND_THERE, number=state.turn + 1))
    hand, variant = found
    jokerless = holds_no_joker(counts_of(state.racks[state.turn]), ())
    points = worth(hand, variant, jokerless, False, state.house) * twist_of(state.house).times(len(state.discards))
    shown = list(racks_of(state).shown)
    shown[state.turn] = ShownHand(hand, variant, jokerless, points)
    state = replace(state, two=replace(racks_of(state), shown=(shown[0], shown[1])))
    if open_racks(state):
        return _next_turn(state)
    return _over(state, Outcome(
        kind="mahjong",
        winner=state.house.seat,
        hand=hand,
        variant=variant,
        tiles=state.racks[state.turn],
        self_drawn=True,
        jokerless=all(one is not None and one.jokerless for one in shown),
        points=sum(one.points for one in shown if one is not None),
    ))  # fmt: skip


def _next_turn(state: State) -> State:
    """The next draw, or the end of the game."""
    state = replace(state, drawn=None, to_act=CHANCE, two=replace(racks_of(state), changed=False))
    if not state.wall:
        return _over(state, Outcome("wall"))
    if state.house.picks and state.picks >= state.house.picks:
        return _over(state, Outcome("picks"))
    return replace(state, phase=Phase.DRAWING)


def _over(state: State, outcome: Outcome) -> State:
    return replace(state, phase=Phase.OVER, to_act=CHANCE, outcome=outcome)
