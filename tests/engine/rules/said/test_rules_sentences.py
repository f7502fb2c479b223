"""One test for every sentence of the rules of play, which its docstring quotes.

The rules are common practice, no source; tests/data/rules_of_play.txt holds them, and the first test sees that none is
without its test.
"""

import sys
from collections import Counter
from dataclasses import fields, replace
from itertools import pairwise
from pathlib import Path

import pytest
from houses import EXAMPLES

from engine.rules.actions import Agree, Call, Discard, Draw, Exchange, IllegalActionError, LetGo, Mahjong, Pass
from engine.rules.deal import shuffle
from engine.rules.faults import find_faults
from engine.rules.game import apply, legal_actions
from engine.rules.house import FULL, SEATS, House
from engine.rules.matching import match
from engine.rules.refusals import HandFault
from engine.rules.state import CHANCE, Exposure, Phase, tiles_in
from engine.tiles import DRAGONS, FLOWER, JOKER, NAMES, WINDS, counts_of, kind_of, parse_tiles

SENTENCES = Path(__file__).parents[3] / "data" / "rules_of_play.txt"
NEARLY = "2x3d 3x8d 4x5d 3x6d 7d"
FIVE = kind_of("5d")


def test_every_sentence_has_its_test():
    """No sentence of the rules is left without a test that quotes it, and no test quotes two."""
    lines = SENTENCES.read_text(encoding="utf-8").splitlines()
    sentences = [line for line in lines if line and not line.startswith("#")]
    tests = [item for name, item in vars(sys.modules[__name__]).items() if name.startswith("test_")]
    quoted = Counter(" ".join(item.__doc__.split()) for item in tests)
    assert all(quoted[sentence] == 1 for sentence in sentences), [s for s in sentences if quoted[s] != 1]
    assert len(tests) == len(sentences) + 1


def refused(state, action):
    """The rule with which an action is refused."""
    assert action not in legal_actions(state)
    with pytest.raises(IllegalActionError) as caught:
        apply(state, action)
    return str(caught.value).partition(": ")[2]


def first_legal(state, until):
    """Take the first legal action until something holds."""
    while not until(state):
        state = apply(state, legal_actions(state)[0])
    return state


def test_house_rules_are_settings(kit):
    """Where a group plays otherwise it is a house rule, and a setting."""
    names = [field.name for field in fields(House)]
    assert names[:8] == ["table", "jokers", "picks", "seat", "passes", "courtesy", "blind", "slips"]
    assert set(names[8:]) == {*EXAMPLES, "twist"}
    assert kit.table(jokers=3, seat=1).house == House(jokers=3, seat=1)


def test_the_set():
    """152 tiles: three suits of 1 to 9, four of each (108); four winds, four of each (16); three dragons, four of each
    (12); 8 flowers, all alike; 8 jokers.
    """
    dealt = Counter(shuffle(1))
    assert sum(dealt.values()) == 152
    names = [name.split() for name in NAMES]
    for suit in ("bam", "crak", "dot"):
        ranks = [(kind, int(words[0])) for kind, words in enumerate(names) if words[-1] == suit]
        assert [rank for _, rank in ranks] == [1, 2, 3, 4, 5, 6, 7, 8, 9]
        assert sum(dealt[kind] for kind, _ in ranks) == 36
        assert {dealt[kind] for kind, _ in ranks} == {4}
    assert [dealt[kind] for kind in WINDS] == [4, 4, 4, 4]
    assert [dealt[kind] for kind in DRAGONS] == [4, 4, 4]
    assert (dealt[FLOWER], dealt[JOKER]) == (8, 8)


def test_the_number_of_jokers(kit):
    """House rules may set 0 to 10 jokers."""
    for jokers in range(11):
        assert tiles_in(kit.table(jokers=jokers))[JOKER] == jokers
    with pytest.raises(ValueError, match="jokers is 11; choose 0 to 10"):
        House(jokers=11)


