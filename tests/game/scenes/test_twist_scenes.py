"""Twists in the window: chosen once, dealt, announced, kept out of what is counted."""

import random
from collections import Counter
from dataclasses import replace

import pytest
from at_table import AtOnce
from harness import click, drawn, make_look, press

from engine.rules.deal import DealCode
from engine.rules.house import FULL, QUIET, House
from engine.rules.twists.names import TWISTS
from engine.sheet.shelf import find
from engine.store.store import Store
from game.play.desk import Desk
from game.play.lines import line_of
from game.play.practice.progress import progress_of
from game.play.settings import ALWAYS
from game.play.twisting import CHOICES, SURPRISE, keep_twist, kept_twist, twist_drawn
from game.scenes.navigation import Navigation
from game.scenes.twists import TwistPopup
from game.text.advised import what_to_do
from game.text.heard import opening

SIZE = (1440, 900)


@pytest.fixture
def routes(tmp_path):
    """A desk of its own, with a quiet table without passes."""
    with Store(tmp_path / "deals.sqlite") as store:
        desk = Desk(AtOnce(), store)
        desk.effort = 0
        desk.chance = random.Random(1)
        desk.save_house(House(picks=5))
        yield Navigation(desk, make_look())


@pytest.mark.slow
def test_a_twist_is_chosen_and_dealt(routes):
    """From the house rules to the twists; the next deal has it, says so, and has it in its code."""
    house = routes.house_rules(routes.home())
    drawn(house, (1440, 1800), 1.0)
    scene = press(house, "t")
    drawn(scene, (1440, 1800), 1.0)
    click(scene, "twist mirror")
    assert kept_twist(routes.desk.store) == scene.choice == "mirror"
    told = routes.new_deal()
    assert isinstance(told, TwistPopup)
    assert told.sitting.state.house.twist == told.sitting.state.sheet.twist == "mirror"
    assert DealCode.parse(routes.desk.code_of(told.sitting)).house.twist == "mirror"
    drawn(told, SIZE, 1.0)
    table = press(told, "return")
    assert table is told.parent
    assert table.advisor.table.sheet is told.sitting.state.sheet
    drawn(table, SIZE, 1.0)
    more = press(table, "e")
    drawn(more, SIZE, 1.0)
    assert isinstance(press(more, "k"), TwistPopup)


def test_the_next_deal_of_the_same_kind_goes_by_the_choice(routes):
    """A twist by a deal's code is for that deal alone; with one chosen, every new deal has it."""
    sheet = routes.desk.current_sheet
    once = routes.deal_of(sheet, DealCode.of(sheet, House(picks=5, twist="ten"), 1)).sitting
    again = routes.deal_like(once)
    assert again.sitting.state.house == House(picks=5)
    assert again.sitting.state.sheet.chosen is None
    keep_twist(routes.desk.store, "petals")
    assert routes.deal_like(once).sitting.state.house == House(picks=5, twist="petals")


def test_a_surprise_is_drawn_among_those_that_fit():
    """Every one of them now and then; none that means nothing at a quiet table."""
    chance = random.Random(2)
    quiet, full = (Counter(twist_drawn(SURPRISE, table, chance) for _ in range(900)) for table in (QUIET, FULL))
    assert (len(quiet), set(full)) == (10, set(TWISTS))
    assert twist_drawn("slow", QUIET, chance) == twist_drawn("", FULL, chance) == ""
    assert twist_drawn("slow", FULL, chance) == "slow"


@pytest.mark.parametrize("kept", [3, None, "upside down", ["mirror"]])
def test_what_is_kept_of_the_choice_may_be_broken(routes, kept):
    """Then there is no twist."""
    routes.desk.store.set("twist", kept)
    assert kept_twist(routes.desk.store) == ""
    assert CHOICES[0] == ""


def test_deals_with_a_twist_are_not_counted(routes):
    """Neither in the ledger nor in the measure of play."""
    desk = routes.desk
    for twist in ("", "mirror"):
        code = DealCode.of(desk.current_sheet, House(picks=1, twist=twist), 4)
        sitting = desk.begin_sitting(desk.current_sheet, code)
        while not sitting.over:
            sitting.act(sitting.legal()[-1])
    lines = desk.store.lines(None, finished=True)
    assert [line.house.twist for line in sorted(lines, key=lambda line: line.id)] == ["", "mirror"]
    assert len(desk.ledgers().lines()) == len(desk.store.unreviewed()) == 1
    assert desk.store.save_review(line_of(sitting), 1, 0.5, 0) is False
    assert progress_of(desk.store).quiet.of == 1


@pytest.mark.slow
def test_a_deal_with_a_twist_is_resumed_as_it_was(routes):
    """From the store: the same sheet, tiles aside and wall."""
    desk, sheet = routes.desk, find("lantern-street")
    for twist in ("ten", "dragons"):
        sitting = desk.begin_sitting(sheet, DealCode.of(sheet, House(picks=5, passes=3, twist=twist), 4))
        again = desk.sitting_of(line_of(sitting))
        assert again.state == sitting.state
        assert again.state.sheet == sitting.state.sheet
        assert again.state.sheet.twist == (twist if twist == "dragons" else "")


def test_the_text_table_says_the_twist(routes):
    """What it changes, and what the advice leaves out."""
    sheet = routes.desk.current_sheet
    sitting = routes.desk.begin_sitting(sheet, DealCode.of(sheet, House(twist="flowers"), 1))
    assert opening(sitting) == [
        f"You play {sheet.name} at a quiet table.",
        "This deal has a twist.",
        "Flowers pay. Each flower in the hand that wins adds two points.",
        "The advice looks for the likeliest hand and does not weigh the extra points.",
    ]


def test_what_the_advice_leaves_out_is_said_beside_it(routes):
    """In the window under the figures, in the terminal behind the advice; nothing where it weighs the twist."""
    routes.desk.save_settings(replace(routes.desk.settings, advice=ALWAYS))
    sheet = routes.desk.current_sheet
    said = "The advice looks for the likeliest hand and does not weigh the extra points."
    for twist, there in (("flowers", True), ("mirror", False)):
        told = routes.deal_of(sheet, DealCode.of(sheet, House(picks=5, twist=twist), 1))
        texts = " ".join(one.text for one in drawn(told.parent, (1440, 1400), 1.0))
        assert (said in texts) is there
        assert (said in what_to_do(told.parent.advisor, told.sitting)) is there
