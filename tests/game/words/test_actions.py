"""Sentences: every action and every end is said whole, and hidden tiles stay unsaid."""

import pytest

from engine.rules.actions import Agree, Ask, Call, Discard, Draw, Exchange, Give, LetGo, Mahjong, Pass, Stop
from engine.rules.state import CHANCE, Exposure
from game.words.actions import say_action, say_exposure, say_seat

FIVE = 22


@pytest.mark.parametrize(
    ("action", "seat", "tile", "sentence"),
    [
        (Discard(FIVE), 0, None, "East lets go the 5 dot."),
        (Draw(FIVE), 1, None, "South draws the 5 dot."),
        (Mahjong(), 2, None, "West shows mahjong."),
        (Mahjong(), 2, FIVE, "West calls the 5 dot for mahjong."),
        (Pass((0, 10, 27)), 3, None, "North passes 1 bam, 2 crak and east wind."),
        (Pass((0, 10), 1), 3, None, "North passes 1 bam and 2 crak, and one tile unseen."),
        (Pass((0,), 2), 3, None, "North passes 1 bam, and two tiles unseen."),
        (Pass((), 3), 3, None, "North passes on three tiles unseen."),
        (Agree(), 0, None, "East agrees to a second round of passes."),
        (Stop(), 0, None, "East stops the passes."),
        (Ask(0), 0, None, "East asks to exchange no tiles across."),
        (Ask(1), 0, None, "East asks to exchange one tile across."),
        (Give((0, 1)), 0, None, "East gives 1 bam and 2 bam across."),
        (LetGo(), 1, FIVE, "South does not call."),
        (Call(3), 1, FIVE, "South calls the 5 dot for a pung."),
        (Call(4, 1), 1, FIVE, "South calls the 5 dot for a kong, one joker in it."),
        (Call(6, 3), 1, None, "South calls the discard for a sextet, three jokers in it."),
        (Exchange(2, 0, FIVE), 1, None, "South puts the 5 dot into West's first exposure and takes the joker out."),
        (Exchange(1, 1, FIVE), 1, None, "South puts the 5 dot into its own second exposure and takes the joker out."),
    ],
)
def test_an_action_is_one_sentence(action, seat, tile, sentence):
    """The seat, what it did, and the tiles by name."""
    assert say_action(action, seat, tile) == sentence


@pytest.mark.parametrize(
    ("action", "sentence"),
    [
        (Draw(FIVE), "South draws a tile."),
        (Pass((0, 10), 1), "South passes three tiles."),
        (Give((0, 1)), "South gives two tiles across."),
        (Discard(FIVE), "South lets go the 5 dot."),
    ],
)
def test_what_others_may_not_know_is_left_out(action, sentence):
    """A draw, a pass and a courtesy pass of another seat name no tile; a discard does."""
    assert say_action(action, 1, hidden=True) == sentence


def test_seats_and_exposures_have_names():
    """Seats with a capital, exposures with their jokers."""
    assert [say_seat(seat) for seat in (*range(4), CHANCE)] == ["East", "South", "West", "North", "The wall"]
    assert say_exposure(Exposure(4, FIVE)) == "a kong of 5 dot"
    assert say_exposure(Exposure(3, FIVE, 2)) == "a pung of 5 dot, two jokers in it"
    assert str(Exposure(3, FIVE, 2)) == "pung 5d jokers 2"
    assert str(Exposure(5, FIVE)) == "quint 5d"
