"""What a moment of a game at a full table is worth to one seat, in points: what it wins or pays on average.

The value rests on the contest. It counts the chance to win, what each hand pays, the chance that another wins instead,
and what mistaken mahjongs have cost already. A hand that can be shown is worth just what it is paid.

Values are whole hundredths of a point, so that differences of them add up exactly.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

import numpy as np

from engine.advice.contest.choosing import best_gone, calls_that_go_on, choose, good_exchange, to_come
from engine.advice.contest.contest import Danger, Rack, contest_of, goes_best
from engine.advice.contest.pace import SELDOM, another_wins
from engine.advice.race import Race
from engine.advice.table import SheetTable
from engine.advice.worth.finish import dealt
from engine.advice.worth.incoming import let_go_by_others
from engine.rules.actions import (
    PASS_TILES,
    Action,
    Agree,
    Ask,
    Call,
    Discard,
    Draw,
    Exchange,
    Give,
    LetGo,
    Mahjong,
    Pass,
    Stop,
)
from engine.rules.game import apply
from engine.rules.matching import tiles_to_show
from engine.rules.observation import Observation, observe
from engine.rules.passing import BEFORE_PLAY
from engine.rules.scoring import mistakes_paid, won
from engine.rules.state import Exposure, Phase, State
from engine.tiles import JOKER, Counts, Kind

CENTS = 100
"""Hundredths in a point."""
DEALS, SEED = 200, 20261
"""Random deals that the average deal is estimated from, and the seed of that sample."""


class PointsValue:
    """Values moments of one sheet's games, each as the player's seat sees it: hidden tiles change nothing."""

    def __init__(self, table: SheetTable) -> None:
        self.contest = contest_of(table)
        self._ready = let_go_by_others(table)
        self._waits: tuple[Counts, tuple[Exposure, ...]] | None = None
        self._gain: dict[Kind, int] = {}

    def advised(self, state: State) -> Action:
        """What the contest would do where the player is to choose."""
        return choose(self.contest, _seen(state))

    def of(self, state: State) -> int:
        """The value of a moment, with good play from here on. While others choose, it is that of waiting."""
        if state.phase is Phase.OVER:
            return _paid(state)
        seen = _seen(state)
        if state.phase is Phase.TURN and state.to_act == seen.seat and seen.hand is None:
            return self._cents(state, self._turn(seen)[0])
        if state.to_act == seen.seat:
            return self.after(state, self.advised(state))
        return self._cents(state, self._waiting(seen))

    def after(self, state: State, action: Action) -> int:
        """The value once the player has made this choice, before anything else happens."""
        return self._cents(state, self._after(state, _seen(state), action))

    def dealt(self, state: State) -> tuple[int, int]:
        """For a state in which nothing has come to the player's rack yet: its value before anything is chosen, and the
        mean of that over random deals."""
        seen = _seen(state)
        before_play = seen.phase in BEFORE_PLAY
        race = Race.seen(seen, to_come(seen) if before_play else 0)
        average = average_worth(self.contest.table, len(seen.rack), race, before_play)
        worth = self.of_rack(seen.counts, seen.unseen, race, before_play)
        return self._cents(state, worth), self._cents(state, average)

    def of_rack(self, counts: Sequence[int], unseen: Sequence[int], race: Race, before_play: bool) -> float:
        """The value, in points, of a rack with nothing laid, by its counts of 36 and those of the unseen tiles."""
        return self._value(self.contest.rack_of(self.contest.table, counts, unseen, race), race, before_play)

    def gone_by(self, before: State, after: State) -> int:
        """The value after another seat let a tile go, had nobody seen which: only the turn has moved on."""
        seen, then = _seen(before), _seen(after)
        if seen.dead[seen.seat]:
            return self.of(after)
        race = Race.seen(then)
        table = self.contest.after(seen.exposures[seen.seat])
        return self._cents(after, self._value(self.contest.rack_of(table, seen.counts, seen.unseen, race), race))

    def calls_bring(self, before: State) -> int:
        """For a state in which another seat is about to let a tile go: what the player's calls of it bring on average,
        over the tiles that may come, weighted by how ready others are to let each kind go."""
        seen = _seen(before)
        if seen.dead[seen.seat]:
            return 0
        often = np.array(seen.unseen) * (SELDOM + self._ready)
        often[JOKER] = 0.0
        gains = self._gains(before, seen)
        return round(sum(float(often[kind]) * gain for kind, gain in gains.items()) / max(float(often.sum()), 1.0))

    def _gains(self, before: State, seen: Observation) -> dict[Kind, int]:
        """What a discard of each kind would bring a player who may call it, where that is something. It is worked out
        once for a rack that waits; only the time changes meanwhile."""
        laid = seen.exposures[seen.seat]
        if self._waits != (seen.counts, laid):
            self._waits, self._gain = (seen.counts, laid), {}
            for kind in range(JOKER):
                if seen.unseen[kind]:
                    asked = _asked_about(before, kind)
                    if asked is not None:
                        gain = self.of(asked) - self.after(asked, LetGo())
                        if gain > 0:
                            self._gain[kind] = gain
        return self._gain

    def before_draw(self, state: State) -> tuple[int, int]:
        """For a state in which the player is about to draw: the value after the tile that comes, and the mean value
        over every tile that might have come, each as likely as any other."""
        seen = _seen(state)
        values = {kind: self.of(_with_next(state, kind)) for kind, left in enumerate(seen.unseen) if left}
        mean = sum(seen.unseen[kind] * value for kind, value in values.items()) / sum(seen.unseen)
        return values[state.wall[0]], round(mean)

    def _cents(self, state: State, points: float) -> int:
        settled = mistakes_paid(state.house, _mistaken(state))[state.house.seat]
        return round(CENTS * points) + CENTS * settled

    def _waiting(self, seen: Observation) -> float:
        if seen.dead[seen.seat]:
            return self._lost(Race.seen(seen))
        if seen.phase in BEFORE_PLAY:
            return self._rack(seen, to_come(seen), ())
        return self._rack(seen, 0, ())

    def _after(self, state: State, seen: Observation, action: Action) -> float:
        match action:
            case Mahjong():
                return self._shown(state, seen)
            case Discard(kind):
                return self._fed(self._rack(seen, 0, (kind,)), kind, self.contest.danger(seen))
            case Exchange(_, _, kind):
                return self._exchanged(seen, kind)
            case Call() if action not in calls_that_go_on(seen):
                return self._shown(state, seen) if seen.hand is not None else self._lost(Race.seen(seen))
            case Call():
                return self._called(seen, action)
            case LetGo():
                return self._rack(seen, 0, ())
            case Pass(kinds, blind):
                return self._rack(seen, to_come(seen) - blind, kinds)
            case Give(kinds):
                return self._rack(seen, len(kinds), kinds)
            case Ask(number):
                return self._passed(seen, number, number)
            case Agree():
                return self._passed(seen, PASS_TILES, to_come(seen))
            case Stop():
                most = PASS_TILES * seen.house.courtesy
                return max(self._passed(seen, number, number) for number in range(most + 1))
        raise ValueError(f"“{action}” is no choice at a full table")

    def _turn(self, seen: Observation) -> tuple[float, Action]:
        """The value of an unfinished rack in the player's turn, and the advised action, as `choose` finds it, worked
        out in one go."""
        exchange = good_exchange(self.contest, seen)
        if exchange is not None:
            return self._exchanged(seen, exchange.kind), exchange
        rack, danger = self.contest.rack(seen), self.contest.danger(seen)
        goes = goes_best(danger.taken_off(self.contest.keeps(rack)))
        return self._fed(self._value(rack, Race.seen(seen), gone=(goes,)), goes, danger), Discard(goes)

    def _fed(self, points: float, kind: Kind, danger: Danger) -> float:
        """The value with the danger that the tile let go finishes another's hand."""
        risk = float(danger.risks[kind])
        fed = self.contest.tuning.saved + danger.fed * self.contest.stake
        return points * (1.0 - risk) - risk * fed * self.contest.usual

    def _passed(self, seen: Observation, number: int, coming: int) -> float:
        """The value with the best choice of so many tiles to go, and so many to come."""
        return self._rack(seen, coming, best_gone(self.contest, seen, number, coming)[1])

    def _shown(self, state: State, seen: Observation) -> float:
        """What a hand that is shown wins; a mistaken one pays, and its seat plays no more."""
        if seen.hand is None:
            mistaken = [*_mistaken(state), seen.seat]
            before = mistakes_paid(state.house, _mistaken(state))[seen.seat]
            return self._lost(Race.seen(seen)) + mistakes_paid(state.house, mistaken)[seen.seat] - before
        discarder = state.called_from if state.phase is Phase.TURN else seen.discards[-1].seat
        tiles = tiles_to_show(seen.rack, seen.seat, seen.phase, seen.discards)
        let_go = sum(discard.seat == seen.seat for discard in seen.discards)
        laid = seen.exposures[seen.seat]
        return float(won(state.house, seen.seat, seen.hand, tiles, laid, discarder, (), let_go).payments[seen.seat])

    def _rack(self, seen: Observation, coming: int, gone: Sequence[Kind]) -> float:
        race = Race.seen(seen, coming)
        return self._value(self.contest.rack(seen, coming), race, seen.phase in BEFORE_PLAY, gone)

    def _value(self, rack: Rack, race: Race, before_play: bool = False, gone: Sequence[Kind] = ()) -> float:
        worths, figures = self.contest.both(rack, [gone])
        return self._points(float(worths[0]), float(figures[0]), race, before_play=before_play)

    def _exchanged(self, seen: Observation, kind: Kind) -> float:
        rack = self.contest.rack(seen)
        counts = list(rack.counts)
        counts[kind] -= 1
        counts[JOKER] += 1
        return self._best(replace(rack, counts=tuple(counts)), Race.seen(seen))

    def _called(self, seen: Observation, call: Call) -> float:
        kind = seen.discards[-1].kind
        laid = Exposure(call.size, kind, call.jokers)
        counts = list(seen.counts)
        counts[kind] -= laid.real - 1
        counts[JOKER] -= laid.jokers
        table = self.contest.after((*seen.exposures[seen.seat], laid))
        race = replace(Race.seen(seen), ahead=0.0)
        return self._best(self.contest.rack_of(table, counts, seen.unseen, race), race)

    def _best(self, rack: Rack, race: Race) -> float:
        """The value with the best tile let go, whoever it may serve."""
        return self._value(rack, race, gone=(goes_best(self.contest.keeps(rack)),))

    def _points(self, worth: float, figure: float, race: Race, *, before_play: bool = False) -> float:
        """What a rack wins or pays on average, by the contest's worth and figure.

        The worth counts what a win collects, by its hand's points, and what it saves, by a usual hand's. Without what
        is saved it tells what a win collects. The figure's curve sets the chance to win right.
        """
        chance = self.contest.chance_of(figure, race, before_play=before_play)
        saved = self.contest.tuning.saved
        collected = max(worth * self.contest.stake - saved * figure, 0.0) / figure if figure else 0.0
        return self.contest.usual * chance * collected + (1.0 - chance) * self._lost(race)

    def _lost(self, race: Race) -> float:
        """What a seat that doesn't win pays on average."""
        return -self.contest.tuning.saved * self.contest.usual * another_wins(race)


