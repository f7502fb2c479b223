"""What is left after a pass, fast against plain Python: worths with a rate for each kind, tiles missing, exact odds."""

from random import Random

import numpy as np
import plain_advice as plain
import plain_passes as slow
import pytest

from engine.advice.advise.pass_choices import choices_of
from engine.advice.odds.exact import exact, exact_after_passes
from engine.advice.table import SheetTable
from engine.advice.worth.after_pass import NEVER, RacksLeft
from engine.advice.worth.incoming import let_go_by_others, shares
from engine.advice.worth.worth import NEAR, SPREAD, STEPS, horizons, made, weigh
from engine.sheet.shelf import find
from engine.tiles import FLOWER, JOKER, KINDS, full_set, kinds_of

CLOSE = 1e-9


def one_made(cubes):
    """The shipped map from a sum of cubes to a chance, for one number."""
    return float(made(np.array([cubes]))[0])


def table_of(seed, number, jokers=8):
    """A table of random variants, each a hand of its own but for the last ten, which are one."""
    random = Random(seed)
    variants = [plain.random_variant(random, jokers) for _ in range(number)]
    return SheetTable.of(plain.sheet_of(*([one] for one in variants[:-10]), variants[-10:]), jokers)


@pytest.mark.parametrize("jokers", [0, 3, 8, 10])
@pytest.mark.slow
def test_worths_agree_with_the_slow_twin(jokers):
    """What each choice leaves is worth what plain sums over the near variants say, with each kind's own rate."""
    random = Random(40 + jokers)
    table = table_of(jokers, 100, jokers)
    for tiles in (13, 14):
        rack, unseen = plain.random_rack(random, tiles, jokers)
        coming, draws = random.choice((1, 3, 11)), random.choice((5, 40))
        choices = random.sample(choices_of(kinds_of(rack), 3), 6)
        kept = RacksLeft.of(table, rack, unseen, choices)
        worths = kept.worths(shares(table, unseen, coming, draws))
        moments = slow.shares(table.variants, unseen, coming, draws, STEPS)
        for kinds, worth in zip(choices, worths, strict=True):
            left = slow.without(rack, kinds)
            near = plain.near(table.variants, left, unseen, NEAR, SPREAD)
            assert abs(worth - slow.worth(near, left, unseen, moments, one_made)) < CLOSE


def test_with_one_rate_for_all_it_is_the_worth_of_play():
    """Where every kind comes at one rate, the worths of all choices are those that play goes by."""
    table = SheetTable.of(find("lantern-street"))
    random = Random(3)
    for _ in range(4):
        rack, unseen = plain.random_rack(random)
        choices = choices_of(kinds_of(rack), 3)
        kept = RacksLeft.of(table, rack, unseen, choices)
        alike = np.tile(horizons(40, sum(unseen)), (KINDS, 1))
        around = np.tile(np.array(unseen), (len(choices), 1))
        assert np.allclose(kept.worths(alike), weigh(table, kept.racks, around, 40).here, rtol=0, atol=1e-12)


def test_tiles_missing_by_choice():
    """Tiles missing of chosen variants and the least of each hand, gone for good or not, are counted afresh."""
    random = Random(5)
    table = table_of(6, 40)
    gone = set()
    for shown in (0, 30, 60, 60, 100):
        rack, unseen = plain.random_rack(random, 14, shown=shown)
        choices = random.sample(choices_of(kinds_of(rack), 3), 10)
        kept = RacksLeft.of(table, rack, unseen, choices)
        rows = np.array(random.sample(range(len(table)), 12))
        missing, least = kept.missing(rows), kept.least_missing(rows)
        for place, kinds in enumerate(choices):
            left = slow.without(rack, kinds)
            for column, row in enumerate(rows):
                assert missing[place, column] == plain.missing(table.variants[row], left)
                expected = slow.least_missing(table.sheet.hands[table.hand[row]], left, unseen)
                assert least[place, column] == (NEVER if expected is None else expected)
                gone.add(expected is None)
    assert gone == {True, False}


