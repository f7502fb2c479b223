"""The build without Python: its settings name what the program loads late, and its icon is drawn. Nothing is built."""

import importlib.util
from itertools import pairwise
from pathlib import Path

import pytest

from game.command_line import COMMANDS

BUILD = Path(__file__).parents[1] / "bundle" / "build.py"
pytestmark = pytest.mark.skipif(not BUILD.exists(), reason="the build's script is not beside the tests")


@pytest.fixture(scope="module")
def build():
    """The script as a module."""
    spec = importlib.util.spec_from_file_location("bundle_build", BUILD)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("system", ["linux", "win32", "darwin"])
def test_every_command_and_every_sheet_is_taken_along(build, system, tmp_path):
    """Commands are loaded by name and sheets are data, so PyInstaller must be told of both."""
    given = build.settings(tmp_path, tmp_path, tmp_path / "icon.png", system)
    told = [value for option, value in pairwise(given) if option == "--hidden-import"]
    assert {f"game.commands.{name}" for name in COMMANDS} <= set(told)
    data = [value for option, value in pairwise(given) if option == "--collect-data"]
    assert {"sheets", "assets", "fontpkg_atkinson_hyperlegible"} <= set(data)
    assert ("--windowed" in given) is (system == "darwin")
    assert ("--hide-console" in given) is (system == "win32")


def test_what_was_built_sees_nothing_of_this_python(build, monkeypatch):
    """The environment in which it is tried has no Python path and no environment of anybody's."""
    monkeypatch.setenv("PYTHONPATH", "/somewhere")
    monkeypatch.setenv("VIRTUAL_ENV", "/somewhere")
    assert not {"PYTHONPATH", "VIRTUAL_ENV", "PYTHONHOME"} & set(build.bare())
    assert build.bare()["PATH"] == "/usr/bin:/bin"
