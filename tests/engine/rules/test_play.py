"""Play at both tables: turns, calls and their order, exposures, joker exchange, and every way to end."""

from dataclasses import replace

import pytest
from play_kit import NEARLY, full, laid, refused

from engine.rules.actions import (
    Agree,
    Call,
    Discard,
    Draw,
    Exchange,
    LetGo,
    Mahjong,
    MalformedActionError,
)
from engine.rules.game import apply, legal_actions
from engine.rules.state import CHANCE, Discarded, Exposure, Phase
from engine.tiles import JOKER, kind_of, parse_tiles


def test_the_quiet_table_goes_discard_draw_discard(kit):
    """East discards from 14, draws the wall's next tile, discards; nobody else takes part."""
    state = kit.table(east=NEARLY + " 9b", draws="1b 2b")
    assert (state.phase, state.turn, state.to_act, state.drawn) == (Phase.TURN, 0, 0, None)
    state = kit.play(state, "east discard 9b")
    assert (state.phase, state.to_act, legal_actions(state)) == (Phase.DRAWING, CHANCE, (Draw(kind_of("1b")),))
    state = kit.play(state, "wall draw 1b")
    assert (state.drawn, state.picks, len(state.wall)) == (0, 1, 98)
    state = kit.play(state, "east discard 1b\nwall draw 2b")
    assert state.discards == (Discarded(0, 8), Discarded(0, 0))
    assert state.racks[0][-1] == kind_of("2b")


def test_a_drawn_tile_can_finish_the_hand(kit):
    """Mahjong is offered exactly when the hand is right, and ends the game with its outcome."""
    state = kit.table(east=NEARLY + " 9b", draws="7d")
    assert Mahjong() not in legal_actions(state)
    assert refused(state, Mahjong()) == "no hand on Copper Kettle matches these tiles."
    state = kit.play(state, "east discard 9b\nwall draw 7d\neast mahjong")
    outcome = state.outcome
    assert (state.phase, state.to_act, legal_actions(state)) == (Phase.OVER, CHANCE, ())
    assert (outcome.kind, outcome.winner, outcome.hand.name) == ("mahjong", 0, "Landing")
    assert (outcome.self_drawn, outcome.discarder, outcome.jokerless) == (True, None, True)
    assert (outcome.points, outcome.payments) == (360, (0, 0, 0, 0))
    assert refused(state, Discard(0)) == "nothing more is played once it has ended."


def test_a_dealt_hand_can_be_shown_at_once(kit):
    """East's fourteen may be a hand before any discard."""
    state = kit.play(kit.table(east=NEARLY + " 7d"), "east mahjong")
    assert state.outcome.self_drawn


def test_the_limit_of_picks_ends_the_game_after_the_last_discard(kit):
    """Two picks: two draws, and the game ends when the second is followed by a discard."""
    state = kit.play(kit.table(draws="1b 2b", picks=2), "east discard we\nwall draw 1b\neast discard 1b\nwall draw 2b")
    assert state.phase is Phase.TURN
    state = kit.play(state, "east discard 2b")
    assert (state.phase, state.outcome.kind, state.outcome.points) == (Phase.OVER, "picks", 0)


def test_the_wall_used_up_is_a_wall_game(kit):
    """99 draws, then the last discard ends it."""
    for rules in ({}, {"picks": 99}, {"seat": 2}):
        state = kit.table(**rules)
        while state.phase is not Phase.OVER:
            draws = state.phase is Phase.DRAWING
            state = apply(state, legal_actions(state)[0] if draws else Discard(state.racks[state.turn][-1]))
        assert (state.outcome.kind, state.picks, state.wall) == ("wall", 99, ())
        assert state.outcome.payments == (0, 0, 0, 0)


def test_a_joker_may_be_let_go(kit):
    """It is a foolish discard, and a legal one."""
    state = kit.play(kit.table(east="jk", table="full"), "east discard jk")
    assert state.phase is Phase.DRAWING


@pytest.mark.parametrize(
    ("action", "said"),
    [
        (Discard(kind_of("9d")), "east holds no 9 dot."),
        (LetGo(), "the seat in turn discards, exchanges a joker or shows mahjong."),
        (Agree(), "the seat in turn discards, exchanges a joker or shows mahjong."),
        (Call(3), "a discard is called before the next tile is drawn, so this comes too late."),
        (Exchange(0, 0, 0), "east has laid 0 exposures, counted from 0."),
        (Draw(0), "the seat in turn discards, exchanges a joker or shows mahjong."),
    ],
)
def test_in_a_turn_other_things_are_refused(kit, action, said):
    """One clear sentence names the rule."""
    assert refused(kit.table(east="3x1b 9b"), action) == said


