"""Full tables for tests: racks and draws as wished, and other seats that do just what a test needs."""

import random
from collections import Counter

from at_table import beginner, tiles_of

from engine.rules.actions import Discard, LetGo
from engine.rules.game import start
from engine.rules.house import FULL, House
from engine.rules.matching import allows
from engine.rules.record import Header
from engine.rules.state import Exposure, Phase
from engine.tiles import FLOWER, JOKER, KINDS, full_set
from game.play.lines import KeptLine
from game.play.sitting import Sitting
from game.scenes.table.scene import TableScene

HOUSE = House(table=FULL)


def obliging(observation):
    """Never calls, and lets go what it has drawn."""
    if observation.phase is Phase.CALLING:
        return LetGo()
    return Discard(observation.rack[0] if observation.drawn is None else observation.drawn)


def wall_for(racks, draws=(), jokers=8):
    """A whole wall that deals these racks (by seat; East's of 14 tiles), then gives these tiles, then the others."""
    left = Counter(dict(enumerate(full_set(jokers))))
    left.subtract(Counter([*draws, *(kind for rack in racks.values() for kind in rack)]))
    assert min(left.values()) >= 0, "more tiles than the set has"
    rest = [kind for kind in range(KINDS) for _ in range(left[kind])]
    random.Random(1).shuffle(rest)
    dealt = [list(racks.get(seat) or [rest.pop() for _ in range(14 if seat == 0 else 13)]) for seat in range(4)]
    order = [tile for begin in (0, 4, 8, 12) for seat in range(4) for tile in dealt[seat][begin : min(begin + 4, 13)]]
    return (*order, dealt[0][13], *draws, *rest)


def full_table(routes, rack, draws=(), house=HOUSE, others=obliging, sheet=None):
    """The table where the player, East, holds this rack of 14 and the wall gives these tiles first."""
    sheet = sheet or beginner()
    wall = wall_for({0: rack}, draws, house.jokers)
    routes.desk.store.add_sheet(sheet)
    line = routes.desk.store.start_line(Header.of(sheet, house, wall, ""))
    return TableScene(
        routes, Sitting(start(sheet, house, wall), keeper=KeptLine(routes.desk.store, line), others=others)
    )


def open_hand(sheet=None, jokers=0):
    """An open hand with a pung, its variant's tiles, and the kind of the pung."""
    for hand in (sheet or beginner()).hands:
        for variant in hand.variants:
            pungs = [group.kind for group in variant.groups if group.size == 3]
            if not hand.concealed and pungs and max(variant.total[:FLOWER]) <= 4:
                return hand, tiles_of(variant), pungs[0]
    raise AssertionError(f"the sheet has no such hand for {jokers}")


def asked_about_pung(routes, jokers=0, house=HOUSE, **more):
    """The player holds all but two tiles of a hand, one of them the third of a pung, which South lets go at once.

    With `jokers` so many tiles of the pung are jokers. Gives the scene before the first discard, the tile to let go
    first, the pung's kind and the hand.
    """
    hand, tiles, kind = open_hand()
    rack = list(tiles)
    rack.remove(kind)
    for _ in range(jokers):
        rack.remove(kind)
        rack.append(JOKER)
    other = next(tile for tile in rack if tile not in (kind, JOKER))
    rack.remove(other)
    spare, second = [tile for tile in range(26, -1, -1) if tile not in tiles][:2]
    scene = full_table(routes, [*rack, spare, second], [kind], house, **more)
    return scene, spare, kind, hand


def let_go(scene, kind):
    """Let a tile of the kind go."""
    scene.chosen = scene.rack.index(kind)
    return scene.let_go()


def unallowed(sheet, size):
    """A kind of which no hand of the sheet allows so large a group."""
    return next(kind for kind in range(FLOWER) if not allows(sheet, (Exposure(size, kind),)))
