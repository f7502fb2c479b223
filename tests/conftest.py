"""Lets tests import the slow twins and harnesses that lie in the folders of tests, and sets the runs up.

Pytest's importlib mode adds no folder to the path.
"""

import gc
import os
import sys
from pathlib import Path

import pytest
from hypothesis import settings

HELPERS = (
    "",
    "engine/rules",
    "engine/rules/games",
    "engine/rules/said",
    "engine/rules/twists",
    "engine/sheet",
    "engine/sheet/writing",
    "engine/advice",
    "engine/advice/endgame",
    "engine/advice/rollout",
    "engine/seats",
    "engine/store",
    "engine/drills",
    "game",
    "game/commands",
    "game/scenes",
    "game/scenes/editor",
    "game/scenes/sheet",
    "game/scenes/table",
    "game/window",
)
NEEDED = ("window", "kill")
"""Marks of tests that must not be skipped where a change is judged, since nothing else sees what they see."""

sys.path[:0] = [str(Path(__file__).parent / folder) for folder in HELPERS]

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # the tests themselves are spread over the cores

settings.register_profile("usual", deadline=None, max_examples=50)
settings.register_profile("deep", deadline=None)
settings.load_profile("deep" if os.environ.get("LONE_EAST_DEEP") == "1" else "usual")


def pytest_collection_finish():
    """What is loaded by now stays loaded: looking for garbage need not go through it again and again, nor so often."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(10_000, 20, 20)


@pytest.hookimpl(hookwrapper=True)
def pytest_runtest_makereport(item):
    """With CI=true a skipped window or kill test counts as failed, with the reason for which it was skipped."""
    report = (yield).get_result()
    if report.skipped and os.environ.get("CI") == "true" and any(item.get_closest_marker(mark) for mark in NEEDED):
        report.outcome = "failed"
        report.longrepr = f"{item.nodeid} must not be skipped here: {report.longrepr[-1]}"
