"""Two sheets compared: sheets changed by a script that knows what it changed, sheets exchanged, what to unlearn."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cache
from itertools import pairwise
from random import Random

import pytest
from counted_slowly import shared_tiles
from depth import deep
from random_sheets import Made, can_be_read, random_hands, random_sheet, respelled, sheet_of
from slow_variants import slow_variants

from engine.sheet.compare.changes import What
from engine.sheet.compare.comparison import Because, compare
from engine.sheet.compare.pairing import ONE_CHANGE
from engine.sheet.compare.racks import racks
from engine.sheet.likeness import Coder, forms_of
from engine.sheet.model import Sheet
from engine.sheet.shelf import find, shipped

# What a script changes, it knows.


SEEDS = range(deep(6, 10))


@dataclass
class Script:
    """The hands of two sheets, and what was done to each."""

    old: list[Made] = field(default_factory=list)
    new: list[Made] = field(default_factory=list)
    done: dict[str, set[What]] = field(default_factory=dict)
    """By the old name of a hand that was changed."""
    renamed: dict[str, str] = field(default_factory=dict)
    kept: set[str] = field(default_factory=set)


Ways = frozenset[tuple[tuple[int, str], ...]]


def slow(hand: Made) -> Ways:
    """All ways to make a hand, by the slow expander."""
    return _expanded(hand.text, hand.where)


@cache
def _expanded(text: str, where: str) -> Ways:
    return frozenset(slow_variants([text], where))


def far_apart(hands: list[Made]) -> list[Made]:
    """Of the hands, those that nobody would take for one another."""
    forms = forms_of(sheet_of(hands).hands, Coder())
    chosen: list[int] = []
    for place, form in enumerate(forms):
        others = [forms[other] for other in chosen]
        if all(form.alike_at_most(other) < ONE_CHANGE or form.alike(other) < ONE_CHANGE for other in others):
            chosen.append(place)
    return [hands[place] for place in chosen]


def tile_changed(hand: Made, chance: Random) -> Made | None:
    """Another tile in one group; None where that makes nothing else."""
    place = chance.choice([at for at, (size, tile) in enumerate(hand.groups) if size < 6 and tile[:2] not in ("se",)])
    size, tile = hand.groups[place]
    other = chance.choice([one for one in ("flower", "dragon green", "wind west", "b.9", "a.1") if one != tile])
    groups = (*hand.groups[:place], (size, other), *hand.groups[place + 1 :])
    return _if_other(hand, replace(hand, groups=groups))


def sizes_exchanged(hand: Made, chance: Random) -> Made | None:
    """Two groups with their sizes exchanged; None where that makes nothing else, or where one can as well say that
    another tile stands in one group."""
    places = [at for at, (_, tile) in enumerate(hand.groups) if not tile.startswith("season")]
    if len(places) < 2 or len(places) < len(hand.groups):
        return None
    one, two = chance.sample(places, 2)
    groups = list(hand.groups)
    groups[one], groups[two] = (groups[two][0], groups[one][1]), (groups[one][0], groups[two][1])
    other = _if_other(hand, replace(hand, groups=tuple(groups)))
    return None if other is None or _one_group_apart(_free(hand), _free(other)) else other


def _free(hand: Made) -> Ways:
    """All ways to make the hand, if its letters were free."""
    return slow(replace(hand, where=""))


def _one_group_apart(mine: Ways, theirs: Ways) -> bool:
    """Whether two ways to make the hands have all groups but one in common."""

    def without_one(ways: Ways) -> Ways:
        return frozenset(way[:place] + way[place + 1 :] for way in ways for place in range(len(way)))

    return not without_one(mine).isdisjoint(without_one(theirs))


def _if_other(old: Made, new: Made) -> Made | None:
    used = {letter for letter in "nxy" if f"{letter} " in old.where}
    if not used <= new.letters or not can_be_read(new) or slow(old) == slow(new):
        return None
    return new


@cache
def changed_by_script(seed: int) -> Script:
    """A sheet of about 16 hands and its next season, in another order and with other letters."""
    chance = Random(seed)
    pool = far_apart(random_hands(chance, 26))
    script = Script()
    number = 2 * len(pool) // 3
    for hand in pool[:number]:
        deed = chance.choice(("keep", "keep", "tile", "size", "points", "hold", "name", "several", "drop"))
        made: Made | None = hand
        what: set[What] = set()
        if deed == "tile":
            made, what = tile_changed(hand, chance), {What.TILE}
        elif deed in ("size", "several"):
            made, what = sizes_exchanged(hand, chance), {What.GROUP}
        if made is None:
            made, what = hand, set()
        if deed in ("points", "several"):
            made, what = replace(made, points=made.points + 5), what | {What.POINTS}
        if deed in ("hold", "several"):
            made, what = replace(made, concealed=not made.concealed), what | {What.HOLD}
        if deed in ("name", "several"):
            made, what = replace(made, name=f"{hand.name} again"), what | {What.NAME}
        script.old.append(hand)
        if deed == "drop":
            continue
        script.renamed[hand.name] = made.name
        if what:
            script.done[hand.name] = what
        else:
            script.kept.add(hand.name)
        script.new.append(respelled(made, chance))
    script.new += [replace(hand, name=f"New {hand.name}") for hand in pool[number:]]
    chance.shuffle(script.new)
    return script


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.slow
def test_every_change_is_found_and_none_invented(seed: int) -> None:
    """Kept, changed in exactly what the script changed, new and gone; written in another order and other letters."""
    script = changed_by_script(seed)
    found = compare(sheet_of(script.old), sheet_of(script.new, sections=3))
    assert {pair.old.name: pair.new.name for pair in found.kept} == {name: name for name in script.kept}
    assert {pair.old.name: {change.what for change in pair.changes} for pair in found.changed} == script.done
    assert {pair.old.name: pair.new.name for pair in (*found.kept, *found.changed)} == script.renamed
    assert [hand.name for hand in found.new_hands] == [
        hand.name for hand in sheet_of(script.new, sections=3).hands if hand.name.startswith("New ")
    ]
    assert {hand.name for hand in found.gone} == {hand.name for hand in script.old} - set(script.renamed)


@pytest.mark.parametrize("seed", SEEDS[::4])
@pytest.mark.slow
def test_exchanging_the_sheets_exchanges_new_and_gone(seed: int) -> None:
    """Kept and changed hands are the same pairs from both sides; each change is turned round."""
    script = changed_by_script(seed)
    old, new = sheet_of(script.old), sheet_of(script.new)
    _assert_exchanged(old, new)


@pytest.mark.slow
def test_exchanging_shipped_and_random_sheets() -> None:
    """The same for sheets that have little or nothing to do with one another."""
    sheets = [*(find(name) for name in shipped()), random_sheet(1, 12)]
    for old, new in pairwise(sheets):
        _assert_exchanged(old, new)


def _assert_exchanged(old: Sheet, new: Sheet) -> None:
    there, back = compare(old, new), compare(new, old)
    assert there.gone == back.new_hands
    assert there.new_hands == back.gone
    for mine, theirs in ((there.kept, back.kept), (there.changed, back.changed)):
        assert {(pair.old.name, pair.new.name) for pair in mine} == {(pair.new.name, pair.old.name) for pair in theirs}
    assert there.shapes_gone == back.shapes_new
    assert [drift.kind for drift in there.drifts] or [drift.kind for drift in back.drifts] == []


@pytest.mark.parametrize("name", shipped())
def test_a_sheet_with_itself(name: str) -> None:
    """All hands are kept and there is nothing to unlearn or to practise."""
    sheet = find(name)
    found = compare(sheet, sheet)
    assert [(pair.old, pair.new) for pair in found.kept] == [(hand, hand) for hand in sheet.hands]
    assert found.changed == found.gone == found.new_hands == ()
    assert found.unlearn == found.drifts == found.shapes_new == found.shapes_gone == racks(found, 3, 1) == ()


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.slow
def test_a_sheet_with_itself_written_otherwise(seed: int) -> None:
    """Other letters, another order of groups, hands and sections: all kept."""
    chance = Random(seed)
    hands = random_hands(chance, 12)
    again = [respelled(hand, chance) for hand in hands]
    chance.shuffle(again)
    found = compare(sheet_of(hands), sheet_of(again, sections=4))
    assert {pair.old.name for pair in found.kept} == {hand.name for hand in hands}


# Which change, said how.


def hand(name: str, groups: str, where: str = "", concealed: bool = False, points: int = 25) -> Made:
    sizes = ("single", "pair", "pung", "kong", "quint", "sextet")
    parts = [group.strip().split(" ", 1) for group in groups.split(",")]
    return Made(name, tuple((sizes.index(size) + 1, tile) for size, tile in parts), where, concealed, points)


ALONE = hand("Loom", "quint a.n, kong b.n+2, pung a.n+4, pair flower")


@pytest.mark.parametrize(
    ("new", "changes"),
    [
        (replace(ALONE, points=30), [("points", "25", "30")]),
        (replace(ALONE, concealed=True), [("hold", "open", "concealed")]),
        (replace(ALONE, name="Shuttle"), [("name", "Loom", "Shuttle")]),
        (
            hand("Loom", "quint a.n, kong b.n+2, pung a.n+4, pair dragon red"),
            [("tile", "pair flower", "pair dragon red")],
        ),
        (
            hand("Loom", "quint a.n, kong b.n+2, pung a.n+3, pair flower"),
            [("tile", "pung a.n+4", "pung a.n+3")],
        ),
        (
            hand("Loom", "quint a.n, pung b.n+2, kong a.n+4, pair flower"),
            [("group", "kong b.n+2", "pung b.n+2"), ("group", "pung a.n+4", "kong a.n+4")],
        ),
        (
            hand("Loom", "quint a.n, kong b.n+2, single a.n+4, pair flower, pair c.n+4"),
            [("group", "pung a.n+4", "single a.n+4"), ("group", "", "pair c.n+4")],
        ),
        (
            hand("Loom", "quint a.n, kong b.n+2, pung a.n+4, pair flower", "n odd"),
            [("tile", "any three odd or three even numbers in a row, two suits",
              "any three odd numbers in a row, two suits")],
        ),
    ],
)  # fmt: skip
def test_changes_name_what_changed(new: Made, changes: list[tuple[str, str, str]]) -> None:
    """The group, tile, hold, points or name, as it was and as it is."""
    (pair,) = compare(sheet_of([ALONE]), sheet_of([new])).changed
    assert [(change.what.value, change.old, change.new) for change in pair.changes] == changes


def test_a_new_season_changes_its_digit() -> None:
    """The same written hand in another season has another tile."""
    made = hand("Almanac", "single season a, quint b.n, quint c.n")
    (pair,) = compare(sheet_of([made], "2026"), sheet_of([made], "2027")).changed
    assert [(change.what, change.old, change.new) for change in pair.changes] == [
        (What.TILE, "single a.6", "single a.7")
    ] or {change.what for change in pair.changes} == {What.TILE}
    assert ("single a.6", "single a.7") in [(change.old, change.new) for change in pair.changes]


def test_two_hands_that_exchange_their_names() -> None:
    """Hands are matched by what they are: both are changed in name only."""
    one, two = ALONE, hand("Kettle", "sextet flower, quint a.n, pung b.n+1")
    found = compare(sheet_of([one, two]), sheet_of([replace(one, name="Kettle"), replace(two, name="Loom")]))
    assert [[change.what for change in pair.changes] for pair in found.changed] == [[What.NAME], [What.NAME]]
    assert found.kept == found.unlearn == ()


TWO_OTHERS = (
    # two large groups: a quint stays, and with the pair half of the hand
    ("quint a.n, kong b.n+2, pung a.n+4, pair flower", "quint a.n, kong dragon red, pung b.n+1, pair flower"),
    # two small groups
    ("sextet flower, pung a.n, pung b.n, pair c.5", "sextet flower, pung a.n, pung wind east, pair c.n+1"),
)


@pytest.mark.parametrize(("before", "after"), TWO_OTHERS)
def test_a_hand_changed_in_two_groups_is_known_by_its_name(before: str, after: str) -> None:
    """Where half of the hand is as it was, and the name too, it is the same hand, and both changes are named. Under
    another name one can't know: it is gone, and the other is new."""
    old, new = hand("Loom", before), hand("Loom", after)
    (pair,) = compare(sheet_of([old]), sheet_of([new])).changed
    assert {change.what for change in pair.changes} == {What.TILE}
    assert [change.old for change in pair.changes if not change.spoken] == [
        text for text in before.split(", ") if text not in after
    ]
    found = compare(sheet_of([old]), sheet_of([replace(new, name="Shuttle")]))
    assert [one.name for one in (*found.gone, *found.new_hands)] == ["Loom", "Shuttle"]


