"""Opening the window: the first scene that is shown, displays that show nothing, and presses before the first frame."""

import pygame
import pytest
from at_table import deal, let_go_first, routes_over
from harness import key, make_look

from engine.rules.deal import DealCode
from engine.rules.house import House
from engine.sheet.shelf import find
from game.play.desk import AskedDeal
from game.scenes.home.scene import HomeScene
from game.scenes.intro import IntroScene
from game.scenes.table.scene import PassScene, TableScene
from game.window.app import App
from game.window.open import first_scene, unseen


@pytest.fixture
def routes(tmp_path):
    """Routes over an empty store."""
    routes = routes_over(make_look(), tmp_path / "lone-east.sqlite")
    yield routes
    routes.desk.store.close()


@pytest.mark.slow
def test_a_first_start_explains_itself_and_later_ones_begin_at_home(routes):
    """Until the explanation was seen; after that, with no deal left, at the start screen."""
    assert isinstance(first_scene(routes), IntroScene)
    routes.desk.explained()
    assert isinstance(first_scene(routes), HomeScene)


@pytest.mark.slow
def test_a_deal_left_unfinished_is_what_is_shown(routes):
    """At its exact choice; a finished one is not."""
    routes.desk.explained()
    table = deal(routes)
    let_go_first(table, 2)
    scene = first_scene(routes)
    assert isinstance(scene, TableScene)
    assert scene.sitting.states == table.sitting.states
    assert scene.sitting.at_end
    let_go_first(table, 40)
    assert table.finished
    assert isinstance(first_scene(routes), HomeScene)


def test_a_deal_left_in_the_passes_is_resumed_there(routes):
    """The scene is the one for the moment."""
    routes.desk.explained()
    routes.desk.deal(find("first-steps"), None, House(passes=3))
    assert isinstance(first_scene(routes), PassScene)


def test_the_deal_asked_for_comes_before_all(routes):
    """Even at a first start."""
    sheet = find("first-steps")
    scene = first_scene(routes, AskedDeal(sheet, sheet, DealCode.of(sheet, House(), 7)))
    assert isinstance(scene, TableScene)
    assert scene.code == str(DealCode.of(sheet, House(), 7))


def test_something_to_be_told_is_told_first(routes):
    """A damaged file is read about at the start screen, before the game goes on."""
    routes.desk.explained()
    deal(routes)
    routes.desk.tell("A file was damaged")
    assert isinstance(first_scene(routes), HomeScene)


def test_a_driver_that_shows_nothing_is_no_display(monkeypatch):
    """Unless it was asked for."""
    monkeypatch.delenv("SDL_VIDEODRIVER", raising=False)
    assert unseen("offscreen")
    assert unseen("dummy")
    assert not unseen("x11")
    monkeypatch.setenv("SDL_VIDEODRIVER", "dummy")
    assert not unseen("dummy")
    assert unseen("offscreen")


@pytest.mark.slow
def test_hurried_presses_act_on_what_each_one_shows(routes):
    """All keys are there before the first frame: the explanation is left, a rack dealt, three tiles passed."""
    routes.desk.save_house(House(passes=3))
    rack = []

    class Watched(IntroScene):
        def _deal(self, *asked):
            scene = super()._deal(*asked)
            rack.extend(scene.rack)
            return scene

    app = App(routes.look, routes.desk.worker)
    app.open()
    pygame.event.clear()
    for name in ("return", *("left", "return") * 3, "return"):
        pygame.event.post(key(name))
        pygame.event.post(pygame.event.Event(pygame.KEYUP, key=pygame.key.key_code(name), mod=0, scancode=0))
    pygame.event.post(pygame.event.Event(pygame.QUIT))
    app.run(Watched(routes, routes.home(), first=True))
    ((seat, action),) = routes.desk.store.record(routes.desk.unfinished.id).entries[:1]
    assert seat == 0
    assert action.kinds == tuple(sorted(rack[-3:]))
