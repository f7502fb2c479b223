"""Slips in words: one sentence each, with the line of the sheet that it breaks where there is one."""

from __future__ import annotations

from dataclasses import dataclass

from engine.advice.advise.calls import CallAdvice
from engine.rules.actions import Call
from engine.rules.sentences import clause, fault_sentence, sentence
from engine.rules.slips import Slip, Slipped, slips_of, why_no_call, why_no_mahjong
from engine.sheet.groups import size_name
from engine.sheet.model import Hand, Sheet
from engine.tiles import name
from game.play.sitting import Sitting
from game.words.actions import say_seat


@dataclass(frozen=True)
class Explained:
    """What is wrong, in one sentence."""

    sentence: str
    hand: Hand | None = None
    """The line of the sheet that goes with it."""
    index: int | None = None
    """The state at which it happened."""


def say_slip(slip: Slip, player: int) -> str:
    """The sentence for a slip. `player` is the seat that is called “you”."""
    tile = "" if slip.kind is None else name(slip.kind)
    match slip:
        case Slip(Slipped.CALLED_ALREADY, seat=int(seat)):
            who = "You have" if seat == player else f"{say_seat(seat)} has"
            return f"{who} called the {tile} already."
        case Slip(Slipped.REFUSED, refusal=refusal) if refusal is not None:
            return sentence(refusal, player)
        case Slip(Slipped.CANNOT_CALL, refusal=refusal) if refusal is not None:
            return f"The {tile} can’t be called: {clause(refusal, player)}."
        case Slip(Slipped.TOO_LATE, refusal=refusal) if refusal is not None:
            return f"The {tile} can’t be called any more. {sentence(refusal, player)}"
        case Slip(Slipped.NO_HAND, fault=fault) if fault is not None:
            return fault_sentence(fault)
        case Slip(Slipped.DIED, fault=fault, exposure=exposure) if fault is not None:
            did = "You showed mahjong by mistake"
            if exposure is not None:
                did = f"You exposed a {size_name(exposure.size)} of {name(exposure.kind)}"
            return f"{did}, and your hand was dead. {fault_sentence(fault)}"
    return "Nothing has been let go yet, so there is nothing to call."


def _explained(slip: Slip, player: int) -> Explained:
    return Explained(say_slip(slip, player), slip.hand, slip.index)


def explain_no_call(sitting: Sitting) -> Explained:
    """Why the last discard can't be called for an exposure."""
    return _explained(why_no_call(sitting.states[: sitting.cursor + 1], sitting.player), sitting.player)


def explain_no_mahjong(sitting: Sitting, others: tuple[Sheet, ...] = ()) -> list[Explained]:
    """Why the rack is no mahjong, with the discard where one may be called: every fault at once."""
    return [_explained(slip, sitting.player) for slip in why_no_mahjong(sitting.state, sitting.player, others)]


def explain_slips(sitting: Sitting) -> list[Explained]:
    """How the player's hand died, with the line of the sheet that was broken."""
    return [_explained(slip, sitting.player) for slip in slips_of(sitting.states, sitting.player)]


def concealed_warning(advice: CallAdvice, call: Call) -> Explained | None:
    """When the nearest hand is concealed and the call would rule it out: what would be lost."""
    choice = advice.of(call)
    if choice is None or not advice.hands or not choice.rules_out:
        return None
    nearest = advice.hands[0].hand
    lost = next((one for one in choice.rules_out if one.hand.name == nearest.name and one.hand.concealed), None)
    return Explained(lost.because, lost.hand) if lost is not None else None
