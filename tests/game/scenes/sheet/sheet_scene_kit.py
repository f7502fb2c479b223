"""What the tests of sheets on the screen share: a rack, a size, and the texts that are shown."""

from harness import drawn

from engine.tiles import parse_tiles

SIZE = (1440, 900)

RACK = parse_tiles("5d 5d 5d 6d 6d 7d 7d 2b 3b 3b fl fl jk we")

SIZES = range(1, 7)


def groups_of(hand):
    """Every (size, kind) of a group in any variant."""
    return {(group.size, group.kind) for variant in hand.variants for group in variant.groups}


def texts(scene):
    """All that is written on a scene, in one string."""
    return " ".join(one.text for one in drawn(scene, SIZE, 1.0))
