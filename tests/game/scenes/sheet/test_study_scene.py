"""A sheet is studied: pictures, what stands behind their cells, and weights by what comes off."""

import pytest
from bare_desk import BareRoutes
from harness import click, drawn, make_look, press
from polling import poll_until
from sheet_scene_kit import SIZE, texts

from engine.sheet.shelf import find
from engine.tiles import DRAGONS, FLOWER, NAMES
from engine.words import sentence
from game.play.worker import Worker
from game.scenes.home.scene import HomeScene
from game.scenes.sheet.hand_page import HandScene
from game.scenes.sheet.heat import MADE
from game.scenes.sheet.made import Made
from game.scenes.sheet.study import COUNTS, SECTIONS, SHAPES, TILES, BehindPopup, StudyScene
from game.words.study import shape_words


def test_a_sheet_is_studied_in_the_background():
    """A worker counts; until it has, the screen says so."""
    worker = Worker()
    routes = BareRoutes(make_look())
    routes.desk.worker = worker
    scene = StudyScene(routes, routes.desk.current_sheet, HomeScene(routes))
    assert "The sheet is being counted." in texts(scene)
    poll_until(worker, lambda: scene.heat is not None)
    assert "The sheet is being counted." not in texts(scene)
    assert scene.study.hands == 60
    worker.close()


@pytest.mark.slow
def test_how_often_a_hand_comes_off_is_counted_in_the_background():
    """Deals are played on the worker's thread; what is said are the counts of the command's first deals."""
    sheet = find("first-steps")
    worker = Worker()
    made = Made(sheet, worker)
    routes = BareRoutes(make_look())
    page = HandScene(routes, sheet, sheet.hand("Curtains"), HomeScene(routes), made)
    assert "Nobody has counted yet" in texts(page)
    press(page, "o")
    poll_until(worker, lambda: made.tally is not None)
    assert made.running
    count = next(one for one in made.tally.hands if one.name == "Curtains")
    assert f"made in {count.made} of {count.deals} practice deals so far" in texts(page)
    worker.close()


@pytest.mark.parametrize("kind", [4, *DRAGONS, FLOWER])
@pytest.mark.slow
def test_a_pressed_tile_names_its_hands(routes, home, sheet, kind):
    """As many hands as the cell says, each a way to its page."""
    study = StudyScene(routes, sheet, home)
    study.show(TILES)
    drawn(study, SIZE, 1.0)
    click(study, f"tile {NAMES[kind]}")
    wanted = [hand for hand in sheet.hands if any(kind in [g.kind for g in v.groups] for v in hand.variants)]
    assert list(study.hands) == wanted
    assert f"{len(wanted)} hands" in texts(study)
    page = click(study, f"hand {wanted[0].name}")
    assert isinstance(page, HandScene)
    assert press(page, "escape") is study


def test_pressed_cells_of_the_other_pictures(routes, home, sheet):
    """A section's cell, a bar of sizes and a bar of flowers answer with their hands."""
    study = StudyScene(routes, sheet, home)
    study.show(SECTIONS)
    drawn(study, SIZE, 1.0)
    click(study, "Weather W")
    winds = [
        hand for hand in sheet.sections[4].hands if any(27 <= g.kind < 31 for v in hand.variants for g in v.groups)
    ]
    assert list(study.hands) == winds
    study.show(SHAPES)
    drawn(study, SIZE, 1.0)
    shape, number = study.study.shapes[0]
    click(study, f" {sentence(shape_words(shape))}")
    assert len(study.hands) == number
    assert all(shape in [tuple(g.size for g in v.groups) for v in hand.variants] for hand in study.hands)
    study.show(COUNTS)
    drawn(study, SIZE, 1.0)
    click(study, "Flowers, by the size of their group A pair")
    assert [hand.name for hand in study.hands] == [
        hand.name
        for hand in sheet.hands
        if any((g.size, g.kind) == (2, FLOWER) for v in hand.variants for g in v.groups)
    ]


def test_hands_behind_a_cell_come_in_a_popup_where_there_is_no_room(routes, home, sheet):
    """In a small window the answer isn't put out of sight under the picture; a hand there opens its page."""
    study = StudyScene(routes, sheet, home)
    study.show(SECTIONS)
    drawn(study, (1024, 640), 2.0)
    popup = next(target for target in study.ui.targets if target.name == "Weather W").do()
    assert isinstance(popup, BehindPopup)
    said = " ".join(one.text for one in drawn(popup, (1024, 640), 2.0))
    assert "Weather: winds" in said
    assert f"{len(study.hands)} hands" in said
    assert press(popup, "escape") is study


def test_a_picture_that_is_turned_to_forgets_what_was_asked(routes, home, sheet):
    """No hands stand beside a picture that they don't belong to."""
    study = StudyScene(routes, sheet, home)
    study.show(TILES)
    study.ask("tile 1 bam", "Hands that want the 1 bam", sheet.hands)
    study.show(SECTIONS)
    assert study.hands == ()
    assert "Press a cell of the picture" in texts(study)


@pytest.mark.slow
def test_tiles_are_weighed_by_what_comes_off():
    """Once deals are played, a tile's figure is its share of the hands made, in a hundred."""
    sheet = find("first-steps")
    worker = Worker()
    routes = BareRoutes(make_look())
    routes.desk.worker = worker
    study = StudyScene(routes, sheet, HomeScene(routes))
    poll_until(worker, lambda: study.heat is not None)
    study.show(TILES)
    study.heat.measure = MADE
    drawn(study, SIZE, 1.0)
    press(study, "o")
    poll_until(worker, lambda: study.made.tally is not None)
    made = {count.name: count.made for count in study.made.tally.hands}
    flowers = sum(
        made[hand.name] * sum(FLOWER in [g.kind for g in v.groups] for v in hand.variants) / len(hand.variants)
        for hand in sheet.hands
    )
    assert study.heat.figure(FLOWER) == pytest.approx(100 * flowers / sum(made.values()))
    worker.close()
