"""What the next deal is dealt with: what the player has set, or the usual where that can't be used."""

import pytest

from engine.rules.house import FULL, House
from engine.sheet.shelf import find
from engine.store.store import Store
from game.play.defaults import FIRST_SHEET, USUAL_GAME, house_for, kept_house, kept_sections, kept_sheet


@pytest.fixture
def store(tmp_path):
    """An empty store."""
    with Store(tmp_path / "lone-east.sqlite") as opened:
        yield opened


def test_sections_come_in_the_order_of_the_sheet(store):
    """In whatever order they were ticked; all of them are no choice at all only where none is kept."""
    sheet = find(FIRST_SHEET)
    names = [section.name for section in sheet.sections]
    assert kept_sections(store, sheet) is None
    store.set("sections", [names[2], names[0]])
    assert kept_sections(store, sheet) == (names[0], names[2])
    store.set("sections", [names[1]])
    assert kept_sections(store, sheet) == (names[1],)


@pytest.mark.parametrize("kept", [[], "Jars", {"a": 1}, ["no such section"], 5, None, [None], [["x"]]])
@pytest.mark.slow
def test_sections_that_are_not_of_the_sheet_are_all(store, kept):
    """None of them, another sheet's, or no list at all."""
    store.set("sections", kept)
    assert kept_sections(store, find(FIRST_SHEET)) is None


def test_one_unknown_section_among_known_ones_is_all(store):
    """The sections were chosen of another edition: none of them is trusted."""
    sheet = find(FIRST_SHEET)
    store.set("sections", [sheet.sections[0].name, "no such section"])
    assert kept_sections(store, sheet) is None


def test_a_sheet_is_found_by_its_fingerprint_wherever_it_is_kept(store):
    """Shipped or loaded; the first one where nothing that was kept can be found."""
    assert kept_sheet(store).name == "Lantern Street"
    store.set("sheet", find("first-steps").fingerprint)
    assert kept_sheet(store).name == "First Steps"
    for unknown in ("0" * 16, 5, None, ["x"], "no sheet at all", "\ud800"):
        store.set("sheet", unknown)
        assert kept_sheet(store).name == "Lantern Street"


@pytest.mark.parametrize("kept", [None, 5, {"picks": "many"}, {"no such rule": 1}, {"table": "round"}])
def test_house_rules_that_cannot_be_are_the_usual_ones(store, kept):
    """A mangled value, or one of a later version, ends in a game all the same."""
    store.set("house", kept)
    assert kept_house(store) == USUAL_GAME
    store.set("house", {"picks": 7})
    assert kept_house(store) == House(picks=7)


def test_a_table_asked_for_has_its_usual_rules():
    """Both with all the passes."""
    assert house_for(FULL) == House(table=FULL, passes=6, courtesy=True)
    assert house_for(None) == House(picks=40, passes=6, courtesy=True)
