"""Rehearsing the passes: setting up, playing, result."""
