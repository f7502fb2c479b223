"""Slips of the player: a wrong mahjong or exposure kills the hand, and how play goes on after it."""

from dataclasses import replace

from play_kit import NEARLY, refused

from engine.rules.actions import (
    Discard,
    Exchange,
    LetGo,
    Mahjong,
)
from engine.rules.game import apply, legal_actions
from engine.rules.state import Exposure, Phase
from engine.tiles import kind_of


def test_a_wrong_mahjong_kills_the_players_hand_where_slips_happen(kit):
    """The dead seat keeps its tiles, draws no more and is asked no more; the others play on."""
    state = kit.table(table="full", slips=True, draws="1b 1c 1d 2b")
    state = kit.play(state, "east mahjong")
    assert state.dead == (True, False, False, False)
    assert (state.phase, state.turn, len(state.racks[0])) == (Phase.DRAWING, 1, 14)
    turns = []
    while len(turns) < 6:
        if state.phase is Phase.TURN:
            turns.append(state.turn)
            state = kit.let_go(apply(state, Discard(state.drawn)))
        else:
            state = apply(state, legal_actions(state)[0])
    assert turns == [1, 2, 3, 1, 2, 3]


def test_only_the_player_slips(kit):
    """The other seats are never offered a wrong mahjong, the player always is."""
    state = kit.table(table="full", slips=True, seat=2, east="we")
    assert Mahjong() not in legal_actions(state)
    state = kit.play(state, "east discard we")
    assert state.asked == (2,)
    assert legal_actions(state) == (LetGo(), Mahjong())


def test_a_wrong_call_for_mahjong_leaves_the_discard_to_the_next_caller(kit):
    """South's slip kills South; North's pung is laid."""
    state = kit.table(table="full", slips=True, seat=1, east="5d", north="2x5d")
    state = kit.play(state, "east discard 5d\nsouth mahjong\nnorth call pung")
    assert state.dead == (False, True, False, False)
    assert (state.turn, len(state.exposures[3]), len(state.racks[1])) == (3, 1, 13)


def test_an_exposure_that_no_hand_allows_kills_the_players_hand(kit):
    """It goes back to the rack, the called tile with it, and the next seat to the right draws."""
    state = kit.table(table="full", slips=True, seat=2, east="wn", west="2xwn")
    state = kit.play(state, "east discard wn\nwest call pung")
    assert state.dead == (False, False, True, False)
    assert state.died[2].exposure == Exposure(3, kind_of("wn"))
    assert (state.phase, state.turn, state.exposures[2]) == (Phase.DRAWING, 3, ())
    assert (len(state.racks[2]), state.racks[2].count(kind_of("wn"))) == (14, 3)
    assert state.discards[-1].called


def test_the_jokers_of_a_dead_hand_may_still_be_exchanged(kit):
    """North takes the joker out of the exposure that West laid rightly, before another one killed the hand."""
    state = kit.table(table="full", slips=True, seat=2, east="5d", west="5d jk 2xwn 1b", north="wn", draws="wn 5d")
    state = kit.play(state, "east discard 5d\nwest call pung jokers 1\nwest discard 1b")
    state = kit.play(kit.let_go(state), "wall draw wn\nnorth discard wn\nwest call pung\nwall draw 5d")
    assert (state.dead[2], state.exposures[2], state.turn) == (True, (Exposure(3, kind_of("5d"), 1),), 3)
    assert Exchange(2, 0, kind_of("5d")) in legal_actions(state)


def test_a_dead_hand_pays_like_the_others(kit):
    """East is dead and lets nothing go, and pays when South wins."""
    state = kit.table(table="full", slips=True, south=NEARLY, draws="7d")
    state = kit.play(state, "east mahjong\nwall draw 7d\nsouth mahjong")
    assert state.outcome.payments == (-120, 360, -120, -120)


def test_a_wrong_mahjong_ends_a_quiet_game(kit):
    """Nobody else plays on, so the game is over with a dead hand."""
    state = kit.play(kit.table(slips=True), "east mahjong")
    assert (state.phase, state.outcome.kind, state.dead[0]) == (Phase.OVER, "dead", True)


def test_without_slips_a_wrong_mahjong_names_what_is_wrong(kit):
    """The refusal holds the first fault in words."""
    state = kit.table(east="2x3d 3x8d 4x5d 3x6d 7d jk")
    assert refused(state, Mahjong()) == (
        "“Landing” needs 2 of the 7 dot without a joker, since a joker can't stand for a single or in a pair."
    )


def test_the_last_live_seat_plays_on_alone(kit):
    """With three hands dead the fourth draws after its own discard, until the wall is used up or it wins."""
    state = kit.table(table="full", east="1b", draws="2b 3b")
    alone = kit.play(replace(state, dead=(False, True, True, True)), "east discard 1b")
    assert (alone.phase, alone.turn) == (Phase.DRAWING, 0)
    alone = kit.play(alone, "wall draw 2b\neast discard 2b\nwall draw 3b")
    assert (alone.phase, alone.turn, alone.to_act) == (Phase.TURN, 0, 0)
