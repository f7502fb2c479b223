"""How long a sheet takes to be invented, and how it is balanced when played anew.

    python tests/bench/invent.py [--seeds N] [--hands N] [--deals N] [--jobs J] [--drafts N]

For each seed: seconds, looks, the shares of its sections and of its most and least made hand in deals that it was not
balanced on. With --drafts: that many sheets of twelve hands before any balancing, how many of them read back without a
fault, and the largest share of hands that two of them have in common. It asserts nothing.
"""

import argparse
import resource
import sys
import time
from itertools import combinations, pairwise
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # runs from a checkout, installed or not

import numpy as np

from engine.advice.simulation.simulate import simulate
from engine.advice.table import SheetTable
from engine.invent.making import Wish, drafted, invent
from engine.sheet.reader import read
from engine.sheet.writer import write

FRESH = 77
"""The seed of the deals played anew: no look is made of these."""


def drafts(number):
    """Draft, write out, read back and lay side by side."""
    if not number:
        return
    start, whole, hands = time.perf_counter(), 0, []
    for seed in range(1, number + 1):
        sheet = drafted(Wish(seed, 12))
        reading = read(write(sheet))
        whole += not reading.faults and reading.sheet.hands == sheet.hands
        hands.append({frozenset(variant.key for variant in hand.variants) for hand in sheet.hands})
    common = max(len(one & other) for one, other in combinations(hands, 2)) if number > 1 else 0
    spent = time.perf_counter() - start
    print(
        f"{number} drafts in {spent:.0f} s: {whole} read back whole; two have at most {common} of 12 hands in common."
    )


def main():
    """Invent, play anew, print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seeds", type=int, default=3, help="how many sheets")
    parser.add_argument("--hands", type=int, default=60, help="hands of each")
    parser.add_argument("--deals", type=int, default=5000, help="deals played anew on each")
    parser.add_argument("--jobs", type=int, default=None, help="processes at once (default: all cores)")
    parser.add_argument("--drafts", type=int, default=0, help="how many sheets to draft without balancing them")
    args = parser.parse_args()
    drafts(args.drafts)
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
