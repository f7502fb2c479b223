"""A game is killed at every single write of its store: each time it goes on at the same choice, or at the next one."""

import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

pytestmark = pytest.mark.kill

SOURCE = Path(__file__).parents[2] / "engine" / "store" / "kill_at.c"

GAME = """
import ctypes, os, shutil, sys
from pathlib import Path
from engine.store.store import Store
from engine.rules.actions import Discard
from engine.rules.deal import DealCode
from engine.rules.house import House
from engine.sheet.shelf import find
from game.play.lines import begin, line_of, resume
from engine.store.endings import GameEnd
from game.play.sitting import Sitting

path, library = Path(sys.argv[1]), ctypes.CDLL(None)
sheet = find("first-steps")
code = DealCode.of(sheet, House(picks=3), 8)


def choose(sitting):
    '''Each choice is another place of the rack, so that no two games are alike by chance.'''
    rack = sitting.observation.rack
    return Discard(rack[len(sitting.decisions) * 5 % len(rack)])


whole = Sitting(code.deal(sheet))
while not whole.over:
    whole.act(choose(whole))
ENTRIES = [(entry.seat, entry.action) for entry in whole.entries]


def play(tell):
    '''Begin or go on, to the end; after each choice tell how many entries must be kept.'''
    with Store(path) as store:
        line = store.last_line("game")
        sitting = begin(store, sheet, code) if line is None else resume(store, line)
        tell(len(sitting.entries))
        while not sitting.over:
            sitting.act(choose(sitting))
            tell(len(sitting.entries))


def check(told):
    '''What was told is kept, at most one step more, whole; the end comes with the last entry; then play to the end.'''
    with Store(path) as store:
        assert store.trouble is None, store.trouble
        lines = store.lines()
        finished = any(line.finished for line in lines)
        if not lines:
            assert told == 0
        else:
            (line,) = lines
            kept = list(store.record(line.id).entries)
            assert kept == ENTRIES[: len(kept)]
            assert told <= len(kept) <= told + 2, (told, len(kept))  # a step is a choice and the draw after it
            assert line.finished == (len(kept) == len(ENTRIES))
            if not line.finished:
                sitting = resume(store, line.id)
                assert sitting.states == whole.states[: len(sitting.states)]
                assert len(sitting.entries) - len(kept) in (0, 1), "at most the draw that was due"
                assert sitting.state.to_act == sitting.player
    if not finished:
        play(lambda number: None)
    with Store(path) as store:
        (line,) = store.lines()
        assert list(store.record(line.id).entries) == ENTRIES
        assert line.ending == GameEnd.of(whole.state)


for number in range(1, 3000):
    shutil.rmtree(path.parent, ignore_errors=True)
    reading, writing = os.pipe()
    process = os.fork()
    if process == 0:
        code_of_end = 3
        try:
            library.kill_at(number, number % 2)
            play(lambda entries: os.write(writing, bytes([entries])))
            code_of_end = 0
        finally:
            os._exit(code_of_end)
    os.close(writing)
    with os.fdopen(reading, "rb") as pipe:
        told = pipe.read()
    _, status = os.waitpid(process, 0)
    killed = os.WIFSIGNALED(status)
    assert killed or os.WEXITSTATUS(status) == 0, "the game failed by itself"
    check(told[-1] if told else 0)
    if not killed:
        break  # it was played to the end: there are no more writes to kill it at
    print(told[-1] if told else 0)
"""


@pytest.fixture(scope="module")
def killer(tmp_path_factory):
    """The library that kills at a call of the system, built here; the test is skipped where it can't be."""
    compiler = shutil.which("cc") or shutil.which("gcc")
    if not sys.platform.startswith("linux") or compiler is None:
        pytest.skip("needs Linux and a C compiler")
    library = tmp_path_factory.mktemp("killer") / "kill_at.so"
    subprocess.run([compiler, "-shared", "-fPIC", "-O1", "-o", library, SOURCE, "-ldl"], check=True)
    return library


@pytest.mark.slow
def test_a_game_killed_at_any_write_goes_on(killer, tmp_path):
    """The write undone or half done in turn, from the creation of the file to the end of the game."""
    script = tmp_path / "game_to_kill.py"
    script.write_text(GAME, encoding="utf-8")
    memory = Path("/dev/shm")  # where there is such a folder in memory, since hundreds of games sync often
    folder = tempfile.mkdtemp(prefix="lone-east-", dir=memory if os.access(memory, os.W_OK) else tmp_path)
    try:
        done = subprocess.run(
            [sys.executable, script, Path(folder) / "kept" / "lone-east.sqlite"],
            env={**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path)), "LD_PRELOAD": str(killer)},
            capture_output=True, encoding="utf-8", timeout=300, check=False,
        )  # fmt: skip
    finally:
        shutil.rmtree(folder, ignore_errors=True)
    assert done.returncode == 0, done.stderr[-3000:]
    told = [int(line) for line in done.stdout.split()]
    assert len(told) > 60, "so many writes a game has at the least"
    assert told == sorted(told)
    assert set(told) == {0, 2, 4, 6, 7}, "killed before the first choice, after each, and after the last"
