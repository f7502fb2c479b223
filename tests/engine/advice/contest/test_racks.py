"""Chances at a full table: the fast way agrees with the slow one, and what they come to makes sense."""

import random
from dataclasses import replace

import numpy as np
import pytest
from full_games import moments, small_table
from plain_contest import chance

from engine.advice.contest.contest import Contest
from engine.advice.contest.racks import near, together
from engine.advice.odds.reach import missing
from engine.rules.house import FULL, House
from engine.rules.observation import observe
from engine.rules.state import Phase
from engine.tiles import JOKER

TABLE = small_table()


def some_racks(number, phase=Phase.TURN):
    """Racks of seeded games as the contest sees them."""
    contest = Contest(TABLE)
    chance = random.Random(5)
    found = [observe(state, seat) for state, seat in moments(TABLE, range(4), phase)]
    return contest, [contest.rack(one) for one in chance.sample(found, number)]


def test_agrees_with_the_slow_way():
    """Every near variant, before and after up to two tiles of a kind went, at every moment."""
    _, racks = some_racks(6)
    for rack in racks:
        if not len(rack.table):
            continue
        kinds = [kind for kind in range(JOKER) if rack.counts[kind]]
        gone = [(), (kinds[0],), (kinds[-1],), *[(kind, kind) for kind in kinds if rack.counts[kind] > 1][:2]]
        found = near(rack.table, rack.counts, rack.unseen, rack.come, 2)
        fast = found.chances(gone)
        lacking = np.maximum(missing(rack.table, [min(count, 8) for count in rack.counts]), 1)
        for g, went in enumerate(gone):
            counts = list(rack.counts)
            for kind in went:
                counts[kind] -= 1
            for n, row in list(enumerate(found.rows.tolist()))[::7]:
                for z in (0, 4):
                    slow = chance(
                        rack.table.real[row].tolist(),
                        rack.table.loose[row].tolist(),
                        bool(rack.table.concealed[row]),
                        counts,
                        rack.unseen,
                        rack.come.drawn[:, z].tolist(),
                        rack.come.thrown[:, z].tolist(),
                        int(lacking[row]),
                    )
                    assert fast[g, n, z] == pytest.approx(slow, rel=1e-6, abs=1e-9)


def test_a_tile_less_never_helps():
    """No choice of tiles to go leaves more than the whole rack, and each share lies between none and certainty."""
    contest, racks = some_racks(8)
    for rack in racks:
        kinds = [kind for kind in range(JOKER) if rack.counts[kind]]
        whole, *left = contest.worths(rack, [(), *[(kind,) for kind in kinds]])
        assert all(one <= whole + 1e-9 for one in left)
        assert all(0 <= one <= 1 for one in contest.chances(rack, [(), (kinds[0],)]))


def test_together_is_between_the_best_and_the_sum():
    """One variant alone counts for nearly itself while it is small; more never lower the figure."""
    one = np.full((1, 1, 5), 0.1)
    two = np.full((1, 2, 5), 0.1)
    alone, both = (together(some, np.ones(some.shape[1]))[0, 0] for some in (one, two))
    assert alone == pytest.approx(0.1, abs=1e-3)
    assert 0.1 < both < 0.2


def test_where_no_discard_may_be_called_none_is_dangerous():
    """The last 40 tiles are for self-drawn hands at this table; before that, and at any other, some tile feeds."""
    closing = House(table=FULL, last_tiles=40)
    contest, met = Contest(TABLE), set()
    for state, seat in moments(TABLE, range(2), Phase.TURN, closing):
        left = len(state.wall)
        if left in (60, 40, 20) and left not in met:
            met.add(left)
            seen = observe(state, seat)
            assert (contest.danger(seen).risks.max() > 0) == (left > 40)
            assert contest.danger(replace(seen, house=House(table=FULL))).risks.max() > 0
    assert met >= {60, 40}
