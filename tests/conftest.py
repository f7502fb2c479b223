"""Lets tests import the slow twins and harnesses that lie in the folders of tests, and sets Hypothesis up.

Pytest's importlib mode adds no folder to the path.
"""

import sys
from pathlib import Path

from hypothesis import settings

HELPERS = (
    "",
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

settings.register_profile("without a clock", deadline=None)
settings.load_profile("without a clock")
