"""The worth of racks, fast against plain Python, and which tile goes."""

from random import Random

import numpy as np
import plain_advice as plain
import pytest

from engine.advice.odds.reach import shortfalls
from engine.advice.table import SheetTable
from engine.advice.worth.choice import JOKER_MARGIN, let_go
from engine.advice.worth.worth import NEAR, SPREAD, STEPS, made, moments, possible, weigh, weigh_and_foresee
from engine.sheet.groups import Group, Variant
from engine.tiles import FLOWER, JOKER, KINDS, full_set

CLOSE = 1e-9


def one_made(powers):
    """The shipped map from a sum of powers to a chance, for one number."""
    return float(made(np.array([powers]))[0])


def table_of(seed, number, jokers=8):
    """A table of random variants."""
    random = Random(seed)
    return SheetTable.of(plain.sheet_of(*([plain.random_variant(random, jokers)] for _ in range(number))), jokers)


def slow_worths(table, rack, unseen, draws):
    """The rack's worth, and what is left after letting go each kind, over the variants near to the whole rack."""
    chosen = plain.near(table.variants, rack, unseen, NEAR, SPREAD)
    here = plain.worth(chosen, rack, unseen, draws, one_made, STEPS)
    left = {
        kind: plain.worth(chosen, plain.without(rack, kind), unseen, draws, one_made, STEPS)
        for kind in range(KINDS)
        if rack[kind]
    }
    return here, left


@pytest.mark.parametrize("jokers", [0, 3, 8, 10])
@pytest.mark.slow
def test_worths_agree_with_the_slow_twin(jokers):
    """The worth of a rack and what is left after each tile are those of plain sums over the near variants."""
    random = Random(20 + jokers)
    table = table_of(jokers, 120, jokers)
    for trial in range(6):
        rack, unseen = plain.random_rack(random, 14, jokers, shown=random.choice((0, 40)))
        draws = random.choice((1, 20, 60))
        weighed = weigh(table, np.array([rack]), np.array([unseen]), draws)
        here, left = slow_worths(table, rack, unseen, draws)
        assert abs(weighed.here[0] - here) < CLOSE, trial
        for kind in range(KINDS):
            assert abs(weighed.left[0, kind] - left.get(kind, -1.0)) < CLOSE


def test_racks_near_a_hand_agree_too():
    """With kinds both in pairs and in larger groups, and few tiles missing, the fast and the slow worths agree."""
    random = Random(2)
    mixed = Variant((Group(2, 0), Group(3, 0), Group(4, FLOWER), Group(1, 9), Group(4, 10)))
    table = SheetTable.of(plain.sheet_of([mixed], *([plain.random_variant(random)] for _ in range(30))))
    for _ in range(6):
        rack = [min(total, copies) for total, copies in zip(mixed.total, full_set(0), strict=True)]
        while sum(rack) > 11:
            rack[random.choice([kind for kind in range(KINDS) if rack[kind]])] -= 1
        while sum(rack) < 14:
            rack[random.choice((3, 20, JOKER))] += 1
        unseen = [copies - held for copies, held in zip(full_set(), rack, strict=True)]
        weighed = weigh(table, np.array([rack]), np.array([unseen]), 30)
        here, left = slow_worths(table, rack, unseen, 30)
        assert abs(weighed.here[0] - here) < CLOSE
        assert all(abs(weighed.left[0, kind] - value) < CLOSE for kind, value in left.items())


@pytest.mark.parametrize("jokers", [0, 3, 8])
@pytest.mark.slow
def test_what_one_tile_more_adds(jokers):
    """Foreseen gains are those of plain sums for the rack with each unseen kind moved into it, at the same moments; the
    weighing beside it is that of `weigh`."""
    random = Random(40 + jokers)
    table = table_of(jokers + 50, 80, jokers)
    for tiles in (13, 14, 13):
        rack, unseen = plain.random_rack(random, tiles, jokers, shown=random.choice((0, 60)))
        draws = random.choice((3, 20, 60))
        racks, around = np.array([rack]), np.array([unseen])
        short, alive = shortfalls(table, racks), possible(table, racks, around)
        weighed, foreseen = weigh_and_foresee(table, racks, around, draws, short, alive)
        alone = weigh(table, racks, around, draws)
        assert np.allclose(weighed.here, alone.here, atol=1e-13)
        assert np.allclose(weighed.left, alone.left, atol=1e-13)
        shares = np.minimum(moments(draws) / sum(unseen), 0.95)
        chosen = plain.near(table.variants, rack, unseen, NEAR, SPREAD)

        def made_of(counts, left, shares=shares, chosen=chosen):
            return [one_made(sum(plain.chance(one, counts, left, share) ** 4 for one in chosen)) for share in shares]

        here = made_of(rack, unseen)
        assert abs(foreseen.last[0] - here[-1]) < CLOSE
        for kind in range(KINDS):
            then = here
            if unseen[kind]:
                more = tuple(count + (place == kind) for place, count in enumerate(rack))
                then = made_of(more, plain.without(unseen, kind))
            assert abs(foreseen.worth_more[0, kind] - (sum(then) - sum(here)) / STEPS) < CLOSE
            assert abs(foreseen.last_more[0, kind] - (then[-1] - here[-1])) < CLOSE


