"""Why not: a player who tries what is not offered hears the rule that it breaks, whoever is to act."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.rules.actions import Call, Discard, Draw, LetGo, Mahjong, Pass
from engine.rules.game import apply, legal_actions, why_not
from engine.rules.house import FULL, House
from engine.rules.refusals import Rule
from engine.rules.sentences import clause, sentence
from engine.rules.state import CHANCE, Phase
from engine.tiles import kind_of

CONCEALED = "we ws ww wn 2x2c 3x1d 3xfl"


def said(state, seat, action):
    """The refusal in words."""
    return f"{clause(why_not(state, seat, action))}."


@pytest.mark.parametrize(
    ("tile", "rack", "action", "rule"),
    [
        ("2c", CONCEALED, Call(3), "“Vane” is concealed, so nothing of it may be exposed."),
        ("wn", "2xwn", Call(3), "no open hand on Copper Kettle has a pung of north wind."),
        ("5d", "5d 2c", Call(2), "a single or a pair is called only for mahjong."),
        ("5d", "5d 2c", Call(3), "west does not hold the rest of a pung of 5 dot."),
        ("jk", "2x5d", Call(3), "a discarded joker may not be called."),
        ("jk", "2x3d 3x8d 3x5d 3x6d 2x7d", Mahjong(), "a discarded joker may not be called."),
        ("5d", "1c", Mahjong(), "no hand on Copper Kettle matches these tiles."),
    ],
)
def test_a_call_that_is_not_offered_is_explained(kit, tile, rack, action, rule):
    """West is not asked at all, and hears why its call would be wrong."""
    state = kit.play(kit.table(table="full", east=tile, west=rack), f"east discard {tile}")
    assert (state.phase, state.to_act) == (Phase.DRAWING, CHANCE)
    assert said(state, 2, action) == rule


def test_calling_at_other_moments(kit):
    """Too late, one's own discard, after letting go, after choosing, from a dead hand."""
    state = kit.play(kit.table(table="full", east="5d", west="2x5d", draws="1b"), "east discard 5d")
    assert said(state, 0, Call(3)) == "nobody calls a discard of their own."
    assert why_not(state, 2, Call(3)) is None
    gone = kit.play(state, "west no call")
    assert said(gone, 2, Call(3)) == "the discard was let go, and is dead."
    assert said(kit.play(gone, "wall draw 1b"), 2, Call(3)) == (
        "a discard is called before the next tile is drawn, so this comes too late."
    )
    both = kit.table(table="full", east="5d", south="jk jk 1d", north="2x5d 1d")
    both = kit.play(both, "east discard 5d\nsouth no call")
    assert said(both, 1, Call(3, 2)) == "south has chosen already."
    dead = kit.play(kit.table(table="full", slips=True, draws="1b"), "east mahjong\nwall draw 1b\nsouth discard 1b")
    assert said(dead, 0, Mahjong()) == "east's hand is dead, and calls no more."


def test_other_things_out_of_turn(kit):
    """Whose turn it is, and that only the player plays at a quiet table."""
    state = kit.table(table="full", east="wn")
    assert said(state, 1, Discard(0)) == "east is to act."
    assert said(state, 1, Call(3)).endswith("too late.")
    state = kit.play(state, "east discard wn")
    assert said(state, 1, Discard(0)) == "south draws from the wall next."
    quiet = kit.table(east="wn")
    assert said(quiet, 1, Discard(0)) == "only east plays at a quiet table."
    assert said(kit.table(passes=3), 2, Pass((0, 1, 2))) == "east is to act."
    over = kit.play(kit.table(slips=True), "east mahjong")
    assert said(over, 0, LetGo()) == "nothing more is played once it has ended."
    assert why_not(quiet, 0, Discard(99)).rule is Rule.KIND_RANGE


@settings(max_examples=8, deadline=None)
@given(st.integers(0, 10**6))
@pytest.mark.slow
def test_the_seat_to_act_may_do_what_is_legal_and_others_nothing(kit, seed):
    """None exactly for the legal actions of the seat to act."""
    steps, _ = kit.random_game(House(table=FULL, passes=3), seed, kit.choose_keenly)
    for state, action in steps[::7]:
        for seat in (CHANCE, 0, 1, 2, 3):
            assert (why_not(state, seat, action) is None) == (seat == state.to_act)
        if state.to_act != CHANCE:
            assert why_not(state, state.to_act, Draw(kind_of("5d"))) is not None
        assert action in legal_actions(state)
        assert apply(state, action) is not state


def test_the_seat_that_asks_is_called_you(kit):
    """To the seat that it is about a refusal says “you”; to anyone else it names the seat."""
    state = kit.play(kit.table(table="full", east="5d", west="5d 2c"), "east discard 5d")
    refusal = why_not(state, 2, Call(3))
    assert (refusal.rule, refusal.seat, refusal.number, refusal.kind) == (Rule.REST_NOT_HELD, 2, 3, kind_of("5d"))
    assert sentence(refusal, 2) == "You do not hold the rest of a pung of 5 dot."
    assert sentence(refusal, 0) == "West does not hold the rest of a pung of 5 dot."
    dead = kit.play(kit.table(table="full", slips=True, draws="1b"), "east mahjong\nwall draw 1b\nsouth discard 1b")
    assert sentence(why_not(dead, 0, Mahjong()), 0) == "Your hand is dead, and calls no more."
