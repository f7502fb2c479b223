"""A whole rehearsal of the passes in the real window: started as a user would, driven by keys, counted in the store."""

import contextlib
import sqlite3

import pytest
from real_window import Display, Player, missing, until

from engine.drills.rehearsal import KIND
from engine.rules.actions import Agree, Ask, Give, Pass
from engine.store.store import Store

pytestmark = [pytest.mark.window, pytest.mark.skipif(bool(missing()), reason=missing())]


@pytest.fixture
def player(tmp_path):
    """Hands for the program on a display of its own, the explanation seen, advice always shown, five minutes chosen."""
    data = tmp_path / "data"
    with Store(data / "lone-east.sqlite") as store:
        store.set("explained", True)
        store.set("settings", {"advice": "always", "motion": False})
        store.set("rehearsal allowance", 300.0)
    display = Display()
    player = Player(display, data)
    yield player
    player.close()
    display.close()


def choices(path):
    """The player's own choices in the one rehearsal so far, in order."""
    with contextlib.closing(sqlite3.connect(path)) as db, contextlib.suppress(sqlite3.OperationalError):
        rows = db.execute("SELECT action FROM entries WHERE seat = 0 ORDER BY line, number").fetchall()
        return [action for (action,) in rows]
    return []


def results(path):
    """Results of rehearsals kept so far."""
    with contextlib.closing(sqlite3.connect(path)) as db, contextlib.suppress(sqlite3.OperationalError):
        return db.execute("SELECT kind, allowance FROM results WHERE kind = ?", (KIND,)).fetchall()
    return []


def allowance(path):
    """The clock of the next rehearsal, as it is kept."""
    with contextlib.closing(sqlite3.connect(path)) as db, contextlib.suppress(sqlite3.OperationalError):
        found = db.execute("SELECT value FROM settings WHERE key = 'rehearsal allowance'").fetchone()
        return found[0] if found else None
    return None


@pytest.mark.slow
def test_a_whole_rehearsal_by_keys(player, tmp_path):
    """From home to the end of the passes, as advised; the tally has one more, timed, and the clock shrinks."""
    path = tmp_path / "data" / "lone-east.sqlite"
    player.start()
    started = lambda: lines(path) == [KIND]  # noqa: E731
    player.does(lambda: player.keys("e", "Return"), started)
    for _ in range(12):  # six passes, a vote, courtesy asked and given: nine choices at most
        before = len(choices(path))
        player.does(lambda: one_choice(player), lambda before=before: len(choices(path)) > before or results(path))
        if until(lambda: results(path), 1.0):
            break
    assert until(lambda: results(path)) == [(KIND, 300.0)]
    assert until(lambda: allowance(path) == "240.0")
    with Store(path) as store:
        (counted,) = store.results(KIND)
        record = store.record(counted.line)
    mine = [action for seat, action in record.entries if seat == 0]
    assert sum(isinstance(action, Pass) for action in mine) in (3, 6)
    assert all(isinstance(action, Pass | Agree | Ask | Give) for action in mine)


def lines(path):
    """The kinds of the lines so far."""
    with contextlib.closing(sqlite3.connect(path)) as db, contextlib.suppress(sqlite3.OperationalError):
        return [kind for (kind,) in db.execute("SELECT kind FROM lines")]
    return []


def one_choice(player):
    """Whatever is asked: take the advised tiles and pass them, play the second round, ask for none across."""
    player.keys("c", "Return")
    player.keys("p")
    player.keys("0")
