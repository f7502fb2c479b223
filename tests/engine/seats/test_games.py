"""Whole games of simulated players: every action legal, all tiles there, no joker passed, and the same again."""

import pytest
from depth import deep

from engine.rules.actions import Give, Mahjong, Pass
from engine.rules.game import legal_actions
from engine.rules.house import FULL, QUIET, House
from engine.rules.state import CHANCE, Phase, tiles_in
from engine.seats.character import Strength
from engine.seats.players import table_of
from engine.sheet.shelf import find
from engine.tiles import JOKER, full_set

MIXED = (Strength.SHARP, Strength.BEGINNER, Strength.STEADY, Strength.BEGINNER)


@pytest.mark.parametrize("seed", range(deep(6, 12)))
@pytest.mark.slow
def test_every_action_is_legal_and_no_tile_is_lost(salon, seed):
    """At each step of a game the chosen action is one of those offered, and the set stays whole to the end."""
    strengths = [MIXED[(seed + seat) % 4] for seat in range(4)]
    steps, last = salon.game(table_of(strengths, salon.table), seed)
    for state, action in steps:
        assert action in legal_actions(state), (state.phase, action)
        assert tiles_in(state) == full_set()
        if isinstance(action, Pass | Give):
            assert JOKER not in action.kinds
    assert tiles_in(last) == full_set()
    assert last.phase is Phase.OVER


@pytest.mark.parametrize("strength", Strength)
@pytest.mark.slow
def test_mahjong_is_shown_whenever_it_is_legal(salon, strength):
    """No player lets a finished hand go by, and only mahjong or the wall ends a game."""
    choose = table_of([strength], salon.table)
    for seed in range(deep(3, 6)):
        steps, last = salon.game(choose, seed)
        for state, action in steps:
            if state.to_act != CHANCE and Mahjong() in legal_actions(state):
                assert action == Mahjong()
        assert last.outcome.kind in ("mahjong", "wall")


@pytest.mark.parametrize("strength", Strength)
@pytest.mark.slow
def test_passes_at_the_quiet_table_are_legal_under_any_house_rules(salon, strength):
    """Rounds left out, no courtesy, no blind passes: the players keep to what is offered."""
    choose = table_of([strength], salon.table)
    for seed, (passes, courtesy, blind) in enumerate(((1, False, True), (3, True, False), (4, False, False))):
        house = House(QUIET, passes=passes, courtesy=courtesy, blind=blind, picks=3)
        steps, _ = salon.game(choose, seed, house)
        assert all(action in legal_actions(state) for state, action in steps)


OTHERS = (("first-steps", 4, 0), ("first-steps", 2, 10), ("lantern-street", 3, 4))


@pytest.mark.parametrize(("stem", "sections", "jokers"), OTHERS)
@pytest.mark.slow
def test_other_sheets_cut_sheets_and_other_numbers_of_jokers(salon, stem, sections, jokers):
    """Without jokers, with ten, and on a sheet cut to some sections, every action is legal and nothing is lost."""
    whole = find(stem)
    sheet = whole.cut([section.name for section in whole.sections[:sections]])
    other = salon.with_sheet(sheet, jokers)
    choose = table_of(MIXED, other.table)
    for seed in range(3):
        steps, last = other.game(choose, seed, House(FULL, passes=6, courtesy=True, jokers=jokers))
        assert all(action in legal_actions(state) for state, action in steps)
        assert tiles_in(last) == full_set(jokers)
        assert not any(last.dead)


@pytest.mark.parametrize("strength", Strength)
@pytest.mark.slow
def test_a_game_is_the_same_again(salon, strength):
    """A new player of the same strength does the same in the same deal."""
    first, _ = salon.game(table_of([strength], salon.table), 4, House(FULL, passes=6, courtesy=True))
    again, _ = salon.game(table_of([strength], salon.table), 4, House(FULL, passes=6, courtesy=True))
    assert [action for _, action in first] == [action for _, action in again]
