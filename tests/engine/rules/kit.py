"""What the rules tests share: a small sheet made by hand, racks dealt as wished, games in lines, seeded players."""

import random
from collections import Counter
from dataclasses import dataclass
from itertools import combinations

import pytest

from engine.rules.actions import Call, Discard, Exchange, LetGo, Mahjong, Pass, parse_action
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import SEATS, House
from engine.rules.matching import hand_of, still_allowed
from engine.rules.state import CHANCE, Phase
from engine.sheet.groups import Group, Variant
from engine.sheet.model import Hand, Section, Sheet
from engine.tiles import (
    DOTS,
    EAST,
    FLOWER,
    JOKER,
    NORTH,
    SOUTH,
    WEST,
    WHITE,
    counts_of,
    dragon_of,
    full_set,
    kinds_of,
    number,
    parse_tiles,
)


def hand(name, section, variants, points=25, concealed=False):
    """A hand from lists of (size, kind)."""
    made = tuple(Variant(tuple(Group(size, kind) for size, kind in groups)) for groups in variants)
    assert all(sum(group.size for group in variant.groups) == 14 for variant in made)
    return Hand(name, section, (), (), "", concealed, points, "", made)


def sheet_of(name, season, *hands):
    """A sheet whose sections are those its hands name."""
    sections = dict.fromkeys(one.section for one in hands)
    return Sheet(
        name,
        season,
        "invented for tests",
        tuple(Section(title, tuple(one for one in hands if one.section == title)) for title in sections),
        canonical=f"{name} {season} {[(one.name, one.variants) for one in hands]}",
    )


def practice_sheet():
    """Nine hands that between them hold every size of group, doubled groups, open and concealed ones."""
    suits = range(3)
    others = {0: (1, 2), 1: (2, 0), 2: (0, 1)}
    landing = [
        [(2, number(a, n)), (4, number(a, n + 2)), (3, number(a, n + 3)), (2, number(a, n + 4)), (3, number(a, n + 5))]
        for a in suits
        for n in range(1, 5)
    ]
    sums = [
        [(6, FLOWER), (2, number(a, x)), (2, number(b, y)), (4, number(3 - a - b, x + y))]
        for x, y in ((1, 2), (2, 3), (1, 4))
        for a in suits
        for b in suits
        if a != b
    ]
    fives = [[(5, number(a, n)), (4, EAST), (5, number(a, n + 1))] for a in suits for n in range(1, 9)]
    vane = [
        [(1, EAST), (1, SOUTH), (1, WEST), (1, NORTH), (3, one), (3, two), (4, FLOWER)]
        for one, two in combinations((number(1, 2), number(2, 1), number(0, 2)), 2)
    ]
    crooked = [
        [
            (1, number(a, n)), (2, number(a, n + 1)), (2, number(b, n + 1)), (2, number(b, n + 3)),
            (2, number(a, n + 3)), (2, number(a, n + 4)), (2, number(b, n + 5)), (1, number(a, n + 6)),
        ]
        for a, b in ((0, 1), (1, 2), (2, 0))
        for n in range(1, 4)
    ]  # fmt: skip
    bouquet = [
        [(6, FLOWER), (4, number(a, n)), (2, number(others[a][0], n)), (2, number(others[a][1], n))]
        for a in suits
        for n in range(1, 10)
    ]
    season = [
        [(1, number(a, 2)), (1, WHITE), (1, number(a, 2)), (1, number(a, 6)), (5, EAST), (3, WEST), (2, FLOWER)]
        for a in suits
    ]
    doubled = [
        [(3, number(a, n)), (3, number(a, n)), (2, dragon_of(a)), (2, dragon_of(others[a][0])), (4, FLOWER)]
        for a in suits
        for n in range(3, 10)
    ]
    echo = [
        [(2, number(a, n)), (4, number(a, n)), (5, number(others[a][0], n)), (3, number(others[a][1], n))]
        for a in suits
        for n in range(3, 10)
    ]
    return sheet_of(
        "Copper Kettle",
        "2031",
        hand("Landing", "Stairs", landing, 30),
        hand("Small sums", "Sums", sums, 35),
        hand("Two fives", "Long ones", fives, 40),
        hand("Vane", "Honours", vane, 40, concealed=True),
        hand("Crooked row", "Honours", crooked, 50, concealed=True),
        hand("Bouquet", "Long ones", bouquet, 35),
        hand("This season", "Honours", season, 45),
        hand("Doubled", "Sums", doubled, 35),
        hand("Echo", "Sums", echo, 45),
    )


