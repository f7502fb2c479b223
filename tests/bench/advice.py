"""How fast advice is: tiles missing for every variant, a full advise, and trying out choices and passes.

    python tests/bench/advice.py [--sheet S] [--tried N] [--full N]

With --tried: N choices from all over quiet games of 60 picks, and N first passes, are tried out. With --full: N deals
among four sharp seats; whenever one of them is to choose, all that the window advises there is worked out, and the
time told for each kind of choice. Run it by itself; it asserts no time.
"""

import argparse
import os
import statistics
import sys
import time
from collections import defaultdict
from pathlib import Path
from random import Random

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "engine" / "advice"))
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # runs from a checkout, installed or not

import numpy as np
import plain_advice as plain

from engine.advice.advise.discard import advise
from engine.advice.advise.passes import advise_passes, deepen_passes
from engine.advice.moment import Moment
from engine.advice.odds.reach import missing
from engine.advice.rollout.discards import try_choices
from engine.advice.rollout.games import DEALT, Games, walls_of
from engine.advice.rollout.policy import by_odds
from engine.advice.table import SheetTable
from engine.rules.actions import Exchange
from engine.rules.deal import DealCode
from engine.rules.game import apply, legal_actions
from engine.rules.house import FULL, House
from engine.rules.observation import observe
from engine.rules.passing import BEFORE_PLAY
from engine.rules.state import CHANCE, Phase
from engine.seats.character import Strength
from engine.seats.players import player
from engine.sheet.shelf import find
from engine.tiles import KINDS
from game.play.advising import advise_table
from game.play.advisor import Advisor

PICKS = 60
LAST = 45
"""The last pick at which a choice is tried out."""


def seconds(call, items, repeats):
    """The best of several runs over all items, per item."""
    best = float("inf")
    for _ in range(repeats):
        start = time.perf_counter()
        for item in items:
            call(*item)
        best = min(best, time.perf_counter() - start)
    return best / len(items)


def choices(table, number, seed=5):
    """Moments with a choice to make, at random picks of games by the advice."""
    rng = np.random.default_rng(seed)
    while number:
        wall = walls_of(rng, 1)[0]
        rack, unseen = (np.bincount(part, minlength=KINDS) for part in (wall[:DEALT], wall[DEALT:]))
        games, last = Games.of(table, rack[None], unseen[None]), int(rng.integers(1, LAST + 1))
        for pick in range(1, last + 1):
            games.come(wall[None, DEALT + pick - 1])
            if games.finished.any():
                break
            if pick < last:
                games.go(by_odds(table, games.batch(PICKS - pick)))
        else:
            number -= 1
            yield Moment.of(table, games.racks[0].tolist(), games.unseen[0].tolist(), PICKS - last)


def tried(table, number):
    """Print the processor time of trying out choices, and first passes above what their estimate takes."""
    taken, games = [], []
    for moment in choices(table, number):
        start = time.process_time()
        trial = try_choices(moment)
        taken.append(time.process_time() - start)
        games.append(sum(one.games for one in trial.tried.values()))
    print(f"choices tried out: {of_all(taken)}, {statistics.median(games):.0f} games")
    house = House(picks=PICKS, passes=6, courtesy=True)
    taken = []
    for seed in range(1, number + 1):
        observation = observe(DealCode.of(table.sheet, house, seed).deal(table.sheet), house.seat)
        start = time.process_time()
        advise_passes(table, observation)
        between = time.process_time()
        deepen_passes(table, observation)
        taken.append(time.process_time() - between - (between - start))
    print(f"first passes tried out: {of_all(taken)}")


def among_four(table, number):
    """Print what advice takes at each kind of choice of one seat at a full table, by the clock and of the processor."""
    house = House(table=FULL, passes=6, courtesy=True)
    play, taken = player(Strength.SHARP, table), defaultdict(list)
    advisor = Advisor(table.sheet, house.jokers)  # the window makes one for each sheet, too
    for seed in range(1, number + 1):
        state = DealCode.of(table.sheet, house, seed).deal(table.sheet)
        before = None
        while state.phase is not Phase.OVER:
            seat = state.to_act
            if seat == CHANCE:
                state = apply(state, legal_actions(state)[0])
                continue
            seen = observe(state, seat)
            if seat == house.seat:
                start = time.perf_counter(), time.process_time()
                if state.phase in BEFORE_PLAY:
                    advisor.before_play(seen, before)
                else:
                    advise_table(advisor, seen, before)
                taken[kind_of(seen)].append((time.perf_counter() - start[0], time.process_time() - start[1]))
                before = seen
            state = apply(state, play(seen))
    print("among four, milliseconds            choices   clock: median    95%   processor: median    95%")
    for name, times in sorted(taken.items()):
        cells = (1000 * np.percentile(np.array(times), share, axis=0) for share in (50, 95))
        (clock, own), (late, own_late) = cells
        print(f"{name:<34}{len(times):>9}{clock:>17.0f}{late:>7.0f}{own:>20.0f}{own_late:>7.0f}")


def kind_of(seen):
    """What kind of choice a seat has."""
    if seen.phase is Phase.PASSING:
        return f"pass {seen.passes_done + 1}"
    swaps = any(isinstance(action, Exchange) for action in seen.legal)
    return f"{seen.phase.value}{', a joker to be had' * swaps}"


def of_all(taken):
    """Median and largest of processor seconds."""
    return f"median {statistics.median(taken):.2f} s of the processor, at most {max(taken):.2f} s, of {len(taken)}"


def main():
    """Print the figures."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sheet", default="lantern-street", help="a shipped sheet or a path")
    parser.add_argument("--tried", type=int, default=0, help="so many choices and passes are tried out")
    parser.add_argument("--full", type=int, default=0, help="so many deals among four")
    args = parser.parse_args()
    table = SheetTable.of(find(args.sheet))
    random = Random(2026)
    pairs = [plain.random_rack(random, 14, shown=random.choice((0, 30, 60))) for _ in range(60)]
    racks = [(rack,) for rack, _ in pairs]
    print(f"{table.sheet.name}: {len(table.sheet.hands)} hands, {len(table)} variants, {len(pairs)} random racks of 14")

    fast = seconds(lambda rack: missing(table, rack), racks, 20)
    slow = seconds(lambda rack: [plain.missing(variant, rack) for variant in table.variants], racks[:10], 3)
    print(f"tiles missing: {1e6 * fast:.1f} microseconds a rack, {1e9 * fast / len(table):.1f} per 1,000 variants")
    print(f"tiles missing in plain Python: {1e3 * slow:.1f} milliseconds a rack; ratio {slow / fast:.0f}")

    for what, clock in (("by the clock", time.perf_counter), ("of the processor", time.process_time)):
        times = []
        for rack, unseen in pairs:
            start = clock()
            advise(Moment.of(table, rack, unseen, 40))
            times.append(1e3 * (clock() - start))
        slowest = sorted(times)[int(0.95 * len(times))]
        print(f"advise: median {statistics.median(times):.1f} milliseconds {what}, 95% under {slowest:.1f}")
    if args.full:
        among_four(table, args.full)
    if args.tried:
        tried(table, args.tried)


if __name__ == "__main__":
    main()
