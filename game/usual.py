"""What is dealt where nobody has chosen otherwise."""

from __future__ import annotations

from engine.rules.house import FULL, House

FIRST_SHEET = "lantern-street"
"""The shipped sheet of a first game, by its file's stem."""

USUAL_GAME = House(picks=40, passes=6, courtesy=True)
"""House rules of a first game: about as many picks as a full table gives a player in draws and calls together."""

FOUR_PLAY = House(table=FULL, passes=6, courtesy=True)
"""House rules of a whole game: both rounds of passes, the courtesy pass, then four play."""


def house_for(table: str | None) -> House:
    """House rules of a new deal at the table asked for."""
    return FOUR_PLAY if table == FULL else USUAL_GAME
