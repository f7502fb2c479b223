"""What the tests of the sentences share: a rack one tile short of a hand, refusals, and going on to some moment."""

import pytest

from engine.rules.actions import IllegalActionError
from engine.rules.game import apply, legal_actions
from engine.tiles import kind_of

NEARLY = "2x3d 3x8d 4x5d 3x6d 7d"

FIVE = kind_of("5d")


def refused(state, action):
    """The rule with which an action is refused."""
    assert action not in legal_actions(state)
    with pytest.raises(IllegalActionError) as caught:
        apply(state, action)
    return str(caught.value).partition(": ")[2]


def first_legal(state, until):
    """Take the first legal action until something holds."""
    while not until(state):
        state = apply(state, legal_actions(state)[0])
    return state
