"""Reviews of games among four: parts that add up to the payment to the cent, whatever is played; values that see no
hidden tile and know what a hand pays."""

import random
from dataclasses import replace

import pytest
from full_games import changed_about, moments, small_table, wall_for

from engine.advice.contest.choosing import choose
from engine.advice.contest.contest import Contest
from engine.advice.moment import StoppedError, Work
from engine.advice.review.full import PARTS, FullReview, review_full, together
from engine.advice.review.review import NotReviewedError
from engine.advice.review.values import PointsValue
from engine.rules.actions import Discard, Draw, LetGo, Mahjong
from engine.rules.deal import shuffle
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import FULL, House
from engine.rules.observation import observe
from engine.rules.state import CHANCE, Phase
from engine.tiles import JOKER

WALL = 14
"""Tiles that the wall of a short game holds."""


@pytest.fixture(scope="module")
def table():
    """The smaller shipped sheet."""
    return small_table()


@pytest.fixture(scope="module")
def value(table):
    """Values of its games."""
    return PointsValue(table)


def short(table, house, seed):
    """A deal whose wall is nearly used up: the other tiles lie face up, out of play."""
    state = start(table.sheet, house, shuffle(seed, house.jokers))
    return replace(state, wall=state.wall[:WALL], aside=state.wall[WALL:])


def played(state, mine, chance):
    """States and actions of a game: `mine(state)` chooses for the player, the others call, exchange and win whenever
    they may, and else choose at random."""
    states, actions = [state], []
    while state.phase is not Phase.OVER:
        legal = legal_actions(state)
        bold = [action for action in legal if type(action).__name__ in ("Call", "Exchange", "Mahjong")]
        if state.to_act == CHANCE:
            action = legal[0]
        elif state.to_act == state.house.seat:
            action = mine(state)
        else:
            action = bold[0] if bold and chance.random() < 0.8 else chance.choice(legal)
        actions.append(action)
        state = apply(state, action)
        states.append(state)
    return states, actions


@pytest.mark.slow
@pytest.mark.parametrize(
    "house",
    [
        House(table=FULL),
        House(table=FULL, seat=2, slips=True, mistake_pays=10),
        House(table=FULL, seat=3, passes=6, courtesy=True, jokers=4),
    ],
)
def test_the_parts_add_up_to_the_payment(table, house):
    """To the hundredth of a point, whatever is played, mistaken mahjongs and dead hands among it."""
    table = table if house.jokers == table.jokers else type(table).of(table.sheet, house.jokers)
    seed = house.seat
    chance = random.Random(seed)
    states, actions = played(
        short(table, house, seed), lambda state, chance=chance: chance.choice(legal_actions(state)), chance
    )
    found = review_full(table, states, actions)
    assert sum(found.parts.values()) == found.result == 100 * states[-1].outcome.payments[house.seat]
    assert tuple(found.parts) == PARTS
    assert found.choices == sum(one.value for one in found.decisions)
    assert [one.index for one in found.decisions] == [
        index for index, state in enumerate(states[:-1]) if state.to_act == house.seat
    ]
    assert found.passed is (house.passes > 0)
    assert found.clock == 0


@pytest.mark.slow
def test_whoever_does_what_is_advised_loses_nothing(table):
    """All choices are worth what the advised ones are; one at random is worth less in the long run."""
    contest = Contest(table)
    for advised in (True, False):
        chance = random.Random(4)
        found = review_full(table, *played(
            short(table, House(table=FULL), 4),
            lambda state, chance=chance, advised=advised: choose(contest, observe(state, 0)) if advised else
            chance.choice(legal_actions(state)), chance,
        ))  # fmt: skip
        assert (found.choices == 0) is advised
        assert (found.choices < 0) is not advised
        assert all(one.cost == 0 for one in found.decisions) is advised


