"""Moments of seeded full-table games, and the same moments with all hidden tiles changed about."""

import random
from collections import Counter
from dataclasses import replace

from engine.advice.table import SheetTable
from engine.rules.deal import shuffle
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import FULL, House
from engine.rules.observation import observe
from engine.rules.state import CHANCE, Phase
from engine.sheet.shelf import find
from engine.tiles import KINDS, full_set


def small_table():
    """The smaller shipped sheet, quick to advise on."""
    return SheetTable.of(find("first-steps"))


def moments(table, seeds, phase, house=None):
    """(state, seat) of the given phase in games of seats that call and exchange whenever they may and else choose
    at random: many exposures, jokers among them."""
    for seed in seeds:
        chance = random.Random(seed)
        state = start(table.sheet, house or House(table=FULL), shuffle(seed, 8))
        while state.phase is not Phase.OVER:
            legal = legal_actions(state)
            if state.phase is phase and state.to_act != CHANCE:
                yield state, state.to_act
            bold = [action for action in legal if type(action).__name__ in ("Call", "Exchange")]
            state = apply(state, chance.choice(bold if bold and chance.random() < 0.7 else legal))


def changed_about(state, seat, chance):
    """The same table as far as the seat can see: the tiles of the wall and of the other racks are dealt anew."""
    others = [other for other in range(4) if other != seat]
    hidden = [*state.wall, *(kind for other in others for kind in state.racks[other])]
    chance.shuffle(hidden)
    racks = list(state.racks)
    for other in others:
        racks[other] = tuple(hidden.pop() for _ in state.racks[other])
    asked = tuple(other for other in state.asked if other == seat)
    chosen = tuple(state.chosen[seat] if other == seat else None for other in range(4))
    return replace(state, wall=tuple(hidden), racks=tuple(racks), asked=asked, chosen=chosen)


def wall_for(racks, draws=(), jokers=8):
    """A whole wall that deals these racks (by seat; East's of 14 tiles), then gives these tiles, then the others."""
    left = Counter(dict(enumerate(full_set(jokers))))
    left.subtract(Counter([*draws, *(kind for rack in racks.values() for kind in rack)]))
    rest = [kind for kind in range(KINDS) for _ in range(left[kind])]
    random.Random(1).shuffle(rest)
    dealt = [list(racks.get(seat) or [rest.pop() for _ in range(14 if seat == 0 else 13)]) for seat in range(4)]
    order = [tile for start in (0, 4, 8, 12) for seat in range(4) for tile in dealt[seat][start : min(start + 4, 13)]]
    return (*order, dealt[0][13], *draws, *rest)


def seen(state, seat):
    """What the seat may know."""
    return observe(state, seat)
