"""A sheet counted slowly: from its written form, by the slow expander, with nothing of the study in it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from slow_variants import slow_variants

from engine.sheet.model import Hand, Sheet

Groups = tuple[tuple[int, str], ...]


@dataclass(frozen=True)
class Slow:
    """A hand and all its variants, each as (size, tile code) groups in sorted order."""

    hand: Hand
    variants: frozenset[Groups]

    @cached_property
    def codes(self) -> set[str]:
        """Tiles that a variant needs."""
        return {code for groups in self.variants for _, code in groups}

    @property
    def ranks(self) -> set[str]:
        """Numbers that a variant needs."""
        return {code[0] for code in self.codes if code[0].isdigit()}


def slow_sheet(sheet: Sheet) -> list[Slow]:
    """Every hand of a sheet."""
    return [
        Slow(hand, frozenset(slow_variants([line.text for line in hand.lines], hand.where_text, sheet.season)))
        for hand in sheet.hands
    ]


def ranks_of(groups: Groups) -> set[str]:
    """The numbers in a variant."""
    return {code[0] for _, code in groups if code[0].isdigit()}


def shared_tiles(one: Groups, other: Groups) -> int:
    """Tiles that two variants have in common, counted one by one."""
    left = [code for size, code in other for _ in range(size)]
    count = 0
    for code in (code for size, code in one for _ in range(size)):
        if code in left:
            left.remove(code)
            count += 1
    return count
