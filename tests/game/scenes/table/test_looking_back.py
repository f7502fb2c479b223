"""Steps back and forth at every table: hidden advice stays hidden, what was seen is told, and nothing is lost."""

import pytest
from any_table import advised, main, passing, text, to_the_end
from at_table import beginner, deal
from harness import press

from engine.rules.actions import Discard
from engine.rules.deal import DealCode
from engine.rules.house import FULL, House
from engine.tiles import say_tiles
from game.play.lines import begin, line_of
from game.play.settings import HIDDEN, HINTED
from game.scenes.table.moment import NO_LONGER_COUNTS

ELSEWHERE = (
    House(seat=2),
    House(table=FULL, seat=1),
    House(seat=1, passes=3),
    House(table=FULL, seat=2, passes=6),
)


@pytest.mark.slow
def test_hidden_advice_stays_hidden_when_stepping_back(routes):
    """Until the game is over; then every choice can be looked at with its odds."""
    advised(routes, HIDDEN)
    table = deal(routes, House(picks=3), advice_hidden=True)
    table.chosen = 0
    table.let_go()
    table.step(False)
    assert table.looking_back
    assert table.advice_shown is None
    assert "Within reach" not in text(table)
    assert not any(target.enabled and "advice" in target.says.lower() for target in table.ui.targets)
    to_the_end(table)
    assert routes.desk.store.line(line_of(table.sitting)).advice_hidden
    table.step(False)
    assert "Within reach" in text(table)
    assert routes.desk.store.line(line_of(table.sitting)).advice_hidden


def test_a_game_whose_advice_was_seen_says_that_it_no_longer_counts(routes):
    """The setting is changed in the middle and advice shown: said once, and kept."""
    advised(routes, HIDDEN)
    table = deal(routes, advice_hidden=True)
    table.chosen = 0
    table.let_go()
    advised(routes, HINTED)
    table.step(False)
    assert table.advice_shown is not None
    assert not routes.desk.store.line(line_of(table.sitting)).advice_hidden
    assert NO_LONGER_COUNTS in text(table)
    table.step(True)
    assert table.trouble == ""


def test_a_fork_chosen_with_advice_in_sight_does_not_count(routes):
    """The finished game still does."""
    advised(routes, HIDDEN)
    table = to_the_end(deal(routes, House(picks=2), advice_hidden=True))
    first = line_of(table.sitting)
    table.again()
    assert table.advice_shown is not None
    other = next(kind for kind in table.rack if Discard(kind) != table.sitting.entries[0].action)
    table.chosen = table.rack.index(other)
    table.let_go()
    assert line_of(table.sitting) != first
    assert routes.desk.store.line(first).advice_hidden
    assert not routes.desk.store.line(line_of(table.sitting)).advice_hidden


@pytest.mark.parametrize(
    "house", [House(seat=2), House(table=FULL, seat=1), House(seat=1, passes=3), House(table=FULL, seat=2, passes=6)]
)
@pytest.mark.slow
def test_the_first_choice_can_be_gone_to_before_it_is_made(routes, house):
    """From a seat that is not East, where others choose before the player does."""
    sheet = beginner()
    sitting = begin(routes.desk.store, sheet, DealCode.of(sheet, house, 3), others=routes.desk.others(sheet, house))
    scene = routes.at_table(sitting)
    before = sitting.cursor
    assert before > 0
    text(scene)
    assert press(scene, "home") is scene
    assert sitting.cursor == before
    assert routes.look_back(line_of(sitting)).sitting.state.to_act == house.seat


@pytest.mark.slow
def test_there_is_no_step_back_from_the_first_choice(routes):
    """In play and in the passes, in a new deal and in one that is looked at again."""
    for scene in (deal(routes), passing(routes)):
        text(scene)
        assert [target.enabled for target in scene.ui.targets if target.name == "Step back"] == [False]
    scene.take_advised(scene.advice.choices[0].kinds)
    scene.pass_them()
    text(scene)
    assert [target.enabled for target in scene.ui.targets if target.name == "Step back"] == [True]
    scene.step(False)
    text(scene)
    assert [target.enabled for target in scene.ui.targets if target.name == "Step back"] == [False]


def test_the_arrow_keys_start_at_the_tile_just_drawn(routes):
    """Either way round; from there they go on as ever."""
    for arrow in ("left", "right"):
        table = deal(routes)
        text(table)
        press(table, "right", "return")
        drawn_at = len(table.rack) - 1 - table.rack[::-1].index(table.sitting.state.drawn)
        press(table, arrow)
        assert table.chosen == drawn_at


def test_looking_back_shows_what_was_passed(routes):
    """In words and as tiles with a mark on the rack; Enter goes forward and forks nothing."""
    scene = passing(routes)
    gone = scene.advice.choices[0].kinds
    scene.take_advised(gone)
    scene.pass_them()
    line, entries = line_of(scene.sitting), list(scene.sitting.entries)
    scene.step(False)
    said = text(scene)
    assert f"You passed {say_tiles(gone)} to the right." in said
    assert "Went from here:" in said
    assert sorted(scene.rack[place] for place in scene.gone) == sorted(gone)
    assert main(scene) == ["Forward"]
    press(scene, "return")
    assert not scene.looking_back
    assert (line_of(scene.sitting), scene.sitting.entries) == (line, entries)
