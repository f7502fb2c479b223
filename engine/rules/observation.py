"""What one seat may know: the only door from the table to advice and to the players.

Nothing here depends on a tile that the seat can't see. If the hidden tiles change places, the observation stays equal.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

from engine.rules.actions import Action, Give, Pass
from engine.rules.game import legal_actions
from engine.rules.house import FULL, House
from engine.rules.matching import match, tiles_to_show
from engine.rules.state import CHANCE, Discarded, Exposure, Outcome, Phase, State, TwoRacks
from engine.sheet.groups import Variant
from engine.sheet.model import Hand, Sheet
from engine.tiles import JOKER, KINDS, Counts, Kind, counts_of, full_set


@dataclass(frozen=True)
class Observation:
    """The table from one seat."""

    sheet: Sheet = field(repr=False, hash=False)
    house: House
    seat: int
    phase: Phase
    """As this seat knows it. While only others are asked about a discard, it is the draw that would follow."""
    to_act: int
    """Whose choice is due; CHANCE for nobody's. It does not tell whether another seat is asked about a discard."""
    turn: int
    rack: tuple[Kind, ...]
    """In order of arrival. Tiles chosen for a pass stay in it until all have chosen."""
    drawn: Kind | None
    """The tile this seat has just drawn."""
    exposures: tuple[tuple[Exposure, ...], ...]
    discards: tuple[Discarded, ...]
    wall_left: int
    rack_sizes: tuple[int, ...]
    picks: int
    picks_left: int
    """Draws that this seat may still hope for. On the quiet table that is what its limit or the wall leaves, on the
    full table its share of the wall if nobody calls."""
    passes_done: int
    """The index of the pass being chosen, or how many were played."""
    passed: tuple[Pass | Give, ...]
    """Own passes so far, courtesy included, as they were chosen."""
    received: tuple[Kind, ...]
    """What came in the last pass and stayed."""
    settled: int
    """How many tiles this seat exchanges in the courtesy pass, 0 before that is known."""
    chosen: Action | None
    """This seat's own choice while others still choose."""
    elsewhere: Counts
    """36 counts of tiles that are known to stay in other racks. On the quiet table these are the tiles that this seat
    has passed and that did not come back."""
    dead: tuple[bool, ...]
    legal: tuple[Action, ...] = field(repr=False)
    """What this seat may do now, () when another is to act."""
    outcome: Outcome | None
    aside: tuple[Kind, ...] = ()
    """Tiles that a twist has turned up and taken out of play."""
    second: tuple[Kind, ...] = ()
    """The second rack of the two-hand game; `rack` is the first one there."""
    two: TwoRacks | None = None
    """What only the two-hand game knows."""

    @cached_property
    def counts(self) -> Counts:
        """36 counts of the rack."""
        return counts_of(self.rack)

    @cached_property
    def visible(self) -> Counts:
        """36 counts of all tiles this seat sees: rack, discards that nobody called, exposures, a winner's hand, and
        what a twist has turned up."""
        seen = list(self.counts)
        waiting = () if self.two is None or self.two.waiting is None else (self.two.waiting,)
        for kind in (*self.aside, *self.second, *waiting):
            seen[kind] += 1
        for discard in self.discards:
            seen[discard.kind] += not discard.called
        for exposures in self.exposures:
            for exposure in exposures:
                seen[exposure.kind] += exposure.real
                seen[JOKER] += exposure.jokers
        if self.outcome is not None and self.outcome.winner != self.seat:
            for kind in self.outcome.tiles:
                seen[kind] += 1
        return tuple(seen)

    @cached_property
    def unseen(self) -> Counts:
        """36 counts of tiles that may still be drawn, as far as this seat knows: the set without those in `visible` and
        `elsewhere`."""
        whole = full_set(self.house.jokers)
        return tuple(whole[kind] - self.visible[kind] - self.elsewhere[kind] for kind in range(KINDS))

    @cached_property
    def hand(self) -> tuple[Hand, Variant] | None:
        """The hand and variant that this seat could show now, or None. A discard that it may call counts as its
        tile."""
        tiles = tiles_to_show(self.rack, self.seat, self.phase, self.discards)
        return match(self.sheet, counts_of(tiles), self.exposures[self.seat], self.house)

    @property
    def last_discard(self) -> Kind | None:
        """The tile that was let go last; None when it was called."""
        return self.discards[-1].kind if self.discards and not self.discards[-1].called else None


def observe(state: State, seat: int) -> Observation:
    """What `seat` may know of the table."""
    phase, turn, to_act = state.phase, state.turn, state.to_act
    if phase is Phase.CALLING and to_act != seat:
        to_act = CHANCE
        if seat not in state.asked and state.wall:
            phase, turn = Phase.DRAWING, _next_live(state, state.turn)
    passes = state.handed[seat]
    return Observation(
        sheet=state.sheet,
        house=state.house,
        seat=seat,
        phase=phase,
        to_act=to_act,
        turn=turn,
        rack=state.racks[seat if state.two is None else 0],
        drawn=state.drawn if state.two is not None or state.turn == seat else None,
        exposures=state.exposures,
        discards=state.discards,
        wall_left=len(state.wall),
        rack_sizes=tuple(map(len, state.racks)),
        picks=state.picks,
        picks_left=_picks_left(state, seat),
        passes_done=state.passes_done,
        passed=tuple(one.out for one in passes),
        received=passes[-1].came if passes else (),
        settled=state.settled[seat] if state.asked_for else 0,
        chosen=state.chosen[seat],
        elsewhere=_elsewhere(state, seat),
        dead=state.dead,
        legal=legal_actions(state) if state.to_act == seat else (),
        outcome=state.outcome,
        aside=state.aside,
        second=() if state.two is None else state.racks[1],
        two=state.two,
    )


def _next_live(state: State, seat: int) -> int:
    return next(other for step in (1, 2, 3, 4) if not state.dead[other := (seat + step) % 4])


def _picks_left(state: State, seat: int) -> int:
    left = len(state.wall)
    if state.phase is Phase.OVER or state.dead[seat]:
        return 0
    if state.house.table != FULL:
        limit = state.house.picks - state.picks if state.house.picks else left
        return min(left, limit) if seat == state.house.seat else 0
    first = state.turn if state.phase is Phase.DRAWING else _next_live(state, state.turn)
    order = [other for step in range(4) if not state.dead[other := (first + step) % 4]]
    return max(0, -((order.index(seat) - left) // len(order)))


def _elsewhere(state: State, seat: int) -> Counts:
    """36 counts of the tiles that the seat passed and that did not come back.

    Two tiles alike can't be told apart. So a tile that came in counts as one that was passed before, and the counts
    are never too high. Once the player has discarded, the tiles that the other seats passed may lie among the
    discards. Those seats play no part any more, and get no counts.
    """
    away = [0] * KINDS
    if state.house.table != FULL and (seat == state.house.seat or not state.discards):
        for one in state.handed[seat]:
            for kind in one.out.kinds:
                away[kind] += 1
            for kind in one.came:
                away[kind] -= away[kind] > 0
    return tuple(away)
