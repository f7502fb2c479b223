"""Killed at any moment, the store holds exactly what it had said to be kept, or one action more, and can go on."""

import os
import random
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from depth import deep

from engine.rules.actions import Discard
from engine.store.store import Store

pytestmark = pytest.mark.kill

PLAY = """
ACTIONS = 8

def played(store, tell):
    store.add_sheet(sheet)
    line = store.last_line() or store.start_line(header)
    for number in range(store.line(line).entries, ACTIONS):
        store.append(line, 0, Discard(number % 34))
        tell(number + 1)
"""

TRIES = """
def try_all(run, prepare, check, kills):
    '''Fork a process for each way of being killed, let it run, and check what it left against what it told.'''
    for kill in kills:
        prepare()
        reading, writing = os.pipe()
        process = os.fork()
        if process == 0:
            code = 3
            try:
                kill()
                run(lambda number: os.write(writing, bytes([number])))
                code = 0
            finally:
                os._exit(code)
        os.close(writing)
        told = os.fdopen(reading, "rb").read()
        _, status = os.waitpid(process, 0)
        if not os.WIFSIGNALED(status):
            assert os.WEXITSTATUS(status) == 0, "the run failed by itself"
        check(told[-1] if told else 0)
        if not os.WIFSIGNALED(status):
            return  # it ran through: there are no more places to kill it at

def clear():
    shutil.rmtree(path.parent, ignore_errors=True)

def check_play(told):
    with Store(path) as store:
        assert store.trouble is None, store.trouble
        line = store.last_line()
        entries = [] if line is None else list(store.record(line).entries)
        assert entries == [(0, Discard(number % 34)) for number in range(len(entries))]
        assert len(entries) in (told, told + 1), (told, len(entries))
        played(store, lambda number: None)
        assert len(store.record(store.last_line()).entries) == ACTIONS
    print(told)
"""


def told(process, seconds=300):
    """What a child printed as whole numbers; it must have ended well."""
    out, complaints = process.communicate(timeout=seconds)
    assert process.returncode == 0, complaints
    return [int(line) for line in out.split()]


@pytest.fixture(scope="session")
def killer(tmp_path_factory):
    """The library that kills at a system call, built here; the test is skipped where it can't be."""
    compiler = shutil.which("cc") or shutil.which("gcc")
    if sys.platform != "linux" or compiler is None:
        pytest.skip("needs Linux and a C compiler")
    library = tmp_path_factory.mktemp("killer") / "kill_at.so"
    source = Path(__file__).with_name("kill_at.c")
    subprocess.run([compiler, "-shared", "-fPIC", "-O1", "-o", library, source, "-ldl"], check=True)
    return {"LD_PRELOAD": str(library)}


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")
@pytest.mark.parametrize("when", ["before", "after"])
@pytest.mark.slow
def test_a_kill_at_any_statement_loses_nothing(child, path, when):
    """Before and after each single SQL statement, from the first one of a new file on."""
    process = child(
        PLAY
        + TRIES
        + """
import shutil, sqlite3
from engine.store import schema

left = [0]

class Killing(sqlite3.Connection):
    def execute(self, *arguments):
        left[0] -= 1
        if left[0] == 0 and sys.argv[2] == "before":
            os.kill(os.getpid(), signal.SIGKILL)
        result = super().execute(*arguments)
        if left[0] == 0:
            os.kill(os.getpid(), signal.SIGKILL)
        return result

def arm(number):
    def kill():
        left[0] = number
        connect = sqlite3.connect
        schema.sqlite3.connect = lambda *names, **more: connect(*names, factory=Killing, **more)
    return kill

def run(tell):
    with Store(path) as store:
        played(store, tell)

try_all(run, clear, check_play, (arm(number) for number in range(1, 2000)))
""",
        path,
        when,
    )
    kept = told(process)
    assert len(kept) > 60  # statements of a new file and of 8 actions
    assert (kept[0], kept[-1]) == (0, 8)
    assert set(kept) == set(range(9))


@pytest.mark.parametrize("part", ["none", "half"])
@pytest.mark.slow
def test_a_kill_at_any_write_loses_nothing(child, path, killer, part):
    """At each call of the system that changes a file, the write itself undone or half done."""
    process = child(
        PLAY
        + TRIES
        + """
import ctypes, shutil
library = ctypes.CDLL(None)

def arm(number):
    return lambda: library.kill_at(number, int(sys.argv[2] == "half"))

def run(tell):
    with Store(path) as store:
        played(store, tell)

try_all(run, clear, check_play, (arm(number) for number in range(1, 2000)))
""",
        path,
        part,
        environment=killer,
    )
    kept = told(process)
    assert len(kept) > 60
    assert (kept[0], kept[-1]) == (0, 8)
    assert set(kept) == set(range(9))


