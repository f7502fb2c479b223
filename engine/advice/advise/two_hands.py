"""Advice for the two-hand game: which rack a tile goes on, which tiles change racks, and which one goes.

Each open rack is weighed by itself (`worth`), as if it got an even share of the draws to come. A choice is as good as
the product of both, since both hands are needed; a little is added to each, so that a rack that is past hope does not
make all choices alike. That both racks may wait for the same tile is not weighed, nor what
may change racks in later turns; `UNWEIGHED` says so.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from engine.advice.advise.hands import HandReach, best_of_each_hand, reaches_of
from engine.advice.odds.reach import shortfalls
from engine.advice.table import SheetTable, Whole
from engine.advice.worth.choice import let_go
from engine.advice.worth.worth import possible, weigh
from engine.rules.actions import Action, ChangeRacks, Discard, Mahjong, PutOn
from engine.rules.matching import match
from engine.rules.observation import Observation
from engine.rules.state import Phase
from engine.tiles import KINDS, Counts, Kind, counts_of, name
from engine.words import in_words

CLOSE = 5
"""Tiles of each rack that are tried for a change, the likeliest first."""
CLEARLY = 1.02
"""A change is advised if it makes the choice so many times as good."""
LITTLE = 1e-4
"""What is added to the worth of each rack."""
SHOWN = 3
"""Hands that are named for each rack."""
UNWEIGHED = (
    "The advice weighs each rack by itself, with an even share of the draws; it does not weigh that both may wait for "
    "the same tile."
)


@dataclass(frozen=True)
class Way:
    """One way to go on from a rack of fourteen tiles beside one of thirteen."""

    change: ChangeRacks | None
    """The tiles that change racks first, if any."""
    goes: Kind | None
    """The tile to let go; None where the hand is shown instead."""
    good: float
    """The product of what both racks are worth then."""


@dataclass(frozen=True)
class TwoAdvice:
    """What to do now, and what for."""

    action: Action
    place: int | None
    """The rack for the tile that waits, or None."""
    way: Way
    """What follows."""
    rack: int
    """The rack, 0 or 1, that has fourteen tiles then."""
    reach: tuple[tuple[HandReach, ...], tuple[HandReach, ...]]
    """Per rack as it stands, the nearest hands; none for a rack that is done."""
    because: str


def shared_draws(draws: int, racks: int) -> int:
    """The draws that one of so many open racks may hope for."""
    return -(-draws // racks)


def reach_of_rack(table: SheetTable, rack: Counts, unseen: Counts, draws: int) -> tuple[HandReach, ...]:
    """The hands that a rack may still make with so many draws, the likeliest first."""
    rows, odds = best_of_each_hand(table, rack, unseen, draws)
    rows = rows[:SHOWN]
    return reaches_of(table, rows, [odds[int(row)] for row in rows], rack, unseen, draws)


def advise_two(table: SheetTable, seen: Observation) -> TwoAdvice:
    """The advice for a moment at which the player chooses. Raises ValueError for any other moment."""
    if seen.two is None or not seen.legal:
        raise ValueError("the player of a two-hand game has nothing to choose now; ask at their own choice")
    racks = [counts_of(seen.rack), counts_of(seen.second)]
    still_open = [rack for rack in (0, 1) if seen.two.shown[rack] is None]
    share = shared_draws(seen.picks_left, len(still_open))
    may_change = not seen.two.changed and len(still_open) > 1
    if seen.phase is Phase.PLACING and seen.two.waiting is not None:
        ways = {}
        for rack in still_open:
            held = list(racks)
            held[rack] = _plus(racks[rack], seen.two.waiting)
            ways[rack] = _best(table, seen, held, rack, share, may_change)
        place = max(still_open, key=lambda rack: ways[rack].good)
        way, action = ways[place], PutOn(place)
        said = _say_placing(seen.two.waiting, place, way)
        full = place
    else:
        full = next(rack for rack in still_open if sum(racks[rack]) % 2 == 0)
        way, place = _best(table, seen, racks, full, share, may_change), None
        action = way.change or (Mahjong() if way.goes is None else Discard(way.goes))  # type: ignore[assignment]
        said = _say_way(way, full)
    reach = [reach_of_rack(table, racks[rack], seen.unseen, share) if rack in still_open else () for rack in (0, 1)]
    said += [
        f"Rack {rack + 1} is nearest to {_named(reach[rack])}."
        for rack in still_open
        if reach[rack] and reach[rack][0].missing
    ]
    return TwoAdvice(action, place, way, full, (reach[0], reach[1]), " ".join(said))


def _say_placing(kind: Kind, place: int, way: Way) -> list[str]:
    if way.change is None and way.goes == kind:
        return [f"Put the {name(kind)} on rack {place + 1} and let it go: it is of little use to either."]
    return [f"Put the {name(kind)} on rack {place + 1}.", *_say_way(way, place)]


def _say_way(way: Way, full: int) -> list[str]:
    said = []
    if way.change is not None:
        first, second = name(way.change.first), name(way.change.second)
        said.append(f"Change the {first} of rack 1 for the {second} of rack 2.")
    if way.goes is None:
        said.append(f"Show the hand of rack {full + 1}.")
    else:
        said.append(f"Let the {name(way.goes)} of rack {full + 1} go.")
    return said


def _named(reach: Sequence[HandReach]) -> str:
    first = reach[0]
    return f"{first.hand.name}, with {in_words(first.missing)} tile{'' if first.missing == 1 else 's'} to come"


def _plus(counts: Counts, *kinds: Kind) -> Counts:
    more = list(counts)
    for kind in kinds:
        more[kind] += 1
    return tuple(more)


def _minus(counts: Counts, *kinds: Kind) -> Counts:
    less = list(counts)
    for kind in kinds:
        less[kind] -= 1
    return tuple(less)


def _best(
    table: SheetTable, seen: Observation, racks: Sequence[Counts], full: int, share: int, may_change: bool
) -> Way:
    """The best way on, with `racks[full]` of fourteen tiles."""
    weighing = _Weighing(table, seen, share)
    mine, other = racks[full], racks[1 - full]
    done = seen.two is not None and seen.two.shown[1 - full] is not None
    beside = 1.0 if done else weighing.here([other])[0]
    if match(seen.sheet, mine, (), seen.house) is not None:
        return Way(None, None, _both(1.0, beside))
    (goes,), (left,) = weighing.after([mine])
    best = Way(None, goes, _both(left, beside))
    if not may_change:
        return best
    pairs = _promising(weighing, mine, other)
    if not pairs:
        return best
    mines = [_plus(_minus(mine, give), get) for give, get in pairs]
    others = [_plus(_minus(other, get), give) for give, get in pairs]
    gone, lefts = weighing.after(mines)
    for (give, get), changed, kind, left, worth in zip(pairs, mines, gone, lefts, weighing.here(others), strict=True):
        done = match(seen.sheet, changed, (), seen.house) is not None
        good = _both(1.0 if done else left, worth)
        if good > best.good * (CLEARLY if best.change is None else 1.0):
            change = ChangeRacks(give, get) if full == 0 else ChangeRacks(get, give)
            best = Way(change, None if done else kind, good)
    return best


def _both(one: float, other: float) -> float:
    """How good it is that one rack is worth so much and the other so much."""
    return (one + LITTLE) * (other + LITTLE)


def _promising(weighing: _Weighing, mine: Counts, other: Counts) -> list[tuple[Kind, Kind]]:
    """Pairs of a tile to give and one to get for it that may be worth a change: the likeliest of each."""
    gives, gets = ([kind for kind in range(KINDS) if rack[kind]] for rack in (mine, other))
    there, here = weighing.here([other])[0], weighing.here([mine])[0]
    helps_there = weighing.here([_plus(other, kind) for kind in gives])
    helps_here = weighing.here([_plus(mine, kind) for kind in gets])
    lost_here, lost_there = weighing.left(mine), weighing.left(other)
    give = sorted(gives, key=lambda kind: -_grown(helps_there[gives.index(kind)], there, lost_here[kind], here))
    get = sorted(gets, key=lambda kind: -_grown(helps_here[gets.index(kind)], here, lost_there[kind], there))
    return [(one, two) for one in give[:CLOSE] for two in get[:CLOSE] if one != two]


def _grown(gained: float, before: float, kept: float, whole: float) -> float:
    """What both racks together gain, in shares of what they are worth, by one tile that leaves one for the other."""
    return gained / max(before, 1e-9) + kept / max(whole, 1e-9)


class _Weighing:
    """Weighs racks of one moment."""

    def __init__(self, table: SheetTable, seen: Observation, share: int) -> None:
        self.table, self.unseen, self.draws = table, np.array(seen.unseen), share

    def _arrays(self, racks: Sequence[Counts]) -> tuple[Whole, Whole]:
        return np.array(racks), np.tile(self.unseen, (len(racks), 1))

    def here(self, racks: Sequence[Counts]) -> list[float]:
        """What each rack is worth."""
        found = weigh(self.table, *self._arrays(racks), self.draws).here
        return [float(one) for one in found]

    def left(self, rack: Counts) -> list[float]:
        """What one rack is worth after each kind has gone; -1 for kinds that it does not hold."""
        return [float(one) for one in weigh(self.table, *self._arrays([rack]), self.draws).left[0]]

    def after(self, racks: Sequence[Counts]) -> tuple[list[Kind], list[float]]:
        """For each rack the tile to let go, and what is left then."""
        held, around = self._arrays(racks)
        short, alive = shortfalls(self.table, held), possible(self.table, held, around)
        left = weigh(self.table, held, around, self.draws, short=short, alive=alive).left
        goes = let_go(self.table, held, short, alive, left)
        return [int(kind) for kind in goes], [float(left[place, kind]) for place, kind in enumerate(goes)]
