"""The model: groups, variants, hands by name, and sheets cut to some sections."""

from __future__ import annotations

import pytest
from broken_sheets import GOOD

from engine.sheet.groups import HAND_TILES, SIZES, Group, Variant, size_name
from engine.sheet.model import Sheet
from engine.sheet.reader import read, sheet_of
from engine.tiles import KINDS, kind_of


@pytest.fixture
def sheet() -> Sheet:
    text = GOOD + GOOD[GOOD.index("  - section") :].replace("Stairs", "Cellar").replace("hand: ", "hand: deep ")
    return sheet_of(read(text))


def test_size_names() -> None:
    """Sizes 1 to 6 have the trade's names; jokers may stand from three on (common practice, no source)."""
    assert [size_name(size) for size in range(1, 7)] == list(SIZES)
    assert [Group(size, 0).takes_jokers for size in range(1, 7)] == [False, False, True, True, True, True]


def test_variant_counts() -> None:
    """Real tiles are those of singles and pairs, loose ones those of larger groups, and the order of groups is kept."""
    groups = (Group(6, kind_of("fl")), Group(2, kind_of("5d")), Group(4, kind_of("5d")), Group(2, kind_of("we")))
    variant = Variant(groups)
    assert variant.groups == groups
    assert variant.key == tuple(sorted(groups))
    assert (variant.real[kind_of("5d")], variant.loose[kind_of("5d")], variant.total[kind_of("5d")]) == (2, 4, 6)
    assert (variant.real[kind_of("fl")], variant.loose[kind_of("fl")]) == (0, 6)
    assert len(variant.total) == KINDS
    assert sum(variant.total) == HAND_TILES


def test_hand_by_name(sheet: Sheet) -> None:
    """A hand is found by its name, and only by its name."""
    assert sheet.hand("deep Two sums").section == "Cellar"
    with pytest.raises(KeyError):
        sheet.hand("two sums")


def test_cut(sheet: Sheet) -> None:
    """A cut sheet holds the chosen sections in sheet order, keeps its fingerprint, and says what was chosen."""
    cut = sheet.cut(("Cellar",))
    assert [hand.name for hand in cut.hands] == ["deep Wide landing", "deep Two sums"]
    assert cut.chosen == ("Cellar",)
    assert cut.fingerprint == sheet.fingerprint
    assert sheet.cut(["Cellar", "Stairs"]).sections == sheet.sections


@pytest.mark.parametrize(("names", "part"), [(("Attic",), "there is no section “Attic”"), ((), "no section is chosen")])
def test_cut_to_nothing(sheet: Sheet, names: tuple[str, ...], part: str) -> None:
    """An unknown or empty choice is refused with the sections that there are."""
    with pytest.raises(ValueError, match=part) as caught:
        sheet.cut(names)
    assert "Stairs, Cellar" in str(caught.value)


def test_fingerprint(sheet: Sheet) -> None:
    """A fingerprint is 16 hexadecimal digits."""
    assert len(sheet.fingerprint) == 16
    assert int(sheet.fingerprint, 16) >= 0
