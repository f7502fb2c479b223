"""Observation: a seat knows what it could see at a real table, and no tile more."""

import random
from collections import Counter
from dataclasses import replace

import pytest
from depth import deep
from houses import HOUSES
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.rules.actions import Call, Discard, LetGo, Pass
from engine.rules.game import apply, legal_actions
from engine.rules.house import FULL, QUIET, House
from engine.rules.observation import observe
from engine.rules.state import CHANCE, Exposure, Phase, tiles_in
from engine.tiles import BAMS, FLOWER, JOKER, code, counts_of, full_set, kind_of, parse_tiles

SEEDS = st.integers(0, 10**9)


def permuted(state, seat, chance):
    """The same table with all tiles that the seat can't see dealt out anew, and other hidden choices replaced."""
    shown = state.outcome.winner if state.outcome else None
    hidden = [other for other in range(4) if other not in (seat, shown)]
    pool = [*state.wall, *(kind for other in hidden for kind in state.racks[other])]
    chance.shuffle(pool)
    racks = list(state.racks)
    for other in hidden:
        racks[other] = tuple(pool.pop() for _ in state.racks[other])
    handed, chosen = list(state.handed), list(state.chosen)
    for other in range(4):
        if other != seat:
            handed[other] = tuple(
                replace(
                    one,
                    out=replace(one.out, kinds=tuple(chance.choices(range(35), k=len(one.out.kinds)))),
                    came=tuple(chance.choices(range(35), k=len(one.came))),
                )
                for one in state.handed[other]
            )
            if isinstance(chosen[other], Pass):
                chosen[other] = replace(
                    chosen[other], kinds=tuple(chance.choices(range(35), k=len(chosen[other].kinds)))
                )
            elif chosen[other] is not None:
                chosen[other] = LetGo()
    return replace(state, wall=tuple(pool), racks=tuple(racks), handed=tuple(handed), chosen=tuple(chosen))


def same(one, other):
    """Equal, and equal in all that is worked out from it."""
    assert one == other
    for name in ("counts", "visible", "unseen", "last_discard"):
        assert getattr(one, name) == getattr(other, name)


@settings(max_examples=deep(15, 40), deadline=None)
@given(HOUSES, SEEDS)
@pytest.mark.slow
def test_permuting_unseen_tiles_leaves_every_observation_equal(kit, house, seed):
    """At every moment of a game, for each seat, wall and other racks may be anything."""
    chance = random.Random(seed)
    steps, last = kit.random_game(house, seed, kit.choose_keenly if seed % 3 else kit.choose_any)
    states = [state for state, _ in steps]
    for state in (*chance.sample(states, min(12, len(states))), last):
        for seat in range(4):
            same(observe(state, seat), observe(permuted(state, seat, chance), seat))


@settings(max_examples=deep(8, 20), deadline=None)
@given(SEEDS)
@pytest.mark.slow
def test_nothing_leaks_through_what_follows_a_discard(kit, seed):
    """After a discard in a permuted world, the discarder sees the same: whether others are asked is not told."""
    chance = random.Random(seed)
    steps, _ = kit.random_game(House(table=FULL), seed, kit.choose_keenly)
    turns = [(state, action) for state, action in steps if state.phase is Phase.TURN and isinstance(action, Discard)]
    for state, action in chance.sample(turns, min(10, len(turns))):
        seat = state.turn
        if state.wall:
            here = apply(state, action)
            there = apply(permuted(state, seat, chance), action)
            same(observe(here, seat), observe(there, seat))


def test_others_being_asked_looks_like_the_draw_that_would_follow(kit):
    """Only West can call: South, North and East see the draw due; West sees the call."""
    state = kit.play(kit.table(table="full", east="5d", west="2x5d"), "east discard 5d")
    assert (state.phase, state.to_act) == (Phase.CALLING, 2)
    for seat in (0, 1, 3):
        seen = observe(state, seat)
        assert (seen.phase, seen.to_act, seen.turn, seen.legal) == (Phase.DRAWING, CHANCE, 1, ())
    west = observe(state, 2)
    assert (west.phase, west.to_act, west.turn) == (Phase.CALLING, 2, 0)
    assert west.legal == (LetGo(), Call(3))
    after = kit.play(state, "west no call")
    for seat in range(4):
        assert observe(after, seat).phase is Phase.DRAWING
    assert observe(after, 1) == observe(state, 1)


def test_a_seat_that_waits_for_another_callers_choice_is_not_told(kit):
    """South has chosen, North is due: North's turn to choose shows to North alone."""
    state = kit.table(table="full", east="5d", south="jk jk 1d", north="2x5d 1d")
    state = kit.play(state, "east discard 5d")
    assert observe(state, 3).to_act == CHANCE
    assert observe(state, 3).legal == ()
    state = kit.play(state, "south call pung jokers 2")
    assert observe(state, 1).to_act == CHANCE
    assert observe(state, 1).chosen == Call(3, 2)
    assert (observe(state, 3).to_act, observe(state, 3).chosen) == (3, None)