def test_worth_without_hope():
    """Where nothing can be made any more, nothing is worth anything."""
    table = SheetTable.of(plain.sheet_of([plain.random_variant(Random(1))]))
    variant = table.variants[0]
    rack = [0] * KINDS
    for kind in [kind for kind in range(FLOWER) if not variant.total[kind]][:14]:
        rack[kind] = 1
    unseen = [0 if variant.total[kind] else full_set()[kind] - rack[kind] for kind in range(KINDS)]
    kept = RacksLeft.of(table, rack, unseen, choices_of(kinds_of(rack), 3))
    assert not kept.worths(shares(table, unseen, 3, 40)).any()


def test_rates_agree_with_the_slow_twin():
    """How readily a kind is let go, and the share that has come by each step, on a shipped sheet."""
    table = SheetTable.of(find("first-steps"))
    assert np.allclose(let_go_by_others(table), slow.let_go_by_others(table.variants), rtol=0, atol=1e-12)
    _, unseen = plain.random_rack(Random(4), 14)
    expected = np.array(slow.shares(table.variants, unseen, 9, 40, STEPS)).T
    assert np.allclose(shares(table, unseen, 9, 40), expected, rtol=0, atol=1e-12)


def test_a_kind_used_more_comes_less():
    """The more the sheet's variants use a kind, the less readily it is passed; jokers never are."""
    table = SheetTable.of(find("lantern-street"))
    ready = let_go_by_others(table)
    use = table.total.sum(axis=0, dtype=int)
    order = np.argsort(use[:JOKER], kind="stable")
    assert (np.diff(ready[order]) <= 0).all()
    assert ready[order[0]] > 2 * ready[order[-1]]
    assert ready[JOKER] == 0
    passed = shares(table, full_set(), 9, 0)
    assert abs(passed[:, 0] @ np.array(full_set()) - 9) < 1e-9, "nine tiles come in all"
    assert (passed[JOKER] == 0).all()


@pytest.mark.parametrize("jokers", [0, 4, 8])
def test_exact_odds_after_passes(jokers):
    """Exact odds where passes come first agree with fractions that let tile after tile come."""
    random = Random(60 + jokers)
    met = 0
    for _ in range(8):
        table = SheetTable.of(plain.sheet_of([plain.random_variant(random, jokers)]), jokers)
        variant = table.variants[0]
        wall = list(kinds_of(full_set(jokers)))
        random.shuffle(wall)
        rack = [0] * KINDS
        for kind in kinds_of(variant.total)[: random.randrange(8, 12)]:
            if kind in wall:
                wall.remove(kind)
                rack[kind] += 1
        unseen = [wall[: random.choice((40, len(wall)))].count(kind) for kind in range(KINDS)]
        coming, draws = random.randrange(3), random.choice((0, 3, 30))
        fast = exact_after_passes(table, np.array([0]), rack, unseen, coming, draws)[0]
        right = slow.odds_after_passes(variant, rack, unseen, coming, draws)
        assert abs(fast - float(right)) < 1e-12
        met += 0 < right < 1
    assert met


def test_no_pass_is_plain_odds():
    """With nothing coming in by passes the odds are those of draws alone; with no joker unseen passes are draws."""
    table = table_of(9, 30)
    rows = np.arange(len(table))
    rack, unseen = plain.random_rack(Random(9), 13)
    assert np.allclose(exact_after_passes(table, rows, rack, unseen, 0, 50), exact(table, rows, rack, unseen, 50))
    bare = (*unseen[:JOKER], 0)
    assert np.allclose(exact_after_passes(table, rows, rack, bare, 9, 41), exact(table, rows, rack, bare, 50))


def test_more_tiles_than_there_are():
    """Asking for more passes or draws than there are tiles says so."""
    table = table_of(9, 12)
    rack, unseen = plain.random_rack(Random(9), 13, shown=119)
    plain_tiles = sum(unseen) - unseen[JOKER]
    for coming, draws in ((plain_tiles + 1, 0), (3, sum(unseen) - 2), (-1, 4)):
        with pytest.raises(ValueError, match="choose fewer"):
            exact_after_passes(table, np.array([0]), rack, unseen, coming, draws)