@pytest.mark.slow
def test_a_game_that_the_clock_ends(table):
    """Nobody pays, and what there was to win or lost is the clock's; without a clock the last value is the result."""
    chance = random.Random(2)
    states, actions = played(
        short(table, House(table=FULL), 2), lambda state: choose(Contest(table), observe(state, 0)), chance
    )
    half = len(actions) // 2
    by_clock = review_full(table, states[: half + 1], actions[:half], ended=True)
    under_way = review_full(table, states[: half + 1], actions[:half])
    assert by_clock.result == 0 == sum(by_clock.parts.values())
    assert by_clock.clock == -under_way.result != 0
    assert sum(under_way.parts.values()) == under_way.result


def test_values_see_no_hidden_tile(table, value):
    """The wall and the other racks may hold anything: the value of a moment, its calls and its draws are the same."""
    chance = random.Random(7)
    for phase in (Phase.TURN, Phase.CALLING, Phase.DRAWING):
        state = next(
            state for state, seat in moments_of(table, phase) if len(state.discards) > 20 and not state.dead[0]
        )
        state = replace(state, house=replace(state.house, seat=0))
        other = changed_about(state, 0, chance)
        assert other != state
        assert value.of(other) == value.of(state)


def moments_of(table, phase):
    """States of a phase of a few games, that of the player's turn or call where there is one."""
    if phase is not Phase.DRAWING:
        return ((state, seat) for state, seat in moments(table, range(9), phase) if seat == 0)
    return ((apply(state, LetGo()), 0) for state, seat in moments(table, range(9), Phase.CALLING)
            if apply(state, LetGo()).phase is Phase.DRAWING)  # fmt: skip


def test_a_turn_is_worth_its_best_choice(table, value):
    """That of the contest, by the slow way: choose, then value the choice."""
    states = [state for state, seat in moments(table, (1,), Phase.TURN) if seat == 0][::4]
    assert states
    for state in states:
        best = choose(value.contest, observe(state, 0))
        assert value.of(state) == value.after(state, best)
        assert value.advised(state) == best


def test_a_hand_is_worth_what_it_pays(table, value):
    """The discarder pays double, the two others single; all pay double for a hand that is drawn. By common practice, no
    source: what a hand counts is in the sheet, twice that where no joker is in it."""
    tiles = [group.kind for group in table.variants[0].groups for _ in range(group.size)]
    spare = next(kind for kind in range(JOKER) if kind not in tiles)
    last, points = tiles[-1], 2 * table.sheet.hands[0].points
    house = House(table=FULL)
    called = start(table.sheet, house, wall_for({0: [*tiles[:-1], spare]}, [last]))
    for action in (Discard(spare), Draw(last), Discard(last)):
        while called.phase is Phase.CALLING:
            called = apply(called, LetGo())
        called = apply(called, action)
    while called.to_act != 0:
        called = apply(called, LetGo())
    assert value.of(called) == value.after(called, Mahjong()) == 100 * 4 * points
    drawn = start(table.sheet, house, wall_for({0: tiles}))
    assert value.of(drawn) == value.after(drawn, Mahjong()) == 100 * 6 * points


def test_games_that_are_not_reviewed(table):
    """Another table, actions that don't fit, and a review that is stopped."""
    quiet = start(table.sheet, House(), shuffle(1))
    with pytest.raises(NotReviewedError, match="full table"):
        review_full(table, [quiet], [])
    state = short(table, House(table=FULL), 1)
    with pytest.raises(ValueError, match="lead to"):
        review_full(table, [state, state], [])
    after = apply(state, Discard(state.racks[0][0]))
    with pytest.raises(StoppedError):
        review_full(table, [state, after], [Discard(state.racks[0][0])], Work(stopped=lambda: True))


def test_several_games_together():
    """Every part is the sum of theirs."""
    one = FullReview(1, 2, 3, 4, 5, 6, 7, 28, False, ())
    two = FullReview(10, 20, 30, 40, 50, 60, 70, 280, True, ())
    both = together([one, two])
    assert list(both.parts.values()) == [11, 22, 33, 44, 55, 66, 77]
    assert (both.result, both.passed) == (308, True)
    assert both.parts.keys() == dict.fromkeys(PARTS).keys()
