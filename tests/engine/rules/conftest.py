"""The tests of the rules share one kit: a sheet of their own, racks, and games in a few words."""

from kit import kit

__all__ = ["kit"]
