"""The slow, obvious twin of the exact ending: every discard and every draw looked at, one whole rack at a time."""

from functools import cache
from math import perm

import plain_advice as plain

from engine.tiles import KINDS


def best_play(variants):
    """The function `left(rack, unseen, draws)`: for each tile let go from a rack of 14, what the best play comes to, as
    two whole numbers over all orders in which so many unseen tiles may come: the draws left when a hand is made, with
    the one that makes it, added up; and the number of orders in which one is made. The first is made as great as can
    be, then the second."""
    short = cache(lambda rack: min((plain.missing(variant, rack) for variant in variants), default=99))

    @cache
    def after(rack, unseen, draws):
        """The same for a rack of 13."""
        value = made = 0
        if short(rack) <= draws:
            orders = perm(sum(unseen) - 1, draws - 1)
            for kind, copies in enumerate(unseen):
                if copies:
                    drawn = plus(rack, kind)
                    if short(drawn) == 0:
                        more = (draws * orders, orders)
                    else:
                        more = max(left(drawn, plain.without(unseen, kind), draws - 1).values())
                    value += copies * more[0]
                    made += copies * more[1]
        return value, made

    def left(rack, unseen, draws):
        return {kind: after(plain.without(rack, kind), unseen, draws) for kind in range(KINDS) if rack[kind]}

    return left


def plus(counts, kind):
    """The counts with one tile of the kind more."""
    return tuple(count + (place == kind) for place, count in enumerate(counts))


def shares(value, unseen, draws):
    """Worth and chance for the two whole numbers."""
    orders = perm(sum(unseen), draws)
    return (value[0] / (draws * orders), value[1] / orders) if draws else (0.0, 0.0)
