"""Where nothing can be written the game goes on in memory, says so with what to do, and saves as soon as it can."""

import errno
import os
import shutil
import sqlite3
import subprocess
import sys

import pytest
from trouble_kit import answers, is_one_sentence

from engine.rules.actions import Discard
from engine.store import connection
from engine.store.store import Store
from engine.store.values import StoreError


def own_mounts():
    """The command that runs another one where it may mount what it likes, or () where that isn't allowed."""
    command = ("unshare", "--user", "--map-root-user", "--mount")
    allowed = sys.platform == "linux" and shutil.which("unshare") and shutil.which("mount")
    if (
        allowed
        and subprocess.run([*command, "mount", "-t", "tmpfs", "tmpfs", "/tmp"], capture_output=True).returncode == 0
    ):
        return command
    return ()


@pytest.fixture(scope="session")
def mounting():
    """That command; the test is skipped where there is none."""
    command = own_mounts()
    if not command:
        pytest.skip("needs Linux with user namespaces")
    return command


@pytest.mark.slow
def test_a_disk_that_fills_up_and_is_freed_again_loses_nothing(child, mounting, tmp_path):
    """On a real file system of 400 kB: play goes on while it is full, and all of it is on the disk afterwards."""
    small = tmp_path / "small"
    small.mkdir()
    process = child(
        """
        import subprocess
        subprocess.run(["mount", "-t", "tmpfs", "-o", "size=400k", "tmpfs", str(path.parent)], check=True)
        store = Store(path)
        store.add_sheet(sheet)
        line = store.start_line(header)
        ballast = path.with_name("ballast")
        count = 0

        def play(more):
            global count
            for _ in range(more):
                assert store.append(line, 0, Discard(count % 34)) == count + 1
                count += 1

        play(5)
        assert store.trouble is None
        with ballast.open("wb", buffering=0) as file:
            try:
                while file.write(bytes(1024)):
                    pass
            except OSError:
                pass
        play(40)
        print(store.trouble, store.saving)
        store.set("when full", 1)
        fork = store.fork(line, 3)
        store.append(fork, 0, Discard(33))
        assert len(store.record(line).entries) == count
        ballast.unlink()
        play(1)
        print(store.trouble, store.saving)
        play(4)
        store.close()
        with Store(path) as again:
            assert again.trouble is None
            assert [action for _, action in again.record(line).entries] == [Discard(n % 34) for n in range(50)]
            assert len(again.record(fork).entries) == 4
            assert again.get("when full") == 1
        print("whole")
        """,
        small / "lone-east.sqlite",
        before=mounting,
    )
    full, freed, end = answers(process)
    assert full.startswith("The disk is full, so the game goes on, but only in memory; free some space")
    assert full.endswith(" False")
    assert (freed, end) == ("None True", "whole")


@pytest.mark.slow
def test_a_read_only_disk_shows_what_is_kept_and_plays_on_in_memory(child, mounting, tmp_path):
    """Past deals can be read, a new one played; made writable again, all of it is saved with the next action."""
    process = child(
        """
        import subprocess
        subprocess.run(["mount", "-t", "tmpfs", "tmpfs", str(path.parent)], check=True)

        def make(how):
            subprocess.run(["mount", "-o", "remount," + how, str(path.parent)], check=True)

        with Store(path) as store:
            store.add_sheet(sheet)
            line = store.start_line(header)
            store.append(line, 0, Discard(1))
        make("ro")
        with Store(path) as store:
            print(store.trouble)
            assert not store.saving
            assert len(store.record(line).entries) == 1
            assert store.sheet_of(line) == sheet
            store.append(line, 0, Discard(2))
            other = store.start_line(header)
            make("rw")
            store.append(other, 0, Discard(3))
            print(store.trouble)
        make("ro")
        with Store(path) as store:
            print(len(store.record(line).entries), len(store.record(other).entries))
        """,
        tmp_path / "disk" / "lone-east.sqlite",
        before=mounting,
    )
    (tmp_path / "disk").mkdir()
    read_only, writable, kept = answers(process)
    assert "can't be written, so the game goes on, but only in memory; allow writing there" in read_only
    assert is_one_sentence(read_only)
    assert (writable, kept) == ("None", "2 1")


