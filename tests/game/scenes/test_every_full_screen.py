"""The walk over every screen, for those of the full table and of a match."""

import pytest
import test_every_screen as walk
from at_table import routes_over
from full_screens import full_screens
from harness import make_look

from engine.sheet.shelf import find

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def screens(tmp_path_factory):
    """All of them, made once."""
    routes = routes_over(make_look(), tmp_path_factory.mktemp("desk") / "lone-east.sqlite")
    yield full_screens(routes, find("lantern-street"))
    routes.desk.store.close()


def test_everything_can_be_read_and_pressed(screens):
    """As on every screen: contrast, room, size of text and targets, nothing on one another."""
    walk.test_everything_can_be_read_and_pressed(screens)


def test_every_screen_can_be_used_and_left(screens):
    """As every screen: by keyboard and by mouse, with one obvious next step and a way back."""
    walk.test_every_screen_can_be_used_and_left(screens)
