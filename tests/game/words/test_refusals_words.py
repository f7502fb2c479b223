"""What a player hears when something is refused."""

from engine.rules.actions import IllegalActionError, MalformedActionError
from engine.rules.refusals import Refusal, Rule
from game.words.refusals import say_refused


def test_a_refusal_speaks_to_the_player():
    """The seat that it is about is “you”, and the action is not quoted back."""
    error = IllegalActionError(Refusal(Rule.NOT_HELD, seat=1, kind=34), "discard fl", "a turn")
    assert say_refused(error, 1) == "You hold no flower."
    assert say_refused(error, 0) == "South holds no flower."
    malformed = MalformedActionError(Refusal(Rule.COURTESY_COUNT, number=3), "ask 4")
    assert say_refused(malformed, 0) == "A courtesy pass is 0 to 3 tiles."


def test_other_errors_become_one_sentence():
    """With a capital and one full stop."""
    assert say_refused(ValueError("the disk is full"), 0) == "The disk is full."
    assert say_refused(OSError("the disk is full."), 0) == "The disk is full."