def test_a_name_alone_makes_no_pair() -> None:
    """Another hand under an old name is new, and the old one is gone."""
    found = compare(sheet_of([ALONE]), sheet_of([hand("Loom", "sextet wind u, kong dragon red, kong a.9")]))
    assert found.changed == found.kept == ()
    assert [one.hand.name for one in found.unlearn] == ["Loom"]


def test_likeness_alone_makes_no_pair() -> None:
    """Hands that share twelve of fourteen tiles, but that no one change makes of each other, are two hands."""
    one = hand("Footpath", "single a.n, pung b.n+1, sextet flower, pung b.n+3, single a.n+4", "n even")
    other = hand("Shade", "pung a.n, pair a.n+1, pung a.n+2, sextet flower")
    found = compare(sheet_of([one]), sheet_of([other]))
    assert (found.gone[0].name, found.new_hands[0].name) == ("Footpath", "Shade")


@pytest.mark.slow
def test_the_next_season_of_a_shipped_sheet() -> None:
    """What its file says was kept is found kept; most of what keeps its name is found changed."""
    old, new = find("lantern-street"), find("lantern-street-2027")
    found = compare(old, new)
    same_text = {one.name for one in old.hands if any(other.lines == one.lines and other.where == one.where
                 and (other.name, other.points, other.concealed) == (one.name, one.points, one.concealed)
                 for other in new.hands) and not any("season" in line.text for line in one.lines)}  # fmt: skip
    assert same_text <= {pair.old.name for pair in found.kept}
    names = {one.name for one in new.hands} & {one.name for one in old.hands}
    assert len(names - {pair.old.name for pair in (*found.kept, *found.changed) if pair.old.name == pair.new.name}) <= 1


