"""House rules in words, and what each seat pays by them."""

import pytest
from houses import EXAMPLES
from kit import Kit, hand, practice_sheet, sheet_of

from engine.rules.house import FULL, House
from game.words.house import house_words, unusual_words
from game.words.situation import payments

KIT = Kit(practice_sheet(), sheet_of("Tin Kettle", "2030", hand("Old", "Old", [[(6, 34), (4, 0), (4, 9)]])))
NEARLY = "2x3d 3x8d 4x5d 3x6d 7d"


def test_the_line_of_a_usual_table_says_no_more_than_it_did():
    """Rules that are as usual are not named."""
    assert house_words(House(table=FULL, passes=6, courtesy=True)) == (
        "full table, you are East, 8 jokers, two rounds of passes, courtesy pass"
    )
    assert house_words(House(courtesy=True)) == "quiet table, you are East, 8 jokers, all of the wall, no passes"


@pytest.mark.parametrize("name", EXAMPLES)
def test_each_later_rule_has_one_clause(name):
    """And it stands in the line of the table."""
    house = House(**{"table": FULL, "passes": 6, name: EXAMPLES[name]})
    (clause,) = unusual_words(house)
    assert house_words(house).endswith(f", {clause}")


def test_the_clauses():
    """Written out."""
    house = House(**{"table": FULL, "passes": 6, **EXAMPLES})
    assert unusual_words(house) == [
        "the second round is always played",
        "blind passes in the second round only",
        "no calls in the last 16 tiles of the wall",
        "whoever lets the last tile go pays for all",
        "a self-drawn hand is paid single",
        "a hand without jokers does not double",
        "ten points more with nothing exposed",
        "nobody loses more than 200 points",
        "a mistaken mahjong costs 25 points to each other seat",
        "East stays East after winning",
        "the others are sharp to the right, steady across and beginner to the left",
    ]


WON_BY_DRAWING = "east discard 1b\nwall draw 7d\nsouth mahjong"


def test_a_self_drawn_hand_is_paid_double():
    """Landing counts 30, 60 without a joker: each pays 120, and is told why."""
    state = KIT.table(table="full", east="1b", south=NEARLY, draws="7d")
    said = [one.sentence for one in payments(KIT.play(state, WON_BY_DRAWING))]
    assert said == [
        "You pay 120 points, double since the last tile was self-drawn.",
        "South collects 360 points.",
        "West pays 120 points, double since the last tile was self-drawn.",
        "North pays 120 points, double since the last tile was self-drawn.",
    ]


def test_a_self_drawn_hand_that_the_house_does_not_double_is_not_said_to_be():
    """Each pays 60, with no reason behind it."""
    state = KIT.table(table="full", east="1b", south=NEARLY, draws="7d", self_drawn_doubles=False)
    said = [one.sentence for one in payments(KIT.play(state, WON_BY_DRAWING))]
    assert said == ["You pay 60 points.", "South collects 180 points.", "West pays 60 points.", "North pays 60 points."]


@pytest.mark.parametrize(
    ("rules", "east", "west"),
    [
        ({}, "You pay 120 points, double for letting the last tile go.", "West pays 60 points."),
        (
            {"discarder_pays_all": True},
            "You pay 240 points, for all three for letting the last tile go.",
            "West pays nothing.",
        ),
        (
            {"loss_limit": 100},
            "You pay 100 points, double for letting the last tile go, the most that a seat may lose here.",
            "West pays 60 points.",
        ),
    ],
)
def test_whoever_lets_the_last_tile_go_is_told_why_it_costs_more(rules, east, west):
    """Double, for all, or as much as the house lets a seat lose."""
    state = KIT.table(table="full", east="7d", south=NEARLY, **rules)
    said = [one.sentence for one in payments(KIT.play(state, "east discard 7d\nsouth mahjong"))]
    assert (said[0], said[2]) == (east, west)


def test_a_mistaken_mahjong_is_told_to_payer_and_paid():
    """What it costs is part of what a seat pays."""
    state = KIT.table(table="full", slips=True, mistake_pays=25, south=NEARLY, draws="7d")
    said = [one.sentence for one in payments(KIT.play(state, "east mahjong\nwall draw 7d\nsouth mahjong"))]
    assert said[0] == (
        "You pay 195 points, double since the last tile was self-drawn, with what a mistaken mahjong costs."
    )
    assert said[1] == "South collects 385 points, with what it gets for a mistaken mahjong."
