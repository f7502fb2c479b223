"""Judging racks: the fast ways against slow twins, and what both must order rightly."""

import random
from types import SimpleNamespace

import numpy as np
import pytest
from depth import deep
from plain_judging import can_be_made, glance, lacks, moments, needs_of, reckoning, whole

from engine.rules.state import Exposure
from engine.seats.judging import Glance, Hold, draws_hoped_for
from engine.seats.rates import FASTEST, LEVELS, grid, level
from engine.seats.reckoning import BEHIND, NEAR, Reckoning
from engine.tiles import JOKER, KINDS, counts_of, parse_tiles


def holds(table, seed, times):
    """Holdings as they come up: a near hand with some tiles changed, one group of it laid or none, some tiles gone."""
    chance = random.Random(seed)
    for _ in range(times):
        variant = table.variants[int(chance.random() * len(table))]
        larger = [group for group in variant.groups if group.takes_jokers]
        laid = ()
        if larger and chance.random() < 0.5:
            group = larger[int(chance.random() * len(larger))]
            laid = (Exposure(group.size, group.kind, int(chance.random() * 2)),)
        unseen = whole()
        for one in laid:
            unseen[one.kind] -= min(one.real, unseen[one.kind])
            unseen[JOKER] -= one.jokers
        rack = []
        wanted = [group.kind for group in variant.groups for _ in range(group.size)]
        for one in laid:
            for _ in range(one.size):
                wanted.remove(one.kind)
        chance.shuffle(wanted)
        keep = int(chance.random() * 8) + 3
        for kind in wanted[:keep]:
            kind = kind if unseen[kind] else JOKER
            if unseen[kind]:
                unseen[kind] -= 1
                rack.append(kind)
        everything = [kind for kind in range(KINDS) for _ in range(unseen[kind])]
        chance.shuffle(everything)
        more = 14 - sum(one.size for one in laid) - len(rack)
        rack += everything[:more]
        for kind in everything[: more + int(chance.random() * 60)]:
            unseen[kind] -= 1
        yield Hold.of(np.array(counts_of(rack)), laid, np.array(unseen), 1 + int(chance.random() * 25))


def test_glance_is_the_sum_over_all_variants(salon):
    """The look-up of all variants at once gives what a loop over them gives, for the rack and after each tile."""
    judge = Glance(salon.table)
    for hold in holds(salon.table, 1, 6):
        unseen = hold.unseen.tolist()
        assert judge.worth(hold) == pytest.approx(glance(salon.table, hold.counts.tolist(), hold.laid, unseen))
        left = judge.keeps(hold)
        kinds = hold.plain_kinds.tolist()
        assert (left >= 0).nonzero()[0].tolist() == kinds
        kind = kinds[len(kinds) // 2]
        # What is impossible is found from the whole rack, and a tile let go may still be in it.
        fewer = hold.without(kind)
        unseen[kind] += 1
        assert left[kind] == pytest.approx(glance(salon.table, fewer.counts.tolist(), hold.laid, unseen))


@pytest.mark.slow
def test_reckoning_is_the_chance_summed_over_all_ways_to_arrive(salon):
    """Roots of unity give what going through every arrival, call and joker gives, for the rack and after each tile."""
    judge = Reckoning(salon.table)
    for hold in holds(salon.table, 2, 3):
        unseen = hold.unseen.tolist()
        rows = judge.near_rows(hold)[:: deep(8, 4)]
        rates = grid()[level(np.array(moments(hold.draws, unseen)))]
        slow = reckoning(salon.table, rows, hold.counts.tolist(), hold.laid, unseen, rates)
        assert judge.worth(hold, rows) == pytest.approx(slow, rel=1e-9)
        left = judge.keeps(hold, rows)
        for kind in hold.plain_kinds.tolist()[::4]:
            slow = reckoning(salon.table, rows, hold.without(kind).counts.tolist(), hold.laid, unseen, rates)
            assert left[kind] == pytest.approx(slow, rel=1e-9, abs=1e-12)


def test_near_variants_are_possible_and_none_nearer_is_left_out(salon):
    """The near variants are the nearest of those that what is laid allows and the tiles left can make."""
    judge = Reckoning(salon.table)
    for hold in holds(salon.table, 3, 6):
        counts, unseen = hold.counts.tolist(), hold.unseen.tolist()
        distances = {}
        for row, (variant, shut) in enumerate(zip(salon.table.variants, salon.table.concealed, strict=True)):
            needs = needs_of(variant, hold.laid)
            if needs is not None and not (hold.laid and shut) and can_be_made(needs, counts, unseen):
                left = lacks(needs, counts).values()
                singles, larger = sum(f for f, _ in left), max(sum(q for _, q in left) - counts[JOKER], 0)
                distances[row] = 3 * singles + 2 * larger
        ordered = sorted(distances.values())
        cut = min(ordered[:NEAR][-1], ordered[0] + BEHIND) if ordered else 0
        assert judge.near_rows(hold).tolist() == [row for row, distance in distances.items() if distance <= cut]


def test_rates_lie_on_a_grid():
    """Every rate of the grid is found again, and no rate is rounded by more than half a step."""
    assert level(grid()).tolist() == list(range(LEVELS))
    rates = np.linspace(0, FASTEST, 500)
    steps = np.diff(grid()).max()
    assert np.abs(grid()[level(rates)] - rates).max() <= steps


@pytest.mark.parametrize("make", [Glance, Reckoning])
def test_a_finished_hand_is_worth_more_than_one_that_lacks_a_tile(salon, make):
    """Worth rises with every tile that a hand gains, and a tile of no use is what goes best."""
    judge = make(salon.table)
    variant = salon.table.variants[40]
    tiles = [group.kind for group in variant.groups for _ in range(group.size)]
    worths = []
    for held in (9, 11, 13):
        strangers = [kind for kind in range(9) if kind not in tiles][: 13 - held]
        counts = np.array(counts_of(tiles[:held] + strangers))
        worths.append(judge.worth(Hold.of(counts, (), np.array(whole()) - counts, 20)))
    assert worths == sorted(worths)
    assert worths[0] < worths[-1]


@pytest.mark.parametrize("make", [Glance, Reckoning])
def test_what_is_gone_is_not_hoped_for(salon, make):
    """With every other tile gone the rack is worth nothing; with none gone it is worth something."""
    judge = make(salon.table)
    counts = np.array(counts_of(parse_tiles("1b 3b 5b 7b 9b 2c 4c 6c 8c we ws ww wn")))
    assert judge.worth(Hold.of(counts, (), np.array(whole()) - counts, 20)) > 0
    assert judge.worth(Hold.of(counts, (), np.zeros(KINDS, np.int64), 20)) == 0
    assert judge.aim(Hold.of(counts, (), np.zeros(KINDS, np.int64), 20)) is None


@pytest.mark.parametrize(("picks", "wall", "hoped"), [(7, 80, 7), (0, 80, 20), (0, 3, 1)])
def test_draws_hoped_for(picks, wall, hoped):
    """The picks that are left where they are counted, else a quarter of the wall, and always one."""
    assert draws_hoped_for(SimpleNamespace(picks_left=picks, wall_left=wall)) == hoped
