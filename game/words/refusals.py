"""What a player hears when something they tried is refused: one sentence, which calls them “you”."""

from __future__ import annotations

from engine import words
from engine.rules.actions import IllegalActionError, MalformedActionError
from engine.rules.sentences import sentence


def say_refused(error: ValueError | OSError, player: int) -> str:
    """The sentence for an action that was refused, or for any other error that may stand in its place."""
    if isinstance(error, IllegalActionError | MalformedActionError):
        return sentence(error.refusal, player)
    return f"{words.sentence(str(error).rstrip('.'))}."
