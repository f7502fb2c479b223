"""Every drill in the real window: begun by keys as a user would, shown its answer, counted in the store."""

import contextlib
import sqlite3

import pytest
from real_window import Display, Player, missing, until

from engine.drills.grades import Skill
from engine.store.store import Store
from game.play.practice.drilling import ASKED
from game.scenes.drills.menu import KEYS

pytestmark = [pytest.mark.window, pytest.mark.slow, pytest.mark.skipif(bool(missing()), reason=missing())]


@pytest.fixture
def player(tmp_path):
    """Hands for the program on a display of its own, with an explanation already seen."""
    data = tmp_path / "data"
    with Store(data / "lone-east.sqlite") as store:
        store.set("explained", True)
        store.set("settings", {"advice": "always", "motion": False})
    display = Display()
    player = Player(display, data)
    yield player
    player.close()
    display.close()


def kinds(path):
    """The kinds of the results kept so far, in order."""
    with contextlib.closing(sqlite3.connect(path)) as db, contextlib.suppress(sqlite3.OperationalError):
        return [kind for (kind,) in db.execute("SELECT kind FROM results ORDER BY id")]
    return []


def test_every_drill_by_keys(player, tmp_path):
    """From home to a question and its answer, seven times; an answer that was shown counts as not known."""
    path = tmp_path / "data" / "lone-east.sqlite"
    player.start()
    for done, (skill, key) in enumerate(zip(ASKED, KEYS, strict=True), 1):
        moment = ["1"] if skill is Skill.PASS else []

        def begin(key=key, moment=moment):
            player.keys("Escape", "Escape", "Escape", "Escape")  # home; where it asks whether to leave, it stays
            player.keys("g", key, *moment)

        def shown(done=done):
            player.keys("s")
            return len(kinds(path)) >= done

        player.does(begin, lambda shown=shown: until(shown, 0.5))
    assert len(kinds(path)) == len(ASKED) == 7
    with Store(path) as store:
        kept = [result for kind in dict.fromkeys(kinds(path)) for result in store.results(kind)]
    assert len(kept) == 7
    assert all(result.allowance is None for result in kept)
