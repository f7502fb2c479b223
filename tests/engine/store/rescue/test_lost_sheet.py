"""The text of a sheet that ships is never lost: its deals open, whatever became of it in the store."""

import sqlite3

import pytest

from engine.store.store import Store

PAGE = 4096


@pytest.fixture
def deal(path, sheet, played):
    """A store with one deal of a shipped sheet; the page that holds the sheet's row."""
    with Store(path) as store:
        store.add_sheet(sheet)
        store.add_record(played(1, 5))
    with sqlite3.connect(path) as db:
        (page,) = db.execute("SELECT rootpage FROM sqlite_master WHERE name = 'sheets'").fetchone()
    db.close()
    return page


def test_its_row_is_written_anew_when_a_damaged_file_is_read(path, sheet, deal):
    """The deal has its sheet's name again, and opens."""
    content = bytearray(path.read_bytes())
    content[(deal - 1) * PAGE : deal * PAGE] = bytes(PAGE)
    path.write_bytes(content)
    with Store(path) as store:
        (line,) = store.lines()
        assert line.sheet_name == "First Steps"
        assert store.sheet(line.fingerprint) == sheet
        assert [one.fingerprint for one in store.sheets()] == [sheet.fingerprint]


@pytest.mark.parametrize("change", ["UPDATE sheets SET canonical = 'spoilt'", "DELETE FROM sheets"])
@pytest.mark.usefixtures("deal")
def test_it_is_found_though_the_store_has_no_sound_text_of_it(path, sheet, change):
    """A change that SQLite does not notice."""
    with sqlite3.connect(path) as db:
        db.execute(change)
    db.close()
    with Store(path) as store:
        assert store.sheet(sheet.fingerprint) == sheet
