"""One rack at one moment, counted afresh in plain Python: what its hands miss, use and need."""

import re
from collections import Counter

import plain_advice as plain

from engine.sheet.groups import Group, Variant
from engine.tiles import JOKER, KINDS, full_set


def left_after(table, laid):
    """What every variant of an open hand that holds the groups laid still needs, found one by one."""
    if not laid:
        return [(hand, variant) for hand in table.sheet.hands for variant in hand.variants]
    wanted = Counter(Group(one.size, one.kind) for one in laid)
    found = []
    for hand in table.sheet.hands:
        for variant in hand.variants:
            if not hand.concealed and not wanted - Counter(variant.groups):
                groups = list(variant.groups)
                for group in wanted.elements():
                    groups.remove(group)
                found.append((hand, Variant(tuple(groups))))
    return found


class Counted:
    """One rack of 13 or 14 tiles at one moment, counted afresh."""

    def __init__(self, table, rack, unseen, draws, calls=False, laid=()):
        """`table` is that of the whole sheet, `rack` the tiles that don't lie exposed, `laid` the exposed groups."""
        self.table, self.rack, self.unseen, self.draws = table, rack, unseen, draws
        self.calls, self.laid = calls, tuple(laid)
        self.by_name = {hand.name: hand for hand in table.sheet.hands}
        self._variants = {name: [] for name in self.by_name}
        made = set(table.variants)
        for hand, variant in left_after(table, laid):
            if laid or variant in made:
                self._variants[hand.name].append(variant)
        self.asked = 0
        """Facts counted so far: what one claim was compared with each."""
        self._best = {}
        self.names = "(?:" + "|".join(sorted(map(re.escape, self.by_name), key=len, reverse=True)) + ")"

    def variants(self, name):
        """What each variant of a hand that the set can make needs besides the groups laid."""
        return self._variants[name]

    def best(self, name):
        """The variant of a hand with the best odds; of equal ones the one that misses least, then the first."""
        if name not in self._best:
            ranked = []
            for place, variant in enumerate(self.variants(name)):
                if plain.missing(variant, self.rack) > self.draws:
                    continue
                odds = float(plain.odds(variant, self.rack, self.unseen, self.draws))
                ranked.append((-round(odds, 12), plain.missing(variant, self.rack), place, variant))
            self._best[name] = min(ranked)[-1]
        return self._best[name]

    def missing(self, name):
        """Tiles that the best variant misses."""
        self.asked += 1
        return plain.missing(self.best(name), self.rack)

    @property
    def jokers(self):
        """Whether the rack holds a joker or one may still come."""
        self.asked += 1
        return self.rack[JOKER] + self.unseen[JOKER] > 0

    def near(self, name):
        """The least number of tiles that any way of the hand misses that can still be made."""
        ways = [one for one in self.variants(name) if plain.can_still_be(one, self.rack, self.unseen)]
        return min((plain.missing(one, self.rack) for one in ways), default=99)

    def needs(self, name, kind, held):
        """Whether the best variant uses all copies held of the kind; of jokers, has room for them."""
        self.asked += 1
        variant = self.best(name)
        if kind == JOKER:
            bare = (*self.rack[:JOKER], 0)
            strict = sum(max(need - held_, 0) for need, held_ in zip(variant.real, bare, strict=True))
            return plain.missing(variant, bare) - strict >= held
        return variant.total[kind] >= held

    def lacks(self, name, kind):
        """Copies of the kind missing from singles and pairs, and from larger groups."""
        self.asked += 1
        variant = self.best(name)
        real, loose, held = variant.real[kind], variant.loose[kind], self.rack[kind]
        return max(real - held, 0), max(loose - max(held - real, 0), 0)

    def places(self, name):
        """Places in the best variant's larger groups that no real tile of the rack fills."""
        return sum(self.lacks(name, kind)[1] for kind in range(JOKER))

    def unfilled(self, name):
        """Those that its jokers don't fill either."""
        return max(self.places(name) - self.rack[JOKER], 0)

    def outs(self, name):
        """The unseen kinds that make the hand at once."""
        self.asked += 1
        return {
            kind
            for kind in range(KINDS)
            if self.unseen[kind]
            and any(
                plain.missing(v, tuple(c + (k == kind) for k, c in enumerate(self.rack))) == 0
                for v in self.variants(name)
            )
        }

    def helping(self, name):
        """Unseen tiles of which one more in the rack makes the best variant miss one tile less."""
        self.asked += 1
        best, now = self.best(name), self.missing(name)
        return sum(
            self.unseen[kind]
            for kind in range(KINDS)
            if plain.missing(best, tuple(c + (k == kind) for k, c in enumerate(self.rack))) < now
        )

    def ways(self, name, most):
        """Variants of a hand that can still be made and miss so many tiles at most."""
        self.asked += 1
        alive = (one for one in self.variants(name) if plain.can_still_be(one, self.rack, self.unseen))
        return sum(plain.missing(one, self.rack) <= most for one in alive)

    def gone(self, kind):
        """Copies that lie open."""
        self.asked += 1
        shown = sum(one.size - one.jokers for one in self.laid if one.kind == kind)
        return full_set(self.table.jokers)[kind] - self.rack[kind] - self.unseen[kind] - shown

    def can_be_made(self, name, fewer):
        """Whether some variant can still be made from a rack, within the draws where nothing may be called."""
        self.asked += 1
        return any(
            plain.can_still_be(v, fewer, self.unseen) and (self.calls or plain.missing(v, fewer) <= self.draws)
            for v in self.variants(name)
        )
