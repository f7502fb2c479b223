"""Whether tiles make a hand, and how many are missing, against a general constraint solver (OR-Tools' CP-SAT).

The solver knows only the rules in words: each place of a hand takes one tile of its kind or a joker, a joker stands in
a group of three or more alike, and each tile fills one place.
"""

import random

import pytest
from ortools.sat.python import cp_model

from engine.advice.odds.reach import missing
from engine.advice.table import SheetTable
from engine.drills.racks import rack_near, tiles_of
from engine.rules.matching import match
from engine.sheet.shelf import find, shipped
from engine.tiles import JOKER, counts_of


def fewest_missing(variant, tiles):
    """The least number of places left empty when tiles are laid into the places of a variant."""
    places = [(group.kind, group.size >= 3) for group in variant.groups for _ in range(group.size)]
    model = cp_model.CpModel()
    laid = {
        (tile, place): model.new_bool_var(f"{tile} at {place}")
        for tile, kind in enumerate(tiles)
        for place, (wanted, takes_jokers) in enumerate(places)
        if kind == wanted or (kind == JOKER and takes_jokers)
    }
    for tile in range(len(tiles)):
        model.add_at_most_one(var for (one, _), var in laid.items() if one == tile)
    for place in range(len(places)):
        model.add_at_most_one(var for (_, one), var in laid.items() if one == place)
    model.maximize(sum(laid.values()))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return len(places) - round(solver.objective_value)


@pytest.mark.parametrize("stem", shipped())
@pytest.mark.slow
def test_tiles_missing_are_those_of_the_solver(stem):
    """Racks near a hand and far from one, with and without jokers."""
    sheet, chance = find(stem), random.Random(8)
    table = SheetTable.of(sheet, 8)
    for _ in range(25):
        row = int(chance.random() * len(table))
        rack = rack_near(table.variants[int(chance.random() * len(table))], int(chance.random() * 9), chance)
        found = int(missing(table, counts_of(rack))[row])
        assert found == fewest_missing(table.variants[row], rack)


def could_fill(variant, counts):
    """Whether there are tiles enough for a variant, if every joker could stand anywhere."""
    alike = sum(min(need, held) for need, held in zip(variant.total, counts[:JOKER], strict=False))
    return alike + counts[JOKER] >= 14


@pytest.mark.parametrize("stem", shipped())
@pytest.mark.slow
def test_a_hand_is_one_where_the_solver_leaves_no_place_empty(stem):
    """Whole hands; the same with one tile exchanged, which only some variant's tiles survive."""
    sheet, chance = find(stem), random.Random(9)
    seen = set()
    for hand in sheet.hands[:: max(len(sheet.hands) // 6, 1)]:
        variant = hand.variants[int(chance.random() * len(hand.variants))]
        whole = list(tiles_of(variant, 2, chance))
        place = int(chance.random() * 14)
        changed = [*whole[:place], (whole[place] + 1) % JOKER, *whole[place + 1 :]]
        for tiles in (whole, changed):
            counts = counts_of(tiles)
            able = [one for hand in sheet.hands for one in hand.variants if could_fill(one, counts)]
            filled = any(fewest_missing(one, tiles) == 0 for one in able)
            assert filled == (match(sheet, counts) is not None)
            seen.add(filled)
    assert seen == {True, False}
