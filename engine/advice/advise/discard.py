"""Advice for one rack: the hands in reach, what each tile is worth keeping for and why, and the draws that help."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from engine.advice.advise.answers import Advice, HandReach, Help, Keep
from engine.advice.advise.hands import best_of_each_hand, reach_of
from engine.advice.advise.reasons import NEAREST, Facts, why_finished, why_keep, why_let_go
from engine.advice.moment import USUAL, Moment, Work
from engine.advice.odds.reach import shortfall, shortfalls
from engine.advice.rollout.discards import Trial, outlook_of, try_choices
from engine.advice.rollout.race import Tried, Verdict
from engine.advice.table import Real, SheetTable, Truth, Whole
from engine.advice.worth.choice import let_go
from engine.advice.worth.worth import SAME, possible, weigh
from engine.tiles import JOKER, KINDS, Kind


def advise(moment: Moment) -> Advice:
    """Advice for one moment, at once. Raises ValueError for draws below none or above the tiles unseen."""
    return _advice(moment)


def deepen(moment: Moment, work: Work = USUAL) -> Advice:
    """What `advise` says, with the close choices tried out by rollouts, or by an exact search near the end of a game.

    It takes up to a second and says the same each time. A rack of 13 tiles, a finished hand and one that no draw is
    left for are advised as `advise` does. Raises StoppedError once `work` is stopped, and ValueError as `advise` does.
    """
    quick = advise(moment)
    if quick.let_go is None or not moment.draws or (quick.hands and quick.hands[0].missing == 0):
        return quick
    return _advice(moment, try_choices(moment, work))


def _advice(moment: Moment, trial: Trial | None = None) -> Advice:
    table, counts, hidden, draws = moment.table, moment.counts, moment.unseen, moment.draws
    rows, odds = best_of_each_hand(table, counts, hidden, draws)
    hands = tuple(reach_of(table, int(row), counts, odds[int(row)], moment.exposures) for row in rows)
    racks, around = np.array([counts]), np.array([hidden])
    weighed = weigh(table, racks, around, draws)
    if not moment.full:
        here = float(weighed.here[0])
        return Advice(draws, here, hands, (), _helps(table, counts, hidden, draws), here)
    goes = int(let_go(table, racks, shortfalls(table, racks), possible(table, racks, around), weighed.left)[0])
    worth = 1.0 if hands and hands[0].missing == 0 else float(weighed.left[0, goes])
    outlook = None
    if trial is not None:
        goes, best = trial.goes, trial.tried[trial.goes]
        worth, outlook = min(max(best.worth, 0.0), 1.0), outlook_of(best)
    keeps = _keeps(table, counts, hidden, draws, hands, rows, weighed.left[0], goes, trial)
    after = list(counts)
    after[goes] -= 1
    estimated = worth if outlook is None else float(weighed.left[0, goes])
    return Advice(draws, worth, hands, keeps, _helps(table, tuple(after), hidden, draws), estimated, outlook)


def _keeps(
    table: SheetTable,
    counts: Sequence[int],
    unseen: Sequence[int],
    draws: int,
    hands: Sequence[HandReach],
    rows: Whole,
    left: Real,
    goes: Kind,
    trial: Trial | None,
) -> tuple[Keep, ...]:
    """Every kind held, dearest first, the one to let go last."""
    held = [kind for kind in range(KINDS) if counts[kind]]
    tried = {} if trial is None else trial.tried
    cost = {kind: _cost(left, goes, kind, tried, draws) for kind in held}
    lost = _lost(table, counts, unseen, draws, held, rows)
    facts = {}
    serves = {}
    for kind in held:
        needing = _needing(table, counts, rows, kind)
        serves[kind] = tuple(int(place) for place in needing.nonzero()[0])
        facts[kind] = _facts(
            table,
            counts,
            unseen,
            hands,
            rows,
            kind,
            serves[kind],
            lost[kind],
            cost[kind],
            tried.get(kind),
            reckoned=bool(tried) and kind not in tried,
        )
    others = [cost[kind] for kind in held if kind != goes]
    why = {kind: why_keep(facts[kind]) for kind in held}
    why[goes] = why_let_go(facts[goes], min(others, default=None))
    if hands and hands[0].missing == 0:
        why[goes] = why_finished(hands[0].hand.name)
    order = sorted(held, key=lambda kind: (kind == goes, -cost[kind], kind))
    return tuple(Keep(kind, cost[kind], why[kind], serves[kind], tried.get(kind)) for kind in order)


def _cost(left: Real, goes: Kind, kind: Kind, tried: Mapping[Kind, Tried], draws: int) -> float:
    """The worth lost by letting one tile go: as tried out, nothing where that can't tell it from the best; else as
    estimated, against what is estimated to be best."""
    if kind in tried:
        one = tried[kind]
        return one.behind if one.verdict(1.0 / draws) is Verdict.WORSE else 0.0
    cost = float(left[next(iter(tried), goes)] - left[kind])
    return cost if cost > SAME else 0.0


def _needing(table: SheetTable, counts: Sequence[int], rows: Whole, kind: Kind) -> Truth:
    """[n] whether each variant uses every tile of the kind that is held."""
    if kind == JOKER:
        needs: Truth = (shortfall(table, counts)[rows] & 15) >= counts[JOKER]
        return needs
    uses: Truth = table.total[rows, kind] >= counts[kind]
    return uses


def _facts(
    table: SheetTable,
    counts: Sequence[int],
    unseen: Sequence[int],
    hands: Sequence[HandReach],
    rows: Whole,
    kind: Kind,
    serves: tuple[int, ...],
    lost: tuple[str, ...],
    cost: float,
    tried: Tried | None,
    *,
    reckoned: bool,
) -> Facts:
    near = [place for place in serves if place < NEAREST]
    pairs = singles = 0
    for place in near:
        if 0 < counts[kind] <= table.real[rows[place], kind]:
            sizes = [group.size for group in hands[place].variant.groups if group.kind == kind]
            pairs += 2 in sizes
            singles += 2 not in sizes
    return Facts(
        kind=kind,
        held=counts[kind],
        nearest=min(len(hands), NEAREST),
        needing=len(near),
        as_pair=pairs,
        as_single=singles,
        further=len(serves) - len(near),
        unseen=unseen[kind],
        lost=lost,
        cost=cost,
        tried=tried,
        reckoned=reckoned,
    )


def _lost(
    table: SheetTable, counts: Sequence[int], unseen: Sequence[int], draws: int, held: Sequence[Kind], rows: Whole
) -> dict[Kind, tuple[str, ...]]:
    """For each kind held, the names of hands in reach that no variant could finish once one tile of it is gone."""
    racks = np.tile(np.array(counts), (len(held), 1))
    racks[np.arange(len(held)), held] -= 1
    within = table.closing[racks[:, JOKER, None], shortfalls(table, racks)] <= draws
    still = possible(table, racks, np.tile(np.array(unseen), (len(held), 1))) & within
    in_reach = table.hand[rows]
    lost = {}
    for place, kind in enumerate(held):
        alive = np.zeros(len(table.sheet.hands), np.bool_)
        alive[table.hand[still[place]]] = True
        lost[kind] = tuple(table.sheet.hands[int(hand)].name for hand in in_reach if not alive[hand])
    return lost


def _helps(table: SheetTable, counts: Sequence[int], unseen: Sequence[int], draws: int) -> tuple[Help, ...]:
    """What each next draw would do for a rack of 13, best first; draws that do no more than the least are left out."""
    kinds = [kind for kind in range(KINDS) if unseen[kind]]
    if not draws or not kinds:
        return ()
    racks = np.tile(np.array(counts), (len(kinds), 1))
    around = np.tile(np.array(unseen), (len(kinds), 1))
    racks[np.arange(len(kinds)), kinds] += 1
    around[np.arange(len(kinds)), kinds] -= 1
    short = shortfalls(table, racks)
    alive = possible(table, racks, around)
    left = weigh(table, racks, around, draws - 1, short=short, alive=alive).left
    worth = left[np.arange(len(kinds)), let_go(table, racks, short, alive, left)]
    if len(table):
        worth[(table.closing[racks[:, JOKER, None], short] == 0).any(axis=1)] = 1.0
    least = worth.min() + SAME
    helps = [Help(kind, unseen[kind], float(value)) for kind, value in zip(kinds, worth, strict=True) if value > least]
    return tuple(sorted(helps, key=lambda one: (-one.worth, one.kind)))
