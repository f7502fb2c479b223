"""The plan: which hand to go for, which one comes second, what is still missing, and whether the aim has changed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from enum import Enum

import numpy as np

from engine.advice.advise.contested import Contested
from engine.advice.advise.hands import best_of_each_hand, rows_of, ways
from engine.advice.moment import Moment
from engine.advice.odds.reach import shortfalls
from engine.advice.table import Real, Whole
from engine.advice.worth.finish import picks_alone
from engine.advice.worth.worth import possible, strengths
from engine.sheet.groups import Group
from engine.sheet.model import Hand
from engine.tiles import JOKER, KINDS, Counts, Kind, full_set

EVEN = 0.85
"""A hand at least so strong, measured by the strongest, is still open beside it."""
SECOND = 0.35
"""A hand at least so strong may be the second string."""
MOST_OPEN = 3
"""Hands that a plan stays open between at most."""
STAYS = 0.85
"""The aim of the plan before stays as long as its best hand is at least so strong."""
CLEARLY = 1.2
"""So many times as many tiles, ways or points are a reason to turn to another hand."""
ALIKE = 0.9
"""Where all hands that are near are likelier than this, chances hardly tell them apart: the quickest comes first."""
NEVER = 99
"""More tiles than a hand can miss: it can't be made any more."""
_EQUAL = 9
"""Strengths that agree in so many decimals rank alike."""


@dataclass(frozen=True)
class Gap:
    """Tiles of one kind that a hand still lacks."""

    kind: Kind
    number: int
    """How many."""
    strict: bool
    """Whether they belong to a single or a pair, which no joker fills."""
    size: int
    """The size of the group: the pair or single, else the largest group of the kind."""
    unseen: int
    """Copies that may still come."""
    gone: int
    """Copies that lie open."""


@dataclass(frozen=True)
class Aim:
    """A hand that the rack may become, by its best variant."""

    hand: Hand
    missing: int
    """Tiles still to come."""
    odds: float
    """Exact, for going for that hand alone."""
    needs: Counts
    """Tiles that the variant needs of each kind, exposed groups left out."""
    strict: Counts
    """How many of those stand in singles and pairs."""
    pairs: tuple[Kind, ...]
    """Kinds that stand in a pair."""
    gaps: tuple[Gap, ...]
    """What it lacks of each kind, jokers not used: singles and pairs first, the scarcest first."""
    room: int
    """Places in larger groups that jokers may fill."""
    outs: tuple[Kind, ...]
    """If one tile is missing: every kind that completes some variant of the hand."""
    outs_unseen: int = 0
    """How many tiles of those kinds are unseen."""
    jokers: bool = True
    """Whether a joker is held or may still come: where none is, nothing is said of jokers."""

    @property
    def strict_missing(self) -> int:
        """Tiles missing from its pairs and singles, which no joker fills."""
        return sum(gap.number for gap in self.gaps if gap.strict)

    @property
    def unfilled(self) -> int:
        """Places in larger groups that neither the rack's tiles nor its jokers fill."""
        return self.missing - self.strict_missing

    @property
    def jokers_in(self) -> int:
        """Jokers of the rack that stand in its larger groups."""
        return self.room - self.unfilled

    def held(self, kind: Kind) -> int:
        """Tiles of a kind that the rack has for it already."""
        return self.needs[kind] - sum(gap.number for gap in self.gaps if gap.kind == kind)

    def uses(self, kind: Kind, held: int) -> bool:
        """Whether it uses all copies held of a kind."""
        return self.room >= held if kind == JOKER else self.needs[kind] >= held


class Turning(Enum):
    """Why a plan has another aim than the one before."""

    LOST = "can no longer be made"
    NEARER = "is nearer"
    CAME = "uses a tile that came"
    GONE = "lacks no tile that has gone"
    CALLED = "may be called"
    JOKERS = "needs fewer tiles that no joker replaces"
    HELPED = "is helped by more tiles"
    WAYS = "can be made in more ways"
    PAYS = "pays more"
    BETTER = "is likelier"


@dataclass(frozen=True)
class Shift:
    """The aim of the plan before, and why it was given up."""

    before: tuple[str, ...]
    why: Turning
    missing: int
    """Tiles that the old aim still needs; 0 if it is lost."""
    kind: Kind = JOKER
    """The tile that came, or that has gone."""
    here: int = 0
    """What the new aim has more of: places for jokers, tiles that help, ways, points. Of a tile that has gone, how many
    more have."""
    there: int = 0
    """What the old aim has of the same. Of a tile that has gone, how many it still lacks."""