def test_turn_order(kit):
    """Seats East, South, West, North; play runs to the right (East, South, West, North in turn order)."""
    state, turns = kit.table(table="full"), []
    while len(turns) < 9:
        if state.phase is Phase.TURN:
            turns.append(state.turn)
            state = kit.let_go(apply(state, Discard(state.racks[state.turn][-1])))
        else:
            state = apply(state, legal_actions(state)[0])
    assert turns == [0, 1, 2, 3, 0, 1, 2, 3, 0]


def test_the_deal(kit):
    """East starts with 14 tiles, the others with 13."""
    assert [len(rack) for rack in kit.table().racks] == [14, 13, 13, 13]


def test_the_players_seat(kit):
    """The player is East unless the house rules say otherwise."""
    assert House().seat == 0
    assert kit.table().to_act == 0
    state = kit.table(seat=2)
    assert apply(state, legal_actions(state)[0]).to_act == 2


def test_the_wall(kit):
    """99 tiles remain in the wall."""
    assert len(kit.table().wall) == 99


def rotation(kit, passes, first):
    """To which seat, counted to the right, each of the passes from `first` on brings its tiles."""
    steps = []
    for index in range(first, passes):
        state = first_legal(kit.table(passes=passes), lambda now, index=index: now.passes_done == index)
        state = first_legal(state, lambda now: now.phase is Phase.PASSING)
        outs = []
        for _ in range(4):  # four passes that can be told apart
            outs.append(next(action for action in legal_actions(state) if action not in outs and not action.blind))
            state = apply(state, outs[-1])
        steps += [
            step
            for step in (1, 2, 3)
            if all(sorted(state.handed[(seat + step) % 4][-1].came) == list(outs[seat].kinds) for seat in range(4))
        ]
    return steps


def test_the_first_round(kit):
    """First round, always played: three tiles right, three across, three left."""
    assert rotation(kit, 3, 0) == [1, 2, 3]
    state = first_legal(kit.table(passes=6), lambda now: now.phase is not Phase.PASSING)
    assert (state.phase, state.passes_done) == (Phase.AGREEING, 3)


def test_the_second_round(kit):
    """Second round, only if all four agree: left, across, right."""
    assert rotation(kit, 6, 3) == [3, 2, 1]
    state = first_legal(kit.table(passes=6), lambda now: now.phase is Phase.AGREEING)
    for _ in range(3):
        state = apply(state, Agree())
        assert state.phase is Phase.AGREEING
    assert apply(state, Agree()).phase is Phase.PASSING


def test_stopping_the_second_round(kit):
    """Anyone may stop it before it starts."""
    voting = first_legal(kit.table(passes=6), lambda now: now.phase is Phase.AGREEING)
    for against in range(4):
        lines = [f"{name} {'stop' if seat == against else 'agree'}" for seat, name in enumerate(SEATS)]
        assert kit.play(voting, "\n".join(lines)).phase is Phase.TURN


def test_the_courtesy_pass(kit):
    """Courtesy: across, 0 to 3 tiles; the two players exchange the smaller of the two numbers asked."""
    asking = first_legal(kit.table(passes=1, courtesy=True), lambda now: now.phase is Phase.ASKING)
    for asked in range(4):
        for other in range(4):
            state = kit.play(asking, f"east ask {asked}\nsouth ask 0\nwest ask {other}\nnorth ask 0")
            state = first_legal(state, lambda now: now.phase is Phase.TURN)
            came = [len(handed[-1].came) if min(asked, other) else 0 for handed in state.handed]
            assert came == [min(asked, other), 0, min(asked, other), 0]
            if min(asked, other):
                assert sorted(state.handed[2][-1].came) == sorted(state.handed[0][-1].out.kinds)


def test_jokers_and_passes(kit):
    """Jokers are never passed."""
    state = kit.table(passes=3, courtesy=True, east="jk jk jk")
    assert refused(state, Pass((JOKER, *[k for k in state.racks[0] if k != JOKER][:2]))) == "jokers are never passed."
    assert refused(state, Pass((JOKER, JOKER, JOKER))) == "jokers are never passed."


