"""Sentences about a game are tested with the rules' own kit."""

from kit import kit

__all__ = ["kit"]
