"""What can be typed at the text table, in sentences."""

from __future__ import annotations

_TURN = "Type a tile, such as 5d or 5 dot, to let it go in your turn."
_MAHJONG = "Type “mahjong” to show a finished hand, or to hear why it is none yet."
_MAHJONG_STANDS = "Type “mahjong” to show a finished hand; shown by mistake, it makes your hand dead."
_CALLS = (
    "When a discard may be called, type “call”, “no” to let it go, or “mahjong” to win with it.",
    "Type “all” to let every discard go until your own turn.",
    "Type “exchange” to hear which jokers can be had, “exchange 1” to take the first of them.",
    "Type “table” to hear what each seat shows, “seat south” for what that can become, “happened” for what was done.",
)
_ALWAYS = (
    "Type “advice” for what to do, “why” and a tile for who needs it and what letting it go costs.",
    "Type “why” and a hand of the sheet to hear how near it is and what it lacks.",
    "Type “odds” for how likely a hand is and which choices are as good, tried out in about a second.",
    "In the passes type “pass” and three tiles, “agree” or “stop”, “ask” and a number, “give” and the tiles.",
    "Type “hands” for the nearest hands, “sheet” for every hand of the sheet.",
    "Type “rack” to hear your tiles, “discards” for what has gone.",
    "Type “back” or “forward” to step through your choices; choosing otherwise starts a fork of the deal.",
    "Type “note” and some words to keep a note here.",
    "Type “costs” after the game for your costliest choices, for what luck did, and for how you have played so far.",
    "Type “quit” to stop; the game is kept and goes on from here next time.",
)


def help_sentences(four: bool, slips: bool) -> tuple[str, ...]:
    """All that can be typed. `four`: where four play; `slips`: where a mistake stands and is not refused."""
    return (_TURN, _MAHJONG_STANDS if slips else _MAHJONG, *(_CALLS if four else ()), *_ALWAYS)