def test_the_wall_gives_its_next_tile_and_no_other(kit):
    """A draw of another tile, or a discard while the draw is due, is refused."""
    state = kit.play(kit.table(east=NEARLY + " 9b", draws="1b"), "east discard 9b")
    assert refused(state, Draw(5)) == "the next tile of the wall is the 1 bam."
    assert refused(state, Discard(0)) == "east draws from the wall next."
    assert refused(state, Call(3)) == "east draws from the wall next."


def test_no_action_at_all_is_malformed(kit):
    """Another type, or a kind of tile that is none, is no action; the phase is named all the same."""
    for value in (None, "discard 1b", Discard("1b"), Discard(99), Call(9), object()):
        with pytest.raises(MalformedActionError, match="is no action in a turn or anywhere"):
            apply(kit.table(), value)


# The full table


def test_nobody_asked_the_next_seat_draws(kit):
    """Play runs to the right."""
    state = full(kit, east="5d", draws="1b 1c 1d 2b")
    for seat, tile in ((1, "1b"), (2, "1c"), (3, "1d"), (0, "2b")):
        assert (state.phase, state.turn, state.to_act) == (Phase.DRAWING, seat, CHANCE)
        state = apply(state, Draw(kind_of(tile)))
        assert (state.phase, state.turn, state.to_act, state.drawn) == (Phase.TURN, seat, seat, kind_of(tile))
        state = kit.let_go(apply(state, Discard(kind_of(tile))))
    assert state.picks == 1


def test_a_called_discard_becomes_an_exposure_and_the_caller_discards(kit):
    """West calls over South's head; play goes on from West."""
    state = full(kit, east="5d", west="2x5d jk we")
    assert (state.phase, state.asked, state.to_act, state.turn) == (Phase.CALLING, (2,), 2, 0)
    assert [str(a) for a in legal_actions(state)] == [
        "no call",
        "call pung",
        "call pung jokers 1",
        "call kong jokers 1",
    ]
    state = kit.play(state, "west call kong jokers 1")
    assert state.exposures[2] == (Exposure(4, kind_of("5d"), 1),)
    assert (len(state.racks[2]), JOKER in state.racks[2]) == (10, False)
    assert state.discards == (Discarded(0, kind_of("5d"), called=True),)
    assert (state.phase, state.turn, state.to_act, state.drawn) == (Phase.TURN, 2, 2, None)
    state = kit.play(state, "west discard we")
    assert (state.phase, state.turn) == (Phase.DRAWING, 3)


def test_of_two_like_calls_the_next_in_turn_order_goes_first(kit):
    """South and North both call a pung: South gets it."""
    state = full(kit, east="5d", south="jk jk 1d", north="5d 5d 1d", draws="1b")
    state = kit.play(state, "south call pung jokers 2\nnorth call pung")
    assert (state.turn, len(state.exposures[1]), len(state.exposures[3])) == (1, 1, 0)


def test_mahjong_goes_before_an_exposure(kit):
    """South calls a pung, North mahjong: North wins, though South sits nearer."""
    racks = {"east": "7d", "south": "7d jk 1d", "north": NEARLY}
    state = kit.play(kit.table(table="full", **racks), "east discard 7d")
    assert state.asked == (1, 3)
    state = kit.play(state, "south call pung jokers 1\nnorth mahjong")
    outcome = state.outcome
    assert (outcome.winner, outcome.discarder, outcome.self_drawn) == (3, 0, False)
    assert outcome.tiles == (*parse_tiles(NEARLY), kind_of("7d"))
    assert state.racks[3] == outcome.tiles
    assert state.discards[-1].called


def test_of_two_mahjongs_the_next_in_turn_order_wins(kit):
    """West before North when East lets the tile go, though both are right."""
    vane = "we ws ww wn 3x2c 3x1d 3xfl"
    racks = {"east": "fl", "west": vane, "north": "4xfl jk 4x3c 2x3d 2x3b"}
    state = kit.play(kit.table(table="full", **racks), "east discard fl\nwest mahjong\nnorth mahjong")
    assert (state.outcome.winner, state.outcome.hand.name) == (2, "Vane")


def test_a_single_or_pair_is_called_only_for_mahjong(kit):
    """The last 7 dot of a pair may be called to win; a pair is no exposure."""
    state = full(kit, east="5d", west="2x5d jk")
    assert refused(state, Call(2)) == "a single or a pair is called only for mahjong."
    assert refused(state, Call(1)) == "a single or a pair is called only for mahjong."
    state = kit.play(kit.table(table="full", east="7d", south=NEARLY), "east discard 7d\nsouth mahjong")
    assert state.outcome.hand.name == "Landing"


