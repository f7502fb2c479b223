"""Points from rarity: one ladder for every sheet of ours."""

from __future__ import annotations

LOWEST = 10
"""Points of a hand made often."""
STEP = 3
"""Points more for each step that a hand is rarer, and the steps that a concealed hand is raised by."""
CONCEALED = 3
"""Steps that a concealed hand is raised by."""
HIGHEST = 58
"""No hand scores more."""
OFTEN = 3
"""A hand made three times as often as the average of its sheet, or oftener, is on the lowest step."""
_RARER = (3, 4)
"""Each step is three quarters as often as the step before."""


def points(made: int, of: int, hands: int, concealed: bool) -> int:
    """The points of a hand made `made` times of `of` hands made, on a sheet of so many hands.

    The steps are counted in whole numbers, so that they come out the same everywhere. Raises ValueError where nothing
    was made at all.
    """
    if of <= 0:
        raise ValueError("no hand was made, so that nothing can be said about how rare this one is")
    few, many = _RARER
    most = (HIGHEST - LOWEST) // STEP
    steps = 0
    while steps < most and made * hands * many ** (steps + 1) < OFTEN * of * few ** (steps + 1):
        steps += 1
    return min(LOWEST + STEP * (steps + (CONCEALED if concealed else 0)), HIGHEST)
