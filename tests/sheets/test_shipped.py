"""The sheets that ship: their size, what they are made of, and that play spreads over all of them."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path

import pytest

from engine.invent.points import points
from engine.invent.shapes import too_like
from engine.sheet.clauses import Parity, Reckon, Within, variables
from engine.sheet.model import Hand, Sheet
from engine.sheet.notation import Dragon, DragonOf, EachDragon, EachWind, Flower, Number, Pattern, Season, Wind, Zero
from engine.sheet.reader import read
from engine.sheet.shelf import find, shipped
from engine.sheet.writer import write
from engine.tiles import COPIES, FLOWER, JOKER

FULL = "lantern-street"
FIRST = "first-steps"
NEXT = "lantern-street-2027"
SMALL = "three-workshops"
COUNTS = Path(__file__).parents[1] / "data" / "shipped_variants.txt"
"""Variants of every hand, counted by a second expander that was written apart from the engine's."""


@pytest.fixture(scope="module")
def full() -> Sheet:
    return find(FULL)


@pytest.fixture(scope="module")
def first() -> Sheet:
    return find(FIRST)


@pytest.fixture(params=shipped())
def each(request: pytest.FixtureRequest) -> Sheet:
    """Every shipped sheet in turn, those added later too."""
    return find(request.param)


def patterns(sheet: Sheet) -> Iterator[tuple[Hand, Pattern]]:
    """Every group that the sheet writes, with its hand."""
    for hand in sheet.hands:
        for line in hand.lines:
            for pattern in line.patterns:
                assert isinstance(pattern, Pattern)
                yield hand, pattern


def without_large_groups(hand: Hand) -> bool:
    return all(not group.takes_jokers for variant in hand.variants for group in variant.groups)


def test_stems() -> None:
    """All sheets are found by the names that players type."""
    assert shipped() == (FIRST, FULL, NEXT, SMALL)


@pytest.mark.slow
def test_full_size(full: Sheet) -> None:
    """The full sheet keeps to what was promised: 55 hands or more, 9 sections or more, 900 to 3,000 variants."""
    assert len(full.hands) >= 55
    assert len(full.sections) >= 9
    assert 900 <= sum(len(hand.variants) for hand in full.hands) <= 3000


def test_first_size(first: Sheet) -> None:
    """The beginners' sheet has twelve hands in three to five sections, each of several hands."""
    assert len(first.hands) == 12
    assert 3 <= len(first.sections) <= 5
    assert min(len(section.hands) for section in first.sections) >= 2


def test_next_season(full: Sheet) -> None:
    """The second season has the sections of the first, in their order; about two hands in five are as they were, a
    third are changed, the others are new (counted by name)."""
    after = find(NEXT)
    assert (after.name, after.season) == (full.name, "2027")
    assert [section.name for section in after.sections] == [section.name for section in full.sections]
    assert [len(section.hands) for section in after.sections] == [6] * 10
    old = {hand.name: (hand.lines, hand.where, hand.concealed, hand.points) for hand in full.hands}
    new = {hand.name: (hand.lines, hand.where, hand.concealed, hand.points) for hand in after.hands}
    kept = [name for name in new if old.get(name) == new[name]]
    assert 20 <= len(kept) <= 26
    assert len(set(new) & set(old)) - len(kept) >= 15
    assert len(set(new) - set(old)) >= 15


def test_small_sheet() -> None:
    """Eighteen hands in five sections; three of these keep to one suit each."""
    sheet = find(SMALL)
    assert [len(section.hands) for section in sheet.sections] == [4, 4, 4, 4, 2]
    for section, suit in zip(sheet.sections, ("bam", "crak", "dot"), strict=False):
        tiles = [p.tile for hand in section.hands for line in hand.lines for p in line.patterns]
        assert {tile.suit for tile in tiles if isinstance(tile, Number)} == {suit}


@pytest.mark.slow
def test_variants_counted_apart() -> None:
    """Each hand has as many variants as the second expander counted."""
    pinned: dict[str, Counter[str]] = {}
    for line in COUNTS.read_text(encoding="utf-8").splitlines():
        if line and not line.startswith("#"):
            stem, number, hand = line.split(maxsplit=2)
            pinned.setdefault(stem, Counter())[hand] = int(number)
    assert set(pinned) == set(shipped())
    for stem, counts in pinned.items():
        found = {hand.name: len(hand.variants) for hand in find(stem).hands}
        split = [f"{name}: {found.get(name)}, pinned {counts[name]}" for name in {*found, *counts}]
        assert found == counts, "\n".join(
            line for line, name in zip(split, {*found, *counts}, strict=True) if found.get(name) != counts[name]
        )


