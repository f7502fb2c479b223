"""Small sheets made by chance, as a script holds them: what it changes it can say, and the reader reads the rest."""

from __future__ import annotations

from dataclasses import dataclass, replace
from random import Random

from engine.sheet.model import Sheet
from engine.sheet.reader import read

SIZES = ("single", "pair", "pung", "kong", "quint", "sextet")
SHAPES = (
    (5, 4, 3, 2), (5, 3, 3, 3), (6, 5, 3), (6, 3, 3, 2), (5, 5, 2, 2), (1, 4, 4, 5), (6, 4, 2, 2), (1, 3, 4, 6),
    (2, 2, 2, 3, 5), (1, 1, 3, 4, 5), (2, 3, 3, 6), (1, 2, 5, 6),
)  # fmt: skip
HONOURS = ("flower", "wind north", "wind u", "dragon red", "dragon of a", "dragon of c", "zero", "dragon v")


@dataclass(frozen=True)
class Made:
    """A hand as a script holds it."""

    name: str
    groups: tuple[tuple[int, str], ...]
    """Size and tile."""
    where: str
    concealed: bool
    points: int

    @property
    def text(self) -> str:
        return ", ".join(f"{SIZES[size - 1]} {tile}" for size, tile in self.groups)

    @property
    def letters(self) -> set[str]:
        return {tile.split(".")[1][0] for _, tile in self.groups if "." in tile} & set("nxy")


def random_hand(chance: Random, name: str) -> Made:
    """A hand of numbers in a row or apart, sums, fixed numbers, winds, dragons, flowers or the digits of the season."""
    sizes = list(chance.choice(SHAPES))
    chance.shuffle(sizes)
    family = chance.choice(("row", "row", "sum", "fixed", "season"))
    suits = chance.choice(("aab", "abc", "aaa", "abb"))
    groups: list[tuple[int, str]] = []
    where = ""
    if family == "season":
        groups = [(1, "season a")]
        sizes = chance.choice(([5, 3, 2], [6, 2, 2], [4, 1, 5], [6, 4]))
    for place, size in enumerate(sizes):
        if groups and chance.random() < 0.3:
            groups.append((size, chance.choice(HONOURS)))
        elif family == "sum" and place < 2:
            groups.append((size, f"{suits[place]}.{'xy'[place]}"))
        elif family == "fixed":
            groups.append((size, f"{chance.choice(suits)}.{chance.randint(1, 9)}"))
        else:
            step = chance.choice((0, 1, 1, 2, 3, 4))
            groups.append((size, f"{chance.choice(suits)}.n" + (f"+{step}" if step else "")))
    letters = {tile.split(".")[1][0] for _, tile in groups if "." in tile}
    if {"x", "y"} <= letters:
        where = f"x + y = {chance.randint(5, 12)}"
    elif "n" in letters and chance.random() < 0.3:
        where = chance.choice(("n odd", "n even", "n in 2..4"))
    return Made(name, tuple(groups), where, chance.random() < 0.2, 5 * chance.randint(4, 15))


def can_be_read(hand: Made) -> bool:
    """Whether the reader takes it: the set supplies it, in whichever way."""
    return read(sheet_text([hand])).sheet is not None


def random_hands(chance: Random, number: int, word: str = "Hand") -> list[Made]:
    """So many hands that can be read, called `Hand 1` and so on."""
    found: list[Made] = []
    while len(found) < number:
        hand = random_hand(chance, f"{word} {len(found) + 1}")
        if can_be_read(hand):
            found.append(hand)
    return found


def sheet_text(hands: list[Made], season: str = "2026", sections: int = 1) -> str:
    """The sheet file of the hands, dealt out over sections."""
    rows = ["sheet: Made by chance", f"season: {season}", "sections:"]
    for section in range(min(sections, len(hands))):
        rows += [f"  - section: Section {section + 1}", "    hands:"]
        for hand in hands[section::sections]:
            rows += [f"      - hand: {hand.name}", f"        groups: {hand.text}"]
            rows += [f"        where: {hand.where}"] if hand.where else []
            rows += ["        hold: concealed"] if hand.concealed else []
            rows.append(f"        points: {hand.points}")
    return "\n".join(rows) + "\n"


def sheet_of(hands: list[Made], season: str = "2026", sections: int = 1) -> Sheet:
    """The sheet of the hands."""
    reading = read(sheet_text(hands, season, sections))
    assert reading.sheet is not None, reading.faults
    return reading.sheet


def random_sheet(seed: int, number: int = 10) -> Sheet:
    """A sheet of so many hands in three sections; the same seed gives the same sheet."""
    chance = Random(seed)
    season = chance.choice(("2026", "2027", "2022", "2035"))
    return sheet_of(random_hands(chance, number), season, sections=3)


def respelled(hand: Made, chance: Random) -> Made:
    """The same hand written otherwise: groups in another order, other letters."""
    groups = list(hand.groups)
    chance.shuffle(groups)
    return replace(
        hand,
        groups=tuple((size, _respelled(tile)) for size, tile in groups),
        where=" ".join({"n": "k", "x": "p", "y": "q"}.get(word, word) for word in hand.where.split()),
    )


def _respelled(tile: str) -> str:
    """Suits a, b, c become c, a, b; numbers n, x, y become k, p, q."""
    for old, new in (("season a", "season c"), ("dragon of a", "dragon of c"), ("dragon of c", "dragon of b")):
        if tile == old:
            return new
    if "." not in tile:
        return tile
    suit, rank = tile.split(".")
    return {"a": "c", "b": "a", "c": "b"}[suit] + "." + rank.translate(str.maketrans("nxy", "kpq"))
