"""Two sheets are compared, and racks dealt on which the old habit tempts."""

import pytest
from bare_desk import BareRoutes
from harness import key, make_look, press
from polling import poll_until
from sheet_scene_kit import texts

from engine.sheet.shelf import find
from game.play.worker import Worker
from game.scenes.home.scene import HomeScene
from game.scenes.sheet.compare import CHANGED, GONE, KEPT, NEW, PRACTISE, CompareScene


@pytest.mark.slow
def test_a_sheet_is_compared_with_its_last_season_first(routes, home):
    """Whatever else is on the shelf."""
    scene = CompareScene(routes, find("lantern-street-2027"), home)
    assert (scene.old.name, scene.old.season) == ("Lantern Street", "2026")


@pytest.mark.slow
def test_compared_with_the_other_sheet_on_the_shelf(routes, home, sheet):
    """The headline says what became of the old hands, and each part shows as many as it says."""
    scene = CompareScene(routes, sheet, home)
    assert "Of 12 hands, 0 are kept" in texts(scene)
    for part, names in (
        (CHANGED, [pair.new.name for pair in scene.compared.changed][:1]),
        (NEW, [scene.compared.new_hands[0].name]),
        (GONE, [scene.compared.gone[0].name]),
        (KEPT, ["No hand was kept as it was."]),
    ):
        scene.show(part)
        assert all(name in texts(scene) for name in names), part


@pytest.mark.slow
def test_a_rack_to_practise_on_is_answered_and_followed_by_another(routes, home, sheet):
    """Enter says what it is near, Enter again brings the next rack."""
    scene = CompareScene(routes, sheet, home)
    scene.show(PRACTISE)
    before = texts(scene)
    assert "Rack 1 of 8" in before
    assert "It is near the old" not in before
    press(scene, "return")
    assert "It is near the old" in texts(scene)
    press(scene, "return")
    assert "Rack 2 of 8" in texts(scene)
    assert not scene.answered


@pytest.mark.slow
def test_sheets_are_compared_in_the_background():
    """A worker compares; until it has, the screen says so."""
    worker = Worker()
    routes = BareRoutes(make_look())
    routes.desk.worker = worker
    scene = CompareScene(routes, routes.desk.current_sheet, HomeScene(routes))
    assert "The two sheets are being compared." in texts(scene)
    poll_until(worker, lambda: scene.compared is not None)
    assert "Of 12 hands, 0 are kept" in texts(scene)
    worker.close()


def test_no_other_sheet_to_compare_with(routes, home, sheet):
    """One sentence and the way to load one."""
    routes.desk.sheets = lambda: [sheet]
    scene = CompareScene(routes, sheet, home)
    assert "There is no other sheet to compare with." in texts(scene)
    assert scene.compared is None
    scene.handle(key("return"))
