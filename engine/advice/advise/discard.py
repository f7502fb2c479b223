"""Advice for one rack: the plan, the hands in reach, what each tile is worth keeping for, and the draws that help."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from engine.advice.advise.answers import Advice, Chance, Help, Keep, Known
from engine.advice.advise.contested import Contested
from engine.advice.advise.hands import HandReach, best_of_each_hand, reaches_of
from engine.advice.advise.plan import Aim, Plan, plan_of, target_of
from engine.advice.advise.reasons import say_plan, why_let_go
from engine.advice.advise.reasons_tiles import NEAREST, TileFacts, why_finished, why_keep
from engine.advice.moment import USUAL, Moment, Work
from engine.advice.odds.reach import shortfall, shortfalls
from engine.advice.rollout.discards import Trial, try_choices
from engine.advice.rollout.race import Contrast, Tried
from engine.advice.table import Real, Truth, Whole
from engine.advice.worth.choice import let_go
from engine.advice.worth.finish import chances, finished
from engine.advice.worth.worth import SAME, possible, weigh
from engine.tiles import JOKER, KINDS, Kind


def advise(moment: Moment, before: Plan | None = None, *, helps: bool = True) -> Advice:
    """Advice for one moment, at once; the draws that help most are left out where `helps` is False. With the plan
    `before`, its aim stays while it is nearly as good as any.

    Raises ValueError for draws below none or above the tiles unseen.
    """
    return _advice(moment, before, helps=helps)


def deepen(moment: Moment, work: Work = USUAL, before: Plan | None = None) -> Advice:
    """What `advise` says, with the close choices tried out by rollouts, or by an exact search near the end of a game.

    It takes up to a second and says the same each time. A rack of 13 tiles, a finished hand, one that no draw is left
    for and one in a game among four are advised as `advise` does. Raises StoppedError once `work` is stopped, and
    ValueError as `advise` does.
    """
    alone = moment.race is None or moment.whole is None  # rollouts play alone: they know nothing of a game among four
    if not (alone and moment.full and moment.draws) or finished(moment.table, np.array([moment.counts]))[0]:
        return advise(moment, before)
    return _advice(moment, before, try_choices(moment, work))


def _advice(moment: Moment, before: Plan | None, trial: Trial | None = None, *, helps: bool = True) -> Advice:
    table, counts, draws = moment.table, moment.counts, moment.draws
    rows, odds = best_of_each_hand(table, counts, moment.unseen, draws)
    chances_of = [odds[int(row)] for row in rows]
    hands = reaches_of(table, rows, chances_of, counts, moment.unseen, draws, moment.exposures)
    best = hands[0].odds if hands else 0.0
    racks, around = np.array([counts]), np.array([moment.unseen])
    contested = Contested.of(moment)
    if not moment.full:
        plan = plan_of(moment, before)
        chance = _chance(contested, (), max(float(chances(table, racks, around, draws)[0]), best))
        worth = float(weigh(table, racks, around, draws).here[0])
        needed = _needed(worth, draws)
        help_most = _helps(moment) if helps else ()
        return Advice(draws, chance, plan, say_plan(plan), hands, (), help_most, needed, moment.calls, contested)
    if contested is None:
        left = weigh(table, racks, around, draws).left
        goes = int(let_go(table, racks, shortfalls(table, racks), possible(table, racks, around), left)[0])
    else:
        left, goes = contested.left(), contested.goes
    if trial is not None:
        goes, chance = trial.goes, Chance.played(trial.tried[trial.goes], best)
    after = moment.without(goes)
    if trial is None:
        estimate = float(chances(table, np.array([after.counts]), around, draws, racks)[0])
        chance = _chance(contested, (goes,), max(estimate, best))
    if hands and hands[0].missing == 0:
        chance = Chance(1.0, Known.EXACT)
    plan = plan_of(after, before)
    feared = frozenset[Kind]() if contested is None else contested.feared
    keeps = _keeps(moment, hands, rows, left[0], goes, plan, trial, feared)
    next_best = min((keep.picks for keep in keeps[:-1]), default=None)
    because = say_plan(plan, goes, counts[goes], next_best)
    needed = _needed(float(left[0, goes]), draws)
    if hands and hands[0].missing == 0:
        because, needed = why_finished(hands[0].hand.name), 0.0
    help_most = _helps(after) if helps else ()
    return Advice(draws, chance, plan, because, hands, keeps, help_most, needed, moment.calls, contested)


def _chance(contested: Contested | None, gone: tuple[Kind, ...], alone: float) -> Chance:
    """The chance to win once these tiles have gone, where the game is among four; else that of a player alone."""
    return Chance(alone, Known.ESTIMATED) if contested is None else Chance(contested.chance(gone), Known.FORECAST)


def _needed(worth: float, draws: int) -> float:
    """Picks until a hand on average (`_cost` says why)."""
    return draws * (1.0 - worth) + 1.0


def _keeps(
    moment: Moment,
    hands: Sequence[HandReach],
    rows: Whole,
    left: Real,
    goes: Kind,
    plan: Plan,
    trial: Trial | None,
    feared: frozenset[Kind],
) -> tuple[Keep, ...]:
    """Every kind held, dearest first, the one to let go last."""
    counts = moment.counts
    held = [kind for kind in range(KINDS) if counts[kind]]
    tried = {} if trial is None else trial.tried
    cost = {kind: _cost(left, goes, kind, tried, moment.draws) for kind in held}
    lost = _lost(moment, held, rows)
    named = _named(moment, hands, rows, plan)
    keeps = []
    for kind in held:
        serves = tuple(int(place) for place in _needing(moment, rows, kind).nonzero()[0])
        one = tried.get(kind)
        keep = Keep(kind, cost[kind], "", serves)
        if one is not None:
            known = Known.PLAYED if one.games else Known.EXACT
            half = one.half * moment.draws
            behind = one.behind * moment.draws
            keep = Keep(kind, cost[kind], "", serves, behind, known=known, half=half, games=one.games)
        keeps.append(_with_reason(moment, keep, hands, named, lost[kind], kind in feared))
    if hands and hands[0].missing == 0:
        said = why_finished(hands[0].hand.name)
        keeps = [replace(keep, because=said) if keep.kind == goes else keep for keep in keeps]
    keeps = [
        replace(keep, because=why_let_go(plan, goes, counts[goes], _next_best(keeps, goes)))
        if keep.kind == goes and plan.aim and not (hands and hands[0].missing == 0)
        else keep
        for keep in keeps
    ]
    return tuple(sorted(keeps, key=lambda keep: (keep.kind == goes, -keep.picks, keep.kind)))


def _next_best(keeps: Sequence[Keep], goes: Kind) -> float | None:
    return min((keep.picks for keep in keeps if keep.kind != goes), default=None)


def _named(moment: Moment, hands: Sequence[HandReach], rows: Whole, plan: Plan) -> tuple[Aim, ...]:
    """The hands that sentences name: those of the plan first, then the likeliest others, with all 14 tiles."""
    place = {reach.hand.name: at for at, reach in enumerate(hands)}
    names = [one.hand.name for one in plan.targets if one.hand.name in place]
    names += [reach.hand.name for reach in hands if reach.hand.name not in names]
    return tuple(target_of(moment, int(rows[place[one]]), hands[place[one]].odds) for one in names[:NEAREST])


def _with_reason(
    moment: Moment,
    keep: Keep,
    hands: Sequence[HandReach],
    named: Sequence[Aim],
    lost: tuple[str, ...],
    feared: bool,
) -> Keep:
    known = {one.hand.name for one in named}
    facts = TileFacts(
        kind=keep.kind,
        held=moment.counts[keep.kind],
        named=tuple(named),
        further=tuple(hands[place].hand.name for place in keep.serves if hands[place].hand.name not in known),
        other_way="" if keep.serves else _other_way(moment, keep.kind),
        unseen=moment.unseen[keep.kind],
        lost=lost,
        picks=keep.picks,
        games=None if keep.known is Known.ESTIMATED else keep.games,
        turns=moment.calls,
        feared=feared,
    )
    return replace(keep, because=why_keep(facts))


def _cost(left: Real, goes: Kind, kind: Kind, tried: Mapping[Kind, Tried], draws: int) -> float:
    """What letting one tile go costs in picks.

    As tried out, it is 0 where that can't tell it from the best. Estimated, it is the difference in worth, times the
    draws: the worth is the mean over the draws t = 1 to D of the chance that a hand is made by draw t. The mean of the
    picks needed, D + 1 where no hand is made, is the sum over t = 0 to D of the chance that none is made by draw t;
    that is D (1 - worth) + 1.
    """
    if kind in tried:
        one = tried[kind]
        return one.behind * draws if one.contrast(1.0 / draws) is Contrast.WORSE else 0.0
    cost = float(left[next(iter(tried), goes)] - left[kind])
    return cost * draws if cost > SAME else 0.0


def _needing(moment: Moment, rows: Whole, kind: Kind) -> Truth:
    """[n] whether each variant uses every tile of the kind that is held."""
    table, counts = moment.table, moment.counts
    if kind == JOKER:
        needs: Truth = (shortfall(table, counts)[rows] & 15) >= counts[JOKER]
        return needs
    uses: Truth = table.total[rows, kind] >= counts[kind]
    return uses


def _other_way(moment: Moment, kind: Kind) -> str:
    """The hand that some variant makes with every copy held of a kind, the nearest one; empty if none can be made."""
    table, racks = moment.table, np.array([moment.counts])
    short = table.closing[moment.counts[JOKER], shortfalls(table, racks)[0]]
    able = possible(table, racks, np.array([moment.unseen]))[0]
    rows = np.flatnonzero(able & (short <= moment.draws) & (table.total[:, kind] >= moment.counts[kind]))
    if kind == JOKER or not len(rows):
        return ""
    return table.sheet.hands[int(table.hand[rows[short[rows].argmin()]])].name


def _lost(moment: Moment, held: Sequence[Kind], rows: Whole) -> dict[Kind, tuple[str, ...]]:
    """For each kind held, the names of hands in reach that no variant could make once one tile of it is gone.

    Where others' discards may be called, the number of draws left rules nothing out.
    """
    table = moment.table
    racks = np.tile(np.array(moment.counts), (len(held), 1))
    racks[np.arange(len(held)), held] -= 1
    still = possible(table, racks, np.tile(np.array(moment.unseen), (len(held), 1)))
    if not moment.calls:
        still &= table.closing[racks[:, JOKER, None], shortfalls(table, racks)] <= moment.draws
    in_reach = table.hand[rows]
    lost = {}
    for place, kind in enumerate(held):
        alive = np.zeros(len(table.sheet.hands), np.bool_)
        alive[table.hand[still[place]]] = True
        lost[kind] = tuple(table.sheet.hands[int(hand)].name for hand in in_reach if not alive[hand])
    return lost


def _helps(moment: Moment) -> tuple[Help, ...]:
    """What each next draw would do for a rack of 13, best first; draws that do no more than the least are left out.

    In a game among four the rack is weighed with what may be called later and with how soon another wins.
    """
    contested = Contested.of(moment)
    if contested is None:
        return _helps_alone(moment)
    helps = [Help(kind, moment.unseen[kind], turns) for kind, turns in contested.helps() if turns > SAME]
    return tuple(sorted(helps, key=lambda one: (-one.picks, one.kind)))


def _helps_alone(moment: Moment) -> tuple[Help, ...]:
    """What each next draw would do for a rack of 13, best first; draws that do no more than the least are left out."""
    table, draws = moment.table, moment.draws
    kinds = [kind for kind in range(KINDS) if moment.unseen[kind]]
    if not draws or not kinds:
        return ()
    racks = np.tile(np.array(moment.counts), (len(kinds), 1))
    around = np.tile(np.array(moment.unseen), (len(kinds), 1))
    place = np.arange(len(kinds))
    racks[place, kinds] += 1
    around[place, kinds] -= 1
    short = shortfalls(table, racks)
    alive = possible(table, racks, around)
    left = weigh(table, racks, around, draws - 1, short=short, alive=alive).left
    goes = let_go(table, racks, short, alive, left)
    worth = left[place, goes]
    made = (table.closing[racks[:, JOKER, None], short] == 0).any(axis=1)
    # a hand made by this draw is one pick away; else one pick is gone, and D (1 - worth) + 1 more are needed
    needed = np.where(made, 1.0, 2.0 + (draws - 1) * (1.0 - worth))
    sooner = needed.max() - needed
    helps = [
        Help(kind, moment.unseen[kind], float(more)) for kind, more in zip(kinds, sooner, strict=True) if more > SAME
    ]
    return tuple(sorted(helps, key=lambda one: (-one.picks, one.kind)))
