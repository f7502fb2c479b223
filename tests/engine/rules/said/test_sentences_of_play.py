"""One test for every sentence of the rules on letting go, calling and jokers, which its docstring quotes.

The rules are common practice, no source; tests/data/rules_of_play.txt holds them.
"""

from itertools import pairwise

import pytest
from sentence_kit import FIVE, NEARLY, first_legal, refused

from engine.rules.actions import Call, Discard, Draw, Exchange, IllegalActionError, LetGo
from engine.rules.game import apply, legal_actions
from engine.rules.house import FULL, House
from engine.rules.matching import match
from engine.rules.state import Exposure, Phase
from engine.tiles import FLOWER, JOKER, counts_of, kind_of, parse_tiles


def test_the_first_discard(kit):
    """East discards first."""
    for passes in (0, 3):
        state = first_legal(kit.table(table="full", passes=passes), lambda now: now.phase is Phase.TURN)
        assert (state.turn, state.drawn, len(state.wall)) == (0, None, 99)
        assert all(isinstance(action, Discard) for action in legal_actions(state))


def test_drawing_and_discarding(kit):
    """Then each in turn draws one and discards one."""
    happened = []
    state = kit.table(table="full")
    while len(happened) < 12:
        action = legal_actions(state)[0]
        if state.phase is Phase.TURN:
            action = Discard(state.racks[state.turn][-1])
        if not isinstance(action, LetGo):
            happened.append((type(action), state.turn))
        state = apply(state, action)
    assert happened[0] == (Discard, 0)
    assert happened[1:9] == [(kind, seat) for seat in (1, 2, 3, 0) for kind in (Draw, Discard)]


def test_until_when_a_discard_may_be_called(kit):
    """A discard may be called until the next player has racked a drawn tile."""
    state = kit.play(kit.table(table="full", east="5d", west="2x5d", draws="1b"), "east discard 5d")
    assert Call(3) in legal_actions(state)
    state = kit.play(state, "west no call\nwall draw 1b")
    assert refused(state, Call(3)) == "a discard is called before the next tile is drawn, so this comes too late."


def test_calling_for_an_exposure(kit):
    """For an exposure the caller must hold the rest of a group of three to six alike (jokers may fill in), lays it
    face up and discards; play goes on from the caller.
    """
    state = kit.play(kit.table(table="full", east="fl", west="3xfl 2xjk we"), "east discard fl")
    sizes = {action.size for action in legal_actions(state) if isinstance(action, Call)}
    assert sizes == {4, 6}  # the flowers of this sheet's open hands
    state = kit.play(state, "west call sextet jokers 2")
    assert state.exposures[2] == (Exposure(6, FLOWER, 2),)
    assert len(state.racks[2]) == 8
    state = kit.play(state, "west discard we")
    assert (state.phase, state.turn) == (Phase.DRAWING, 3)
    poor = kit.play(kit.table(table="full", east="5d", west="5d", slips=True, seat=2), "east discard 5d")
    for size in (3, 4, 5, 6):
        assert "does not hold the rest of" in refused(poor, Call(size))


def test_calling_for_mahjong(kit):
    """For mahjong any tile may be called, a single or a pair included."""
    for rack, tile in (
        (NEARLY, "7d"),  # into a pair
        ("we ws ww 3x2c 3x1d 4xfl", "wn"),  # a single
        ("2x3d 3x8d 4x5d 2x6d 2x7d", "6d"),  # into a pung
        ("4xwe jk 3xww 2xfl 2b 2b dw", "6b"),  # a single of the season
    ):
        state = kit.play(kit.table(table="full", east=tile, west=rack), f"east discard {tile}\nwest mahjong")
        assert state.outcome.winner == 2


def test_the_order_of_calls(kit):
    """Mahjong goes before an exposure; of two like calls, the one next in turn order goes first."""
    state = kit.table(table="full", east="7d", south="7d jk 1d", north=NEARLY)
    state = kit.play(state, "east discard 7d\nsouth call pung jokers 1\nnorth mahjong")
    assert state.outcome.winner == 3
    state = kit.table(table="full", east="5d", south="5d jk 1d", west="5d jk 1d", north="5d jk 1d")
    state = kit.play(state, "east discard 5d")
    assert state.asked == (1, 2, 3)
    calls = "south {}\nwest {}\nnorth {}"
    pung, none = "call pung jokers 1", "no call"
    for chosen, turn in (((pung, pung, pung), 1), ((none, pung, pung), 2), ((none, none, pung), 3)):
        assert kit.play(state, calls.format(*chosen)).turn == turn
    vane = "we ws ww wn 3x2c 3x1d 3xfl"
    state = kit.table(table="full", east="fl", west=vane, north="4xfl jk 4x3c 2x3d 2x3b")
    assert kit.play(state, "east discard fl\nwest mahjong\nnorth mahjong").outcome.winner == 2


