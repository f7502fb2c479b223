"""A sheet invented from the form to the table, by the engine itself on the program's own worker: nothing stands in."""

import threading
import time
from functools import partial

import pytest
from harness import click, drawn, make_look, press

from engine.invent.making import invent
from engine.sheet.reader import read
from engine.store.store import Store
from game.play.desk import Desk
from game.play.worker import Worker
from game.play.writing.inventing import BalanceLook, Inventing
from game.scenes.navigation import Navigation
from game.scenes.sheet import invent as screen
from game.scenes.sheet.scene import SheetScene
from game.scenes.sheet.study import StudyScene
from game.scenes.table.moment import SeatMoment

pytestmark = pytest.mark.slow

SIZE = (1440, 900)
SEED = "1"
"""Of this seed a sheet of twelve hands is balanced over 128 deals in two looks."""


@pytest.fixture
def routes(tmp_path):
    """The program's own, over an empty store, with a real worker."""
    worker = Worker()
    yield Navigation(Desk(worker, Store(tmp_path / "deals.sqlite")), make_look())
    worker.close()


def texts(scene):
    """All that is written on a scene, in one string."""
    return " ".join(one.text for one in drawn(scene, SIZE, 1.0))


def wait_a_moment(worker):
    """Leave the processor to the work, then hear what it has told."""
    time.sleep(0.01)
    worker.poll()


def filled_in(routes):
    """The form, filled in by clicks and keys, with the work begun."""
    form = routes.invent(routes.home())
    drawn(form, SIZE, 1.0)
    click(form, "hands: 12")
    form.seed = SEED
    assert press(form, "return") is None or form.inventing is not None
    return form


def with_few_deals(monkeypatch, workers):
    """Sheets are balanced over 128 deals, so that it takes seconds."""
    make = partial(invent, deals=128, workers=workers)
    monkeypatch.setattr(screen, "Inventing", partial(Inventing, make=make))


def test_from_the_form_to_the_table(routes, monkeypatch, tmp_path):
    """Progress is shown; the sheet is read, studied, kept, written to a file and played."""
    with_few_deals(monkeypatch, workers=1)
    scene = filled_in(routes)
    shown = []
    while scene.made is None:
        wait_a_moment(routes.desk.worker)
        if isinstance(scene.inventing.told, BalanceLook) and scene.inventing.told not in shown:
            shown.append(scene.inventing.told)
            assert f"{shown[-1].done} of 128" in texts(scene)
    assert shown
    sheet = scene.made.sheet
    said = texts(scene)
    assert "12 hands" in said
    assert all(section.name in said for section in sheet.sections)
    for key, kind in (("h", SheetScene), ("u", StudyScene)):
        there = press(scene, key)
        assert isinstance(there, kind)
        assert there.sheet == sheet
        assert there.back() is scene
    assert sheet not in routes.desk.sheets()
    press(scene, "k")
    assert sheet in routes.desk.sheets()
    popup = press(scene, "w")
    popup.text = str(tmp_path / "mine.yaml")
    popup.go()
    assert read((tmp_path / "mine.yaml").read_bytes()).sheet == sheet
    drawn(scene, SIZE, 1.0)
    table = press(scene, "return")
    assert isinstance(table, SeatMoment)
    assert table.sitting.state.sheet.name == sheet.name


def test_escape_in_the_middle_leaves_nothing_and_frees_the_worker(routes):
    """The whole work on two cores is stopped while deals are played: no sheet, no file, and the next job is done."""
    scene = filled_in(routes)
    worker = routes.desk.worker
    before = routes.desk.sheets()
    while not isinstance(scene.inventing.told, BalanceLook):
        wait_a_moment(worker)
    form = press(scene, "escape")
    freed = threading.Event()
    worker.submit(lambda _: freed.set(), lambda _: None)
    assert freed.wait(60)
    worker.poll()
    assert scene.made is None
    assert form.inventing is None
    assert (form.hands, form.seed) == (12, SEED)
    assert routes.desk.sheets() == before