def test_a_batch_is_its_racks_one_by_one():
    """Weighing many racks at once gives each the worth it has alone."""
    random = Random(11)
    table = table_of(12, 200)
    pairs = [plain.random_rack(random, 14) for _ in range(25)]
    racks, unseen = (np.array(column) for column in zip(*pairs, strict=True))
    together = weigh(table, racks, unseen, 50)
    for place in range(len(pairs)):
        alone = weigh(table, racks[place : place + 1], unseen[place : place + 1], 50)
        assert np.allclose(together.here[place], alone.here[0], atol=1e-13)
        assert np.allclose(together.left[place], alone.left[0], atol=1e-13)


@pytest.mark.slow
def test_the_tile_that_goes():
    """The tile whose going leaves most goes; of equal ones the least used by the sheet."""
    random = Random(13)
    table = table_of(14, 60)
    unsure = 0
    for _ in range(12):
        rack, unseen = plain.random_rack(random, 14)
        racks, around = np.array([rack]), np.array([unseen])
        weighed = weigh(table, racks, around, 40)
        chosen = let_go(table, racks, shortfalls(table, racks), possible(table, racks, around), weighed.left)[0]
        _, left = slow_worths(table, rack, unseen, 40)
        joker = left.pop(JOKER, 0.0)
        assert joker < max(left.values()) + JOKER_MARGIN, "no rack here would rather lose a joker"
        best = [kind for kind, value in left.items() if value > max(left.values()) - 1e-10]
        unsure += len(best) > 1
        assert chosen == plain.least_used(table.variants, rack, unseen, best)
    assert unsure, "some racks have tiles that none of the near variants use"


def test_a_joker_goes_where_it_is_of_no_use():
    """With seven pairs all but one tile, and a joker, the joker goes, as it can't stand in a pair."""
    pairs = Variant(tuple(Group(2, kind) for kind in range(7)))
    table = SheetTable.of(plain.sheet_of([pairs]))
    rack = np.bincount([0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5, 6, JOKER], minlength=KINDS)[None]
    unseen = np.array([full_set()]) - rack
    weighed = weigh(table, rack, unseen, 30)
    assert weighed.left[0, JOKER] == weighed.here[0] > weighed.left[0, :JOKER].max() + JOKER_MARGIN
    assert let_go(table, rack, shortfalls(table, rack), possible(table, rack, unseen), weighed.left)[0] == JOKER


def test_a_joker_goes_only_when_nothing_else_is_held():
    """With one other tile beside jokers that tile goes; with jokers alone a joker must."""
    table = table_of(15, 20)
    for rack_tiles, goes in (((JOKER,) * 7 + (4,), 4), ((JOKER,) * 8, JOKER)):
        rack = np.bincount(rack_tiles, minlength=KINDS)[None]
        unseen = np.array([full_set()]) - rack
        weighed = weigh(table, rack, unseen, 10)
        chosen = let_go(table, rack, shortfalls(table, rack), possible(table, rack, unseen), weighed.left)
        assert chosen.tolist() == [goes]


def test_worth_without_hope():
    """Where no variant can be supplied any more the worth is nothing, and a tile is still chosen."""
    table = SheetTable.of(plain.sheet_of([Variant((Group(2, 0), Group(4, 1), Group(4, 2), Group(4, 3)))]))
    rack = np.bincount([9, 9, 9, 9, 10, 10, 10, 10, 11, 11, 11, 11, 12, 12], minlength=KINDS)[None]
    unseen = np.array([full_set()]) - rack
    unseen[0, 0] = 1
    weighed = weigh(table, rack, unseen, 10)
    assert weighed.here[0] == 0
    assert weighed.left[0].max() == 0
    assert let_go(table, rack, shortfalls(table, rack), possible(table, rack, unseen), weighed.left)[0] == 9


def test_no_joker_can_come_when_none_is_unseen():
    """With jokers held and none unseen, a joker to come adds nothing, and every other gain is still the plain one."""
    table = table_of(3, 60)
    rack, unseen = plain.random_rack(Random(5), 13)
    rack, unseen = list(rack), list(unseen)
    rack[JOKER], unseen[JOKER] = 2, 0
    racks, around = np.array([rack]), np.array([unseen])
    short, alive = shortfalls(table, racks), possible(table, racks, around)
    _, foreseen = weigh_and_foresee(table, racks, around, 25, short, alive)
    assert foreseen.worth_more[0, JOKER] == foreseen.last_more[0, JOKER] == 0.0
    assert (foreseen.worth_more[0, np.array(unseen) == 0] == 0.0).all()
    assert foreseen.worth_more.max() > 0.0
