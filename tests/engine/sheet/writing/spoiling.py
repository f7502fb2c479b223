"""Spoils the text of a sheet by chance, and judges what the reader and the editor's document make of it."""

from engine.sheet.reader import read
from engine.sheet.writing.cutting import cut
from engine.sheet.writing.hand_text import HandText
from engine.sheet.writing.look import laid, look_at
from engine.sheet.writing.suggest import suggest_groups, suggest_where
from engine.sheet.writing.whole import Looks

ODD = "\t\n\r:#-'\"[]{},&*!%@`|>?ab 9\u00e9\x00\ufeff\u2028;.<=+"
"""Characters that YAML or the notation makes much of."""


class LostError(Exception):
    """Text was lost or changed that nobody touched."""


def spoilt(text, chance):
    """A text with a few characters or lines changed, doubled, moved or lost."""
    for _ in range(chance.randrange(1, 5)):
        at = chance.randrange(len(text) + 1)
        kind = chance.randrange(7)
        if kind == 0:
            text = text[:at] + chance.choice(ODD) + text[at:]
        elif kind == 1:
            text = text[:at] + text[at + chance.randrange(1, 9) :]
        elif kind == 2:
            lines = text.splitlines(keepends=True) or [""]
            line = lines.pop(chance.randrange(len(lines)))
            lines.insert(chance.randrange(len(lines) + 1), line if chance.random() < 0.7 else line * 2)
            text = "".join(lines)
        elif kind == 3:
            text = text[:at] + text[at : at + 60] * 2 + text[at + 60 :]
        elif kind == 4:
            text = text[: max(at, len(text) // 3)]
        elif kind == 5:
            text = text[:at] + text[at:].replace("  ", " ", 1)
        else:
            word = chance.choice(("a.n", "pair", "pung", "groups", "points", "either", "hand:", "- "))
            text = text[:at] + text[at:].replace(word, chance.choice(("x", "n odd", "kong a.x", "[]", "{a: 1}", "")), 1)
    return text


def judge(text, chance):
    """Read the text as a file and cut it for the editor; change one hand's name in it. True if the file has no fault.

    Raises LostError where a character outside of what was changed is not there any more.
    """
    whole = read(text).sheet is not None
    found = cut(text)
    document = found.document
    if not found.rewritten and document.text.removesuffix("\n") != text.removeprefix("\ufeff").removesuffix("\n"):
        raise LostError("the pieces are not the text")
    hands = list(document.hands())
    if not hands:
        return whole
    place, piece = chance.choice(hands)
    look_at(piece, Looks().season(document))
    form = HandText.of(piece)
    if form is None:
        return whole
    for line in form.lines:
        at = chance.randrange(len(line) + 1)
        laid(line, form.where, "2026")
        suggest_groups(line, at, "2026")
        suggest_where(form.where, min(at, len(form.where)), form.lines)
    changed = document.put(place, form.put("hand", "Another name"))
    others = [one for other, one in changed.pieces() if other != place]
    if others != [one for other, one in document.pieces() if other != place]:
        raise LostError("another piece was changed")
    again = HandText.of(changed.piece(place))
    if again is None or again.name != "Another name" or (again.lines, again.where) != (form.lines, form.where):
        raise LostError(f"the hand reads otherwise: {changed.piece(place)!r}")
    return whole
