"""Named sets of house rules on the screen: kept, played by, written to a file, read again, deleted once asked."""

import pytest
from bare_desk import BareRoutes
from harness import click, drawn, make_look, press, write

from engine.rules.house import House
from game.play.house.sets import SHIPPED, own_sets
from game.scenes.home.scene import HomeScene
from game.scenes.house import HouseScene
from game.scenes.house_sets import HouseSetsScene

SIZE = (1440, 1800)


@pytest.fixture
def routes():
    """Routes over an empty store."""
    return BareRoutes(make_look())


def texts(scene):
    """All that stands on a screen."""
    return [one.text for one in drawn(scene, SIZE, 1.0)]


def test_a_set_is_kept_played_by_and_deleted(routes):
    """Its name is typed, its card opens what can be done, and deleting is asked about."""
    rules = HouseScene(routes, HomeScene(routes))
    drawn(rules, SIZE, 1.0)
    routes.desk.save_house(House(jokers=6))
    scene = press(rules, "n")
    assert isinstance(scene, HouseSetsScene)
    drawn(scene, SIZE, 1.0)
    click(scene, "name")
    write(scene, "Six jokers")
    press(scene, "return")
    assert own_sets(routes.desk.store)[0].house == House(jokers=6)
    assert any("kept as Six jokers" in text for text in texts(scene))
    popup = click(scene, f"set {SHIPPED[1].name}")
    drawn(popup, SIZE, 1.0)
    assert click(popup, "Play by it") is scene
    assert routes.desk.house == SHIPPED[1].house
    assert "Your next deal is played by it." in texts(scene)
    popup = click(scene, "set Six jokers")
    drawn(popup, SIZE, 1.0)
    asked = click(popup, "Delete")
    drawn(asked, SIZE, 1.0)
    assert click(asked, "Delete it") is scene
    assert own_sets(routes.desk.store) == []


def test_a_set_goes_out_to_a_file_and_comes_in(routes, tmp_path):
    """What can't be read or kept is said, and the popup stays."""
    scene = HouseSetsScene(routes, HomeScene(routes))
    routes.desk.save_house(House(picks=33))
    scene.name = "Thirty-three"
    scene.keep()
    kept = own_sets(routes.desk.store)
    out = scene.take_out(kept[0])
    out.text = str(tmp_path / "ours.yaml")
    assert out.go() is scene
    scene.name = "Thirty-three"
    scene._delete(kept[0])
    into = scene.bring_in()
    into.text = str(tmp_path / "nothing.yaml")
    assert into.go() is None
    assert "there is no such file" in into.trouble
    into.text = str(tmp_path / "ours.yaml")
    assert into.go() is scene
    assert own_sets(routes.desk.store) == kept


def test_a_name_that_cannot_be_is_said(routes):
    """One sentence, and nothing is kept."""
    scene = HouseSetsScene(routes, HomeScene(routes))
    scene.name = SHIPPED[0].name
    scene.keep()
    assert "is a set that ships; give yours another name" in scene.said
    assert own_sets(routes.desk.store) == []
