"""What a twist forbids of calls and exchanges; the one place that the rules of play ask."""

from __future__ import annotations

from engine.rules.actions import Call
from engine.rules.refusals import Refusal, Rule
from engine.rules.state import State
from engine.rules.twists.known import twist_of


def call_barred(state: State, seat: int, call: Call) -> Refusal | None:
    """Why the twist does not let a seat call the last discard for this exposure; None when it lets it."""
    twist = twist_of(state.house)
    if (
        call.size < twist.least_called
        or len(state.discards) < twist.first_called
        or (twist.from_left and (state.discards[-1].seat + 1) % 4 != seat)
        or (call.jokers and call.size < twist.jokers_from)
    ):
        return Refusal(Rule.TWIST, twist=twist.name)
    return None


def exchange_barred(state: State) -> Refusal | None:
    """Why the twist lets nobody exchange a joker; None when it does."""
    twist = twist_of(state.house)
    return None if twist.exchanges else Refusal(Rule.TWIST, twist=twist.name)
