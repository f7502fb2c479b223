"""A sheet invented in the window: the form, the work that can be stopped, and what can be done with the sheet."""

import threading

import pytest
from bare_desk import BareRoutes, Elsewhere
from harness import click, drawn, make_look, press
from invented import invented

from engine.advice.moment import StoppedError
from engine.invent.balance import UnbalancedError
from engine.invent.making import Wish
from engine.sheet.reader import read
from engine.sheet.shelf import find
from game.play.worker import Worker
from game.play.writing.inventing import BalanceLook, Failed, Inventing
from game.scenes.deal_popups import FilePopup
from game.scenes.home.scene import HomeScene
from game.scenes.sheet.invent import InventScene
from game.scenes.sheet.scene import SheetScene
from game.scenes.sheet.study import StudyScene
from game.ui.popups import Question

SIZE = (1440, 900)


@pytest.fixture
def worker():
    one = Worker()
    yield one
    one.close()


@pytest.fixture
def routes(worker):
    found = BareRoutes(make_look())
    found.desk.worker = worker
    return found


@pytest.fixture
def scene(routes):
    return InventScene(routes, HomeScene(routes))


def texts(scene):
    """All that is written on a scene, in one string."""
    return " ".join(one.text for one in drawn(scene, SIZE, 1.0))


def wait(worker, done):
    """Deliver answers until it is so."""
    while not done():
        worker.poll()


def with_sheet(scene, worker, make=lambda *_, **__: invented()):
    """The scene once `make` has given its sheet."""
    scene.inventing = Inventing(Wish(7, 12), worker, scene._changed, make)
    wait(worker, lambda: scene.inventing.told is not None)
    return scene


def test_the_form_says_what_is_wished_for(scene):
    """Hands, season, the sheet that it is like, how much of it is kept, and the seed."""
    drawn(scene, SIZE, 1.0)
    click(scene, "hands: 24")
    assert scene.hands == 24
    click(scene, "number of hands: more")
    assert scene.hands == 25
    click(scene, "like: The season after Lantern Street 2027")
    assert (scene.like, scene.season) == (find("lantern-street-2027"), "2028")
    drawn(scene, SIZE, 1.0)
    click(scene, "kept: 60%")
    assert scene.kept == 60
    before = scene.seed
    press(scene, "n")
    assert scene.seed != before


@pytest.mark.parametrize(
    ("field", "text", "says"),
    [("season", "27", "four digits"), ("season", "year", "four digits"), ("seed", "", "whole number"),
     ("seed", "-4", "whole number"), ("seed", "²", "whole number")],
)  # fmt: skip
@pytest.mark.slow
def test_a_form_that_is_wrong_says_so_and_begins_nothing(scene, field, text, says):
    """One clear sentence."""
    setattr(scene, field, text)
    assert says in texts(scene)
    press(scene, "return")
    assert scene.inventing is None


def test_how_far_it_is_is_shown_and_escape_leaves_nothing(scene, worker):
    """Looks and deals are told as they are played; Esc ends the work, and the form is there again as it was."""
    ended = threading.Event()

    def make(wish, *, told, stopped, breathe):  # noqa: ARG001
        told(320, 5000, 3)
        while not stopped():
            breathe()
        ended.set()
        raise StoppedError

    scene.season = "2031"
    assert len(scene.desk.sheets()) == 4
    with_sheet(scene, worker, make)
    assert scene.inventing.told == BalanceLook(3, 320, 5000)
    assert "320 of 5,000. Hands were replaced twice so far" in texts(scene)
    form = press(scene, "escape")
    assert ended.wait(10)
    worker.poll()
    assert scene.made is None
    assert isinstance(form, InventScene)
    assert (form.inventing, form.made, form.season, form.seed) == (None, None, "2031", scene.seed)
    assert "What sheet?" in texts(form)
    assert len(scene.desk.sheets()) == 4


def test_the_bar_goes_forward_only(scene, worker):
    """A look that begins anew leaves it where it was; the end of the work fills it."""
    shares = []

    def make(_, *, told, **__):
        for number, done in ((1, 512), (1, 2048), (2, 512), (3, 1024), (3, 5000)):
            told(done, 5000, number)
        return invented()

    scene.inventing = Inventing(Wish(7, 12), worker, lambda: shares.append(scene.inventing.share), make)
    wait(worker, lambda: scene.made is not None)
    assert shares == sorted(shares)
    assert 0 < shares[0] < shares[1] < shares[-1] == 1


def test_a_small_sheet_says_what_it_cannot_keep_to(scene, worker):
    """On the form and beside the sheet; a sheet of 60 hands says nothing of the kind."""
    said = "A sheet of 12 hands can't keep every hand under 7% of the hands made, nor every section under 18%"
    assert said not in texts(scene)
    drawn(scene, SIZE, 1.0)
    click(scene, "hands: 12")
    assert said in texts(scene)
    assert said in texts(with_sheet(scene, worker))


def test_no_balance_is_said(scene, worker):
    """With what to do, and a way back to the form with another seed."""

    def make(*_, **__):
        raise UnbalancedError("no balance was found in 40 looks; take another seed, or keep fewer hands")

    with_sheet(scene, worker, make)
    assert isinstance(scene.inventing.told, Failed)
    assert "From seed 7 no balance was found in 40 looks; take another seed" in texts(scene)
    form = press(scene, "return")
    assert "What sheet?" in texts(form)
    assert form.seed != scene.seed


def test_the_sheet_can_be_read_studied_kept_and_played(scene, worker):
    """From one screen, each by its key, and back to it."""
    sheet = find("first-steps")
    scene.desk.put_away(sheet)
    with_sheet(scene, worker)
    said = texts(scene)
    assert "12 hands, 462 ways to make them, from seed 7." in said
    assert all(section.name in said for section in sheet.sections)
    for name, kind in (("h", SheetScene), ("u", StudyScene)):
        there = press(scene, name)
        assert isinstance(there, kind)
        assert there.sheet == sheet
        assert there.back() is scene
    assert not scene.kept_already
    press(scene, "k")
    assert scene.kept_already
    assert sheet in scene.desk.sheets()
    drawn(scene, SIZE, 1.0)
    assert isinstance(press(scene, "return"), Elsewhere)
    assert scene.desk.current_sheet == sheet


def test_a_sheet_that_is_not_kept_is_left_by_a_question(scene, worker):
    """Nothing is lost by one key too many; a kept one is left at once."""
    with_sheet(scene, worker)
    asked = press(scene, "escape")
    assert isinstance(asked, Question)
    assert "Seed 7 makes it again" in texts(asked)
    assert isinstance(press(asked, "k"), HomeScene)
    assert scene.kept_already
    assert isinstance(press(scene, "escape"), HomeScene)


def test_the_sheet_is_written_to_a_file(scene, worker, tmp_path):
    """It reads back as the same sheet."""
    with_sheet(scene, worker)
    drawn(scene, SIZE, 1.0)
    popup = press(scene, "w")
    assert isinstance(popup, FilePopup)
    assert popup.text.endswith("first-steps-2026.yaml")
    popup.text = str(tmp_path / "mine.yaml")
    assert popup.go() is scene
    assert read((tmp_path / "mine.yaml").read_bytes()).sheet == find("first-steps")
    assert "It is written to" in texts(scene)
