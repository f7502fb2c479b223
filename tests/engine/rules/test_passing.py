"""Before play: where the passes go, what may go, what comes back, votes, and the courtesy pass."""

from dataclasses import replace
from math import comb

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.rules.actions import Ask, Discard, Give, IllegalActionError, MalformedActionError, Pass
from engine.rules.game import apply, legal_actions
from engine.rules.house import House
from engine.rules.passing import DIRECTIONS, STEPS
from engine.rules.state import Phase, take, tiles_in
from engine.tiles import JOKER, counts_of, full_set, parse_tiles, write_tiles

RACKS = {
    "east": "1b 2b 3b 4b 5b 6b 7b 8b 9b fl fl jk jk jk",
    "south": "1c 2c 3c 4c 5c 6c 7c 8c 9c fl fl we we",
    "west": "1d 2d 3d 4d 5d 6d 7d 8d 9d ww ww wn wn",
    "north": "dg dg dg dr dr dr dw dw dw ws ws ws wn",
}


def tail(state, seat, number=3):
    """The newest tiles of a rack, as text."""
    return write_tiles(state.racks[seat][-number:])


def skip_to(state, passes):
    """Play passes of the first non-joker tiles, agreeing, until so many are done and the next may be chosen."""
    while state.passes_done < passes or state.phase is Phase.AGREEING:
        state = apply(state, legal_actions(state)[0])
    return state


def test_the_first_three_passes_go_right_across_and_left(kit):
    """Three tiles arrive at the seat to the right, then across, then left."""
    state = kit.table(**RACKS, passes=3)
    for step, lines in (
        (1, ("1b 2b 3b", "1c 2c 3c", "1d 2d 3d", "dg dg dg")),
        (2, ("4b 5b 6b", "4c 5c 6c", "4d 5d 6d", "dr dr dr")),
        (3, ("7b 8b 9b", "7c 8c 9c", "7d 8d 9d", "dw dw dw")),
    ):
        state = kit.play(state, "".join(f"{s} pass {t}\n" for s, t in zip(RACKS, lines, strict=True)))
        for seat in range(4):
            assert tail(state, (seat + step) % 4) == lines[seat]
    assert state.phase is Phase.TURN


def test_the_second_round_goes_left_across_and_right(kit):
    """The six directions, and which seat each step leads to."""
    assert DIRECTIONS == ("right", "across", "left", "left", "across", "right")
    assert [{"right": 1, "across": 2, "left": 3}[way] for way in DIRECTIONS] == list(STEPS)
    state = skip_to(kit.table(**RACKS, passes=6), 3)
    for index in (3, 4, 5):
        assert state.passes_done == index
        before = state
        goes = []
        for seat in range(4):
            goes.append([kind for kind in before.racks[seat] if kind != JOKER][-3:])
            state = apply(state, Pass(tuple(goes[seat])))
        for seat in range(4):
            came = state.handed[(seat + STEPS[index]) % 4][-1].came
            assert sorted(came) == sorted(goes[seat])
    assert state.phase is Phase.TURN


def test_east_passes_from_fourteen(kit):
    """East still holds 14 after every pass, the others 13."""
    state = kit.table(**RACKS, passes=6)
    while state.phase is not Phase.TURN:
        assert [len(rack) for rack in state.racks] == [14, 13, 13, 13]
        state = apply(state, legal_actions(state)[0])


def test_nothing_moves_before_all_four_have_chosen(kit):
    """A choice waits, the rack stays as it is."""
    state = kit.table(**RACKS, passes=1)
    later = kit.play(state, "east pass 1b 2b 3b\nsouth pass 1c 2c 3c\nwest pass 1d 2d 3d")
    assert later.racks == state.racks
    assert later.to_act == 3