@dataclass(frozen=True)
class Plan:
    """What to go for with a rack of 13 tiles."""

    aim: tuple[Aim, ...]
    """One hand, or up to three that are still open; empty if none can be made."""
    second: Aim | None
    """The second string: the next hand that is worth keeping in mind."""
    shared: tuple[tuple[Kind, int], ...]
    """Kinds held that all of these use and how many of each are held, most in use first."""
    decides: tuple[Kind, ...]
    """For each hand of an open plan, in order, a kind that speaks for it alone; () if one has none."""
    stays: bool
    """Whether the aim is that of the plan before."""
    shift: Shift | None
    """Why it is not; None if it is, or if there was no plan before."""
    calls: bool = False
    """Whether others' discards may be called."""
    draws: int = 0
    """Tiles to come: draws, and before play those that passes bring."""
    counts: Counts = ()
    """The rack of 13 tiles, as 36 counts; () where no hand can be made."""
    nearer: Aim | None = None
    """A concealed hand that is nearer than the aim by the player's own draws, where the aim may be called."""

    @property
    def names(self) -> tuple[str, ...]:
        """The hands aimed for."""
        return tuple(one.hand.name for one in self.aim)

    @property
    def open(self) -> bool:
        """Whether more than one hand is still open."""
        return len(self.aim) > 1

    @property
    def targets(self) -> tuple[Aim, ...]:
        """The hands aimed for and the second string."""
        return self.aim if self.second is None else (*self.aim, self.second)


def plan_of(moment: Moment, before: Plan | None = None) -> Plan:
    """The plan for a rack of 13 tiles. With the plan `before`, its aim stays while it is nearly as good as any.

    Hands are ranked by their strength as choices are weighed (`worth`): how likely each is made soon. Where those are
    as good as sure, as with all of the wall to draw, they are ranked by the picks that each takes.
    """
    rows, odds = best_of_each_hand(moment.table, moment.counts, moment.unseen, moment.draws)
    contested = Contested.of(moment)
    if contested is None:
        strong = strengths(moment.table, np.array([moment.counts]), np.array([moment.unseen]), moment.draws)
    else:
        strong = contested.contest.strengths(contested.rack)
    ranked = _ranked(moment, rows, strong)
    if contested is None and ranked and min(odds[row] for row in ranked[: 2 * MOST_OPEN]) > ALIKE:
        quick = picks_alone(moment.table, rows, np.array(moment.counts), np.array(moment.unseen), moment.draws)
        strong = np.zeros_like(strong)
        strong[moment.table.hand[rows]] = 1.0 - quick / (moment.draws + 1)
        ranked = _ranked(moment, rows, strong)
    targets = [target_of(moment, row, odds[row]) for row in ranked[: 2 * MOST_OPEN]]
    strength = {one.hand.name: float(strong[moment.table.hand[row]]) for one, row in zip(targets, ranked, strict=False)}
    if not targets:
        return Plan((), None, (), (), False, None, moment.calls, moment.draws)
    aim, stays = _aim(targets, strength, before)
    names = {one.hand.name for one in aim}
    top = strength[aim[0].hand.name]
    second = next(
        (one for one in targets if one.hand.name not in names and strength[one.hand.name] >= SECOND * top > 0), None
    )
    turned = before is not None and before.aim and not stays and not set(before.names) & names
    shift = _shift(before, aim[0], moment, rows, odds) if before is not None and turned else None
    shared = _shared(moment.counts, aim if second is None or len(aim) > 1 else (*aim, second))
    nearer = _nearer(targets, aim) if moment.calls else None
    situation = moment.calls, moment.draws, moment.counts
    return Plan(tuple(aim), second, shared, _decides(aim), stays, shift, *situation, nearer)


def _nearer(targets: Sequence[Aim], aim: Sequence[Aim]) -> Aim | None:
    """The concealed hand that needs fewer tiles than the aim and is likelier alone; None for a concealed aim."""
    if any(one.hand.concealed for one in aim):
        return None
    lead = aim[0]
    found = [one for one in targets if one.hand.concealed and one.missing < lead.missing and one.odds > lead.odds]
    return min(found, key=lambda one: one.missing, default=None)


