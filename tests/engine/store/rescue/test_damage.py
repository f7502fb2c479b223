"""A damaged file is kept aside and said so, and what can be read of it is there again; nothing is ever raised."""

import contextlib
import random
import shutil
import sqlite3
from itertools import pairwise

import pytest
from depth import deep

from engine.rules.actions import Discard
from engine.store.endings import GameEnd
from engine.store.opening import opening
from engine.store.store import Store
from engine.store.values import StoreError

PAGE = 4096
DEALS, ENTRIES = 24, 30


@pytest.fixture(scope="session")
def records(played):
    """Records by the numbers that their lines get."""
    return {seed: played(seed, ENTRIES) for seed in range(1, DEALS + 1)}


@pytest.fixture(scope="session")
def good(tmp_path_factory, sheet, records):
    """The bytes of a sound file that holds them, a note on each, and ten settings."""
    path = tmp_path_factory.mktemp("good") / "lone-east.sqlite"
    with Store(path) as store:
        store.add_sheet(sheet)
        for number, record in records.items():
            assert store.add_record(record, end=GameEnd("wall", 99), notes=[(3, f"note {number}")]) == number
        for number in range(10):
            store.set(f"setting {number}", number)
        store.add_result("drill", {"right": 3})
    return path.read_bytes()


@pytest.fixture
def opened(path, records):
    """Writes a damaged file, opens it, and checks what holds after any damage; (share of entries left, trouble)."""

    def check(content, log=None, ends=True):
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(content)
        if log is not None:
            path.with_name(path.name + "-wal").write_bytes(log)
        with Store(path) as store:
            left = 0
            for line in store.lines(limit=None):
                record = store.record(line.id)
                left += len(record.entries)
                assert record.entries == records[line.id].entries[: len(record.entries)]
                assert record.header.wall == records[line.id].header.wall
                if ends:
                    assert line.finished == (len(record.entries) == len(records[line.id].entries))
                assert {note.text for note in store.notes(line.id)} <= {f"note {line.id}"}
            assert store.saving
            trouble = store.trouble
            assert is_one_sentence(trouble)
            store.set("after", "the damage")
            if left:
                fork = store.fork(store.lines(limit=1)[0].id, 0)
                assert store.append(fork, 0, Discard(1)) == 1
        with Store(path) as store:
            assert store.trouble is None
            assert store.get("after") == "the damage"
        aside = [part for part in path.parent.iterdir() if ".damaged-" in part.name]
        assert bool(aside) == (trouble is not None)
        if content:
            assert not aside or content in [part.read_bytes() for part in aside if not part.name.endswith("-wal")]
        return left / sum(len(record.entries) for record in records.values()), trouble

    return check


def is_one_sentence(trouble):
    """Whether a player could be shown this: one line, no name of an exception."""
    return trouble is None or ("\n" not in trouble and "Error" not in trouble and ". " not in trouble)


def test_a_sound_file_has_no_trouble(opened, good):
    """The check on opening finds nothing where there is nothing."""
    assert opened(good) == (1.0, None)