def test_jokers_are_never_passed(kit):
    """No legal pass holds one, and trying says so, in every pass and in the courtesy."""
    state = kit.table(**RACKS, passes=1, courtesy=True)
    assert not any(JOKER in action.kinds for action in legal_actions(state))
    with pytest.raises(
        IllegalActionError, match="“pass 1b 2b jk” is not allowed in the passes: jokers are never passed"
    ):
        apply(state, Pass(parse_tiles("1b 2b jk")))
    state = skip_to(state, 1)
    state = kit.play(state, "east ask 1\nsouth ask 0\nwest ask 1\nnorth ask 0")
    assert not any(JOKER in action.kinds for action in legal_actions(state))
    with pytest.raises(IllegalActionError, match="jokers are never passed"):
        apply(state, Give((JOKER,)))


@pytest.mark.parametrize(
    ("action", "said"),
    [
        (Pass(parse_tiles("1b 2b 1c")), "east holds too few of the 1 crak"),
        (Pass(parse_tiles("1b 1b 2b")), "east holds too few of the 1 bam"),
        (Pass(parse_tiles("1b 2b"), 1), "tiles are passed on unseen only in the last pass of a round"),
        (Discard(0), "three tiles are passed now"),
        (Ask(1), "three tiles are passed now"),
    ],
)
def test_a_pass_that_breaks_a_rule_is_refused(kit, action, said):
    """The sentence quotes the action, names the passes, and gives the rule."""
    with pytest.raises(IllegalActionError) as caught:
        apply(kit.table(**RACKS, passes=3), action)
    assert str(caught.value) == f"“{action}” is not allowed in the passes: {said}."


def test_two_tiles_are_no_pass_at_all(kit):
    """A wrong count is malformed, not merely forbidden."""
    with pytest.raises(MalformedActionError, match="a pass is 3 tiles"):
        apply(kit.table(**RACKS, passes=3), Pass((0, 1)))


def test_every_choice_of_tiles_is_offered_once(kit):
    """13 different tiles give C(13, 3) passes; where blind passing is allowed, C(13, 2), 13 and 1 more."""
    different = "1b 2c 3d 4b 5c 6d 7b 8c 9d we ws dr fl wn"
    state = kit.table(east=different, passes=3)
    assert len(set(legal_actions(state))) == len(legal_actions(state)) == comb(14, 3)
    state = replace(state, passes_done=2)
    assert len(set(legal_actions(state))) == len(legal_actions(state)) == comb(14, 3) + comb(14, 2) + 14 + 1
    alike = replace(kit.table(east="fl fl fl fl 1b 1b jk jk jk jk jk jk jk jk", passes=3), passes_done=2)
    assert [str(action) for action in legal_actions(alike)] == [
        "pass 1b 1b fl",
        "pass 1b fl fl",
        "pass fl fl fl",
        "pass 1b 1b blind 1",
        "pass 1b fl blind 1",
        "pass fl fl blind 1",
        "pass 1b blind 2",
        "pass fl blind 2",
        "pass blind 3",
    ]


@pytest.mark.parametrize(("passes", "played"), [(0, 0), (1, 1), (2, 2), (3, 3), (4, 4), (5, 5), (6, 6)])
def test_the_house_says_how_many_passes_are_played(kit, passes, played):
    """So many, when everybody agrees to go on; the vote only comes before a second round."""
    state, votes = kit.table(**RACKS, passes=passes), 0
    while state.phase is not Phase.TURN:
        votes += state.phase is Phase.AGREEING
        state = apply(state, legal_actions(state)[0])
    assert state.passes_done == played
    assert votes == (4 if passes > 3 else 0)


@pytest.mark.parametrize("against", range(4))
def test_anyone_may_stop_the_second_round(kit, against):
    """One vote against is enough, and play, or the courtesy pass, follows at once."""
    for courtesy, follows in ((False, Phase.TURN), (True, Phase.ASKING)):
        state = kit.table(**RACKS, passes=6, courtesy=courtesy)
        while state.passes_done < 3:
            state = apply(state, legal_actions(state)[0])
        assert state.phase is Phase.AGREEING
        seats = ("east", "south", "west", "north")
        state = kit.play(state, "".join(f"{s} {'stop' if i == against else 'agree'}\n" for i, s in enumerate(seats)))
        assert (state.phase, state.passes_done) == (follows, 3)


def test_without_passes_there_is_no_courtesy_either(kit):
    """A house that leaves the passes out begins with East's turn."""
    assert kit.table(passes=0, courtesy=True).phase is Phase.TURN


