"""The store keeps deals as they were played, and forks lose nothing."""

import random
from dataclasses import replace

import pytest
from depth import deep
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from engine.rules.actions import Discard, Draw
from engine.rules.house import FULL, House
from engine.rules.record import Record, replay
from engine.store.endings import GameEnd
from engine.store.store import Store
from engine.store.values import StoreError

DONE = GameEnd("wall", 99)
PASSES = House(passes=6, courtesy=True)
FULL_TABLE = House(table=FULL, passes=6, courtesy=True, jokers=10)


def test_a_new_store_is_empty_and_has_no_trouble(path):
    """A first start makes the folder and the file, and says nothing."""
    with Store(path) as store:
        assert store.trouble is None
        assert store.saving
        assert (store.lines(), store.sheets(), store.settings(), store.results()) == ((), (), {}, ())
        assert store.last_line() is None
    assert path.is_file()


@pytest.mark.parametrize("house", [House(), PASSES, FULL_TABLE], ids=["quiet", "passes", "full"])
def test_a_record_comes_back_as_it_was_played_and_replays(path, sheet, clock, played, keep, house):
    """What is read after closing and opening again is the very record, under every kind of house rules."""
    record = played(seed=3, entries=60, house=house)
    with Store(path, clock) as store:
        store.add_sheet(sheet)
        line = keep(store, record)
    with Store(path, clock) as store:
        assert store.record(line) == record
        assert len(replay(store.record(line), store.sheet_of(line))) == len(record.entries) + 1


def test_a_sheet_comes_back_whole(store, sheet):
    """A kept sheet is the same edition, with the same variants, and keeping it twice changes nothing."""
    assert store.add_sheet(sheet) == sheet.fingerprint
    again = store.sheet(sheet.fingerprint)
    assert again == sheet
    assert again.fingerprint == sheet.fingerprint
    [kept] = store.sheets()
    assert (kept.name, kept.season, kept.maker, kept.whole) == (sheet.name, sheet.season, sheet.maker, True)


def test_a_sheet_that_a_later_version_writes_otherwise_keeps_its_fingerprint(store, sheet):
    """The edition is told by the text that was kept, even where today's plain form differs from it."""
    older = replace(sheet, canonical=sheet.canonical + "\n# an older plain form\n")
    store.add_sheet(older)
    assert older.fingerprint != sheet.fingerprint
    assert store.sheet(older.fingerprint).fingerprint == older.fingerprint


def test_a_cut_sheet_is_kept_whole_and_its_line_is_cut(store, sheet, header):
    """A deal on chosen sections keeps the whole sheet, and its own sheet is the cut one."""
    chosen = (sheet.sections[-1].name,)
    store.add_sheet(sheet.cut(chosen))
    line = store.start_line(header(sections=chosen))
    assert store.sheet(sheet.fingerprint).chosen is None
    assert store.sheet_of(line) == sheet.cut(chosen)
    assert store.line(line).chosen == chosen
    assert store.record(line).header.sections == chosen


def test_a_deal_whose_sheet_is_not_kept_is_refused(path, header):
    """Otherwise the deal could never be opened."""
    with Store(path) as store, pytest.raises(StoreError, match="load its file first"):
        store.start_line(header())


def test_the_summary_says_what_was_played(store, sheet, played, keep):
    """Everything that a list of past deals shows."""
    record = played(seed=4, entries=10)
    line = keep(store, record, kind="passes", advice_hidden=True)
    store.note(line, "mine")
    summary = store.line(line)
    assert store.lines() == (summary,)
    assert (summary.id, summary.parent, summary.forked_at) == (line, None, 0)
    assert (summary.deal, summary.sheet_name, summary.season) == (record.header.deal, sheet.name, sheet.season)
    assert (summary.fingerprint, summary.chosen, summary.house) == (sheet.fingerprint, None, House())
    assert (summary.kind, summary.advice_hidden, summary.imported) == ("passes", True, False)
    assert (summary.entries, summary.notes, summary.ending, summary.finished) == (10, 1, None, False)
    assert (summary.touched - summary.started).total_seconds() == 10
    store.advice_seen(line)
    assert store.line(line).advice_hidden is False


