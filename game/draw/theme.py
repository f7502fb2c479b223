"""The colours and type sizes of the window: warm paper, ink, wood, teal, and the Okabe-Ito state colours.

State colours come in two forms: the exact Okabe-Ito colour for marks and bars (3:1 or more where it must be told
from its ground, else always with a border or a word), and a darker form of the same hue for text (4.5:1 on every
ground listed in `GROUNDS`). `contrast` is the formula of WCAG 2.2.
"""

from __future__ import annotations

from dataclasses import dataclass

Colour = tuple[int, int, int]


def _rgb(text: str) -> Colour:
    return int(text[1:3], 16), int(text[3:5], 16), int(text[5:7], 16)


# Grounds that text may stand on.
PAPER = _rgb("#F3EFE4")
CARD = _rgb("#FFFCF4")
CLOTH = _rgb("#EAE2D2")
"""The strip of table under the rack."""
LIT = _rgb("#E3EFF8")
"""A row or panel that is pointed at or selected."""
SKY_LIT = _rgb("#C9E6F8")
"""Behind a text that is marked."""
WARM = _rgb("#FBF0DC")
"""A panel that says something worth noticing."""
IVORY = _rgb("#FFFDF6")
"""The face of a tile, and of a key cap."""
GROUNDS: dict[str, Colour] = {
    "paper": PAPER,
    "card": CARD,
    "cloth": CLOTH,
    "lit": LIT,
    "marked": SKY_LIT,
    "warm": WARM,
    "ivory": IVORY,
}

# Text.
INK = _rgb("#17212E")
SOFT = _rgb("#4D5561")
TEAL = _rgb("#00555B")
TEAL_LIT = _rgb("#00666D")
TEAL_DEEP = _rgb("#004348")
ON_TEAL = _rgb("#FFFFFF")
OFF_INK = _rgb("#66655F")
"""The label of a control that can't be used now; still 4.5:1."""
OFF_GROUND = _rgb("#EBE6DA")

# Lines and wood.
RULE = _rgb("#D8CFBD")
"""A quiet dividing line, never the only sign of anything."""
EDGE = _rgb("#857A66")
"""The border of a control, 3:1 on every ground."""
WOOD = _rgb("#B08A5E")
WOOD_LIT = _rgb("#C8A577")
WOOD_DEEP = _rgb("#8F6C45")

# Okabe-Ito.
BLUE = _rgb("#0072B2")
VERMILION = _rgb("#D55E00")
GREEN = _rgb("#009E73")
ORANGE = _rgb("#E69F00")
SKY = _rgb("#56B4E9")

# The same hues dark enough for text on every ground.
BLUE_TEXT = _rgb("#00629B")
VERMILION_TEXT = _rgb("#A84300")
GREEN_TEXT = _rgb("#00694D")
PURPLE_TEXT = _rgb("#8A3B6C")
TEXTS: dict[str, Colour] = {
    "ink": INK,
    "soft": SOFT,
    "teal": TEAL,
    "blue": BLUE_TEXT,
    "vermilion": VERMILION_TEXT,
    "green": GREEN_TEXT,
    "purple": PURPLE_TEXT,
}

# The suits on the tiles' faces.
BAM = _rgb("#0A6536")
CRAK = _rgb("#A61E1E")
DOT = _rgb("#1C4A9E")


@dataclass(frozen=True)
class Style:
    """How a text looks: size in units (pixels at scale 1), weight."""

    size: float
    bold: bool = False


SMALL = Style(15)
SMALL_BOLD = Style(15, bold=True)
BODY = Style(17)
BODY_BOLD = Style(17, bold=True)
HEADING = Style(20, bold=True)
TITLE = Style(25, bold=True)
GREAT = Style(36, bold=True)
STYLES = (SMALL, SMALL_BOLD, BODY, BODY_BOLD, HEADING, TITLE, GREAT)

LEAST_TEXT = 13.0
"""Units under which text that has to be read is not shrunk."""
TOUCH = 44
"""Units: the least height and width of anything to press."""


def luminance(colour: Colour) -> float:
    """Relative luminance, 0 to 1 (WCAG 2.2)."""
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in (c / 255 for c in colour)
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: Colour, other: Colour) -> float:
    """Contrast ratio, 1 to 21 (WCAG 2.2)."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def mix(one: Colour, other: Colour, share: float) -> Colour:
    """`one` with `share` (0 to 1) of `other` stirred in."""
    red, green, blue = (round(a + (b - a) * share) for a, b in zip(one, other, strict=True))
    return red, green, blue
