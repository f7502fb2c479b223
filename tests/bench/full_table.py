"""How good the advice is at a full table: it sits in each seat in turn against three sharp seats that never change.

    python tests/bench/full_table.py --deals N [--swaps] [--bounds] [--sheet S] [--seed S] [--jobs J]

The sharp seats are those of `reference_seats`. Every deal is played by four sharp seats once, then with the advice in
each seat. The payments of one game add up to nothing, so what the advice wins in the mean of the four seats is what it
is ahead of a sharp seat in the same places. With --swaps the same deals are played again, each time with one sort of
choice left to the sharp seat's own judgement. With --bounds they are played by the same engine with knowledge that no
player has: what is left in the wall, which tiles would finish another seat's hand, or both. Intervals are 95%, by deal.
It asserts nothing.
"""

import argparse
import math
import os
import sys
import time
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from functools import cached_property, partial
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # the cores are shared out by process
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # runs from a checkout, installed or not
sys.path.insert(0, str(Path(__file__).resolve().parent))

import numpy as np
from reference_seats.character import Strength
from reference_seats.players import player

from engine.advice.advise.calls import advise_call
from engine.advice.advise.defence import advise_defence
from engine.advice.advise.discard import advise
from engine.advice.advise.exchanges import advise_exchange
from engine.advice.advise.passes import choose_before_play
from engine.advice.advise.verdict import verdict_of
from engine.advice.contest.choosing import choose
from engine.advice.contest.contest import Contest, Rack, goes_best
from engine.advice.contest.pace import MOST
from engine.advice.moment import Moment
from engine.advice.table import SheetTable
from engine.rules.actions import Discard, Exchange, Mahjong
from engine.rules.deal import SEEDS, shuffle
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import FULL, House
from engine.rules.matching import hand_of
from engine.rules.observation import observe
from engine.rules.state import CHANCE, Phase
from engine.seats.character import Strength as StrengthOfToday
from engine.seats.players import player as seat_of_today
from engine.sheet.shelf import find
from engine.tiles import counts_of

HOUSE = House(table=FULL, passes=6, courtesy=True)
PASSES, CALLS, DISCARDS = "passes", "calls", "discards"
SORTS = {Phase.CALLING: CALLS, Phase.TURN: DISCARDS}
"""Sorts of choices by phase; all others are passes."""
WALL, FEEDING = "knows what is left in the wall", "never lets a winning tile go"
BOUNDS = ((WALL,), (FEEDING,), (WALL, FEEDING))
"""What no player knows, and how it plays then."""
MEASURES = ("points", "mahjongs", "fed")
"""What is noted of a seat in a game: points won, 100 for a mahjong, 100 for a tile let go that another won on."""


def advised(table, observation):
    """What the advice at the table comes to, as it is shown at once."""
    if len(observation.legal) == 1:
        return observation.legal[0]
    if observation.phase is Phase.CALLING:
        return advise_call(table, observation).best.action
    if observation.phase is not Phase.TURN:
        return choose_before_play(table, observation)
    if Mahjong() in observation.legal:
        return Mahjong()
    open_to_exchange = any(isinstance(action, Exchange) for action in observation.legal)
    exchange = advise_exchange(table, observation) if open_to_exchange else None
    rack = advise(Moment.seen(table, observation))
    return verdict_of(rack, None, exchange, advise_defence(observation)).action


class Bench:
    """The players of one sheet. What a player has chosen for an observation is remembered for the rest of a deal."""

    def __init__(self, stem, challenger):
        self.sheet = find(stem)
        self.table = table = SheetTable.of(self.sheet, HOUSE.jokers)
        self.sharp = player(Strength.SHARP, table)
        strengths = {one.value: one for one in StrengthOfToday}
        if challenger == "advice":
            self.other = partial(advised, table)
        elif challenger == "contest":
            self.other = partial(choose, Contest(table))
        else:
            self.other = seat_of_today(strengths[challenger], table)
        self.contest = Contest(table)
        self.known = {}
        self.seconds = []

    def choose(self, own, observation):
        """The action of the challenger (`own`) or of a sharp seat."""
        key = own, observation
        if key not in self.known:
            began = time.process_time()
            self.known[key] = (self.other if own else self.sharp)(observation)
            if own:
                self.seconds.append(time.process_time() - began)
        return self.known[key]

    def knowing(self, state, observation, knows):
        """The action of the contest for a player who knows more than a player can."""
        contest = Seeing(self.table, counts_of(state.wall)) if WALL in knows else self.contest
        key = knows, observation
        if key not in self.known:
            self.known[key] = choose(contest, observation)
        action = self.known[key]
        if FEEDING not in knows or not isinstance(action, Discard) or not feeds(state, action.kind):
            return action
        left = contest.discards(observation)
        safe = {kind: one for kind, one in left.items() if not feeds(state, kind)}
        return Discard(goes_best(safe)) if safe else action

    def play(self, seed, seat, swapped, knows=()):
        """One game with the challenger in `seat` (in none for -1), the sorts of choices `swapped` left to the sharp
        seat, or with one that `knows` more: [4, measures]."""
        state = start(self.sheet, HOUSE, shuffle(seed, HOUSE.jokers))
        while state.phase is not Phase.OVER:
            if state.to_act == CHANCE:
                action = legal_actions(state)[0]
            else:
                observation = observe(state, state.to_act)
                own = state.to_act == seat and SORTS.get(state.phase, PASSES) not in swapped
                if own and knows and len(observation.legal) > 1:
                    action = self.knowing(state, observation, knows)
                else:
                    action = self.choose(own, observation)
            state = apply(state, action)
        ended = state.outcome
        result = np.zeros((4, len(MEASURES)))
        result[:, 0] = ended.payments
        if ended.winner is not None:
            result[ended.winner, 1] = 100.0
        if ended.discarder is not None:
            result[ended.discarder, 2] = 100.0
        return result


