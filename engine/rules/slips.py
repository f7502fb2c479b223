"""What went wrong at the table, as values: why a call or a mahjong would be wrong, and how a hand died."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum, auto

from engine.rules.actions import LARGEST_CALL, SMALLEST_CALL, Call
from engine.rules.faults import faults_to_show
from engine.rules.game import why_not
from engine.rules.refusals import Found, Refusal, Rule
from engine.rules.state import Exposure, State
from engine.sheet.model import Hand, Sheet
from engine.tiles import JOKER, Kind


class Slipped(Enum):
    """What a slip is. The comments name the fields of `Slip` that tell more."""

    NOTHING_LET_GO = auto()
    CALLED_ALREADY = auto()  # kind, seat
    REFUSED = auto()  # refusal
    CANNOT_CALL = auto()  # kind, refusal
    TOO_LATE = auto()  # kind, refusal
    NO_HAND = auto()  # fault
    DIED = auto()  # fault, exposure, index


@dataclass(frozen=True)
class Slip:
    """Something a seat did, or tried, that the rules or the sheet do not allow."""

    what: Slipped
    kind: Kind | None = None
    """The discard."""
    seat: int | None = None
    """Who has called it."""
    refusal: Refusal | None = None
    fault: Found | None = None
    exposure: Exposure | None = None
    """The wrong exposure; None for a mahjong shown by mistake."""
    index: int | None = None
    """The state at which it happened."""

    @property
    def hand(self) -> Hand | None:
        """The line of the sheet that it breaks."""
        fault = self.fault or (self.refusal.fault if self.refusal is not None else None)
        return fault.hand if fault is not None else None


def likeliest_call(state: State, seat: int) -> Call | None:
    """The call that a seat most likely means: the largest group that its rack fills with the fewest jokers.

    None where nothing has been let go.
    """
    if not state.discards:
        return None
    like = state.racks[seat].count(state.discards[-1].kind)
    size = max(SMALLEST_CALL, min(like + 1, LARGEST_CALL))
    return Call(size, min(max(0, size - 1 - like), size - 1))


def why_no_call(states: Sequence[State], seat: int) -> Slip:
    """Why a seat can't call the last discard for an exposure. `states`: those of the game up to now."""
    state = states[-1]
    call = likeliest_call(state, seat)
    if call is None:
        return Slip(Slipped.NOTHING_LET_GO)
    last = state.discards[-1]
    if last.called:
        return Slip(Slipped.CALLED_ALREADY, last.kind, state.turn)
    if last.seat == seat:
        return Slip(Slipped.REFUSED, refusal=Refusal(Rule.OWN_DISCARD))
    if last.kind == JOKER:
        return Slip(Slipped.REFUSED, refusal=Refusal(Rule.JOKER_CALLED))
    refusal = why_not(_when_let_go(states), seat, call)
    if refusal is None:
        late = why_not(state, seat, call) or Refusal(Rule.TOO_LATE)
        return Slip(Slipped.TOO_LATE, last.kind, refusal=late)
    return Slip(Slipped.CANNOT_CALL, last.kind, refusal=refusal)


def _when_let_go(states: Sequence[State]) -> State:
    """The state right after the last discard."""
    number = len(states[-1].discards)
    index = len(states) - 1
    while index and len(states[index - 1].discards) == number:
        index -= 1
    return states[index]


def why_no_mahjong(state: State, seat: int, others: Iterable[Sheet] = ()) -> list[Slip]:
    """Why the rack is no mahjong, with the discard where one may be called: every fault at once.

    `others`: further sheets, on which the tiles may be a hand.
    """
    return [Slip(Slipped.NO_HAND, fault=fault) for fault in faults_to_show(state, seat, others)]


def slips_of(states: Sequence[State], seat: int) -> list[Slip]:
    """How the seat's hand died, if it did."""
    for index, after in enumerate(states[1:]):
        died = after.died[seat]
        if died is not None:
            return [Slip(Slipped.DIED, fault=died.fault, exposure=died.exposure, index=index)]
    return []