@pytest.mark.slow
def test_each_action_is_synced_before_it_is_said_to_be_kept(child, path, killer):
    """Every action waits for the disk once at least, so the kept ones outlive a crash of the system too."""
    process = child(
        """
import ctypes
library = ctypes.CDLL(None)
with Store(path) as store:
    store.add_sheet(sheet)
    line = store.start_line(header)
    for number in range(20):
        library.kill_at(0, 0)
        store.append(line, 0, Discard(number))
        print(library.syncs_made())
""",
        path,
        environment=killer,
    )
    syncs = told(process)
    assert len(syncs) == 20
    assert min(syncs) >= 1


@pytest.mark.slow
def test_a_kill_at_any_write_of_a_rescue_loses_nothing(child, path, killer):
    """The swap of a damaged file for a fresh one is taken up by the next start, wherever it was interrupted: at
    every second write, or where all are asked for at each."""
    process = child(
        TRIES
        + """
import ctypes, random, shutil
library = ctypes.CDLL(None)
with Store(path) as store:
    store.add_sheet(sheet)
    for _ in range(14):
        line = store.start_line(header)
        store.append(line, 0, Discard(1))
content = bytearray(path.read_bytes())
content[-4096:] = random.Random(1).randbytes(4096)
damaged = bytes(content)

def prepare():
    clear()
    path.parent.mkdir()
    path.write_bytes(damaged)

def run(tell):
    Store(path).close()

def check(told):
    with Store(path) as store:
        store.set("after", 1)
        left = len(store.lines())
        assert store.saving
    asides = [part for part in path.parent.iterdir() if ".damaged-" in part.name]
    assert damaged in [part.read_bytes() for part in asides], asides
    assert not [part for part in path.parent.iterdir() if "rescu" in part.name]
    print(left)

try_all(run, prepare, check, (lambda n=n: library.kill_at(n, n // STEP % 2) for n in range(1, 3000, STEP)))
""".replace("STEP", str(deep(2, 1))),
        path,
        environment={**killer, "TMPDIR": str(path.parent.parent)},
    )
    left = told(process, seconds=1200)
    assert len(left) > 30
    assert len(set(left)) == 1
    assert left[0] >= 6


@pytest.mark.slow
def test_kills_at_random_moments_lose_nothing(child, path):
    """One deal is played through many violent ends, each start going on where the last one was killed."""
    code = (
        PLAY
        + """
with Store(path) as store:
    played(store, lambda number: print(number, flush=True))
    print("end", flush=True)
    sys.stdin.read()
"""
    )
    lot = random.Random(5)
    kept = 0
    for _ in range(6):
        process = child(code, path)
        wanted = lot.randint(1, 5)
        lines = []
        for line in process.stdout:
            lines.append(line)
            if len(lines) >= wanted or line == "end\n":
                break
        process.kill()
        lines += process.stdout.readlines()
        numbers = [int(line) for line in lines if line.endswith("\n") and line != "end\n"]
        assert numbers == list(range(kept + 1, kept + 1 + len(numbers)))
        kept = numbers[-1] if numbers else kept
        with Store(path) as store:
            entries = store.record(store.last_line()).entries
            assert store.trouble is None
            assert len(entries) in (kept, kept + 1)
            assert list(entries) == [(0, Discard(number % 34)) for number in range(len(entries))]
            kept = len(entries)
        if kept == 8:
            path.unlink()
            kept = 0


@pytest.mark.slow
def test_a_log_torn_anywhere_gives_a_whole_beginning(path, sheet, header, tmp_path):
    """After a crash of the system the log may end anywhere: the actions up to there are there, and no half of one."""
    with Store(path) as store:
        store.add_sheet(sheet)
        line = store.start_line(header())
        for number in range(12):
            store.append(line, 0, Discard(number))
        file, log = path.read_bytes(), path.with_name(path.name + "-wal").read_bytes()
    lengths = sorted({0, 1, 31, 32, *random.Random(2).sample(range(len(log)), 60), len(log)})
    found = []
    for length in lengths:
        torn = tmp_path / f"torn{length}" / "lone-east.sqlite"
        torn.parent.mkdir()
        torn.write_bytes(file)
        torn.with_name(torn.name + "-wal").write_bytes(log[:length])
        with Store(torn) as store:
            assert store.trouble is None
            resumed = store.last_line()
            entries = () if resumed is None else store.record(resumed).entries
            assert list(entries) == [(0, Discard(number)) for number in range(len(entries))]
            found.append(len(entries))
    assert found == sorted(found)
    assert (found[0], found[-1]) == (0, 12)
