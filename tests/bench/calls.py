"""What the simulated players call, and what they throw: shares of all calls in games of four players of one strength.

    python tests/bench/calls.py --games 40 [--sheet S] [--seed S] [--strength steady]

A call brings its player nearer when the nearest variant that is still possible lacks fewer tiles after it than before.
The tiles lacking are counted by a loop over all variants of its own. It asserts nothing.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # the cores are shared out by process
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # runs from a checkout, installed or not

import numpy as np

from engine.advice.table import SheetTable
from engine.rules.actions import Call, Discard
from engine.rules.deal import shuffle
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import FULL, House
from engine.rules.observation import observe
from engine.rules.state import CHANCE, Exposure, Phase
from engine.seats.character import Strength
from engine.seats.players import player
from engine.sheet.shelf import find
from engine.tiles import JOKER

HOUSE = House(table=FULL, passes=6, courtesy=True)
FAR = 6
"""A first exposure with so many tiles lacking, or more, comes too early."""


def lacking(table, observation, rack, laid):
    """Tiles that the nearest variant still lacks, of those that the exposures allow and the tiles left can make."""
    allowed = table.allowing(laid)
    held, left = np.array(rack), np.array(observation.unseen)
    for one in laid:
        held[one.kind] += one.size
    real, loose = table.real.astype(int), table.loose.astype(int)

    def short(counts, jokers):
        strict = np.maximum(real - counts, 0).sum(axis=1)
        spare = np.maximum(counts - real, 0)
        return strict + np.maximum(np.maximum(loose - spare, 0)[:, :JOKER].sum(axis=1) - jokers, 0)

    possible = short(held + left, rack[JOKER] + left[JOKER]) == 0
    missing = short(held, rack[JOKER])[allowed & possible]
    return int(missing.min()) if len(missing) else 99


def called(table, observation, call):
    """Tiles lacking before and after a call."""
    seat, kind = observation.seat, observation.discards[-1].kind
    own = observation.exposures[seat]
    laid = Exposure(call.size, kind, call.jokers)
    rack = list(observation.counts)
    before = lacking(table, observation, rack, own)
    rack[kind] -= laid.real - 1
    rack[JOKER] -= laid.jokers
    return before, lacking(table, observation, rack, (*own, laid))


def play(stem, strength, seed):
    """One game of four alike: a tally of what was called and thrown."""
    sheet = find(stem)
    table = SheetTable.of(sheet, HOUSE.jokers)
    choose = player(strength, table)
    state = start(sheet, HOUSE, shuffle(seed, HOUSE.jokers))
    tally = Counter(games=1)
    while state.phase is not Phase.OVER:
        if state.to_act == CHANCE:
            action = legal_actions(state)[0]
        else:
            observation = observe(state, state.to_act)
            action = choose(observation)
            if isinstance(action, Call):
                before, after = called(table, observation, action)
                tally["calls"] += 1
                tally["no nearer"] += after >= before
                if not observation.exposures[observation.seat]:
                    tally["first"] += 1
                    tally["far"] += before >= FAR
            if isinstance(action, Discard):
                tally["discards"] += 1
                jokers = {one.kind for laid in observation.exposures for one in laid if one.jokers}
                tally["redeeming"] += action.kind in jokers
        state = apply(state, action)
    tally["won"] += state.outcome.winner is not None
    tally["left"] += len(state.wall)
    return tally


def main():
    """Prints one line for each strength."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--games", type=int, default=40)
    parser.add_argument("--sheet", default="lantern-street")
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--strength", action="append", choices=[one.value for one in Strength])
    parser.add_argument("--jobs", type=int, default=os.cpu_count())
    args = parser.parse_args()
    for strength in map(Strength, args.strength or [one.value for one in Strength]):
        total = Counter()
        with ProcessPoolExecutor(args.jobs) as pool:
            for tally in pool.map(partial(play, args.sheet, strength), range(args.seed, args.seed + args.games)):
                total.update(tally)
        games, calls, first = total["games"], max(total["calls"], 1), max(total["first"], 1)
        print(
            f"{strength.value:9} {games} games, {total['won'] / games:.0%} won, "
            f"{total['left'] / games:.0f} tiles left; "
            f"{total['calls']} calls ({calls / games:.1f} a game), {total['no nearer'] / calls:.1%} no nearer; "
            f"{total['far'] / first:.1%} of {total['first']} first exposures with {FAR} or more lacking; "
            f"{total['redeeming']} of {total['discards']} discards would have redeemed a joker",
            flush=True,
        )


if __name__ == "__main__":
    main()
