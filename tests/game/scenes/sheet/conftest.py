"""A sheet on the screen, and the screen that it was opened from."""

import pytest
from bare_desk import BareRoutes
from harness import make_look

from game.scenes.home.scene import HomeScene


@pytest.fixture
def routes():
    return BareRoutes(make_look())


@pytest.fixture
def home(routes):
    return HomeScene(routes)


@pytest.fixture
def sheet(routes):
    return routes.desk.current_sheet
