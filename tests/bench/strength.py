"""How strong the advice is: picks needed on the quiet table, against a nearest-hand player and a bound.

    python tests/bench/strength.py --deals N [--advisor] [--sheet S] [--seed S] [--jobs J]
    python tests/bench/strength.py --invented 20 --deals 1000     twenty invented sheets of 12, 30 and 60 hands

Every player plays the same walls: 13 tiles dealt, no passes, 60 picks allowed, an unfinished game counted as 70. The
bound is a player who knows the whole wall, which equals one whose rack has no limit. With --advisor every close choice
is tried out too, which takes half a minute of one core for a deal; the gap is then the advisor's. Intervals are 95%,
the gap's by the delta method over paired deals. With --invented the sheets are drafts of fixed seeds, and a line for
each is followed by the mean and the least share of the gap. The least of so many measured shares lies below the true
least, as chance moves each of them: a second line says by how much it would lie below the mean if all were alike.
It asserts nothing.
"""

import argparse
import os
import pickle
import signal
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
from engine.invent.making import Wish, drafted
from engine.sheet.shelf import find

PICKS = 60
UNFINISHED = 70
BATCH = 250
WITHIN = (30, 40, 50, 60)
SIZES = (12, 30, 60)
"""Hands of invented sheets, in turn."""
DRAFTING = 20
"""Seconds of processor time that a draft may take."""
FIRST_SEED = 1
"""Seed of the first invented sheet. Nothing is tuned on sheets of seeds from here to a hundred."""


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
    """Picks of every player [players, deals] and processor seconds of each; a job is a pickled sheet, seeds, batch,
    the part of its deals, and players."""
    sheet, seeds, batch, part, players = job
    table = SheetTable.of(pickle.loads(sheet))
    walls = walls_of(np.random.default_rng([*seeds, batch]), BATCH)[part]
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


class _TooLongError(Exception):
    """A draft took longer than it may."""


def _too_long(*_):
    raise _TooLongError


def invented(number):
    """The pickled invented sheet of this number, 0 and up; None where its draft takes longer than DRAFTING."""
    signal.signal(signal.SIGVTALRM, _too_long)
    signal.setitimer(signal.ITIMER_VIRTUAL, DRAFTING)
    try:
        return pickle.dumps(drafted(Wish(FIRST_SEED + number, hands=SIZES[number % len(SIZES)])))
    except _TooLongError:
        return None
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)


def play_all(pool, sheets, seed, deals, players):
    """For each sheet the picks of every player [players, deals] and the processor seconds of each.

    Every sheet has walls of its own, so that the luck of the walls is not the same on all.
    """
    at_once = 4 if ADVISOR in players else BATCH
    jobs = [
        (sheet, (seed, number) if number else (seed,), at, slice(first, min(first + at_once, deals - at)), players)
        for number, sheet in enumerate(sheets)
        for at in range(0, deals, BATCH)
        for first in range(0, min(BATCH, deals - at), at_once)
    ]
    results = list(pool.map(play, jobs))
    each = len(results) // len(sheets)
    for place in range(len(sheets)):
        part = results[place * each : (place + 1) * each]
        yield np.concatenate([picks for picks, _ in part], axis=1), sum(seconds for _, seconds in part)


def gap(players, picks):
    """The share of the gap that the best player closes, and its standard error by the delta method."""
    counted = dict(zip(players, np.where(picks == 0, UNFINISHED, picks).astype(float), strict=True))
    gain = counted["nearest hand"] - counted[players[-2]]
    room = counted["nearest hand"] - counted["knows the wall"]
    share = gain.mean() / room.mean()
    return share, (gain - share * room).std(ddof=1) / len(gain) ** 0.5 / room.mean()


