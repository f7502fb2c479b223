"""The figures of reviews: one entry for each game that counts, through older files, damage and a file read in."""

import random
import sqlite3

import pytest

from engine.rules.house import FULL, House
from engine.store import schema
from engine.store.endings import GameEnd
from engine.store.export import export_text, import_text
from engine.store.rescue.salvage import Salvaged, salvage
from engine.store.store import Store
from engine.store.values import StoreError


@pytest.fixture
def finished(sheet, header):
    """Plays a game to its end in a store; its line."""

    def make(store, seed=1, house=None, kind="game", advice_hidden=True):
        store.add_sheet(sheet)
        line = store.start_line(header(seed, house), kind, advice_hidden)
        store.finish(line, GameEnd("picks", 40))
        return line

    return make


def figures(store):
    """What is kept, without row numbers and times."""
    return [(one.line, one.choices, one.cost, one.faults, one.advice_seen) for one in store.reviews()]


def test_figures_are_kept_in_the_order_of_play(store, path, finished):
    """By when each game came to its end, not by when it was reviewed; they outlive the program."""
    lines = [finished(store, seed) for seed in range(3)]
    for line in (lines[2], lines[0], lines[1]):
        assert store.save_review(line, 30 + line, line / 10, line)
    expected = [(line, 30 + line, line / 10, line, False) for line in lines]
    assert figures(store) == expected
    assert [one.at for one in store.reviews()] == [store.line(line).touched for line in lines]
    store.close()
    with Store(path) as again:
        assert figures(again) == expected


def test_reviewing_again_replaces_the_entry_and_a_fork_has_its_own(store, finished):
    """One entry for each line; a fork is made with hindsight, so it never counts as one with advice hidden."""
    line = finished(store)
    store.save_review(line, 30, 0.5, 4)
    store.save_review(line, 31, 0.25, 2)
    child = store.fork(line, 0)
    assert not store.save_review(child, 9, 0.1, 1), "it isn't finished yet"
    store.finish(child, GameEnd("picks", 40))
    assert store.save_review(child, 9, 0.1, 1)
    assert figures(store) == [(line, 31, 0.25, 2, False), (child, 9, 0.1, 1, True)]


def test_looking_at_a_game_again_writes_nothing(store, finished):
    """The same figures are not written anew."""
    line = finished(store)
    store.save_review(line, 30, 0.5, 4)
    changes = store._connection.read(lambda db: db.total_changes)
    assert store.save_review(line, 30, 0.5, 4)
    assert store._connection.read(lambda db: db.total_changes) == changes


def test_advice_that_was_there_is_told(store, finished):
    """Where it wasn't hidden from the start, and where it was asked for later."""
    open_line, asked = finished(store, 1, advice_hidden=False), finished(store, 2)
    store.advice_seen(asked)
    for line in (open_line, asked):
        store.save_review(line, 30, 0.5, 4)
    assert [one.advice_seen for one in store.reviews()] == [True, True]


def test_only_own_games_at_the_quiet_table_count(store, finished, played):
    """No drills, no table of four, nothing unfinished, nothing read in or forked from that; nothing twice."""
    games = [finished(store, 1), finished(store, 2)]
    others = [
        finished(store, 3, kind="passes"),
        finished(store, 4, House(table=FULL)),
        store.fork(games[0], 0),
        store.add_record(played(5, 12), end=GameEnd("picks", 40)),
    ]
    others.append(store.fork(others[-1], 3))
    store.finish(others[-1], GameEnd("picks", 40))
    assert store.unreviewed() == (games[1], games[0])
    assert store.reviews() == ()
    assert not any(store.save_review(line, 10, 0.1, 1) for line in others)
    assert store.save_review(games[1], 10, 0.1, 1)
    assert store.unreviewed() == (games[0],)
    assert [one.line for one in store.reviews()] == [games[1]]


def test_figures_that_cannot_be_are_refused(store, finished):
    """With a sentence; so is a line that there isn't."""
    line = finished(store)
    for wrong in ((3, 0.1, 4), (3, -0.1, 0), (3, float("nan"), 0), (3, float("inf"), 0), (-1, 0.0, -1)):
        with pytest.raises(StoreError, match="review the game again"):
            store.save_review(line, *wrong)
    with pytest.raises(StoreError, match="no deal numbered 99"):
        store.save_review(99, 3, 0.1, 1)
    assert store.reviews() == ()


def test_a_deal_written_to_a_file_and_read_in_is_nobodys_play(store, header, played):
    """The file holds the deal and what was stored with it; whoever reads it in did not play it."""
    line = store.start_line(header(1, House(picks=3)))
    for seat, action in played(1, 99, House(picks=3)).entries:
        store.append(line, seat, action)
    store.finish(line, GameEnd("picks", 3))
    store.save_review(line, 30, 0.5, 4)
    text = export_text(store, line)
    came = import_text(store, text)
    assert store.line(came.line).finished
    assert not store.save_review(came.line, 30, 0.5, 4)
    assert [one.line for one in store.reviews()] == [line]


