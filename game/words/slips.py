"""Slips at the full table: why a call or a mahjong would be wrong, and which ones happened.

Each is one sentence, with the line of the sheet that it breaks where there is one.
"""

from __future__ import annotations

from dataclasses import dataclass

from engine.advice.advise.calls import CallAdvice
from engine.rules.actions import Call
from engine.rules.faults import faults_to_show
from engine.rules.game import why_not
from engine.rules.refusals import Refusal, Rule
from engine.rules.sentences import clause, fault_sentence, sentence
from engine.rules.state import State
from engine.sheet.groups import size_name
from engine.sheet.model import Hand, Sheet
from engine.tiles import JOKER, name
from game.play.sitting import Sitting
from game.words.actions import say_seat


@dataclass(frozen=True)
class Slip:
    """Something the player did, or tried, that the rules or the sheet do not allow."""

    sentence: str
    hand: Hand | None = None
    """The line of the sheet that it breaks."""
    index: int | None = None
    """The state at which it happened."""


def what_call(sitting: Sitting) -> Call | None:
    """The call for an exposure that a player most likely means: the largest group that the rack fills with least
    jokers."""
    state = sitting.state
    if not state.discards:
        return None
    rack, kind = state.racks[sitting.player], state.discards[-1].kind
    like = rack.count(kind)
    size = max(3, min(like + 1, 6))
    return Call(size, min(max(0, size - 1 - like), size - 1))


def why_no_call(sitting: Sitting) -> Slip:
    """Why the last discard can't be called for an exposure."""
    state, player = sitting.state, sitting.player
    call = what_call(sitting)
    if call is None:
        return Slip("Nothing has been let go yet, so there is nothing to call.")
    last = state.discards[-1]
    if last.called:
        who = "You have" if state.turn == player else f"{say_seat(state.turn)} has"
        return Slip(f"{who} called the {name(last.kind)} already.")
    if last.seat == player:
        return Slip("Nobody calls a discard of their own.")
    then = _when_let_go(sitting)
    refusal = why_not(then, player, call)
    if last.kind == JOKER:
        return Slip(sentence(Refusal(Rule.JOKER_CALLED)))
    if refusal is None:
        late = why_not(state, player, call) or Refusal(Rule.TOO_LATE)
        return Slip(f"The {name(last.kind)} can’t be called any more. {sentence(late, player)}")
    hand = refusal.fault.hand if refusal.fault is not None else None
    return Slip(f"The {name(last.kind)} can’t be called: {clause(refusal, player)}.", hand)


def _when_let_go(sitting: Sitting) -> State:
    """The state right after the last discard before the cursor."""
    number = len(sitting.state.discards)
    index = sitting.cursor
    while index and len(sitting.states[index - 1].discards) == number:
        index -= 1
    return sitting.states[index]


def why_no_mahjong(sitting: Sitting, others: tuple[Sheet, ...] = ()) -> list[Slip]:
    """Why the rack is no mahjong, with the discard where one may be called: every fault at once."""
    faults = faults_to_show(sitting.state, sitting.player, others)
    return [Slip(fault_sentence(one), one.hand) for one in faults]


def concealed_warning(advice: CallAdvice, call: Call) -> Slip | None:
    """When the nearest hand is concealed and the call would rule it out: what would be lost."""
    choice = advice.of(call)
    if choice is None or not advice.hands or not choice.rules_out:
        return None
    nearest = advice.hands[0].hand
    lost = next((one for one in choice.rules_out if one.hand.name == nearest.name and one.hand.concealed), None)
    return Slip(lost.because, lost.hand) if lost is not None else None


def slips_of(sitting: Sitting) -> list[Slip]:
    """Where the player's hand died, explained, with the line of the sheet it broke."""
    player = sitting.player
    for index, after in enumerate(sitting.states[1:]):
        died = after.died[player]
        if died is None:
            continue
        did = "You showed mahjong by mistake"
        if died.exposure is not None:
            did = f"You exposed a {size_name(died.exposure.size)} of {name(died.exposure.kind)}"
        said = f"{did}, and your hand was dead. {fault_sentence(died.fault)}"
        return [Slip(said, died.fault.hand, index)]
    return []
