"""Named sets of house rules: kept, found, taken out and brought in; what is wrong is said in one sentence."""

from dataclasses import replace

import pytest

from engine.rules.house import FULL, House
from engine.store.store import Store
from game.play.house.files import read_set, read_set_file, write_set
from game.play.house.sets import (
    MOST_SETS,
    SHIPPED,
    HouseSet,
    all_sets,
    drop_set,
    find_set,
    keep_set,
    own_sets,
)

THURSDAY = HouseSet(
    "Thursday table", House(table=FULL, passes=6, courtesy=True, last_tiles=16, others="sharp steady beginner")
)


@pytest.fixture
def store(tmp_path):
    """An empty store."""
    with Store(tmp_path / "lone-east.sqlite") as opened:
        yield opened


def test_sets_are_kept_found_replaced_and_dropped(store):
    """A name means one set, in capitals or not; those that ship are always there and come first."""
    keep_set(store, THURSDAY)
    keep_set(store, HouseSet("  thursday   TABLE ", replace(THURSDAY.house, jokers=10)))
    keep_set(store, HouseSet("Attic", House()))
    assert [one.name for one in own_sets(store)] == ["Attic", "thursday TABLE"]
    assert all_sets(store)[: len(SHIPPED)] == list(SHIPPED)
    assert find_set(all_sets(store), "THURSDAY table").house.jokers == 10
    drop_set(store, "Attic")
    assert [one.name for one in own_sets(store)] == ["thursday TABLE"]


def test_what_cannot_be_kept_is_said(store):
    """No name, an unseen sign in it, the name of a set that ships, and more sets than there is room for."""
    for name in ("", "   ", "a\x07b", "x" * 61, SHIPPED[0].name.upper()):
        with pytest.raises(ValueError, match="name"):
            keep_set(store, HouseSet(name, House()))
    for number in range(MOST_SETS):
        keep_set(store, HouseSet(f"Set {number}", House()))
    with pytest.raises(ValueError, match="delete one first"):
        keep_set(store, HouseSet("One more", House()))
    assert len(own_sets(store)) == MOST_SETS
    with pytest.raises(ValueError, match="did you mean “Set 12”"):
        find_set(all_sets(store), "Sett 12")


def test_what_is_not_sound_is_left_out(store):
    """A set of a newer game, or one that was spoilt, hides no other."""
    store.set("house sets", {"Good": {"jokers": 6}, "Bad": {"jokers": 99}, "New": {"dice": 2}, "Worse": 3})
    assert own_sets(store) == [HouseSet("Good", House(jokers=6))]
    store.set("house sets", ["nothing"])
    assert own_sets(store) == []


@pytest.mark.parametrize("made", [*(HouseSet(f"Ours {one.name}", one.house) for one in SHIPPED), THURSDAY])
def test_a_file_gives_the_same_set_back(made, tmp_path):
    """Every rule, unusual ones too."""
    file = tmp_path / "set.yaml"
    file.write_text(write_set(made), encoding="utf-8")
    assert read_set_file(file) == made


@pytest.mark.parametrize(
    ("text", "place", "said"),
    [
        ("", "1:1", "the file holds no house rules"),
        ("house: Ours\n", "1:1", "lacks its rules"),
        ("house: Ours\nrules: jokers 8\n", "2:8", "the house rules lack “table”"),
        ("house: Ours\nrules: table round\n", "2:8", "lack"),
        (f"house: Quiet evening\nrules: {write_set(THURSDAY).partition('rules: ')[2]}", "1:8", "a set that ships"),
        ("house: Ours\nrule: table full\n", "2:1", "write rules"),
        ("house: &a Ours\nrules: *a\n", "1:8", ""),
        ("house: !!python/object:x Ours\nrules: x\n", "1:8", ""),
        ("[" * 600, "1:", ""),
        ("x" * 20_000, "1:1", "larger than 16,384 bytes"),
        ("house: \xff\n".encode("latin-1"), "1:", "UTF-8"),
    ],
)  # fmt: skip
def test_a_file_that_is_wrong_is_told_with_its_place(text, place, said):
    """File, line and column, and what to write instead; never anything but ValueError."""
    with pytest.raises(ValueError, match=r"^ours\.yaml:") as caught:
        read_set(text, "ours.yaml")
    assert str(caught.value).startswith(f"ours.yaml:{place}")
    assert said in str(caught.value)


def test_a_file_that_is_not_there_is_told(tmp_path):
    """In the same form."""
    with pytest.raises(ValueError, match="there is no such file"):
        read_set_file(tmp_path / "none.yaml")
