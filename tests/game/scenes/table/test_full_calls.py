"""Calls at the full table in the window: what can be answered to a discard, and the time that it waits."""

from dataclasses import replace

import pytest
from at_full_table import full_table, let_go, open_hand
from full_kit import advised, asked, last, on_screen, shown
from harness import click, press

from engine.rules.actions import Call, LetGo
from engine.rules.state import Phase
from engine.tiles import JOKER, name
from game.play.settings import HIDDEN
from game.scenes.table.popups import CallPopup
from game.words.situation import prompt, situation

pytestmark = pytest.mark.slow


def test_a_discard_is_asked_about_with_whose_it_was(routes):
    """The strip names seat and tile; letting go is the main answer."""
    scene, kind, _ = asked(routes)
    assert f"South let the {name(kind)} go. Call it, or let it go?" in shown(scene)
    assert next(target.name for target in scene.ui.targets if target.main) == "Let it go"
    assert press(scene, "return") is scene
    assert last(scene) == LetGo()


def test_calling_lays_the_group_beside_the_rack(routes):
    """By key where there is one way; the exposure is laid and the player lets a tile go."""
    advised(routes, HIDDEN)
    scene, kind, _ = asked(routes)
    assert press(scene, "c") is scene
    assert last(scene) == Call(3)
    assert scene.state.exposures[0][0].kind == kind
    assert "You show" in shown(scene)
    assert f"You called the {name(kind)} for a pung. Let one tile go." in shown(scene)
    assert situation(scene.sitting) == f"You called the {name(kind)} for a pung. Let one tile go."
    assert len(scene.rack) == 11


def test_of_several_ways_to_call_one_is_chosen(routes):
    """With a joker to spare there are more ways: a popup lists them, a digit takes one."""
    advised(routes, HIDDEN)
    _, tiles, kind = open_hand()
    rack = [*[tile for tile in tiles if tile != kind][:9], kind, kind, JOKER]
    spare = [tile for tile in range(26, -1, -1) if tile not in tiles][: 14 - len(rack)]
    scene = full_table(routes, [*rack, *spare], [kind])
    let_go(scene, spare[0])
    popup = press(on_screen(scene), "c")
    assert isinstance(popup, CallPopup)
    assert press(popup, "escape") is scene
    calls = scene.calls
    assert len(calls) > 1
    popup = press(scene, "c")
    assert press(popup, "2") is scene
    assert last(scene) == calls[1]


def test_pressing_a_tile_lets_none_go_while_a_call_is_open(routes):
    """First the discard is answered: Enter lets it go, not the tile."""
    scene, _, _ = asked(routes)
    click(scene, "tile 2")
    click(scene, "tile 2")
    assert scene.calling
    scene.let_go()
    assert "First say what to do about the discard" in scene.trouble


@pytest.mark.slow
def test_all_discards_are_let_go_until_the_players_turn(routes):
    """One key; then it is the player's own turn."""
    scene, _, _ = asked(routes)
    press(scene, "u")
    assert scene.state.phase is Phase.TURN
    assert scene.state.to_act == 0


def test_letting_all_go_stops_for_a_winning_discard(routes):
    """What would finish the hand is never let go unasked."""
    hand, tiles, kind = open_hand()
    first = next(tile for tile in tiles if tile != kind)
    rack = list(tiles)
    rack.remove(first)
    spare = next(tile for tile in range(26, -1, -1) if tile not in tiles)
    rack.append(spare)
    scene = full_table(routes, rack, [kind, first])
    let_go(scene, spare)
    if not scene.wins:
        scene.let_all_go()
    assert scene.calling
    assert scene.wins
    press(on_screen(scene), "m")
    assert scene.finished
    assert scene.state.outcome.hand.name == hand.name


# The time that a discard waits.


def test_a_call_waits_as_long_as_the_player_likes(routes):
    """By default for ever."""
    scene, _, _ = asked(routes)
    scene.update(3600.0)
    assert scene.calling


def test_a_call_closes_after_the_seconds_set(routes):
    """It is shown in whole seconds, drawn once a second, and ends as letting go."""
    routes.desk.save_settings(replace(routes.desk.settings, call_seconds=5))
    scene, _, _ = asked(routes)
    assert "5 s" in shown(scene)
    scene.dirty = False
    scene.update(0.4)
    assert not scene.dirty
    scene.update(0.7)
    assert scene.dirty
    assert "4 s" in shown(scene)
    scene.update(3.8)
    assert scene.calling
    scene.update(0.2)
    assert not scene.calling
    assert last(scene) == LetGo()


def test_looking_back_the_clock_stands_still(routes):
    """What was chosen before is not undone by time."""
    routes.desk.save_settings(replace(routes.desk.settings, call_seconds=5))
    scene, _, _ = asked(routes)
    press(scene, "return")
    scene.step(False)
    entries = list(scene.sitting.entries)
    scene.update(60.0)
    assert scene.sitting.entries == entries
    assert "and you let it go" in prompt(scene.sitting)
