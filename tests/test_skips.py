"""Where a change is judged, a window or kill test that would be skipped counts as failed; elsewhere it may be."""

import os
import re
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
@pytest.mark.parametrize(("judged", "failed"), [("true", {"window", "kill"}), ("", set())])
def test_what_must_run_is_not_skipped(judged, failed, tmp_path):
    """With CI=true the run fails and says why a window or kill test was skipped; all else may be."""
    shutil.copy(Path(__file__).with_name("conftest.py"), tmp_path)
    (tmp_path / "pytest.ini").write_text("[pytest]\n", encoding="utf-8")
    for mark in ("window", "kill", "slow"):
        (tmp_path / f"test_{mark}.py").write_text(TESTS.format(mark=mark), encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-p", "no:cacheprovider", "-rA"],
        cwd=tmp_path, env={**os.environ, "CI": judged, "PYTEST_ADDOPTS": ""},  # the run within asks for all its tests
        capture_output=True, encoding="utf-8", check=False,
    )  # fmt: skip
    assert done.returncode == bool(failed), done.stdout
    assert set(re.findall(r"^(?:FAILED|ERROR) test_(\w+)\.py", done.stdout, re.M)) == failed
    assert not failed or "no screen here" in done.stdout