@pytest.mark.slow
def test_every_variant_can_be_laid(each: Sheet) -> None:
    """Fourteen tiles, and a full set that supplies them: real tiles where no joker may stand, jokers for the rest."""
    for hand in each.hands:
        for variant in hand.variants:
            assert sum(variant.total) == 14
            assert all(real <= copies for real, copies in zip(variant.real, COPIES, strict=True)), hand.name
            lacking = sum(max(0, total - copies) for total, copies in zip(variant.total, COPIES, strict=True))
            assert lacking <= COPIES[JOKER], hand.name


@pytest.mark.slow
def test_no_two_hands_alike(each: Sheet) -> None:
    """No variant belongs to two hands, so that a finished rack has one name and one price."""
    owner: dict[object, str] = {}
    for hand in each.hands:
        for variant in hand.variants:
            assert owner.setdefault(variant.key, hand.name) == hand.name


@pytest.mark.slow
def test_invented(each: Sheet) -> None:
    """The sheet says of itself that it is invented for practice."""
    assert each.maker == "invented for practice"


@pytest.mark.slow
def test_points(each: Sheet) -> None:
    """Points lie on our scale of 10 to 58 in steps of three."""
    assert {hand.points for hand in each.hands} <= set(range(10, 59, 3))


@pytest.mark.slow
def test_points_follow_rarity() -> None:
    """As measured in the README beside the sheets, points are those of the ladder, give or take a step, as a measure
    made anew lies a little beside the last. A hand that a new season kept keeps its points."""
    old = {hand.name: hand.points for hand in find(FULL).hands}
    for sheet in map(find, shipped()):
        for hand in sheet.hands:
            hold, given, share = measured(sheet)[hand.name]
            assert (hold, given) == ("concealed" if hand.concealed else "open", hand.points)
            if sheet.season == "2027" and old.get(hand.name) == hand.points:
                continue
            right = points(round(share * 100), 10_000, len(sheet.hands), hand.concealed)
            assert abs(right - hand.points) <= 3, hand.name


def measured(sheet: Sheet) -> dict[str, tuple[str, int, float]]:
    """From the README's table of a sheet: hold, points and percentage of the hands made, by a hand's name."""
    text = (files("sheets") / "README.md").read_text(encoding="utf-8")
    part = text.split(f"### {sheet.name} {sheet.season}\n")[1].split("\n#")[0]
    rows = re.findall(r"\| ([^|]+) \| (open|concealed) \| (\d+) \| [\d,]+ \| ([\d.]+)% \|", part)
    return {name: (hold, int(given), float(share)) for name, hold, given, share in rows}


@pytest.mark.parametrize("stem", [NEXT, SMALL])
def test_balance_as_measured(stem: str) -> None:
    """No hand over 7% of the hands made, or 2.6 times the average where there are few; every hand made; no section
    under 4%, or over 18% where there are more than eight."""
    sheet = find(stem)
    shares = {name: share for name, (_, _, share) in measured(sheet).items()}
    assert sum(shares.values()) == pytest.approx(100, abs=0.5)
    assert min(shares.values()) >= 0.02
    assert max(shares.values()) <= max(7, 260 / len(sheet.hands))
    sections = [sum(shares[hand.name] for hand in section.hands) for section in sheet.sections]
    assert min(sections) >= 4
    assert max(sections) <= max(18, 144 / len(sections))


@pytest.mark.slow
def test_no_worn_shape(each: Sheet) -> None:
    """No hand falls into a shape that printed sheets use year after year."""
    for hand in each.hands:
        for line in hand.lines:
            assert too_like(line.patterns, hand.where, each.season) is None, hand.name


def test_concealed_hands_stand_anywhere(full: Sheet) -> None:
    """The concealed hand is not always the last of its section."""
    last = [section.hands[-1].concealed for section in full.sections]
    assert sum(last) <= len(last) / 3


@pytest.mark.slow
def test_read_write_read(each: Sheet) -> None:
    """Written out and read again, it is the same sheet."""
    again = read(write(each)).sheet
    assert again is not None
    assert again.fingerprint == each.fingerprint
    assert again.hands == each.hands


def test_holds(full: Sheet) -> None:
    """Open hands are the rule; from a tenth to a third are concealed, at most two in any section."""
    concealed = sum(hand.concealed for hand in full.hands)
    assert len(full.hands) / 10 <= concealed <= len(full.hands) / 3
    assert all(sum(hand.concealed for hand in section.hands) <= 2 for section in full.sections)


