"""A lesson in the real window: made and given by keys alone; brought in, gone through, handed in and set beside another
player's by mouse alone."""

import pytest
from at_table import routes_over
from harness import click, drawn, make_look
from real_window import Display, Player, missing, until

from engine.drills.lesson.model import DealStep, DrillStep, Lesson, LessonResults, PositionStep, ReadStep, StepResult
from engine.drills.lesson.reader import read_lesson_file
from engine.drills.lesson.results import read_results_file
from engine.drills.lesson.writer import fingerprint, write_lesson, write_results
from engine.sheet.shelf import find
from engine.store.store import Store
from game.play.practice.lessons import DRAFT, KEPT
from game.scenes.lessons.run import NAME
from game.scenes.paths import remember

pytestmark = [pytest.mark.window, pytest.mark.slow, pytest.mark.skipif(bool(missing()), reason=missing())]

SHEET = find("lantern-street")
RACK = "2b 3b 3b 5c 5c 6c 7d 7d 7d 9d we we fl jk"


@pytest.fixture(scope="module")
def display(tmp_path_factory):
    """A display for both tests, whose pixels can be read."""
    display = Display(folder=tmp_path_factory.mktemp("screen"))
    yield display
    display.close()


@pytest.fixture
def home(tmp_path):
    """The player's home folder."""
    return tmp_path / "home"


@pytest.fixture
def player(display, home, tmp_path):
    """Hands for the program, with an explanation already seen and a name under which results were written before."""
    home.mkdir()
    prepare(tmp_path / "lone-east.sqlite")
    player = Player(display, tmp_path)
    player.environment["HOME"] = str(home)
    yield player
    player.close()


def prepare(path):
    """A store in which the explanation was seen, and a name given."""
    with Store(path) as store:
        store.set("explained", True)
        store.set("settings", {"motion": False})
        store.set(NAME, "Kim")


def kept(path):
    """The texts of the lessons that the program has kept so far."""
    with Store(path) as store:
        found = store.get(KEPT)
    return found if isinstance(found, list) else []


def begin(player, display, path):
    """The program at its home screen, started anew if a busy machine has swallowed something."""
    if player.process is not None:
        player.kill()
        with Store(path) as store:
            store.set(DRAFT, None)
    player.start()
    display.still()


def test_made_and_given_by_keys(player, display, home, tmp_path):
    """Words, a drill, a position and a deal; the file that is given reads back as the lesson that was made."""
    path, file = tmp_path / "lone-east.sqlite", home / "low-dots.yaml"

    def make():
        begin(player, display, path)
        player.keys("g", "t", "m")
        player.types("Low dots")
        player.keys("Return", "Return", "w")
        player.types("Read both hands aloud.")
        player.keys("Return", "d", "Return", "p")
        player.types("A pair too many")
        player.keys("Return")
        player.types(RACK)
        player.keys("Return", "Return", "Return", "e", "Return", "k")

    player.does(make, lambda: kept(path))
    player.does(lambda: player.keys("l", "Return"), file.exists)
    reading = read_lesson_file(file, [SHEET])
    assert reading.faults == ()
    assert reading.lesson.name == "Low dots"
    assert [type(step) for step in reading.lesson.steps] == [ReadStep, DrillStep, PositionStep, DealStep]
    assert reading.lesson.steps[2].rack == RACK


def test_gone_through_by_mouse(player, display, home, tmp_path, monkeypatch):
    """A lesson's file from the home folder: read, answered, handed in, and set beside what another player made of it.
    Every place to click is found at the same screens, made here beside the program."""
    steps = (ReadStep("Look twice."), PositionStep("A pair too many", RACK, choices=("9 dot", "joker"), answer="9 dot"))
    lesson = Lesson("Low dots", SHEET.name, SHEET.season, steps)
    (home / "low.yaml").write_text(write_lesson(lesson), encoding="utf-8")
    other = LessonResults(lesson.name, fingerprint(lesson), "Ana", "2026-11-01", (StepResult(1), StepResult(2, 1, 0)))
    path, mine = tmp_path / "lone-east.sqlite", home / "low-dots-results.yaml"
    prepare(tmp_path / "beside.sqlite")
    routes = routes_over(make_look(), tmp_path / "beside.sqlite")
    monkeypatch.setenv("HOME", str(home))
    scene = routes.home()

    def press(*names):
        nonlocal scene
        for name in names:
            drawn(scene, player.size, 1.0)
            one = next(one for one in scene.ui.targets if name in (one.name, one.says) and one.rect.height)
            player.click(one.rect.center)
            if name == "Write it":  # the program writes the file, and nothing does so beside it
                scene = scene.parent
                scene.said = f"Your results are written to {mine}."
                return
            scene = click(scene, one.name)
            scene.enter()
            display.still()

    player.start()
    display.still()
    press("Practise the hands", "lessons", "Bring one in from a file", f"offer {home / 'low.yaml'}")
    assert until(lambda: kept(path))
    press("lesson 0", "Begin", "Go on", "choice 1", "Go on")
    press("Write my results", "Write it")
    assert until(mine.exists)
    display.still()
    remember(routes.desk.store, mine)
    assert [one.right for one in read_results_file(mine).results.steps] == [0, 1]
    (home / "ana.yaml").write_text(write_results(other), encoding="utf-8")
    press("Results side by side")
    for file in (mine, home / "ana.yaml"):
        press("Bring in results", f"offer {file}")
    with Store(path) as store:
        assert until(lambda: len(store.get(f"results {fingerprint(lesson)}", [])) == 2)
    routes.desk.store.close()