def older(path, sheet, header, games=3, notes=0):
    """A file as the first form of the tables left it, with so many finished games, and notes that were taken away."""
    with Store(path.with_name("model.sqlite")) as store:
        store.add_sheet(sheet)
        for seed in range(games):
            line = store.start_line(header(seed), advice_hidden=True)
            store.finish(line, GameEnd("picks", 40))
            store.note(line, f"note {line}")
    db = schema.connect(path)
    schema.settle(db)
    for statement in schema.STEPS[0]:
        db.execute(statement)
    db.execute(f"PRAGMA application_id = {schema.APPLICATION}")
    db.execute("PRAGMA user_version = 1")
    db.execute("PRAGMA secure_delete = OFF")  # SQLite is often built to overwrite what is removed, but not always
    db.execute("ATTACH ? AS model", (str(path.with_name("model.sqlite")),))
    for table in sorted(schema.tables_after(1) - {"lines"}):
        db.execute(f"INSERT INTO main.{table} SELECT * FROM model.{table}")
    same = ", ".join(schema.WANTED["lines"][:-2])
    db.execute(f"INSERT INTO main.lines ({same}, outcome) SELECT {same}, 'All picks are used.' FROM model.lines")
    db.executemany("INSERT INTO main.notes (line, text, at) VALUES (1, ?, '2026-01-31T12:00:00.000+00:00')",
                   [("taken away " * 100,)] * notes)  # fmt: skip
    db.execute("DELETE FROM main.notes WHERE text LIKE 'taken away%'")
    db.close()
    for part in path.parent.glob("model.sqlite*"):
        part.unlink()


def test_an_older_file_takes_figures_once_it_is_opened(path, sheet, header):
    """Nothing of it is lost, its games are there to be reviewed, and it has the latest form."""
    path.parent.mkdir()
    older(path, sheet, header)
    assert sqlite3.connect(path).execute("PRAGMA user_version").fetchone() == (1,)
    with Store(path) as store:
        assert store.trouble is None
        assert [line.id for line in store.lines()] == [3, 2, 1]
        assert [note.text for line in (1, 2, 3) for note in store.notes(line)] == ["note 1", "note 2", "note 3"]
        assert store.unreviewed() == (3, 2, 1)
        assert store.save_review(2, 30, 0.5, 4)
    assert sqlite3.connect(path).execute("PRAGMA user_version").fetchone() == (len(schema.STEPS),)
    with Store(path) as store:
        assert figures(store) == [(2, 30, 0.5, 4, False)]


def spoil(path, page, seed=1):
    """Overwrite one page of a closed file."""
    with path.open("r+b") as file:
        file.seek((page - 1) * schema.PAGE)
        file.write(random.Random(seed).randbytes(schema.PAGE))


@pytest.mark.parametrize("began_older", [False, True], ids=["new", "older"])
@pytest.mark.slow
def test_figures_outlive_the_loss_of_any_page(path, sheet, header, finished, began_older):
    """The first page too, also in a file whose tables begin elsewhere than in a new one: all figures come back unless
    it was their own page, none is made up, and those of a game that is lost stand without it."""
    path.parent.mkdir()
    if began_older:
        older(path, sheet, header, games=30)  # so many that lines lie where a new file has the figures
    with Store(path) as store:
        lines = [*reversed(store.unreviewed()), *(finished(store, seed) for seed in range(10 if began_older else 40))]
        for line in lines:
            store.save_review(line, 30 + line, line / 64, line % 5)
        numbers = {one.line: one.id for one in store.reviews()}
        root = store._connection.read(
            lambda db: db.execute("SELECT rootpage FROM sqlite_master WHERE name = 'reviews'").fetchone()[0]
        )
        free = store._connection.read(lambda db: db.execute("PRAGMA freelist_count").fetchone()[0])
    content, silent = path.read_bytes(), 0
    expected = {numbers[line]: (30 + line, line / 64, line % 5, False) for line in lines}
    for page in range(1, len(content) // schema.PAGE + 1):
        path.write_bytes(content)
        spoil(path, page)
        with Store(path) as store:
            silent += store.trouble is None
            kept = {one.id: (one.choices, one.cost, one.faults, one.advice_seen) for one in store.reviews()}
            assert kept == ({} if page == root else expected), f"page {page}"
            there = {line.id for line in store.lines(limit=None)}
            for one in store.reviews():
                assert one.line == next(line for line in lines if numbers[line] == one.id) or one.line is None
                assert (one.line is None) is (lines[one.id - 1] not in there)
        for part in path.parent.iterdir():
            part.unlink()
    assert silent <= free, "only the loss of a page that holds nothing goes without a word"


def test_reading_through_an_older_file_finds_it_whole(path, sheet, header, tmp_path):
    """It lacks a table without being damaged: its pages are not searched, which would bring back what was removed."""
    path.parent.mkdir()
    older(path, sheet, header, notes=20)
    assert b"taken away" in path.read_bytes()
    fresh = schema.connect(":memory:")
    schema.bring_up_to_date(fresh)
    assert salvage(path, fresh, tmp_path) == Salvaged(3, 0)
    assert [row["text"] for row in fresh.execute("SELECT text FROM notes")] == ["note 1", "note 2", "note 3"]
    fresh.close()
