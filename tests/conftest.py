"""Lets tests import the slow twins and harnesses that lie in the folders of tests.

Pytest's importlib mode adds no folder to the path.
"""

import sys
from pathlib import Path

HELPERS = (
    "engine/rules",
    "engine/sheet",
    "engine/advice",
    "engine/advice/rollout",
    "engine/seats",
    "game",
    "game/scenes",
    "game/window",
)

sys.path[:0] = [str(Path(__file__).parent / folder) for folder in HELPERS]