def test_an_outcome_is_written_once(store, header):
    """A finished line takes no action and no other outcome; the same one again does no harm."""
    line = store.start_line(header())
    store.finish(line, GameEnd("wall", 99))
    store.finish(line, GameEnd("wall", 99))
    with pytest.raises(StoreError, match="fork it"):
        store.finish(line, GameEnd("dead", 99))
    with pytest.raises(StoreError, match="fork it"):
        store.append(line, 0, Discard(3))
    summary = store.line(line)
    assert (summary.ending, summary.finished) == (GameEnd("wall", 99), True)
    assert store.record(line).entries == ()


def test_the_last_action_and_the_outcome_are_one(store, header):
    """A deal can be ended together with the action that ends it."""
    line = store.start_line(header())
    end = GameEnd("mahjong", 9, 2, "Shed", "Yard", 25, 100, (-25, -50, 100, -25), 1, True)
    assert store.append(line, 0, Discard(3), end) == 1
    assert store.line(line).ending == end
    assert not end.self_drawn


def test_the_line_to_resume_is_the_unfinished_one_played_last(store, header):
    """Finished lines don't count, and playing on in an older one makes it the last."""
    first, second, third = (store.start_line(header(seed)) for seed in (1, 2, 3))
    rehearsal = store.start_line(header(4), kind="passes")
    assert (store.last_line(), store.last_line("game")) == (rehearsal, third)
    store.append(first, 0, Discard(3))
    assert store.last_line() == first
    store.finish(first, DONE)
    store.finish(rehearsal, DONE)
    assert store.last_line() == third
    store.finish(third, DONE)
    assert store.last_line() == second
    store.finish(second, DONE)
    assert store.last_line() is None


def test_lists_are_filtered_and_paged(store, sheet, header):
    """By kind, by sheet, finished or not, and a page at a time, the last touched first."""
    ids = [store.start_line(header(seed), kind=("game", "passes")[seed % 2]) for seed in range(6)]
    store.finish(ids[0], DONE)
    assert [line.id for line in store.lines()] == [ids[0], *reversed(ids[1:])]
    assert [line.id for line in store.lines(limit=2, skip=1)] == [ids[5], ids[4]]
    assert {line.id for line in store.lines(kind="passes")} == {ids[1], ids[3], ids[5]}
    assert [line.id for line in store.lines(finished=True)] == [ids[0]]
    assert len(store.lines(finished=False)) == 5
    assert len(store.lines(sheet=sheet.fingerprint)) == 6
    assert store.lines(sheet="another") == ()


def test_a_fork_shares_the_beginning_and_changes_nothing(store, played, keep):
    """The child's record is the parent's first entries and its own; the parent's stays as it was."""
    record = played(seed=5, entries=30)
    line = keep(store, record)
    child = store.fork(line, 12)
    assert store.record(child) == Record(record.header, record.entries[:12])
    assert store.append(child, 0, Discard(7)) == 13
    store.append(line, 0, Discard(8))
    assert store.record(child).entries == (*record.entries[:12], (0, Discard(7)))
    assert store.record(line).entries == (*record.entries, (0, Discard(8)))
    assert (store.line(child).parent, store.line(child).forked_at, store.line(child).entries) == (line, 12, 13)
    assert store.last_line() == line


def test_a_finished_line_can_be_forked(store, played, keep):
    """Another way from a finished deal is an unfinished line."""
    line = keep(store, played(entries=20))
    store.finish(line, DONE)
    child = store.fork(line, 20)
    assert store.line(child).ending is None
    assert store.append(child, 0, Discard(1)) == 21
    assert store.line(line).ending == DONE


