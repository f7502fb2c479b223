"""Whether what advice says comes true, against how games by the advice go on.

    python tests/bench/calibration.py --deals N [--sheet S] [--seed S]            what is estimated
    python tests/bench/calibration.py --played --deals N [--sheet S] [--seed S]   what is played out

Estimated: at every choice of N quiet games (60 picks) the chance, averaged over the draws to come, that a hand is made
by then is set against whether one was, once the advised tile had gone. A game gives many rows that hang together, so
the intervals go by games, not by rows.

Played on: at one choice of each of N quiet games (20 to 60 picks) the chance of a hand by the last draw, as shown once
the choice has been played on, is set against whether one was made.

It prints the tenths of what was said, and asserts nothing.
"""

import argparse
import os
import sys
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # the cores are shared out by process

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # runs from a checkout, installed or not

import numpy as np

from engine.advice.rollout.games import DEALT, Games, simulate_quiet, walls_of
from engine.advice.rollout.playout import orders, play_on
from engine.advice.rollout.policy import by_odds
from engine.advice.table import SheetTable
from engine.advice.worth.choice import let_go
from engine.advice.worth.worth import weigh
from engine.sheet.shelf import find
from engine.tiles import KINDS

PICKS = 60
LEAST = 20
"""Picks allowed at least where games are played on."""
BATCH = 250
TOGETHER = 24
"""Games at the same pick that are played on together."""
TIMES = 40
"""Games that each of them is played on."""


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


def play(job):
    """What is said of games at one pick, and whether a hand was made: [2, n]; a job is sheet, seed and batch."""
    sheet, seed, batch = job
    table = SheetTable.of(find(sheet))
    rng = np.random.default_rng([seed, batch])
    walls = walls_of(rng, TOGETHER)
    racks, unseen = (
        np.array([np.bincount(wall[part], minlength=KINDS) for wall in walls])
        for part in (slice(DEALT), slice(DEALT, None))
    )
    allowed = int(rng.integers(LEAST, PICKS + 1))
    games, at, live = Games.of(table, racks, unseen), int(rng.integers(1, allowed)), np.arange(TOGETHER)
    for pick in range(1, at + 1):
        games.come(walls[live, DEALT + pick - 1])
        live, games = live[~games.finished], games.only(~games.finished)
        if not len(live):
            return np.zeros((2, 0))
        games.go(by_odds(table, games.batch(allowed - pick)))
    draws = allowed - at
    coming = np.concatenate([orders(rng, one, TIMES, draws) for one in games.unseen])
    said = play_on(games.repeated(TIMES), coming).chance.reshape(-1, TIMES).mean(axis=1)
    made = simulate_quiet(table, walls[live], by_odds, allowed).picks > 0
    return np.array([said, made])


def play_all(sheet, deals, seed):
    """What was said of so many games, and whether a hand was made."""
    said, batch = np.zeros((2, 0)), 0
    with ProcessPoolExecutor(os.cpu_count()) as pool:
        while said.shape[1] < deals:
            jobs = [(sheet, seed, batch + more) for more in range(16)]
            said = np.concatenate([said, *pool.map(play, jobs)], axis=1)
            batch += len(jobs)
            print(f"{said.shape[1]:,} games", file=sys.stderr)
    said = said[:, :deals]
    return said[0], said[1]


def tenths(said, came, games, least):
    """Print what was said, tenth by tenth, beside what came."""
    print("said          number   mean said %   came %   too high by")
    worst = 0.0
    for tenth in range(10):
        inside = (np.clip(said, 0, 0.9999) * 10).astype(int) == tenth
        if inside.sum() < least:
            continue
        error = said[inside] - came[inside]
        worst = max(worst, abs(error.mean()))
        print(
            f"{tenth * 10:3d} to {tenth * 10 + 10:3d} % {inside.sum():9,d} {100 * said[inside].mean():13.1f}"
            f" {100 * came[inside].mean():8.1f} {100 * error.mean():8.1f} ±{100 * spread(games[inside], error):4.1f}"
        )
    print(f"worst tenth with {least} or more: off by {100 * worst:.1f} points")


def main():
    """Play the deals and print the table."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--deals", type=int, default=1000)
    parser.add_argument("--sheet", default="lantern-street", help="a shipped sheet or a path")
    parser.add_argument("--seed", type=int, default=2, help="another number gives other walls")
    parser.add_argument("--played", action="store_true", help="what is played out, not what is estimated")
    args = parser.parse_args()
    table = SheetTable.of(find(args.sheet))
    if args.played:
        said, made = play_all(args.sheet, args.deals, args.seed)
        print(f"{table.sheet.name}: {len(said):,} choices, each played on {TIMES} times, seed {args.seed}")
        tenths(said, made, np.arange(len(said)), 50)
        return
    parts = []
    for first in range(0, args.deals, BATCH):
        walls = walls_of(np.random.default_rng([args.seed, first]), min(BATCH, args.deals - first))
        games, *rest = follow(table, walls)
        parts.append((games + first, *rest))
    games, draws, until, worths = (np.concatenate(column) for column in zip(*parts, strict=True))
    print(f"{table.sheet.name}: {len(worths):,} choices in {args.deals:,} games, seed {args.seed}")
    tenths(worths, came(draws, until), games, 100)


if __name__ == "__main__":
    main()
