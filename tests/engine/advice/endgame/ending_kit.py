"""What the tests of exact endings share: small worlds, and the comparison with the slow twin."""

from random import Random

import plain_advice as plain
from plain_ending import shares

from engine.advice.table import SheetTable
from engine.sheet.groups import Group, Variant
from engine.tiles import JOKER, KINDS, counts_of, full_set

CLOSE = 1e-12

NO_LIMIT = 10**9

MIXED = ((4, 4, 4, 2), (3, 3, 3, 3, 2), (2, 2, 3, 3, 4), (4, 3, 3, 2, 2), (2, 4, 4, 1, 3), (5, 5, 4), (6, 6, 2))

PLAIN = ((2,) * 7, (2, 2, 2, 2, 2, 4), (1, 1, 1, 1, 2, 2, 6), (3, 4, 5, 1, 1), (1,) * 4 + (2,) * 5)

LARGE = ((4, 4, 6), (3, 3, 4, 4), (5, 5, 4), (6, 4, 4), (3, 3, 3, 5))


def worlds(seed, sizes=MIXED + PLAIN, jokers=(0, 1, 2, 4, 8), unseen=(4, 10)):
    """Small worlds without end: a table of a few hands that share tiles, a rack of 14 near one of them, some tiles
    unseen, of which a few are of no use."""
    random = Random(seed)
    while True:
        kinds = random.sample(range(JOKER), random.randrange(3, 6))
        variants = {}
        for _ in range(random.randrange(1, 25)):
            variant = Variant(tuple(Group(size, random.choice(kinds)) for size in random.choice(sizes)))
            variants[variant.key] = variant
        fit = [v for v in variants.values() if sum(map(bool, v.loose)) <= 4 and max(v.total) <= 8]
        table = SheetTable.of(plain.sheet_of(*([variant] for variant in fit)))
        if not len(table):
            continue
        pool = [kind for kind in kinds for _ in range(full_set()[kind])] + [JOKER] * random.choice(jokers)
        pool += random.sample([kind for kind in range(JOKER) if kind not in kinds], random.choice((0, 1, 2, 5)))
        random.shuffle(pool)
        target = random.choice(table.variants)
        near = [kind for kind in range(KINDS) for _ in range(target.total[kind])]
        for kind in random.sample(near, min(len(near), random.randrange(10, 14))):
            if kind in pool[14:]:  # from the end to the front, without changing what else is there
                place = len(pool) - 1 - pool[::-1].index(kind)
                pool.insert(0, pool.pop(place))
        cut = 14 + random.randrange(*unseen)
        if len(pool) < cut:
            continue
        rack, hidden = counts_of(pool[:14]), counts_of(pool[14:cut])
        least = min(plain.missing(variant, rack) for variant in table.variants)
        if 0 < least <= 3:
            yield table, rack, hidden


def check(found, expected, rack, unseen, draws):
    """Worth and chance of every kind held are those of the slow twin; how many of them are over nothing."""
    for kind in range(KINDS):
        if rack[kind]:
            worth, chance = shares(expected[kind], unseen, draws)
            assert abs(found.worth[kind] - worth) < CLOSE, (kind, draws)
            assert abs(found.chance[kind] - chance) < CLOSE, (kind, draws)
        else:
            assert found.worth[kind] == found.chance[kind] == -1
    return sum(value > 0 for value, _ in expected.values())
