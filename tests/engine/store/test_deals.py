"""Deals with their forks: what comes first, what the player took back, and deleting with a way back."""

from datetime import UTC, datetime, timedelta

import pytest

from engine.rules.actions import Discard
from engine.store.endings import GameEnd
from engine.store.store import Store
from engine.store.values import StoreError

DONE = GameEnd("wall", 99)


def test_a_clock_that_is_set_back_changes_no_order(path, sheet, header):
    """The line that was played to last is the one that goes on, whatever the clock says."""
    now = [datetime(2026, 1, 31, 12, tzinfo=UTC)]
    with Store(path, lambda: now[0]) as store:
        store.add_sheet(sheet)
        first, second = store.start_line(header(1)), store.start_line(header(2))
        now[0] -= timedelta(seconds=1)
        store.append(first, 0, Discard(1))
        now[0] -= timedelta(days=400)
        third = store.start_line(header(3))
        assert [line.id for line in store.lines()] == [third, first, second]
        assert store.last_line() == third
        store.finish(third, DONE)
        assert store.last_line() == first
        assert [deal.latest.id for deal in store.deals()] == [third, first, second]


def test_a_line_that_was_taken_back_is_not_gone_on_with(store, played, keep):
    """The one played instead is, and once that is over none of the deal, until the player goes back to one."""
    line = keep(store, played(entries=20))
    other = keep(store, played(seed=2, entries=5))
    store.append(line, 0, Discard(1))
    child = store.fork(line, 12)
    store.append(child, 0, Discard(2))
    assert store.last_line() == child
    assert [store.line(one).set_aside for one in (line, child, other)] == [True, False, False]
    store.finish(child, DONE)
    assert store.last_line() == other
    assert [store.line(one).set_aside for one in (line, child)] == [True, False]
    store.append(line, 0, Discard(3))
    assert store.last_line() == line
    assert not store.line(line).set_aside


def test_deals_come_with_their_forks(store, played, keep):
    """One entry for each deal, the one played to last first, a page at a time, of the kinds asked for."""
    first, second = keep(store, played(entries=8)), keep(store, played(seed=2, entries=8))
    rehearsal = keep(store, played(seed=3, entries=4), kind="passes")
    fork = store.fork(first, 3)
    deals = store.deals()
    assert [[line.id for line in deal.lines] for deal in deals] == [[first, fork], [rehearsal], [second]]
    assert (deals[0].latest.id, [line.id for line in deals[0].others]) == (fork, [first])
    assert deals[1].others == ()
    assert [deal.latest.id for deal in store.deals(("game",))] == [fork, second]
    assert [deal.latest.id for deal in store.deals(("passes", "match"))] == [rehearsal]
    assert [deal.latest.id for deal in store.deals(limit=1, skip=1)] == [rehearsal]
    assert store.deals(()) == ()


@pytest.fixture
def family(store, played, keep):
    """A deal with a fork, notes, a review and a result, beside another deal; the first line and the fork."""
    line = keep(store, played(entries=8), advice_hidden=True)
    store.finish(line, DONE)
    fork = store.fork(line, 3)
    store.append(fork, 0, Discard(5))
    store.note(line, "on the whole")
    store.note(fork, "on the fork", 4)
    store.save_review(line, 4, 0.5, 1)
    store.add_result("passes", {"right": 1}, line=fork)
    return line, fork


def everything(store):
    """All that can be read of a store."""
    lines = store.lines(limit=None)
    return (
        lines, [store.record(line.id) for line in lines], [store.notes(line.id) for line in lines], store.reviews(),
        store.results(), store.last_line(),
    )  # fmt: skip


@pytest.mark.parametrize("member", [0, 1], ids=["first", "fork"])
def test_a_deleted_deal_is_gone_with_its_forks_and_comes_back_whole(store, played, keep, family, member):
    """From any of its lines; what others deals have stays, and so do the figures of how it was played."""
    other = keep(store, played(seed=2, entries=6))
    before = everything(store)
    assert not store.line(family[0]).set_aside, "what has an end was not taken back"
    deleted = store.delete_deal(family[member])
    assert [line.id for line in store.lines()] == [other]
    assert len(store.record(other).entries) == 6
    assert [(one.line, one.choices) for one in store.reviews()] == [(None, 4)]
    assert [(one.line, one.figures) for one in store.results()] == [(None, {"right": 1})]
    with pytest.raises(StoreError, match="no deal numbered"):
        store.append(family[1], 0, Discard(1))
    store.restore_deal(deleted)
    assert everything(store) == before
    with pytest.raises(StoreError, match="there already"):
        store.restore_deal(deleted)
    assert everything(store) == before


def test_a_deal_comes_back_after_others_were_begun(store, header, family):
    """Numbers are never given twice, and the notes and entries of both are there."""
    deleted = store.delete_deal(family[0])
    fresh = store.start_line(header(9))
    assert fresh > family[1]
    for number in range(20):
        store.append(fresh, 0, Discard(number))
    store.note(fresh, "mine")
    store.restore_deal(deleted)
    assert len(store.record(family[0]).entries) == 8
    assert store.record(family[1]).entries[3] == (0, Discard(5))
    assert len(store.record(fresh).entries) == 20
    assert [note.text for note in store.notes(fresh)] == ["mine"]


def test_a_deleted_deal_is_not_in_the_file(store, path, family):
    """Once the program ends, not a word of its notes is left in any byte."""
    store.note(family[0], "a secret of mine")
    store.delete_deal(family[0])
    store.close()
    assert b"a secret of mine" not in path.read_bytes()
    with pytest.raises(StoreError, match="no deal numbered 77"), Store(path) as again:
        again.delete_deal(77)
