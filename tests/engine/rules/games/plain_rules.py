"""The rules of the quiet and the full table once more, in another way: lists, and one plain question after another.

Nothing of the rules is imported. Twists are left out.
"""

from collections import Counter
from itertools import combinations

JOKER = 35
STEPS = {"right": 1, "across": 2, "left": 3}
ROUNDS = ("right", "across", "left", "left", "across", "right")


def copies(kind, jokers):
    """Tiles of a kind in the set: four each, eight flowers, and the jokers that the house plays with."""
    return jokers if kind == JOKER else 8 if kind == 34 else 4


class Hands:
    """The hands of a sheet as lists of (size, kind)."""

    def __init__(self, sheet, jokers):
        self.lines = [
            (hand, hand.concealed, hand.points, [(group.size, group.kind) for group in variant.groups])
            for hand in sheet.hands
            for variant in hand.variants
        ]
        self.makable = [line for line in self.lines if self._can_be_supplied(line[3], jokers)]

    @staticmethod
    def _can_be_supplied(groups, jokers):
        lacking = 0
        for kind in {kind for _, kind in groups}:
            need = sum(size for size, other in groups if other == kind)
            if sum(size for size, other in groups if other == kind and size < 3) > copies(kind, jokers):
                return False
            lacking += max(0, need - copies(kind, jokers))
        return lacking <= jokers

    @staticmethod
    def without(groups, laid):
        """The groups that are left once each exposure has taken one of its size and kind; None where one finds none."""
        left = list(groups)
        for size, kind, _ in laid:
            if (size, kind) not in left:
                return None
            left.remove((size, kind))
        return left

    def allow(self, laid):
        """Whether some open hand still has all of these exposures."""
        return any(not closed and self.without(groups, laid) is not None for _, closed, _, groups in self.makable)

    def made(self, rack, laid):
        """Every (hand, points, groups) that the tiles are."""
        if len(rack) + sum(size for size, _, _ in laid) != 14:
            return []
        found = []
        for hand, closed, points, groups in self.lines:
            left = None if closed and laid else self.without(groups, laid)
            if left is not None and self._fill(Counter(rack), left):
                found.append((hand, points, groups))
        return found

    @staticmethod
    def _fill(tiles, groups):
        jokers = tiles.pop(JOKER, 0)
        for size, kind in sorted(groups):
            there = min(size, tiles[kind])
            if size < 3 and there < size:
                return False
            tiles[kind] -= there
            jokers -= size - there
        return jokers == 0 and not any(tiles.values())


