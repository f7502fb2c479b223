"""How well the player plays over time: games told apart by whether advice was hidden, ten by ten; how far one has come.

Games with advice hidden are the ones that count. The others (advice was at hand, or a deal was tried another way) are
shown, but nothing is said from them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from engine.advice.review.skill import Play, measure_of
from engine.advice.stats import ENOUGH
from engine.store.values import StoredReview

TEN = ENOUGH
"""Games in a row that make one point."""


@dataclass(frozen=True)
class Ten:
    """Ten games of one kind in a row; fewer where the last ten is not full yet."""

    hidden: bool
    """Whether these are games with advice hidden."""
    first: int
    """The number of its first game among those of its kind; the first one of all is 1."""
    games: tuple[StoredReview, ...]
    place: float
    """Where its middle lies among all games in order of time; the first one of all is at 0."""
    play: Play

    @property
    def full(self) -> bool:
        """Whether something can be said of it."""
        return self.play.enough

    @property
    def last(self) -> int:
        """The number of its last game."""
        return self.first + len(self.games) - 1


@dataclass(frozen=True)
class PlayOverTime:
    """All reviewed games."""

    games: tuple[StoredReview, ...]
    """In the order in which they were played to their end."""
    hidden: Play
    """The games that count."""
    at_hand: Play
    """The others."""
    tens: tuple[Ten, ...]
    """Of both kinds, in order of their last game."""

    def of(self, hidden: bool) -> tuple[Ten, ...]:
        """The tens of one kind."""
        return tuple(ten for ten in self.tens if ten.hidden == hidden)


def play_over_time(games: Sequence[StoredReview]) -> PlayOverTime:
    """Kept reviews, in order of time, as one whole and ten by ten."""
    placed = list(enumerate(games))
    tens: list[tuple[int, Ten]] = []
    for hidden in (True, False):
        kind = [(place, game) for place, game in placed if game.advice_seen != hidden]
        for first in range(0, len(kind), TEN):
            part = kind[first : first + TEN]
            ten = tuple(game for _, game in part)
            middle = sum(place for place, _ in part) / len(part)
            tens.append((part[-1][0], Ten(hidden, first + 1, ten, middle, measure_of(ten))))
    return PlayOverTime(
        tuple(games),
        measure_of([game for game in games if not game.advice_seen]),
        measure_of([game for game in games if game.advice_seen]),
        tuple(ten for _, ten in sorted(tens, key=lambda one: one[0])),
    )
