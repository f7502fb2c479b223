"""The command line as its tests run it: in this process, or in one of its own."""

import io
import os
import subprocess
import sys

import pytest
from command_kit import DISPLAYS

from game.command_line import main


@pytest.fixture
def environment(tmp_path):
    """No display, a data folder of the test's own, and the modules found where this test finds them."""
    clean = {name: value for name, value in os.environ.items() if name not in DISPLAYS}
    return {**clean, "LONE_EAST_DATA": str(tmp_path / "data"), "PYTHONPATH": os.pathsep.join(filter(None, sys.path))}


@pytest.fixture
def lone_east(environment, monkeypatch, capsys):
    """Runs the command in this process, with the environment and the input that one of its own would have."""

    def run(*arguments, typed="", **more):
        with monkeypatch.context() as here:
            for name in DISPLAYS:
                here.delenv(name, raising=False)
            for name, value in {**environment, **more}.items():
                here.setenv(name, value)
            here.setattr("sys.stdin", io.StringIO(typed))
            status = main(arguments)
        said = capsys.readouterr()
        return subprocess.CompletedProcess(arguments, status, said.out, said.err)

    return run


@pytest.fixture
def started(environment):
    """Runs the command in a process of its own, for what only a start shows."""

    def run(*arguments, typed="", **more):
        return subprocess.run(
            [sys.executable, "-m", "game", *arguments],
            input=typed,
            capture_output=True,
            encoding="utf-8",
            env={**environment, **more},
            timeout=120,
            check=False,
        )

    return run