def test_the_blind_pass(kit):
    """Blind pass: on the last pass of a round (first left, second right) a player may pass on 1 to 3 of the tiles
    coming in, unseen, and make up three with tiles from the rack.
    """
    for index in range(6):
        state = first_legal(
            kit.table(passes=6), lambda now, index=index: now.passes_done == index and now.phase is Phase.PASSING
        )
        numbers = {action.blind: len(action.kinds) for action in legal_actions(state)}
        assert numbers == ({0: 3, 1: 2, 2: 1, 3: 0} if index in (2, 5) else {0: 3})
    third = first_legal(kit.table(passes=3), lambda now: now.passes_done == 2)
    goes = {seat: legal_actions(replace(third, to_act=seat)) for seat in range(4)}
    own = next(action for action in goes[0] if action.blind == 2)
    state = apply(third, own)
    for seat in (1, 2, 3):
        state = apply(state, goes[seat][0])
    from_south = [kind for kind in third.racks[1] if kind in goes[1][0].kinds]
    assert len(state.handed[0][-1].came) == 1  # two of South's three went on
    assert sorted((*state.handed[3][-1].came, *state.handed[0][-1].came)) == sorted((*own.kinds, *goes[1][0].kinds))
    assert set(state.handed[0][-1].came) <= set(from_south)


def test_east_passes_from_fourteen(kit):
    """East holds 14 during the passes and still passes three."""
    state = kit.table(passes=6, courtesy=True)
    while state.phase is not Phase.TURN:
        assert len(state.racks[0]) == 14
        if state.phase is Phase.PASSING and state.to_act == 0:
            assert {len(action.kinds) + action.blind for action in legal_actions(state)} == {3}
        state = apply(state, legal_actions(state)[0])


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


def test_concealed_hands(kit):
    """A hand marked concealed may hold no exposure; only its last tile may be called, for mahjong."""
    state = kit.table(table="full", east="2c", west="we ws ww wn 2x2c 3x1d 4xfl")
    state = kit.play(state, "east discard 2c")
    assert legal_actions(state) == (LetGo(), Mahjong())
    assert refused(state, Call(3)) == "“Vane” is concealed, so nothing of it may be exposed."
    assert kit.play(state, "west mahjong").outcome.hand.concealed
    early = kit.play(kit.table(table="full", east="2c", west="we ws ww 2x2c 3x1d 4xfl"), "east discard 2c")
    assert early.phase is Phase.DRAWING  # two tiles short: not even asked
    assert match(kit.sheet, counts_of(parse_tiles("we ws ww wn 3x1d 4xfl")), (Exposure(3, kind_of("2c")),)) is None


def test_mahjong(kit):
    """Mahjong: 14 tiles that are one variant of one hand on the sheet, exposures matching its groups."""
    for hand in kit.sheet.hands:
        for variant in hand.variants:
            if max(variant.total[:FLOWER]) <= 4:
                assert match(kit.sheet, variant.total) is not None
                less = list(variant.total)
                less[variant.groups[0].kind] -= 1
                assert match(kit.sheet, less) is None
    state = kit.play(kit.table(east=NEARLY + " 7d"), "east mahjong")
    assert state.outcome.variant in state.outcome.hand.variants
    assert counts_of(state.outcome.tiles) == state.outcome.variant.total


def test_the_wall_game(kit):
    """Wall game: the wall is used up; nobody scores."""
    for table in ("quiet", "full"):
        state = kit.table(table=table)
        while state.phase is not Phase.OVER:
            action = Discard(state.racks[state.turn][-1]) if state.phase is Phase.TURN else legal_actions(state)[0]
            state = apply(state, action)
        assert (state.outcome.kind, state.wall) == ("wall", ())
        assert (state.outcome.points, state.outcome.payments) == (0, (0, 0, 0, 0))


