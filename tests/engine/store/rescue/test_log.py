"""A damaged write-ahead log is found out, and the deals that only it holds are read past the damage."""

import random
import sqlite3

import pytest

from engine.rules.actions import Discard
from engine.store.rescue.log import read_log
from engine.store.store import Store

PAGE, FRAME = 4096, 24 + 4096
ENTRIES = 12


@pytest.fixture(scope="module")
def crashed(tmp_path_factory, sheet, header):
    """The bytes of file and log as a crash leaves them: one deal of twelve entries, most of it in the log."""
    path = tmp_path_factory.mktemp("crashed") / "lone-east.sqlite"
    with Store(path) as store:
        store.add_sheet(sheet)
        line = store.start_line(header())
        for number in range(ENTRIES):
            store.append(line, 0, Discard(number))
        return path.read_bytes(), path.with_name(path.name + "-wal").read_bytes()


def left(path, main, log):
    """What a start finds: the entries of the deal, and the trouble."""
    path.parent.mkdir(exist_ok=True)
    for part in path.parent.iterdir():
        part.unlink()
    if main is not None:
        path.write_bytes(main)
    path.with_name(path.name + "-wal").write_bytes(log)
    with Store(path) as store:
        lines = store.lines()
        entries = [entry for line in lines for entry in store.record(line.id).entries]
        assert entries == [(0, Discard(number)) for number in range(len(entries))]
        if lines:
            assert [sheet.whole for sheet in store.sheets()] == [True]
        return len(entries), store.trouble


def test_a_sound_log_is_read_as_sqlite_reads_it(crashed, tmp_path):
    """The newest page of every number, over the file, is the file that SQLite makes of the two."""
    main, content = crashed
    log = read_log(content, PAGE)
    assert not log.damaged
    assert all(frame.sound for frame in log.frames)
    assert len(log.frames) == (len(content) - 32) // FRAME
    path = tmp_path / "a.sqlite"
    path.write_bytes(main)
    path.with_name("a.sqlite-wal").write_bytes(content)
    db = sqlite3.connect(path)
    assert db.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()[0] == 0
    db.close()
    made = path.read_bytes()
    for number, page in log.pages.items():
        assert made[(number - 1) * PAGE : number * PAGE] == page


@pytest.mark.slow
def test_a_changed_byte_anywhere_in_the_log_is_found_out(crashed):
    """Wherever it stands, unless in the last frame, which a crash may have cut short."""
    _, content = crashed
    lot = random.Random(3)
    frames = (len(content) - 32) // FRAME
    for place in [*range(24), *(lot.randrange(24, len(content) - FRAME) for _ in range(120))]:
        spoilt = bytearray(content)
        spoilt[place] ^= 1 << lot.randrange(8)
        log = read_log(bytes(spoilt), PAGE)
        assert log.damaged, place
        assert len(log.frames) >= frames - 1
    assert not read_log(content[: len(content) - 7], PAGE).damaged
    torn = bytearray(content)
    torn[-9] ^= 1
    assert not read_log(bytes(torn), PAGE).damaged, "a crash in the middle of writing the last frame"
    size = len(content) - FRAME + 4
    torn[size : size + 4] = bytes(4)
    torn[size - FRAME + 100] ^= 1
    assert not read_log(bytes(torn), PAGE).damaged, "a crash in the middle of the last transaction"
    assert not read_log(b"", PAGE).damaged


def test_frames_of_an_earlier_log_are_no_damage(tmp_path):
    """A log that SQLite began anew holds older frames behind the new ones."""
    path = tmp_path / "a.sqlite"
    db = sqlite3.connect(path, isolation_level=None)
    db.execute("PRAGMA journal_mode = WAL")
    db.execute("PRAGMA wal_autocheckpoint = 0")
    db.execute("CREATE TABLE t (id INTEGER PRIMARY KEY, words TEXT)")
    for number in range(30):
        db.execute("INSERT INTO t VALUES (?, ?)", (number, "long " * 300))
    db.execute("PRAGMA wal_checkpoint(RESTART)")
    db.execute("INSERT INTO t VALUES (99, 'new')")
    content = path.with_name("a.sqlite-wal").read_bytes()
    log = read_log(content, PAGE)
    assert not log.damaged
    assert 0 < len(log.frames) < (len(content) - 32) // FRAME
    assert all(frame.sound for frame in log.frames)
    db.close()


@pytest.mark.slow
def test_a_damaged_log_loses_one_entry_at_most_and_never_without_a_word(crashed, path):
    """A byte, or a run of them, changed at seeded places; SQLite alone would lose all that stands behind."""
    main, content = crashed
    lot = random.Random(8)
    for length in (1, 1, 1, 200, 200):
        place = lot.randrange(32, len(content) - FRAME - length)
        spoilt = bytearray(content)
        spoilt[place : place + length] = lot.randbytes(length)
        entries, trouble = left(path, main, bytes(spoilt))
        assert "was damaged and is kept as" in trouble
        assert entries >= ENTRIES - 1, place
        assert bytes(spoilt) in [part.read_bytes() for part in path.parent.glob("*.damaged-*-wal")]


@pytest.mark.parametrize("part", ["header", "first frame", "salts of a frame"])
def test_a_log_without_its_beginning_is_read_all_the_same(crashed, path, part):
    """What SQLite needs to read any of it is gone; the pages are there."""
    main, content = crashed
    spoilt = bytearray(content)
    parts = {"header": (0, 32), "first frame": (32, 32 + FRAME), "salts of a frame": (40 + FRAME, 48 + FRAME)}
    start, stop = parts[part]
    spoilt[start:stop] = bytes(stop - start)
    entries, trouble = left(path, main, bytes(spoilt))
    assert entries == ENTRIES
    assert "was damaged" in trouble


@pytest.mark.parametrize("main", [None, b""], ids=["missing", "empty"])
def test_a_log_beside_no_file_is_data(crashed, path, main):
    """It is never thrown away for a new file: what it holds is there, and the log is kept."""
    _, content = crashed
    entries, trouble = left(path, main, content)
    assert entries == ENTRIES
    assert "was damaged and is kept as" in trouble
    assert content in [part.read_bytes() for part in path.parent.glob("*.damaged-*-wal")]
    with Store(path) as store:
        assert store.trouble is None
        assert len(store.record(store.last_line()).entries) == ENTRIES
