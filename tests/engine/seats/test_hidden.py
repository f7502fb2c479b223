"""No player's action depends on what its seat can't see: all that is hidden is changed about, the action stays."""

import random
from dataclasses import replace

import pytest

from engine.rules.house import FULL, QUIET, House
from engine.rules.observation import observe
from engine.rules.state import CHANCE, Phase
from engine.seats.character import Strength
from engine.seats.players import player, table_of

MIXED = [Strength.SHARP, Strength.STEADY, Strength.BEGINNER, Strength.SHARP]


def changed_about(state, seat, chance):
    """The same table as far as the seat can see: the tiles of the wall and of the other racks are dealt anew, what the
    others passed, got and have chosen is forgotten or exchanged."""
    others = [other for other in range(4) if other != seat]
    hidden = [*state.wall, *(kind for other in others for kind in state.racks[other])]
    chance.shuffle(hidden)
    racks = list(state.racks)
    for other in others:
        racks[other] = tuple(hidden.pop() for _ in state.racks[other])
    handed = tuple(state.handed[seat] if other == seat else state.handed[other][:0] for other in range(4))
    chosen = tuple(state.chosen[seat] if other == seat else None for other in range(4))
    asked = tuple(other for other in state.asked if other == seat)
    return replace(state, wall=tuple(hidden), racks=tuple(racks), handed=handed, chosen=chosen, asked=asked)


def choices(salon, house, seeds):
    """Every moment of some games at which a seat chooses among several actions."""
    for seed in seeds:
        steps, _ = salon.game(table_of(MIXED, salon.table), seed, house)
        yield from (state for state, _ in steps if state.to_act != CHANCE)


@pytest.mark.parametrize(
    "house", [House(FULL, passes=6, courtesy=True), House(QUIET, passes=6, courtesy=True, picks=8)]
)
@pytest.mark.slow
def test_nothing_hidden_changes_an_action(salon, house):
    """In all phases and for all four seats, whoever sits there chooses the same with all hidden tiles changed about."""
    chance = random.Random(11)
    players = [player(strength, salon.table) for strength in Strength]
    seen = set()
    for state in choices(salon, house, range(3)):
        if state.phase in (Phase.TURN, Phase.CALLING) and chance.random() < 0.5:
            continue
        seat = state.to_act
        other = changed_about(state, seat, chance)
        assert other != state
        choose = players[len(seen) % 3]
        assert choose(observe(state, seat)) == choose(observe(other, seat)), (state.phase, seat)
        seen.add((state.phase, seat, state.passes_done, len(state.discards)))
    phases = {(phase, seat) for phase, seat, _, _ in seen}
    seats = range(4) if house.table == FULL else (0,)
    assert phases >= {(phase, seat) for phase in (Phase.PASSING, Phase.AGREEING, Phase.ASKING) for seat in range(4)}
    assert phases >= {(Phase.TURN, seat) for seat in seats}
    assert house.table != FULL or phases >= {(Phase.CALLING, seat) for seat in range(4)}


@pytest.mark.slow
def test_the_order_of_the_rack_does_not_matter(salon):
    """The same tiles that came in another order are played alike."""
    chance = random.Random(5)
    players = [player(strength, salon.table) for strength in Strength]
    for number, state in enumerate(choices(salon, House(FULL, passes=6, courtesy=True), [9])):
        seen = observe(state, state.to_act)
        shuffled = list(seen.rack)
        chance.shuffle(shuffled)
        choose = players[number % 3]
        assert choose(replace(seen, rack=tuple(shuffled))) == choose(seen)


@pytest.mark.slow
def test_what_was_asked_before_does_not_matter(salon):
    """A player that has played other games answers like a new one."""
    used = player(Strength.SHARP, salon.table)
    states = list(choices(salon, House(FULL, passes=3), [3]))
    backwards = [used(observe(state, state.to_act)) for state in reversed(states)]
    fresh = player(Strength.SHARP, salon.table)
    assert backwards[::-1] == [fresh(observe(state, state.to_act)) for state in states]
