"""What the tests of background work share."""

import pytest

from game.play.worker import Worker


@pytest.fixture
def worker():
    """A worker of its own thread, closed afterwards."""
    one = Worker()
    yield one
    one.close()
