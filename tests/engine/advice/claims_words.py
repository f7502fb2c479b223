"""The words that claims are made of: numbers, tiles and names of hands, read back from a sentence."""

import re

from engine.tiles import NAMES
from engine.words import in_words

NUMBERS = {in_words(number): number for number in range(100)}
NUMBER = "(?:" + "|".join(sorted(NUMBERS, key=len, reverse=True)) + ")"
TILE = "(?:" + "|".join(sorted(NAMES, key=len, reverse=True)) + ")"
KIND = {name: kind for kind, name in enumerate(NAMES)}
SO_MANY = rf"(an?|{NUMBER}) ({TILE})s?"
"""`a 3 crak`, `two 3 craks`: the number and the tile."""
SIZES = {"pung": 3, "kong": 4, "quint": 5, "sextet": 6}


def how_many(word):
    """The number that `a` or a numeral stands for."""
    return 1 if word in ("a", "an") else NUMBERS[word]


def full(pattern, said):
    """The match of the whole sentence."""
    return re.fullmatch(pattern, said)


def names_in(text, counted):
    """The hand names in a list of them, in order."""
    return re.findall(counted.names, text)


def kind_named(text):
    """The kind that a tile's name stands for, singular or plural."""
    return KIND[text] if text in KIND else KIND[text.removesuffix("s")]


def sentences(text):
    """The sentences of a text."""
    return [part + "." for part in text.removesuffix(".").split(". ")]
