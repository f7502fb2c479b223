"""What the tests of play share: a rack one tile short, refusals, a full table, and exposures laid."""

import pytest

from engine.rules.actions import (
    IllegalActionError,
)
from engine.rules.game import apply, legal_actions

NEARLY = "2x3d 3x8d 4x5d 3x6d 7d"
"""Landing without its last 7 dot."""


def refused(state, action):
    """The sentence with which an action is refused; it quotes the action and the phase."""
    assert action not in legal_actions(state)
    with pytest.raises(IllegalActionError) as caught:
        apply(state, action)
    assert str(caught.value).startswith(f"“{action}” is not allowed in {state.phase.value}: ")
    return str(caught.value).partition(": ")[2]


def full(kit, **racks):
    """A full table; East lets go a 5 dot first."""
    return kit.play(kit.table(table="full", **racks), "east discard 5d")


def laid(kit, **more):
    """West has laid a kong of 5 dot with two jokers; North draws a 5 dot."""
    draws = more.pop("draws", "5d")
    state = kit.table(table="full", east="5d 9b", west="5d 2xjk 2x3d", draws=draws, **more)
    return kit.let_go(kit.play(state, "east discard 5d\nwest call kong jokers 2\nwest discard 3d"))
