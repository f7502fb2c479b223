"""How fast advice is: tiles missing for every variant, a full advise, and trying out choices and passes.

    python tests/bench/advice.py [--sheet S] [--tried N]

With --tried: N choices from all over quiet games of 60 picks, and N first passes, are tried out. Run it by itself; it
asserts no time.
"""

import argparse
import os
import statistics
import sys
import time
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
from engine.rules.deal import DealCode
from engine.rules.house import House
from engine.rules.observation import observe
from engine.sheet.shelf import find
from engine.tiles import KINDS

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


def of_all(taken):
    """Median and largest of processor seconds."""
    return f"median {statistics.median(taken):.2f} s of the processor, at most {max(taken):.2f} s, of {len(taken)}"


def main():
    """Print the figures."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sheet", default="lantern-street", help="a shipped sheet or a path")
    parser.add_argument("--tried", type=int, default=0, help="so many choices and passes are tried out")
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
    if args.tried:
        tried(table, args.tried)


if __name__ == "__main__":
    main()
