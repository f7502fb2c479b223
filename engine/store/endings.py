"""How a game ended, as data: what is stored of it, and how it is found by replaying a record.

What a player reads of it is worded where it is shown.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from functools import cache
from typing import Any

from engine.rules.house import SEATS
from engine.rules.record import Record, RecordError, play_back
from engine.rules.state import Outcome, State
from engine.sheet.model import Sheet

KINDS = ("mahjong", "wall", "picks", "dead")
"""The kinds of end that the rules know. Practice may add its own, such as `time`."""

LONGEST_NAME = 200
"""Characters of a name that are stored."""

LONGEST_SAID = 400
"""Characters that are stored of an older version's sentence."""


@dataclass(frozen=True)
class GameEnd:
    """How a game ended."""

    kind: str
    """`mahjong`, `wall` (used up), `picks` (all used), `dead` (no live hand is left), or a name that practice gives,
    such as `time`. Empty where only `said` is known."""
    picks: int = 0
    """Tiles that the player's seat had drawn."""
    winner: int | None = None
    """The winner's seat."""
    hand: str = ""
    """Name of the hand that was made."""
    section: str = ""
    worth: int = 0
    """Points that the sheet gives the hand."""
    points: int = 0
    """Points that the winner collects, or would collect at the quiet table."""
    payments: tuple[int, int, int, int] = (0, 0, 0, 0)
    """Points won or lost by each seat."""
    discarder: int | None = None
    """The seat whose discard was called for mahjong. None where the winner drew the last tile."""
    jokerless: bool = False
    said: str = ""
    """The sentence that an older version of the game stored, where the game can't be replayed."""
    bonus: int = 0
    """Points that the house added for a hand with nothing exposed; doubled like the others."""

    @property
    def self_drawn(self) -> bool:
        """Whether the winner drew the last tile."""
        return self.winner is not None and self.discarder is None

    @classmethod
    def of(cls, state: State) -> GameEnd:
        """The end of the game at its last state. Raises ValueError for a game that is not over."""
        outcome = state.outcome
        if outcome is None:
            raise ValueError("this game is not over; only a finished game has an end")
        if state.two is not None:
            return cls._of_two(state, outcome)
        hand = outcome.hand
        return cls(
            kind=outcome.kind,
            picks=state.picks,
            winner=outcome.winner,
            hand="" if hand is None else hand.name,
            section="" if hand is None else hand.section,
            worth=0 if hand is None else hand.points,
            points=outcome.points,
            payments=outcome.payments,
            discarder=outcome.discarder,
            jokerless=outcome.jokerless,
            bonus=0 if outcome.winner is None or state.exposures[outcome.winner] else state.house.concealed_bonus,
        )

    @classmethod
    def _of_two(cls, state: State, outcome: Outcome) -> GameEnd:
        """Of the two-hand game: the hands that were shown, named together, and their points."""
        shown = [one for one in (() if state.two is None else state.two.shown) if one is not None]
        return cls(
            kind=outcome.kind,
            picks=state.picks,
            winner=outcome.winner,
            hand=" and ".join(one.hand.name for one in shown),
            section=" and ".join(dict.fromkeys(one.hand.section for one in shown)),
            worth=sum(one.hand.points for one in shown),
            points=outcome.points,
            jokerless=outcome.jokerless,
        )


@cache
def _usual() -> Mapping[str, Any]:
    """The fields of an end that says nothing."""
    return asdict(GameEnd(""))


def end_text(end: GameEnd) -> str:
    """The end as a JSON object. What has its usual value is left out."""
    usual = _usual()
    return json.dumps({name: value for name, value in asdict(end).items() if name == "kind" or value != usual[name]})


def end_of(text: str) -> GameEnd:
    """The end that `end_text` wrote. Raises ValueError for anything else."""
    try:
        data = json.loads(text)
    except RecursionError as error:
        raise ValueError("this is no end of a game") from error
    usual = _usual()
    if not isinstance(data, Mapping) or not set(data) <= set(usual) or type(data.get("kind")) is not str:
        raise ValueError("this is no end of a game")
    values = {**usual, **data}
    for name in ("kind", "hand", "section", "said"):
        if type(values[name]) is not str:
            raise ValueError(f"{name} is no text")
    for name in ("picks", "worth", "points", "bonus"):
        if type(values[name]) is not int:
            raise ValueError(f"{name} is no whole number")
    for name in ("winner", "discarder"):
        if values[name] is not None and (type(values[name]) is not int or not 0 <= values[name] < len(SEATS)):
            raise ValueError(f"{name} is no seat")
    payments = values["payments"]
    if (
        not isinstance(payments, list | tuple)
        or len(payments) != len(SEATS)
        or any(type(n) is not int for n in payments)
    ):
        raise ValueError("payments are four whole numbers")
    if type(values["jokerless"]) is not bool:
        raise ValueError("jokerless is true or false")
    return GameEnd(**{**values, "payments": tuple(payments)})


def end_by_replay(record: Record, sheet: Sheet) -> GameEnd | None:
    """How a recorded game ended by the rules. None for one that is unfinished or can't be replayed to its end."""
    try:
        played = play_back(record, sheet)
    except RecordError:
        return None
    last = played.states[-1]
    return None if played.error or last.outcome is None else GameEnd.of(last)


def end_from_sentence(sentence: str, figures: Mapping[str, object]) -> GameEnd:
    """What an older version stored of an end that can't be found by replay: a sentence, and figures beside it."""
    kind, picks = figures.get("kind"), figures.get("picks")
    if kind in KINDS and kind != "mahjong" and type(picks) is int:
        return GameEnd(str(kind), picks)
    return GameEnd("", said=sentence[:LONGEST_SAID])
