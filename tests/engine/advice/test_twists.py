"""Advice under every twist, against counting with the rules alone: which tiles finish, and how likely they come."""

from itertools import combinations
from random import Random

import numpy as np
import pytest
from kit import practice_sheet

from engine.advice.advise.discard import deepen
from engine.advice.moment import Moment
from engine.advice.odds.exact import exact
from engine.advice.odds.reach import missing
from engine.advice.table import SheetTable
from engine.rules.deal import shuffle
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import QUIET, House
from engine.rules.matching import match
from engine.rules.observation import observe
from engine.rules.state import CHANCE
from engine.rules.twists.known import sheet_of_deal, twists_for
from engine.seats.character import Strength
from engine.seats.players import player
from engine.sheet.groups import HAND_TILES
from engine.tiles import COPIES, JOKER, KINDS, full_set, kinds_of

NAMES = [twist.name for twist in twists_for(QUIET) if not twist.unweighed]
SHEET = practice_sheet()


def plain_missing(variant, counts, jokers_from):
    """Tiles to come, counted group by group: jokers fill groups of `jokers_from` or more only."""
    strict, loose = [0] * KINDS, [0] * KINDS
    for group in variant.groups:
        (loose if group.size >= jokers_from else strict)[group.kind] += group.size
    short = sum(max(0, strict[kind] - counts[kind]) for kind in range(JOKER))
    open_places = sum(max(0, loose[kind] - max(0, counts[kind] - strict[kind])) for kind in range(JOKER))
    return short + max(0, open_places - counts[JOKER])


def near_racks(table, random, number):
    """Racks of 14 a few tiles from some variant, with the tiles that are then unseen."""
    for _ in range(number):
        variant = random.choice(table.variants)
        rack = [min(total, copies) for total, copies in zip(variant.total, COPIES, strict=True)]
        held = kinds_of(rack)
        for kind in random.sample(held, min(len(held), random.randrange(1, 4))):
            rack[kind] -= 1
        left = list(kinds_of([copies - held for copies, held in zip(full_set(), rack, strict=True)]))
        random.shuffle(left)
        while sum(rack) < HAND_TILES:
            rack[left.pop()] += 1
        yield rack, left


@pytest.mark.parametrize("name", NAMES)
def test_tiles_missing_and_odds_follow_the_twist(name):
    """Of racks near a hand: tiles missing, and the odds of two draws by looking at every two tiles."""
    random = Random(name)
    sheet = sheet_of_deal(SHEET, House(twist=name))
    table = SheetTable.of(sheet)
    jokers_from = 4 if name == "proud" else 3
    for rack, left in near_racks(table, random, 6):
        assert missing(table, rack).tolist() == [plain_missing(one, rack, jokers_from) for one in table.variants]
        hidden = left[:12]
        unseen = [hidden.count(kind) for kind in range(KINDS)]
        row = int(np.argmin(missing(table, rack)))
        ways = 0
        for one, other in combinations(range(len(hidden)), 2):
            drawn = list(rack)
            drawn[hidden[one]] += 1
            drawn[hidden[other]] += 1
            ways += plain_missing(table.variants[row], drawn, jokers_from) == 0
        odds = exact(table, np.array([row]), rack, unseen, 2)[0]
        assert odds == pytest.approx(ways / (len(hidden) * (len(hidden) - 1) / 2), abs=1e-12)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.slow
def test_the_last_draw_is_advised_rightly(name):
    """With one draw left: the tile let go leaves the most tiles that make a hand by the rules, and that chance."""
    random = Random(f"last {name}")
    house = House(picks=1, twist=name)
    sheet = sheet_of_deal(SHEET, house)
    table = SheetTable.of(sheet)
    for rack, left in near_racks(table, random, 5):
        if match(sheet, rack) is not None:
            continue
        unseen = [left.count(kind) for kind in range(KINDS)]
        finishing = {}
        for kind in {kind for kind in range(KINDS) if rack[kind]}:
            finishing[kind] = 0
            for drawn in range(KINDS):
                after = list(rack)
                after[kind] -= 1
                after[drawn] += 1
                finishing[kind] += unseen[drawn] * (match(sheet, after, (), house) is not None)
        advice = deepen(Moment.of(table, rack, unseen, 1))
        most = max(finishing.values())
        assert advice.chance.share == pytest.approx(most / len(left), abs=1e-9)
        if most:
            assert finishing[advice.keeps[-1].kind] == most


def test_tiles_beside_the_wall_are_not_waited_for():
    """A seat of the table whose ten tiles are turned up counts none of them among those to come."""
    house = House(picks=40, twist="ten")
    state = start(SHEET, house, shuffle(5))
    moment = Moment.seen(SheetTable.of(state.sheet), observe(state, 0))
    for kind in range(KINDS):
        gone = state.racks[0].count(kind) + state.aside.count(kind)
        assert moment.unseen[kind] == full_set()[kind] - gone


QUICK = ("proud", "left")


@pytest.mark.parametrize(
    "name",
    [
        pytest.param(one.name, marks=[] if one.name in QUICK else [pytest.mark.slow], id=one.name)
        for one in twists_for("full")
    ],
)
def test_seats_play_by_the_twist(name):
    """Three strengths play a deal: all that they choose is legal, and the game ends."""
    house = House(table="full", passes=3, twist=name)
    state = start(SHEET, house, shuffle(11))
    table = SheetTable.of(state.sheet)
    players = [player(strength, table) for strength in (*Strength, Strength.BEGINNER)]
    while state.outcome is None:
        seat = state.to_act
        action = legal_actions(state)[0] if seat == CHANCE else players[seat](observe(state, seat))
        state = apply(state, action)
    assert state.outcome.kind in ("mahjong", "wall", "dead")