def test_a_concealed_hand_may_call_only_its_last_tile(kit):
    """A pung of Vane can't be exposed; its last tile may be called, for mahjong, into any group."""
    racks = {"south": "we ws ww wn 2x2c 3x1d 4xfl"}
    state = kit.play(kit.table(table="full", east="2c", **racks), "east discard 2c")
    assert legal_actions(state) == (LetGo(), Mahjong())
    assert refused(state, Call(3)) == "“Vane” is concealed, so nothing of it may be exposed."
    assert kit.play(state, "south mahjong").outcome.hand.name == "Vane"


def test_a_discarded_joker_may_not_be_called(kit):
    """Not even for mahjong."""
    state = kit.play(kit.table(table="full", east="jk", south="3d 3d 3x8d 4x5d 2x6d 2x7d"), "east discard jk")
    assert state.phase is Phase.DRAWING


def test_a_discard_passed_over_is_dead(kit):
    """Once South has drawn, East's tile can't be called any more."""
    state = full(kit, east="5d", west="2x5d jk", draws="1b")
    state = kit.play(state, "west no call\nwall draw 1b")
    assert refused(state, Call(3)).endswith("too late.")


def test_a_call_is_judged_by_what_the_set_can_make(kit):
    """The wall of a set with one joker can't make two fives alike, so nobody is asked for a quint or its kong."""
    fives = {"east": "5d", "west": "3x5d jk"}
    state = full(kit, **fives)
    assert Call(5, 1) in legal_actions(state)
    alone = kit.table(table="full", jokers=1, sheet=kit.sheet.cut(["Long ones"]), **fives)
    state = apply(alone, Discard(kind_of("5d")))
    assert state.phase is Phase.CALLING
    assert {action.size for action in legal_actions(state) if isinstance(action, Call)} == {4}
    assert (
        refused(state, Call(5, 1)) == "with one joker in the set, no open hand on Copper Kettle has a quint of 5 dot."
    )


def test_a_call_needs_the_rest_of_the_group_in_the_rack(kit):
    """Two alike beside the discard make a pung, no kong."""
    state = full(kit, east="5d", west="2x5d")
    assert refused(state, Call(4)) == "west does not hold the rest of a kong of 5 dot."
    assert refused(state, Call(3, 1)) == "west does not hold the rest of a pung of 5 dot."


def test_an_exposure_must_suit_some_hand_of_the_sheet(kit):
    """No hand has a pung of north winds, so nobody is asked; none has a pung of east winds, and the refusal says so."""
    state = kit.play(kit.table(table="full", east="wn", west="2xwn"), "east discard wn")
    assert state.phase is Phase.DRAWING
    state = kit.play(kit.table(table="full", east="we", west="3xwe"), "east discard we")
    assert legal_actions(state) == (LetGo(), Call(4))
    assert refused(state, Call(3)) == "no open hand on Copper Kettle has a pung of east wind."


def test_exposures_must_suit_one_hand_together(kit):
    """Each group is on some hand, both together are on none; the refusal names them."""
    state = kit.table(table="full", east="5d we", west="2x5d jk 3xwe")
    state = kit.play(state, "east discard 5d\nwest call pung\nwest discard jk")
    state = kit.play(kit.until_turn_of(state, 0), "east discard we")
    assert state.phase is Phase.DRAWING  # West holds three more, and is not asked
    calling = replace(state, phase=Phase.CALLING, turn=0, to_act=2, asked=(2,))
    assert refused(calling, Call(4)) == (
        "no open hand on Copper Kettle has a pung of 5 dot and a kong of east wind together."
    )


def test_a_joker_is_exchanged_for_the_tile_it_stands_for(kit):
    """North swaps its 5 dot into West's kong, holds the joker, and may go on or discard."""
    state = kit.play(laid(kit), "wall draw 5d\nnorth exchange 5d seat 2 exposure 0")
    assert state.exposures[2] == (Exposure(4, kind_of("5d"), 1),)
    assert state.racks[3][-1] == JOKER
    assert (state.phase, state.turn, state.drawn) == (Phase.TURN, 3, None)
    assert refused(state, Exchange(2, 0, kind_of("5d"))) == "north holds no 5 dot to give for the joker."


def test_several_jokers_may_be_exchanged_in_one_turn(kit):
    """As often as possible, until no joker is left in the exposure."""
    state = kit.play(laid(kit, north="5d"), "wall draw 5d\n" + "north exchange 5d seat 2 exposure 0\n" * 2)
    assert state.exposures[2] == (Exposure(4, kind_of("5d")),)
    assert state.racks[3].count(JOKER) == 2
    assert refused(state, Exchange(2, 0, kind_of("5d"))) == "there is no joker in that exposure."


