"""Lets the tests of commands use the broken sheets of the reader's tests."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2] / "engine" / "sheet"))
