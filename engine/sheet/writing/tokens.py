"""Clauses put together by presses: which words there are, and how one more is joined to what stands."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from engine.sheet.notation import DRAGON, RANK, SUIT_LETTERS, WIND
from engine.sheet.writing.suggest import letters_in

SIGNS = ("odd", "even", "in", "..", "<", "!=", "+", "*", "=", ";")
NUMBER_LETTERS = ("n", "x", "y", "z", "v", "w")
_WIND_LETTERS = ("u", "t", "s", "r")
_DRAGON_LETTERS = ("v", "w", "u", "d", "g")
_TOKEN = re.compile(r"[a-z]+|[0-9]+|\.\.|!=|[^\sa-z0-9]")


def put_token(text: str, token: str) -> str:
    """The clauses with one more word behind them. Two figures make one number, but not in a list after `in`."""
    clause = text.rpartition(";")[2]
    last = text[-1:]
    if not text.strip():
        return token
    if token == ";":
        return f"{text.rstrip()}; "
    if token == ".." or text.endswith(".."):
        return text.rstrip() + token
    if token.isdigit() and last.isdigit() and " in " not in clause:
        return text + token
    return f"{text.rstrip()} {token}"


def drop_token(text: str) -> str:
    """The clauses without their last word."""
    found = list(_TOKEN.finditer(text))
    return text[: found[-1].start()].rstrip() if found else ""


@dataclass(frozen=True)
class HandLetters:
    """The letters of a hand's lines, by what they stand for, and those that may be pressed for more."""

    numbers: tuple[str, ...]
    winds: tuple[str, ...]
    dragons: tuple[str, ...]
    free_numbers: tuple[str, ...]
    free_wind: tuple[str, ...]
    free_dragon: tuple[str, ...]

    @classmethod
    def of(cls, lines: Sequence[str]) -> HandLetters:
        """The letters of these lines of groups. One free letter is offered for winds, and one for dragons."""
        whole = ", ".join(line for line in lines if line.strip())
        numbers, winds, dragons = (letters_in(whole, use) for use in (RANK, WIND, DRAGON))
        taken = {*numbers, *winds, *dragons, *SUIT_LETTERS}
        free = [
            tuple(letter for letter in usual if letter not in taken)
            for usual in (NUMBER_LETTERS, _WIND_LETTERS, _DRAGON_LETTERS)
        ]
        return cls(numbers, winds, dragons, free[0], free[1][:1], free[2][:1])

    @property
    def all(self) -> tuple[str, ...]:
        """Those that clauses may be about."""
        return (*self.numbers, *self.winds, *self.dragons)

    @property
    def for_numbers(self) -> tuple[str, ...]:
        """Letters to count numbers from: the usual ones in their order, then any others of the hand."""
        usual = tuple(one for one in NUMBER_LETTERS if one in self.numbers or one in self.free_numbers)
        return (*usual, *(one for one in self.numbers if one not in NUMBER_LETTERS))