def test_one_may_take_the_joker_out_of_ones_own_exposure(kit):
    """West draws the fourth 5 dot later and swaps it into its own kong."""
    state = kit.until_turn_of(laid(kit, draws="1b 1c 1d 5d"), 2)
    state = kit.play(state, "west exchange 5d seat 2 exposure 0")
    assert state.racks[2][-1] == JOKER


def test_an_exchange_names_the_tile_of_the_exposure(kit):
    """Another tile can't take a joker out, and an exposure that isn't there can't give one."""
    state = kit.play(laid(kit), "wall draw 5d")
    assert refused(state, Exchange(2, 0, 0)) == "that exposure is of the 5 dot, which its jokers stand for."
    assert refused(state, Exchange(2, 1, kind_of("5d"))) == "west has laid 1 exposures, counted from 0."


def test_an_exchange_that_completes_the_hand_is_self_drawn(kit):
    """North lacks one tile of a pung, takes a joker for its odd 5 dot, and all pay double."""
    state = laid(kit, north="2x3b 3x8b 4x5b 6b jk 2x7b")
    state = kit.play(state, "wall draw 5d\nnorth exchange 5d seat 2 exposure 0\nnorth mahjong")
    assert (state.outcome.self_drawn, state.outcome.discarder) == (True, None)
    assert state.outcome.payments == (-60, -60, -60, 180)


def test_showing_after_an_exposure_that_completed_the_hand_is_won_by_that_discard(kit):
    """Calling for an exposure and then showing pays no better than calling for mahjong."""
    racks = {"east": "5d", "west": "2x3d 3x8d 2x5d jk 3x6d 2x7d"}
    state = kit.play(kit.table(table="full", **racks), "east discard 5d\nwest call kong jokers 1\nwest mahjong")
    assert (state.outcome.self_drawn, state.outcome.discarder) == (False, 0)
    assert state.outcome.payments == (-60, -30, 120, -30)


def test_a_call_and_then_an_exchange_that_completes_the_hand_is_self_drawn(kit):
    """The called tile did not finish it, the joker taken afterwards did."""
    south = "2x3b 3x8b 3x5b 2x6b 7b 5d 7b"
    state = laid(kit, north="5b", south=south, draws="8c")
    state = kit.play(state, "wall draw 8c\nnorth discard 5b\nsouth call kong\nsouth exchange 5d seat 2 exposure 0")
    assert state.called_from is None
    state = kit.play(state, "south mahjong")
    assert (state.outcome.self_drawn, state.outcome.discarder, state.outcome.jokerless) == (True, None, False)


def test_swapping_a_joker_in_a_finished_hand_does_not_make_it_self_drawn(kit):
    """The called tile had finished it, so the discarder still pays double and the others single."""
    south = "2x3d 2x8d 2x5d 2xjk 3x6d 2x7d"
    state = kit.table(table="full", east="5d", south=south, west="5d 2xjk wn", north="8d", draws="8c")
    state = kit.play(state, "east discard 5d\nsouth no call\nwest call kong jokers 2\nwest discard wn\nwall draw 8c")
    state = kit.play(state, "north discard 8d\nsouth call pung\nsouth exchange 5d seat 2 exposure 0\nsouth mahjong")
    assert (state.outcome.self_drawn, state.outcome.discarder) == (False, 3)
    assert state.outcome.payments == (-30, 120, -30, -60)


def test_a_hand_exposed_to_the_last_tile_can_only_be_shown(kit):
    """With all fourteen face up there is nothing to let go; mahjong is the one action left."""
    state = kit.table(table="full", east="4b", west="3x4b", north="1b")
    exposures = (Exposure(5, 0, 1), Exposure(5, 1, 1))
    east = kind_of("we")
    state = replace(state, exposures=((), (), exposures, ()), racks=(*state.racks[:2], (east,) * 3, state.racks[3]))
    state = replace(state, racks=((east, *state.racks[0][1:]), *state.racks[1:]))
    state = kit.play(state, "east discard we\nwest call kong")
    assert legal_actions(state) == (Mahjong(),)
    assert apply(state, Mahjong()).outcome.discarder == 0


def test_the_last_discard_may_still_be_called(kit):
    """With the wall used up the calls come first, then it is a wall game."""
    state = replace(kit.table(table="full", east="7d", south=NEARLY), wall=())
    state = kit.play(state, "east discard 7d")
    assert state.phase is Phase.CALLING
    assert apply(state, Mahjong()).outcome.winner == 1
    assert apply(state, LetGo()).outcome.kind == "wall"
