"""Games of random legal choices with every twist: faults, how they end, and how long one takes beside a plain one."""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter
from pathlib import Path

TESTS = Path(__file__).parents[1]
sys.path[:0] = [str(TESTS), str(TESTS / "engine" / "rules"), str(TESTS / "engine" / "rules" / "twists")]

from kit import Kit, practice_sheet  # noqa: E402
from test_twists import play  # noqa: E402

from engine.rules.house import FULL, House  # noqa: E402
from engine.rules.twists.names import TWISTS  # noqa: E402


def main() -> None:
    """Play and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--games", type=int, default=200, help="games with each twist (default: 200)")
    parser.add_argument("twists", nargs="*", default=TWISTS, metavar="TWIST", help="some of them (default: all)")
    asked = parser.parse_args()
    kit = Kit(practice_sheet(), practice_sheet())
    began = time.process_time()
    for seed in range(20):
        kit.random_game(House(table=FULL, passes=(0, 3, 6)[seed % 3]), seed)
    plain = (time.process_time() - began) / 20
    print(f"a plain game: {plain * 1000:.0f} ms of a core")
    for name in asked.twists:
        began = time.process_time()
        ends = Counter(play(kit, name, seed, keen=seed % 10 == 0).outcome.kind for seed in range(asked.games))
        share = (time.process_time() - began) / asked.games / plain
        print(f"{name}: {asked.games} games, every record replayed, {dict(ends)}; {share:.1f} times a plain game")


if __name__ == "__main__":
    main()
