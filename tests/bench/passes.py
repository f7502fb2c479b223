"""How good the advised passes are: what is held after all of them, against two other passers on the same deals.

    python tests/bench/passes.py --deals N [--sheet S] [--seed S] [--jobs J]

East passes through both rounds and the courtesy pass as advised, at random, or keeping towards the nearest hand; the
three others are steady simulated players. Afterwards: tiles missing of the nearest hand, exact odds of the best hand
within 40 draws, and what the rack is worth. Intervals are 95%, differences paired by deal. It asserts nothing.
"""

import argparse
import os
import random
import sys
import time
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # the cores are shared out by process
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # runs from a checkout, installed or not

import numpy as np

from engine.advice.hands import best_of_each_hand
from engine.advice.passes import advise_courtesy, advise_passes, advise_second_round, choices_of
from engine.advice.reach import missing, shortfalls
from engine.advice.table import SheetTable
from engine.advice.worth import weigh
from engine.rules.actions import Agree, Ask, Give, Pass, Stop
from engine.rules.deal import SEEDS, DealCode
from engine.rules.house import House
from engine.rules.observation import observe
from engine.rules.state import Phase, apply
from engine.seats.players import Strength, table_of
from engine.sheet.shelf import find
from engine.tiles import JOKER

HOUSE = House(picks=40, passes=6, courtesy=True)
DRAWS = 40
BEFORE_PLAY = (Phase.PASSING, Phase.AGREEING, Phase.ASKING, Phase.GIVING)


def advised(table, observation, _):
    """What the advice says."""
    if observation.phase is Phase.PASSING:
        advice = advise_passes(table, observation)
        return Pass(advice.blind_kinds, advice.blind) if advice.blind else Pass(advice.choices[0].kinds)
    if observation.phase is Phase.AGREEING:
        return Agree() if advise_second_round(table, observation).agree else Stop()
    advice = advise_courtesy(table, observation)
    return Ask(advice.ask) if observation.phase is Phase.ASKING else Give(advice.give)


def at_random(_, observation, chance):
    """Any legal choice of tiles of one's own; the second round is played."""
    legal = [one for one in observation.legal if not getattr(one, "blind", 0) and one != Stop()]
    return legal[int(chance.random() * len(legal))]


def keep_nearest(table, observation, _):
    """Keeps the nearest hand as near as it is; of several choices the one whose tiles near variants use least."""
    if observation.phase is Phase.AGREEING:
        return Agree()
    if observation.phase is Phase.ASKING:
        return Ask(max(number for number in range(4) if number == 0 or _spares(table, observation, number)))
    number = 3 if observation.phase is Phase.PASSING else observation.settled
    kinds = _nearest_choice(table, observation, number)[0]
    return Pass(kinds) if observation.phase is Phase.PASSING else Give(kinds)


def _nearest_choice(table, observation, number):
    """The choice and the tiles then missing of the nearest variant."""
    choices = choices_of(observation.rack, number)
    racks = np.tile(np.array(observation.counts), (len(choices), 1))
    for place, kinds in enumerate(choices):
        np.subtract.at(racks[place], list(kinds), 1)
    away = table.closing[racks[:, JOKER, None], shortfalls(table, racks)].astype(float)
    nearest = away.min(axis=1)
    near = (4.0 ** -(away - nearest[:, None])).sum(axis=1)
    best = np.lexsort((-near, nearest))[0]
    return choices[best], int(nearest[best])


def _spares(table, observation, number):
    """Whether so many tiles can go without moving the nearest hand further away."""
    return _nearest_choice(table, observation, number)[1] == int(missing(table, observation.counts).min())


PASSERS = {"advised": advised, "nearest hand": keep_nearest, "random": at_random}


def passed(table, sheet, others, passer, seed):
    """What East holds after the passes: tiles missing, odds of the best hand, worth."""
    state = DealCode.of(sheet, HOUSE, seed).deal(sheet)
    chance = random.Random(seed)
    while state.phase in BEFORE_PLAY:
        observation = observe(state, state.to_act)
        action = passer(table, observation, chance) if state.to_act == 0 else others(observation)
        state = apply(state, action)
    observation = observe(state, 0)
    _, odds = best_of_each_hand(table, observation.counts, observation.unseen, DRAWS)
    counts, unseen = np.array([observation.counts]), np.array([observation.unseen])
    worth = weigh(table, counts, unseen, DRAWS).left.max()
    return int(missing(table, observation.counts).min()), max(odds.values(), default=0.0), float(worth)


def play(job):
    """[deals, passers, 3] what each passer holds; a job is a sheet's name and seeds."""
    name, seeds = job
    sheet = find(name)
    table = SheetTable.of(sheet, HOUSE.jokers)
    others = table_of((Strength.STEADY,), table)
    return np.array([[passed(table, sheet, others, passer, seed) for passer in PASSERS.values()] for seed in seeds])


def interval(values):
    """Half the width of a 95% interval for a mean."""
    return 1.96 * values.std(ddof=1) / len(values) ** 0.5


def main():
    """Play, and print one table and the line of the difference."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--deals", type=int, default=200)
    parser.add_argument("--sheet", default="lantern-street")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1)
    args = parser.parse_args()
    chance = random.Random(args.seed)
    seeds = [int(chance.random() * SEEDS) for _ in range(args.deals)]
    jobs = [(args.sheet, seeds[start : start + 20]) for start in range(0, len(seeds), 20)]
    start = time.perf_counter()
    with ProcessPoolExecutor(args.jobs) as pool:
        held = np.concatenate(list(pool.map(play, jobs)))
    print(f"{args.sheet}, {len(held)} deals, {time.perf_counter() - start:.0f} s")
    print(f"{'passer':<14}{'tiles missing':>18}{'odds of best, %':>20}{'worth, %':>18}")
    for place, name in enumerate(PASSERS):
        missed, odds, worth = held[:, place].T
        print(
            f"{name:<14}{missed.mean():>10.2f} ± {interval(missed):<5.2f}{100 * odds.mean():>12.1f} ± "
            f"{100 * interval(odds):<5.1f}{100 * worth.mean():>10.1f} ± {100 * interval(worth):<5.1f}"
        )
    ahead = 100 * (held[:, 0, 1] - held[:, 1, 1])
    print(
        f"advised passes: {ahead.mean():.1f} points of odds ahead of nearest-hand passes, "
        f"plus or minus {interval(ahead):.1f}, over {len(held)} deals"
    )


if __name__ == "__main__":
    main()
