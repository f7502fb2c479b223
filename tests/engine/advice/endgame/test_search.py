"""The exact ending against its slow twin, which looks at every discard and draw, in small worlds; and bounds."""

from collections import Counter
from dataclasses import dataclass
from functools import cache
from itertools import islice
from math import comb, perm
from random import Random

import numpy as np
import plain_advice as plain
import pytest
from depth import deep
from ending_kit import CLOSE, LARGE, NO_LIMIT, PLAIN, check, worlds
from plain_ending import best_play, plus, shares

from engine.advice.endgame import positions as ending_positions
from engine.advice.endgame.bounds import binomials, bounds
from engine.advice.endgame.positions import Level, Wanted
from engine.advice.endgame.search import exact_ending
from engine.advice.endgame.standing import LevelStanding
from engine.advice.odds.exact import exact
from engine.advice.odds.reach import shortfalls
from engine.advice.rollout.games import Batch
from engine.advice.rollout.policy import by_odds
from engine.advice.table import SheetTable
from engine.advice.worth.worth import possible
from engine.sheet.groups import Group, Variant
from engine.tiles import FLOWER, JOKER, KINDS, counts_of, full_set

CASES = {
    "one draw": (1, 1, 150, {"unseen": (1, 12)}),
    "two draws": (2, 2, 90, {}),
    "three draws": (3, 3, 70, {}),
    "four draws": (32, 4, 36, {"unseen": (4, 8)}),
    "five draws": (5, 5, 9, {"unseen": (5, 8)}),
    "all that is unseen": (6, 3, 30, {"unseen": (3, 4)}),
    "singles and pairs": (7, 3, 36, {"sizes": PLAIN}),
    "larger groups and jokers": (8, 3, 40, {"sizes": LARGE, "jokers": (4, 6, 8)}),
    "without jokers": (9, 3, 36, {"jokers": (0,)}),
}


@pytest.mark.parametrize(("seed", "draws", "number", "how"), CASES.values(), ids=CASES)
@pytest.mark.slow
def test_small_worlds_to_the_end(seed, draws, number, how):
    """Worth and chance of each tile let go are those of looking at everything, in worlds of many makes."""
    alive = held = drawn = 0
    for table, rack, unseen in islice(worlds(seed, **how), number):
        found = exact_ending(table, rack, unseen, draws, most=NO_LIMIT)
        alive += check(found, best_play(table.variants)(rack, unseen, draws), rack, unseen, draws)
        held += rack[JOKER] > 0
        drawn += unseen[JOKER] > 0
    assert alive > number / 6, "the worlds are not trivial"
    assert min(held, drawn) > 0 or how.get("jokers") == (0,)


def test_a_joker_set_free():
    """Two hands want one common tile and one of their own, and each can spare a tile that the other uses. A flower
    that a joker stands for already frees the joker: then both tiles may go, one after the other. So it helps,
    though it leaves no hand nearer; and which tile goes first matters, though none leaves a hand further off."""
    first, second, common, own, other, kong = 0, 1, 5, 6, 7, 20
    one = Variant((Group(1, common), Group(1, own), Group(3, first), Group(4, kong), Group(5, FLOWER)))
    two = Variant((Group(1, common), Group(1, other), Group(3, second), Group(4, kong), Group(5, FLOWER)))
    table = SheetTable.of(plain.sheet_of([one], [two]))
    rack = counts_of([first, second, *[kong] * 4, *[FLOWER] * 3, *[JOKER] * 4, 33])
    unseen = counts_of([FLOWER] * 2 + [common] * 2 + [own, other] + [30] * 3)
    for draws in (3, 4):
        found = exact_ending(table, rack, unseen, draws, most=NO_LIMIT)
        check(found, best_play(table.variants)(rack, unseen, draws), rack, unseen, draws)
    without = tuple(0 if kind == FLOWER else number + 2 * (kind == 30) for kind, number in enumerate(unseen))
    assert exact_ending(table, rack, without, 3).chance[33] < exact_ending(table, rack, unseen, 3).chance[33]


