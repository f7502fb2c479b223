"""Whether what advice says comes true: what `worth` says of racks against how games by the advice go on.

    python tests/bench/calibration.py --deals N [--sheet S] [--seed S]

At every choice of N quiet games (60 picks) the chance, averaged over the draws to come, that a hand is made by then is
set against whether one was, once the advised tile had gone. It prints the tenths of what
was said, and asserts nothing. A game gives many rows that hang together, so the intervals go by games, not by rows.
"""

import argparse
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # runs from a checkout, installed or not

import numpy as np

from engine.advice.choice import let_go
from engine.advice.quiet import simulate_quiet, walls_of
from engine.advice.table import SheetTable
from engine.advice.worth import weigh
from engine.sheet.shelf import find

PICKS = 60
BATCH = 250


def follow(table, walls):
    """For every choice: game, draws to come, picks until the game ended (1000 if never), and the worth said."""
    said = []

    def policy(table, batch):
        left = weigh(table, batch.racks, batch.unseen, batch.draws, short=batch.short, alive=batch.alive).left
        goes = let_go(table, batch.racks, batch.short, batch.alive, left)
        said.append((batch.draws, left[np.arange(len(goes)), goes]))
        return goes

    picks = simulate_quiet(table, walls, policy, PICKS).picks
    rows = []
    for pick, (draws, worths) in enumerate(said, 1):
        live = np.flatnonzero((picks == 0) | (picks > pick))
        until = np.where(picks[live] == 0, 1000, picks[live] - pick)
        rows.append((live, np.full(len(live), draws), until, worths))
    return [np.concatenate(column) for column in zip(*rows, strict=True)]


def came(draws, until):
    """For each choice, the share of the draws to come after which a hand was made."""
    return np.maximum(draws - until + 1, 0) / draws


def spread(games, errors):
    """Half of a 95% interval for the mean of errors that hang together within a game."""
    sums = np.bincount(games, errors - errors.mean())
    return 1.96 * float(np.sqrt((sums**2).sum())) / len(errors)


def main():
    """Play the deals and print the table."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--deals", type=int, default=1000)
    parser.add_argument("--sheet", default="lantern-street", help="a shipped sheet or a path")
    parser.add_argument("--seed", type=int, default=2, help="another number gives other walls")
    args = parser.parse_args()
    table = SheetTable.of(find(args.sheet))
    parts = []
    for first in range(0, args.deals, BATCH):
        walls = walls_of(np.random.default_rng([args.seed, first]), min(BATCH, args.deals - first))
        games, *rest = follow(table, walls)
        parts.append((games + first, *rest))
    games, draws, until, worths = (np.concatenate(column) for column in zip(*parts, strict=True))
    shares = came(draws, until)

    print(f"{table.sheet.name}: {len(worths):,} choices in {args.deals:,} games, seed {args.seed}")
    print("said         choices   mean said %   came %   too high by")
    worst = 0.0
    for tenth in range(10):
        inside = (worths >= tenth / 10) & (worths < (tenth + 1) / 10)
        if inside.sum() < 100:
            continue
        error = worths[inside] - shares[inside]
        worst = max(worst, abs(error.mean()))
        print(
            f"{tenth * 10:3d} to {tenth * 10 + 10:3d} % {inside.sum():9,d} {100 * worths[inside].mean():13.1f}"
            f" {100 * shares[inside].mean():8.1f} {100 * error.mean():8.1f} ±{100 * spread(games[inside], error):4.1f}"
        )
    print(f"worst tenth with 100 choices or more: off by {100 * worst:.1f} points")


if __name__ == "__main__":
    main()
