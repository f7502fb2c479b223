"""The drills of play in the window: each answered by mouse and by keyboard, graded, explained."""

import random
from datetime import UTC, datetime

import pytest
from at_table import routes_over
from harness import click, drawn, make_look, press

from engine.drills.grades import Grade, Skill
from engine.drills.let_one_go import NoRackError
from engine.drills.one_pass import WhichPass
from engine.sheet.shelf import find
from game.play.practice.drilling import Drilling
from game.scenes.drills.ask import AskScene

SIZE = (1440, 900)
SMALL_WINDOW = (1024, 640)
START = datetime(2026, 4, 1, 19, 0, tzinfo=UTC)


@pytest.fixture
def routes(tmp_path):
    """The program's routes over a store of its own."""
    with_store = routes_over(make_look(), tmp_path / "store.sqlite")
    yield with_store
    with_store.desk.store.close()


@pytest.fixture
def drilling(routes):
    """Drills on the small sheet with a seed; nothing is tried out."""
    return Drilling(routes.desk.store, find("first-steps"), effort=0, chance=random.Random(3), now=lambda: START)


def asked(routes, drilling, skill):
    """A drill of one skill, drawn once."""
    scene = AskScene(routes, drilling, routes.home(), skill=skill)
    drawn(scene, SIZE, 1.0)
    return scene


@pytest.mark.slow
def test_a_tile_is_let_go_by_two_presses(routes, drilling):
    """The first chooses, the second lets go; the costs then stand under the rack.

    In a small window at double size the rack and the buttons are whole, and then the verdict, without scrolling.
    """
    scene = asked(routes, drilling, Skill.LET_GO)
    drawn(scene, SMALL_WINDOW, 2.0)
    assert not [area for area in scene.ui.areas if area.furthest]
    whole = [target.whole for target in scene.ui.targets if target.name in {"tile 13", "Let it go", "Show me"}]
    assert len(whole) == 3
    assert all(scene.ui.window.contains(rect) for rect in whole)
    place = scene.question.task.rack.index(scene.question.task.best)
    scene.check()
    assert scene.trouble == "Choose a tile first: press it."
    drawn(scene, SIZE, 1.0)
    click(scene, f"tile {place}")
    click(scene, f"tile {place}")
    assert scene.told[0] == "Right."
    said = " ".join(scene.told)
    shown = [text for text in drawn(scene, SMALL_WINDOW, 2.0) if text.text in said]
    lines = [text for text in shown if " " in text.text or text.text.endswith(".")]
    assert " ".join(text.text for text in lines) == said
    following = next(target.whole for target in scene.ui.targets if target.name == "Next")
    assert max(text.rect.bottom for text in lines) <= following.top
    drawn(scene, SIZE, 1.0)
    click(scene, f"tile {place}")  # what was answered stays
    assert scene.grades == [Grade.RIGHT]


@pytest.mark.slow
def test_three_tiles_are_passed(routes, drilling):
    """A fourth takes the first one's place; fewer can't be passed."""
    drilling.pass_moment = WhichPass.FIRST_RIGHT
    scene = asked(routes, drilling, Skill.PASS)
    scene.check()
    assert scene.trouble == "Choose three tiles first: press them."
    for place in (0, 1, 2, 3):
        drawn(scene, SIZE, 1.0)
        click(scene, f"tile {place}")
    assert scene.answer.picked == [1, 2, 3]
    drawn(scene, SIZE, 1.0)
    press(scene, "return")
    assert len(scene.grades) == 1
    assert scene.answer.result.answer.kinds == tuple(sorted(scene.question.task.rack[1:4]))


@pytest.mark.slow
def test_a_vote_is_cast_by_keys(routes, drilling):
    """Y and N."""
    drilling.pass_moment = WhichPass.SECOND_ROUND
    scene = asked(routes, drilling, Skill.PASS)
    press(scene, "y" if scene.question.task.best(drilling.table).agree else "n")
    assert scene.told[0] == "Right."


@pytest.mark.slow
def test_a_strong_seat_is_followed(routes, drilling):
    """Choosing as it does is right, and what it does is told."""
    scene = asked(routes, drilling, Skill.FOLLOW)
    task = scene.question.task
    if task.call is None:
        place = scene.answer.rack.index(task.does.kind)
        click(scene, f"tile {place}")
        click(scene, f"tile {place}")
    else:
        press(scene, str(task.choices.index(task.does) + 1))
    assert scene.told[0] == "Right."
    assert scene.told[-1].startswith("East ")
    drawn(scene, SIZE, 1.0)
    press(scene, "return")
    assert scene.question.task is not task


def test_a_drill_without_a_rack_says_so(routes, drilling, monkeypatch):
    """In place of a question; the way back stays."""
    monkeypatch.setattr(drilling, "question", _no_rack)
    scene = asked(routes, drilling, Skill.LET_GO)
    assert scene.trouble == "No rack could be found; choose another drill."
    assert scene.ended
    assert press(scene, "return") is not scene


def _no_rack(*_):
    """No question can be made."""
    raise NoRackError("no rack could be found; choose another drill")
