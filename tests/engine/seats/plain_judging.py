"""The slow, obvious twins of the players' judging: loops over variants, kinds, arrivals and calls."""

import math
from itertools import product

from engine.seats.judging import CONCEALED, GROUPS, SINGLES
from engine.seats.rates import FASTEST
from engine.seats.reckoning import DEAR, FINISHING, LASTS, MOMENTS, SURE, THROWN
from engine.tiles import JOKER, full_set


def needs_of(variant, laid):
    """Per kind (tiles in singles and pairs, tiles in larger groups not laid); None when a group laid is not its own."""
    groups = [(group.size, group.kind) for group in variant.groups]
    for one in laid:
        if (one.size, one.kind) not in groups:
            return None
        groups.remove((one.size, one.kind))
    needs = {}
    for size, kind in groups:
        real, loose = needs.get(kind, (0, 0))
        needs[kind] = (real + size, loose) if size < 3 else (real, loose + size)
    return needs


def lacks(needs, counts):
    """Per kind (f, q): tiles lacking from singles and pairs, and from larger groups."""
    found = {}
    for kind, (real, loose) in needs.items():
        found[kind] = (max(real - counts[kind], 0), max(loose - max(counts[kind] - real, 0), 0))
    return found


def can_be_made(needs, counts, unseen):
    """Whether rack and unseen tiles hold it."""
    left = lacks(needs, [held + more for held, more in zip(counts, unseen, strict=True)])
    jokers = counts[JOKER] + unseen[JOKER]
    return all(not f for f, _ in left.values()) and sum(q for _, q in left.values()) <= jokers


def glance(table, counts, laid, unseen):
    """The sum over all variants that a steady player takes a rack to be worth."""
    total = 0.0
    for variant, shut in zip(table.variants, table.concealed, strict=True):
        needs = needs_of(variant, laid)
        if needs is None or (laid and shut) or not can_be_made(needs, counts, unseen):
            continue
        left = lacks(needs, counts).values()
        singles, groups = sum(f for f, _ in left), max(sum(q for _, q in left) - counts[JOKER], 0)
        total += math.exp(-SINGLES * singles - GROUPS * groups) * (CONCEALED if shut else 1.0)
    return total


def binomial(tiles, rate, number):
    """Chance that just `number` of `tiles` come."""
    return math.comb(tiles, number) * rate**number * (1 - rate) ** (tiles - number)


def at_least(tiles, rate, number):
    """Chance that `number` or more come."""
    return sum(binomial(tiles, rate, come) for come in range(max(number, 0), tiles + 1))


def chance(needs, shut, counts, unseen, rate):
    """The chance of one variant by a moment: every way that tiles may arrive or be called, one after another."""
    left = lacks(needs, counts)
    plain = [(kind, f) for kind, (f, _) in left.items() if not needs[kind][1]]
    grouped = [(kind, *left[kind]) for kind in left if needs[kind][1]]
    result = 1.0
    for kind, f in plain:
        result *= at_least(unseen[kind], min(rate * (1 + FINISHING), FASTEST), f)
    filled = 0.0
    thrown = 0.0 if shut else min(rate * THROWN, FASTEST)
    ways = [[(come, call) for come in range(unseen[kind] + 1) for call in (False, True)] for kind, _, _ in grouped]
    for way in product(*ways):
        weight, lacking = 1.0, 0
        for (kind, f, q), (come, call) in zip(grouped, way, strict=True):
            some = 1 - (1 - thrown) ** (unseen[kind] - come)
            weight *= binomial(unseen[kind], rate, come) * (some if call else 1 - some) * (come >= f)
            rest = max(q - max(come - f, 0), 0)
            lacking += rest - (1 if call and rest else 0)
        if weight:
            filled += weight * at_least(unseen[JOKER], rate, lacking - counts[JOKER])
    return result * filled


def reckoning(table, rows, counts, laid, unseen, rates):
    """What a sharp player takes a rack to be worth, from the variants `rows`, at the rates of the moments."""
    points = [table.sheet.hands[hand].points for hand in table.hand]
    usual = sum(points) / len(points)
    worth = 0.0
    for rate, lasts in zip(rates, LASTS, strict=True):
        cubes = 0.0
        for row in rows:
            needs = needs_of(table.variants[row], laid)
            tilted = (points[row] / usual) ** DEAR * chance(needs, table.concealed[row], counts, unseen, rate)
            cubes += tilted**3
        worth += lasts * (1 - math.exp(-SURE * cubes ** (1 / 3)))
    return worth


def moments(draws, unseen):
    """The rates before they are rounded to the grid."""
    return [share * draws / sum(unseen) for share in MOMENTS]


def whole():
    """The full set."""
    return list(full_set())
