"""The choices at one moment tried out: exactly where the rest of the game can be looked at whole, else played on.

The fast policy's choice is beaten only by one that is better beyond doubt and by a pick or more: the best of several
means is partly luck, and rollouts that took it as it comes made play worse.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from engine.advice.endgame.search import Ending, exact_ending
from engine.advice.rollout.games import Games
from engine.advice.rollout.playout import Results, breathing, orders, play_on
from engine.advice.rollout.race import FEW, Outlook, Play, Tried, Verdict, race, stand
from engine.advice.table import Real, SheetTable, Whole
from engine.advice.worth.choice import let_go
from engine.advice.worth.worth import weigh
from engine.tiles import Kind

EFFORT = 5000
"""Draws played on for one moment: under a second on one core of a plain laptop."""
MOST_GAMES = 600
"""Games for one moment, however short."""
CLOSE = 0.05
"""Choices that the fast policy holds to be further behind are not tried."""
MOST_CHOICES = 6
PICKS = 1.0
"""By how many picks a choice must be better to be taken instead of the fast policy's."""
SEED = 4711


@dataclass(frozen=True)
class Trial:
    """What came of the choices that were tried."""

    goes: Kind
    """The tile to let go."""
    tried: dict[Kind, Tried]
    """Each choice that was looked at, against that one."""
    exact: bool
    """Whether everything that may come was looked at, so that nothing is left to chance; `games` are then 0."""


def try_choices(
    table: SheetTable,
    counts: Sequence[int],
    unseen: Sequence[int],
    draws: int,
    *,
    effort: int = EFFORT,
    picks: float = PICKS,
    stopped: Callable[[], bool] = lambda: False,
    breathe: Callable[[], None] = lambda: None,
) -> Trial:
    """Try letting go the tiles of a rack of 14 that is no hand, given as 36 counts; `table` is the one after groups
    laid. The same rack, unseen tiles and draws always give the same answer.

    `breathe` is called every few milliseconds. Raises StoppedError once `stopped` says so.
    """
    here = Games.of(table, np.array([counts]), np.array([unseen]))
    batch = here.batch(draws)
    left = weigh(table, batch.racks, batch.unseen, draws, short=batch.short, alive=batch.alive).left
    goes = int(let_go(table, batch.racks, batch.short, batch.alive, left)[0])
    ending = exact_ending(table, counts, unseen, draws, stopped=_halting(stopped, breathe))
    if ending is not None:
        return _looked_at(ending, goes)
    kinds = _close(left[0], goes)
    play = _player(here, kinds, draws, stopped, breathe)
    found = race(play, len(kinds), min(effort // max(draws, 1), MOST_GAMES))
    best = better_one(stand(found), picks / max(draws, 1))
    return Trial(kinds[best], dict(zip(kinds, stand(found, best), strict=True)), False)


def compare(
    table: SheetTable,
    counts: Sequence[int],
    unseen: Sequence[int],
    draws: int,
    best: Kind,
    other: Kind,
    *,
    effort: int = EFFORT,
    stopped: Callable[[], bool] = lambda: False,
    breathe: Callable[[], None] = lambda: None,
) -> Tried:
    """How letting `other` go stands to letting `best` go; the rest is as for `try_choices`."""
    ending = exact_ending(table, counts, unseen, draws, stopped=_halting(stopped, breathe))
    if ending is not None:
        return _exactly(ending, best, other)
    play = _player(Games.of(table, np.array([counts]), np.array([unseen])), (best, other), draws, stopped, breathe)
    return stand(race(play, 2, min(effort // max(draws, 1), MOST_GAMES), alone=0, first=FEW))[1]


def _halting(stopped: Callable[[], bool], breathe: Callable[[], None]) -> Callable[[], bool]:
    """`stopped`, taking a breath with every question."""

    def halted() -> bool:
        breathe()
        return stopped()

    return halted


def _player(
    here: Games, kinds: Sequence[Kind], draws: int, stopped: Callable[[], bool], breathe: Callable[[], None]
) -> Play:
    """Plays one game's choices on, each kind let go; the tiles to come are the same for the same moment."""
    rng = np.random.default_rng([SEED, draws, *here.racks[0].tolist(), *here.unseen[0].tolist()])
    starts = here.repeated(len(kinds))
    starts.go(np.array(kinds))

    pause = breathing(stopped, breathe)

    def play(which: Sequence[int], number: int) -> Results:
        coming = orders(rng, here.unseen[0], number, draws)
        marked: Whole = np.repeat(np.array(which), number)
        return play_on(starts.take(marked), np.tile(coming, (len(which), 1)), pause)

    return play


def _close(left: Real, goes: Kind) -> list[Kind]:
    """The choices to try, the fast policy's first, then by what they leave."""
    order = np.argsort(-left, kind="stable")
    near = [int(kind) for kind in order if kind != goes and left[kind] >= max(left[goes] - CLOSE, 0.0)]
    return [goes, *near[: MOST_CHOICES - 1]]


def better_one(tried: Sequence[Tried], pick: float) -> int:
    """The place of the choice that is better than the first one beyond doubt, or of the first one if none is."""
    better = [place for place, one in enumerate(tried) if one.verdict(pick) is Verdict.BETTER]
    return min(better, key=lambda place: tried[place].behind, default=0)


def outlook_of(best: Tried) -> Outlook:
    """The chance of a hand after a choice."""
    return Outlook(min(max(best.chance, 0.0), 1.0), best.chance_error, best.games)


def _looked_at(ending: Ending, goes: Kind) -> Trial:
    """The best play; the fast policy's choice where it is as good."""
    held = [kind for kind, worth in enumerate(ending.worth) if worth >= 0]
    best = max(held, key=lambda kind: (round(float(ending.worth[kind]), 12), kind == goes))
    return Trial(best, {kind: _exactly(ending, best, kind) for kind in held}, True)


def _exactly(ending: Ending, best: Kind, kind: Kind) -> Tried:
    worth, chance = float(ending.worth[kind]), float(ending.chance[kind])
    return Tried(0, worth, 0.0, chance, 0.0, float(ending.worth[best]) - worth, 0.0)
