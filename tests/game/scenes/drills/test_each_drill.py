"""Each of the seven drills from its card to the next question and back: by mouse alone, and by keys alone."""

import random
from datetime import UTC, datetime

import pytest
from at_table import routes_over
from harness import click, make_look, press

from engine.drills.grades import Skill
from engine.drills.one_pass import WhichPass
from engine.sheet.shelf import find
from game.play.practice.drilling import ASKED, Drilling, kind_of
from game.scenes.drills.ask import AskScene
from game.scenes.drills.menu import KEYS, PracticeScene

pytestmark = pytest.mark.slow
START = datetime(2026, 4, 1, 19, 0, tzinfo=UTC)
CARDS = {skill: f"drill {skill.value}" for skill in ASKED}


@pytest.fixture
def menu(tmp_path):
    """Where drills are chosen, on the small sheet, answers against a clock of a minute; nothing is tried out."""
    routes = routes_over(make_look(), tmp_path / "store.sqlite")
    drilling = Drilling(routes.desk.store, find("first-steps"), effort=0, chance=random.Random(3), now=lambda: START)
    scene = PracticeScene(routes, drilling, routes.home())
    click_on(scene, "clock: one minute")
    yield scene
    routes.desk.store.close()


def click_on(scene, *names):
    """Clicks one thing after another, each on what the last one has brought; gives the scene that results."""
    for name in names:
        scene = click(settled(scene), name)
    return scene


def settled(scene):
    """The scene, drawn in the window in which clicks are made."""
    press(scene, "f12")  # a key that means nothing draws it
    return scene


def by_mouse(scene):
    """Answers a question somehow, by clicks alone; gives the scene."""
    match scene.question.skill:
        case Skill.LAY | Skill.RECALL:
            return click_on(scene, "tile 0", "That is the hand")
        case Skill.MAY_I:
            return click_on(scene, "Yes")
        case Skill.WHICH:
            hands = scene.drilling.sheet.hands[:2]
            return click_on(scene, *(f"hand {hand.name}" for hand in hands), "These hands")
        case Skill.PASS:
            return click_on(scene, "tile 0", "tile 1", "tile 2", "Pass these")
    if getattr(scene.question.task, "call", None) is not None:
        return click_on(scene, "Let it go")
    return click_on(scene, "tile 0", "tile 0")


def to(scene, name):
    """Tab until something of that name has the focus."""
    for _ in range(120):
        press(scene, "tab")
        if (scene.ui.focus or "").startswith(name):
            return scene
    raise AssertionError(f"Tab never comes to “{name}”")


def by_keys(scene):
    """Answers a question somehow, by keys alone; gives the scene."""
    match scene.question.skill:
        case Skill.LAY | Skill.RECALL:
            press(to(scene, "tile "), "space")
            return press(to(scene, "That is the hand"), "return")
        case Skill.MAY_I:
            return press(scene, "n")
        case Skill.WHICH:
            for hand in scene.drilling.sheet.hands[:2]:
                press(to(scene, f"hand {hand.name}"), "space")
            return press(to(scene, "These hands"), "return")
        case Skill.PASS:
            for place in range(3):
                press(to(scene, f"tile {place}"), "space")
            return press(to(scene, "Pass these"), "return")
    if getattr(scene.question.task, "call", None) is not None:
        return press(scene, "1")
    press(to(scene, "tile "), "space")
    return press(to(scene, "Let it go"), "return")


def test_by_mouse_alone(menu):
    """The card, an answer, what there is to say of it, the next question, and back; each is kept among the timed."""
    for skill in ASKED:
        menu.drilling.pass_moment = WhichPass.FIRST_RIGHT
        scene = click_on(menu, CARDS[skill])
        if skill is Skill.PASS:
            scene = click_on(scene, "moment 2")
        assert isinstance(scene, AskScene), skill
        first = scene.question
        by_mouse(scene)
        assert len(scene.told) >= 1, skill
        assert menu.drilling.tally(skill, timed=True).answers == 1, skill
        click_on(scene, "Next")
        assert scene.question is not first, skill
        assert click_on(scene, "back") is menu, skill


def test_by_keys_alone(menu):
    """The same with Tab, Space, Enter, Esc and the keys that stand on the buttons."""
    for skill, key in zip(ASKED, KEYS, strict=True):
        scene = press(settled(menu), key)
        if skill is Skill.PASS:
            scene = press(settled(scene), "2")
        assert isinstance(scene, AskScene), skill
        first = scene.question
        by_keys(settled(scene))
        assert len(scene.told) >= 1, skill
        (kept,) = menu.drilling.store.results(kind_of(skill))
        assert kept.allowance == 60.0
        press(settled(scene), "return")
        assert scene.question is not first, skill
        assert press(scene, "escape") is menu, skill
