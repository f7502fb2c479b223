"""Laying out a position by hand, tile by tile: a rack, tiles seen elsewhere, exposed groups."""

from __future__ import annotations

from dataclasses import dataclass, field

from engine.advice.moment import Moment
from engine.advice.table import SheetTable
from engine.drills.lesson.model import USUAL_DRAWS, PositionStep
from engine.rules.laid_out import LaidOut, lay_out, parse_exposures
from engine.rules.state import Exposure
from engine.sheet.groups import HAND_TILES, size_name
from engine.tiles import COPIES, JOKER, Kind, TileError, code, kinds_of, parse_tiles, write_tiles

RACK, SHOWN, EXPOSED = "rack", "shown", "exposed"
"""The parts of a position."""
MOST_GROUPS = 4


@dataclass
class Layout:
    """What has been laid so far. It changes tile by tile."""

    rack: list[Kind] = field(default_factory=list)
    shown: list[Kind] = field(default_factory=list)
    exposures: list[Exposure] = field(default_factory=list)
    draws: int = USUAL_DRAWS

    @classmethod
    def of(cls, step: PositionStep) -> Layout:
        """A position of a lesson. Raises PositionError."""
        laid = lay_out(step.rack, step.shown, step.exposed, ("rack", "shown", "exposed"))
        shown = list(parse_tiles(step.shown))
        return cls(list(kinds_of(laid.counts)), sorted(shown), list(laid.exposures), step.draws)

    def left(self, kind: Kind) -> int:
        """Copies of a kind that are not laid yet."""
        lying = self.rack.count(kind) + self.shown.count(kind)
        for one in self.exposures:
            lying += one.jokers if kind == JOKER else one.real if one.kind == kind else 0
        return COPIES[kind] - lying

    @property
    def room(self) -> int:
        """Tiles that the rack still takes: up to fourteen, exposed ones counted."""
        return HAND_TILES - len(self.rack) - sum(one.size for one in self.exposures)

    def add(self, part: str, kind: Kind) -> None:
        """Lay a tile in the rack or among those seen. Raises ValueError where none is left, or no room."""
        if self.left(kind) <= 0:
            raise ValueError("all tiles of that kind are laid already")
        if part == RACK and self.room <= 0:
            raise ValueError("the rack is full; take a tile out first")
        where = self.rack if part == RACK else self.shown
        where.append(kind)
        where.sort()

    def expose(self, size: int, kind: Kind, jokers: int) -> None:
        """Lay an exposed group. Raises ValueError where it can't be."""
        if kind == JOKER:
            raise ValueError("choose the tile that the jokers stand for")
        if len(self.exposures) >= MOST_GROUPS or self.room < size:
            raise ValueError("there is no room for that group; take tiles out of the rack first")
        if self.left(kind) < size - jokers or self.left(JOKER) < jokers:
            raise ValueError(f"the set has too few tiles left for a {size_name(size)}; let jokers stand for some")
        self.exposures.append(Exposure(size, kind, jokers))

    def type(self, part: str, text: str) -> None:
        """Lay what is typed: tile codes, or for an exposed group `kong 5d jokers 1`. Raises ValueError."""
        if part == EXPOSED:
            for one in parse_exposures(text, "What you typed"):
                self.expose(one.size, one.kind, one.jokers)
            return
        try:
            kinds = parse_tiles(text)
        except TileError as error:
            raise ValueError(str(error)) from error
        for kind in kinds:
            self.add(part, kind)

    def clear(self) -> None:
        """Begin anew."""
        self.rack.clear()
        self.shown.clear()
        self.exposures.clear()

    def laid(self) -> LaidOut:
        """The position. Raises PositionError, with what to give, while it is none."""
        return lay_out(*self.texts(), ("The rack", "What is seen", "What is exposed"))

    def texts(self) -> tuple[str, str, str]:
        """Rack, tiles seen and exposed groups as text."""
        groups = (
            f"{size_name(one.size)} {code(one.kind)}{f' jokers {one.jokers}' if one.jokers else ''}"
            for one in self.exposures
        )
        return write_tiles(self.rack), write_tiles(self.shown), "; ".join(groups)

    def moment(self, table: SheetTable) -> Moment:
        """The moment that advice is asked about. Raises PositionError."""
        laid = self.laid()
        draws = min(self.draws, sum(laid.unseen))
        return Moment.of(table, laid.counts, laid.unseen, draws, laid.exposures)