def test_only_the_seat_in_turn_knows_what_it_drew(kit):
    """`drawn` and the rack are its own; sizes are everybody's."""
    state = kit.play(kit.table(table="full", draws="1b", east="wn"), "east discard wn\nwall draw 1b")
    assert observe(state, 1).drawn == kind_of("1b")
    assert observe(state, 0).drawn is None
    assert observe(state, 0).rack_sizes == (13, 14, 13, 13)
    assert observe(state, 0).wall_left == 98


@settings(max_examples=deep(12, 30), deadline=None)
@given(HOUSES, SEEDS)
@pytest.mark.slow
def test_seen_unseen_and_elsewhere_make_up_the_set(kit, house, seed):
    """No count is ever negative; what is unseen on the quiet table covers the wall."""
    steps, last = kit.random_game(house, seed, kit.choose_keenly)
    for state in (*(state for state, _ in steps[:: max(1, len(steps) // 15)]), last):
        for seat in range(4):
            seen = observe(state, seat)
            assert min(seen.unseen) >= 0
            total = [v + u + e for v, u, e in zip(seen.visible, seen.unseen, seen.elsewhere, strict=True)]
            assert tuple(total) == full_set(house.jokers) == tiles_in(state)
            assert all(u >= w for u, w in zip(seen.unseen, counts_of(state.wall), strict=True))
            assert seen.counts == counts_of(state.racks[seat])


PASSED_ON = "1b 2b 3b 4b 5b 6b 7b 8b 9b 1c 2c 3c fl jk"


def through_the_first_pass(kit, table):
    """East has passed 1 to 3 bam and holds South's, West's and North's secrets not."""
    state = kit.table(table=table, passes=3, east=PASSED_ON, south="1d 2d 3d", west="4d 5d 6d", north="7d 8d 9d")
    return kit.play(state, "east pass 1b 2b 3b\nsouth pass 1d 2d 3d\nwest pass 4d 5d 6d\nnorth pass 7d 8d 9d")


def test_a_seat_knows_what_it_passed_and_what_it_received(kit):
    """East's own pass, North's three tiles, and nothing of the others' exchange."""
    seen = observe(through_the_first_pass(kit, QUIET), 0)
    assert seen.passed == (Pass((0, 1, 2)),)
    assert seen.received == tuple(map(kind_of, ("7d", "8d", "9d")))
    assert (seen.passes_done, seen.chosen, seen.settled) == (1, None, 0)


def test_tiles_passed_away_on_the_quiet_table_can_not_be_drawn(kit):
    """They lie in a rack that rests, so they are not unseen; on the full table they may still be let go."""
    quiet = observe(through_the_first_pass(kit, QUIET), 0)
    assert [quiet.elsewhere[kind] for kind in range(4)] == [1, 1, 1, 0]
    assert [quiet.unseen[kind] for kind in range(4)] == [3, 3, 3, 3]
    full = observe(through_the_first_pass(kit, FULL), 0)
    assert sum(full.elsewhere) == 0
    assert [full.unseen[kind] for kind in range(4)] == [4, 4, 4, 3]


def test_a_tile_that_comes_back_is_no_longer_elsewhere(kit):
    """South hands East's own bams back in the third pass; a dot that came in and was passed on is elsewhere."""
    state = kit.table(passes=3, east=PASSED_ON, south="1d 2d 3d 9c", west="4d 5d 6d", north="7d 8d 9d")
    state = kit.play(state, "east pass 1b 2b 3b\nsouth pass 1d 2d 3d\nwest pass 4d 5d 6d\nnorth pass 7d 8d 9d")
    state = kit.play(state, "east pass 4b 5b 7d")
    assert elsewhere(state) == {"1b": 1, "2b": 1, "3b": 1}  # a waiting pass has not gone yet
    while state.passes_done == 1:
        others = [action for action in legal_actions(state) if not {*BAMS, kind_of("7d")} & set(action.kinds)]
        state = apply(state, others[0])
    assert elsewhere(state) == {"1b": 1, "2b": 1, "3b": 1, "4b": 1, "5b": 1, "7d": 1}
    state = kit.play(state, "east pass 6b 8b 9b\nsouth pass 1b 2b 3b")
    while state.phase is Phase.PASSING:
        state = apply(state, legal_actions(state)[0])
    assert elsewhere(state) == {"4b": 1, "5b": 1, "7d": 1, "6b": 1, "8b": 1, "9b": 1}


def elsewhere(state):
    """What East knows to lie in other racks, by code."""
    return {code(kind): count for kind, count in enumerate(observe(state, 0).elsewhere) if count}


def test_a_choice_that_waits_is_known_to_its_own_seat_only(kit):
    """East has chosen; the others don't see it, and East's rack still holds the tiles."""
    state = kit.play(kit.table(passes=3, east=PASSED_ON), "east pass 1b 2b 3b")
    assert observe(state, 0).chosen == Pass((0, 1, 2))
    assert len(observe(state, 0).rack) == 14
    for seat in (1, 2, 3):
        assert observe(state, seat).chosen is None
        assert observe(state, seat).passed == ()


@pytest.mark.parametrize(("blind", "own"), [(1, "pass 7b 8b blind 1"), (2, "pass 7b blind 2"), (3, "pass blind 3")])
def test_a_blind_pass_never_shows_what_it_passed(kit, blind, own):
    """Whatever the tiles handed on unseen were, the seat that handed them on sees the same table."""
    seen = []
    for hidden in ("1d 2d 3d", "wn dr 3d", "fl 9c 3d"):
        kept = hidden.split()[blind:]
        south = [*hidden.split()[:blind], *"1d 2d 3d".split()[blind:]]
        state = kit.table(passes=3, east=PASSED_ON, south=" ".join(south), west="4d 5d 6d", north="7d 8d 9d")
        state = kit.play(state, "east pass 1b 2b 3b")
        state = others_pass(state, 1, {3: "7d 8d 9d"})
        state = others_pass(kit.play(state, "east pass 4b 5b 6b"), 2, {2: "4d 5d 6d"})
        state = others_pass(kit.play(state, f"east {own}"), 3, {1: " ".join(south)})
        assert observe(state, 0).passed[-1] == Pass(state.handed[0][-1].out.kinds, blind)
        assert len(observe(state, 0).received) == 3 - blind == len(kept)
        seen.append((state.handed[1][-1].out, observe(state, 0)))
    for out, observation in seen[1:]:
        assert out != seen[0][0]
        same(observation, seen[0][1])


def others_pass(state, until, wanted):
    """The other seats pass what is wanted of them, or their newest tiles that nobody wants later."""
    keep = set(parse_tiles("1d 2d 3d 4d 5d 6d wn dr fl 9c"))
    while state.passes_done < until:
        seat = state.to_act
        if seat in wanted:
            state = apply(state, Pass(parse_tiles(wanted[seat])))
        else:
            free = [kind for kind in state.racks[seat] if kind not in keep and kind != JOKER]
            state = apply(state, Pass(tuple(free[-3:])))
    return state


def test_picks_left_on_the_quiet_table(kit):
    """The rest of the limit, or of the wall; nothing for seats that rest."""
    state = kit.table(picks=5)
    assert [observe(state, seat).picks_left for seat in range(4)] == [5, 0, 0, 0]
    state = kit.play(kit.table(picks=5, draws="1b", east="we"), "east discard we\nwall draw 1b")
    assert (observe(state, 0).picks, observe(state, 0).picks_left) == (1, 4)
    assert observe(kit.table(), 0).picks_left == 99
    assert observe(kit.table(seat=3), 3).picks_left == 99
    assert observe(replace(kit.table(picks=50), wall=(1, 2, 3)), 0).picks_left == 3


@pytest.mark.parametrize("dead", [(), (2,), (1, 2)])
def test_picks_left_on_the_full_table_is_the_seats_share_of_the_wall(kit, dead):
    """Counted off one by one: who would draw which tile if nobody called."""
    state = kit.table(table="full")
    state = replace(state, dead=tuple(seat in dead for seat in range(4)))
    for left in (99, 10, 3, 2, 1, 0):
        for phase, turn in ((Phase.TURN, 0), (Phase.DRAWING, 3), (Phase.TURN, 3)):
            now = replace(state, wall=state.wall[:left], phase=phase, turn=turn, to_act=CHANCE)
            draws, seat = Counter(), turn if phase is Phase.DRAWING else turn + 1
            while sum(draws.values()) < left:
                draws[seat % 4] += seat % 4 not in dead
                seat += 1
            assert [observe(now, seat).picks_left for seat in range(4)] == [draws[seat] for seat in range(4)]


def test_a_winners_hand_is_seen_by_all(kit):
    """South shows; East sees those fourteen tiles, not West's."""
    nearly = "2x3d 3x8d 4x5d 3x6d 7d"
    state = kit.play(kit.table(table="full", east="7d", south=nearly), "east discard 7d\nsouth mahjong")
    east = observe(state, 0)
    assert east.outcome.winner == 1
    assert east.visible[kind_of("5d")] == 4
    assert sum(east.visible) == 13 + 14
    assert sum(observe(state, 1).visible) == 14
    assert east.picks_left == 0


def test_visible_counts_exposed_tiles_and_jokers_once(kit):
    """A called discard is seen in the exposure, not again among the discards."""
    state = kit.table(table="full", east="5d", west="5d 2xjk 3d")
    state = kit.play(state, "east discard 5d\nwest call kong jokers 2\nwest discard 3d")
    seen = observe(state, 1)
    own = seen.counts
    assert seen.exposures[2] == (Exposure(4, kind_of("5d"), 2),)
    assert seen.visible[kind_of("5d")] == own[kind_of("5d")] + 2
    assert seen.visible[JOKER] == own[JOKER] + 2
    assert seen.visible[kind_of("3d")] == own[kind_of("3d")] + 1
    assert seen.last_discard == kind_of("3d")
    called = kit.play(kit.table(table="full", east="fl", west="3xfl"), "east discard fl\nwest call kong")
    assert observe(called, 0).last_discard is None
    assert observe(called, 0).visible[FLOWER] == 4
    assert observe(kit.table(), 0).last_discard is None
