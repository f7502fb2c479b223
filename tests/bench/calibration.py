"""Whether what advice says comes true, against how games by the advice go on.

    python tests/bench/calibration.py --deals N [--sheet S] [--seed S]            what is estimated
    python tests/bench/calibration.py --played --deals N [--sheet S] [--seed S]   what is played out
    python tests/bench/calibration.py --tried --deals N [--sheet S] [--seed S]    what is shown after trying out
    python tests/bench/calibration.py --passes --deals N [--sheet S] [--seed S]   the same, of passes
    --invented N in place of --sheet S takes N invented sheets, those of strength.py --invented: a table for all, then
    one for each

Estimated: at one choice of each of N quiet games (60 picks) the chance of a hand by the last draw, as it is shown in
words before the choice is tried out, is set against whether one was made once the advised tile had gone: word by word,
and tenth by tenth.

Played out: at one choice of each of N quiet games (20 to 60 picks) the chance of a hand by the last draw, as shown once
the choice has been played on, is set against whether one was made.

Tried out: at one choice of each of N quiet games (20 to 60 picks) the close choices are tried out as the window does
it, and the chance then shown of the chosen one is set against how often a hand comes in games played on from there as
advised, with other tiles. Those choices at which trying out chose another tile than the estimate have a line of their
own: there the figure comes from the games that chose.

Passes: in each of N quiet games with simulated players of three strengths (20 to 60 picks, or all of the wall in a
quarter of them; with and without the courtesy pass) one pass is tried out as the window does it. The chance then shown
is set against how often a hand is made when the advised three go and all that follows goes as advised, with the tiles
of the wall in several orders. A table for each pass, so that one sees whether a figure counts rightly on the passes to
come.

Intervals are 95%. It asserts nothing.
"""

import argparse
import os
import pickle
import sys
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # the cores are shared out by process

sys.path.insert(0, str(Path(__file__).resolve().parent))
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # runs from a checkout, installed or not

import numpy as np
from strength import invented

from engine.advice.advise.answers import Chance
from engine.advice.advise.hands import best_of_each_hand
from engine.advice.advise.passes import choose_before_play, deepen_passes
from engine.advice.moment import Moment
from engine.advice.rollout.discards import try_choices
from engine.advice.rollout.games import DEALT, Games, simulate_quiet, walls_of
from engine.advice.rollout.playout import orders, play_on
from engine.advice.rollout.policy import by_odds
from engine.advice.table import SheetTable
from engine.advice.worth.finish import chances, without
from engine.rules.actions import Pass
from engine.rules.deal import SEEDS, DealCode
from engine.rules.game import apply
from engine.rules.house import House
from engine.rules.observation import observe
from engine.rules.state import Phase
from engine.seats.character import Strength
from engine.seats.players import player
from engine.sheet.groups import HAND_TILES
from engine.sheet.shelf import find
from engine.tiles import KINDS, kinds_of
from game.words.odds import ROUGH

PICKS = 60
LEAST = 20
"""Picks allowed at least where games are played on."""
BATCH = 48
TOGETHER = 24
"""Games at the same pick that are played on together."""
TIMES = 40
"""Games that each of them is played on."""
AGAIN = 12
"""Games with other tiles that tell what a choice comes to once it has been tried out."""
WALL = 99
"""Picks allowed where all of the wall is played."""
PASSES = 6
DEALS = 4
"""Games with passes in one job."""
SEATS = (Strength.BEGINNER, Strength.STEADY, Strength.SHARP)
"""Who passes besides the player, each in a third of the jobs."""
LEAST_GAMES = 50
"""Games of which a line is printed at the least."""


def estimate(job):
    """What is said at one choice of each of BATCH games, and whether a hand was made: [2, n]; a job is a pickled sheet,
    seed and batch."""
    sheet, seed, batch = job
    table = SheetTable.of(pickle.loads(sheet))
    rng = np.random.default_rng([seed, batch])
    walls = walls_of(rng, BATCH)
    racks, unseen = counted(walls)
    at, said, live = int(rng.integers(1, PICKS)), np.zeros(BATCH), np.arange(BATCH)
    games = Games.of(table, racks, unseen)
    for pick in range(1, at + 1):
        games.come(walls[live, DEALT + pick - 1])
        live, games = live[~games.finished], games.only(~games.finished)
        if pick < at and len(live):
            games.go(by_odds(table, games.batch(PICKS - pick)))
    if not len(live):
        return np.zeros((2, 0))
    goes = by_odds(table, games.batch(PICKS - at))
    after = without(games.racks, goes)
    said = chances(table, after, games.unseen, PICKS - at, games.racks)
    best = [
        max(best_of_each_hand(table, rack, around, PICKS - at)[1].values(), default=0.0)
        for rack, around in zip(games.racks.tolist(), games.unseen.tolist(), strict=True)
    ]
    made = simulate_quiet(table, walls[live], by_odds, PICKS).picks > 0
    return np.array([np.maximum(said, best), made])


