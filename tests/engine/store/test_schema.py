"""The tables come up to date from any older form, all or nothing, and a newer file is left alone."""

import sqlite3

import pytest

from engine.store import schema
from engine.store.store import Store

FIRST = ("CREATE TABLE pets (id INTEGER PRIMARY KEY, name TEXT)", "INSERT INTO pets (name) VALUES ('ant')")
SECOND = ("ALTER TABLE pets ADD COLUMN legs INTEGER", "UPDATE pets SET legs = 6")


@pytest.fixture
def no_wanted_tables(monkeypatch):
    """Steps of the test's own have none of the game's tables."""
    monkeypatch.setattr(schema, "WANTED", {})


@pytest.mark.usefixtures("no_wanted_tables")
def test_an_older_file_goes_through_the_steps_it_lacks(tmp_path):
    """Data of the first form is there in the second, and a step that a file has been through isn't run again."""
    db = schema.connect(tmp_path / "pets.sqlite")
    schema.bring_up_to_date(db, (FIRST,))
    assert schema.version(db) == 1
    schema.bring_up_to_date(db, (FIRST, SECOND))
    schema.bring_up_to_date(db, (FIRST, SECOND))
    assert schema.version(db) == 2
    assert [tuple(row) for row in db.execute("SELECT name, legs FROM pets")] == [("ant", 6)]
    db.close()


@pytest.mark.usefixtures("no_wanted_tables")
def test_a_step_that_fails_leaves_the_file_as_it_was(tmp_path):
    """Steps run in one transaction: after a failure in the last one none of them has happened."""
    db = schema.connect(tmp_path / "pets.sqlite")
    schema.bring_up_to_date(db, (FIRST,))
    with pytest.raises(sqlite3.OperationalError):
        schema.bring_up_to_date(db, (FIRST, SECOND, ("UPDATE cats SET legs = 4",)))
    assert schema.version(db) == 1
    assert schema.columns(db, "pets") == ("id", "name")
    db.close()


def test_the_columns_in_use_are_those_that_the_steps_make(tmp_path):
    """The list that salvage and the check on opening go by is the tables' real form, in order."""
    db = schema.connect(tmp_path / "new.sqlite")
    schema.bring_up_to_date(db)
    assert {table: schema.columns(db, table) for table in schema.WANTED} == schema.WANTED
    made = {row["name"] for row in db.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
    assert made - {"sqlite_sequence"} == set(schema.WANTED)
    db.close()


def test_every_commit_is_on_the_disk(store):
    """The file is in WAL mode, and a commit waits for the disk (2 is FULL)."""
    read = store._connection.read
    assert read(lambda db: db.execute("PRAGMA journal_mode").fetchone()[0]) == "wal"
    assert read(lambda db: db.execute("PRAGMA synchronous").fetchone()[0]) == 2


def make_newer(path, checkpoint):
    """A file that a later version of the game might leave: open, or after a crash with its log still beside it."""
    Store(path).close()
    db = schema.connect(path)
    db.execute("PRAGMA journal_mode = WAL")
    db.execute("PRAGMA wal_autocheckpoint = 0")
    db.execute("CREATE TABLE of_later (id INTEGER PRIMARY KEY)")
    db.execute(f"PRAGMA user_version = {len(schema.STEPS) + 7}")
    files = {}
    if not checkpoint:
        files = {part: part.read_bytes() for part in (path, path.with_name(path.name + "-wal"))}
    db.close()
    for part, content in files.items():
        part.write_bytes(content)


def test_a_newer_file_with_a_journal_beside_it_is_left_untouched(path):
    """A change to it was broken off, so that only a connection that may write can see what it holds; its way of
    keeping changes is left as it is, too."""
    Store(path).close()
    db = schema.connect(path)
    db.execute("PRAGMA journal_mode = DELETE")
    db.execute(f"PRAGMA user_version = {len(schema.STEPS) + 7}")
    db.close()
    before = path.read_bytes()
    path.with_name(path.name + "-journal").touch()
    with Store(path) as store:
        assert "newer version" in store.trouble
    assert path.read_bytes() == before


@pytest.mark.parametrize("checkpoint", [True, False], ids=["closed", "crashed"])
def test_a_newer_file_is_left_untouched_and_said_so(path, sheet, header, checkpoint):
    """Not a byte of it changes, one sentence says what to do, and a game can be played meanwhile."""
    make_newer(path, checkpoint)
    before = {part.name: part.read_bytes() for part in path.parent.iterdir()}
    with Store(path) as store:
        assert f"format {len(schema.STEPS) + 7}" in store.trouble
        assert "newer version" in store.trouble
        assert "\n" not in store.trouble
        assert not store.saving
        store.add_sheet(sheet)
        line = store.start_line(header())
        assert store.last_line() == line
    after = {part.name: part.read_bytes() for part in path.parent.iterdir()}
    assert {name: after[name] for name in before} == before
    assert all(name.endswith("-shm") for name in set(after) - set(before))