def show(sheet, args, players, picks, taken):
    """The whole table of one sheet."""
    variants = len(SheetTable.of(sheet))
    print(f"{sheet.name}: {len(sheet.hands)} hands, {variants:,} variants; {args.deals:,} deals, seed {args.seed}")
    heads = "  ".join(f"{'within ' + str(limit) + ' %':>12}" for limit in WITHIN)
    print(f"{'player':<15} {'mean picks':>13} {'median':>7}   {heads}  {'games/s':>9}")
    for name, column, seconds in zip(players, picks, taken, strict=True):
        print(row(name, column, args.deals / seconds))
    counted = dict(zip(players, np.where(picks == 0, UNFINISHED, picks).astype(float), strict=True))
    best = players[-2]
    gain = counted["nearest hand"] - counted[best]
    print(f"{best} against nearest hand, same walls: {gain.mean():.2f} picks fewer, ±{interval(gain):.2f}")
    if args.advisor:
        more = counted["by the odds"] - counted[ADVISOR]
        print(f"advisor against by the odds, same walls: {more.mean():.2f} picks fewer, ±{interval(more):.2f}")
    share, error = gap(players, picks)
    print(f"gap closed: {100 * share:.0f}% plus or minus {196 * error:.0f}, over {args.deals} deals")


def show_many(sheets, players, results, deals):
    """A line for each sheet, then the mean and the least share of the gap."""
    shares = np.array([gap(players, picks) for picks, _ in results])
    for sheet, (share, error) in zip(sheets, shares, strict=True):
        variants = len(SheetTable.of(sheet))
        print(
            f"{len(sheet.hands):3d} hands {variants:6,} variants: {100 * share:5.1f}% ±{196 * error:4.1f}  {sheet.name}"
        )
    mean, error = shares[:, 0].mean(), (shares[:, 1] ** 2).sum() ** 0.5 / len(shares)
    chance = np.random.default_rng(1).standard_normal((10_000, len(shares))) * shares[:, 1]
    print(
        f"if all shares were alike, the least would be measured {-100 * chance.min(axis=1).mean():.1f} under the mean"
    )
    least = shares[shares[:, 0].argmin()]
    print(
        f"gap closed on {len(shares)} invented sheets: mean {100 * mean:.1f}% plus or minus {196 * error:.1f}, "
        f"least {100 * least[0]:.1f}% plus or minus {196 * least[1]:.1f}, over {deals} deals each"
    )


def main():
    """Play the deals on all cores and print the table."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--deals", type=int, default=1000, help="how many walls every player plays")
    parser.add_argument("--advisor", action="store_true", help="let the advisor play too, every choice tried out")
    parser.add_argument("--sheet", default="lantern-street", help="a shipped sheet or a path")
    parser.add_argument("--invented", type=int, default=0, help="play on so many invented sheets instead")
    parser.add_argument("--seed", type=int, default=1, help="another number gives other walls")
    parser.add_argument("--jobs", type=int, default=os.cpu_count(), help="processes at once")
    args = parser.parse_args()
    if args.deals < 2:
        parser.error("--deals: give 2 or more")
    players = [name for name in PLAYERS if args.advisor or name != ADVISOR]
    start = time.perf_counter()
    with ProcessPoolExecutor(max_workers=args.jobs) as pool:
        if args.invented:
            packed = list(pool.map(invented, range(args.invented)))
            late = [FIRST_SEED + number for number, sheet in enumerate(packed) if sheet is None]
            if late:
                print(f"left out, as drafting took over {DRAFTING} seconds: the sheets of seeds {late}")
            packed = [sheet for sheet in packed if sheet is not None]
        else:
            packed = [pickle.dumps(find(args.sheet))]
        results = list(play_all(pool, packed, args.seed, args.deals, players))
    spent = time.perf_counter() - start
    print(f"{spent:.0f} seconds in {args.jobs} processes; games/s is for a second of one processor")
    sheets = [pickle.loads(sheet) for sheet in packed]
    if args.invented:
        show_many(sheets, players, results, args.deals)
    else:
        show(sheets[0], args, players, *results[0])


if __name__ == "__main__":
    main()
