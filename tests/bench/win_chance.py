"""How well the chance to win that is shown at a full table comes true, and the curve behind it fitted anew.

    python tests/bench/win_chance.py --games N [--fit SHEET]... [--sheet SHEET]... [--jobs J]

Four of the sharp seats of `reference_seats` play. Each is asked for its chance at its first, third and fifth pass, and
when it has let its first, fourth, seventh, tenth and thirteenth tile go; then it is seen who wins. With --fit the
curves of `engine/advice/contest/winning` are fitted to the games on those sheets, by logistic regression, and printed;
the sheets named by --sheet are measured with them, or else with the shipped ones. It asserts nothing.
"""

import argparse
import os
import sys
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # the cores are shared out by process
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # runs from a checkout, installed or not
sys.path.insert(0, str(Path(__file__).resolve().parent))

import numpy as np
from reference_seats.character import Strength
from reference_seats.players import player

from engine.advice.contest.choosing import best_gone, to_come
from engine.advice.contest.contest import Contest, random_score
from engine.advice.contest.winning import BEFORE_PLAY, FULL_WALL, IN_PLAY, beyond, in_play
from engine.advice.table import SheetTable
from engine.rules.actions import PASS_TILES, Discard
from engine.rules.deal import SEEDS, shuffle
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import FULL, House
from engine.rules.observation import observe
from engine.rules.state import CHANCE, Phase
from engine.sheet.shelf import find

HOUSE = House(table=FULL, passes=6, courtesy=True)
PASSES = (0, 2, 4)
"""At these passes a seat is asked, counted from 0."""
ASKED = (1, 4, 7, 10, 13)
"""After so many tiles let go, a seat is asked."""
PARTS = len(IN_PLAY)
"""Parts that a curve counts."""
STEPS = 25
"""Steps of Newton's method; it has long come to rest by then."""

_known = {}


def play(stem, seed):
    """[n, PARTS + 3] what the curves count of one game's figures, 1 where that seat won, 1 before play, and the passes
    made."""
    if stem not in _known:
        sheet = find(stem)
        table = SheetTable.of(sheet, HOUSE.jokers)
        _known[stem] = sheet, player(Strength.SHARP, table), Contest(table)
    sheet, choose, contest = _known[stem]
    state = start(sheet, HOUSE, shuffle(seed, HOUSE.jokers))
    thrown, figures = [0] * 4, []
    while state.phase is not Phase.OVER:
        seat = state.to_act
        if state.phase is Phase.PASSING and state.passes_done in PASSES:
            observation = observe(state, seat)
            coming = to_come(observation)
            _, gone = best_gone(contest, observation, PASS_TILES, coming)
            figure = contest.figures(contest.rack(observation, coming), [gone])[0]
            random = random_score(contest.table, observation.wall_left, coming)
            along = beyond(figure, random, state.passes_done)
            figures.append(((1.0, along, 0.0, 0.0, 0.0), seat, True, state.passes_done))
        action = legal_actions(state)[0] if seat == CHANCE else choose(observe(state, seat))
        state = apply(state, action)
        if isinstance(action, Discard):
            thrown[seat] += 1
            if thrown[seat] in ASKED:
                figure = contest.figures(contest.rack(observe(state, seat)), [()])[0]
                counted = in_play(figure, random_score(contest.table, FULL_WALL, 0), len(state.wall))
                figures.append((counted, seat, False, state.passes_done))
    return np.array([(*counted, seat == state.outcome.winner, *rest) for counted, seat, *rest in figures], float)


def fitted(found):
    """The likeliest curve, by Newton's method (logistic regression); what never varies counts nothing."""
    along = found[:, :PARTS]
    curve = np.zeros(PARTS)
    for _ in range(STEPS):
        chance = 1 / (1 + np.exp(-along @ curve))
        bend = (along * (chance * (1 - chance))[:, None]).T @ along
        curve += np.linalg.pinv(bend) @ (along.T @ (found[:, PARTS] - chance))
    return curve


def report(title, found, curve):
    """One line for all, then one for each tenth."""
    chance = 1 / (1 + np.exp(-found[:, :PARTS] @ curve))
    won = found[:, PARTS]
    always = np.mean((won.mean() - won) ** 2)
    print(f"{title}: {len(found)} moments, Brier {np.mean((chance - won) ** 2):.4f} (always the mean: {always:.4f})")
    for tenth in range(10):
        here = (chance >= tenth / 10) & (chance < (tenth + 1) / 10)
        if here.any():
            print(f"  said {chance[here].mean():6.1%}  came {won[here].mean():6.1%}  of {here.sum()}")


def main():
    """Play, fit where that is asked for, print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--games", type=int, default=100, help="on each sheet")
    parser.add_argument("--fit", action="append", default=[], help="a sheet to fit the curve to")
    parser.add_argument("--sheet", action="append", default=[], help="a sheet to measure it on")
    parser.add_argument("--seed", type=int, default=1, help="seed of the first deal")
    parser.add_argument("--jobs", type=int, default=os.cpu_count(), help="processes")
    asked = parser.parse_args()
    if asked.games < 1 or asked.jobs < 1 or not 0 <= asked.seed <= SEEDS - asked.games:
        parser.error(f"--games and --jobs are at least 1, --seed is 0 to {SEEDS} less the games")
    seeds = range(asked.seed, asked.seed + asked.games)
    with ProcessPoolExecutor(asked.jobs) as pool:
        found = {stem: np.concatenate([*pool.map(partial(play, stem), seeds)]) for stem in (*asked.fit, *asked.sheet)}
    for before, name, shipped in ((False, "IN_PLAY", IN_PLAY), (True, "BEFORE_PLAY", BEFORE_PLAY)):
        these = {stem: rows[rows[:, PARTS + 1] == before] for stem, rows in found.items()}
        curve = np.resize(np.append(shipped, np.zeros(PARTS)), PARTS)
        if asked.fit:
            curve = fitted(np.concatenate([these[stem] for stem in asked.fit]))
        print(f"{name} =", ", ".join(f"{weight:.3f}" for weight in curve[: len(shipped)]))
        for passes in PASSES if before and asked.fit else ():
            risen = np.mean([these[stem][these[stem][:, PARTS + 2] == passes, 1].mean() for stem in asked.fit])
            print(f"after {passes} passes the score is {risen:+.3f} beyond what RISEN says")
        for stem in dict.fromkeys((*asked.fit, *asked.sheet)):
            report(f"{stem} (fitted to)" if stem in asked.fit else stem, these[stem], curve)


if __name__ == "__main__":
    main()
