"""Where a change is judged, a window or kill test that would be skipped counts as failed; elsewhere it may be."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

TESTS = """
import pytest

@pytest.mark.{mark}
@pytest.mark.skipif(True, reason="no screen here")
def test_something():
    '''Never runs.'''
"""


@pytest.mark.slow
@pytest.mark.parametrize(("mark", "judged", "ends"), [("window", "true", 1), ("kill", "true", 1), ("slow", "true", 0),
                                                     ("window", "", 0)])  # fmt: skip
def test_what_must_run_is_not_skipped(mark, judged, ends, tmp_path):
    """With CI=true the run fails and says why the test was skipped."""
    shutil.copy(Path(__file__).with_name("conftest.py"), tmp_path)
    (tmp_path / "pytest.ini").write_text("[pytest]\n", encoding="utf-8")
    (tmp_path / "test_one.py").write_text(TESTS.format(mark=mark), encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-p", "no:cacheprovider", "test_one.py"],
        cwd=tmp_path, env={**os.environ, "CI": judged, "PYTEST_ADDOPTS": ""},  # the run within asks for all its tests
        capture_output=True, encoding="utf-8", check=False,
    )  # fmt: skip
    assert done.returncode == ends, done.stdout
    assert not ends or "no screen here" in done.stdout