def counted(walls):
    """The racks dealt, and what is unseen around them, as counts [G, 36] each."""
    parts = (walls[:, :DEALT], walls[:, DEALT:])
    return (np.array([np.bincount(row, minlength=KINDS) for row in part]) for part in parts)


def play(job):
    """What is said of games at one pick, and whether a hand was made: [2, n]; a job is a pickled sheet,
    seed and batch."""
    sheet, seed, batch = job
    table = SheetTable.of(pickle.loads(sheet))
    rng = np.random.default_rng([seed, batch])
    walls = walls_of(rng, TOGETHER)
    racks, unseen = counted(walls)
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


def try_out(job):
    """What is shown of choices that were tried out, how often a hand came afterwards, and whether another tile was
    chosen than the estimate's: [3, n]; a job is a pickled sheet, seed and batch."""
    sheet, seed, batch = job
    table = SheetTable.of(pickle.loads(sheet))
    rng = np.random.default_rng([seed, batch])
    walls = walls_of(rng, TOGETHER)
    allowed = int(rng.integers(LEAST, PICKS + 1))
    games, at, live = Games.of(table, *counted(walls)), int(rng.integers(1, allowed)), np.arange(TOGETHER)
    for pick in range(1, at + 1):
        games.come(walls[live, DEALT + pick - 1])
        live, games = live[~games.finished], games.only(~games.finished)
        if not len(live):
            return np.zeros((3, 0))
        if pick < at:
            games.go(by_odds(table, games.batch(allowed - pick)))
    draws = allowed - at
    quick = by_odds(table, games.batch(draws))
    said, goes = [], []
    for rack, unseen in zip(games.racks.tolist(), games.unseen.tolist(), strict=True):
        trial = try_choices(Moment.of(table, rack, unseen, draws))
        least = max(best_of_each_hand(table, rack, unseen, draws)[1].values(), default=0.0)
        said.append(Chance.played(trial.tried[trial.goes], least).share)
        goes.append(trial.goes)
    after = without(games.racks, np.array(goes)).repeat(AGAIN, axis=0)
    held = np.array([np.repeat(np.arange(KINDS), rack) for rack in after])
    coming = np.concatenate([orders(rng, one, AGAIN, int(one.sum())) for one in games.unseen])
    again = simulate_quiet(table, np.concatenate((held, coming), axis=1), by_odds, draws)
    return np.array([said, (again.picks > 0).reshape(-1, AGAIN).mean(axis=1), np.array(goes) != quick])


def try_passes(job):
    """What is shown of passes that were tried out, how often a hand came afterwards, and which pass it was, 0 to 5:
    [3, n]; a job is a pickled sheet, seed and batch."""
    sheet, seed, batch = job
    table = SheetTable.of(pickle.loads(sheet))
    rng = np.random.default_rng([seed, batch])
    others = player(SEATS[batch % len(SEATS)], table)
    found = []
    for _ in range(DEALS):
        picks = int(rng.integers(LEAST, PICKS + 1)) if rng.integers(4) else WALL
        house = House(picks=picks, passes=PASSES, courtesy=bool(rng.integers(2)))
        at = int(rng.integers(PASSES))
        state = DealCode.of(table.sheet, house, int(rng.integers(SEEDS))).deal(table.sheet)
        state = passed(table, others, state, at)
        if state.phase is not Phase.PASSING:
            continue  # somebody stopped the second round
        advice = deepen_passes(table, observe(state, house.seat))
        state = apply(state, Pass(advice.choices[0].kinds))
        found.append((advice.chance.share, made_after(table, passed(table, others, state), rng), at))
    return np.array(found).reshape(-1, 3).T


def passed(table, others, state, at=PASSES + 1):
    """The table once the player is to make the pass `at`, or play begins; the player passes as advised."""
    seat = state.house.seat
    while state.phase in (Phase.PASSING, Phase.AGREEING, Phase.ASKING, Phase.GIVING):
        seen = observe(state, state.to_act)
        if state.to_act == seat and state.phase is Phase.PASSING and seen.passes_done == at:
            break
        state = apply(state, choose_before_play(table, seen) if state.to_act == seat else others(seen))
    return state


def made_after(table, state, rng):
    """How often a hand is made from the first turn on, in AGAIN orders of the wall."""
    seen = observe(state, state.house.seat)
    games = Games.of(table, np.array([seen.counts]), np.array([seen.unseen]))
    if games.finished[0]:
        return 1.0
    gone = ()
    if len(seen.rack) == HAND_TILES:
        gone = (int(by_odds(table, games.batch(seen.picks_left))[0]),)
    held = without(games.racks, np.array(gone)) if gone else games.racks
    elsewhere = [*gone, *(kind for seat, rack in enumerate(state.racks) if seat != seen.seat for kind in rack)]
    walls = [[*kinds_of(held[0]), *rng.permutation(state.wall), *elsewhere] for _ in range(AGAIN)]
    return float((simulate_quiet(table, np.array(walls), by_odds, seen.picks_left).picks > 0).mean())


