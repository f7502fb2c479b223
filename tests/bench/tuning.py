"""What each number that the contest is tuned by does: games with many of them changed at once.

    python tests/bench/tuning.py --seconds N --sheet S [--sheet S]... [--seed S] [--jobs J] [-o FILE]

One seat of each deal plays by the contest, with every number of SETTINGS at its low or its high value, drawn by lot,
against three sharp seats of `reference_seats`. The same seat then plays the same deal with all of them the other way
round. Half the difference of the two games is the sum of what the numbers do, and each one's own part comes out by
least squares. Intervals are 95%. It asserts nothing.
"""

import argparse
import os
import random
import sys
import time
from concurrent.futures import ProcessPoolExecutor, as_completed
from functools import partial
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # the cores are shared out by process
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # runs from a checkout, installed or not
sys.path.insert(0, str(Path(__file__).resolve().parent))

import numpy as np
from full_table import Bench

from engine.advice.contest.choosing import choose
from engine.advice.contest.contest import Contest
from engine.advice.contest.tuning import Tuning

SETTINGS = {
    "fed": (0.4, 1.1),
    "dear": (0.6, 1.0),
    "hasten": (0.2, 1.0),
    "thrown": (0.25, 0.55),
    "call_margin": (0.82, 0.98),
    "too_far": (6, 8),
    "blind_gain": (1.0, 1.06),
    "pass_care": (0.0, 0.003),
}
NAMES = tuple(SETTINGS)

_benches = {}


def pair(stems, number, seed):
    """The sheet's place, the signs of the settings, and the seat's measures with them and with all of them changed."""
    place, seed = number % len(stems), seed + number
    if stems[place] not in _benches:
        _benches[stems[place]] = Bench(stems[place], "contest")
    bench = _benches[stems[place]]
    chance = random.Random(seed)
    signs = [chance.random() < 0.5 for _ in NAMES]
    seat = chance.randrange(4)
    bench.known.clear()
    found = []
    for turned in (False, True):
        chosen = {name: SETTINGS[name][sign != turned] for name, sign in zip(NAMES, signs, strict=True)}
        bench.other = partial(choose, Contest(bench.table, Tuning(**chosen)))
        bench.known = {key: action for key, action in bench.known.items() if not key[0]}
        found.append(bench.play(seed, seat, ())[seat])
    found.append(bench.play(seed, -1, ())[seat])
    return [place, *(1.0 if sign else -1.0 for sign in signs), *np.concatenate(found)]


def report(title, rows):
    """The mean of all games against sharp, and what each setting does from low to high."""
    count = len(NAMES)
    signs, rest = rows[:, 1 : 1 + count], rows[:, 1 + count :].reshape(len(rows), 3, -1)
    print(f"{title}: {len(rows)} pairs")
    for measure, name in enumerate(("points", "mahjongs", "fed")):
        ahead = rest[:, :2, measure].mean(axis=1) - rest[:, 2, measure]
        half = 1.96 * ahead.std() / np.sqrt(len(ahead))
        print(f"  {name} ahead of sharp: {ahead.mean():.2f} ± {half:.2f} (sharp {rest[:, 2, measure].mean():.2f})")
    lines = []
    for measure in (0, 1):
        change = rest[:, 0, measure] - rest[:, 1, measure]
        normal = np.linalg.pinv(signs.T @ signs)
        effect = normal @ signs.T @ change
        left = (change - signs @ effect).std()
        lines.append((effect, 1.96 * left * np.sqrt(np.diag(normal))))
    for place, name in enumerate(NAMES):
        low, high = SETTINGS[name]
        said = ", ".join(
            f"{what} {effect[place]:+.2f} ± {half[place]:.2f}"
            for what, (effect, half) in zip(("points", "mahjongs"), lines, strict=True)
        )
        print(f"  {name} from {low} to {high}: {said}")


def main():
    """Play until the time is up, print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--sheet", action="append", required=True)
    parser.add_argument("--seed", type=int, default=100_000)
    parser.add_argument("--jobs", type=int, default=os.cpu_count())
    parser.add_argument("-o", "--output", type=Path, help="a file for the rows")
    asked = parser.parse_args()
    began, rows, number = time.monotonic(), [], 0
    with ProcessPoolExecutor(asked.jobs) as pool:
        waiting = set()
        while time.monotonic() - began < asked.seconds:
            while len(waiting) < 4 * asked.jobs:
                waiting.add(pool.submit(pair, tuple(asked.sheet), number, asked.seed))
                number += 1
            done = next(as_completed(waiting))
            waiting.discard(done)
            rows.append(done.result())
        pool.shutdown(cancel_futures=True)
    found = np.array(rows)
    if asked.output:
        np.save(asked.output, found)
    for place, stem in enumerate(asked.sheet):
        report(stem, found[found[:, 0] == place])
    report("all", found)


if __name__ == "__main__":
    main()