def test_work_can_be_ended() -> None:
    """What `pause` raises ends the comparison."""

    def end() -> None:
        raise InterruptedError

    with pytest.raises(InterruptedError):
        compare(find("first-steps"), find("three-workshops"), end)


# What to unlearn.


def test_unlearn_names_what_is_no_hand_now() -> None:
    """Gone hands, hands made otherwise, hands that lost some ways and hands that are concealed now."""
    gone = hand("Anvil", "sextet flower, quint a.n, pung b.n+1")
    other = hand("Bellows", "pung wind north, pung wind south, quint a.n, pung dragon red")
    fewer = hand("Tongs", "quint a.1, quint b.n, kong flower", "n in 2..5")
    shut = hand("Hammer", "kong dragon u, kong a.n, single a.n+1, quint b.n+2")
    same = hand("Forge", "pair a.3, pair b.6, quint c.9, quint flower")
    found = compare(
        sheet_of([gone, other, fewer, shut, same]),
        sheet_of([
            hand("Bellows", "pung wind north, pung wind south, quint a.n, pung dragon green"),
            replace(fewer, where="n in 2..4"), replace(shut, concealed=True), same,
        ]),
    )  # fmt: skip
    assert [(one.hand.name, one.because, one.became) for one in found.unlearn] == [
        ("Anvil", Because.GONE, False),
        ("Bellows", Because.GONE, True),
        ("Tongs", Because.PARTLY, True),
        ("Hammer", Because.CONCEALED, True),
    ]
    assert len(found.unlearn[2].lost) == 6
    assert [one.nearest.name for one in found.unlearn[1:]] == ["Bellows", "Tongs", "Hammer"]


@pytest.mark.parametrize("seed", SEEDS[::3])
@pytest.mark.slow
def test_unlearn_against_a_slow_count(seed: int) -> None:
    """A hand is there if and only if a way to make it is none now or may no longer be exposed; the nearest hand of one
    that is gone shares most tiles."""
    script = changed_by_script(seed)
    new = {made.name: slow(made) for made in script.new}
    open_ways = {way for made in script.new if not made.concealed for way in new[made.name]}
    all_ways = {way for way_set in new.values() for way in way_set}
    found = compare(sheet_of(script.old), sheet_of(script.new))
    by_name = {one.hand.name: one for one in found.unlearn}
    for made in script.old:
        lost = slow(made) - (all_ways if made.concealed else open_ways)
        assert bool(lost) == (made.name in by_name), made.name
        if lost and made.name not in script.renamed:
            shares = {
                name: sum(max(shared_tiles(way, other) for other in ways) for way in lost) for name, ways in new.items()
            }
            assert shares[by_name[made.name].nearest.name] == max(shares.values())
