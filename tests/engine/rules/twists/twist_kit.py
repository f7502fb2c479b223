"""What the tests of the twists share: tiles by their codes."""

from engine.tiles import counts_of, parse_tiles


def tiles(text):
    """36 counts of written tiles."""
    return counts_of(parse_tiles(text))
