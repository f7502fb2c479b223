"""The film in the real window: stopped, stepped, gone back and let run, by keys alone and by mouse alone."""

import pytest
from at_table import routes_over
from harness import drawn, make_look
from real_window import Display, Player, missing, until

from engine.store.store import Store
from game.scenes.drills.film import FilmScene

pytestmark = [pytest.mark.window, pytest.mark.slow, pytest.mark.skipif(bool(missing()), reason=missing())]


@pytest.fixture(scope="module")
def display(tmp_path_factory):
    """A display for both tests, whose pixels can be read."""
    display = Display(folder=tmp_path_factory.mktemp("screen"))
    yield display
    display.close()


@pytest.fixture(scope="module")
def player(display, tmp_path_factory):
    """Hands for the program, which has been started; an explanation is already seen."""
    data = tmp_path_factory.mktemp("data")
    with Store(data / "lone-east.sqlite") as store:
        store.set("explained", True)
        store.set("settings", {"motion": False})
    player = Player(display, data)
    player.start()
    yield player
    player.close()


def rows(player):
    """The rows of the screen in which a choice is told and its rack is shown."""
    return player.corner[1] + 100, player.corner[1] + 400


def after(player, display, act):
    """What these rows show after an act that changes them."""
    before = display.still(*rows(player))
    player.does(act, lambda: display.shows(*rows(player)) != before)
    return display.still(*rows(player))


def back_and_forth(player, display, earlier, following):
    """The film stands still at a choice: the one before is another, and going on from there shows the same again."""
    here = display.still(*rows(player), seconds=4.0)  # no choice is on its way any more
    assert after(player, display, earlier) != here
    assert after(player, display, following) == here
    return here


def test_by_keys(player, display):
    """P stops it, B and N step, pixel by pixel; P and F let it run on by itself."""
    after(player, display, lambda: player.keys("g", "v"))
    player.keys("p", "n", "n")
    here = back_and_forth(player, display, lambda: player.keys("b"), lambda: player.keys("n"))
    player.keys("f", "f", "f", "p")
    assert until(lambda: display.shows(*rows(player)) != here)


def test_by_mouse(player, display, tmp_path):
    """The same with clicks on what stands there; the buttons stay in their places from choice to choice."""
    routes = routes_over(make_look(), tmp_path / "beside.sqlite")
    practice = routes.practice(routes.home())
    film = FilmScene(routes, routes.desk.drilling(), practice)
    pause, following, earlier, back = (place(film, player, name) for name in ("Pause", "Next", "Earlier", "back"))
    after(player, display, lambda: player.click(back))
    after(player, display, lambda: player.click(place(practice, player, "film")))
    routes.desk.store.close()
    player.clicks([pause, following, following])
    back_and_forth(player, display, lambda: player.click(earlier), lambda: player.click(following))


def place(scene, player, name):
    """Where a target of that name is, or one that says so, in a window of the program's size."""
    drawn(scene, player.size, 1.0)
    return next(one.rect.center for one in scene.ui.targets if name in (one.name, one.says) and one.rect.height)