@pytest.mark.slow
def test_a_file_size_limit_is_met_like_a_failing_disk(child, tmp_path):
    """A write that the system refuses for another reason than a full disk; nothing that was said to be kept is lost."""
    pytest.importorskip("resource")
    process = child(
        """
        import resource
        with Store(path) as store:
            store.add_sheet(sheet)
            line = store.start_line(header)
            size = path.stat().st_size + path.with_name(path.name + "-wal").stat().st_size
            resource.setrlimit(resource.RLIMIT_FSIZE, (size + 20000, resource.RLIM_INFINITY))
            said = []
            for number in range(60):
                assert store.append(line, 0, Discard(number % 34)) == number + 1
                said.append(store.trouble)
            print(*{trouble for trouble in said if trouble})
            resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
        with Store(path) as store:
            print(store.trouble, len(store.record(line).entries))
        """,
        tmp_path / "lone-east.sqlite",
    )
    limited, again = answers(process)
    assert "so the game goes on, but only in memory" in limited
    assert again == "None 60"


def test_a_full_database_is_said_and_play_goes_on(store, header):
    """SQLite's own limit of pages gives the same answer as a full disk, in this process."""
    line = store.start_line(header())
    store._connection.read(lambda db: db.execute("PRAGMA max_page_count = 1"))
    for number in range(400):
        assert store.append(line, 0, Discard(number % 34)) == number + 1
    assert len(store.record(line).entries) == 400
    # The limit held for the first connection only: saving starts again by itself.
    assert (store.trouble, store.saving) == (None, True)


@pytest.mark.parametrize("where", ["a file for a folder", "a folder that can't be made"])
def test_a_folder_that_cannot_be_made_leaves_a_game_in_memory(tmp_path, sheet, header, where):
    """Nothing is raised, the sentence names the file, and once the way is free everything is saved."""
    blocker = tmp_path / "blocked"
    blocker.write_text("in the way")
    path = blocker / "lone-east.sqlite" if where == "a file for a folder" else blocker / "a" / "b" / "lone-east.sqlite"
    with Store(path) as store:
        assert str(path) in store.trouble
        assert is_one_sentence(store.trouble)
        store.add_sheet(sheet)
        line = store.start_line(header())
        store.append(line, 0, Discard(1))
        blocker.unlink()
        store.append(line, 0, Discard(2))
        assert store.trouble is None
    with Store(path) as store:
        assert len(store.record(line).entries) == 2


