"""What trying choices out adds to the fast policy: whole quiet games by the advisor, choices tried out at every pick.

    python tests/bench/advisor.py --deals N [--sheet S] [--effort E] [--picks P] [--jobs J]

Both play the same walls: 13 tiles dealt, 60 picks, an unfinished game counted as 70. That tells little, as games differ
by luck; so each time the advisor chooses otherwise, both choices are played on afresh, with other tiles, and what the
advisor's is better by is added up game by game: an estimate of the gain with a far smaller error. A hundred deals take
about half an hour of one core. Intervals are 95%. It asserts nothing.
"""

import argparse
import os
import sys
import time
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # the cores are shared out by process
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # runs from a checkout, installed or not

import numpy as np

from engine.advice.moment import EFFORT, Moment, Work
from engine.advice.rollout.discards import PICKS, try_choices
from engine.advice.rollout.games import DEALT, Games, simulate_quiet, walls_of
from engine.advice.rollout.playout import orders, play_on
from engine.advice.rollout.policy import by_odds
from engine.advice.table import SheetTable
from engine.sheet.shelf import find
from engine.tiles import KINDS

ALLOWED = 60
UNFINISHED = 70
AFRESH = 300
"""Games of each choice."""


def play(job):
    """A game by the advisor: picks it took, picks the fast policy took, choices, exact ones, seconds, and for each
    choice made otherwise the picks gained by it, as tried out and afresh."""
    sheet, seed, at, effort, need = job
    table = SheetTable.of(find(sheet))
    wall = walls_of(np.random.default_rng([seed, at]), 1)
    fresh = np.random.default_rng([seed, at, 1])
    quick = int(simulate_quiet(table, wall, by_odds, ALLOWED).picks[0])
    rack, unseen = (np.array([np.bincount(part, minlength=KINDS)]) for part in (wall[0, :DEALT], wall[0, DEALT:]))
    games = Games.of(table, rack, unseen)
    start = time.process_time()
    gains, exact, took = [], 0, 0
    for pick in range(1, ALLOWED + 1):
        games.come(wall[:, DEALT + pick - 1])
        if games.finished[0]:
            took = pick
            break
        draws = ALLOWED - pick
        if not draws:
            break
        policy = int(by_odds(table, games.batch(draws))[0])
        trial = try_choices(Moment.of(table, games.racks[0], games.unseen[0], draws), Work(effort), picks=need)
        exact += trial.exact
        if trial.goes != policy and not trial.exact:
            two = games.take(np.array([policy, trial.goes]) * 0)
            two.go(np.array([policy, trial.goes]))
            coming = orders(fresh, games.unseen[0], AFRESH, draws)
            worth = play_on(two.repeated(AFRESH), np.tile(coming, (2, 1))).worth
            gains.append((draws, draws * trial.tried[policy].behind, draws * (worth[AFRESH:] - worth[:AFRESH]).mean()))
        games.go(np.array([trial.goes]))
    return took, quick, pick, exact, time.process_time() - start, gains


def interval(values):
    """Half the width of a 95% interval for a mean."""
    return 1.96 * np.std(values, ddof=1) / len(values) ** 0.5


def main():
    """Play the deals on all cores and print what came of them."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--deals", type=int, default=20, help="how many walls both play")
    parser.add_argument("--sheet", default="lantern-street", help="a shipped sheet or a path")
    parser.add_argument("--seed", type=int, default=3, help="another number gives other walls")
    parser.add_argument("--effort", type=int, default=EFFORT, help="draws played on for one choice")
    parser.add_argument("--picks", type=float, default=PICKS, help="picks that a choice must be better by to be taken")
    parser.add_argument("--jobs", type=int, default=os.cpu_count(), help="processes at once")
    args = parser.parse_args()
    if args.deals < 2:
        parser.error("--deals: give 2 or more")
    jobs = [(args.sheet, args.seed, at, args.effort, args.picks) for at in range(args.deals)]
    with ProcessPoolExecutor(max_workers=args.jobs) as pool:
        took, quick, choices, exact, seconds, gains = zip(*pool.map(play, jobs), strict=True)
    took, quick = (np.where(np.array(picks) == 0, UNFINISHED, picks).astype(float) for picks in (took, quick))
    flat = [gain for game in gains for gain in game]
    each = np.array([sum(gain[2] for gain in game) for game in gains])
    print(f"{args.sheet}: {args.deals} deals, seed {args.seed}, effort {args.effort:,}, {args.picks:g} picks better")
    print(f"advisor {took.mean():.2f} ± {interval(took):.2f} picks")
    print(f"fast policy {quick.mean():.2f} ± {interval(quick):.2f} picks")
    print(f"fewer by {(quick - took).mean():.2f} ± {interval(quick - took):.2f}, same walls")
    print(f"{sum(choices):,} choices, {sum(exact):,} exact, {sum(seconds) / sum(choices):.2f} s of one core each")
    print(f"{len(flat)} made otherwise, in {sum(bool(game) for game in gains)} of the games")
    if flat:
        seen = np.array(flat)
        print(f"each was held to gain {seen[:, 1].mean():.2f} picks; played on afresh {seen[:, 2].mean():.2f}")
    print(f"gain of choosing otherwise: {each.mean():.3f} ± {interval(each):.3f} picks a game, played on afresh")


if __name__ == "__main__":
    main()
