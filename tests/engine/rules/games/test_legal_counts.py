"""How many choices are legal at each step of seeded games, kept as data so that no rule changes unseen.

A mismatch prints the first step that differs, the choices found there by type, and the game's whole line as found.
"""

from collections import Counter
from pathlib import Path

import pytest

from engine.rules.game import legal_actions
from engine.rules.house import FULL, House

DATA = Path(__file__).parents[3] / "data" / "legal_counts.txt"
TABLES = {
    "quiet": House(picks=30),
    "quiet-south": House(seat=1, jokers=10, picks=20),
    "passes": House(passes=6, courtesy=True, picks=1),
    "passes-seen": House(passes=6, blind=False, picks=1),
    "full": House(table=FULL),
    "full-passes": House(table=FULL, passes=6, courtesy=True),
    "full-slips": House(table=FULL, slips=True),
    "full-keen": House(table=FULL),
}


def recorded():
    """(table, seed, totals by type, counts) of each line of the data."""
    for line in DATA.read_text(encoding="utf-8").splitlines():
        if line and not line.startswith("#"):
            head, totals, counts = line.split(" | ")
            table, seed = head.split()
            yield pytest.param(table, int(seed), totals, counts, id=head)


def line_of(table, seed, splits):
    """A game's line of the data from the choices by type at each step."""
    totals = sum(splits, Counter())
    said = " ".join(f"{name} {totals[name]}" for name in sorted(totals))
    return f"{table} {seed} | {said} | {' '.join(str(split.total()) for split in splits)}"


@pytest.mark.parametrize(("table", "seed", "totals", "counts"), list(recorded()))
@pytest.mark.slow
def test_legal_choices_are_as_many_as_recorded(kit, table, seed, totals, counts):
    """Step by step, and by type in all."""
    steps, _ = kit.random_game(TABLES[table], seed, kit.choose_keenly if table == "full-keen" else None)
    splits = [Counter(type(action).__name__ for action in legal_actions(state)) for state, _ in steps]
    found = line_of(table, seed, splits)
    if found == f"{table} {seed} | {totals} | {counts}":
        return
    expected = [int(count) for count in counts.split()]
    numbers = [split.total() for split in splits]
    differ = [step for step, (a, b) in enumerate(zip(expected, numbers, strict=False)) if a != b]
    step = differ[0] if differ else min(len(expected), len(numbers))
    here = dict(splits[step]) if step < len(splits) else "the game is over"
    there = expected[step] if step < len(expected) else "the game was over"
    state = steps[min(step, len(steps) - 1)][0]
    pytest.fail(
        f"step {step} in {state.phase.value}: recorded {there}, found {here}; recorded totals {totals}\n{found}"
    )


def test_the_data_covers_every_kind_of_table_and_of_choice():
    """All tables above are there, and between them every type of action is offered."""
    lines = [param.values for param in recorded()]
    assert {table for table, *_ in lines} == set(TABLES)
    types = {word for _, _, totals, _ in lines for word in totals.split()[::2]}
    assert types == {
        "Agree",
        "Ask",
        "Call",
        "Discard",
        "Draw",
        "Exchange",
        "Give",
        "LetGo",
        "Mahjong",
        "Pass",
        "Stop",
    }
