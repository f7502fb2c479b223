"""Atkinson Hyperlegible in a PDF: measured, wrapped, and rid of characters that it lacks."""

from __future__ import annotations

import unicodedata
from functools import lru_cache
from typing import TYPE_CHECKING

from fontpkg_atkinson_hyperlegible import ROOT

if TYPE_CHECKING:
    from reportlab.pdfbase.ttfonts import TTFont

REGULAR, BOLD = "Hyperlegible", "Hyperlegible-Bold"
FILES = {REGULAR: "AtkinsonHyperlegible-Regular.ttf", BOLD: "AtkinsonHyperlegible-Bold.ttf"}
STAND_IN = "?"


@lru_cache(maxsize=2)
def font(name: str) -> TTFont:
    """A weight, made known to reportlab."""
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFont

    found = TTFont(name, str(ROOT / "files" / FILES[name]))
    registerFont(found)
    return found


def clean(text: str) -> str:
    """The text with characters that the font lacks as question marks, and control characters as spaces."""
    known = font(REGULAR).face.charToGlyph
    composed = unicodedata.normalize("NFC", text)
    return "".join(
        " " if not one.isprintable() else one if one == " " or ord(one) in known else STAND_IN for one in composed
    )


def width(text: str, name: str, size: float) -> float:
    """Points from the first letter to the last."""
    return float(font(name).stringWidth(text, size))


def wrap(text: str, name: str, size: float, wide: float) -> list[str]:
    """Lines at most so many points wide; a word that is too long for a line is broken."""
    lines: list[str] = []
    line = ""
    for word in clean(text).split(" "):
        trial = f"{line} {word}" if line else word
        if width(trial, name, size) <= wide:
            line = trial
            continue
        if line:
            lines.append(line)
        while len(word) > 1 and width(word, name, size) > wide:
            cut = next(end for end in range(len(word) - 1, 0, -1) if end == 1 or width(word[:end], name, size) <= wide)
            lines.append(word[:cut])
            word = word[cut:]
        line = word
    return [*lines, line]