@pytest.mark.slow
def test_rubbish_in_any_one_page_costs_little(opened, good, path):
    """Every page in turn is overwritten, the first and the roots of the tables among them: most deals survive."""
    shares = []
    for page in range(len(good) // PAGE):
        content = bytearray(good)
        content[page * PAGE : (page + 1) * PAGE] = random.Random(page).randbytes(PAGE)
        share, trouble = opened(bytes(content))
        assert trouble is not None
        assert share >= 0.7, f"page {page + 1}"
        shares.append(share)
        shutil.rmtree(path.parent)
    assert sum(shares) / len(shares) >= 0.9


@pytest.mark.slow
def test_zeros_in_any_one_page_cost_little(opened, good, path):
    """As a disk leaves a block that it never wrote."""
    for page in range(0, len(good) // PAGE, 3):
        content = bytearray(good)
        content[page * PAGE : (page + 1) * PAGE] = bytes(PAGE)
        share, trouble = opened(bytes(content))
        assert trouble is not None
        assert share >= 0.7, f"page {page + 1}"
        shutil.rmtree(path.parent)


@pytest.mark.slow
def test_half_of_a_page_of_zeros_costs_what_that_half_held(opened, good, path):
    """The other half is read, whatever the head of the page says. A page that only leads to others costs nothing."""
    inner = 0
    for page in range(len(good) // PAGE):
        kind = good[page * PAGE + (100 if page == 0 else 0)]
        if page % 4 and kind not in (2, 5):
            continue
        for half in (0, PAGE // 2):
            content = bytearray(good)
            content[page * PAGE + half : page * PAGE + half + PAGE // 2] = bytes(PAGE // 2)
            share, trouble = opened(bytes(content), ends=False)  # these records are not over, so no replay ends them
            if kind in (2, 5):
                inner += 1
                assert share == 1.0, f"page {page + 1}"
            assert share >= 0.8, f"page {page + 1}"
            assert trouble is None or ("24 deals were read" in trouble) is not ("could not be read" in trouble)
            shutil.rmtree(path.parent)
    assert inner >= 4


HEAD_BYTES = [(18, 3), (19, 3), (18, 0), (21, 0), (16, 0), (68, 0)]
"""Place and value: the form for writing and for reading, a constant, the size of a page, whose file it is."""


@pytest.mark.parametrize(("place", "value"), HEAD_BYTES)
@pytest.mark.slow
def test_a_changed_byte_in_the_head_of_the_file_costs_nothing(opened, good, place, value):
    """SQLite takes the first two for a later form that it may only read, so that every start would fail."""
    content = bytearray(good)
    content[place] = value
    share, trouble = opened(bytes(content))
    assert share == 1.0
    assert "24 deals were read from it and are here" in trouble


@pytest.mark.slow
def test_a_row_that_claims_to_be_endless_stops_nothing(opened, good, path):
    """Python has no memory for it; the row is lost, and no other."""
    lot = random.Random(2)
    cells_of = {
        page: int.from_bytes(good[page * PAGE + 3 : page * PAGE + 5], "big") for page in range(len(good) // PAGE)
    }
    leaves = [page for page, cells in cells_of.items() if page and good[page * PAGE] == 13 and cells]
    for page in lot.sample(leaves, 6):
        cells = cells_of[page]
        spot = page * PAGE + 8 + 2 * lot.randrange(cells)
        place = page * PAGE + int.from_bytes(good[spot : spot + 2], "big")
        content = bytearray(good)
        content[place : place + 5] = b"\xff\xff\xff\xff\x7f"
        share, trouble = opened(bytes(content))
        assert share >= 0.9
        assert trouble is not None
        shutil.rmtree(path.parent)


def test_what_could_not_be_read_is_said(path, good):
    """Entries without their deal tell that there was one."""
    path.parent.mkdir()
    path.write_bytes(good)
    db = sqlite3.connect(path)
    db.execute("DELETE FROM lines WHERE id IN (3, 4)")
    db.execute("PRAGMA writable_schema = ON")
    db.execute("UPDATE sqlite_master SET rootpage = 1 WHERE name = 'notes'")
    db.commit()
    db.close()
    with Store(path) as store:
        assert "22 deals were read from it and are here, 2 could not be read" in store.trouble


DAMAGES = {
    "wall": "wall = 'x' || substr(wall, 2)",
    "house": "house = '[' || substr(house, 2)",
    "chosen": "chosen = '['",
    "ended": "ended = '['",
    "started": "started = 'x'",
    "touched": "touched = 'x'",
    "both times": "started = 'x', touched = 'y'",
}


@pytest.mark.parametrize("damage", DAMAGES.values(), ids=DAMAGES)
@pytest.mark.parametrize("rescued", [False, True], ids=["open", "rescued"])
@pytest.mark.slow
def test_one_damaged_byte_of_a_deal_leaves_it_to_be_opened(path, good, records, damage, rescued):
    """Its code deals house and wall again, and what can't be known is left open."""
    path.parent.mkdir()
    path.write_bytes(good)
    db = sqlite3.connect(path)
    db.execute(f"UPDATE lines SET {damage} WHERE id = 5")
    if rescued:
        db.execute("PRAGMA writable_schema = ON")
        db.execute("UPDATE sqlite_master SET rootpage = 1 WHERE name = 'results'")
    db.commit()
    db.close()
    with Store(path) as store:
        assert (store.trouble is not None) == rescued
        assert len(store.lines(limit=None)) == DEALS
        assert store.record(5) == records[5]
        assert store.line(5).house == records[5].header.house


@pytest.mark.slow
def test_a_file_cut_short_keeps_what_is_before_the_cut(opened, good, path):
    """At any length, inside of a page too; the longer, the more is left."""
    shares = [0.0]
    for length in (1, 16, 100, 5000, *range(7 * PAGE, len(good), 5 * PAGE), len(good) - 700):
        share, trouble = opened(good[:length])
        assert trouble is not None
        shares.append(share)
        shutil.rmtree(path.parent)
    assert all(later >= earlier for earlier, later in pairwise(shares))
    assert shares[-1] > 0.7


@pytest.mark.slow
def test_a_few_bytes_changed_anywhere_raise_nothing(good, path):
    """Single bytes, runs and shifts at seeded places: all that is ever raised is a sentence about one deal."""
    for seed in range(deep(16, 40)):
        lot = random.Random(seed)
        content = bytearray(good)
        for _ in range(lot.choice((1, 5, 50))):
            place = lot.randrange(len(content) - 200)
            content[place : place + lot.choice((1, 8, 200))] = lot.randbytes(lot.choice((1, 8, 200)))
        content = content[: len(good)]
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(content)
        with Store(path) as store:
            for line in store.lines(limit=None):
                with contextlib.suppress(StoreError):
                    store.record(line.id)
                store.notes(line.id)
            store.sheets()
            store.results()
            assert is_one_sentence(store.trouble)
            store.set("after", 1)
            assert store.get("after") == 1
        shutil.rmtree(path.parent)


def test_an_action_that_is_no_action_ends_the_record_there(path, good, records):
    """Damage that SQLite can't see: the part before it opens, and can be played on from a fork."""
    path.parent.mkdir()
    path.write_bytes(good)
    db = sqlite3.connect(path)
    db.execute("UPDATE entries SET action = 'discard xx' WHERE line = 5 AND number = 12")
    db.commit()
    db.close()
    with Store(path) as store:
        assert store.record(5).entries == records[5].entries[:12]
        assert "deal 5 is damaged after entry 12" in store.trouble
        child = store.fork(5, 12)
        assert store.append(child, 0, Discard(1)) == 13
        assert store.record(6) == records[6]


@pytest.mark.parametrize(
    "content",
    [b"not a database at all, but a letter\n" * 50, b"\x89PNG\r\n" + bytes(9000), random.Random(1).randbytes(70_000)],
    ids=["text", "picture", "noise"],
)
@pytest.mark.slow
def test_what_is_no_database_is_kept_aside(opened, content):
    """Another program's file in the place of the store is not lost, and a fresh store is begun."""
    share, trouble = opened(content)
    assert share == 0
    assert "no deal could be read from it" in trouble


def test_another_programs_database_is_kept_aside(path):
    """A sound SQLite file that isn't ours keeps its content, under the dated name."""
    path.parent.mkdir()
    db = sqlite3.connect(path)
    db.execute("CREATE TABLE notes (id INTEGER PRIMARY KEY, text TEXT)")
    db.execute("INSERT INTO notes (text) VALUES ('milk')")
    db.commit()
    db.close()
    with Store(path) as store:
        assert "is kept as" in store.trouble
        assert store.lines() == ()
    [aside] = path.parent.glob("lone-east.damaged-*.sqlite")
    assert sqlite3.connect(aside).execute("SELECT text FROM notes").fetchall() == [("milk",)]


def test_an_empty_file_is_a_new_store(opened):
    """What a crash in the first moment leaves: nothing is lost, so nothing is said."""
    assert opened(b"") == (0.0, None)


def test_an_empty_file_beside_a_full_log_is_read_from_the_log(path, sheet, played, keep):
    """The log of a file whose own bytes are gone holds the latest of every page that it has."""
    record = played(entries=ENTRIES)
    with Store(path) as store:
        store.add_sheet(sheet)
        line = keep(store, record)
        log = path.with_name(path.name + "-wal").read_bytes()
    path.write_bytes(b"")
    path.with_name(path.name + "-wal").write_bytes(log)
    with Store(path) as store:
        assert "was damaged" in store.trouble
        assert store.record(line) == record


def test_a_folder_in_the_files_place_is_kept_aside(path, sheet):
    """With all that is in it."""
    path.mkdir(parents=True)
    (path / "mine.txt").write_text("mine")
    with Store(path) as store:
        assert "is kept as" in store.trouble
        store.add_sheet(sheet)
    [aside] = path.parent.glob("lone-east.damaged-*.sqlite")
    assert (aside / "mine.txt").read_text() == "mine"
    assert path.is_file()


def test_two_damaged_files_on_one_day_are_both_kept(path, clock):
    """The second never takes the first one's dated name, even in the same second."""
    path.parent.mkdir()
    moment = clock()
    for content in (b"first rubbish", b"second rubbish"):
        path.write_bytes(content)
        Store(path, lambda: moment).close()
    kept = {part.read_bytes() for part in path.parent.glob("lone-east.damaged-*.sqlite")}
    assert kept == {b"first rubbish", b"second rubbish"}


@pytest.mark.slow
def test_damage_met_in_the_middle_of_a_session_is_put_aside_then(path, good, records):
    """The file is damaged while it is open: the next reading or writing that meets it goes on with what is left."""
    path.parent.mkdir()
    path.write_bytes(good)
    with Store(path) as store:
        store._connection.read(lambda db: db.execute("PRAGMA cache_size = 1"))
        with path.open("r+b") as file:
            for page in range(12, len(good) // PAGE - 4):
                file.seek(page * PAGE)
                file.write(random.Random(page).randbytes(PAGE))
        for line in records:
            entries = store.record(line).entries if line in {found.id for found in store.lines(limit=None)} else ()
            assert entries == records[line].entries[: len(entries)]
        assert "is kept as" in store.trouble
        assert store.saving
        store.set("after", 1)
    with Store(path) as store:
        assert (store.get("after"), store.trouble) == (1, None)


def test_a_line_that_is_its_own_parent_is_left_out(path, good, records):
    """Its ancestors would never end; the other deals are there."""
    path.parent.mkdir()
    path.write_bytes(good)
    db = sqlite3.connect(path)
    db.execute("PRAGMA ignore_check_constraints = ON")
    db.execute("UPDATE lines SET parent = 5 WHERE id = 5")
    db.execute("PRAGMA writable_schema = ON")
    db.execute("UPDATE sqlite_master SET rootpage = 1 WHERE name = 'results'")
    db.commit()
    db.close()
    with Store(path) as store:
        assert sorted(line.id for line in store.lines(limit=None)) == [number for number in records if number != 5]
        assert "23 deals were read from it and are here, one could not be read" in store.trouble


def test_a_file_up_to_the_limit_is_checked_on_opening(path, good, monkeypatch):
    """A larger one would hold up the start: it is only looked through where damage was met."""
    path.parent.mkdir()
    content = bytearray(good)
    leaf = max(page for page in range(len(good) // PAGE) if good[page * PAGE] == 13)
    content[leaf * PAGE + 1 : leaf * PAGE + 5] = b"\xff\xff\xff\xff"
    path.write_bytes(content)
    monkeypatch.setattr(opening, "CHECKED", len(good) - 1)
    opening.open_file(path).close()
    for thorough, limit in ((True, len(good) - 1), (False, len(good))):
        monkeypatch.setattr(opening, "CHECKED", limit)
        with pytest.raises(opening.DamagedError):
            opening.open_file(path, thorough=thorough)


def test_a_swap_that_a_crash_interrupted_is_taken_up(path, good):
    """The complete new file takes the damaged one's place, which stays beside it; that is said."""
    path.parent.mkdir()
    path.write_bytes(b"rubbish")
    path.with_name("lone-east.sqlite.rescued-2031-01-02-030405").write_bytes(good)
    with Store(path) as store:
        assert store.trouble.endswith("was damaged; it is kept beside a new one that holds what could be read")
        assert len(store.lines(limit=None)) == 24
    assert path.with_name("lone-east.damaged-2031-01-02-030405.sqlite").read_bytes() == b"rubbish"
    assert not list(path.parent.glob("*.rescued-*"))
