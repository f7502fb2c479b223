"""How fast advice is: tiles missing for every variant, and a full advise. Run it by itself; it asserts no time.

python tests/bench/advice.py [--sheet S]
"""

import argparse
import statistics
import sys
import time
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "engine" / "advice"))
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # runs from a checkout, installed or not

import plain_advice as plain

from engine.advice.advise.discard import advise
from engine.advice.moment import Moment
from engine.advice.odds.reach import missing
from engine.advice.table import SheetTable
from engine.sheet.shelf import find


def seconds(call, items, repeats):
    """The best of several runs over all items, per item."""
    best = float("inf")
    for _ in range(repeats):
        start = time.perf_counter()
        for item in items:
            call(*item)
        best = min(best, time.perf_counter() - start)
    return best / len(items)


def main():
    """Print the figures."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--sheet", default="lantern-street", help="a shipped sheet or a path")
    table = SheetTable.of(find(parser.parse_args().sheet))
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


if __name__ == "__main__":
    main()
