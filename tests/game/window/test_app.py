"""The window's loop: keys that mean the same everywhere, leaving, answers from the worker, drawing only on change."""

import time

import pygame
import pytest
from harness import key, make_look, start
from polling import poll_until

from game.draw.tiles import Face
from game.play.worker import Worker
from game.ui.popups import KeyHelp, TroublePopup
from game.ui.scene import Scene
from game.window.app import SCALES, App, icon


class Plain(Scene):
    """Counts its frames; E ends the program, N goes on to another scene."""

    def __init__(self, look):
        super().__init__(look)
        self.frames = self.entered = 0

    def paint(self, ui):
        self.frames += 1
        ui.button(pygame.Rect(10, 10, 200, 44), "Next", lambda: Plain(self.look), key="n")

    def enter(self):
        self.entered += 1

    def key(self, name):
        if name == "e":
            self.over = True
            return self
        return None


@pytest.fixture
def app():
    """An app without a window yet."""
    worker = Worker()
    told = []
    one = App(make_look(), worker, told.append)
    one.told = told
    yield one
    worker.close()


def drawn_plain(look):
    """A scene after its first frame."""
    scene = Plain(look)
    scene.draw(pygame.Surface((1024, 640)))
    return scene


def test_ctrl_plus_and_minus_change_the_scale_within_bounds(app):
    """Step by step through the scales, no further than the ends; 0 goes back to 100%; the change is told."""
    scene = drawn_plain(app.look)
    for _ in range(10):
        app.step(scene, key("=", pygame.KMOD_CTRL))
    assert app.look.scale == SCALES[-1]
    app.step(scene, key("-", pygame.KMOD_CTRL))
    assert app.look.scale == SCALES[-2]
    app.step(scene, key("0", pygame.KMOD_CTRL))
    assert app.look.scale == 1.0
    assert app.told[-1] == 1.0


def test_the_first_frame_comes_before_work_in_the_background(app):
    """A job that was handed in before stands still until the frame is on the screen; a second frame lets nothing go."""
    app.first_frame_first()
    scene, done = drawn_plain(app.look), []
    app.worker.submit(lambda job: job.breathe() or done.append(True), lambda _: None)
    time.sleep(0.03)
    assert done == []

    class Nowhere:
        def get_surface(self):
            return pygame.Surface((1024, 640))

        def flip(self):
            pass

    app._show(Nowhere(), scene)
    app._show(Nowhere(), scene)
    poll_until(app.worker, lambda: done)
    with app.worker.held():
        assert not app.worker._free.is_set()


def test_f1_lists_the_keys_and_escape_comes_back(app):
    """On any scene; not over a popup."""
    scene = drawn_plain(app.look)
    listed = app.step(scene, key("f1"))
    assert isinstance(listed, KeyHelp)
    listed.draw(pygame.Surface((1024, 640)))
    assert app.step(listed, key("f1")) is listed
    assert app.step(listed, key("escape")) is scene


def test_a_new_scene_is_told_that_it_is_entered_and_is_drawn(app):
    """`enter` is called once, and the scene needs a frame."""
    following = app.step(drawn_plain(app.look), key("n"))
    assert following.entered == 1
    assert following.dirty


def test_the_loop_ends_when_a_scene_is_over(app):
    """E ends it; the frames drawn are few, since nothing changes."""
    scene = Plain(app.look)
    start()
    pygame.event.post(key("e"))
    app.run(scene)
    assert scene.over


def test_a_key_that_is_held_down_acts_once(app):
    """Slow fingers press Enter once, not three times; arrows go on while they are held."""
    done = []

    class Counting(Plain):
        def handle(self, event):
            if event.type == pygame.KEYDOWN:
                done.append(pygame.key.name(event.key))
            return super().handle(event)

    start()
    up = pygame.event.Event(pygame.KEYUP, key=pygame.K_RETURN, mod=0, scancode=0)
    for event in [key("return"), key("return"), key("return"), up, key("return"), key("right"), key("right"), key("e")]:
        pygame.event.post(event)
    app.run(Counting(app.look))
    assert done == ["return", "return", "right", "right", "e"]