class Seeing(Contest):
    """Judges racks knowing how many tiles of each kind the wall still holds, once play has begun."""

    def __init__(self, table, wall):
        super().__init__(table)
        self.wall = wall

    def rack_of(self, table, counts, unseen, race):
        """A rack by its parts."""
        return SeenRack(table, tuple(counts), tuple(unseen), race, self.table, self.tuning, self.wall)


@dataclass(frozen=True, eq=False)
class SeenRack(Rack):
    """A rack of one who knows what is left in the wall. What others hold may still be called."""

    wall: tuple[int, ...] = ()

    @cached_property
    def come(self):
        """What comes until the game ends."""
        return self.by_wall(super().come)

    @cached_property
    def later(self):
        """What would come if a whole turn were lost."""
        return self.by_wall(super().later)

    def by_wall(self, come):
        """The same with each kind drawn as often as it lies in the wall."""
        if self.race.passes or not sum(self.wall):
            return come
        unseen, wall = np.maximum(self.unseen, 1), np.array(self.wall)
        there = wall / sum(wall) * sum(self.unseen) / unseen
        return replace(come, drawn=np.minimum(come.drawn * there[:, None], MOST))


def feeds(state, kind):
    """Whether another seat could show mahjong with this tile, let go now."""
    after = apply(state, Discard(kind))
    return after.phase is Phase.CALLING and any(hand_of(after, seat) is not None for seat in after.asked)


_benches = {}


def deal(stem, challenger, swaps, bounds, seed):
    """[1 + swaps + bounds, measures] the means over the four seats of one deal, sharp seats first; and seconds a
    choice."""
    key = stem, challenger
    if key not in _benches:
        _benches[key] = Bench(stem, challenger)
    bench = _benches[key]
    bench.known.clear()
    bench.seconds.clear()
    found = [bench.play(seed, -1, ()).mean(axis=0)]
    players = [(swapped, ()) for swapped in swaps] + [((), knows) for knows in bounds]
    found += [np.mean([bench.play(seed, seat, *player)[seat] for seat in range(4)], axis=0) for player in players]
    return np.array(found), tuple(bench.seconds)


def interval(values):
    """Mean and half of its 95% interval (normal)."""
    spread = 1.96 * float(values.std(ddof=1)) / math.sqrt(len(values)) if len(values) > 1 else math.inf
    return float(values.mean()), spread


def main():
    """Play the deals, print a line for each player, end with the one line."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--deals", type=int, default=100, help="each is played five times, and four more for each swap")
    parser.add_argument("--swaps", action="store_true", help="leave one sort of choice to the sharp seat's judgement")
    parser.add_argument("--bounds", action="store_true", help="play with knowledge that no player has, too")
    parser.add_argument("--own", action="append", choices=(PASSES, CALLS, DISCARDS), help="choose these alone oneself")
    parser.add_argument("--sheet", default="lantern-street", help="a shipped sheet's stem, or a file")
    parser.add_argument("--seed", type=int, default=1, help="seed of the first deal")
    parser.add_argument("--jobs", type=int, default=os.cpu_count(), help="processes")
    players = ["advice", "contest", *(one.value for one in StrengthOfToday)]
    parser.add_argument("--player", default="advice", choices=players, help="who sits against the sharp seats")
    asked = parser.parse_args()
    if asked.deals < 1 or asked.jobs < 1 or not 0 <= asked.seed <= SEEDS - asked.deals:
        parser.error(f"--deals and --jobs are at least 1, --seed is 0 to {SEEDS} less the deals")
    sorts = (PASSES, CALLS, DISCARDS)
    swaps = [tuple(one for one in sorts if asked.own and one not in asked.own)]
    swaps += [(one,) for one in sorts] if asked.swaps else []
    bounds = BOUNDS if asked.bounds else ()
    found, seconds = [], []
    work = partial(deal, asked.sheet, asked.player, tuple(swaps), bounds)
    with ProcessPoolExecutor(asked.jobs) as pool:
        for number, (measured, taken) in enumerate(pool.map(work, range(asked.seed, asked.seed + asked.deals)), 1):
            found.append(measured)
            seconds += taken
            if sys.stderr.isatty():
                print(f"\r{number} of {asked.deals}", end="", file=sys.stderr)
    played = np.array(found)  # [deals, 1 + players, measures]
    names = [f"{asked.player}, but sharp {' and '.join(swapped)}" if swapped else asked.player for swapped in swaps]
    names += [f"one who {' and '.join(knows)}" for knows in bounds]
    for place, name in enumerate(names, 1):
        ahead = [interval(played[:, place, m] - played[:, 0, m]) for m in range(len(MEASURES))]
        said = ", ".join(f"{of} {mean:.1f} ± {half:.1f}" for of, (mean, half) in zip(MEASURES, ahead, strict=True))
        print(f"{name}: {played[:, place, 1].mean():.1f}% of mahjongs; ahead: {said}")
    taken = np.array(seconds) * 1000
    usual, most = np.median(taken), np.quantile(taken, 0.99)
    print(f"a choice takes {usual:.1f} ms of the processor in the median, {most:.0f} ms at most in 99 of 100")
    points, half = interval(played[:, 1, 0])
    won, sharp = played[:, 1, 1].mean(), played[:, 0, 1].mean()
    print(
        f"{asked.player} at the full table: {won:.1f}% of mahjongs against {sharp:.1f}% of a sharp seat, "
        f"{points:.1f} plus or minus {half:.1f} points a game ahead, over {asked.deals} deals"
    )


if __name__ == "__main__":
    main()
