"""The one sentence that says why an action is refused: it quotes the action, the phase and the rule."""

from __future__ import annotations

from engine.rules.actions import IllegalActionError
from engine.rules.table import State


def refuse(state: State, action: object, rule: str) -> IllegalActionError:
    """The error to raise for an action that breaks `rule`, a clause that could follow a colon."""
    return IllegalActionError(f"“{action}” is not allowed in {state.phase.value}: {rule}.")
