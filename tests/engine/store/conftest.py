"""Deals for the tests of the store: a shipped sheet, seeded walls, and legal play by lot."""

import os
import random
import shutil
import subprocess
import sys
import tempfile
import textwrap
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from engine.rules.deal import DealCode
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import House
from engine.rules.record import Header, Record
from engine.sheet.shelf import find
from engine.store.store import Store


class Clock:
    """A clock that goes on by a second whenever it is read."""

    def __init__(self):
        self.moment = datetime(2026, 1, 31, 12, 0, 0, tzinfo=UTC)

    def __call__(self):
        self.moment += timedelta(seconds=1)
        return self.moment


@pytest.fixture(scope="session")
def sheet():
    """A whole sheet."""
    return find("first-steps")


@pytest.fixture(scope="session")
def quick_folder(tmp_path_factory):
    """Makes folders in memory where there is such a place: thousands of syncs to a disk would take minutes."""
    memory = Path("/dev/shm")
    within = memory if os.access(memory, os.W_OK) else tmp_path_factory.getbasetemp()
    top = Path(tempfile.mkdtemp(prefix="lone-east-", dir=within))
    yield lambda: Path(tempfile.mkdtemp(dir=top))
    shutil.rmtree(top, ignore_errors=True)


@pytest.fixture
def path(quick_folder):
    """Where the store's file goes."""
    return quick_folder() / "kept" / "lone-east.sqlite"


@pytest.fixture
def clock():
    """A clock of the test's own."""
    return Clock()


@pytest.fixture
def store(path, sheet, clock):
    """An open store that knows the sheet."""
    with Store(path, clock) as opened:
        opened.add_sheet(sheet)
        yield opened


@pytest.fixture(scope="session")
def header(sheet):
    """Makes the header of a seeded deal."""

    def make(seed=1, house=None, sections=None):
        house = house or House()
        played_on = sheet if sections is None else sheet.cut(sections)
        code = DealCode.of(played_on, house, seed)
        return Header.of(played_on, house, code.wall(), str(code))

    return make


@pytest.fixture(scope="session")
def played(sheet, header):
    """Makes a record of legal play by lot, of so many entries at most."""

    def make(seed=1, entries=40, house=None):
        record = Record(header(seed, house))
        state, lot = start(sheet, record.header.house, record.header.wall), random.Random(seed)
        while len(record.entries) < entries and state.outcome is None:
            actor = state.to_act
            action = lot.choice(legal_actions(state))
            record = record.plus(actor, action)
            state = apply(state, action)
        return record

    return make


@pytest.fixture(scope="session")
def keep():
    """Plays a record into a store; the line."""

    def into(opened, record, **more):
        line = opened.start_line(record.header, **more)
        for seat, action in record.entries:
            opened.append(line, seat, action)
        return line

    return into


CHILD_STARTS = """
import os, signal, sys
from pathlib import Path
from engine.store.store import Store
from engine.rules.actions import Discard
from engine.rules.deal import DealCode
from engine.rules.house import House
from engine.rules.record import Header
from engine.sheet.shelf import find

path = Path(sys.argv[1])
sheet = find("first-steps")
code = DealCode.of(sheet, House(), 1)
header = Header.of(sheet, House(), code.wall(), str(code))
"""


@pytest.fixture
def child(tmp_path):
    """Starts another program that uses the store (`path` is its first argument): a Popen with text pipes."""
    begun = []

    def begin(code, path, *arguments, before=(), environment=None):
        script = tmp_path / f"child{len(begun)}.py"
        script.write_text(CHILD_STARTS + textwrap.dedent(code), encoding="utf-8")
        process = subprocess.Popen(
            [*before, sys.executable, str(script), str(path), *map(str, arguments)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path), **(environment or {})},
        )
        begun.append(process)
        return process

    yield begin
    for process in begun:
        if process.poll() is None:
            process.kill()
        process.communicate()
