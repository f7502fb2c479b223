"""What a seat at a full table had best do, in one measure: what its rack brings until the game ends.

The measure is the chance to win, where each hand is weighted by what it pays. A tile that is let go has a further cost:
what it may give to a seat that waits for it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np

from engine.advice.contest.pace import Coming, coming
from engine.advice.contest.racks import Near, near, together
from engine.advice.contest.threats import Threats
from engine.advice.contest.tuning import FORETELLING, SHIPPED, Tuning
from engine.advice.contest.winning import FULL_WALL, chance_before_play, chance_to_win, score
from engine.advice.odds.reach import missing
from engine.advice.race import Race
from engine.advice.table import Real, SheetTable
from engine.advice.worth.finish import dealt
from engine.advice.worth.incoming import let_go_by_others
from engine.advice.worth.worth import raised
from engine.rules.actions import Call, Exchange
from engine.rules.observation import Observation
from engine.rules.state import Exposure
from engine.sheet.groups import HAND_TILES, Group
from engine.tiles import JOKER, KINDS, Kind

JOKER_MARGIN = 0.01
"""A joker goes only if so much more is left then."""
DEALS, SEED = 20, 1
"""Random deals that tell how good racks of a sheet are before play."""
REMEMBERED = 64
"""Tables after exposures that are remembered."""


@dataclass(frozen=True, eq=False)
class Rack:
    """What one seat has, as the contest looks at it."""

    table: SheetTable
    """After the groups laid."""
    counts: tuple[int, ...]
    unseen: tuple[int, ...]
    race: Race
    whole: SheetTable
    """Of the whole sheet: it tells what others keep."""
    tuning: Tuning

    @cached_property
    def come(self) -> Coming:
        """What comes until the game ends."""
        return coming(self.whole, self.unseen, self.race, 0.0, self.tuning)

    @cached_property
    def later(self) -> Coming:
        """What would come if a whole turn were lost."""
        return coming(self.whole, self.unseen, self.race, 1.0, self.tuning)

    @cached_property
    def foretold(self) -> Coming:
        """What comes, as it foretells best who wins."""
        return coming(self.whole, self.unseen, self.race, 0.0, FORETELLING)

    @cached_property
    def _found(self) -> dict[int, tuple[int, Near]]:
        return {}

    def near(self, come: Coming, fewer: int) -> Near:
        """The near variants by one of the three above, with up to `fewer` tiles of a kind to go. One that was worked
        out for more tiles to go tells the same of fewer."""
        most, found = self._found.get(id(come), (-1, None))
        if found is None or most < fewer:
            found = near(self.table, self.counts, self.unseen, come, fewer)
            self._found[id(come)] = fewer, found
        return found


@dataclass(frozen=True, eq=False)
class Danger:
    """What letting a tile go may do for the other seats."""

    risks: Real
    """[36] the chance that a tile of the kind finishes another seat's hand."""
    fed: float
    """What that costs besides the game, in that of a win with a usual hand."""

    def taken_off(self, keeps: Mapping[Kind, float]) -> dict[Kind, float]:
        """What is left after letting each tile go, once what that may give to others is taken off."""
        risks = self.risks.tolist()
        return {kind: left * (1.0 - risks[kind]) - risks[kind] * self.fed for kind, left in keeps.items()}


def goes_best(left: Mapping[Kind, float]) -> Kind:
    """The kind whose going leaves most. A joker goes only where that leaves clearly more, or nothing else is held."""
    best = max((kind for kind in left if kind != JOKER), key=lambda kind: left[kind], default=JOKER)
    return JOKER if JOKER in left and left[JOKER] > left[best] + JOKER_MARGIN else best


