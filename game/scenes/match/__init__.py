"""A match: setting up, playing, result."""
