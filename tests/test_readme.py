"""The README tells the truth: its sheet reads, its commands print what it shows, its pictures are there and small."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from engine.drills.lesson.reader import read_lesson
from engine.sheet.reader import read
from engine.sheet.shelf import find, shipped

README = Path(__file__).parents[1] / "README.md"
pytestmark = pytest.mark.skipif(not README.exists(), reason="the README is not beside the tests")


@pytest.fixture(scope="module")
def text():
    """The README."""
    return README.read_text(encoding="utf-8")


def test_the_sheet_shown_can_be_read(text):
    """The example of the notation has no fault."""
    example = re.search(r"```yaml\n(.*?)```", text, re.DOTALL)[1]
    reading = read(example)
    assert reading.faults == ()
    assert all(hand.variants for hand in reading.sheet.hands)


def test_the_lesson_shown_can_be_read(text):
    """The example of a lesson has no fault."""
    example = re.findall(r"```yaml\n(.*?)```", text, re.DOTALL)[1]
    reading = read_lesson(example, [find(stem) for stem in shipped()])
    assert reading.faults == ()
    assert len(reading.lesson.steps) == 4


@pytest.mark.slow
def test_commands_print_what_is_shown(text, tmp_path):
    """Every line shown under a `$ lone-east` line is printed by it, in that order; … stands for the rest."""
    shown = re.findall(r"```\n\$ lone-east (.*?)\n(.*?)```", text, re.DOTALL)
    assert len(shown) >= 2
    for command, output in shown:
        words = [quoted or plain for quoted, plain in re.findall(r'"([^"]*)"|(\S+)', command)]
        done = subprocess.run(
            [sys.executable, "-m", "game", *words],
            capture_output=True,
            encoding="utf-8",
            cwd=tmp_path,
            env={**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))},
            check=True,
        )
        expected = output.rstrip().removesuffix("…").rstrip()
        assert done.stdout.startswith(expected), command


def test_pictures_are_there_and_small(text):
    """Each picture shown is a file of the project under 150 KB, and all together are under 500 KB."""
    sizes = [README.parent.joinpath(name).stat().st_size for name in re.findall(r"!\[[^]]*]\(([^)]+)\)", text)]
    assert sizes
    assert max(sizes) < 150_000
    assert sum(sizes) < 500_000
