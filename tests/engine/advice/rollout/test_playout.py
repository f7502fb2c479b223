"""Playing on: right on average to the last digit, with little spread, and stopped when asked."""

from itertools import permutations
from random import Random

import numpy as np
import plain_advice as plain
import pytest
from test_tiny_worlds import AdvisedPlay, plus, tiny_world

from engine.advice.moment import StoppedError
from engine.advice.rollout.games import Games, simulate_quiet, walls_of
from engine.advice.rollout.playout import Shared, finishing_kinds, orders, play_on
from engine.advice.rollout.policy import by_odds
from engine.advice.table import SheetTable
from engine.sheet.shelf import find
from engine.tiles import JOKER, KINDS, full_set

DRAWS = 3


def games_of(table, rack, unseen, number=1):
    """So many games that stand alike."""
    return Games.of(table, np.array([rack]), np.array([unseen])).repeated(number)


@pytest.mark.slow
def test_the_mean_over_all_orders_is_exact():
    """Over every order in which the tiles can come, the mean of the estimates is what the policy's play comes to by
    going through all draws: taking the luck out moves no mean."""
    for seed in range(8):
        table, rack, unseen = tiny_world(seed)
        play = AdvisedPlay(table)
        goes = play.choice(rack, unseen, DRAWS)
        held = plain.without(rack, goes)
        hidden = [kind for kind in range(KINDS) for _ in range(unseen[kind])]
        coming = np.array(list(permutations(hidden, DRAWS)))
        results = play_on(games_of(table, held, unseen, len(coming)), coming)
        by_then = [play.within(held, unseen, DRAWS, limit) for limit in range(1, DRAWS + 1)]
        assert results.chance.mean() == pytest.approx(by_then[-1], abs=1e-12)
        assert results.worth.mean() == pytest.approx(sum(by_then) / DRAWS, abs=1e-12)


@pytest.mark.slow
def test_tiles_that_finish():
    """A kind finishes a rack of 13 if some variant misses nothing once a tile of it is in."""
    random, several, none = Random(7), 0, 0
    table = SheetTable.of(plain.sheet_of(*([plain.random_variant(random)] for _ in range(40))))
    for _ in range(60):
        variant = random.choice(table.variants)
        held = [min(total, copies) for total, copies in zip(variant.total, full_set(), strict=True)]
        for _ in range(random.randrange(3)):
            held[random.choice([kind for kind in range(JOKER) if held[kind]])] -= 1
            held[JOKER] += 1
        while sum(held) > 13:
            held[random.choice([kind for kind in range(KINDS) if held[kind]])] -= 1
        unseen = [copies - count for copies, count in zip(full_set(), held, strict=True)]
        if any(plain.missing(one, held) == 0 for one in table.variants):
            continue
        slow = [
            unseen[kind] > 0 and any(plain.missing(one, plus(held, kind)) == 0 for one in table.variants)
            for kind in range(KINDS)
        ]
        assert finishing_kinds(games_of(table, held, unseen))[0].tolist() == slow
        several += sum(slow) > 1
        none += not any(slow)
    assert several > 10
    assert none > 10


@pytest.mark.slow
def test_jokers_finish_where_they_may():
    """One short in a group of three or more a joker finishes, one short in a pair it does not."""
    table = SheetTable.of(find("first-steps"))
    seen = set()
    for row, variant in enumerate(table.variants):
        for group in variant.groups:
            held = list(variant.total)
            held[group.kind] -= 1
            unseen = [copies - count for copies, count in zip(full_set(), held, strict=True)]
            if min(unseen) < 0:
                continue
            fast = finishing_kinds(games_of(table, held, unseen))[0]
            assert fast[group.kind] == (unseen[group.kind] > 0)
            if variant.real[group.kind] == 0:
                assert fast[JOKER], row
                seen.add("joker")
            elif not fast[JOKER]:
                seen.add("real")
    assert seen == {"joker", "real"}