@lru_cache(maxsize=8)
def average_worth(table: SheetTable, tiles: int, race: Race, before_play: bool, deals: int = DEALS) -> float:
    """The mean value, in points, of random deals of 13 or 14 tiles, from a fixed sample."""
    value = PointsValue(table)
    racks, unseen = dealt(np.random.default_rng(SEED), tiles, table.jokers, deals)
    return float(np.mean([
        value.of_rack(rack.tolist(), hidden.tolist(), race, before_play)
        for rack, hidden in zip(racks, unseen, strict=True)
    ]))  # fmt: skip


def _seen(state: State) -> Observation:
    return observe(state, state.house.seat)


def _paid(state: State) -> int:
    return CENTS * state.outcome.payments[state.house.seat] if state.outcome is not None else 0


def _mistaken(state: State) -> list[int]:
    """Seats that have shown a mahjong by mistake."""
    return [seat for seat, died in enumerate(state.died) if died is not None and died.exposure is None]


def _asked_about(state: State, kind: Kind) -> State | None:
    """The state in which the player is asked about a discard of this kind by the seat in turn, which holds one wherever
    it lay; None where the player is not asked."""
    changed = _moved(state, kind, state.turn)
    after = apply(changed, Discard(kind))
    seat = state.house.seat
    if after.phase is not Phase.CALLING or seat not in after.asked:
        return None
    return replace(after, to_act=seat)


def _moved(state: State, kind: Kind, seat: int) -> State:
    """The state with a hidden tile of this kind on another seat's rack, changed for the tile that stood there last."""
    racks = [list(rack) for rack in state.racks]
    wall = list(state.wall)
    if kind not in racks[seat]:
        hidden = [wall, *(rack for other, rack in enumerate(racks) if other not in (seat, state.house.seat))]
        found = next(tiles for tiles in hidden if kind in tiles)
        place = found.index(kind)
        found[place], racks[seat][-1] = racks[seat][-1], kind
    return replace(state, wall=tuple(wall), racks=tuple(map(tuple, racks)))


def _with_next(state: State, kind: Kind) -> State:
    """The state after the player draws a tile of this kind, taken from the wall or from another rack."""
    wall = list(state.wall)
    racks = [list(rack) for rack in state.racks]
    others = [rack for seat, rack in enumerate(racks) if seat != state.house.seat]
    for hidden in (wall, *others):
        if kind in hidden:
            place = hidden.index(kind)
            hidden[place], wall[0] = wall[0], kind
            break
    changed = replace(state, wall=tuple(wall), racks=tuple(map(tuple, racks)))
    return apply(changed, Draw(kind))