def _ranked(moment: Moment, rows: Whole, strong: Real) -> list[int]:
    """Rows, those of the strongest hands first."""
    return sorted(rows.tolist(), key=lambda row: -round(float(strong[moment.table.hand[row]]), _EQUAL))


def _aim(targets: Sequence[Aim], strength: dict[str, float], before: Plan | None) -> tuple[list[Aim], bool]:
    """The hands to aim for, strongest first, and whether they are those of the plan before."""
    top = strength[targets[0].hand.name]
    near = [one for one in targets if one.missing == targets[0].missing or one.missing > 1]
    still_open = [one for one in near if strength[one.hand.name] >= EVEN * top][:MOST_OPEN]
    if targets[0].missing <= 1:
        still_open = [targets[0]]
    if before is not None and before.aim:
        stay = [one for one in targets if one.hand.name in before.names]
        good = [one for one in stay if strength[one.hand.name] >= STAYS * top]
        if len(good) == len(before.aim) and (targets[0].missing > 1 or targets[0] in good):
            return good, True
    return still_open or [targets[0]], False


def _shift(before: Plan, lead: Aim, moment: Moment, rows: Whole, odds: Mapping[int, float]) -> Shift:
    """Why the aim is another hand now. `rows` are the best variants in reach, by their `odds`."""
    old = before.aim[0].hand
    if not _can_be_made(moment, old):
        return Shift(before.names, Turning.LOST, 0)
    sheet = moment.table.sheet.hands
    row = next((int(row) for row in rows if sheet[int(moment.table.hand[row])] == old), None)
    then = None if row is None else target_of(moment, row, odds[row])
    missing = least_missing(moment, old) if then is None else then.missing
    if then is None or lead.missing < missing:
        return Shift(before.names, Turning.NEARER if lead.missing < missing else Turning.BETTER, missing)
    return replace(_why_better(before, lead, then, moment), missing=missing)


def _why_better(before: Plan, lead: Aim, then: Aim, moment: Moment) -> Shift:
    """Why a hand is the better aim that needs no fewer tiles: what has changed first, then what tells them apart.
    `then` is the old aim as the rack stands to it now."""
    old, held = before.names, moment.counts
    for kind, had in enumerate(before.counts):
        if held[kind] > had and lead.uses(kind, held[kind]) and not then.uses(kind, held[kind]):
            return Shift(old, Turning.CAME, 0, kind)
    lacks = {gap.kind: gap for gap in then.gaps}
    for gap in before.aim[0].gaps:
        now = lacks.get(gap.kind)
        if now is not None and now.gone > gap.gone and not any(one.kind == gap.kind for one in lead.gaps):
            return Shift(old, Turning.GONE, 0, gap.kind, now.gone - gap.gone, now.number)
    if moment.calls and then.hand.concealed and not lead.hand.concealed:
        return Shift(old, Turning.CALLED, 0)
    if lead.jokers and lead.strict_missing < then.strict_missing:
        return Shift(old, Turning.JOKERS, 0, here=lead.unfilled, there=then.unfilled)
    for why, more, than in (
        (Turning.HELPED, helping(moment, lead), helping(moment, then)),
        (Turning.WAYS, ways(moment, lead.hand, lead.missing), ways(moment, then.hand, lead.missing)),
        (Turning.PAYS, lead.hand.points, then.hand.points if moment.calls else lead.hand.points),
    ):
        if more > CLEARLY * than:
            return Shift(old, why, 0, here=more, there=than)
    return Shift(old, Turning.BETTER, 0)


def helping(moment: Moment, aim: Aim) -> int:
    """How many unseen tiles bring a hand nearer by its best variant, jokers among them."""
    loose = aim.unfilled > 0
    tiles = sum(moment.unseen[gap.kind] for gap in aim.gaps if not gap.strict and loose)
    tiles += sum(moment.unseen[gap.kind] for gap in aim.gaps if gap.strict and not (loose and _twice(aim, gap)))
    return tiles + (moment.unseen[JOKER] if loose else 0)


def _twice(aim: Aim, gap: Gap) -> bool:
    """Whether a larger group lacks the same kind, so that it is counted already."""
    return any(other.kind == gap.kind and not other.strict for other in aim.gaps)


def _can_be_made(moment: Moment, hand: Hand) -> bool:
    """Whether rack and unseen tiles together still hold a variant of the hand, and the draws may bring it."""
    rows = rows_of(moment, hand)
    if not len(rows):
        return False
    alive = possible(moment.table, np.array([moment.counts]), np.array([moment.unseen]))[0, rows]
    return bool(alive.any()) and (moment.calls or least_missing(moment, hand) <= moment.draws)


