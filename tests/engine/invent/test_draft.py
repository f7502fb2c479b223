"""Sheets in the making, before any game is played: themes, shapes, names, and the next season of a sheet."""

import random

import pytest

from engine.invent.dice import Dice
from engine.invent.draft import nearly_alike, own, plan
from engine.invent.idea import idea_of
from engine.invent.like import plan_like, theme_of
from engine.invent.scenes import scene
from engine.invent.shapes import too_like
from engine.invent.themes import SMALL, THEMES
from engine.sheet.shelf import find

SEASON = "2031"


def filled(seed, hands=24):
    """A draft with all its hands."""
    dice = Dice(seed)
    draft = plan(dice, hands, SEASON)
    for slot in draft.slots:
        draft.fill(slot, dice)
    return draft


@pytest.fixture(scope="module")
def draft():
    """One of 24 hands."""
    return filled(5)


def test_dice_take_everything_from_random():
    """The one call that Python promises to keep; the first numbers of seed 1, from memory."""
    assert [Dice(1).below(1000), Dice(1).pick(range(1000))] == [134, 134]
    dice, own_way = Dice(7), random.Random(7)
    assert [dice.below(6) for _ in range(50)] == [int(own_way.random() * 6) for _ in range(50)]
    assert sorted(Dice(3).shuffled(range(40))) == list(range(40))


@pytest.mark.parametrize("theme", [*THEMES, SMALL], ids=lambda theme: theme.sentence)
@pytest.mark.slow
def test_every_theme_throws_hands_of_our_own(theme):
    """Of a hundred throws some come to 14 tiles and keep clear of worn shapes."""
    dice = Dice(11)
    found = []
    for _ in range(100):
        groups, where = theme.throw(dice, SEASON)
        idea = idea_of(SEASON, where, theme is SMALL, groups) if groups else None
        if idea is not None and own(idea):
            found.append(idea)
    assert len(found) >= 3
    assert all(sum(variant.total) == 14 for idea in found for variant in idea.variants)
    assert theme.sentence.endswith(".")


@pytest.mark.slow
def test_a_draft_is_whole_and_keeps_its_rules(draft):
    """So many hands; none in a worn shape, no two nearly alike; a sixth concealed, and all of singles and pairs."""
    ideas = list(draft.ideas)
    assert len(ideas) == 24
    for idea in ideas:
        assert all(too_like(line, idea.where, SEASON) is None for line in idea.lines)
        assert idea.concealed or not idea.small
    assert not any(nearly_alike(one, other) for place, one in enumerate(ideas) for other in ideas[:place])
    assert sum(idea.concealed for idea in ideas) == 4
    assert 8_500 < sum(slot.target for slot in draft.slots) < 11_000


@pytest.mark.slow
def test_the_same_seed_makes_the_same_draft(draft):
    """And another seed another one."""
    rows = [idea.rows() for idea in draft.ideas]
    assert [idea.rows() for idea in filled(5).ideas] == rows
    assert [idea.rows() for idea in filled(6).ideas] != rows


@pytest.mark.parametrize("hands", [11, 97])
def test_numbers_of_hands_out_of_range(hands):
    """Too few can't be balanced, too many are no sheet."""
    with pytest.raises(ValueError, match="choose 12 to 96"):
        plan(Dice(1), hands, SEASON)


def test_scenes_differ_from_seed_to_seed():
    """A title comes back after thousands of seeds only, and there are names enough for the largest sheet."""
    scenes = [scene(seed) for seed in range(600)]
    assert len({one.title for one in scenes}) == len(scenes)
    for one in scenes[:24]:
        assert len(set(one.places)) == len(one.places) >= 16
        assert len({name.casefold() for name in one.names}) == len(one.names) >= 96


def test_the_next_season_keeps_changes_and_renews():
    """Two hands in five stay with name and points, up to a third are changed in one thing, the others are new."""
    sheet = find("lantern-street")
    dice = Dice(2)
    draft = plan_like(dice, sheet, "2027", 40)
    slots, hands = draft.slots, sheet.hands
    fixed = [place for place, slot in enumerate(slots) if slot.fixed]
    assert len(fixed) == 24
    assert sum(slot.throw is not None for slot in slots) == 20
    for place in fixed:
        assert slots[place].name == hands[place].name
        assert slots[place].points == hands[place].points
        assert slots[place].idea.lines == tuple(line.patterns for line in hands[place].lines)
    changing = next(slot for slot in slots if slot.throw is not None)
    old = hands[slots.index(changing)]
    draft.fill(changing, dice)
    if changing.throw is not None:
        assert changing.name == old.name
        assert changing.idea.rows()[0] != f"groups: {old.lines[0].text}" or changing.idea.where != old.where


def test_themes_are_told_from_the_hands():
    """The sections of the full sheet whose hands are plainly about one thing."""
    sections = {section.name: theme_of(section).sentence for section in find("lantern-street").sections}
    assert sections["Fish Market"] == "Two numbers and what they make, added or multiplied."
    assert sections["Weather"] == "The winds, alone or one against another."
    assert sections["Kites"] == "The dragons, and the suits that they go with."
    assert sections["Workshops"].startswith("Numbers that stay as they are")


def test_a_share_out_of_range():
    """A percentage is at most a hundred."""
    with pytest.raises(ValueError, match="choose 0 to 100"):
        plan_like(Dice(1), find("first-steps"), "2027", 101)