@pytest.mark.slow
def test_a_tile_to_spare_goes_first():
    """Where no variant that can still be finished uses every copy of a kind, letting one go is as good as anything;
    and where none that outlives another tile does, at least as good as letting that one go."""
    spare = better = 0
    for number, (table, rack, unseen) in enumerate(islice(worlds(9), 120)):
        draws = 1 + number % 3
        left = best_play(table.variants)(rack, unseen, draws)

        def outlives(counts, table=table, unseen=unseen, draws=draws):
            """The variants that may still be finished from a rack."""
            near = [v for v in table.variants if plain.missing(v, counts) <= draws]
            return [v for v in near if plain.can_still_be(v, counts, unseen)]

        for kind in left:
            if all(used(variant, kind) < rack[kind] for variant in outlives(rack)):
                assert left[kind] == max(left.values())
                spare += 1
            for worse in left:
                alive = outlives(plain.without(rack, worse))
                if all((v.real[kind] if worse == JOKER else used(v, kind)) < rack[kind] for v in alive):
                    assert left[kind] >= left[worse]
                    better += left[kind] > left[worse]
    assert spare > 50
    assert better > 20


def used(variant, kind):
    """The most tiles of a kind that a variant can use."""
    return sum(variant.loose) if kind == JOKER else variant.total[kind]


@pytest.mark.slow
def test_exposed_groups():
    """With groups exposed the rack is smaller, and the variants are what is left of those that hold them."""
    alive = tried = 0
    for table, rack, unseen in islice(worlds(4), 120):
        laid = next((g for v in table.variants for g in v.groups if g.size > 2 and rack[g.kind] >= g.size - 1), None)
        if laid is None:
            continue
        tried += 1
        jokers = min(rack[JOKER], max(0, laid.size - rack[laid.kind]))
        rest = list(rack)
        rest[laid.kind] -= laid.size - jokers
        rest[JOKER] -= jokers
        if min(rest) < 0:
            continue
        variants = []
        for variant in table.variants:
            if not Counter([laid]) - Counter(variant.groups):
                groups = list(variant.groups)
                groups.remove(laid)
                variants.append(Variant(tuple(groups)))
        after = table.after([Exposed(laid.size, laid.kind, jokers)])
        found = exact_ending(after, rest, unseen, 3, most=NO_LIMIT)
        alive += check(found, best_play(variants)(tuple(rest), unseen, 3), rest, unseen, 3)
    assert tried > 20
    assert alive > 20


@dataclass(frozen=True)
class Exposed:
    """A group lying face up."""

    size: int
    kind: int
    jokers: int


def advised_worth(table):
    """The two whole numbers of `best_play` for a rack of 14 when every choice is the advised one."""

    @cache
    def choice(rack, unseen, draws):
        racks, around = np.array([rack]), np.array([unseen])
        batch = Batch(racks, around, shortfalls(table, racks), possible(table, racks, around), draws)
        return int(by_odds(table, batch)[0])

    @cache
    def left(rack, unseen, draws):
        if not draws:
            return 0, 0
        value = made = 0
        rack = plain.without(rack, choice(rack, unseen, draws))
        orders = perm(sum(unseen) - 1, draws - 1)
        for kind, copies in enumerate(unseen):
            if copies:
                drawn = plus(rack, kind)
                if any(plain.missing(variant, drawn) == 0 for variant in table.variants):
                    more = (draws * orders, orders)
                else:
                    more = left(drawn, plain.without(unseen, kind), draws - 1)
                value += copies * more[0]
                made += copies * more[1]
        return value, made

    return left


@pytest.mark.slow
def test_advised_play_is_worth_no_more():
    """Playing by the odds loses worth against the exact ending at times, and gains none."""
    losses = []
    for table, rack, unseen in islice(worlds(12, unseen=(6, 14)), 60):
        worth, _ = shares(advised_worth(table)(rack, unseen, 3), unseen, 3)
        losses.append(exact_ending(table, rack, unseen, 3, most=NO_LIMIT).worth.max() - worth)
    assert min(losses) > -CLOSE
    assert max(losses) > 0.001


