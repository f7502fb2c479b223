"""Why an action is refused and what is wrong with a hand, as values. The words for them are in `sentences`."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum, Flag, auto

from engine.sheet.groups import Group
from engine.sheet.model import Hand, Sheet
from engine.tiles import Kind


class HandFault(Flag):
    """Every fault of a hand that the game names."""

    WRONG_COUNT = auto()
    NO_HAND = auto()
    """The tiles make no hand of this sheet, even with jokers anywhere and exposures overlooked."""
    OTHER_SHEET = auto()
    """They do make a hand of another sheet that is loaded."""
    JOKER_IN_PAIR = auto()
    EXPOSED_CONCEALED = auto()
    EXPOSURE_FITS_NOTHING = auto()
    TOO_MANY_ALIKE = auto()


@dataclass(frozen=True)
class Found:
    """One fault of a hand, with what it is about. Each fault uses only some of the fields."""

    fault: HandFault
    hand: Hand | None = field(default=None, hash=False)
    """The hand of the sheet that it concerns."""
    sheet: Sheet | None = field(default=None, repr=False, hash=False)
    """The sheet that was looked at; for OTHER_SHEET, the other one."""
    kind: Kind | None = None
    number: int = 0
    """How many tiles there are."""
    wanted: int = 0
    """How many tiles there should be, or may be at most."""
    groups: tuple[Group, ...] = ()
    """Exposed groups that go with no hand."""
    jokers: int | None = None
    """How many jokers the set has, when a set with more would allow the exposure."""


class Rule(Enum):
    """Every reason to refuse an action. The comments name the fields of a refusal that tell more."""

    # No action at all, whatever the moment.
    PASS_COUNT = auto()  # number
    COURTESY_COUNT = auto()  # number
    GROUP_SIZE = auto()  # number
    CALL_JOKERS = auto()
    SEAT_RANGE = auto()
    EXPOSURE_RANGE = auto()
    EXCHANGE_FOR_JOKER = auto()
    KIND_RANGE = auto()  # number
    RACK_RANGE = auto()
    NO_ACTION = auto()
    UNREADABLE = auto()
    UNREADABLE_TILES = auto()  # said

    # Passes.
    NO_BLIND_PASS = auto()
    BLIND_TOO_EARLY = auto()
    BLIND_OTHER_ROUND = auto()  # number
    COURTESY_SETTLED = auto()  # number
    JOKER_PASSED = auto()
    TOO_FEW_HELD = auto()  # seat, kind
    PASS_NOW = auto()
    VOTE_NOW = auto()
    ASK_NOW = auto()
    GIVE_NOW = auto()

    # Whose turn it is, and what is due.
    ENDED = auto()
    ONLY_ONE_PLAYS = auto()  # seat
    SEAT_ACTS = auto()  # seat
    SEAT_DRAWS = auto()  # seat
    TURN_NOW = auto()
    CALL_NOW = auto()
    NEXT_TILE_IS = auto()  # kind

    # Calls.
    TOO_LATE = auto()
    LET_GO = auto()
    OWN_DISCARD = auto()
    CHOSEN_ALREADY = auto()  # seat
    JOKER_CALLED = auto()
    CALLS_CLOSED = auto()  # number
    DEAD_HAND = auto()  # seat
    PAIR_CALLED = auto()
    REST_NOT_HELD = auto()  # seat, number, kind

    # Tiles, exposures and hands.
    NOT_HELD = auto()  # seat, kind
    NO_SUCH_EXPOSURE = auto()  # seat, number
    OTHER_EXPOSURE = auto()  # kind
    NO_JOKER_THERE = auto()
    NOTHING_TO_GIVE = auto()  # seat, kind
    WRONG_EXPOSURE = auto()  # fault
    NO_MAHJONG = auto()  # fault
    TWIST = auto()  # twist

    # The two-hand game.
    PLACE_NOW = auto()
    TWO_RACKS_NOW = auto()
    CHANGED_ALREADY = auto()
    ONE_RACK_LEFT = auto()
    CHANGE_ALIKE = auto()
    NOT_ON_RACK = auto()  # number, kind
    NO_HAND_THERE = auto()  # number


@dataclass(frozen=True)
class Refusal:
    """Why an action may not be done. `Rule` says which of the fields belong to which rule."""

    rule: Rule
    seat: int | None = None
    """The seat that the rule is about."""
    kind: Kind | None = None
    number: int = 0
    fault: Found | None = None
    """What is wrong with the hand or the exposure."""
    twist: str = ""
    """The twist of the deal that forbids it."""
    said: str = ""
    """What the reader of tiles found wrong with a text."""
