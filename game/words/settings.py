"""The settings in words: what each key does, why a key can't be had, and what was lost of broken settings."""

from __future__ import annotations

from game.play.settings import EVERYTHING, KEYS, KeyRefusal, KeyTakenError

KEY_SAYS = {
    "why": "say why",
    "advice": "show or hide the advice",
    "back": "step back",
    "forward": "step forward",
    "mahjong": "mahjong",
    "call": "call the discard",
    "exchange": "exchange a joker",
    "order": "change the order of the rack",
    "tile left": "move the tile to the left",
    "tile right": "move the tile to the right",
    "blind": "pass one blind",
    "stop": "stop the passes",
    "sheet": "read the sheet",
    "note": "write a note",
}
"""What the key of each use is there to do."""

_NAMES = {
    "scale": "size",
    "advice": "advice",
    "rack_order": "order of the rack",
    "sound": "sound",
    "motion": "motion",
    "call_seconds": "time to call",
    "others": "other players",
}


def key_refused(error: KeyTakenError) -> str:
    """Why a key can't be given to a use, and what to do."""
    match error.refusal:
        case KeyRefusal.FIXED:
            return "That key always means the same; press a letter, a digit or a sign."
        case KeyRefusal.NO_SIGN:
            return "That key can’t be used here; press a letter, a digit or a sign."
    return f"That key is there to {KEY_SAYS[error.use]}; give that another key first."


def lost_setting(lost: str) -> str:
    """What could not be read of the settings, as `Settings.from_json` names it."""
    if lost == EVERYTHING:
        return "The settings could not be read; everything is as at the first start."
    if lost == KEYS:
        return "The keys could not be read; they are as at the first start."
    if lost in _NAMES:
        return f"The setting “{_NAMES[lost]}” could not be read; it is as at the first start."
    use = lost.removeprefix(f"{KEYS}: ")
    return f"The key to {KEY_SAYS[use]} could not be used; it is as at the first start."
