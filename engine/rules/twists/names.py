"""The names of the twists, as deal codes, records and the store write them."""

TWISTS = (
    "mirror",
    "step",
    "winds",
    "dragons",
    "petals",
    "proud",
    "ten",
    "rare",
    "flowers",
    "quick",
    "open",
    "closed",
    "slow",
    "large",
    "glue",
    "left",
)
"""A deal code names a twist by its place here. Add new ones at the end, or old codes would deal another twist."""