def test_dead_hands(kit):
    """Dead hand: wrong number of tiles, or exposures that no hand of the sheet allows."""
    tiles = counts_of(parse_tiles(NEARLY))
    assert faults_of(kit.sheet, tiles) == HandFault.WRONG_COUNT
    state = kit.table(table="full", slips=True, seat=2, east="wn", west="2xwn")
    state = kit.play(state, "east discard wn\nwest call pung")
    assert state.dead == (False, False, True, False)
    assert state.died[2].fault.fault is HandFault.EXPOSURE_FITS_NOTHING


def test_a_dead_player(kit):
    """A dead player pays but plays no more."""
    state = kit.table(table="full", slips=True, south=NEARLY, draws="7d")
    dead = kit.play(state, "east mahjong")
    won = kit.play(dead, "wall draw 7d\nsouth mahjong")
    assert won.outcome.payments == (-120, 360, -120, -120)
    turns = set()
    while dead.phase is not Phase.OVER:
        turns.add(dead.to_act)
        newest = Discard(dead.racks[dead.turn][-1])
        dead = apply(dead, newest if dead.phase is Phase.TURN else legal_actions(dead)[0])
    assert turns == {CHANCE, 1, 2, 3}


def test_a_mistaken_mahjong(kit):
    """A mistaken mahjong is called back before the hand is shown, or kills the hand if shown; in practice the game
    names the fault and, by setting, lets the player take it back.
    """
    mild = kit.table(table="full", east="3d jk 3x8d 4x5d 3x6d 2x7d")
    assert refused(mild, Mahjong()).startswith("“Landing” needs 2 of the 3 dot without a joker")
    assert mild.dead == (False,) * 4
    strict = kit.table(table="full", slips=True, east="3d jk 3x8d 4x5d 3x6d 2x7d")
    assert apply(strict, Mahjong()).dead == (True, False, False, False)


def test_who_pays(kit):
    """Won by a discard, the discarder pays double and the others single; self-drawn (a joker exchange that completes
    the hand included), all pay double.
    """
    jokered = "2x3d 3x8d 3x5d jk 3x6d 7d"
    state = kit.play(kit.table(table="full", east="7d", south=jokered), "east discard 7d\nsouth mahjong")
    assert state.outcome.payments == (-60, 120, -30, -30)
    state = kit.table(table="full", east="wn", south=jokered, draws="7d")
    state = kit.play(state, "east discard wn\nwall draw 7d\nsouth mahjong")
    assert state.outcome.payments == (-60, 180, -60, -60)
    state = kit.table(table="full", east="5d", west="5d 2xjk wn", north="2x3b 3x8b 4x5b 6b jk 2x7b", draws="5d")
    state = kit.play(state, "east discard 5d\nwest call kong jokers 2\nwest discard wn\nwall draw 5d")
    assert Mahjong() not in legal_actions(state)
    state = kit.play(state, "north exchange 5d seat 2 exposure 0\nnorth mahjong")
    assert state.outcome.payments == (-60, -60, -60, 180)


def test_doubling_without_jokers(kit):
    """A hand made without any joker doubles again, except a hand of singles and pairs only."""
    state = kit.play(kit.table(table="full", east="7d", south=NEARLY), "east discard 7d\nsouth mahjong")
    assert state.outcome.payments == (-120, 240, -60, -60)
    pairs = "1b 2x2b 2x2c 2x4c 2x4b 2x5b 2x6c"
    state = kit.play(kit.table(table="full", east="7b", south=pairs), "east discard 7b\nsouth mahjong")
    assert state.outcome.payments == (-100, 200, -50, -50)


def test_points_of_a_solo(kit):
    """In a solo count only what the winner would collect."""
    outcome = kit.play(kit.table(east=NEARLY + " 7d"), "east mahjong").outcome
    assert (outcome.points, outcome.payments) == (360, (0, 0, 0, 0))


