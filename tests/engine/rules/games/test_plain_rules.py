"""The rules against a second, plain writing of them: at every moment the same choices, tiles, payments."""

import random
from dataclasses import replace

import pytest
from plain_rules import Hands, Table

from engine.rules.actions import Agree, Ask, Call, Discard, Draw, Exchange, Give, LetGo, Mahjong, Pass, Stop
from engine.rules.deal import shuffle
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import House
from engine.rules.state import Phase

SEEDS = [29, 57, 87, 108]
"""Games with a mahjong at a full table, one alone, mistakes, and every pass."""
MOMENTS = {
    Phase.PASSING: "pass",
    Phase.AGREEING: "vote",
    Phase.ASKING: "ask",
    Phase.GIVING: "give",
    Phase.DRAWING: "draw",
    Phase.TURN: "turn",
    Phase.CALLING: "call",
    Phase.OVER: "over",
}


def line_of(action):
    """An action in the plain table's words."""
    match action:
        case Draw(kind):
            return ("draw", kind)
        case Discard(kind):
            return ("discard", kind)
        case Pass(kinds, blind):
            return ("pass", blind, *kinds)
        case Ask(number):
            return ("ask", number)
        case Give(kinds):
            return ("give", *kinds)
        case Call(size, jokers):
            return ("call", size, jokers)
        case Exchange(seat, exposure, kind):
            return ("exchange", seat, exposure, kind)
    return {Mahjong(): ("mahjong",), Agree(): ("agree",), Stop(): ("stop",), LetGo(): ("let go",)}[action]


def a_house(chance):
    """House rules mixed at random, twists left out."""
    house = House(
        table=chance.choice(("quiet", "full", "full")),
        jokers=chance.choice((8, 8, 0, 1, 3, 10)),
        picks=chance.choice((0, 0, 1, 20, 99)),
        seat=chance.randrange(4),
        passes=chance.choice((0, 0, 1, 2, 3, 3, 4, 5, 6)),
        courtesy=chance.random() < 0.5,
        blind=chance.random() < 0.7,
        slips=chance.random() < 0.3,
    )
    if chance.random() < 0.4:
        return house
    return replace(
        house,
        vote=chance.random() < 0.6,
        blind_round=chance.choice((0, 1, 2)),
        last_tiles=chance.choice((0, 0, 1, 16, 40)),
        self_drawn_doubles=chance.random() < 0.5,
        jokerless_doubles=chance.random() < 0.5,
        discarder_pays_all=chance.random() < 0.4,
        concealed_bonus=chance.choice((0, 10, 50)),
        loss_limit=chance.choice((0, 0, 1, 60, 500)),
        mistake_pays=chance.choice((0, 5, 50)),
    )


OTHERS = ("", "beginner steady sharp", "sharp sharp beginner", "steady beginner beginner")


def follow(kit, hands, seed):
    """One game of both at once. Gives the numbers of legal actions compared before play and in play, and the end.

    Who plays at the other seats, and whether East stays after winning, must change nothing within a deal.
    """
    chance = random.Random(seed)
    house = replace(a_house(chance), others=OTHERS[seed % 4], east_stays=seed % 3 == 0)
    wall = shuffle(seed, house.jokers)
    state = start(kit.sheet, house, wall)
    table = Table(hands.setdefault(house.jokers, Hands(kit.sheet, house.jokers)), house, wall)
    before = during = 0
    keen = chance.choice((1.0, 1.0, 0.95, 0.0))
    while True:
        legal = legal_actions(state)
        lines = {line_of(action) for action in legal}
        assert len(lines) == len(legal), (seed, house)
        assert lines == table.legal(), (seed, house, state.phase)
        assert MOMENTS[state.phase] == table.moment, (seed, house)
        assert state.to_act == table.who, (seed, house)
        assert [list(rack) for rack in state.racks] == table.racks, (seed, house)
        assert [[(one.size, one.kind, one.jokers) for one in laid] for laid in state.exposures] == table.laid
        assert list(state.dead) == table.dead
        assert list(state.wall) == table.wall
        if table.moment in ("pass", "vote", "ask", "give"):
            before += len(legal)
        else:
            during += len(legal)
        if state.phase is Phase.OVER:
            break
        action = (kit.choose_keenly if chance.random() < keen else kit.choose_any)(state, chance)
        state = apply(state, action)
        table.play(line_of(action))
    end = state.outcome
    assert (end.kind, end.winner) == (table.ended, table.winner), (seed, house)
    assert (end.points, end.payments) == (table.points, table.paid), (seed, house)
    return before, during, end.kind


@pytest.mark.parametrize("seed", SEEDS)
def test_games_follow_the_plain_rules(kit, seed):
    """Random house rules, players keen and random: nothing may be done that the plain rules forbid, nor the reverse."""
    follow(kit, {}, seed)
