"""`legal_actions` against `apply`, and what holds through any legal game: the set stays whole, and every game ends."""

import random
from itertools import combinations_with_replacement

import pytest
from depth import deep
from houses import HOUSES
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.rules.actions import (
    Agree,
    Ask,
    Call,
    Discard,
    Draw,
    Exchange,
    Give,
    IllegalActionError,
    LetGo,
    Mahjong,
    MalformedActionError,
    Pass,
    Stop,
    parse_action,
)
from engine.rules.deal import shuffle
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import QUIET, House
from engine.rules.state import CHANCE, Phase, tiles_in
from engine.tiles import KINDS, full_set

SEEDS = st.integers(0, 10**9)
EVERYTHING_SMALL = (
    *(make(kind) for make in (Draw, Discard) for kind in range(KINDS)),
    *(Mahjong(), LetGo(), Agree(), Stop()),
    *(Ask(number) for number in range(4)),
    *(Call(size, jokers) for size in range(1, 7) for jokers in range(size)),
    *(Give(kinds) for number in range(2) for kinds in combinations_with_replacement(range(KINDS), number)),
)
PASSES = (
    *(Pass(kinds, 3 - number) for number in range(4) for kinds in combinations_with_replacement(range(KINDS), number)),
)
GIFTS = tuple(Give(kinds) for kinds in combinations_with_replacement(range(KINDS), 2))


def allowed(state, action):
    """Whether `apply` takes the action; a refusal must quote action and phase."""
    try:
        apply(state, action)
    except IllegalActionError as error:
        said = str(error)
    else:
        return True
    assert said.startswith(f"“{action}” is not allowed in {state.phase.value}: ")
    return False


def universe(state, chance):
    """Every small action, all exchanges of tiles on the table, and a sample of passes and gifts."""
    yield from EVERYTHING_SMALL
    for seat in range(4):
        for place in range(4):
            for kind in {35 - 1, 0, *(one.kind for laid in state.exposures for one in laid)}:
                yield Exchange(seat, place, kind)
    yield from chance.sample(PASSES, 150)
    yield from chance.sample(GIFTS, 50)
    if state.phase in (Phase.PASSING, Phase.GIVING):
        yield from chance.sample(legal_actions(state), min(30, len(legal_actions(state))))


@settings(max_examples=deep(10, 25), deadline=None)
@given(HOUSES, SEEDS)
@pytest.mark.slow
def test_apply_takes_exactly_what_legal_actions_offers(kit, house, seed):
    """Over moments of random and of keen games, an action is applied if and only if it is offered."""
    chance = random.Random(seed)
    choose = kit.choose_keenly if seed % 2 else kit.choose_any
    steps, _ = kit.random_game(house, seed, choose)
    unusual = [step for step in steps if step[0].phase is not Phase.DRAWING and step[0].phase is not Phase.TURN]
    for state, _ in (*chance.sample(steps, min(4, len(steps))), *chance.sample(unusual, min(4, len(unusual)))):
        legal = set(legal_actions(state))
        assert len(legal) == len(legal_actions(state))
        for action in universe(state, chance):
            assert allowed(state, action) == (action in legal), action
        assert all(allowed(state, action) for action in legal)


@settings(max_examples=deep(25, 60), deadline=None)
@given(HOUSES, SEEDS, st.booleans())
@pytest.mark.slow
def test_the_set_stays_whole_and_every_game_ends(kit, house, seed, keen):
    """At every state all tiles are there, seats hold 13 or 14, and somebody may act, until it is over."""
    steps, last = kit.random_game(house, seed, kit.choose_keenly if keen else kit.choose_any)
    assert len(steps) < 2000
    for state in (*(state for state, _ in steps), last):
        assert tiles_in(state) == full_set(house.jokers)
        for seat in range(4):
            held = len(state.racks[seat]) + sum(exposure.size for exposure in state.exposures[seat])
            whole = state.phase is Phase.TURN and state.turn == seat
            whole = whole or (state.phase is Phase.OVER and state.outcome.winner == seat)
            if whole:
                assert held == 14
            elif not state.dead[seat] and not (house.table == QUIET and seat == 0):
                early = state.phase in (Phase.PASSING, Phase.AGREEING, Phase.ASKING, Phase.GIVING)
                assert held == (14 if early and seat == 0 else 13)
            for exposure in state.exposures[seat]:
                assert 0 <= exposure.jokers < exposure.size
        assert bool(legal_actions(state)) == (state.phase is not Phase.OVER)
        assert (state.outcome is not None) == (state.phase is Phase.OVER)
        assert -1 <= state.to_act < 4
        if state.phase in (Phase.DRAWING, Phase.OVER):
            assert state.to_act == CHANCE
    assert last.phase is Phase.OVER
    assert sum(last.outcome.payments) == 0


@settings(max_examples=deep(12, 30), deadline=None)
@given(HOUSES, SEEDS)
@pytest.mark.slow
def test_actions_of_a_game_round_trip_and_lead_to_the_same_states(kit, house, seed):
    """Written as lines and read back, the same actions give equal states, and equal states hash alike."""
    steps, last = kit.random_game(house, seed)
    state = steps[0][0]
    for before, action in steps:
        assert state == before
        assert hash(state) == hash(before)
        state = apply(state, parse_action(str(action)))
    assert state == last


def test_states_are_frozen(kit):
    """Nothing at the table can be changed but by `apply`, which leaves the state before as it was."""
    state = kit.table(east="we")
    before = repr(state)
    kit.play(state, "east discard we")
    assert repr(state) == before
    with pytest.raises(AttributeError):
        state.turn = 2


def test_the_wall_must_be_the_whole_set(kit):
    """A wall with a tile too few, too many or none that exists is refused with a sentence."""
    wall = kit.wall(("", "", "", ""))
    for wrong in (wall[1:], (*wall[1:], 36), (*wall[1:], wall[5]), (*wall, 35), (*wall[1:], "1b"), ()):
        with pytest.raises(ValueError, match="not the full set of tiles with 8 jokers"):
            start(kit.sheet, House(), wrong)
    with pytest.raises(ValueError, match="not the full set of tiles with 7 jokers"):
        start(kit.sheet, House(jokers=7), wall)


def test_a_malformed_action_is_told_apart_from_an_illegal_one(kit):
    """Both are ValueError, neither is the other."""
    assert issubclass(MalformedActionError, ValueError)
    assert issubclass(IllegalActionError, ValueError)
    assert not issubclass(IllegalActionError, MalformedActionError)
    with pytest.raises(MalformedActionError):
        apply(kit.table(passes=3), Pass((1, 2)))
    with pytest.raises(IllegalActionError):
        apply(kit.table(passes=3), Pass((35, 35, 35)))


def test_tiles_are_dealt_in_fours_as_documented(kit):
    """Three times four to each seat in turn order, one more each, and East's fourteenth."""
    wall = shuffle(7)
    state = start(kit.sheet, House(), wall)
    for seat in range(4):
        expected = [*wall[4 * seat : 4 * seat + 4], *wall[16 + 4 * seat : 20 + 4 * seat]]
        expected += [*wall[32 + 4 * seat : 36 + 4 * seat], wall[48 + seat]]
        assert state.racks[seat][:13] == tuple(expected)
    assert state.racks[0][13] == wall[52]
    assert state.wall == wall[53:]
