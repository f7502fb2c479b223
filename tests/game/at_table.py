"""Routes over a whole desk, for tests: a real store in a folder, a worker that answers at once, known deals."""

import random
from collections import Counter

from engine.rules.deal import DealCode
from engine.rules.game import start
from engine.rules.house import House
from engine.rules.record import Header
from engine.sheet.shelf import find
from engine.store.store import Store
from engine.tiles import FLOWER, JOKER, full_set, kinds_of
from game.play.desk import Desk
from game.play.lines import KeptLine, begin
from game.play.sitting import Sitting
from game.play.worker import Job, Worker
from game.scenes.navigation import Navigation
from game.scenes.table.scene import TableScene

NO_PASSES = House(picks=40)
"""House rules that begin with the first turn."""


class AtOnce(Worker):
    """Does each job where it is handed in, so that a test needs no waiting."""

    def submit(self, fn, done):
        job = Job(done, self._told, self._free)
        done(fn(job))
        return job


def routes_over(look, path):
    """The program's own routes over a desk over a store file."""
    routes = Navigation(Desk(AtOnce(), Store(path)), look)
    routes.desk.effort = 0  # nothing is played on where a test doesn't ask for it
    routes.desk.chance = random.Random(2026)
    return routes


def beginner():
    """The sheet that tests play: small, so that its advice is quick."""
    return find("first-steps")


def deal(routes, house=None, seed=11, sheet=None, advice_hidden=False):
    """The table at the start of a seeded deal."""
    sheet = sheet or beginner()
    code = DealCode.of(sheet, house or NO_PASSES, seed)
    return TableScene(routes, begin(routes.desk.store, sheet, code, advice_hidden=advice_hidden))


def winning_wall(house, jokers=False):
    """A wall that wins at the first draw: the wall, the tile to let go before it, and the hand.

    With `jokers` two of the rack's tiles are jokers.
    """
    hand, variant = next(
        (hand, variant)
        for hand in beginner().hands
        for variant in hand.variants
        if not hand.concealed and max(group.size for group in variant.groups) == 4
    )
    tiles = tiles_of(variant)
    if jokers:
        great = next(group.kind for group in variant.groups if group.size >= 4)
        for _ in range(2):
            tiles.remove(great)
            tiles.append(JOKER)
    lacking = tiles.pop(0)
    spare = next(kind for kind in reversed(range(FLOWER)) if kind not in tiles and kind != lacking)
    return wall_of([*tiles, spare], [lacking], house), spare, hand


def almost_there(routes, house=None, jokers=False):
    """The table where the first draw wins; the tile to let go before it, and the hand."""
    house = house or House()
    sheet = beginner()
    wall, spare, hand = winning_wall(house, jokers)
    routes.desk.store.add_sheet(sheet)
    line = routes.desk.store.start_line(Header.of(sheet, house, wall, "laid out by hand"))
    scene = TableScene(routes, Sitting(start(sheet, house, wall), keeper=KeptLine(routes.desk.store, line)))
    return scene, spare, hand


def tiles_of(variant):
    """The fourteen kinds of a variant."""
    return [group.kind for group in variant.groups for _ in range(group.size)]


def wall_of(rack, draws, house):
    """A whole wall that deals East this rack and then gives these tiles."""
    left = Counter(dict(enumerate(full_set(house.jokers))))
    left.subtract(Counter([*rack, *draws]))
    rest = list(kinds_of([left[kind] for kind in range(36)]))
    order, given = [], 0
    for number in (4, 4, 4, 1):
        order += rack[given : given + number]
        given += number
        for _ in range(3):
            order += [rest.pop(0) for _ in range(number)]
    return (*order, rack[13], *draws, *rest)


def let_go_first(table, times):
    """Let the first tile of the rack go, so many times or to the end."""
    for _ in range(times):
        if not table.finished:
            table.chosen = 0
            table.let_go()


def place_of(scene, kind):
    """Where on the rack a tile of the kind lies, from the left."""
    return scene.rack.index(kind)