def test_the_quiet_table(kit):
    """Quiet table: the other racks are dealt and take part in the passes, then only East draws and discards, to the
    end of the wall or to a limit of picks.
    """
    for picks, kind, draws in ((0, "wall", 99), (12, "picks", 12)):
        state = kit.table(passes=3, picks=picks)
        passed = set()
        while state.phase is Phase.PASSING:
            passed.add(state.to_act)
            state = apply(state, legal_actions(state)[0])
        assert passed == {0, 1, 2, 3}
        others = state.racks[1:]
        while state.phase is not Phase.OVER:
            assert state.turn == 0
            newest = Discard(state.racks[0][-1])
            state = apply(state, newest if state.phase is Phase.TURN else legal_actions(state)[0])
        assert (state.outcome.kind, state.picks, state.racks[1:]) == (kind, draws, others)


def test_the_full_table(kit):
    """Full table: three simulated seats draw, discard, call, expose, exchange jokers and win."""
    done = set()
    for seed in range(30):
        steps, last = kit.random_game(House(table=FULL), seed, kit.choose_keenly)
        done |= {
            type(action) for state, action in steps if (state.turn if state.to_act == CHANCE else state.to_act) != 0
        }
        done |= {"won"} if last.outcome.winner not in (None, 0) else set()
        done |= {"exposed"} if any(last.exposures[1:]) else set()
        if done >= {Draw, Discard, Call, LetGo, Exchange, Mahjong, "won", "exposed"}:
            return
    pytest.fail(f"thirty games show no more than {done}")


def test_the_faults(kit):
    """Faults the game must name (a set of flags, all of them at once)."""
    flags = {
        "WRONG_COUNT": (RIGHT + " 9b", (), {}),
        "NO_HAND": ("4x1b 4x2b 4x9d wn ws", (), {}),
        "OTHER_SHEET": ("4x1b 3x2c 3x5d 2x9c 2x9d", (), {"other_sheets": (kit.other,)}),
        "JOKER_IN_PAIR": ("3d jk 3x8d 4x5d 3x6d 2x7d", (), {}),
        "EXPOSED_CONCEALED": ("we ws ww wn 3x2c 3x1d", (Exposure(4, FLOWER),), {}),
        "EXPOSURE_FITS_NOTHING": ("2x3d 3x8d 3x6d 3x7d", (Exposure(3, kind_of("wn")),), {}),
        "TOO_MANY_ALIKE": ("5x5d 2x3d 3x8d 4x6d", (), {}),
    }
    assert set(flags) == {fault.name for fault in HandFault}  # a call or a pass is refused where it is tried
    for name, (tiles, exposures, more) in flags.items():
        assert HandFault[name] in faults_of(kit.sheet, counts_of(parse_tiles(tiles)), exposures, **more)
    several = faults_of(kit.sheet, counts_of(parse_tiles("9xfl")), (Exposure(3, 30),))
    assert len(list(several)) == 3


def faults_of(sheet, counts, exposures=(), **more):
    """All faults together, as flags."""
    found = HandFault(0)
    for one in find_faults(sheet, counts, exposures, **more):
        found |= one.fault
    return found


RIGHT = NEARLY + " 7d"


def test_fourteen_tiles(kit):
    """Fourteen tiles make a hand."""
    assert {sum(group.size for group in v.groups) for hand in kit.sheet.hands for v in hand.variants} == {14}
    for tiles in (NEARLY, RIGHT + " 7d"):
        assert match(kit.sheet, counts_of(parse_tiles(tiles))) is None


def test_the_commonest_slips(kit):
    """The two commonest slips on a new sheet are playing a hand of the last one and exposing on a concealed hand."""
    last = counts_of(parse_tiles("4x1b 3x2c 3x5d 2x9c 2x9d"))
    assert HandFault.OTHER_SHEET in faults_of(kit.sheet, last, other_sheets=(kit.other,))
    exposed = counts_of(parse_tiles("we ws ww wn 3x1d 4xfl"))
    assert faults_of(kit.sheet, exposed, (Exposure(3, kind_of("2c")),)) == HandFault.EXPOSED_CONCEALED