def test_a_discarded_joker(kit):
    """A discarded joker may not be called."""
    state = kit.table(table="full", slips=True, seat=1, east="jk", south="2x3d 3x8d 3x5d 3x6d 2x7d")
    assert match(kit.sheet, counts_of((*state.racks[1], JOKER))) is not None
    state = kit.play(state, "east discard jk")
    assert (state.phase, state.asked) == (Phase.DRAWING, ())


def test_a_tile_passed_over(kit):
    """A discarded tile once passed over is dead."""
    state = kit.table(table="full", east="5d 9b", west="2x5d", draws="1b 1c 1d 2b")
    state = kit.play(state, "east discard 5d\nwest no call")
    seen = []
    while not (state.phase is Phase.TURN and state.turn == 0):
        seen += [action for action in legal_actions(state) if isinstance(action, Call)]
        state = apply(state, Discard(state.drawn) if state.phase is Phase.TURN else legal_actions(state)[0])
    assert seen == []
    assert state.discards[0].called is False


def test_where_jokers_stand(kit):
    """Jokers stand for any tile in a group of three or more alike, never in a pair or a single (so not in the digits
    of a season or a set of four different winds).
    """
    for tiles, right in (
        ("2x3d 3x8d 4x5d 3x6d 2x7d", True),
        ("2x3d 3xjk 4x5d 3x6d 2x7d", True),
        ("2x3d jk 2xjk 4xjk jk 2x6d 2x7d", True),
        ("3d jk 3x8d 4x5d 3x6d 2x7d", False),
        ("2x2b 6b dw 2xjk 3xwe 3xww 2xfl", True),
        ("2b jk 6b dw 4xwe jk 3xww 2xfl", False),
        ("2x2b 6b jk 4xwe jk 3xww 2xfl", False),
        ("we ws ww wn 3xjk 3x1d 4xfl", True),
        ("we ws ww jk 3x2c 3x1d 4xfl", False),
    ):
        assert (match(kit.sheet, counts_of(parse_tiles(tiles))) is not None) == right


def test_the_joker_exchange(kit):
    """Joker exchange: in one's own turn, having drawn or called, a player may swap a real tile for a joker in any
    exposure on the table that stands for that tile, as often as possible, before discarding.
    """
    state = kit.table(table="full", east="5d", west="5d 2xjk 3d", north="5d 3x8c", draws="5d 8c")
    state = kit.play(state, "east discard 5d\nwest call kong jokers 2")
    assert not any(isinstance(action, Exchange) for action in legal_actions(state))  # West has no 5 dot
    state = kit.play(state, "west discard 3d\nwall draw 5d")  # North, having drawn
    state = kit.play(state, "north exchange 5d seat 2 exposure 0\nnorth exchange 5d seat 2 exposure 0")
    assert state.racks[3].count(JOKER) == 2
    assert state.exposures[2] == (Exposure(4, FIVE),)
    called = kit.table(table="full", east="5d 8c", west="5d 2xjk wn", north="5d 2x8c jk", draws="1b 2b")
    called = kit.play(called, "east discard 5d")
    called = kit.play(called, "west call kong jokers 2\nnorth no call")
    called = kit.until_turn_of(kit.play(called, "west discard wn"), 0)
    called = kit.play(called, "east discard 8c\nnorth call kong jokers 1\nnorth exchange 5d seat 2 exposure 0")
    assert called.phase is Phase.TURN  # North, having called, still has to discard
    waiting = kit.play(called, "north discard jk")
    with pytest.raises(IllegalActionError):
        apply(waiting, Exchange(3, 0, kind_of("8c")))


@pytest.mark.slow
def test_an_exposure_commits(kit):
    """An exposure commits: it can't be taken back, and each exposure must match a whole group of the hand finally
    shown, in size and tile.
    """
    rest = counts_of(parse_tiles("2x3d 3x8d 3x6d 2x7d"))
    assert match(kit.sheet, rest, (Exposure(4, FIVE),))[0].name == "Landing"
    with_fifth = counts_of(parse_tiles("2x3d 3x8d 3x6d 2x7d 5d"))
    assert match(kit.sheet, with_fifth, ()) is None
    assert match(kit.sheet, with_fifth, (Exposure(3, FIVE),)) is None  # the hand wants a kong
    assert match(kit.sheet, rest, (Exposure(4, kind_of("5c")),)) is None
    laid = 0
    for seed in range(6):
        steps, last = kit.random_game(House(table=FULL), seed, kit.choose_keenly)
        laid += sum(map(len, last.exposures))
        for (before, _), (after, _) in pairwise(steps):
            for seat in range(4):
                was = [(one.size, one.kind) for one in before.exposures[seat]]
                assert [(one.size, one.kind) for one in after.exposures[seat]][: len(was)] == was
    assert laid > 0
