"""How deep tests by lot go: as far as every change is judged by, or with LONE_EAST_DEEP=1 as far as they ever went."""

import os


def deep(usual: int, thorough: int) -> int:
    """How many examples, seeds or games: the first number, or the second where LONE_EAST_DEEP=1 asks for all."""
    return thorough if os.environ.get("LONE_EAST_DEEP") == "1" else usual