def least_missing(moment: Moment, hand: Hand) -> int:
    """Tiles that the hand misses at least, among the variants that can still be made; NEVER if there is none."""
    rows = rows_of(moment, hand)
    racks, unseen = np.array([moment.counts]), np.array([moment.unseen])
    alive = possible(moment.table, racks, unseen)[0, rows]
    short = shortfalls(moment.table, racks)[0, rows[alive]]
    return int(moment.table.closing[moment.counts[JOKER], short].min(initial=NEVER))


def target_of(moment: Moment, row: int, odds: float) -> Aim:
    """A hand by one of its variants, as the rack stands to it."""
    table, counts = moment.table, moment.counts
    strict = tuple(int(number) for number in table.real[row])
    needs = tuple(int(number) for number in table.total[row])
    whole = full_set(table.jokers)
    groups = _groups_left(moment, row)
    gaps = []
    lacking = 0
    for kind in range(JOKER):
        real, loose = strict[kind], needs[kind] - strict[kind]
        short = max(real - counts[kind], 0)
        flexible = max(loose - max(counts[kind] - real, 0), 0)
        lacking += flexible
        for number, is_strict in ((short, True), (flexible, False)):
            if number:
                sizes = [one.size for one in groups if one.kind == kind and one.takes_jokers != is_strict]
                gone = whole[kind] - counts[kind] - moment.unseen[kind] - _laid(moment, kind)
                gaps.append(Gap(kind, number, is_strict, max(sizes), moment.unseen[kind], gone))
    gaps.sort(key=lambda gap: (not gap.strict, gap.unseen - gap.number, gap.kind))
    missing = sum(gap.number for gap in gaps if gap.strict) + max(lacking - counts[JOKER], 0)
    hand = table.sheet.hands[int(table.hand[row])]
    outs = _outs(moment, hand) if missing == 1 else ()
    pairs = tuple(sorted({one.kind for one in groups if one.size == 2}))
    unseen = sum(moment.unseen[kind] for kind in outs)
    return Aim(hand, missing, odds, needs, strict, pairs, tuple(gaps), lacking, outs, unseen, _jokers(moment))


def _jokers(moment: Moment) -> bool:
    return moment.counts[JOKER] + moment.unseen[JOKER] > 0


def _groups_left(moment: Moment, row: int) -> list[Group]:
    """The groups of a variant that do not lie exposed."""
    groups = list(moment.table.variants[row].groups)
    for one in moment.table.laid:
        groups.remove(one)
    return groups


def _laid(moment: Moment, kind: Kind) -> int:
    """Copies of a kind in the player's own exposed groups."""
    return sum(one.size - one.jokers for one in moment.exposures if one.kind == kind)


def _outs(moment: Moment, hand: Hand) -> tuple[Kind, ...]:
    """The unseen kinds of which one tile makes the hand."""
    rows = rows_of(moment, hand)
    kinds = [kind for kind in range(KINDS) if moment.unseen[kind]]
    racks = np.tile(np.array(moment.counts), (len(kinds), 1))
    racks[np.arange(len(kinds)), kinds] += 1
    short = shortfalls(moment.table, racks)[:, rows]
    made = (moment.table.closing[racks[:, JOKER, None], short] == 0).any(axis=1)
    return tuple(kind for kind, makes in zip(kinds, made, strict=True) if makes)


def _shared(counts: Counts, targets: Sequence[Aim]) -> tuple[tuple[Kind, int], ...]:
    """Kinds held that all targets use, and how many are held; those with most tiles in use first."""
    if len(targets) < 2:
        return ()
    used = {kind: min(counts[kind], *(one.needs[kind] for one in targets)) for kind in range(JOKER)}
    order = sorted((kind for kind in used if used[kind]), key=lambda kind: (-used[kind], kind))
    return tuple((kind, counts[kind]) for kind in order)


def _decides(aim: Sequence[Aim]) -> tuple[Kind, ...]:
    """For each target a kind that it lacks and no other one uses, singles and pairs first; () if one has none."""
    if len(aim) < 2:
        return ()
    found = []
    for one in aim:
        others = [other for other in aim if other is not one]
        own = [gap for gap in one.gaps if gap.unseen and not any(other.needs[gap.kind] for other in others)]
        if not own:
            return ()
        found.append(own[0].kind)
    return tuple(found)
