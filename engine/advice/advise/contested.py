"""A moment at a full table, weighed for the game among four: what each choice leaves, told in turns.

The contest weighs in one measure, what a rack brings until the game ends. A player reads turns: a choice costs as many
turns as would have to be lost for the same loss.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from engine.advice.contest.contest import Contest, Danger, Rack, contest_of, goes_best
from engine.advice.contest.racks import near_rows
from engine.advice.moment import Moment
from engine.advice.odds.reach import shortfall
from engine.advice.table import Real
from engine.tiles import JOKER, KINDS, Kind

LEAST_TURN = 1e-9
"""Where a turn is worth less than this, nothing is to be lost any more."""


@dataclass(frozen=True, eq=False)
class Contested:
    """One moment and the contest that weighs it."""

    contest: Contest
    rack: Rack
    draws: int
    danger: Danger | None = None
    """What letting a tile go may do for others; None where that is not asked."""

    @classmethod
    def of(cls, moment: Moment) -> Contested | None:
        """None where the player is weighed alone."""
        if moment.race is None or moment.whole is None:
            return None
        contest = contest_of(moment.whole)
        danger = contest.danger(moment.others) if moment.full and moment.others is not None else None
        rack = contest.rack_of(moment.table, moment.counts, moment.unseen, moment.race)
        return cls(contest, rack, moment.draws, danger)

    @cached_property
    def keeps(self) -> dict[Kind, float]:
        """What is left after letting each tile go, whatever that may do for others."""
        return self.contest.keeps(self.rack)

    @cached_property
    def discards(self) -> dict[Kind, float]:
        """The same, once what that may give to others is taken off."""
        return self.keeps if self.danger is None else self.danger.taken_off(self.keeps)

    @property
    def fastest(self) -> Kind:
        """The tile to let go, were the others no danger."""
        return goes_best(self.keeps)

    @property
    def goes(self) -> Kind:
        """The tile to let go."""
        return goes_best(self.discards)

    def worth(self, gone: tuple[Kind, ...] = ()) -> float:
        """What the rack brings once these tiles have gone."""
        return float(self.contest.worths(self.rack, [gone])[0])

    def chance(self, gone: tuple[Kind, ...] = ()) -> float:
        """The chance to win this game once these tiles have gone."""
        return self.contest.chances(self.rack, [gone])[0]

    @cached_property
    def feared(self) -> frozenset[Kind]:
        """The tiles that stay for what another seat may do with them more than for what one's own hand loses."""
        best, fastest = self.discards[self.goes], self.keeps[self.goes]
        return frozenset(
            kind
            for kind, left in self.discards.items()
            if best > left and best - left > 2.0 * (fastest - self.keeps[kind])
        )

    def turns(self, worth: float, a_turn: float) -> float:
        """A difference in worth as turns, one more than there are draws at most, either way."""
        most = self.draws + 1.0
        if a_turn <= LEAST_TURN:
            return 0.0 if abs(worth) <= LEAST_TURN else math.copysign(most, worth)
        return max(-most, min(worth / a_turn, most))

    def left(self) -> Real:
        """[1, 36] what letting each tile go leaves, with what it may give to others taken off; -1 where none is held.
        It is told in shares of the draws, so that differences times the draws are turns."""
        discards, goes = self.discards, self.goes
        a_turn = self.contest.a_turn(self.rack, (goes,))
        left = np.full((1, KINDS), -1.0)
        for kind, worth in discards.items():
            left[0, kind] = 2.0 - self.turns(discards[goes] - worth, a_turn) / max(self.draws, 1)
        return left

    def helps(self) -> list[tuple[Kind, float]]:
        """For each kind that would help a rack of 13 if it came next, how many turns more it is worth than the draw
        that helps least."""
        table, counts, unseen = self.rack.table, self.rack.counts, self.rack.unseen
        if not self.draws or not len(table):
            return []
        needed = table.total[near_rows(table, counts, unseen)].max(axis=0, initial=0).tolist()
        kinds = [kind for kind in range(KINDS) if unseen[kind] and (kind == JOKER or needed[kind] > counts[kind])]
        worths = [self._worth_with(kind) for kind in kinds]
        least, a_turn = min([self.worth(), *worths]), self.contest.a_turn(self.rack)
        return [(kind, self.turns(worth - least, a_turn)) for kind, worth in zip(kinds, worths, strict=True)]

    def _worth_with(self, kind: Kind) -> float:
        """What the rack leaves once a tile of the kind has come and the best one has gone; a whole hand what it is."""
        table, counts, unseen = self.rack.table, list(self.rack.counts), list(self.rack.unseen)
        counts[kind] += 1
        unseen[kind] -= 1
        made = table.closing[counts[JOKER], shortfall(table, counts)] == 0
        if made.any():
            return float(self.contest.weights[table.hand[made]].max())
        left = self.contest.keeps(self.contest.rack_of(table, counts, unseen, self.rack.race))
        return left[goes_best(left)]