class Contest:
    """Judges racks of one sheet at full tables."""

    def __init__(self, table: SheetTable, tuning: Tuning = SHIPPED) -> None:
        self.table = table
        self.tuning = tuning
        points = np.array([hand.points for hand in table.sheet.hands], np.float64)
        self.usual = float(points.mean()) if len(points) else 0.0
        """Points of a usual hand."""
        paid = points / max(self.usual, 1.0)
        self.weights = (tuning.collected * paid**tuning.dear + tuning.saved) / self.stake
        """[hands] what a win with each counts when choices are weighed, in that of a usual hand."""
        self.paying = (tuning.collected * paid + tuning.saved) / self.stake
        """[hands] what it brings and saves."""
        self._after: dict[tuple[Group, ...], SheetTable] = {}

    @property
    def stake(self) -> float:
        """What a win with a usual hand brings and saves, in its points."""
        return self.tuning.collected + self.tuning.saved

    @cached_property
    def asked_for(self) -> Real:
        """[36] how much others ask for a tile of each kind, from 0 to 1."""
        return 1.0 - let_go_by_others(self.table)

    @cached_property
    def threats(self) -> Threats:
        """What exposures tell of tiles that others wait for."""
        return Threats(self.table)

    def after(self, laid: Sequence[Exposure]) -> SheetTable:
        """The table once these groups lie face up."""
        groups = tuple(sorted((Group(one.size, one.kind) for one in laid), key=lambda one: (one.size, one.kind)))
        found = self._after.get(groups)
        if found is None:
            if len(self._after) >= REMEMBERED:
                self._after.clear()
            found = self._after[groups] = self.table.after(laid)
        return found

    def rack(self, observation: Observation, passes: int = 0) -> Rack:
        """The rack of the seat that observes, and what will come to it."""
        table = self.after(observation.exposures[observation.seat])
        return self.rack_of(table, observation.counts, observation.unseen, Race.seen(observation, passes))

    def rack_of(self, table: SheetTable, counts: Sequence[int], unseen: Sequence[int], race: Race) -> Rack:
        """A rack by its parts. `table` is the one after the groups laid."""
        return Rack(table, tuple(counts), tuple(unseen), race, self.table, self.tuning)

    def passes(self, rack: Rack, gone: Sequence[Sequence[Kind]]) -> Real:
        """[G] what is left of a rack once these tiles have been passed, for each choice of them."""
        care = [self.tuning.pass_care * sum(float(self.asked_for[kind]) for kind in kinds) for kinds in gone]
        left: Real = np.subtract(self.worths(rack, gone), np.array(care, np.float64))
        return left

    def worths(self, rack: Rack, gone: Sequence[Sequence[Kind]], *, late: bool = False) -> Real:
        """[G] what is left of a rack once these tiles have gone, for each choice of them; if a turn were lost for
        `late`."""
        if not len(rack.table):
            return np.zeros(len(gone))
        come = rack.later if late else rack.come
        found = rack.near(come, _most_alike(gone))
        return self._worth(rack.table, found, found.chances(gone))

    def chances(self, rack: Rack, gone: Sequence[Sequence[Kind]], *, before_play: bool = False) -> list[float]:
        """The chance to win this game once these tiles have gone, for each choice of them."""
        figures = self.figures(rack, gone).tolist()
        return [self.chance_of(one, rack.race, before_play=before_play) for one in figures]

    def chance_of(self, figure: float, race: Race, *, before_play: bool = False) -> float:
        """The chance to win this game for such a figure."""
        if not before_play:
            return chance_to_win(figure, random_score(self.table, FULL_WALL, 0), race.wall)
        return chance_before_play(figure, random_score(self.table, race.wall, race.passes), race.passed)

    def figures(self, rack: Rack, gone: Sequence[Sequence[Kind]]) -> Real:
        """[G] the chance that some hand is made before the game ends, as the contest makes it out."""
        return self.both(rack, gone)[1]

    def both(self, rack: Rack, gone: Sequence[Sequence[Kind]]) -> tuple[Real, Real]:
        """[G] what a rack brings, and the chance that some hand is made, both as they foretell best what comes."""
        if not len(rack.table):
            return np.zeros(len(gone)), np.zeros(len(gone))
        found = rack.near(rack.foretold, _most_alike(gone))
        chances = found.chances(gone)
        figure: Real = together(chances, np.ones(len(found.rows))).mean(axis=1)
        worth: Real = together(chances, self.paying[rack.table.hand[found.rows]]).mean(axis=1)
        return worth, figure

    def a_turn(self, rack: Rack, gone: Sequence[Kind] = ()) -> float:
        """What one turn is worth: how much less the rack would be if these tiles went and a turn were lost."""
        return float(self.worths(rack, [gone])[0] - self.worths(rack, [gone], late=True)[0])

    def strengths(self, rack: Rack) -> Real:
        """[hands of the sheet] how strong each hand is in a rack, as choices are weighed."""
        hands = len(self.table.sheet.hands)
        if not len(rack.table):
            return np.zeros(hands)
        found = rack.near(rack.come, 0)
        of = rack.table.hand[found.rows]
        powers = raised(found.chances([()])[0] * self.weights[of, None]).mean(axis=1)
        result: Real = np.sqrt(np.sqrt(np.bincount(of, powers, hands)))
        return result

    def _worth(self, table: SheetTable, found: Near, chances: Real) -> Real:
        worth: Real = together(chances, self.weights[table.hand[found.rows]]).mean(axis=1)
        return worth

    def keeps(self, rack: Rack) -> dict[Kind, float]:
        """What is left after letting each tile go."""
        kinds = [kind for kind in range(KINDS) if rack.counts[kind]]
        return dict(zip(kinds, self.worths(rack, [(kind,) for kind in kinds]).tolist(), strict=True))

    def danger(self, observation: Observation) -> Danger:
        """What letting each kind go may do for the other seats."""
        closed = observation.house.closes_calls(observation.wall_left)
        risks = np.zeros(KINDS) if closed else self.threats.of(observation)
        fed = self.tuning.fed_alone if observation.house.discarder_pays_all else self.tuning.fed
        return Danger(risks, fed / self.stake)

    def discards(self, observation: Observation) -> dict[Kind, float]:
        """What is left after letting each tile go, less what that may give to others."""
        return self.danger(observation).taken_off(self.keeps(self.rack(observation)))

    def exchanged(self, observation: Observation, action: Exchange) -> float:
        """What is left after a joker exchange and the best discard then."""
        rack = self.rack(observation)
        counts = list(rack.counts)
        counts[action.kind] -= 1
        counts[JOKER] += 1
        left = self.keeps(replace(rack, counts=tuple(counts)))
        return left[goes_best(left)]

    def passed_over(self, observation: Observation) -> float:
        """What the rack is worth if the discard is let go."""
        return float(self.worths(self.rack(observation), [()])[0])

    def called(self, observation: Observation, action: Call) -> tuple[float, Kind]:
        """What is left after a call and the best discard then, and that discard."""
        kind = observation.discards[-1].kind
        laid = Exposure(action.size, kind, action.jokers)
        counts = list(observation.counts)
        counts[kind] -= laid.real - 1
        counts[JOKER] -= laid.jokers
        table = self.after((*observation.exposures[observation.seat], laid))
        race = replace(Race.seen(observation), ahead=0.0)
        left = self.keeps(self.rack_of(table, counts, observation.unseen, race))
        goes = goes_best(left)
        return left[goes] / self.tuning.call_margin, goes

    def lacking(self, table: SheetTable, counts: Sequence[int], unseen: Sequence[int]) -> int:
        """Tiles that the nearest variant lacks that can still be made; more than a hand has where none can."""
        together_ = [min(held + hidden, 8) for held, hidden in zip(counts, unseen, strict=True)]
        alive = missing(table, together_) == 0
        return int(missing(table, [min(one, 8) for one in counts]).min(where=alive, initial=HAND_TILES + 1))


@lru_cache(maxsize=4)
def contest_of(table: SheetTable) -> Contest:
    """The contest of a whole sheet's table, as it is shipped. It is kept, since it remembers the tables after
    exposures."""
    return Contest(table)


@lru_cache(maxsize=32)
def random_score(table: SheetTable, wall: int, passes: int) -> float:
    """The mean score of random racks with so many tiles in the wall and to come by passes, from a fixed sample."""
    contest, race = contest_of(table), Race(wall, passes=passes)
    racks, unseen = dealt(np.random.default_rng(SEED), HAND_TILES - 1, table.jokers, DEALS)
    some = [contest.rack_of(table, *both, race) for both in zip(racks.tolist(), unseen.tolist(), strict=True)]
    return float(np.mean([score(float(contest.figures(one, [()])[0])) for one in some]))


def _most_alike(gone: Sequence[Sequence[Kind]]) -> int:
    """The most tiles of one kind that go by any choice."""
    return max((list(kinds).count(kind) for kinds in gone for kind in kinds), default=0)