@dataclass(frozen=True, repr=False)
class Kit:
    """Helpers, as one fixture, since test modules can't import one another."""

    sheet: Sheet
    other: Sheet

    def wall(self, racks, draws="", jokers=8):
        """A full wall that deals these racks (texts, filled up with what is left) and then gives these draws."""
        sizes = (14, 13, 13, 13)
        dealt = [list(parse_tiles(text)) for text in racks]
        coming = parse_tiles(draws)
        left = Counter(dict(enumerate(full_set(jokers))))
        left.subtract(Counter(kind for rack in (*dealt, coming) for kind in rack))
        assert min(left.values()) >= 0, "the set holds fewer of a tile than this table wants"
        # Fill with what the test does not name, so that no rack gets two alike while there is a choice.
        rest = sorted(kinds_of([left[kind] for kind in range(36)]), key=lambda kind: (kind * 11) % 36)
        for rack, size in zip(dealt, sizes, strict=True):
            for kind in list(rest):
                if len(rack) < size and kind not in rack and kind not in (JOKER, FLOWER):
                    rack.append(kind)
                    rest.remove(kind)
            assert len(rack) == size
        order, given = [], [0] * 4
        for number_dealt in (4, 4, 4, 1):
            for seat in range(4):
                order += dealt[seat][given[seat] : given[seat] + number_dealt]
                given[seat] += number_dealt
        return (*order, dealt[0][13], *coming, *rest)

    def table(self, east="", south="", west="", north="", draws="", sheet=None, **rules):
        """A dealt table with these racks; `rules` are house rules."""
        house = House(**rules)
        return start(sheet or self.sheet, house, self.wall((east, south, west, north), draws, house.jokers))

    def play(self, state, text):
        """Apply lines such as `east discard 5d` or `wall draw 3b`, checking that it is that seat's choice."""
        for line in filter(None, map(str.strip, text.splitlines())):
            who, _, what = line.partition(" ")
            seat = CHANCE if who == "wall" else SEATS.index(who)
            assert state.to_act == seat, f"{line}: due is {state.to_act} in {state.phase}"
            action = parse_action(what)
            assert action in legal_actions(state), f"{line}: legal are {[str(one) for one in legal_actions(state)]}"
            state = apply(state, action)
        return state

    def let_go(self, state):
        """Every seat that is asked for a call lets the discard go."""
        while state.phase is Phase.CALLING:
            state = apply(state, LetGo())
        return state

    def until_turn_of(self, state, seat):
        """Everybody lets the newest tile go and calls nothing, until `seat` has drawn."""
        while not (state.phase is Phase.TURN and state.turn == seat):
            if state.phase is Phase.TURN:
                state = apply(state, Discard(state.racks[state.turn][-1]))
            elif state.phase is Phase.CALLING:
                state = apply(state, LetGo())
            else:
                state = apply(state, legal_actions(state)[0])
        return state

    def random_game(self, house, seed, choose=None):
        """Every (state, action) of a game of seeded random legal choices, and the last state."""
        chance = random.Random(seed)
        tiles = list(kinds_of(full_set(house.jokers)))
        chance.shuffle(tiles)
        state, steps = start(self.sheet, house, tiles), []
        while state.phase is not Phase.OVER:
            action = (choose or self.choose_any)(state, chance)
            steps.append((state, action))
            state = apply(state, action)
        return steps, state

    @staticmethod
    def choose_any(state, chance):
        """Any legal action, each as likely, kept to what `random()` alone decides."""
        legal = legal_actions(state)
        return legal[int(chance.random() * len(legal))]

    def choose_keenly(self, state, chance):
        """A player who goes for the variant that lacks least, calls for it, and takes every joker it can."""
        legal = legal_actions(state)
        seat = state.to_act
        if Mahjong() in legal and self._is_right(state, seat):
            return Mahjong()
        if seat == CHANCE or state.phase in (Phase.AGREEING, Phase.ASKING):
            return self.choose_any(state, chance)
        goal = self._nearest(state, seat)
        wanted = Counter(dict(enumerate(goal.total)))
        for exposure in state.exposures[seat]:
            wanted[exposure.kind] -= exposure.size
        swaps = [action for action in legal if isinstance(action, Exchange)]
        if swaps:
            return swaps[0]
        if state.phase is Phase.CALLING:
            kind = state.discards[-1].kind
            sizes = {group.size for group in goal.groups if group.kind == kind and group.takes_jokers}
            fit = [action for action in legal if isinstance(action, Call) and action.size in sizes]
            held = state.racks[seat].count(kind)
            return fit[0] if fit and held < wanted[kind] else LetGo()
        useless = self._useless(state.racks[seat], wanted)
        if state.phase is Phase.TURN:
            return Discard(useless[0])
        wants = [kind for kind in useless if kind != JOKER][:3]
        passes = [action for action in legal if isinstance(action, Pass) and action.kinds == tuple(sorted(wants))]
        return passes[0] if passes else self.choose_any(state, chance)

    @staticmethod
    def _is_right(state, seat):
        return hand_of(state, seat) is not None

    def _nearest(self, state, seat):
        have = counts_of(state.racks[seat])
        for exposure in state.exposures[seat]:
            have = tuple(count + exposure.size * (kind == exposure.kind) for kind, count in enumerate(have))
        found = still_allowed(state.sheet, state.exposures[seat], state.house.jokers)

        def missing(variant):
            return sum(max(0, need - count) for need, count in zip(variant.total, have, strict=True) if need)

        return min((variant for _, variant in found), key=missing)

    @staticmethod
    def _useless(rack, wanted):
        """The rack, what is wanted least first."""
        left, useless, useful = Counter(wanted), [], []
        for kind in rack:
            if kind != JOKER and left[kind] <= 0:
                useless.append(kind)
            else:
                left[kind] -= 1
                useful.append(kind)
        return useless + sorted(useful, key=lambda kind: kind == JOKER)


@pytest.fixture(scope="session")
def kit():
    """The helpers above with the practice sheet, and a sheet of another season with one hand of its own."""
    mixed = [
        [(4, number(0, 1)), (3, number(1, 2)), (3, number(2, 5)), (2, number(1, 9)), (2, kind)]
        for kind in (*DOTS, FLOWER)
    ]
    return Kit(practice_sheet(), sheet_of("Tin Kettle", "2030", hand("Odd lot", "Old ones", mixed, 20)))
