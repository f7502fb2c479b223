"""How good the advised passes are: what is held after all of them, against two other passers on the same deals.

    python tests/bench/passes.py --deals N [--sheet S] [--others STRENGTH] [--seed S] [--jobs J]

East passes through both rounds and the courtesy pass as advised, keeping towards the nearest hand, or at random; the
three others are simulated players. Afterwards: tiles missing of the nearest hand, exact odds of the best hand within
40 draws, what the rack is worth, and whether a hand is made within 40 picks when all are played on by the odds, with
the same wall. Intervals are 95%, differences paired by deal. It asserts nothing.
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

from engine.advice.advise.pass_choices import choices_of
from engine.advice.advise.passes import advise_passes, choose_before_play
from engine.advice.odds.exact import exact
from engine.advice.odds.reach import missing, shortfalls
from engine.advice.rollout.games import Batch, simulate_quiet
from engine.advice.rollout.policy import by_odds
from engine.advice.table import SheetTable
from engine.advice.worth.worth import possible, weigh
from engine.rules.actions import PASS_TILES, Agree, Ask, Give, Pass, Stop
from engine.rules.deal import SEEDS, DealCode
from engine.rules.game import apply
from engine.rules.house import House
from engine.rules.observation import observe
from engine.rules.state import Phase
from engine.seats.character import Strength
from engine.seats.players import player
from engine.sheet.shelf import find
from engine.tiles import JOKER, kinds_of

DRAWS = 40
HOUSE = House(picks=DRAWS, passes=6, courtesy=True)
BEFORE_PLAY = (Phase.PASSING, Phase.AGREEING, Phase.ASKING, Phase.GIVING)
BATCH = 20


def advised(table, observation, _):
    """What the advice comes to."""
    return choose_before_play(table, observation)


def keep_nearest(table, observation, _):
    """Keeps the nearest hand as near as it is, and of several choices takes the one that leaves most variants near.

    It passes on tiles unseen, stops, or asks for fewer when fewer can go without moving the nearest hand away.
    """
    if observation.phase is Phase.GIVING:
        return Give(nearest_choice(table, observation, observation.settled)[0])
    away = int(missing(table, observation.counts).min())
    kinds, spare = (), 0
    for number in range(1, PASS_TILES + 1):
        choice, then = nearest_choice(table, observation, number)
        if then == away:
            kinds, spare = choice, number
    if observation.phase is Phase.AGREEING:
        return Agree() if spare == PASS_TILES else Stop()
    if observation.phase is Phase.ASKING:
        return Ask(spare)
    passed = Pass(kinds, PASS_TILES - spare)
    return passed if passed in observation.legal else Pass(nearest_choice(table, observation, PASS_TILES)[0])


def nearest_choice(table, observation, number):
    """The choice of so many tiles, and the tiles then missing of the nearest variant. A variant counts four times less
    for every tile that it is further away."""
    choices = choices_of(observation.rack, number)
    racks = np.tile(np.array(observation.counts), (len(choices), 1))
    for rack, kinds in zip(racks, choices, strict=True):
        np.subtract.at(rack, list(kinds), 1)
    away = table.closing[racks[:, JOKER, None], shortfalls(table, racks)]
    nearest = away.min(axis=1)
    near = np.ldexp(1.0, -2 * (away - nearest[:, None])).sum(axis=1)
    best = np.lexsort((-near, nearest))[0]
    return choices[best], int(nearest[best])


def at_random(_, observation, chance):
    """Any legal choice, each as likely."""
    return observation.legal[int(chance.random() * len(observation.legal))]


PASSERS = {"advised": advised, "nearest hand": keep_nearest, "random": at_random}
MEASURES = ("tiles missing", "odds of best, %", "worth, %", "made in 40, %")


def after_passes(table, others, passer, seed):
    """The table once East has passed that way."""
    state = DealCode.of(table.sheet, HOUSE, seed).deal(table.sheet)
    chance = random.Random(seed)
    while state.phase in BEFORE_PLAY:
        observation = observe(state, state.to_act)
        action = passer(table, observation, chance) if state.to_act == HOUSE.seat else others(observation)
        state = apply(state, action)
    return state


def measured(table, states):
    """[tables, 4] the measures."""
    seen = [observe(state, HOUSE.seat) for state in states]
    racks, unseen = np.array([one.counts for one in seen]), np.array([one.unseen for one in seen])
    rows = np.arange(len(table))
    missed = [missing(table, one.counts).min() for one in seen]
    odds = [exact(table, rows, one.counts, one.unseen, DRAWS).max() for one in seen]
    worths, walls = [], []
    for place, state in enumerate(states):
        one = slice(place, place + 1)  # a rack at a time, as the tiles unseen are not alike in number
        worths.append(weigh(table, racks[one], unseen[one], DRAWS).left[:, :JOKER].max())
        alive = possible(table, racks[one], unseen[one])
        batch = Batch(racks[one], unseen[one], shortfalls(table, racks[one]), alive, DRAWS)
        goes = int(by_odds(table, batch)[0])
        rack = list(kinds_of(racks[place]))
        rack.remove(goes)
        walls.append([*rack, *state.wall, goes, *(kind for others in state.racks[1:] for kind in others)])
    made = (simulate_quiet(table, np.array(walls), by_odds, DRAWS).picks > 0) | (np.array(missed) == 0)
    return np.stack([missed, 100 * np.array(odds), 100 * np.array(worths), 100 * made], axis=1)


def play(job):
    """[passers, deals, 4] what each passer comes to; a job is a sheet, the strength of the others, and seeds."""
    sheet, strength, seeds = job
    table = SheetTable.of(find(sheet), HOUSE.jokers)
    others = player(strength, table)
    return np.stack(
        [measured(table, [after_passes(table, others, passer, seed) for seed in seeds]) for passer in PASSERS.values()]
    )


def thinking(sheet, seeds):
    """Milliseconds of processor time that the whole advice for a first pass takes, and its choices, deal by deal."""
    table = SheetTable.of(find(sheet), HOUSE.jokers)
    taken = []
    for seed in seeds:
        observation = observe(DealCode.of(table.sheet, HOUSE, seed).deal(table.sheet), HOUSE.seat)
        start = time.process_time()
        advice = advise_passes(table, observation)
        taken.append((1000 * (time.process_time() - start), len(advice.choices)))
    return np.array(taken)


def interval(values):
    """Half the width of a 95% interval for a mean."""
    return 1.96 * values.std(ddof=1) / len(values) ** 0.5


def row(name, values):
    """One line of the table: [deals, 4]."""
    cells = (f"{column.mean():>10.2f} ± {interval(column):<5.2f}" for column in values.T)
    return f"{name:<26}" + "".join(cells)


def main():
    """Play, and print one table and the line of the difference."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--deals", type=int, default=200)
    parser.add_argument("--sheet", default="lantern-street")
    parser.add_argument("--others", default="steady", choices=[strength.value for strength in Strength])
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--jobs", type=int, default=2)
    args = parser.parse_args()
    if args.deals < 2:
        parser.error(f"--deals is {args.deals}; an interval needs 2 or more")
    chance = random.Random(args.seed)
    seeds = [int(chance.random() * SEEDS) for _ in range(args.deals)]
    strength = Strength(args.others)
    taken = thinking(args.sheet, seeds[:100])
    jobs = [(args.sheet, strength, seeds[start : start + BATCH]) for start in range(0, len(seeds), BATCH)]
    start = time.perf_counter()
    with ProcessPoolExecutor(args.jobs) as pool:
        held = np.concatenate(list(pool.map(play, jobs)), axis=1)
    print(f"{args.sheet}, {args.deals} deals, the others {args.others}, {time.perf_counter() - start:.0f} s")
    slow, most = np.percentile(taken[:, 0], 95), int(taken[:, 1].max())
    print(
        f"advice for a first pass, all choices (up to {most}) weighed and explained: "
        f"median {np.median(taken[:, 0]):.0f} ms, 95% under {slow:.0f} ms"
    )
    print(f"{'passer':<26}" + "".join(f"{measure:>18}" for measure in MEASURES))
    for name, values in zip(PASSERS, held, strict=True):
        print(row(name, values))
    for name, values in list(zip(PASSERS, held, strict=True))[1:]:
        print(row(f"advised less {name}", held[0] - values))
    ahead = held[0, :, 1] - held[1, :, 1]
    print(
        f"advised passes: {ahead.mean():.1f} hundredths of worth ahead of nearest-hand passes, "
        f"plus or minus {interval(ahead):.1f}, over {args.deals} deals"
    )


if __name__ == "__main__":
    main()