def test_a_fork_may_choose_other_sections_and_another_kind(store, sheet, played, keep):
    """Two ways from one deal: the same tiles towards other sections, and back to the whole sheet."""
    line = keep(store, played(entries=8))
    chosen = (sheet.sections[0].name,)
    child = store.fork(line, 8, sections=chosen, kind="way")
    grandchild = store.fork(child, 8)
    whole = store.fork(grandchild, 8, sections=None)
    assert [store.line(which).chosen for which in (line, child, grandchild, whole)] == [None, chosen, chosen, None]
    assert [store.line(which).kind for which in (line, child, grandchild)] == ["game", "way", "way"]
    assert store.record(child).header == replace(store.record(line).header, sections=chosen)


def test_branches_are_all_lines_of_one_beginning(store, played, keep):
    """From any line of the family the whole of it, and no other deal."""
    line = keep(store, played(entries=10))
    other = keep(store, played(seed=2, entries=10))
    first, second = store.fork(line, 4), store.fork(line, 6)
    third = store.fork(first, 2)
    for member in (line, first, second, third):
        assert [branch.id for branch in store.branches(member)] == [line, first, second, third]
    assert [branch.id for branch in store.branches(other)] == [other]


@pytest.mark.parametrize("line", [0, -1, 77, 1 << 63, 1 << 70])
def test_a_line_that_is_not_there_is_one_sentence(store, header, line):
    """Whatever is asked of it, and however large the number."""
    store.start_line(header())
    asked = (
        lambda: store.record(line),
        lambda: store.line(line),
        lambda: store.append(line, 0, Discard(1)),
        lambda: store.fork(line, 0),
        lambda: store.finish(line, DONE),
        lambda: store.note(line, "mine"),
        lambda: store.notes(line),
        lambda: store.branches(line),
        lambda: store.sheet_of(line),
        lambda: store.advice_seen(line),
        lambda: store.add_result("drill", {}, line=line),
    )
    for ask in asked:
        with pytest.raises(StoreError, match="there is no deal numbered") as caught:
            ask()
        assert "\n" not in str(caught.value)


@pytest.mark.parametrize("at", [-1, 6, 1 << 80])
def test_a_moment_that_is_not_there_cannot_be_forked_or_noted(store, played, keep, at):
    """The sentence names the moments that there are."""
    line = keep(store, played(entries=5))
    for ask in (lambda: store.fork(line, at), lambda: store.note(line, "mine", at)):
        with pytest.raises(StoreError, match="choose 0 to 5"):
            ask()


@settings(max_examples=deep(20, 40), deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.data())
@pytest.mark.slow
def test_any_tree_of_forks_holds_what_a_plain_list_would(quick_folder, sheet, header, data):
    """Against the slow obvious model, in which a fork copies its beginning: lists of entries by line."""
    model = {}
    store = Store(quick_folder() / "lone-east.sqlite")
    store.add_sheet(sheet)
    for number in range(data.draw(st.integers(1, 25))):
        what = data.draw(st.sampled_from(["start", "append", "append", "append", "fork", "fork", "reopen"]))
        if what == "start" or not model:
            model[store.start_line(header(number))] = []
            continue
        line = data.draw(st.sampled_from(sorted(model)))
        if what == "append":
            action = data.draw(st.sampled_from([Discard(number), Draw(number)]))
            assert store.append(line, number % 5 - 1, action) == len(model[line]) + 1
            model[line].append((number % 5 - 1, action))
        elif what == "fork":
            at = data.draw(st.integers(0, len(model[line])))
            model[store.fork(line, at)] = model[line][:at]
        else:
            store.close()
            store = Store(store.path)
    for line, entries in model.items():
        assert list(store.record(line).entries) == entries
        assert store.line(line).entries == len(entries)
    store.close()


@pytest.mark.slow
def test_a_deep_chain_of_forks_is_read(store, played, keep):
    """Stepping back again and again makes a chain of hundreds of lines; each holds its whole record."""
    record = played(entries=30)
    line, lot = keep(store, record), random.Random(1)
    entries = list(record.entries)
    for _ in range(300):
        at = lot.randint(max(0, len(entries) - 3), len(entries))
        line = store.fork(line, at)
        entries = [*entries[:at], (0, Discard(lot.randrange(34)))]
        store.append(line, *entries[-1])
    assert list(store.record(line).entries) == entries
    assert len(store.branches(line)) == 301
