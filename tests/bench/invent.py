"""How long a sheet takes to be invented, and how it is balanced when played anew.

    python tests/bench/invent.py [--hands N,N,...] [--seed S] [--deals N] [--jobs J] [--drafts N]

One sheet for every number of hands, from seeds S, S + 1 and on. A row tells seconds on the clock and of the processor,
looks, the shares of sections and hands in deals that the sheet was not balanced on, and which of its bounds it did not
keep there. With --drafts: that many sheets of twelve hands before any balancing, how many of them read back without a
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
from engine.invent.bounds import WHOLE, bounds
from engine.invent.making import Wish, drafted, invent
from engine.sheet.reader import read
from engine.sheet.writer import write

FRESH = 77
"""The seed of the deals played anew: no look is made of these."""
TEN = "30,30,30,30,30,30,60,60,40,20"


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


def spent():
    """Seconds of the processor so far, those of ended worker processes included."""
    used = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    return sum(one.ru_utime + one.ru_stime for one in used)


def measured(sheet, deals, jobs):
    """Shares of sections and hands in fresh deals, in percent, and what of its bounds the sheet did not keep."""
    ended = simulate(SheetTable.of(sheet), deals, seed=FRESH, workers=jobs)
    counts = np.bincount(ended.hand[ended.hand >= 0], minlength=len(sheet.hands))
    shares = 100 * counts / counts.sum()
    lengths = np.cumsum([0, *(len(section.hands) for section in sheet.sections)])
    sections = np.array([shares[first:last].sum() for first, last in pairwise(lengths)])
    kept = bounds(len(sheet.hands), len(sheet.sections))
    percent = 100 / WHOLE
    broken = [
        said
        for said, number in (
            (f"hands over {kept.hand * percent:.1f}%", (shares > kept.hand * percent).sum()),
            (f"sections under {kept.least * percent:.0f}%", (sections < kept.least * percent).sum()),
            (f"sections over {kept.most * percent:.1f}%", (sections > kept.most * percent).sum()),
            ("hands never made", (counts == 0).sum()),
        )
        if number
    ]
    return sections, shares, counts, broken


def main():
    """Invent, play anew, print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--hands", default=TEN, help=f"hands of each sheet (default: {TEN})")
    parser.add_argument("--seed", type=int, default=1, help="seed of the first")
    parser.add_argument("--deals", type=int, default=5000, help="deals played anew on each")
    parser.add_argument("--jobs", type=int, default=None, help="processes at once (default: all cores)")
    parser.add_argument("--drafts", type=int, default=0, help="how many sheets to draft without balancing them")
    args = parser.parse_args()
    drafts(args.drafts)
    print("hands sections seed  clock    cpu looks  sections, %  hands, %      rarest  not kept")
    for seed, hands in enumerate(map(int, args.hands.split(",")), args.seed):
        looks = []
        start, before = time.perf_counter(), spent()

        def told(_, __, look, looks=looks):
            if not looks or looks[-1] != look:
                looks.append(look)

        made = invent(Wish(seed, hands), workers=args.jobs, told=told)
        clock, cpu = time.perf_counter() - start, spent() - before
        sections, shares, counts, broken = measured(made.sheet, args.deals, args.jobs)
        print(
            f"{hands:5} {len(sections):8} {seed:4} {clock:5.0f}s {cpu:5.0f}s {len(looks):5}  "
            f"{f'{sections.min():.1f} to {sections.max():.1f}':12} {f'{shares.min():.2f} to {shares.max():.2f}':13} "
            f"{counts.min():6}  {', '.join(broken) or 'nothing'}",
            flush=True,
        )
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"At most {memory:.0f} MiB in this process.")


if __name__ == "__main__":
    main()
