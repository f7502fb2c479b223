"""A moment that advice is asked about, and how much work an answer may take."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any, Protocol

from engine.advice.race import Race
from engine.advice.table import SheetTable, Whole
from engine.rules.house import FULL
from engine.rules.matching import Laid
from engine.rules.observation import Observation
from engine.sheet.groups import HAND_TILES
from engine.tiles import JOKER, Counts, Kind

EFFORT = 3000
"""Draws that rollouts may take for one moment: under a second on one core of a plain laptop."""


@dataclass(frozen=True, eq=False)
class Moment:
    """A rack, the tiles that are unseen, and how many of them may still be drawn. Make one with `of` or `seen`."""

    table: SheetTable
    """What the exposed groups still allow (`SheetTable.after`)."""
    counts: Counts
    """The rack as 36 counts, exposed groups left out."""
    unseen: Counts
    """Tiles that may still come, as 36 counts."""
    draws: int
    """Draws that the player still has."""
    exposures: tuple[Laid, ...] = ()
    """The player's own groups that lie exposed."""
    calls: bool = False
    """Whether others discard tiles that may be called. Figures of single hands count the player's own draws only."""
    race: Race | None = None
    """How far the game among four is, where choices are weighed for it; None where the player is weighed alone."""
    whole: SheetTable | None = None
    """With a race, the table of the whole sheet: it tells what others keep."""
    others: Observation | None = None
    """With a race, what the seat sees of the others, where letting a tile go may serve them."""

    @classmethod
    def of(
        cls,
        table: SheetTable,
        counts: Sequence[int],
        unseen: Sequence[int],
        draws: int,
        exposures: Sequence[Laid] = (),
        *,
        calls: bool = False,
        race: Race | None = None,
    ) -> Moment:
        """A moment by its parts. `table` is the one of the whole sheet.

        Raises ValueError unless rack and exposed groups are 13 or 14 tiles.
        """
        held = tuple(int(count) for count in counts)
        tiles = sum(held) + sum(one.size for one in exposures)
        if tiles not in (HAND_TILES - 1, HAND_TILES):
            raise ValueError(f"rack and exposed groups are {tiles} tiles; give 13 or 14")
        hidden = tuple(int(count) for count in unseen)
        whole = None if race is None else table
        return cls(table.after(exposures), held, hidden, draws, tuple(exposures), calls, race, whole)

    @classmethod
    def seen(cls, table: SheetTable, observation: Observation) -> Moment:
        """The moment of the seat that observes. `table` is the one of the whole sheet."""
        exposures = observation.exposures[observation.seat]
        calls = observation.house.table == FULL
        race = Race.seen(observation) if calls else None
        draws = observation.picks_left
        moment = cls.of(table, observation.counts, observation.unseen, draws, exposures, calls=calls, race=race)
        return replace(moment, others=observation) if calls else moment

    @property
    def full(self) -> bool:
        """Whether there are 14 tiles, so that one must go."""
        return sum(self.counts) + sum(one.size for one in self.exposures) == HAND_TILES

    def without(self, kind: Kind) -> Moment:
        """The moment once one tile of the kind has been let go."""
        counts = list(self.counts)
        counts[kind] -= 1
        return replace(self, counts=tuple(counts))

    def swapped(self, kind: Kind) -> Moment:
        """The moment once a tile of the kind has been given for a joker that lay exposed."""
        counts = list(self.counts)
        counts[kind] -= 1
        counts[JOKER] += 1
        return replace(self, counts=tuple(counts))


def never() -> bool:
    """Nobody stops the work."""
    return False


def nothing() -> None:
    """No pause is needed."""


class StoppedError(Exception):
    """The one who asked no longer needs the answer."""


class Beside(Protocol):
    """Processes that play a share of the games (`rollout/beside.py`)."""

    def begin(self, play: Any, starts: Any, coming: Whole) -> None:
        """Begin with these games, so that `play` comes to them sooner."""

    def play(self, play: Any, starts: Any, coming: Whole, pause: Callable[[], None]) -> Any:
        """The results of all games from `starts`, played on by `play`."""


@dataclass(frozen=True)
class Work:
    """How much an answer may take, and how the one who asked can interrupt it."""

    effort: int = EFFORT
    """Draws that rollouts may take."""
    stopped: Callable[[], bool] = never
    """Whether the answer is no longer needed."""
    breathe: Callable[[], None] = nothing
    """Called every few milliseconds. It may take its time."""
    helpers: Beside | None = None
    """Who plays a share of the games."""

    def pause(self) -> None:
        """Take a breath. Raises StoppedError if the answer is no longer needed."""
        if self.stopped():
            raise StoppedError
        self.breathe()

    def halted(self) -> bool:
        """Take a breath, and say whether the answer is no longer needed."""
        self.breathe()
        return self.stopped()


USUAL = Work()
"""The usual effort, and nobody interrupts."""
