"""DEVELOPERS.md is true to the tree: every file, folder and name that it speaks of is there."""

import importlib
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PAGE = ROOT / "DEVELOPERS.md"
pytestmark = pytest.mark.skipif(
    not (PAGE.exists() and (ROOT / "engine").exists()), reason="the checkout is not beside the tests"
)


@pytest.fixture(scope="module")
def text():
    """The page."""
    return PAGE.read_text(encoding="utf-8")


def test_files_and_folders_are_there(text):
    """Those in the drawing of the house, and those named in the text by their whole path or its end."""
    tops = [ROOT / top for top in ("engine", "game", "sheets", "assets", "bundle", "tests")]
    files = [path for top in tops for path in (top, *top.rglob("*"))]
    there = {f"/{path.relative_to(ROOT)}{'/' * path.is_dir()}" for path in files}
    drawing = re.search(r"## The house\n\n```\n(.*?)```", text, re.DOTALL)[1]
    named = re.findall(r"[\w/]+/(?= |$)|\w+\.py", drawing, re.M)
    named += re.findall(r"`([\w./-]+\.(?:py|txt|md)|[\w./-]+/)`", text)
    assert len(named) > 100
    missing = {name for name in named if not any(path.endswith(f"/{name}") for path in there)}
    assert missing - {"sheets/NAME.yaml"} == set()


def test_names_can_be_imported(text):
    """Modules, classes and functions that are named with dots."""
    named = set(re.findall(r"`((?:engine|game)\.[\w.]+)`", text))
    assert named
    for name in named:
        module, _, member = name.rpartition(".")
        found = importlib.import_module(module)
        assert hasattr(found, member) or importlib.import_module(name), name
