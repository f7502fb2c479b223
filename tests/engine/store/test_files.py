"""Where the store lives, and writing files whole."""

import os
import stat
from pathlib import Path

import platformdirs
import pytest

from engine.store.files import FOLDER_VARIABLE, default_path, sync_folder, write_safely
from engine.store.store import Store


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


def test_a_link_is_followed_and_the_files_mode_stays(tmp_path):
    """The link is still one, and what only its owner may read is still so; a new file is as the system makes it."""
    target, link = tmp_path / "real" / "deal.txt", tmp_path / "link.txt"
    target.parent.mkdir()
    target.write_text("old")
    target.chmod(0o640)
    link.symlink_to(target)
    write_safely(link, "new")
    assert link.is_symlink()
    assert target.read_text() == "new"
    assert target.stat().st_mode & 0o777 == 0o640
    assert list(target.parent.iterdir()) == [target]
    before = os.umask(0o027)
    try:
        write_safely(tmp_path / "fresh.txt", "text")
    finally:
        os.umask(before)
    assert (tmp_path / "fresh.txt").stat().st_mode & 0o777 == 0o640


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs named pipes")
def test_what_is_no_plain_file_is_refused(tmp_path):
    """A pipe or a device is neither replaced nor written to, not by way of a link either."""
    pipe, link = tmp_path / "pipe", tmp_path / "link"
    os.mkfifo(pipe)
    link.symlink_to(pipe)
    for path in (pipe, link, Path(os.devnull)):
        with pytest.raises(OSError, match="no plain file"):
            write_safely(path, "text")
    assert stat.S_ISFIFO(pipe.stat().st_mode)
    assert stat.S_ISCHR(Path(os.devnull).stat().st_mode)


@pytest.mark.skipif(os.name != "posix", reason="needs links that anyone may make")
def test_a_link_that_leads_back_to_itself_is_refused(tmp_path):
    """As a fault of the file's name, which the player is told, and the link stays."""
    link = tmp_path / "link"
    link.symlink_to(link)
    with pytest.raises(OSError, match="leads back to itself"):
        write_safely(link, "text")
    assert link.is_symlink()


@pytest.mark.skipif(os.name != "posix", reason="needs the modes of POSIX")
def test_the_store_is_private_to_its_user(tmp_path):
    """File and log 600, a folder that is made 700. An older file is taken from others, its folder stays."""
    path = tmp_path / "new" / "lone-east.sqlite"
    with Store(path) as store:
        store.set("a", 1)
        modes = {
            part.name.removeprefix("lone-east.sqlite"): part.stat().st_mode & 0o777 for part in path.parent.iterdir()
        }
        assert (modes[""], modes["-wal"]) == (0o600, 0o600)
    assert path.parent.stat().st_mode & 0o777 == 0o700
    path.chmod(0o644)
    path.parent.chmod(0o755)
    with Store(path) as store:
        assert store.get("a") == 1
        assert path.stat().st_mode & 0o777 == 0o600
    assert path.parent.stat().st_mode & 0o777 == 0o755


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
