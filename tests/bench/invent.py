"""How long a sheet takes to be invented, and how it is balanced when played anew.

    python tests/bench/invent.py [--seeds N] [--hands N] [--deals N] [--jobs J]

For each seed: seconds, looks, the shares of its sections and of its most and least made hand in deals that it was not
balanced on. It asserts nothing.
"""

import argparse
import resource
import sys
import time
from itertools import pairwise
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # runs from a checkout, installed or not

import numpy as np

from engine.advice.simulation.simulate import simulate
from engine.advice.table import SheetTable
from engine.invent.making import Wish, invent

FRESH = 77
"""The seed of the deals played anew: no look is made of these."""


def main():
    """Invent, play anew, print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seeds", type=int, default=3, help="how many sheets")
    parser.add_argument("--hands", type=int, default=60, help="hands of each")
    parser.add_argument("--deals", type=int, default=5000, help="deals played anew on each")
    parser.add_argument("--jobs", type=int, default=None, help="processes at once (default: all cores)")
    args = parser.parse_args()
    for seed in range(1, args.seeds + 1):
        looks = set()
        start = time.perf_counter()
        made = invent(Wish(seed, args.hands), workers=args.jobs, told=lambda _, __, look: looks.add(look))  # noqa: B023
        spent = time.perf_counter() - start
        ended = simulate(SheetTable.of(made.sheet), args.deals, seed=FRESH, workers=args.jobs)
        counts = np.bincount(ended.hand[ended.hand >= 0], minlength=len(made.sheet.hands))
        shares = 100 * counts / counts.sum()
        lengths = np.cumsum([0, *(len(section.hands) for section in made.sheet.sections)])
        sections = [shares[first:last].sum() for first, last in pairwise(lengths)]
        print(
            f"{made.sheet.name}, seed {seed}: {spent:.0f} s, {len(looks)} looks; sections {min(sections):.1f}% to "
            f"{max(sections):.1f}%, hands {shares.min():.2f}% to {shares.max():.2f}%, never made {sum(counts == 0)}"
        )
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"At most {memory:.0f} MiB in this process.")


if __name__ == "__main__":
    main()
