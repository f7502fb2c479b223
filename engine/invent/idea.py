"""One idea for a hand: its groups and clauses as the notation writes them, read, with its variants and how it pulls."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from engine.advice.table import Bytes
from engine.invent.chance import pull
from engine.sheet.clauses import Clause, parse_where, variables, write_where
from engine.sheet.groups import HAND_TILES, Variant
from engine.sheet.model import Line
from engine.sheet.notation import Flower, Pattern, write_groups
from engine.sheet.parsing import parse_groups
from engine.sheet.variants import expand


@dataclass(frozen=True)
class Idea:
    """Groups and clauses that make 14 tiles, not yet a hand: it has no name and no points."""

    lines: tuple[tuple[Pattern, ...], ...]
    where: tuple[Clause, ...]
    season: str
    concealed: bool

    @cached_property
    def variants(self) -> tuple[Variant, ...]:
        """Every way to make it."""
        return expand([Line(line, write_groups(line)) for line in self.lines], self.where, self.season)

    @cached_property
    def totals(self) -> Bytes:
        """[V, 36] the tiles that each variant needs of each kind."""
        return np.array([variant.total for variant in self.variants], np.uint8)

    @cached_property
    def pull(self) -> int:
        """How strongly it draws play to it: see `chance`."""
        return pull(self.variants)

    @property
    def sizes(self) -> tuple[int, ...]:
        """The sizes of its groups in order, those of its first line."""
        return tuple(sorted(size for p in self.lines[0] for size in [p.size] * p.groups(self.season)))

    @property
    def small(self) -> bool:
        """Whether it has singles and pairs only, where no joker helps."""
        return max(self.sizes) < 3

    @property
    def flowers(self) -> bool:
        """Whether it takes flowers."""
        return any(isinstance(pattern.tile, Flower) for line in self.lines for pattern in line)

    @property
    def where_text(self) -> str:
        """The clauses as a sheet writes them."""
        return write_where(self.where)

    def rows(self) -> list[str]:
        """What a sheet file says of it, without name and points."""
        texts = [write_groups(line) for line in self.lines]
        rows = [f"groups: {texts[0]}"] if len(texts) == 1 else ["either:", *(f"  - {text}" for text in texts)]
        if self.where:
            rows.append(f"where: {self.where_text}")
        if self.concealed:
            rows.append("hold: concealed")
        return rows


def idea_of(season: str, where: str, concealed: bool, *texts: str) -> Idea | None:
    """The idea that these texts of groups write; None where they don't come to 14 tiles, use a letter that a clause
    doesn't know, or leave no way to make the hand."""
    lines = [parse_groups(text) for text in texts]
    clauses = parse_where(where).clauses if where else ()
    if any(line.errors for line in lines):
        raise ValueError(f"“{'; '.join(texts)}” is no line of groups")
    patterns = tuple(line.patterns for line in lines)
    if any(sum(p.size * p.groups(season) for p in line) != HAND_TILES for line in patterns):
        return None
    written = {letter for line in patterns for pattern in line for letter, _ in pattern.letters}
    if any(name not in written for clause in clauses for name in variables(clause)):
        return None
    found = Idea(patterns, clauses, season, concealed)
    return found if found.variants else None
