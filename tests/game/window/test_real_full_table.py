"""The real window on a virtual display, driven through a game of four with calls, a joker exchange and a win."""

import pytest
from at_table import AtOnce, beginner
from harness import drawn, make_look
from real_window import Display, Player, missing, until

from engine.advice.table import SheetTable
from engine.rules.actions import Call, Discard, Exchange, LetGo, Mahjong
from engine.rules.deal import DealCode
from engine.rules.game import start
from engine.rules.house import FULL, House
from engine.seats.character import Strength
from engine.seats.players import table_of
from engine.store.store import Store
from game.play.desk import Desk
from game.play.settings import HIDDEN, Settings
from game.play.sitting import Entry, Sitting
from game.scenes.navigation import Navigation
from game.scenes.table.scene import TableScene

pytestmark = [pytest.mark.window, pytest.mark.skipif(bool(missing()), reason=missing())]

HOUSE = House(table=FULL)


@pytest.fixture
def players():
    """The players of the other seats, who also say what the test's own hands do."""
    return table_of((Strength.STEADY,), SheetTable.of(beginner()))


def deal_with_everything(players):
    """The first deal in which such a player at East calls, exchanges a joker and wins."""
    for seed in range(400):
        code = DealCode.of(beginner(), HOUSE, seed)
        sitting = Sitting(start(beginner(), HOUSE, code.wall()), others=players)
        while not sitting.over:
            sitting.act(players(sitting.observation))
        did = {type(entry.action) for entry in sitting.entries if entry.seat == 0}
        if {Call, Exchange, Mahjong} <= did and len(sitting.decisions) < 36:
            return code
    raise AssertionError("no such deal")


class Window:
    """The program's table, read beside it from the store and never written to."""

    def __init__(self, data, code, players):
        self.path, self.code, self.players = data / "lone-east.sqlite", code, players

    def line(self):
        """The summary of the one line, once there is one."""
        with Store(self.path) as store:
            lines = store.lines(limit=None)
        return lines[0] if lines else None

    def own(self):
        """What the player has done so far."""
        with Store(self.path) as store:
            return [action for seat, action in store.record(self.line().id).entries if seat == 0]

    def sitting(self):
        """The game as far as it has come; nothing of it is kept."""
        with Store(self.path) as store:
            entries = [Entry(seat, action) for seat, action in store.record(self.line().id).entries]
        return Sitting(start(beginner(), HOUSE, self.code.wall()), entries=entries, others=self.players)


def do(player, window, routes, action):
    """Do one thing by the keys and clicks that a user has for it."""
    sitting = window.sitting()
    scene = TableScene(routes, sitting)
    drawn(scene, player.size, 1.0)
    before = len(window.own())
    match action:
        case LetGo():
            act = lambda: player.keys("Return")  # noqa: E731
        case Mahjong():
            act = lambda: player.keys("m")  # noqa: E731
        case Call():
            digits = [str(scene.calls.index(action) + 1)] if len(scene.calls) > 1 else []
            act = lambda: player.keys("c", *digits)  # noqa: E731
        case Exchange():
            digit = str(scene.exchanges.index(action) + 1)
            act = lambda: player.keys("x", digit)  # noqa: E731
        case Discard(kind):
            name = f"tile {scene.rack.index(kind)}"
            at = next(target.rect.center for target in scene.ui.targets if target.name == name)
            act = lambda: player.clicks([at, at])  # noqa: E731
    player.does(act, lambda: len(window.own()) > before)
    assert window.own()[before] == action


@pytest.mark.slow
def test_a_game_with_calls_an_exchange_and_a_win(tmp_path, players):
    """Every choice by key or click; the store holds just those, and at the end the win with its points."""
    code = deal_with_everything(players)
    data = tmp_path / "data"
    data.mkdir()
    with Store(data / "lone-east.sqlite") as store:
        store.set("settings", Settings(advice=HIDDEN).to_json())
        store.set("explained", True)
    display = Display()
    player = Player(display, data)
    try:
        player.start("play", "--sheet", "first-steps", "--deal", str(code))
        window = Window(data, code, players)
        assert until(window.line)
        with Store(tmp_path / "elsewhere.sqlite") as store:
            routes = Navigation(Desk(AtOnce(), store), make_look())
            routes.desk.save_settings(Settings(advice=HIDDEN))
            done = set()
            while not (sitting := window.sitting()).over:
                action = players(sitting.observation)
                do(player, window, routes, action)
                done.add(type(action))
        assert {Call, Exchange, Mahjong, Discard, LetGo} >= done >= {Call, Exchange, Mahjong, Discard}
        line = until(lambda: window.line() if window.line().finished else None)
        assert (line.ending.kind, line.ending.winner) == ("mahjong", line.house.seat)
        assert line.ending.points > 0
        assert player.ask_to_close() == 0
        assert player.process.stderr.read() == b""
    finally:
        player.close()
        display.close()