class Table:
    """One game. `legal()` are the lines that may be played now, such as ("discard", 7); `play(line)` does one."""

    def __init__(self, hands, house, wall):
        self.hands, self.house, wall = hands, house, list(wall)
        self.racks, self.laid = [[], [], [], []], [[], [], [], []]
        for number in (4, 4, 4, 1):
            for rack in self.racks:
                rack += [wall.pop(0) for _ in range(number)]
        self.racks[0].append(wall.pop(0))
        self.wall, self.full = wall, house.table == "full"
        self.dead, self.mistaken = [False] * 4, []
        self.passed = self.drawn_by_player = 0
        self.said, self.turn, self.loose, self.thrower, self.asked = {}, 0, None, None, []
        self.winner, self.ended, self.paid, self.points = None, None, (0, 0, 0, 0), 0
        self.moment, self.who = "pass", 0
        if not house.passes:
            self._begin()

    def _begin(self):
        self.turn = 0 if self.full else self.house.seat
        self.said = {}
        if self.turn == 0:
            self.moment, self.who = "turn", 0
        else:
            self.moment, self.who = "draw", -1

    # What may be done.

    def legal(self):
        """The set of lines that may be played now."""
        rack = self.racks[self.who] if self.who >= 0 else []
        match self.moment:
            case "over":
                return set()
            case "draw":
                return {("draw", self.wall[0])}
            case "vote":
                return {("agree",), ("stop",)}
            case "ask":
                return {("ask", number) for number in (0, 1, 2, 3)}
            case "give":
                return {("give", *some) for some in self._some(rack, self._settled(self.who))}
            case "pass":
                blind = (0, 1, 2, 3) if self._may_be_blind() else (0,)
                return {("pass", unseen, *some) for unseen in blind for some in self._some(rack, 3 - unseen)}
            case "turn":
                return self._in_turn(self.who, rack)
        return {("let go",)} | self._calls(self.who)

    @staticmethod
    def _some(rack, number):
        return set(combinations(sorted(kind for kind in rack if kind != JOKER), number))

    def _may_be_blind(self):
        last_of = {2: 1, 5: 2}.get(self.passed)
        return self.house.blind and last_of is not None and self.house.blind_round in (0, last_of)

    def _settled(self, seat):
        return min(self.said["ask", seat], self.said["ask", (seat + 2) % 4])

    def _may_err(self, seat):
        return self.house.slips and seat == self.house.seat

    def _in_turn(self, seat, rack):
        lines = {("discard", kind) for kind in rack}
        if self._may_err(seat) or self.hands.made(rack, self.laid[seat]):
            lines.add(("mahjong",))
        for owner in range(4):
            for place, (_, kind, jokers) in enumerate(self.laid[owner]):
                if jokers > 0 and kind in rack:
                    lines.add(("exchange", owner, place, kind))
        return lines

    def _calls(self, seat):
        last = self.house.last_tiles
        if self.dead[seat] or self.loose == JOKER or (last and len(self.wall) <= last):
            return set()
        rack, lines = self.racks[seat], set()
        if self._may_err(seat) or self.hands.made([*rack, self.loose], self.laid[seat]):
            lines.add(("mahjong",))
        for size in (3, 4, 5, 6):
            if not self._may_err(seat) and not self.hands.allow([*self.laid[seat], (size, self.loose, 0)]):
                continue
            for jokers in range(size):
                if rack.count(JOKER) >= jokers and rack.count(self.loose) >= size - 1 - jokers:
                    lines.add(("call", size, jokers))
        return lines

    # Doing it.

    def play(self, line):
        """Do what a legal line says."""
        what, *more = line
        if self.moment in ("pass", "vote", "ask", "give"):
            self.said[self.moment, self.who] = (
                more if what == "pass" else more if what == "give" else (more or [what])[0]
            )
            self._next_choice_before_play()
        elif what == "draw":
            self.racks[self.turn].append(self.wall.pop(0))
            self.drawn_by_player += self.turn == self.house.seat
            self.moment, self.who, self.thrower = "turn", self.turn, None
        elif self.moment == "call":
            self.said[self.who] = line
            waiting = [seat for seat in self.asked if seat not in self.said]
            if waiting:
                self.who = waiting[0]
            else:
                self._settle_calls()
        elif what == "discard":
            self._discard(more[0])
        elif what == "exchange":
            self._exchange(*more)
        elif self.hands.made(self.racks[self.who], self.laid[self.who]):
            self._win(self.who, self.thrower)
        else:
            self._die(self.who, mistaken=True)
            self._next_draw(self.who)

    def _remove(self, seat, kinds):
        """Take tiles off a rack, of those alike the newest; they are given in the order in which they stood."""
        rack, spots = self.racks[seat], []
        for kind in kinds:
            spots.append(max(spot for spot, one in enumerate(rack) if one == kind and spot not in spots))
        taken = [rack[spot] for spot in sorted(spots)]
        self.racks[seat] = [one for spot, one in enumerate(rack) if spot not in spots]
        return taken

    def _next_choice_before_play(self):
        moment = self.moment
        part = [seat for seat in range(4) if moment != "give" or self._settled(seat)]
        waiting = [seat for seat in part if (moment, seat) not in self.said]
        if waiting:
            self.who = waiting[0]
            return
        self.who = 0
        if moment == "pass":
            outs = [self.said.pop(("pass", seat)) for seat in range(4)]
            self._hand_over([out[1:] for out in outs], [out[0] for out in outs], STEPS[ROUNDS[self.passed]])
            self.passed += 1
            if self.passed == self.house.passes:
                self._after_passes()
            elif self.passed == 3 and self.house.vote:
                self.moment = "vote"
        elif moment == "vote":
            agreed = all(self.said["vote", seat] == "agree" for seat in range(4))
            if agreed:
                self.moment = "pass"
            else:
                self._after_passes()
        elif moment == "ask":
            giving = [seat for seat in range(4) if self._settled(seat)]
            if giving:
                self.moment, self.who = "give", giving[0]
            else:
                self._begin()
        else:
            self._hand_over([self.said.get(("give", seat), []) for seat in range(4)], [0] * 4, 2)
            self._begin()

    def _after_passes(self):
        if self.house.courtesy:
            self.moment = "ask"
        else:
            self._begin()

    def _hand_over(self, kinds, unseen, step):
        """Each seat sends its own tiles and, unseen, the first of those that come; filled in until nothing is open."""
        own = [self._remove(seat, kinds[seat]) for seat in range(4)]
        sent = [[*own[seat], *[None] * unseen[seat]] for seat in range(4)]
        while any(None in one for one in sent):
            before = [list(one) for one in sent]
            for seat in range(4):
                comes = sent[(seat - step) % 4]
                for place in range(unseen[seat]):
                    sent[seat][len(own[seat]) + place] = comes[place]
            if before == sent:
                return  # Nobody put out a tile.
        for seat in range(4):
            self.racks[seat] += sent[(seat - step) % 4][unseen[seat] :]

    def _discard(self, kind):
        seat = self.who
        self._remove(seat, [kind])
        self.loose, self.thrower, self.said = kind, None, {}
        self.asked = [other % 4 for other in range(seat + 1, seat + 4) if self.full and self._calls(other % 4)]
        if self.asked:
            self.moment, self.who = "call", self.asked[0]
        else:
            self._next_draw(seat)

    def _next_draw(self, seat):
        self.thrower = None
        order = [(seat + step) % 4 for step in (1, 2, 3, 4)] if self.full else [self.house.seat]
        living = [one for one in order if not self.dead[one]]
        if not living:
            self._end("dead")
        elif not self.wall:
            self._end("wall")
        elif not self.full and 0 < self.house.picks <= self.drawn_by_player:
            self._end("picks")
        else:
            self.moment, self.who, self.turn = "draw", -1, living[0]

    def _settle_calls(self):
        thrower = self.turn
        for seat in self.asked:
            if self.said[seat] != ("mahjong",):
                continue
            if self.hands.made([*self.racks[seat], self.loose], self.laid[seat]):
                self.racks[seat].append(self.loose)
                return self._win(seat, thrower)
            self._die(seat, mistaken=True)
        for seat in self.asked:
            if self.said[seat][0] == "call":
                _, size, jokers = self.said[seat]
                if not self.hands.allow([*self.laid[seat], (size, self.loose, jokers)]):
                    self.racks[seat].append(self.loose)
                    self._die(seat, mistaken=False)
                    return self._next_draw(seat)
                self._remove(seat, [self.loose] * (size - 1 - jokers) + [JOKER] * jokers)
                self.laid[seat].append((size, self.loose, jokers))
                self.moment, self.who, self.turn, self.thrower = "turn", seat, seat, thrower
                return None
        return self._next_draw(thrower)

    def _exchange(self, owner, place, kind):
        seat = self.who
        if not self.hands.made(self.racks[seat], self.laid[seat]):
            self.thrower = None
        self._remove(seat, [kind])
        self.racks[seat].append(JOKER)
        size, _, jokers = self.laid[owner][place]
        self.laid[owner][place] = (size, kind, jokers - 1)

    def _die(self, seat, mistaken):
        self.dead[seat] = True
        if mistaken:
            self.mistaken.append(seat)

    # Points.

    def _win(self, seat, thrower):
        house = self.house
        jokers = self.racks[seat].count(JOKER) + sum(laid[2] for laid in self.laid[seat])
        values = []
        for _, points, groups in self.hands.made(self.racks[seat], self.laid[seat]):
            value = points + (0 if self.laid[seat] else house.concealed_bonus)
            could = any(size > 2 for size, _ in groups)
            values.append(value * 2 if not jokers and could and house.jokerless_doubles else value)
        single = max(values)
        self.winner = seat
        self._end("mahjong", (seat, single, thrower))

    def _end(self, kind, won=None):
        house, purse = self.house, [0] * 4

        def pay(seat, to, amount):
            if house.loss_limit and purse[seat] - amount < -house.loss_limit:
                amount = max(0, purse[seat] + house.loss_limit)
            purse[seat] -= amount
            purse[to] += amount

        for seat in sorted(self.mistaken):
            for other in range(4):
                if other != seat:
                    pay(seat, other, house.mistake_pays)
        if won:
            winner, single, thrower = won
            before = purse[winner]
            for seat in range(4):
                if seat != winner:
                    if thrower is None:
                        times = 2 if house.self_drawn_doubles else 1
                    elif house.discarder_pays_all:
                        times = 4 if seat == thrower else 0
                    else:
                        times = 2 if seat == thrower else 1
                    pay(seat, winner, single * times)
            self.points = purse[winner] - before
        self.paid = tuple(purse) if self.full else (0, 0, 0, 0)
        self.moment, self.who, self.ended = "over", -1, kind