def test_a_file_that_another_program_holds_is_said_so(store, header):
    """While it is held play goes on in memory; let go, the actions are saved."""
    line = store.start_line(header())
    store._connection.read(lambda db: db.execute("PRAGMA busy_timeout = 50"))
    other = sqlite3.connect(store.path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    store.append(line, 0, Discard(1))
    assert store.trouble.startswith("Another program is holding")
    assert is_one_sentence(store.trouble)
    other.execute("ROLLBACK")
    other.close()
    store.append(line, 0, Discard(2))
    assert store.trouble is None
    assert len(store.record(line).entries) == 2


def test_what_another_program_wrote_meanwhile_is_never_overwritten(path, sheet, header):
    """If the file went on without us, ours stays in memory, and the sentence says how to keep it."""
    with Store(path) as first:
        first.add_sheet(sheet)
        line = first.start_line(header())
        first._connection.read(lambda db: db.execute("PRAGMA busy_timeout = 50"))
        other = sqlite3.connect(path, isolation_level=None)
        other.execute("BEGIN IMMEDIATE")
        first.append(line, 0, Discard(1))
        other.execute("ROLLBACK")
        other.close()
        with Store(path) as second:
            second.append(line, 0, Discard(9))
        first.append(line, 0, Discard(2))
        assert "another program has written" in first.trouble
        assert [action for _, action in first.record(line).entries] == [Discard(1), Discard(2)]
    with Store(path) as again:
        assert [action for _, action in again.record(line).entries] == [Discard(9)]


@pytest.mark.slow
def test_a_damaged_file_on_a_read_only_disk_is_read_and_left(child, mounting, tmp_path):
    """It can't be put aside there, but what can be read is shown, and the game goes on in memory."""
    process = child(
        """
        import random, subprocess
        subprocess.run(["mount", "-t", "tmpfs", "tmpfs", str(path.parent)], check=True)
        with Store(path) as store:
            store.add_sheet(sheet)
            for _ in range(30):
                line = store.start_line(header)
        content = bytearray(path.read_bytes())
        content[-4096:] = random.Random(1).randbytes(4096)
        path.write_bytes(content)
        subprocess.run(["mount", "-o", "remount,ro", str(path.parent)], check=True)
        with Store(path) as store:
            print(store.trouble)
            print(20 <= len(store.lines()) < 30)
            store.start_line(header)
            print(store.saving)
        print(path.read_bytes() == content)
        """,
        tmp_path / "disk" / "lone-east.sqlite",
        before=mounting,
    )
    (tmp_path / "disk").mkdir()
    trouble, some, saving, untouched = answers(process)
    assert "can't be written" in trouble
    assert is_one_sentence(trouble)
    assert (some, saving, untouched) == ("True", "False", "True")


def test_work_that_is_refused_changes_nothing(store, header):
    """An error inside of a transaction takes all of it back."""
    line = store.start_line(header())
    with pytest.raises(StoreError):
        store.add_record(store.record(line), notes=[(None, "fine"), (0, "")])
    assert len(store.lines()) == 1


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="whoever may do anything may write")
@pytest.mark.parametrize("what", ["file", "folder"])
def test_a_file_or_folder_that_may_not_be_written_is_said_at_once(path, sheet, header, what):
    """On opening, not only when the first action is lost; what is kept can be read."""
    with Store(path) as store:
        store.add_sheet(sheet)
        line = store.start_line(header())
    locked = path if what == "file" else path.parent
    locked.chmod(0o444 if what == "file" else 0o555)
    try:
        with Store(path) as store:
            assert "can't be written" in store.trouble
            assert store.append(line, 0, Discard(1)) == 1
            locked.chmod(0o755)
            assert store.append(line, 0, Discard(2)) == 2
            assert store.trouble is None
    finally:
        locked.chmod(0o755)


@pytest.mark.parametrize("name", ["a b#c?d%20é", "[x]*", "東"])
@pytest.mark.slow
def test_folders_with_odd_names_are_as_good_as_others(tmp_path, name):
    """Opening, opening again beside a log, and putting aside, whatever the characters of the name."""
    path = tmp_path / name / "lone-[e]ast?.sqlite"
    first = Store(path)
    first.set("a", 1)
    with Store(path) as second:
        assert (second.trouble, second.get("a")) == (None, 1)
    first.close()
    path.write_bytes(b"rubbish" * 1000)
    with Store(path) as store:
        assert "is kept as" in store.trouble
    assert len([part for part in path.parent.iterdir() if ".damaged-" in part.name]) == 1


@pytest.mark.slow
def test_what_was_saved_after_all_is_told_at_the_end(child, mounting, tmp_path):
    """The disk is full while playing: what is lost is told once it is closed, and only if it is lost."""
    process = child(
        """
        import subprocess
        subprocess.run(["mount", "-t", "tmpfs", "-o", "size=400k", "tmpfs", str(path.parent)], check=True)
        ballast = path.with_name("ballast")

        def play_on_a_full_disk(store, line):
            with ballast.open("wb", buffering=0) as file:
                try:
                    while file.write(bytes(1024)):
                        pass
                except OSError:
                    pass
            while store.saving:
                store.append(line, 0, Discard(1))
            return store.unsaved

        with Store(path) as store:
            store.add_sheet(sheet)
            line = store.start_line(header)
            print(play_on_a_full_disk(store, line))
            ballast.unlink()
        print(store.unsaved)
        """,
        tmp_path / "small" / "lone-east.sqlite",
        before=mounting,
    )
    (tmp_path / "small").mkdir()
    assert answers(process) == ["True", "False"]


def test_a_disk_that_is_full_on_opening_is_told(path, monkeypatch):
    """Making the file can fail before SQLite has said a word."""

    def full(*_, **__):
        raise OSError(errno.ENOSPC, "no room")

    monkeypatch.setattr(connection, "open_file", full)
    with Store(path) as store:
        assert store.trouble.startswith("The disk is full, so the game goes on, but only in memory")
