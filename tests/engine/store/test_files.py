"""Where the store lives, and writing files whole."""

from pathlib import Path

import platformdirs
import pytest

from engine.store.files import FOLDER_VARIABLE, default_path, sync_folder, write_safely


def test_the_store_lives_in_the_users_data_folder():
    """As the system names it (platformdirs), when nothing else is said."""
    assert default_path({}) == platformdirs.user_data_path("lone-east", appauthor=False) / "lone-east.sqlite"
    assert default_path({FOLDER_VARIABLE: "  "}) == default_path({})


def test_another_folder_can_be_named(tmp_path, monkeypatch):
    """For a copy on a stick, and for tests; nothing is made by asking."""
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path / "stick"))
    assert default_path() == tmp_path / "stick" / "lone-east.sqlite"
    assert default_path({FOLDER_VARIABLE: "here"}) == Path("here/lone-east.sqlite")
    assert list(tmp_path.iterdir()) == []


def test_a_file_is_written_whole_and_over_an_old_one(tmp_path):
    """No other file is left beside it, and others may read it."""
    target = tmp_path / "deal.txt"
    for text in ("first 東\n", "second\n"):
        write_safely(target, text)
        assert target.read_bytes() == text.encode()
    assert list(tmp_path.iterdir()) == [target]
    assert target.stat().st_mode & 0o444 == 0o444


def test_a_file_that_cannot_be_put_in_place_leaves_the_old_state(tmp_path):
    """A folder of that name stays, and what was written aside is gone."""
    target = tmp_path / "deal.txt"
    target.mkdir()
    with pytest.raises(OSError, match=r"deal\.txt"):
        write_safely(target, "text")
    assert list(tmp_path.iterdir()) == [target]
    with pytest.raises(OSError, match="nowhere"):
        write_safely(tmp_path / "nowhere" / "deal.txt", "text")


def test_a_folder_that_cannot_be_synced_is_no_fault(tmp_path):
    """Some systems have no such step."""
    sync_folder(tmp_path)
    sync_folder(tmp_path / "nowhere")
