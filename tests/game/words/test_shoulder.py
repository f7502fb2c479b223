"""What is said of the seat that is looked at over the shoulder: by its name, and never to the player."""

import pytest

from game.words.practice.shoulder import of_seat


@pytest.mark.parametrize(
    ("said", "of_it"),
    [
        ("Go for Moth: both use your flowers.", "West goes for Moth: both use its flowers."),
        ("Stay open between Moth and Gale.", "West stays open between Moth and Gale."),
        ("Stay with Moth. Watch for the 3 dot: none.", "West stays with Moth. West watches for the 3 dot: none."),
        ("Turn from Moth to Gale: it can't be made.", "West turns from Moth to Gale: it can't be made."),
        ("You are one tile from Moth.", "West is one tile from Moth."),
        ("If anyone lets a 6 dot go, call it for mahjong.", "If anyone lets a 6 dot go, West calls it for mahjong."),
        ("It spends a joker and commits you to Moth.", "It spends a joker and commits West to Moth."),
        ("A call would commit you to Moth.", "A call would commit West to Moth."),
        ("The others see what you collect.", "The others see what it collects."),
        ("No hand is near enough for the draws left to you.", "No hand is near enough for the draws left to it."),
        ("The pung brings you to one tile.", "The pung brings West to one tile."),
        ("Your joker fills it. You would let it go.", "Its joker fills it. West would let it go."),
        ("Moth has no pung beside what you have exposed.", "Moth has no pung beside what it has exposed."),
    ],
)
def test_advice_is_said_of_a_seat(said, of_it):
    """Every form that speaks to a player."""
    assert of_seat(said, 2) == of_it
