"""Reviews of quiet games: parts that add up, luck that averages nothing, costs as advised, values by a slow twin."""

from dataclasses import replace
from random import Random

import numpy as np
import plain_advice as plain
import pytest
from depth import deep

from engine.advice.advise.discard import advise
from engine.advice.advise.passes import advise_passes
from engine.advice.moment import Moment, Work
from engine.advice.review.review import (
    ARRIVALS,
    NotReviewedError,
    arrivals,
    average_deal,
    review,
)
from engine.advice.table import SheetTable
from engine.advice.worth.finish import NOTHING, after_draws, chances, dealt, finished, standing, values
from engine.advice.worth.incoming import let_go_by_others
from engine.advice.worth.worth import NEAR, SPREAD, made
from engine.rules.actions import Discard, Draw, Mahjong, Pass
from engine.rules.deal import shuffle
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import FULL, House
from engine.rules.observation import observe
from engine.rules.state import CHANCE, Phase
from engine.seats.character import Strength
from engine.seats.players import player
from engine.sheet.shelf import find
from engine.tiles import JOKER, KINDS, full_set

EXACT = 1e-9


@pytest.fixture(scope="module")
def table():
    """The smaller shipped sheet."""
    return SheetTable.of(find("first-steps"))


def advised(table, state):
    """The tile that advice lets go."""
    seen = observe(state, state.house.seat)
    stands = standing(table, np.array([seen.counts]), np.array([seen.unseen]), seen.picks_left)
    return int(stands.goes[0])


