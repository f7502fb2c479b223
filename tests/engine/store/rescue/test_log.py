"""A damaged write-ahead log is found out, and the deals that only it holds are read past the damage."""

import random
import sqlite3

import pytest

from engine.rules.actions import Discard
from engine.store.rescue.log import has_lost_its_end, read_log
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


@pytest.fixture(scope="module")
def index(crashed, tmp_path_factory):
    """The bytes of the index that SQLite makes for that log."""
    path = tmp_path_factory.mktemp("indexed") / "a.sqlite"
    path.write_bytes(crashed[0])
    path.with_name("a.sqlite-wal").write_bytes(crashed[1])
    db = sqlite3.connect(path)
    db.execute("SELECT * FROM lines").fetchall()
    made = path.with_name("a.sqlite-shm").read_bytes()
    db.close()
    return made


def left(path, main, log, index=None):
    """What a start finds: the entries of the deal, and the trouble."""
    path.parent.mkdir(exist_ok=True)
    for part in path.parent.iterdir():
        part.unlink()
    if main is not None:
        path.write_bytes(main)
    path.with_name(path.name + "-wal").write_bytes(log)
    if index is not None:
        path.with_name(path.name + "-shm").write_bytes(index)
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
    """Wherever it stands, in the last frame too: what a program once wrote there may have been an entry."""
    _, content = crashed
    lot = random.Random(3)
    frames = (len(content) - 32) // FRAME
    last = len(content) - FRAME
    places = [
        *range(24),
        *(lot.randrange(24, last) for _ in range(100)),
        *(lot.randrange(last, len(content)) for _ in range(40)),
    ]
    for place in [*places, *range(last + 8, last + 16)]:
        spoilt = bytearray(content)
        spoilt[place] ^= 1 << lot.randrange(8)
        log = read_log(bytes(spoilt), PAGE)
        assert log.damaged, place
        assert log.cut == (place >= last)
        assert len(log.frames) >= frames - 1


def test_what_a_crash_leaves_is_no_damage(crashed):
    """Frames without the mark that ends a transaction, and a page that was cut short."""
    _, content = crashed
    last = len(content) - FRAME
    for length in (0, 40, last, last + 24, len(content) - 7):
        assert not read_log(content[:length], PAGE).damaged
    unfinished = bytearray(content)
    unfinished[last + 4 : last + 8] = bytes(4)
    unfinished[last - FRAME + 100] ^= 1
    assert not read_log(bytes(unfinished), PAGE).damaged


@pytest.mark.parametrize(("length", "kept"), [(-1, 12), (-7, 12), (25 - FRAME, 12), (-4 * FRAME, 11), (32, 0), (0, 0)])
def test_a_log_that_has_lost_its_end_is_said_to_have(crashed, index, path, length, kept):
    """The index beside it knows how long it was. What can be read of the last page is, and the log is kept."""
    main, content = crashed
    cut = content[:length]
    entries, trouble = left(path, main, cut, index)
    assert entries == kept
    assert "was damaged and is kept as" in trouble
    assert trouble.endswith("; what was done last may be missing")
    assert not cut or cut in [part.read_bytes() for part in path.parent.glob("*.damaged-*-wal")]
    with Store(path) as store:
        assert store.trouble is None


def test_a_last_transaction_of_which_nothing_shows_is_known_by_the_index(crashed, index, path):
    """Zeros over the end of one frame and the head of the last: neither can be told from what a crash leaves."""
    main, content = crashed
    spoilt = bytearray(content)
    spoilt[-FRAME - 60 : -FRAME + 200] = bytes(260)
    assert not read_log(bytes(spoilt), PAGE).damaged
    entries, trouble = left(path, main, bytes(spoilt), index)
    assert entries >= 11
    assert trouble.endswith("; what was done last may be missing")


def test_an_index_that_knows_of_no_loss_says_nothing(crashed, index, path):
    """The index of the whole log, a damaged one, and that of another log."""
    main, content = crashed
    other = bytearray(index)
    other[33] ^= 1
    other[48 + 33] ^= 1
    for log, beside in ((content, index), (content[:-7], index[:40]), (content[:-7], bytes(other))):
        entries, trouble = left(path, main, log, beside)
        assert entries >= ENTRIES - 1
        assert trouble is None
    assert not has_lost_its_end(b"", read_log(b"", PAGE), b"")


def test_a_last_frame_with_a_changed_byte_loses_nothing(crashed, path):
    """The byte is none of the entry's."""
    main, content = crashed
    spoilt = bytearray(content)
    spoilt[-FRAME + 24 + 600] ^= 4
    entries, trouble = left(path, main, bytes(spoilt))
    assert entries == ENTRIES
    assert "what was done last may be missing" in trouble


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
