"""The table as one frozen value: wall, racks, exposures, discards, whose choice is due, and how it ended."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from enum import Enum

from engine.rules.actions import Action, Give, IllegalActionError, Pass
from engine.rules.house import House
from engine.rules.refusals import Found, Refusal
from engine.sheet.groups import Variant, size_name
from engine.sheet.model import Hand, Sheet
from engine.tiles import JOKER, KINDS, Counts, Kind, code

CHANCE = -1
"""Stands for the wall, or for nobody, where a seat would stand."""

NO_CHOICES: tuple[Action | None, ...] = (None,) * 4


class Phase(Enum):
    """What is being done; the value is how a sentence names it."""

    PASSING = "the passes"
    AGREEING = "the vote on the second round"
    ASKING = "the asking for a courtesy pass"
    GIVING = "the courtesy pass"
    DRAWING = "the draw"
    PLACING = "the placing of a tile"
    TURN = "a turn"
    CALLING = "the calls"
    OVER = "a finished game"


@dataclass(frozen=True)
class Exposure:
    """A group laid face up: `size` tiles, `jokers` of them jokers, the others `kind`."""

    size: int
    kind: Kind
    jokers: int = 0

    @property
    def real(self) -> int:
        """Tiles that are no jokers."""
        return self.size - self.jokers

    def __str__(self) -> str:
        return f"{size_name(self.size)} {code(self.kind)}" + (f" jokers {self.jokers}" if self.jokers else "")


@dataclass(frozen=True)
class Discarded:
    """A tile that `seat` has let go. Once called, it lies in the caller's exposure or hand."""

    seat: int
    kind: Kind
    called: bool = False


@dataclass(frozen=True)
class Handed:
    """One pass as one seat knows it: what it put out, and what came in and stayed."""

    out: Pass | Give
    came: tuple[Kind, ...]


@dataclass(frozen=True)
class Died:
    """How a hand died: by a wrong `exposure`, or by a mistaken mahjong where that is None."""

    fault: Found
    exposure: Exposure | None = None
    """The wrong exposure, whose tiles went back to the rack."""


@dataclass(frozen=True)
class Outcome:
    """How a game ended. `payments` are points won or lost by each seat and add up to nothing."""

    kind: str
    """`mahjong`, `wall` (used up), `picks` (the limit of the quiet table) or `dead` (no live hand is left)."""
    winner: int | None = None
    hand: Hand | None = field(default=None, hash=False)
    variant: Variant | None = field(default=None, hash=False)
    tiles: tuple[Kind, ...] = ()
    """What the winner showed from the rack, a called tile last; the exposures come on top."""
    self_drawn: bool = False
    discarder: int | None = None
    jokerless: bool = False
    points: int = 0
    """What the winner collects for the hand; on the quiet table, what the winner would collect."""
    payments: tuple[int, int, int, int] = (0, 0, 0, 0)
    """Mistaken mahjongs included. Nothing on the quiet table, where nobody else plays."""


@dataclass(frozen=True)
class ShownHand:
    """A hand that is shown in the two-hand game."""

    hand: Hand = field(hash=False)
    variant: Variant = field(hash=False)
    jokerless: bool
    points: int
    """What it counts, doubled where the house doubles it."""


@dataclass(frozen=True)
class TwoRacks:
    """What only the two-hand game knows: `State.racks` 0 and 1 are its racks, `State.turn` is the one of fourteen."""

    waiting: Kind | None = None
    """The tile drawn, until it is put on a rack."""
    changed: bool = False
    """Whether two tiles have changed racks in this turn."""
    shown: tuple[ShownHand | None, ShownHand | None] = (None, None)
    """Per rack, the hand that was made on it."""


@dataclass(frozen=True)
class State:
    """Everything about a game at one moment. Only `start` and `apply` make one. What a seat may know is in
    `observe`."""

    sheet: Sheet = field(repr=False, hash=False)
    house: House
    wall: tuple[Kind, ...]
    """Tiles not yet drawn, the next one first."""
    racks: tuple[tuple[Kind, ...], ...]
    """Per seat, tiles in order of arrival."""
    phase: Phase
    turn: int
    """Whose turn it is; in CALLING still the seat that discarded; during the passes East."""
    to_act: int
    """The seat whose choice is due; CHANCE for a draw and when the game is over."""
    exposures: tuple[tuple[Exposure, ...], ...] = ((), (), (), ())
    discards: tuple[Discarded, ...] = ()
    drawn: Kind | None = None
    """The tile that the seat in turn has just drawn. None when it has called, or was dealt its fourteenth tile."""
    picks: int = 0
    """Tiles that the player's seat has drawn."""
    dead: tuple[bool, ...] = (False,) * 4
    died: tuple[Died | None, ...] = (None,) * 4
    """How each dead hand died."""
    outcome: Outcome | None = None
    passes_done: int = 0
    """Passes played so far, courtesy not counted: the index of the pass that is being chosen."""
    handed: tuple[tuple[Handed, ...], ...] = ((), (), (), ())
    """Per seat, its passes so far, courtesy included."""
    asked_for: tuple[int, ...] = ()
    """What each seat asked for in the courtesy pass, once all have said so."""
    chosen: tuple[Action | None, ...] = NO_CHOICES
    """Choices of passes, votes, courtesy or calls made so far and not yet shown."""
    asked: tuple[int, ...] = ()
    """In CALLING, the seats that have a call to make or let go, in turn order from the discarder's right."""
    called_from: int | None = None
    """The seat whose discard completed what the seat in turn holds; None once a draw or an exchange did."""
    aside: tuple[Kind, ...] = ()
    """Tiles of the wall that a twist has turned up and taken out of play."""
    two: TwoRacks | None = None
    """What only the two-hand game knows; None in every other game."""

    @property
    def settled(self) -> tuple[int, ...]:
        """Per seat, tiles that go across in the courtesy pass: the smaller of the two numbers asked; () before."""
        return tuple(min(self.asked_for[seat], self.asked_for[(seat + 2) % 4]) for seat in range(len(self.asked_for)))


def tiles_in(state: State) -> Counts:
    """How many of each kind lie anywhere at the table: the full set at every moment."""
    counts = [0] * KINDS
    for kinds in (state.wall, state.aside, *state.racks):
        for kind in kinds:
            counts[kind] += 1
    if state.two is not None and state.two.waiting is not None:
        counts[state.two.waiting] += 1
    for discard in state.discards:
        counts[discard.kind] += not discard.called
    for exposures in state.exposures:
        for exposure in exposures:
            counts[exposure.kind] += exposure.real
            counts[JOKER] += exposure.jokers
    return tuple(counts)


def take(rack: tuple[Kind, ...], kinds: Iterable[Kind]) -> tuple[tuple[Kind, ...], tuple[Kind, ...]]:
    """What is left of a rack, and the tiles taken, in the order in which they stood. Of tiles alike the newest goes.

    Raises ValueError when the rack lacks one.
    """
    left = list(rack)
    spots = []
    for kind in kinds:
        spot = len(left) - 1
        while spot >= 0 and left[spot] != kind:
            spot -= 1
        if spot < 0:
            raise ValueError(f"the rack holds too few of {code(kind)}")
        left[spot] = CHANCE
        spots.append(spot)
    return tuple(kind for kind in left if kind != CHANCE), tuple(rack[spot] for spot in sorted(spots))


def refuse(state: State, action: object, refusal: Refusal) -> IllegalActionError:
    """The error to raise for an action that is refused at this moment."""
    return IllegalActionError(refusal, action, state.phase.value)
