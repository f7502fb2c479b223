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


def film_of(player, display, act):
    """Acts until something new has come and stands still; gives the rows of what is said and of the rack."""
    rows = (player.corner[1] + 100, player.corner[1] + 400)
    before = display.still(*rows)
    player.does(act, lambda: display.shows(*rows) != before)
    return display.still(*rows)


def test_by_keys(player, display):
    """P stops it, N shows the next choice, B the one before, pixel by pixel; P and F let it run on by itself."""
    film_of(player, display, lambda: player.keys("g", "v"))
    first = film_of(player, display, lambda: player.keys("p", "n"))
    assert film_of(player, display, lambda: player.keys("n")) != first
    assert film_of(player, display, lambda: player.keys("b")) == first
    player.keys("f", "f", "f", "p")
    top = player.corner[1] + 100
    assert until(lambda: display.shows(top, top + 300) != first)


def test_by_mouse(player, display, tmp_path):
    """The same with clicks on what stands there; the buttons stay in their places from choice to choice."""
    routes = routes_over(make_look(), tmp_path / "beside.sqlite")
    practice = routes.practice(routes.home())
    film = FilmScene(routes, routes.desk.drilling(), practice)
    pause, following, earlier, back = (place(film, player, name) for name in ("Pause", "Next", "Earlier", "back"))
    film_of(player, display, lambda: player.click(back))
    film_of(player, display, lambda: player.click(place(practice, player, "film")))
    routes.desk.store.close()
    first = film_of(player, display, lambda: player.clicks([pause, following]))
    assert film_of(player, display, lambda: player.click(following)) != first
    assert film_of(player, display, lambda: player.click(earlier)) == first


def place(scene, player, name):
    """Where a target of that name is, or one that says so, in a window of the program's size."""
    drawn(scene, player.size, 1.0)
    return next(one.rect.center for one in scene.ui.targets if name in (one.name, one.says) and one.rect.height)
