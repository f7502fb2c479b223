"""Two-hand games played by the advice: how many are won, how many make one hand, and how long an advice takes."""

from __future__ import annotations

import argparse
import time

from engine.advice.advise.two_hands import advise_two
from engine.advice.stats import wilson
from engine.advice.table import SheetTable
from engine.rules.deal import shuffle
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import TWO, House
from engine.rules.observation import observe
from engine.rules.state import CHANCE
from engine.sheet.shelf import find, shipped


def main() -> None:
    """Play and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("sheet", nargs="?", default=shipped()[0], help="a sheet's file, or a shipped sheet by name")
    parser.add_argument("--games", type=int, default=20)
    parser.add_argument("--picks", type=int, default=60)
    asked = parser.parse_args()
    sheet = find(asked.sheet)
    table, won, one, moments, spent = SheetTable.of(sheet), 0, 0, 0, 0.0
    for seed in range(asked.games):
        state = start(sheet, House(table=TWO, picks=asked.picks), shuffle(seed))
        while state.outcome is None:
            if state.to_act == CHANCE:
                state = apply(state, legal_actions(state)[0])
                continue
            began = time.process_time()
            action = advise_two(table, observe(state, 0)).action
            spent, moments = spent + time.process_time() - began, moments + 1
            state = apply(state, action)
        won += state.outcome.kind == "mahjong"
        one += state.two is not None and any(shown is not None for shown in state.two.shown)
    low, high = wilson(won, asked.games)
    print(f"{sheet.name}, {asked.picks} picks: {won} of {asked.games} games won ({low:.0%} to {high:.0%})")
    print(
        f"at least one hand made in {one} of {asked.games}; an advice takes {1000 * spent / moments:.0f} ms of a core"
    )


if __name__ == "__main__":
    main()