def third_pass(kit, **house):
    """The first left pass is due, the racks being those above with nine tiles gone round."""
    state = kit.table(**RACKS, passes=3, **house)
    return kit.play(
        state,
        """
        east pass 1b 2b 3b
        south pass 1c 2c 3c
        west pass 1d 2d 3d
        north pass dg dg dg
        east pass 4b 5b 6b
        south pass 4c 5c 6c
        west pass 4d 5d 6d
        north pass dr dr dr
        """,
    )


def test_a_blind_pass_hands_on_what_comes_in(kit):
    """East keeps two of South's three and hands the first on to North with two of its own."""
    state = kit.play(
        third_pass(kit),
        """
        east pass 7b 8b blind 1
        south pass 7c 8c 9c
        west pass 7d 8d 9d
        north pass dw dw dw
        """,
    )
    assert tail(state, 0, 2) == "8c 9c"
    assert tail(state, 3) == "7b 8b 7c"
    assert tail(state, 1) == "7d 8d 9d"
    assert write_tiles(state.handed[0][-1].came) == "8c 9c"


def test_blind_passes_chain_all_the_way_round(kit):
    """What three seats hand on unseen comes from the one who put tiles out, and may come back to it."""
    state = kit.play(
        third_pass(kit),
        """
        east pass 7b 8b 9b
        south pass blind 3
        west pass blind 3
        north pass blind 3
        """,
    )
    assert tail(state, 0) == "7b 8b 9b"
    assert [len(rack) for rack in state.racks] == [14, 13, 13, 13]
    assert tiles_in(state) == full_set()


def test_when_nobody_puts_out_a_tile_none_moves(kit):
    """Four seats that each hand on three unseen have nothing to hand on."""
    before = third_pass(kit)
    after = kit.play(before, "east pass blind 3\nsouth pass blind 3\nwest pass blind 3\nnorth pass blind 3")
    assert after.racks == before.racks
    assert after.phase is Phase.TURN


@pytest.mark.parametrize("east", ["pass 7b blind 2", "pass 7b 8b blind 1"])
def test_a_tile_that_nobody_else_keeps_comes_back(kit, east):
    """East puts out one or two while the others hand on everything: they go round and are East's again."""
    before = third_pass(kit)
    after = kit.play(before, f"east {east}\nsouth pass blind 3\nwest pass blind 3\nnorth pass blind 3")
    assert [sorted(rack) for rack in after.racks] == [sorted(rack) for rack in before.racks]


def test_two_seats_that_each_put_out_one_tile_get_one_anothers(kit):
    """The tiles go round past those who hand on everything, and past their own seats' first two places."""
    before = third_pass(kit)
    after = kit.play(before, "east pass 7b blind 2\nsouth pass 7c blind 2\nwest pass blind 3\nnorth pass blind 3")
    assert [write_tiles(after.handed[seat][-1].came) for seat in range(4)] == ["7c", "7b", "", ""]


def kept_by_walking(own, blind, step):
    """The slow way: every tile walks from seat to seat; who still has to hand on hands it on, else keeps it."""
    came = [[] for _ in range(4)]
    for seat in range(4):
        for place, tile in enumerate(own[seat]):
            here, spot = (seat + step) % 4, place
            while spot < blind[here]:
                here, spot = (here + step) % 4, spot + len(own[here])
            came[here].append((spot, tile))
    return [tuple(tile for _, tile in sorted(tiles)) for tiles in came]


@settings(max_examples=100, deadline=None)
@given(st.lists(st.integers(0, 3), min_size=4, max_size=4).filter(lambda blind: blind != [3, 3, 3, 3]))
@pytest.mark.slow
def test_blind_passes_agree_with_walking_every_tile_round(kit, blind):
    """For every number of tiles handed on by each seat."""
    state = before = third_pass(kit)
    own = []
    for seat in range(4):
        kinds = [kind for kind in before.racks[seat] if kind != JOKER][: 3 - blind[seat]]
        own.append(take(before.racks[seat], kinds)[1])
        state = apply(state, Pass(tuple(kinds), blind[seat]))
    assert [state.handed[seat][-1].came for seat in range(4)] == kept_by_walking(own, blind, STEPS[2])


