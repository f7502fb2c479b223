"""The slow, obvious twins of the fast advice: plain Python, whole numbers and fractions, one variant at a time."""

from fractions import Fraction
from functools import cache
from math import comb

from engine.sheet.groups import Group, Variant
from engine.sheet.model import Hand, Section, Sheet
from engine.tiles import FLOWER, JOKER, KINDS, full_set


def missing(variant, counts):
    """Tiles still to come: what singles and pairs miss, and what larger groups miss beyond the jokers held."""
    strict = flexible = 0
    for kind in {group.kind for group in variant.groups}:
        real, loose = variant.real[kind], variant.loose[kind]
        strict += max(real - counts[kind], 0)
        flexible += max(loose - max(counts[kind] - real, 0), 0)
    return strict + max(flexible - counts[JOKER], 0)


def odds(variant, counts, unseen, draws):
    """The exact chance, as a Fraction, that `draws` tiles from `unseen` finish the variant: favourable choices of tiles
    over all choices, counted over the number drawn of every kind it needs."""
    ways = {(0, 0): 1}  # (tiles drawn, tiles left for jokers) -> number of choices
    others = sum(unseen) - unseen[JOKER]
    for kind in {group.kind for group in variant.groups}:
        real, loose = variant.real[kind], variant.loose[kind]
        others -= unseen[kind]
        further = {}
        for come, still, choices in coming(real, loose, counts[kind], unseen[kind]):
            for (drawn, left), number in ways.items():
                key = (drawn + come, left + still)
                further[key] = further.get(key, 0) + number * choices
        ways = further
    good = 0
    for jokers in range(unseen[JOKER] + 1):
        fill = counts[JOKER] + jokers
        enough = {}  # tiles drawn -> number of choices that so many jokers complete
        for (drawn, left), number in ways.items():
            if left <= fill and drawn + jokers <= draws:
                enough[drawn] = enough.get(drawn, 0) + number
        rest = sum(number * comb(others, draws - drawn - jokers) for drawn, number in enough.items())
        good += comb(unseen[JOKER], jokers) * rest
    return Fraction(good, comb(sum(unseen), draws))


@cache
def coming(real, loose, held, unseen):
    """For each number of tiles of a kind that may come and is enough for its singles and pairs: that number, the places
    it leaves for jokers, and the choices of tiles."""
    return [
        (come, max(real + loose - held - come, 0), comb(unseen, come))
        for come in range(max(real - held, 0), unseen + 1)
    ]


def random_variant(random, jokers=8):
    """Fourteen tiles in groups, of few kinds or many, that a set with so many jokers can supply."""
    while True:
        groups, left = [], 14
        while left:
            size = min(left, random.choice((1, 1, 2, 2, 3, 3, 3, 4, 4, 5, 6)))
            groups.append(Group(size, random.choice((random.randrange(9), random.randrange(JOKER), FLOWER))))
            left -= size
        variant = Variant(tuple(groups))
        copies = full_set(jokers)
        short = sum(max(0, total - have) for total, have in zip(variant.total, copies, strict=True))
        larger = sum(1 for kind in range(KINDS) if variant.loose[kind])
        if short <= jokers and larger <= 4 and all(r <= c for r, c in zip(variant.real, copies, strict=True)):
            return variant


def sheet_of(*hands, concealed=()):
    """A sheet of hands given as lists of variants; those whose number is in `concealed` may hold no exposure."""
    made = tuple(
        Hand(f"Hand {number}", "Only", (), (), "", number in concealed, 25, "", tuple(variants))
        for number, variants in enumerate(hands)
    )
    return Sheet("Test", "2026", "the tests", (Section("Only", made),), repr(hands))


def random_rack(random, tiles=14, jokers=8, shown=0):
    """Counts of a rack, and of what is unseen when `shown` more tiles lie open."""
    wall = [kind for kind, count in enumerate(full_set(jokers)) for _ in range(count)]
    random.shuffle(wall)
    rack, unseen = [0] * KINDS, [0] * KINDS
    for kind in wall[:tiles]:
        rack[kind] += 1
    for kind in wall[tiles + shown :]:
        unseen[kind] += 1
    return tuple(rack), tuple(unseen)


def chance(variant, counts, unseen, share):
    """The chance that a rack comes to hold the variant if every unseen tile comes with probability `share`, whatever
    the others do."""
    return chance_by_kind(variant, counts, unseen, [share] * KINDS)


def chance_by_kind(variant, counts, unseen, shares):
    """The same where a tile of kind k comes with probability shares[k]: summed over the number of tiles left for
    jokers."""
    left = {0: 1.0}
    for kind in sorted({group.kind for group in variant.groups}):
        real, loose = variant.real[kind], variant.loose[kind]
        further = {}
        for before, weight in left.items():
            for come in range(unseen[kind] + 1):
                held = counts[kind] + come
                if held >= real:
                    after = before + max(loose - (held - real), 0)
                    likely = binomial(unseen[kind], come, shares[kind])
                    further[after] = further.get(after, 0.0) + weight * likely
        left = further
    return sum(
        weight * binomial(unseen[JOKER], jokers, shares[JOKER])
        for short, weight in left.items()
        for jokers in range(unseen[JOKER] + 1)
        if short <= counts[JOKER] + jokers
    )


@cache
def binomial(number, hits, share):
    """The probability of just so many hits."""
    return comb(number, hits) * share**hits * (1 - share) ** (number - hits)


def can_still_be(variant, counts, unseen):
    """Whether rack and unseen tiles together hold the variant."""
    return missing(variant, [held + more for held, more in zip(counts, unseen, strict=True)]) == 0


def near(variants, counts, unseen, number, spread):
    """The near variants: those that miss least, a tile missing from a single or pair counting one and a half; widened
    by halves of a tile until `number` are in or `spread` halves are reached."""

    def distance(variant):
        bare = [*counts[:JOKER], 0]
        strict = sum(max(real - held, 0) for real, held in zip(variant.real, bare, strict=True))
        return 3 * strict + 2 * max(missing(variant, bare) - strict - counts[JOKER], 0)

    alive = [variant for variant in variants if can_still_be(variant, counts, unseen)]
    if not alive:
        return []
    distances = [distance(variant) for variant in alive]
    least = min(distances)
    for cut in range(least, least + spread + 1):
        chosen = [variant for variant, far in zip(alive, distances, strict=True) if far <= cut]
        if len(chosen) >= number:
            break
    return chosen


def worth(variants, counts, unseen, draws, made, steps):
    """What a rack is worth over the near variants: made(sum of P^4) in the mean of `steps` moments, spread
    evenly so that their own mean is that of the first, second, ... last draw."""
    total = 0.0
    for step in range(steps):
        share = min(((step + 0.5) / steps * draws + 0.5 * (draws > 0)) / sum(unseen), 0.95)
        total += made(sum(chance(variant, counts, unseen, share) ** 4 for variant in variants))
    return total / steps


def without(counts, kind):
    """The counts with one tile of the kind less."""
    return tuple(count - (place == kind) for place, count in enumerate(counts))


def least_used(variants, counts, unseen, kinds):
    """Of the kinds, the one used least by the variants: each that uses all copies held counts 4^-(missing beyond the
    nearest)."""
    alive = [variant for variant in variants if can_still_be(variant, counts, unseen)]
    if not alive:
        return min(kinds)
    least = min(missing(variant, counts) for variant in alive)

    def used(kind):
        return sum(
            Fraction(1, 4 ** (missing(variant, counts) - least))
            for variant in alive
            if variant.total[kind] >= counts[kind]
        )

    return min(kinds, key=lambda kind: (used(kind), kind))
