"""Let one go: a rack of fourteen from a game under way, and the choice of the tile to let go, graded by its cost.

The racks come from games that the fast policy has played up to some pick, so that they look like racks of real games.
A rack is taken only where the choice matters: the next best tile costs something, and not so much that all see it.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from engine.advice.advise.answers import Advice, Keep, Known
from engine.advice.advise.discard import advise, deepen
from engine.advice.moment import Moment, Work
from engine.advice.odds.reach import shortfalls
from engine.advice.rollout.discards import compare
from engine.advice.table import SheetTable
from engine.advice.worth.choice import let_go
from engine.advice.worth.worth import possible, weigh
from engine.drills.grades import Price
from engine.drills.racks import pick
from engine.rules.actions import Discard
from engine.rules.deal import SEEDS, shuffle
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import House
from engine.rules.matching import hand_of
from engine.rules.observation import observe
from engine.rules.state import CHANCE, Phase, State
from engine.tiles import Kind

PICKS = 40
"""Picks of a game: about as many as a player has at a full table."""
AT = (2, 8, 14, 20, 26, 32, 37)
"""Picks after which a rack may be taken; the last ones leave so few draws that all that may come is looked at."""
LOOKED_AT = 6
"""Picks from there on among which one is looked for where the choice matters."""
LEAST, MOST = 0.1, 4.0
"""The next best tile costs between so many picks where a choice matters."""
MOST_DEALS = 4
"""Deals that are tried before a rack is taken whose choice matters less."""
MOST_HURRIED = 40
"""Deals that are tried for a rack at all: some are won before that pick."""
EARLIER = 3
"""Picks by which a rack is then looked for earlier."""


class NoRackError(ValueError):
    """No rack was found; the message says what to do instead."""


@dataclass(frozen=True, eq=False)
class LetGoTask:
    """A rack of fourteen, from which one tile goes."""

    moment: Moment
    rack: tuple[Kind, ...]
    """14 tiles, sorted."""
    gone: tuple[Kind, ...]
    """Tiles let go so far, in that order."""
    pick: int
    """Which pick of the game it is; 0 before the first."""

    @property
    def best(self) -> Kind:
        """The tile that is advised, as estimated."""
        return advise(self.moment).keeps[-1].kind


@dataclass(frozen=True)
class LetGoJudged:
    """What letting one tile go costs, and what the advice says of it."""

    kind: Kind
    """The tile chosen."""
    price: Price
    best: Kind
    """The tile that is advised."""
    next_price: float
    """What the next best tile would have cost, in picks."""
    advice: Advice
    """Of the moment, the close choices tried out."""
    keep: Keep
    """What the advice says of the tile chosen."""


def let_go_task(table: SheetTable, chance: random.Random) -> LetGoTask:
    """A fresh rack from a game under way. Raises NoRackError for a sheet on which every game is won at once."""
    found: LetGoTask | None = None
    at = AT[pick(chance, len(AT))]
    for deal in range(MOST_HURRIED):
        state = _played_to(table, int(chance.random() * SEEDS), at)
        if state is None:  # won before that pick: look for an earlier one
            at = max(at - EARLIER, AT[0])
        for _ in range(LOOKED_AT):
            if state is None:
                break
            task = task_of(table, state)
            if matters(advise(task.moment)):
                return task
            found = found or task
            state = _next_turn(table, state)
        if found is not None and deal + 1 >= MOST_DEALS:
            return found
    if found is None:
        raise NoRackError(f"no rack could be found on {table.sheet.name}; choose another drill")
    return found


def task_of(table: SheetTable, state: State) -> LetGoTask:
    """The choice of the player's seat in its turn."""
    seen = observe(state, state.house.seat)
    gone = tuple(one.kind for one in state.discards)
    return LetGoTask(Moment.seen(table, seen), tuple(sorted(seen.rack)), gone, state.picks)


def matters(advice: Advice) -> bool:
    """Whether the next best tile costs something, and not so much that all see it."""
    return not advice.finished and len(advice.keeps) > 1 and LEAST <= advice.keeps[-2].picks <= MOST


def judge_let_go(task: LetGoTask, kind: Kind, work: Work) -> LetGoJudged:
    """What letting a tile go costs. Close choices are tried out, as far as `work` allows; with no effort all is
    estimated. Raises ValueError for a tile that is not in the rack."""
    if kind not in task.rack:
        raise ValueError("choose a tile of the rack")
    advice = deepen(task.moment, work) if work.effort else advise(task.moment)
    keep = next(one for one in advice.keeps if one.kind == kind)
    best = advice.keeps[-1].kind
    price = Price(keep.picks, task.moment.draws, keep.known, keep.half, keep.games)
    if keep.known is Known.ESTIMATED and work.effort and task.moment.draws and advice.contested is None:
        price = Price.tried(compare(task.moment, best, kind, work), task.moment.draws)
    return LetGoJudged(kind, price, best, _next(advice.keeps), advice, keep)


def _next(keeps: Sequence[Keep]) -> float:
    return min((keep.picks for keep in keeps[:-1]), default=0.0)


def _played_to(table: SheetTable, seed: int, at: int) -> State | None:
    """A deal played by the fast policy up to the turn after so many picks; None where it was won before."""
    house = House(jokers=table.jokers, picks=PICKS)
    state: State | None = _drawn(start(table.sheet, house, shuffle(seed, table.jokers)))
    while state is not None and state.picks < at:
        state = _next_turn(table, state)
    return None if state is None or hand_of(state, house.seat) is not None else state


def _next_turn(table: SheetTable, state: State) -> State | None:
    """The player's next turn, once the policy has let a tile go; None where the game is won or over."""
    if hand_of(state, state.house.seat) is not None:
        return None
    after = _drawn(apply(state, Discard(_policy(table, state))))
    over = after.phase is not Phase.TURN or hand_of(after, after.house.seat) is not None
    return None if over else after


def _drawn(state: State) -> State:
    while state.to_act == CHANCE and state.phase is not Phase.OVER:
        state = apply(state, legal_actions(state)[0])
    return state


def _policy(table: SheetTable, state: State) -> Kind:
    """The tile that the fast policy lets go."""
    seen = observe(state, state.house.seat)
    racks, unseen = np.array([seen.counts]), np.array([seen.unseen])
    short, alive = shortfalls(table, racks), possible(table, racks, unseen)
    left = weigh(table, racks, unseen, seen.picks_left, short=short, alive=alive).left
    return int(let_go(table, racks, short, alive, left)[0])
