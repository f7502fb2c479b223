"""How far a hand is that is being written, and a fault with the hand in which it is."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from engine.sheet.writing.document import Place
from engine.sheet.writing.look import FormFault


class HandState(Enum):
    """How far a hand is."""

    EMPTY = "empty"
    """It has no groups yet."""
    UNREAD = "unread"
    """It was changed, and is not looked at yet."""
    FAULTY = "faulty"
    WHOLE = "whole"


@dataclass(frozen=True)
class PlacedFault:
    """A fault with the hand in which it is."""

    place: Place
    name: str
    fault: FormFault
