"""How strong the advice is: picks needed on the quiet table, against a nearest-hand player and a bound.

    python tests/bench/strength.py --deals N [--advisor] [--sheet S] [--seed S] [--jobs J]

Every player plays the same walls: 13 tiles dealt, no passes, 60 picks allowed, an unfinished game counted as 70. The
bound is a player who knows the whole wall, which equals one whose rack has no limit. With --advisor every close choice
is tried out too, which takes half a minute of one core for a deal; the gap is then the advisor's. Intervals are 95%,
the gap's by the delta method over paired deals. It asserts nothing.
"""

import argparse
import os
import sys
import time
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # the cores are shared out by process
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # runs from a checkout, installed or not
sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "engine" / "advice"))

import numpy as np
from baselines import by_nearest, clairvoyant

from engine.advice.moment import Moment
from engine.advice.rollout.discards import try_choices
from engine.advice.rollout.games import simulate_quiet, walls_of
from engine.advice.rollout.policy import by_odds
from engine.advice.table import SheetTable
from engine.sheet.shelf import find

PICKS = 60
UNFINISHED = 70
BATCH = 250
WITHIN = (30, 40, 50, 60)


def by_trial(table, batch):
    """Each choice tried out: what advice comes to at the table after a second."""
    pairs = zip(batch.racks.tolist(), batch.unseen.tolist(), strict=True)
    return np.array([try_choices(Moment.of(table, rack, unseen, batch.draws)).goes for rack, unseen in pairs])


ADVISOR = "advisor"
PLAYERS = {
    "nearest hand": lambda table, walls: simulate_quiet(table, walls, by_nearest, PICKS),
    "by the odds": lambda table, walls: simulate_quiet(table, walls, by_odds, PICKS),
    ADVISOR: lambda table, walls: simulate_quiet(table, walls, by_trial, PICKS),
    "knows the wall": lambda table, walls: clairvoyant(table, walls, PICKS),
}


def play(job):
    """Picks of every player [players, deals] and processor seconds of each; a job is sheet, seed, batch, the part of
    its deals, and players."""
    sheet, seed, batch, part, players = job
    table = SheetTable.of(find(sheet))
    walls = walls_of(np.random.default_rng([seed, batch]), BATCH)[part]
    picks, taken = [], []
    for player in (PLAYERS[name] for name in players):
        start = time.process_time()
        picks.append(player(table, walls).picks)
        taken.append(time.process_time() - start)
    return np.array(picks), np.array(taken)


def interval(values):
    """Half the width of a 95% interval for a mean."""
    return 1.96 * values.std(ddof=1) / len(values) ** 0.5


def row(name, picks, speed):
    """One line of the table."""
    counted = np.where(picks == 0, UNFINISHED, picks)
    shares = []
    for limit in WITHIN:
        done = (picks > 0) & (picks <= limit)
        shares.append(f"{100 * done.mean():5.1f} ±{100 * interval(done.astype(float)):4.1f}")
    mean = f"{counted.mean():6.2f} ±{interval(counted):5.2f}"
    return f"{name:<15} {mean:>13} {np.median(counted):7.0f}   {'  '.join(shares)}  {speed:9,.0f}"


def main():
    """Play the deals on all cores and print the table."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--deals", type=int, default=1000, help="how many walls every player plays")
    parser.add_argument("--advisor", action="store_true", help="let the advisor play too, every choice tried out")
    parser.add_argument("--sheet", default="lantern-street", help="a shipped sheet or a path")
    parser.add_argument("--seed", type=int, default=1, help="another number gives other walls")
    parser.add_argument("--jobs", type=int, default=os.cpu_count(), help="processes at once")
    args = parser.parse_args()
    if args.deals < 2:
        parser.error("--deals: give 2 or more")
    players = [name for name in PLAYERS if args.advisor or name != ADVISOR]
    at_once = 4 if args.advisor else BATCH
    jobs = [
        (args.sheet, args.seed, at, slice(first, min(first + at_once, args.deals - at)), players)
        for at in range(0, args.deals, BATCH)
        for first in range(0, min(BATCH, args.deals - at), at_once)
    ]
    start = time.perf_counter()
    with ProcessPoolExecutor(max_workers=args.jobs) as pool:
        results = list(pool.map(play, jobs))
    picks = np.concatenate([batch for batch, _ in results], axis=1)
    taken = sum(seconds for _, seconds in results)

    sheet = find(args.sheet)
    variants = len(SheetTable.of(sheet))
    print(f"{sheet.name}: {len(sheet.hands)} hands, {variants:,} variants; {args.deals:,} deals, seed {args.seed}")
    heads = "  ".join(f"{'within ' + str(limit) + ' %':>12}" for limit in WITHIN)
    print(f"{'player':<15} {'mean picks':>13} {'median':>7}   {heads}  {'games/s':>9}")
    for name, column, seconds in zip(players, picks, taken, strict=True):
        print(row(name, column, args.deals / seconds))
    counted = dict(zip(players, np.where(picks == 0, UNFINISHED, picks).astype(float), strict=True))
    best = players[-2]
    gain = counted["nearest hand"] - counted[best]
    room = counted["nearest hand"] - counted["knows the wall"]
    share = gain.mean() / room.mean()
    error = interval(gain - share * room) / room.mean()
    print(f"{best} against nearest hand, same walls: {gain.mean():.2f} picks fewer, ±{interval(gain):.2f}")
    if args.advisor:
        more = counted["by the odds"] - counted[ADVISOR]
        print(f"advisor against by the odds, same walls: {more.mean():.2f} picks fewer, ±{interval(more):.2f}")
    print(
        f"{time.perf_counter() - start:.0f} seconds in {args.jobs} processes; games/s is for a second of one processor"
    )
    print(f"gap closed: {100 * share:.0f}% plus or minus {100 * error:.0f}, over {args.deals} deals")


if __name__ == "__main__":
    main()
