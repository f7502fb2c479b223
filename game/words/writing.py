"""What is said of a sheet being written: how far it is, what a hand comes to, what is wrong and what to do."""

from __future__ import annotations

from engine.sheet.groups import HAND_TILES
from engine.sheet.model import Hand
from engine.sheet.writing.hand_text import GROUPS, NAME, POINTS, HandText
from engine.sheet.writing.look import FormFault
from engine.words import counted, quoted, sentence, when
from game.play.writing.drafts import DraftNote
from game.play.writing.states import HandState

NO_NAME = "No name yet"
EMPTY_FIELDS = {
    NAME: "Give the hand a name.",
    GROUPS: "Build its groups: press a size and a tile, or type them.",
    POINTS: "Say how many points it counts, 1 to 1,000.",
}
"""What to do where a field is still empty."""
STATES = {
    HandState.EMPTY: "not begun",
    HandState.UNREAD: "being read",
    HandState.FAULTY: "not whole yet",
    HandState.WHOLE: "whole",
}


def fault_words(fault: FormFault, form: HandText | None) -> str:
    """What is wrong, or what is still to be done, in a sentence."""
    if form is not None and fault.field in EMPTY_FIELDS and not _value(fault, form).strip():
        return EMPTY_FIELDS[fault.field]
    return f"{sentence(fault.message).rstrip('.')}."


def _value(fault: FormFault, form: HandText) -> str:
    if fault.field == GROUPS:
        return form.lines[fault.line] if fault.line < len(form.lines) else ""
    return form.name if fault.field == NAME else form.points


def named_fault(name: str, said: str) -> str:
    """A fault with the name of its hand before it."""
    return f"{quoted(name)}: {said}" if name else said


def whole_words(hand: Hand) -> str:
    """In how many ways a hand can be made, and what varies, as the sheet will say it."""
    ways = len(hand.variants)
    return f"Whole: {counted(ways, 'way')} to make it. {sentence(hand.wording)}."


def tiles_words(tiles: int) -> str:
    """How many tiles the groups come to so far."""
    return f"{tiles} of {HAND_TILES} tiles"


def counts_words(whole: int, hands: int) -> str:
    """How many hands are whole; how many there are, where that is not known (`whole` below 0)."""
    if not hands:
        return "no hand yet"
    if whole < 0:
        return counted(hands, "hand")
    if whole == hands:
        return "its one hand is whole" if hands == 1 else f"all {hands} hands are whole"
    return f"{whole} of {counted(hands, 'hand')} whole"


def draft_title(note: DraftNote) -> str:
    """A sheet being written, by its name and season."""
    name = note.about.name or "A sheet without a name"
    return f"{name} {note.about.season}".strip()


def draft_words(note: DraftNote) -> str:
    """How far a sheet being written is, and when it was last worked on."""
    parts = [counts_words(note.about.whole, note.about.hands)]
    parts += ["done"] if note.about.done else []
    return f"{sentence(', '.join(parts))}. Last worked on {when(note.touched)}."