def test_hurried_presses_each_meet_a_frame(app):
    """Three presses that come at once act on three screens: each is shown before the next press is heard."""
    met = []

    class Step(Plain):
        def paint(self, ui):
            ui.button(pygame.Rect(10, 10, 200, 44), "Next", self.on, key="n")

        def on(self):
            met.append(len(met))
            return Step(self.look)

    start()
    pygame.event.clear()
    for name in ("n", "n", "n", "e"):
        pygame.event.post(key(name))
        pygame.event.post(pygame.event.Event(pygame.KEYUP, key=pygame.key.key_code(name), mod=0, scancode=0))
    app.run(Step(app.look))
    assert met == [0, 1, 2]


def test_the_loop_ends_when_the_window_is_closed(app):
    """Whatever the scene; nothing is drawn after it, and frames only for what changed."""
    scene = Plain(app.look)
    ticks = []

    def close_after_a_while(seconds):
        ticks.append(seconds)
        if len(ticks) == 6:
            pygame.event.post(pygame.event.Event(pygame.QUIT))

    scene.update = close_after_a_while
    start()
    pygame.event.clear()
    app.run(scene)
    assert len(ticks) == 6
    assert scene.frames <= 3


def test_an_answer_of_the_worker_brings_a_new_frame(app):
    """The scene is drawn again once `done` has been called."""
    scene = Plain(app.look)
    got = []
    ticks = []

    def wait_for_the_answer(seconds):
        ticks.append(seconds)
        if len(ticks) == 3:
            scene.frames = 0
            app.worker.submit(lambda _: 42, got.append)
        if (len(ticks) > 3 and scene.frames) or len(ticks) > 200:
            pygame.event.post(pygame.event.Event(pygame.QUIT))

    scene.update = wait_for_the_answer
    start()
    pygame.event.clear()
    app.run(scene)
    assert got == [42]
    assert scene.frames >= 1


@pytest.mark.parametrize("patience", [60_000, 0])
def test_an_answer_waits_for_the_pictures_that_it_is_shown_with(app, monkeypatch, patience):
    """Faces that were foreseen are made between frames, a few at a time. The answer comes with the last of them, or
    before, once it has waited long enough."""
    monkeypatch.setattr("game.window.app.PATIENCE", patience)
    scene, got, ticks = Plain(app.look), [], []
    faces = [(Face(kind), 160 + more, 1.0) for more in range(1 if patience else 40) for kind in range(12)]
    app._foresee = lambda *_: faces
    prepare = app.look.prepare
    app.look.prepare = lambda _: prepare(0.0)

    def wait_for_the_answer(seconds):
        ticks.append(seconds)
        if len(ticks) == 1:
            app.worker.submit(lambda _: 42, lambda _: got.append((len(ticks), app.look.ready)))
        if got or len(ticks) > 200:
            pygame.event.post(pygame.event.Event(pygame.QUIT))

    scene.update = wait_for_the_answer
    start()
    pygame.event.clear()
    app.open((1024, 640), scene)
    assert scene.frames == 1, "painted once before the window is there"
    app.run(scene)
    assert [ready for _, ready in got] == [patience > 0]
    assert patience == 0 or got[0][0] > 6


def test_a_job_that_fails_does_not_end_the_game(app, capsys):
    """A popup says so, the details go to standard error, and a press goes on with the scene that was there."""
    scene, seen = Plain(app.look), []
    show = app._show

    def fail(_):
        raise ZeroDivisionError("no tiles")

    def shown(window, now):
        show(window, now)
        if isinstance(now, TroublePopup):
            seen.append(now)
            pygame.event.post(key("return"))
        elif seen:
            pygame.event.post(key("e"))
        elif len(seen) == 0 and not app.worker.busy:
            app.worker.submit(fail, print)

    app._show = shown
    start()
    pygame.event.clear()
    app.run(scene)
    assert scene.over
    assert seen[0].said == "ZeroDivisionError: no tiles"
    assert "in fail" in capsys.readouterr().err


def test_the_icon_is_a_square_picture():
    """Drawn by us, not empty."""
    picture = icon(make_look())
    assert picture.get_width() == picture.get_height() == 128
    assert len({tuple(picture.get_at((x, 64))) for x in range(128)}) > 5
