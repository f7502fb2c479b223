"""The slow, obvious twins of the fast advice: plain Python, whole numbers and fractions, one variant at a time."""

from fractions import Fraction
from math import comb

from engine.sheet.model import Group, Hand, Section, Sheet, Variant
from engine.tiles import FLOWER, JOKER, KINDS, full_set


def missing(variant, counts):
    """Tiles still to come: what singles and pairs miss, and what larger groups miss beyond the jokers held."""
    strict = flexible = 0
    for kind in range(JOKER):
        real, loose = variant.real[kind], variant.loose[kind]
        strict += max(real - counts[kind], 0)
        flexible += max(loose - max(counts[kind] - real, 0), 0)
    return strict + max(flexible - counts[JOKER], 0)


def odds(variant, counts, unseen, draws):
    """The exact chance, as a Fraction, that `draws` tiles from `unseen` finish the variant: favourable choices of tiles
    over all choices, counted over the number drawn of every kind it needs."""
    ways = {(0, 0): 1}  # (tiles drawn, tiles left for jokers) -> number of choices
    others = sum(unseen) - unseen[JOKER]
    for kind in range(JOKER):
        real, loose = variant.real[kind], variant.loose[kind]
        if real + loose == 0:
            continue
        others -= unseen[kind]
        further = {}
        for (drawn, left), number in ways.items():
            for come in range(unseen[kind] + 1):
                held = counts[kind] + come
                if held >= real:
                    key = (drawn + come, left + max(real + loose - held, 0))
                    further[key] = further.get(key, 0) + number * comb(unseen[kind], come)
        ways = further
    good = 0
    for (drawn, left), number in ways.items():
        for jokers in range(unseen[JOKER] + 1):
            rest = draws - drawn - jokers
            if left <= counts[JOKER] + jokers and rest >= 0:
                good += number * comb(unseen[JOKER], jokers) * comb(others, rest)
    return Fraction(good, comb(sum(unseen), draws))


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