def played(state, choose, steps=10_000):
    """States and actions of a game in which `choose(state)` names what the player does with an unfinished rack."""
    states, actions = [state], []
    while state.phase is not Phase.OVER and len(actions) < steps:
        legal = legal_actions(state)
        if state.to_act == CHANCE or Mahjong() in legal:
            action = legal[0]
        elif state.to_act != state.house.seat:
            action = legal[len(legal) // 2]
        else:
            action = choose(state)
        state = apply(state, action)
        states.append(state)
        actions.append(action)
    return states, actions


def careless(table, seed):
    """A player who lets go a tile at random every third time, and passes at random."""
    random = Random(seed)

    def choose(state):
        if state.phase is Phase.TURN and random.random() > 0.33:
            return Discard(advised(table, state))
        legal = legal_actions(state)
        return random.choice(legal)

    return choose


def by_advice(table):
    """A player who does what is advised."""
    return lambda state: Discard(advised(table, state))


def nearly(table, house=None):
    """A game one tile away from a hand of the table's first variant, which the first draw brings."""
    tiles = [group.kind for group in table.variants[0].groups for _ in range(group.size)]
    spare = next(kind for kind in range(JOKER) if kind not in tiles)
    wall = list(shuffle(1))
    for kind in (*tiles, spare):
        wall.remove(kind)
    for place, kind in zip((*range(4), *range(16, 20), *range(32, 36), 48, 52), (*tiles[:-1], spare), strict=True):
        wall.insert(place, kind)
    wall.insert(53, tiles[-1])
    return start(table.sheet, house or House(picks=6), wall), spare


def adds_up(found):
    """Whether the parts lead from the average deal to the result."""
    return abs(sum(found.parts) - (found.result - found.average.value)) < EXACT


@pytest.mark.parametrize(
    "house",
    [
        House(picks=20),
        House(picks=9, seat=2),
        House(picks=5, jokers=3),
        House(picks=4, passes=6, courtesy=True),
        House(picks=3, passes=3, seat=1, blind=False),
    ],
)
@pytest.mark.slow
def test_the_parts_add_up_to_the_result(house):
    """Whatever is played, luck, choices, passing and the rest lead from the average deal to the result, exactly."""
    table = SheetTable.of(find("first-steps"), house.jokers)
    for seed in range(2):
        states, actions = played(start(table.sheet, house, shuffle(seed, house.jokers)), careless(table, seed))
        found = review(table, states, actions)
        assert adds_up(found)
        assert found.over
        assert found.result == (states[-1].outcome.winner == house.seat)
        assert len(found.turns) == states[-1].picks
        assert found.draws == pytest.approx(sum(turn.luck for turn in found.turns), abs=EXACT)
        assert found.choices == pytest.approx(sum(decision.value for decision in found.decisions), abs=EXACT)
        passes = [decision for decision in found.decisions if decision.passing]
        assert len(passes) == len(states[-1].handed[house.seat])
        assert (found.passing == found.arrived == 0) is (not passes)


def test_a_win_and_a_game_under_way(table):
    """A hand that is shown ends at 1; a game that is not over at its last value."""
    state, spare = nearly(table)
    states, actions = played(state, lambda _: Discard(spare))
    found = review(table, states, actions)
    assert found.result == 1.0
    assert adds_up(found)
    assert [turn.kind for turn in found.turns] == [actions[1].kind]
    assert found.turns[0].luck > 0.3, "one of few tiles that finish the hand came"
    half = review(table, states[:2], actions[:1])
    assert not half.over
    assert 0 < half.result < 1
    assert adds_up(half)


@pytest.mark.slow
def test_luck_of_a_draw_is_nothing_on_average(table):
    """Over all unseen tiles that could have come, each as likely as any other: exactly, before and after passes."""
    for house, steps in ((House(picks=25), 5), (House(picks=2), 1), (House(picks=12, passes=3), 14), (House(), 9)):
        states, actions = played(start(table.sheet, house, shuffle(6)), careless(table, 1), steps)
        while states[-1].phase is not Phase.DRAWING:
            states, actions = played(states[0], careless(table, 1), len(actions) + 1)
        state = states[-1]
        unseen = observe(state, 0).unseen
        lucks = {}
        for kind in range(KINDS):
            if unseen[kind]:
                changed = with_next(state, kind)
                lucks[kind] = review(table, [changed, apply(changed, Draw(kind))], [Draw(kind)]).turns[0].luck
        assert max(lucks.values()) > 0 > min(lucks.values())
        mean = sum(unseen[kind] * luck for kind, luck in lucks.items()) / sum(unseen)
        assert abs(mean) < 1e-12


def with_next(state, kind):
    """The same game with a tile of this kind as the next one of the wall, taken from there or from another rack."""
    if kind in state.wall:
        place = state.wall.index(kind)
        wall = (kind, *state.wall[1:place], state.wall[0], *state.wall[place + 1 :]) if place else state.wall
        return replace(state, wall=wall)
    seat = next(seat for seat in (1, 2, 3) if kind in state.racks[seat])
    rack = list(state.racks[seat])
    rack[rack.index(kind)] = state.wall[0]
    racks = (*state.racks[:seat], tuple(rack), *state.racks[seat + 1 :])
    return replace(state, wall=(kind, *state.wall[1:]), racks=racks)


@pytest.mark.slow
def test_luck_averages_nothing_over_many_deals(table):
    """Deals and draws of many seeded games: within 3.5 standard errors of nothing; a player by advice loses nothing."""
    games = []
    for seed in range(deep(14, 25)):
        games.append(review(table, *played(start(table.sheet, House(picks=24), shuffle(seed)), by_advice(table))))
    for luck in (np.array([game.deal for game in games]), np.array([game.draws for game in games])):
        error = luck.std(ddof=1) / len(luck) ** 0.5
        assert error > 0.001
        assert abs(luck.mean()) < 3.5 * (error + games[0].average.error)
    assert all(game.choices == 0 and not any(decision.cost for decision in game.decisions) for game in games)
    rest = np.array([game.rest for game in games])
    assert abs(rest.mean()) < 0.1, "what the reckoning is off by stays small"


@pytest.mark.slow
def test_costs_are_those_of_the_advice(table):
    """Each discard costs what `advise` says of it at that moment, and the best one is the one it names."""
    states, actions = played(start(table.sheet, House(picks=45), shuffle(3)), careless(table, 3))
    found = review(table, states, actions)
    assert [decision.index for decision in found.decisions] == [
        index for index, action in enumerate(actions) if isinstance(action, Discard)
    ]
    assert any(decision.cost > 0.01 for decision in found.decisions)
    for decision in found.decisions:
        seen = observe(states[decision.index], 0)
        advice = advise(Moment.of(table, seen.counts, seen.unseen, seen.picks_left))
        cost = {keep.kind: keep.picks for keep in advice.keeps}
        assert decision.chosen == (actions[decision.index].kind,)
        assert decision.best == (advice.let_go,)
        assert decision.cost == pytest.approx(cost[decision.chosen[0]], abs=1e-12)
        assert decision.unforced is (max(cost.values()) > 0)
        assert decision.fault is (decision.cost > 0)
    assert not found.decisions[-1].unforced, "with no draw to come nothing matters"


@pytest.mark.slow
def test_passes_are_set_against_the_advised_ones(table):
    """A pass of what is advised costs nothing; one of what is most needed costs, and lowers what comes of it."""
    house = House(picks=20, passes=1)
    state = start(table.sheet, house, shuffle(8))
    advice = advise_passes(table, observe(state, 0))
    for choice, worse in ((advice.choices[0], False), (advice.choices[-1], True)):
        states, actions = played(state, lambda _, choice=choice: Pass(choice.kinds), 4)
        found = review(table, states, actions)
        (decision,) = found.decisions
        assert decision.passing
        assert decision.best == advice.choices[0].kinds
        assert decision.cost == choice.picks
        assert (decision.value < -0.005) is worse
        assert adds_up(found)


def test_a_finished_hand_let_go_is_a_fault(table):
    """Whoever could have shown mahjong and discards loses nearly all; showing a wrong hand loses what there was."""
    state, spare = nearly(table, House(picks=6, slips=True))
    for action in (Discard(spare), None, Discard(table.variants[0].groups[0].kind)):
        action = action or Draw(state.wall[0])
        state = apply(state, action)
        if isinstance(action, Draw):
            before = state
    found = review(table, [before, state], [Discard(table.variants[0].groups[0].kind)])
    (decision,) = found.decisions
    assert decision.best == ()
    assert decision.unforced
    assert decision.fault
    assert decision.value == pytest.approx(found.result - 1)
    wrong, _ = nearly(table, House(picks=6, slips=True))
    dead = apply(wrong, Mahjong())
    found = review(table, [wrong, dead], [Mahjong()])
    assert found.result == 0.0
    assert found.decisions[0].chosen == ()
    assert found.decisions[0].value < 0
    assert adds_up(found)


def test_hidden_tiles_change_no_review(table):
    """The other racks and the undrawn wall may hold anything: the review is the same."""
    state = start(table.sheet, House(picks=5), shuffle(12))
    states, actions = played(state, by_advice(table))
    hidden = [*state.wall[5:], *(kind for rack in state.racks[1:] for kind in rack)]
    Random(1).shuffle(hidden)
    rest = len(state.wall) - 5
    racks = (state.racks[0], *(tuple(hidden[rest + 13 * seat : rest + 13 * seat + 13]) for seat in range(3)))
    other = replace(state, wall=(*state.wall[:5], *hidden[:rest]), racks=racks)
    assert review(table, *played(other, by_advice(table))) == review(table, states, actions)


@pytest.mark.slow
def test_values_agree_with_the_slow_twin():
    """The chance by the last draw is that of plain sums over the near variants; of a tile let go, over those near to
    the rack before."""
    random = Random(31)
    for jokers in (0, 8):
        table = SheetTable.of(plain.sheet_of(*([plain.random_variant(random, jokers)] for _ in range(80))), jokers)
        for draws in (1, 12, 60):
            rack, unseen = plain.random_rack(random, 14, jokers)
            near = plain.near(table.variants, rack, unseen, NEAR, SPREAD)
            share = min(draws / sum(unseen), 0.95)

            def slow(counts, near=near, unseen=unseen, share=share):
                powers = sum(plain.chance(variant, counts, unseen, share) ** 4 for variant in near)
                return float(made(np.array([powers]))[0])

            assert chances(table, np.array([rack]), np.array([unseen]), draws)[0] == pytest.approx(
                slow(rack), abs=EXACT
            )
            stands = standing(table, np.array([rack]), np.array([unseen]), draws)
            goes = int(stands.goes[0])
            assert goes == advise(Moment.of(table, rack, unseen, draws)).let_go
            assert stands.chance[0] == pytest.approx(slow(plain.without(rack, goes)), abs=EXACT)


def test_draws_are_weighed_one_by_one(table):
    """What `after_draws` says of each tile is the value of the rack with it; none but unseen ones are in it."""
    racks, around = dealt(np.random.default_rng(2), 13, 8, 2)
    for rack, unseen in zip(racks, around, strict=True):
        unseen[5] = 0
        found = after_draws(table, rack, unseen, 18)
        assert sorted(found) == unseen.nonzero()[0].tolist()
        for kind in (0, 11, JOKER):
            more, less = rack.copy(), unseen.copy()
            more[kind] += 1
            less[kind] -= 1
            assert found[kind] == pytest.approx(values(table, more[None], less[None], 17)[0], abs=1e-12)


def test_a_hand_is_worth_everything(table):
    """A rack that is a hand stands at 1 with nothing to let go, also with no draw left; others then at 0."""
    whole = np.array(table.variants[3].total)
    broken = whole.copy()
    broken[whole.argmax()] -= 1
    broken[(whole == 0).argmax()] += 1
    racks = np.array([whole, broken])
    unseen = np.array([full_set()] * 2) - racks
    assert finished(table, racks).tolist() == [True, False]
    for draws in (0, 10):
        stands = standing(table, racks, unseen, draws)
        assert stands.goes[0] == NOTHING != stands.goes[1]
        assert stands.chance[0] == 1.0
        assert bool(stands.chance[1] > 0) is bool(draws)


@pytest.mark.slow
def test_the_average_deal(table):
    """The same each time, within its error of another sample, and with half the error from four times the deals."""
    first = average_deal(table, 14, 30)
    assert first == average_deal(table, 14, 30)
    racks, unseen = dealt(np.random.default_rng(99), 14, 8, 1000)
    other = values(table, racks, unseen, 30)
    assert abs(first.value - other.mean()) < 4 * 2**0.5 * first.error
    assert average_deal(table, 14, 30, deals=4000).error == pytest.approx(first.error / 2, rel=0.2)
    assert (racks.sum(axis=1) == 14).all()
    assert (racks + unseen == full_set()).all()
    assert first.value > average_deal(table, 13, 30).value


def test_tiles_that_come_in(table):
    """Never a joker, no more than there are, the first ones alike for fewer; each kind's share as its weight says."""
    unseen = np.array(plain.random_rack(Random(3), 14)[1])
    ready = np.where(np.arange(KINDS) < 9, 0.25, let_go_by_others(table))
    three, two, one = (arrivals(unseen, number, ready) for number in (3, 2, 1))
    assert three.shape == (ARRIVALS, KINDS)
    assert (three.sum(axis=1) == 3).all()
    assert (three <= unseen).all()
    assert (three >= two).all()
    assert not three[:, JOKER].any()
    expected = (unseen * ready)[:9].sum() / (unseen @ ready)
    assert abs(one[:, :9].sum() / ARRIVALS - expected) < 4 * (expected * (1 - expected) / ARRIVALS) ** 0.5


@pytest.mark.slow
def test_what_comes_in_is_set_against_what_others_let_go(table):
    """Luck of what came in averages nearer to nothing than it would if any unseen tile were as likely to come, over
    the first round of many deals with simulated seats."""
    others, any_tile = player(Strength.STEADY, table), (np.arange(KINDS) != JOKER).astype(float)
    arrived, if_alike = [], []
    for seed in range(deep(10, 16)):
        states, actions = [start(table.sheet, House(picks=40, passes=3), shuffle(seed))], []
        while states[-1].phase is Phase.PASSING:
            actions.append(others(observe(states[-1], states[-1].to_act)))
            states.append(apply(states[-1], actions[-1]))
        arrived.append(review(table, states, actions).arrived)
        if_alike.append(0.0)
        for put_out in range(0, 12, 4):  # the player chooses first of four
            before, after = observe(states[put_out], 0), observe(states[put_out + 4], 0)
            gone = np.bincount(after.passed[-1].kinds, minlength=KINDS)
            came = arrivals(np.array(before.unseen), int(gone.sum()), any_tile)
            racks, unseen = np.array(before.counts) - gone + came, np.array(before.unseen) - came
            worth = values(table, np.array([after.counts]), np.array([after.unseen]), after.picks_left)[0]
            if_alike[-1] += worth - values(table, racks, unseen, before.picks_left).mean()
    assert abs(np.mean(arrived)) < 0.75 * abs(np.mean(if_alike))


def test_games_that_are_not_reviewed(table):
    """Four players, a review that is stopped, and actions that don't fit the states."""
    with pytest.raises(NotReviewedError, match="quiet table"):
        review(table, [start(table.sheet, House(table=FULL), shuffle(1))], [])
    states, actions = played(start(table.sheet, House(picks=3), shuffle(1)), by_advice(table))
    with pytest.raises(NotReviewedError, match="stopped"):
        review(table, states, actions, Work(stopped=lambda: True))
    with pytest.raises(ValueError, match="lead to"):
        review(table, states, actions[1:])
