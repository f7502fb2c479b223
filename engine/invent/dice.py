"""Random choices that come out the same on every machine and in every version of Python.

Of Python's own generator only `random.Random(seed).random()` is promised to stay as it is, so all choices are made from
that one number.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from typing import TypeVar

T = TypeVar("T")


class Dice:
    """Choices that follow from a seed, a whole number from 0 up."""

    def __init__(self, seed: int) -> None:
        self._random = random.Random(seed)

    def below(self, number: int) -> int:
        """A whole number from 0 to `number` - 1."""
        return int(self._random.random() * number)

    def pick(self, things: Sequence[T]) -> T:
        """One of the things, all equally likely."""
        return things[self.below(len(things))]

    def once_in(self, number: int) -> bool:
        """True once in so many times on average."""
        return self.below(number) == 0

    def shuffled(self, things: Sequence[T]) -> list[T]:
        """The things in a random order (Fisher and Yates's shuffle)."""
        mixed = list(things)
        for last in range(len(mixed) - 1, 0, -1):
            place = self.below(last + 1)
            mixed[last], mixed[place] = mixed[place], mixed[last]
        return mixed