@pytest.mark.slow
def test_hands_of_singles_and_pairs_are_concealed(each: Sheet) -> None:
    """A hand without a group of three may hold no exposure, so it is marked concealed; every sheet has at least one."""
    found = [hand for hand in each.hands if without_large_groups(hand)]
    assert found
    assert all(hand.concealed for hand in found)


def test_group_sizes(full: Sheet) -> None:
    """Groups of every size from one to six occur, quints and sextets of number tiles too, so jokers are needed."""
    sizes = {pattern.size for _, pattern in patterns(full)}
    assert sizes == {1, 2, 3, 4, 5, 6}
    numbers = {pattern.size for _, pattern in patterns(full) if isinstance(pattern.tile, Number)}
    assert {5, 6} <= numbers


def test_flowers_in_many_sizes(full: Sheet) -> None:
    """Flowers come alone and in every group up to a sextet."""
    assert {pattern.size for _, pattern in patterns(full) if isinstance(pattern.tile, Flower)} == {1, 2, 3, 4, 5, 6}


def test_honours(full: Sheet) -> None:
    """Winds and dragons come by name, by variable and all together; dragons with their suit and as zero."""
    tiles = {pattern.tile for _, pattern in patterns(full)}
    assert {len(tile.name) > 1 for tile in tiles if isinstance(tile, Wind)} == {True, False}
    assert {len(tile.name) > 1 for tile in tiles if isinstance(tile, Dragon)} == {True, False}
    for kind in (EachWind, EachDragon, DragonOf, Zero, Season):
        assert any(isinstance(tile, kind) for tile in tiles), kind.__name__


@pytest.mark.slow
def test_season(each: Sheet) -> None:
    """The season's digits are asked for by a hand of every sheet."""
    assert len(each.season) == 4
    assert any(isinstance(pattern.tile, Season) for _, pattern in patterns(each))


def test_reckoning(full: Sheet) -> None:
    """Sums and products, odd and even numbers and chosen ranges all occur."""
    clauses = [clause for hand in full.hands for clause in hand.where]
    assert {clause.sign for clause in clauses if isinstance(clause, Reckon)} == {"+", "*"}
    assert {clause.odd for clause in clauses if isinstance(clause, Parity)} == {True, False}
    assert any(isinstance(clause, Within) for clause in clauses)


def test_alternatives(full: Sheet) -> None:
    """Some hands are written as alternatives."""
    assert sum(len(hand.lines) > 1 for hand in full.hands) >= 3


def test_suits(full: Sheet) -> None:
    """Hands of one, two and three suits occur, and one in a suit that is fixed."""
    suits: dict[str, set[str]] = {}
    for hand, pattern in patterns(full):
        if isinstance(pattern.tile, Number):
            suits.setdefault(hand.name, set()).add(pattern.tile.suit)
    assert {len(found) for found in suits.values()} == {1, 2, 3}
    assert any(len(suit) > 1 for found in suits.values() for suit in found)


def test_runs(full: Sheet) -> None:
    """At least a tenth of the hands hold three or more numbers in a row."""
    runs = 0
    for hand in full.hands:
        steps = {
            pattern.tile.offset
            for line in hand.lines
            for pattern in line.patterns
            if isinstance(pattern, Pattern) and isinstance(pattern.tile, Number) and pattern.tile.variable
        }
        runs += any({step, step + 1, step + 2} <= steps for step in steps)
    assert runs >= len(full.hands) / 10


def test_shapes_differ(full: Sheet) -> None:
    """Sections mix their shapes: no section writes one combination of group sizes for more than half of its hands."""
    for section in full.sections:
        shapes = Counter(tuple(sorted(group.size for group in hand.variants[0].groups)) for hand in section.hands)
        assert max(shapes.values()) <= len(section.hands) / 2, section.name


@pytest.mark.slow
def test_clauses_bind_what_is_written(each: Sheet) -> None:
    """A variable in a clause stands in a group too, so that a player sees what the clause is about."""
    for hand in each.hands:
        written = {
            letter
            for line in hand.lines
            for pattern in line.patterns
            if isinstance(pattern, Pattern)
            for letter, _ in pattern.letters
        }
        assert {name for clause in hand.where for name in variables(clause)} <= written  # type: ignore[arg-type]


@pytest.mark.slow
def test_flowers_matter(each: Sheet) -> None:
    """From a third to two thirds of the hands use flowers: worth keeping, and not always right."""
    using = sum(any(variant.total[FLOWER] for variant in hand.variants) for hand in each.hands)
    assert len(each.hands) / 3 <= using <= len(each.hands) * 2 / 3
