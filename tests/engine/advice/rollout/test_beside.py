"""Games that helpers play: the same results as here, whatever happens to the helpers."""

from functools import partial
from random import Random

import numpy as np
import plain_advice as plain
import pytest

from engine.advice.moment import Moment, StoppedError, Work
from engine.advice.rollout.beside import Helpers, play_games
from engine.advice.rollout.discards import begin_choices, try_choices
from engine.advice.rollout.games import Games
from engine.advice.rollout.passes import play_passes
from engine.advice.rollout.playout import orders, play_on
from engine.advice.table import SheetTable
from engine.sheet.shelf import find
from engine.tiles import full_set

DRAWS = 12


@pytest.fixture(scope="module")
def helpers():
    """Two processes, which are there."""
    found = Helpers(2)
    assert found.ready(60) == 2
    yield found
    found.close()


@pytest.fixture(scope="module")
def table():
    """A sheet that is quick to play."""
    return SheetTable.of(find("first-steps"))


def here(table, seed=5):
    """Two racks of 13 that stand differently, and seven orders in which tiles come to both."""
    rack, unseen = plain.random_rack(Random(seed), 14)
    starts = Games.of(table, np.array([rack]), np.array([unseen])).repeated(2)
    starts.go(np.flatnonzero(rack)[:2])
    return starts, orders(np.random.default_rng(1), np.array(unseen), 7, DRAWS)


@pytest.mark.slow
def test_helpers_come_to_what_is_played_here(table, helpers):
    """Each helper plays some of the orders, for every rack; the results stand where they would without helpers. So it
    is with passes, and with a table that the helpers haven't met."""
    starts, coming = here(table)
    alone, helped = (play_games(play_on, starts, coming, work) for work in (Work(), Work(helpers=helpers)))
    assert helped.worth.tolist() == pytest.approx(alone.worth.tolist(), abs=1e-12)
    assert helped.chance.tolist() == pytest.approx(alone.chance.tolist(), abs=1e-12)
    assert len(set(helped.worth.round(9))) > 7
    playing = partial(play_passes, batches=(2, 1))
    fewer = SheetTable.of(find("first-steps"), 4)
    starts, coming = here(fewer, seed=6)
    alone, helped = (play_games(playing, starts, coming, work) for work in (Work(), Work(helpers=helpers)))
    assert helped.worth.tolist() == pytest.approx(alone.worth.tolist(), abs=1e-12)


@pytest.mark.slow
def test_an_answer_is_the_same_with_helpers(table, helpers):
    """What trying choices out shows doesn't depend on who plays the games."""
    rack, unseen = plain.random_rack(Random(8), 14)
    moment = Moment.of(table, rack, unseen, 30)
    alone, helped = try_choices(moment, Work(600)), try_choices(moment, Work(600, helpers=helpers))
    assert (helped.goes, list(helped.tried)) == (alone.goes, list(alone.tried))
    for kind, one in alone.tried.items():
        assert helped.tried[kind].games == one.games
        assert helped.tried[kind].behind == pytest.approx(one.behind, abs=1e-12)


@pytest.mark.slow
def test_games_begun_ahead_are_collected(table, helpers, monkeypatch):
    """Helpers begin with the games that trying out asks for first, which are not sent again. Other games asked for
    meanwhile, and a stop, leave every answer right."""
    rack, unseen = plain.random_rack(Random(8), 14)
    moment = Moment.of(table, rack, unseen, 30)
    work, sent = Work(600, helpers=helpers), []
    send = Helpers._send
    monkeypatch.setattr(Helpers, "_send", lambda *given: sent.append(given) or send(*given))
    alone = try_choices(moment, Work(600))
    begin_choices(moment, work)
    assert len(sent) == 2
    assert list(try_choices(moment, work).tried) == list(alone.tried)
    first = len(sent)
    assert list(try_choices(moment, work).tried) == list(alone.tried)
    assert len(sent) - first == first, "nothing that was begun was played twice"
    begin_choices(moment, work)
    starts, coming = here(table)
    helped = helpers.play(play_on, starts, coming, lambda: None)
    assert helped.worth.tolist() == pytest.approx(play_on(starts.repeated(7), coming).worth.tolist(), abs=1e-12)
    begin_choices(moment, work)
    with pytest.raises(StoppedError):
        try_choices(moment, Work(600, stopped=lambda: True, helpers=helpers))
    again = try_choices(moment, work)
    assert [one.games for one in again.tried.values()] == [one.games for one in alone.tried.values()]


def test_nothing_is_begun_near_the_end_or_with_a_hand(table):
    """There the rest may be searched whole, or nothing is tried out."""

    class Told:
        def begin(self, *_):
            raise AssertionError("nothing is to be begun")

    rack, unseen = plain.random_rack(Random(8), 14)
    begin_choices(Moment.of(table, rack, unseen, 11), Work(600, helpers=Told()))
    made = np.bincount([group.kind for group in table.variants[0].groups for _ in range(group.size)], minlength=36)
    begin_choices(Moment.of(table, made, np.array(full_set()) - made, 30), Work(600, helpers=Told()))


@pytest.mark.slow
def test_a_stopped_answer_leaves_the_next_one_right(table, helpers):
    """Whoever stops gets StoppedError at once, and the answer that comes too late is not taken for another one's."""
    starts, coming = here(table)

    def stop():
        raise StoppedError

    with pytest.raises(StoppedError):
        helpers.play(play_on, starts, coming, stop)
    others, tiles = here(table, seed=7)
    helped = helpers.play(play_on, others, tiles, lambda: None)
    assert helped.worth.tolist() == pytest.approx(play_on(others.repeated(7), tiles).worth.tolist(), abs=1e-12)


@pytest.mark.slow
def test_who_asks_while_others_are_helped_plays_alone(table, helpers):
    """A second moment doesn't wait for the first."""
    starts, coming = here(table)
    inner = []

    def ask():
        if not inner:
            inner.append(helpers.play(play_on, starts, coming, lambda: None))

    outer = helpers.play(play_on, starts, coming, ask)
    assert inner[0].worth.tolist() == pytest.approx(outer.worth.tolist(), abs=1e-12)


@pytest.mark.slow
def test_a_helper_that_dies_is_replaced_by_who_asks(table):
    """No answer is lost with a process, and none waits for it. Once closed, everything is played here."""
    helpers = Helpers(1)
    assert helpers.ready(60) == 1
    starts, coming = here(table)
    wanted = play_on(starts.repeated(7), coming).worth.tolist()
    for one in helpers.processes:
        one.kill()
        one.join()
    assert helpers.play(play_on, starts, coming, lambda: None).worth.tolist() == wanted
    assert helpers.ready() == 0
    helpers.close()
    assert helpers.play(play_on, starts, coming, lambda: None).worth.tolist() == wanted


def test_one_processor_has_no_helper(table):
    """Where there is nobody to help nothing is started."""
    helpers = Helpers(0)
    starts, coming = here(table)
    assert (
        helpers.play(play_on, starts, coming, lambda: None).worth.tolist()
        == play_on(starts.repeated(7), coming).worth.tolist()
    )
    assert helpers.processes == []
