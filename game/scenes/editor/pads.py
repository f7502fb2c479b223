"""Keys to press in place of typing: groups, clauses, names and numbers, each pad for the field that is worked on."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Protocol

from engine.sheet.groups import SIZES, size_name
from engine.sheet.notation import SUIT_LETTERS
from engine.sheet.writing.suggest import NextWord
from engine.sheet.writing.tokens import SIGNS, HandLetters
from engine.tiles import DRAGON_NAMES, SUITS, WIND_NAMES
from game.draw.theme import BODY, BODY_BOLD, CARD, EDGE, LIT, OFF_GROUND, OFF_INK, ON_TEAL, TEAL, TEAL_LIT, TOUCH
from game.ui.buttons import Press
from game.ui.column import Column
from game.ui.layout import Rect
from game.ui.scene import Scene
from game.ui.targets import Do

NINE = 9 * TOUCH + 8 * 5
"""Units of width in which nine keys stand side by side."""
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass
class GroupKeys:
    """What is set for the next group: its size, its suit, and what its number counts from."""

    size: int = 3
    suit: str = "a"
    letter: str = ""
    """The letter that numbers count from; empty for plain numbers."""
    below: bool = False
    """Whether numbers count down from the letter."""

    def numbers(self) -> tuple[str, ...]:
        """What the nine number keys put behind the suit: `1` to `9`, or `n` to `n+8`, or `n` to `n-8`."""
        if not self.letter:
            return tuple(str(rank) for rank in range(1, 10))
        sign = "-" if self.below else "+"
        return (self.letter, *(f"{self.letter}{sign}{step}" for step in range(1, 9)))


class WordUser(Protocol):
    """What suggestions ask of the scene that they stand on."""

    def take(self, word: NextWord) -> Scene | None:
        """A suggestion is taken."""


class PadUser(WordUser, Protocol):
    """What the pads ask of the scene that they stand on."""

    keys_set: GroupKeys

    def put_tile(self, tile: str) -> Scene | None:
        """A group of the size that is set and this tile goes into the line of groups."""

    def put_text(self, text: str) -> Scene | None:
        """Letters go into the field that is worked on, at its caret."""

    def drop_letter(self) -> Scene | None:
        """The letter before the caret goes."""

    def put_sign(self, sign: str) -> Scene | None:
        """A word goes behind the clauses."""

    def drop_sign(self) -> Scene | None:
        """The last word of the clauses goes."""

    def set_keys(self, size: int = 0, suit: str = "", letter: str | None = None, below: bool = False) -> Scene | None:
        """Set something for the next group."""


def key(
    cell: Column, name: str, says: str, do: Do, *, chosen: bool = False, enabled: bool = True, keys: str = ""
) -> None:
    """One key: a button as wide as its cell. `says` stands on it, `name` says what it does."""
    ui = cell.ui

    def paint(rect: Rect) -> None:
        lit = ui.lit(name) and enabled
        fill = (TEAL_LIT if lit else TEAL) if chosen else (LIT if lit else CARD) if enabled else OFF_GROUND
        ui.panel(rect, fill, TEAL if enabled else EDGE, 8, 1.5)
        ui.target(name, rect, do, name, keys=keys, enabled=enabled, radius=8)
        ink = ON_TEAL if chosen else TEAL if enabled else OFF_INK
        with ui.within(rect):
            room = Rect(rect.left + ui.u(4), rect.top, rect.width - ui.u(8), rect.height)
            ui.fitted(says, room, BODY_BOLD if chosen else BODY, ink, "middle")

    cell.block(TOUCH, paint)


def key_rows(
    column: Column, title: str, least: float, made: Sequence[tuple[str, str, Do, bool]], most: int = 12
) -> None:
    """A title and keys in a grid: each with its name, what stands on it, what it does, and whether it is chosen."""
    column.caption(title)
    with column.grid(least, gap=5, most=most) as cell:
        for name, says, do, chosen in made:
            key(cell(), name, says, do, chosen=chosen)
    column.gap(9)


def group_pad(column: Column, user: PadUser, hand: HandLetters) -> None:
    """Size, suit and number, then all other tiles. Size and suit stay set until another is pressed."""
    now = user.keys_set
    sizes = [
        (f"size {name}", name, partial(user.set_keys, size=size), size == now.size)
        for size, name in enumerate(SIZES, 1)
    ]
    key_rows(column, "1. How many alike", 60, sizes, most=6)
    suits = [
        (f"suit {suit}", says, partial(user.set_keys, suit=suit), suit == now.suit)
        for suit, says in (*((letter, f"suit {letter}") for letter in SUIT_LETTERS), *zip(SUITS, SUITS, strict=True))
    ]
    key_rows(column, "2. Suit: a, b and c are any suits, each another", 60, suits, most=6)
    letters = [("count in plain numbers", "1 to 9", partial(user.set_keys, letter=""), not now.letter)]
    letters += [
        (f"count from {letter}", letter, partial(user.set_keys, letter=letter), letter == now.letter and not now.below)
        for letter in hand.for_numbers
    ]
    if now.letter:
        down = partial(user.set_keys, letter=now.letter, below=not now.below)
        letters.append(("count downwards", f"{now.letter}-", down, now.below))
    key_rows(column, "Plain numbers, or counted from a letter for any", 46, letters)
    numbers = [
        (f"tile {now.suit}.{one}", one, partial(user.put_tile, f"{now.suit}.{one}"), False) for one in now.numbers()
    ]
    across = 9 if column.has(NINE) else 5
    key_rows(column, f"3. Number: it adds a {size_name(now.size)}", 44, numbers, most=across)
    others = [(tile, tile) for tile in ("flower", "zero", *(f"wind {wind}" for wind in WIND_NAMES))]
    others += [(f"wind {letter}", f"any wind {letter}") for letter in (*hand.winds, *hand.free_wind)]
    others += [(f"dragon {dragon}", f"{dragon} dragon") for dragon in DRAGON_NAMES]
    others += [(f"dragon of {now.suit}", f"dragon of {now.suit}")]
    others += [(f"dragon {letter}", f"any dragon {letter}") for letter in (*hand.dragons, *hand.free_dragon)]
    others += [("each wind", "each wind"), ("each dragon", "each dragon"), (f"season {now.suit}", f"season {now.suit}")]
    made = [(f"put {tile}", says, partial(user.put_tile, tile), False) for tile, says in others]
    key_rows(column, "Or another tile, of the same size", 100, made, most=5)


def clause_pad(column: Column, user: PadUser, letters: Sequence[str]) -> None:
    """The letters of the hand, signs and figures."""
    column.text("Clauses narrow what the letters may stand for. They may stay empty.", BODY)
    column.gap(10)
    if letters:
        made = [(f"letter {letter}", letter, partial(user.put_sign, letter), False) for letter in letters]
        key_rows(column, "Letters of this hand", 46, made)
    else:
        column.text("The groups hold no letter, so there is nothing to narrow.", BODY)
        column.gap(10)
    says = {"in": "is one of", "..": "to", ";": "and also", "!=": "is not", "<": "is under"}
    signs = [(f"sign {sign}", says.get(sign, sign), partial(user.put_sign, sign), False) for sign in SIGNS]
    key_rows(column, "Words and signs", 100, signs, most=5)
    digits = [(f"figure {digit}", str(digit), partial(user.put_sign, str(digit)), False) for digit in range(10)]
    key_rows(column, "Figures", 44, digits, most=5)
    column.buttons([Press("Take the last word back", user.drop_sign)])


def number_pad(column: Column, user: PadUser) -> None:
    """Figures for points or a season."""
    made = [(f"figure {digit}", str(digit), partial(user.put_text, str(digit)), False) for digit in (*range(1, 10), 0)]
    key_rows(column, "Figures", 60, made, most=5)
    column.buttons([Press("Back one figure", user.drop_letter)])


def letter_pad(column: Column, user: PadUser, capital: bool, name: Callable[[], Scene | None] | None) -> None:
    """Letters for a name; the first of it is a capital. `name` finds one, where that is wanted."""
    shown = LETTERS if capital else LETTERS.lower()
    made = [(f"letter {one}", one, partial(user.put_text, one), False) for one in shown]
    key_rows(column, "Letters", 44, made, most=9)
    presses = [Press("Space", partial(user.put_text, " ")), Press("Back one letter", user.drop_letter)]
    if name is not None:
        presses.insert(0, Press("Name it for me", name))
    column.buttons(presses)


def suggestion_keys(column: Column, user: WordUser, words: Sequence[NextWord]) -> None:
    """What may come next, each with the key that takes it."""
    column.caption("What may come next (Ctrl and 1 to 9)")
    longest = max((column.ui.width(word.says, BODY) for word in words), default=0) / column.ui.unit
    with column.grid(max(longest + 16, 56), gap=5, most=9) as cell:
        for number, word in enumerate(words, 1):
            key(cell(), f"next: {word.says}", word.says, partial(user.take, word), keys=f"ctrl+{number}")
        if not words:
            cell().block(TOUCH, lambda _: None)