def test_blind_passing_may_be_left_out_by_the_house(kit):
    """Then no such choice is offered, and trying it says so."""
    state = third_pass(kit, blind=False)
    assert not any(action.blind for action in legal_actions(state))
    with pytest.raises(IllegalActionError, match="this table passes nothing on unseen"):
        apply(state, Pass((), 3))


def at_courtesy(kit):
    """All three passes played, the asking is due."""
    state = third_pass(kit, courtesy=True)
    return kit.play(state, "east pass 7b 8b 9b\nsouth pass 7c 8c 9c\nwest pass 7d 8d 9d\nnorth pass dw dw dw")


def test_the_courtesy_pass_exchanges_the_smaller_number_across(kit):
    """East asks 3 and West 2: two go; South and North ask 1 and 0: none, and they are not asked to give."""
    state = kit.play(at_courtesy(kit), "east ask 3\nsouth ask 1\nwest ask 2\nnorth ask 0")
    assert (state.phase, state.settled) == (Phase.GIVING, (2, 0, 2, 0))
    with pytest.raises(IllegalActionError, match="2 is the smaller of the two numbers asked"):
        apply(state, Give(parse_tiles("fl")))
    state = kit.play(state, "east give fl fl\nwest give ww ww")
    assert tail(state, 0, 2) == "ww ww"
    assert tail(state, 2, 2) == "fl fl"
    assert state.phase is Phase.TURN
    assert state.handed[1][-1].came == ()


def test_when_nobody_wants_a_courtesy_pass_play_begins(kit):
    """All pairs settle on none: East's turn."""
    state = kit.play(at_courtesy(kit), "east ask 0\nsouth ask 0\nwest ask 3\nnorth ask 3")
    assert state.phase is Phase.TURN


def test_a_quiet_player_elsewhere_draws_first(kit):
    """From South the player starts with 13 and draws; East's rack rests with 14."""
    state = kit.table(**RACKS, seat=1, passes=1)
    while state.phase is Phase.PASSING:
        state = apply(state, legal_actions(state)[0])
    assert (state.phase, state.turn, len(state.racks[0]), len(state.racks[1])) == (Phase.DRAWING, 1, 14, 13)


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10**6), st.integers(1, 6), st.booleans(), st.booleans(), st.integers(0, 10))
def test_passes_keep_every_tile_and_every_joker_where_it_belongs(kit, seed, passes, courtesy, blind, jokers):
    """Through any legal passes the set stays whole, rack sizes stay, and no joker changes its rack."""
    steps, _ = kit.random_game(House(passes=passes, courtesy=courtesy, blind=blind, jokers=jokers, picks=1), seed)
    held = [rack.count(JOKER) for rack in steps[0][0].racks]
    for state, _ in steps:
        if state.phase in (Phase.PASSING, Phase.AGREEING, Phase.ASKING, Phase.GIVING):
            assert tiles_in(state) == full_set(jokers)
            assert [len(rack) for rack in state.racks] == [14, 13, 13, 13]
            assert [rack.count(JOKER) for rack in state.racks] == held


@settings(max_examples=60, deadline=None)
@given(st.data())
@pytest.mark.slow
def test_what_is_put_out_and_kept_accounts_for_every_rack(kit, data):
    """For any blind numbers: old rack, less what was put out, plus what came and stayed, is the new rack."""
    before = third_pass(kit)
    state = before
    for _ in range(4):
        blind = data.draw(st.integers(0, 3))
        state = apply(state, data.draw(st.sampled_from([a for a in legal_actions(state) if a.blind == blind])))
    for seat in range(4):
        one = state.handed[seat][-1]
        assert len(one.came) == len(one.out.kinds)
        after = [a - b + c for a, b, c in zip(
            counts_of(before.racks[seat]), counts_of(one.out.kinds), counts_of(one.came), strict=True
        )]  # fmt: skip
        assert tuple(after) == counts_of(state.racks[seat])
