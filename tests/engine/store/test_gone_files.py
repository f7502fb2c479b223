"""The store's file is deleted or replaced while the game is open: nothing of another's is overwritten."""

import contextlib
import os
import shutil

import pytest
from trouble_kit import is_one_sentence

from engine.rules.actions import Discard
from engine.store.store import Store
from engine.store.values import StoreError


def wiped(path):
    """Delete the store's folder, as another program might."""
    shutil.rmtree(path.parent)


@pytest.mark.skipif(os.name != "posix", reason="elsewhere an open file can't be deleted")
@pytest.mark.parametrize("what", [wiped, lambda path: path.unlink()], ids=["folder", "file"])
def test_a_store_that_is_deleted_while_playing_is_written_anew(path, sheet, header, what):
    """With the next action, all of it, and it is said once; at the end too, where no action comes."""
    with Store(path) as store:
        store.add_sheet(sheet)
        line = store.start_line(header())
        store.append(line, 0, Discard(1))
        what(path)
        assert store.append(line, 0, Discard(2)) == 2
        assert "was deleted while the game was open; all of it was written anew" in store.trouble
        assert store.saving
        assert [action for _, action in store.record(line).entries] == [Discard(1), Discard(2)]
        what(path)
    assert not store.unsaved
    with Store(path) as again:
        assert again.trouble is None
        assert [action for _, action in again.record(line).entries] == [Discard(1), Discard(2)]
        assert again.sheet_of(line) == sheet


@pytest.mark.skipif(os.name != "posix", reason="elsewhere an open file can't be deleted")
def test_a_store_that_can_not_be_written_anew_says_so_until_it_can(path, sheet, header):
    """Something else stands in the folder's place: play goes on in memory, and all is saved once that is gone."""
    with Store(path) as store:
        store.add_sheet(sheet)
        line = store.start_line(header())
        wiped(path)
        path.parent.write_text("in the way")
        assert store.append(line, 0, Discard(1)) == 1
        assert "was deleted and can't be written anew, so the game goes on, but only in memory" in store.trouble
        assert is_one_sentence(store.trouble)
        assert (store.saving, store.unsaved) == (False, True)
        path.parent.unlink()
        assert store.append(line, 0, Discard(2)) == 2
        assert (store.saving, store.unsaved) == (True, False)
    with Store(path) as again:
        assert len(again.record(line).entries) == 2


def test_another_file_in_the_place_of_ours_is_never_overwritten(path, sheet, header, tmp_path):
    """As when a folder is put back from a copy while the game runs: that file stays as it is."""
    with Store(tmp_path / "other.sqlite") as other:
        other.set("whose", "another's")
    content = (tmp_path / "other.sqlite").read_bytes()
    with Store(path) as store:
        store.add_sheet(sheet)
        line = store.start_line(header())
        for part in list(path.parent.iterdir()):
            part.unlink()
        path.write_bytes(content)
        with contextlib.suppress(StoreError):
            store.append(line, 0, Discard(1))
        assert store.trouble is not None or store.get("whose") == "another's"
    with Store(path) as again:
        assert again.get("whose") == "another's"