@pytest.mark.parametrize("draws", [1, 2, 5])
def test_one_variant_needs_no_choice(draws):
    """With one variant the chance after a tile to spare goes is its exact odds, and the worth is their mean over the
    draws."""
    random = Random(draws)
    tried = 0
    while tried < 25:
        variant = plain.random_variant(random)
        table = SheetTable.of(plain.sheet_of([variant]))
        near = [kind for kind in range(KINDS) for _ in range(variant.total[kind])]
        pool = [kind for kind, number in enumerate(full_set()) for _ in range(number)]
        for kind in random.sample(near, 14 - random.randrange(1, 1 + min(draws, 4))):
            if kind in pool:
                pool.remove(kind)
                pool.insert(0, kind)
        rest = pool[14:]
        random.shuffle(rest)
        rack, unseen = counts_of(pool[:14]), counts_of(rest[:60])
        spare = [kind for kind in range(JOKER) if rack[kind] > variant.total[kind]]
        if spare:
            tried += 1
            found = exact_ending(table, rack, unseen, draws)
            odds = [float(exact(table, np.array([0]), rack, unseen, drawn)[0]) for drawn in range(1, draws + 1)]
            assert found.chance[spare[0]] == pytest.approx(odds[-1], abs=CLOSE)
            assert found.worth[spare[0]] == pytest.approx(sum(odds) / draws, abs=CLOSE)


def test_alike_positions_are_told_by_their_tiles(monkeypatch):
    """Were the numbers by which positions are told apart all alike, the answer would be the same."""
    cases = list(islice(worlds(21), 15))
    found = [exact_ending(*case, 3) for case in cases]
    monkeypatch.setattr(ending_positions, "scrambled", lambda words: np.zeros(len(words), np.uint64))
    for case, one in zip(cases, found, strict=True):
        other = exact_ending(*case, 3)
        assert (one.worth == other.worth).all()
        assert one.positions == other.positions


@pytest.mark.parametrize("draws", [2, 4, 7])
@pytest.mark.slow
def test_bounds_hold_what_one_variant_is_worth(draws):
    """The bounds of a variant alone, as it is and once a tile goes, lie around the sum of its exact odds after each of
    the draws; as long as few tiles are missing of many they lie near."""
    near = tried = 0
    for seed, (table, rack, unseen) in enumerate(islice(worlds(draws), deep(40, 80))):
        others = [kind for kind in range(KINDS) if not any(v.total[kind] for v in table.variants)]
        unseen = tuple(4 if kind in others[: seed % 20] else number for kind, number in enumerate(unseen))
        total = sum(unseen)
        rows = [row for row, v in enumerate(table.variants) if plain.missing(v, rack) <= draws]
        rows = np.array([row for row in rows if plain.can_still_be(table.variants[row], rack, unseen)], np.int64)
        if draws > total or not len(rows):
            continue
        wanted = Wanted.of(table, rows)
        look = LevelStanding(Level.of(wanted, np.array(rack), np.array(unseen)))
        found = bounds(look, look.lost(draws), draws, total)

        def worth(rack, table=table, rows=rows, unseen=unseen):
            return sum(exact(table, rows, rack, unseen, drawn) for drawn in range(1, draws + 1))

        here = worth(rack)
        assert (found.least <= here + CLOSE).all()
        assert (found.most >= here - CLOSE).all()
        near += (found.most < 2 * found.least).sum()
        tried += len(rows)
        if rack[JOKER]:
            assert (found.left_by_joker >= worth(plain.without(rack, JOKER)) - CLOSE).all()
        for column, kind in enumerate(wanted.kinds[:-1]):
            place, pair = (wanted.columns == column).nonzero()
            if rack[kind]:
                assert (found.left[place, pair] >= worth(plain.without(rack, kind))[pair] - CLOSE).all()
    assert near > tried / 5


def test_binomials():
    """The table of binomials is that of the schoolbook."""
    for most, draws in ((1, 1), (5, 3), (40, 9)):
        expected = [[comb(n, k) for k in range(draws + 1)] for n in range(most + 1)]
        assert binomials(most, draws).tolist() == expected
