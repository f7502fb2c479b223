"""One test for every sentence of the rules on how games end and what is paid, which its docstring quotes.

The rules are common practice, no source; tests/data/rules_of_play.txt holds them.
"""

import pytest
from sentence_kit import NEARLY, refused

from engine.rules.actions import Call, Discard, Draw, Exchange, LetGo, Mahjong
from engine.rules.faults import find_faults
from engine.rules.game import apply, legal_actions
from engine.rules.house import FULL, House
from engine.rules.matching import match
from engine.rules.refusals import HandFault
from engine.rules.state import CHANCE, Exposure, Phase
from engine.tiles import FLOWER, counts_of, kind_of, parse_tiles


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