@pytest.mark.slow
def test_luck_taken_out_leaves_little_spread():
    """On a shipped sheet the estimates agree with plain results of the same games, with a third of their spread or
    less."""
    table = SheetTable.of(find("lantern-street"))
    walls = walls_of(np.random.default_rng(3), 1).repeat(200, axis=0)
    rng = np.random.default_rng(4)
    walls[:, 13:] = rng.permuted(walls[:, 13:], axis=1)
    picks = simulate_quiet(table, walls, by_odds, 40).picks
    raw = np.where(picks > 0, 41 - picks, 0) / 40
    rack = np.bincount(walls[0, :13], minlength=KINDS)
    unseen = np.array(full_set()) - rack
    results = play_on(games_of(table, rack, unseen, 200), walls[:, 13:53])
    assert results.worth.std() < raw.std() / 3
    assert results.chance.std() < (picks > 0).std() / 3
    assert abs(results.worth.mean() - raw.mean()) < 3 * raw.std() / 200**0.5
    assert abs(results.chance.mean() - (picks > 0).mean()) < 3 * (picks > 0).std() / 200**0.5


@pytest.mark.slow
def test_a_game_is_the_same_alone():
    """What a game comes to doesn't depend on the games played beside it, and none without draws comes to nothing."""
    table = SheetTable.of(find("first-steps"))
    rack, unseen = plain.random_rack(Random(5), 13)
    coming = orders(np.random.default_rng(1), np.array(unseen), 6, 20)
    together = play_on(games_of(table, rack, unseen, 6), coming)
    for place in range(6):
        alone = play_on(games_of(table, rack, unseen), coming[place : place + 1])
        assert alone.worth[0] == pytest.approx(together.worth[place], abs=1e-12)
    assert play_on(games_of(table, rack, unseen, 6), coming[:, :0]).chance.tolist() == [0.0] * 6


def test_games_that_come_to_stand_alike_end_alike():
    """Games of several choices that meet the same orders come to what they come to when each meets an order of its
    own, so that none can join another; those that stand alike at one order are one."""
    table = SheetTable.of(find("first-steps"))
    rack, unseen = plain.random_rack(Random(5), 14)
    kinds = np.array([kind for kind in range(JOKER) if rack[kind]][:3])
    starts = games_of(table, rack, unseen, 3)
    starts.go(kinds)
    coming = orders(np.random.default_rng(1), np.array(unseen), 5, 12)
    place = np.repeat(np.arange(3), 5)
    together = play_on(starts.take(place), coming)
    apart = play_on(starts.take(place), np.tile(coming, (3, 1)))
    assert together.worth.tolist() == pytest.approx(apart.worth.tolist(), abs=1e-12)
    assert together.chance.tolist() == pytest.approx(apart.chance.tolist(), abs=1e-12)
    shared = Shared.of(starts.take(np.array([0, 0, 1, 1, 0, 0])), 2)
    assert len(shared.games) == 4
    assert shared.games.racks[shared.by].tolist() == starts.racks[[0, 0, 1, 1, 0, 0]].tolist()
    assert shared.order[shared.by].tolist() == [0, 1, 0, 1, 0, 1]
    rest = shared.without(np.arange(4) == shared.by[1])
    assert rest.live.tolist() == [0, 2, 3, 4]
    assert rest.games.racks[rest.by].tolist() == starts.racks[[0, 1, 1, 0]].tolist()


def test_orders_take_tiles_without_putting_back():
    """No order has more of a kind than is unseen; whole orders have all of them, and the first tile is a fair one."""
    unseen = np.array(plain.random_rack(Random(9), 14)[1])
    whole = orders(np.random.default_rng(2), unseen, 4000, int(unseen.sum()))
    assert (np.sort(whole, axis=1) == np.repeat(np.arange(KINDS), unseen)).all()
    share = unseen / unseen.sum()
    first = np.bincount(whole[:, 0], minlength=KINDS) / 4000
    assert (abs(first - share) <= 5 * np.sqrt(share * (1 - share) / 4000)).all()


def test_it_can_be_stopped():
    """`breathe` is asked before every draw, and what it raises ends it."""
    table = SheetTable.of(find("first-steps"))
    rack, unseen = plain.random_rack(Random(5), 13)
    coming = orders(np.random.default_rng(1), np.array(unseen), 2, 9)
    asked = []
    play_on(games_of(table, rack, unseen, 2), coming, lambda: asked.append(True))
    assert len(asked) == 9

    def stop():
        raise StoppedError

    with pytest.raises(StoppedError):
        play_on(games_of(table, rack, unseen, 2), coming, stop)
