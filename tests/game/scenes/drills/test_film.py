"""The film: it runs by itself, stands still, steps, and comes to its end, by keys and by mouse."""

import random

import pytest
from at_table import routes_over
from harness import click, drawn, make_look, press

from engine.sheet.shelf import find
from game.play.practice.drilling import Drilling
from game.scenes.drills.film import PACES, FilmChoice, FilmScene

SIZE = (1440, 900)


@pytest.fixture
def film(tmp_path):
    """A film on the small sheet."""
    routes = routes_over(make_look(), tmp_path / "store.sqlite")
    drilling = Drilling(routes.desk.store, find("first-steps"), effort=0, chance=random.Random(4))
    scene = FilmScene(routes, drilling, routes.home())
    drawn(scene, SIZE, 1.0)
    yield scene
    routes.desk.store.close()


@pytest.mark.slow
def test_it_runs_and_stands_still_by_keys(film):
    """Each choice is shown for its time; P stops it, N and B step, F and S change the pace."""
    assert film.running
    assert len(film.frames) == 2  # one ahead
    film.update(film.frame.seconds(PACES[film.pace]) - 0.1)
    assert film.at == 0
    film.update(0.2)
    assert film.at == 1
    press(film, "p")
    film.update(100.0)
    assert (film.at, film.running) == (1, False)
    assert any(text.text.startswith("stopped; goes on at a pace of ") for text in drawn(film, SIZE, 1.0))
    press(film, "n")
    assert film.at == 2
    press(film, "b", "b")
    assert film.at == 0
    pace = film.pace
    press(film, "f")
    assert film.pace == pace - 1
    press(film, "s", "s")
    assert film.pace == pace + 1


def test_a_choice_is_shown_as_long_as_it_takes_to_read():
    """Ten words at 240 a minute: two and a half seconds, and as long again for the tiles."""
    frame = FilmChoice(None, (), ("South lets go the 3 dot.",), "East waits.", "It may.")
    assert frame.seconds(240) == 5.0
    assert 240 in PACES


@pytest.mark.slow
def test_it_comes_to_its_end_by_mouse(film):
    """Step by step to the end, where another game can be asked for. Choices in play come with reasons."""
    click(film, "Pause")
    while not film.ended:
        film.update(0.1)
        film.step(True)
        assert len(film.frames) < 100
    assert all(len(frame.passed) == 3 for frame in film.frames if frame.does.startswith("East passes "))
    assert [frame.goes for frame in film.frames if frame.task is not None and "lets go" in frame.does].count(None) == 0
    first = [frame.happened for frame in film.frames[:3]]
    assert first == [("First pass, to the right.",), ("Second pass, across.",), ("Third pass, to the left.",)]
    assert sum(frame.task is not None for frame in film.frames) > 5
    said = [(frame.does, frame.because) for frame in film.frames[:-1] if "mahjong" not in frame.does]
    assert not [does for does, because in said if not because]
    assert not [because for _, because in said if "you" in because.lower().split()]
    assert not [because for _, because in said if because.startswith("The advice would")]
    drawn(film, SIZE, 1.0)
    click(film, "Another game")
    assert (film.at, film.running) == (0, True)
    assert film.frames
