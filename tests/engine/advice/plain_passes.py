"""The slow, obvious twins of the advice for the passes: plain Python, one rack, one variant and one tile at a time."""

from fractions import Fraction

import plain_advice as plain

from engine.tiles import JOKER, KINDS


def let_go_by_others(variants):
    """How readily others pass a tile of each kind: 1 / (1 + (use / mean use)^2.5), jokers never."""
    use = [sum(variant.total[kind] for variant in variants) for kind in range(JOKER)]
    mean = sum(use) / JOKER
    return [1 / (1 + (number / mean) ** 2.5) for number in use] + [0.0]


def shares(variants, unseen, coming, draws, steps):
    """For each step the chance, kind by kind, that a given unseen tile has come."""
    ready = let_go_by_others(variants)
    together = sum(copies * weight for copies, weight in zip(unseen, ready, strict=True))
    moments = []
    for step in range(steps):
        drawn = ((step + 0.5) / steps * draws + 0.5 * (draws > 0)) / sum(unseen)
        moments.append([1 - (1 - coming * weight / together) * (1 - drawn) for weight in ready])
    return moments


def worth(variants, counts, unseen, moments, made):
    """The mean over the moments of made(sum over the near variants of P^4)."""
    total = sum(
        made(sum(plain.chance_by_kind(one, counts, unseen, share) ** 4 for one in variants)) for share in moments
    )
    return total / len(moments)


def odds_after_passes(variant, counts, unseen, coming, draws):
    """The exact chance, as a Fraction: tiles of the passes come one after another, any unseen one but a joker, and
    then the draws."""
    if not coming:
        return plain.odds(variant, counts, unseen, draws)
    others = [kind for kind in range(JOKER) if unseen[kind] and not variant.total[kind]]
    total = Fraction(0)
    for kind in range(JOKER):
        if not unseen[kind] or (kind in others and kind != others[0]):
            continue
        ways = unseen[kind] if kind not in others else sum(unseen[other] for other in others)
        more = [held + (place == kind and kind not in others) for place, held in enumerate(counts)]
        fewer = [copies - (place == kind) for place, copies in enumerate(unseen)]
        total += ways * odds_after_passes(variant, more, fewer, coming - 1, draws)
    return total / (sum(unseen) - unseen[JOKER])


def without(counts, kinds):
    """The counts with these tiles gone."""
    return tuple(counts[kind] - kinds.count(kind) for kind in range(KINDS))


def least_missing(hand, counts, unseen):
    """The least number of tiles that a hand misses over the variants that can still be made, None where none can."""
    alive = [variant for variant in hand.variants if plain.can_still_be(variant, counts, unseen)]
    return min((plain.missing(variant, counts) for variant in alive), default=None)