def gather(work, sheets, deals, seed):
    """What was said of so many games on each sheet, and whether a hand was made: [2, n]."""
    said = []
    with ProcessPoolExecutor(os.cpu_count()) as pool:
        for number, sheet in enumerate(sheets):
            found, batch, at_once = (
                np.zeros((3 if work in (try_out, try_passes) else 2, 0)),
                0,
                4 * (os.cpu_count() or 1),
            )
            while found.shape[1] < deals:
                jobs = [(sheet, seed + 1000 * number, batch + more) for more in range(at_once)]
                found = np.concatenate([found, *pool.map(work, jobs)], axis=1)
                batch += len(jobs)
            said.append(found[:, :deals])
            print(f"{(number + 1) * deals:,} games", file=sys.stderr)
    return said


def row(name, said, made):
    """One line of a table; how much too high what was said is."""
    off = said - made
    half = 1.96 * off.std(ddof=1) / len(off) ** 0.5
    print(
        f"{name:<24} {len(said):7,d} {100 * said.mean():13.1f} {100 * made.mean():8.1f} "
        f"{100 * off.mean():8.1f} ±{100 * half:4.1f}"
    )
    return abs(float(off.mean()))


def tenths(said, made):
    """Print what was said, tenth by tenth, beside what came."""
    print(f"{'said':<24} {'games':>7}   mean said %   came %  too high by")
    worst = 0.0
    for tenth in range(10):
        inside = (np.clip(said, 0, 0.9999) * 10).astype(int) == tenth
        if inside.sum() >= LEAST_GAMES:
            worst = max(worst, row(f"{tenth * 10} to {tenth * 10 + 10}%", said[inside], made[inside]))
    print(f"worst tenth with {LEAST_GAMES} games or more: off by {100 * worst:.1f} points")


def in_words(said, made):
    """Print what was said in words, beside what came: a word is right if what came lies between its bounds."""
    print(f"{'said in words':<24} {'games':>7}   mean said %   came %  too high by")
    low = 0.0
    for high, word in ROUGH:
        inside = (said >= low) & (said < high)
        if inside.sum() >= LEAST_GAMES:
            row(word, said[inside], made[inside])
            came = made[inside].mean()
            print(f"    it means {100 * low:.0f} to {100 * min(high, 1):.0f}%: {'yes' if low <= came < high else 'NO'}")
        low = high


def main():
    """Play the deals and print the tables."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--deals", type=int, default=1000, help="games, on each sheet")
    parser.add_argument("--sheet", default="lantern-street", help="a shipped sheet or a path")
    parser.add_argument("--invented", type=int, default=0, help="so many invented sheets instead")
    parser.add_argument("--seed", type=int, default=2, help="another number gives other walls")
    parser.add_argument("--played", action="store_true", help="what is played out, not what is estimated")
    parser.add_argument("--tried", action="store_true", help="what is shown once the close choices are tried out")
    parser.add_argument("--passes", action="store_true", help="what is shown of passes once they are tried out")
    args = parser.parse_args()
    sheets = [pickle.dumps(find(args.sheet))]
    if args.invented:
        with ProcessPoolExecutor(os.cpu_count()) as pool:
            sheets = [sheet for sheet in pool.map(invented, range(args.invented)) if sheet is not None]
    work = try_passes if args.passes else try_out if args.tried else play if args.played else estimate
    found = gather(work, sheets, args.deals, args.seed)
    names = [f"{pickle.loads(sheet).name} ({len(pickle.loads(sheet).hands)} hands)" for sheet in sheets]
    said, made, *others = np.concatenate(found, axis=1)
    print(f"{', '.join(names)}: {len(said):,} choices, seed {args.seed}")
    if args.played:
        print(f"each played on {TIMES} times")
    elif args.tried:
        print(f"each tried out, then played on {AGAIN} times with other tiles")
        for name, chosen in (("another tile chosen", others[0] > 0), ("the estimate's own", others[0] == 0)):
            if chosen.any():
                row(name, said[chosen], made[chosen])
    elif args.passes:
        print(f"each tried out, then played on in {AGAIN} orders of the wall")
        for at in range(PASSES):
            if (others[0] == at).sum() > 1:
                row(f"pass {at + 1}", said[others[0] == at], made[others[0] == at])
    else:
        in_words(said, made)
    tenths(said, made)
    for at in range(PASSES) if args.passes else ():
        print(f"pass {at + 1}")
        tenths(said[others[0] == at], made[others[0] == at])
    for name, (one_said, one_made, *_) in zip(names, found, strict=True) if len(found) > 1 else ():
        print(name)
        tenths(one_said, one_made)


if __name__ == "__main__":
    main()
