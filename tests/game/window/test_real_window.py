"""The real window on a virtual display: started as a user would, driven by keys and clicks, killed, started again."""

from functools import partial

import pytest
from at_table import AtOnce
from harness import drawn, make_look, press
from real_window import Display, Player, missing, until

from engine.rules.actions import Discard, Pass
from engine.rules.deal import DealCode
from engine.rules.game import start
from engine.rules.house import House
from engine.rules.state import CHANCE, Phase
from engine.sheet.shelf import find
from engine.store.endings import GameEnd
from engine.store.store import Store
from engine.tiles import JOKER
from game.play.desk import Desk
from game.play.sitting import Entry, Sitting
from game.scenes.intro import IntroScene
from game.scenes.navigation import Navigation
from game.scenes.table.scene import PassScene

pytestmark = [pytest.mark.window, pytest.mark.skipif(bool(missing()), reason=missing())]


@pytest.fixture(scope="module")
def display():
    """A display for all tests here."""
    display = Display()
    yield display
    display.close()


@pytest.fixture
def data(tmp_path):
    """The data folder."""
    return tmp_path / "data"


@pytest.fixture
def player(display, data):
    """Hands for the program, which starts with an empty data folder."""
    player = Player(display, data)
    yield player
    player.close()


@pytest.fixture(scope="module")
def look():
    """Fonts and pictures, to find out where things are on the window."""
    return make_look()


class Seen:
    """What the store holds just now, read beside the running program, and what its window must show."""

    def __init__(self, data, look):
        self.path, self.look = data / "lone-east.sqlite", look

    def lines(self):
        """Summaries of all lines, the oldest first."""
        if not self.path.exists():
            return []
        with Store(self.path) as store:
            assert store.trouble is None, store.trouble
            return sorted(store.lines(limit=None), key=lambda line: line.id)

    def entries(self, line):
        """The entries of a line so far."""
        with Store(self.path) as store:
            return list(store.record(line).entries)

    def whole(self, line):
        """The entries once the draw that is due has been kept too."""
        assert until(lambda: len(self.entries(line)) == len(self.sitting(line).entries))
        return self.entries(line)

    def said(self, key):
        """A value that the program has kept."""
        with Store(self.path) as store:
            return store.get(key)

    def sitting(self, line):
        """The line as it is played, apart from the store: nothing here writes to the file."""
        with Store(self.path) as store:
            record, sheet = store.record(line), store.sheet_of(line)
        entries = [Entry(seat, action) for seat, action in record.entries]
        return Sitting(start(sheet, record.header.house, record.header.wall), entries=entries)

    def table(self, line):
        """The table as the program must show it now, once the choice is the player's."""
        assert until(lambda: self.sitting(line).state.to_act in (0, CHANCE) or self.sitting(line).over)
        with Store(self.path) as store:
            return Navigation(Desk(AtOnce(), store), self.look).at_table(self.sitting(line))


def places(scene, size):
    """Where everything is that can be pressed, by name; what is pressed by Enter is `main` too."""
    drawn(scene, size, 1.0)
    found = {target.name: target.rect.center for target in scene.ui.targets}
    found.update(("main", target.rect.center) for target in scene.ui.targets if target.main)
    return found


def let_go_by_keys(player, seen, line):
    """Let a tile go with the arrow key and Enter: it must be the one to which the arrow leads at the same table here.

    Gives its place.
    """
    before, table = len(seen.whole(line)), seen.table(line)
    drawn(table, player.size, 1.0)
    press(table, "right")
    place = int(table.ui.focus.removeprefix("tile "))
    player.does(lambda: player.keys("Right", "Return"), lambda: len(seen.entries(line)) > before)
    assert seen.entries(line)[before] == (0, Discard(table.rack[place]))
    return place


def let_go_by_clicks(player, seen, line, place):
    """Let a tile go by clicking it twice; it must be that very tile. Gives its place."""
    before, table = len(seen.whole(line)), seen.table(line)
    rack, at = table.rack, places(table, player.size)[f"tile {place}"]
    player.does(lambda: player.clicks([at, at]), lambda: len(seen.entries(line)) > before)
    assert seen.entries(line)[before] == (0, Discard(rack[place]))
    return place


def play_the_passes(player, seen, line):
    """Pass the first tiles that may be passed by clicking them and the main button, and stop before the second round.

    Gives how many choices that took.
    """
    choices = 0
    while isinstance(scene := seen.table(line), PassScene):
        before, act = len(seen.entries(line)), partial(player.keys, "t")
        if scene.phase is not Phase.AGREEING:
            picked = [place for place, kind in enumerate(scene.rack) if kind != JOKER][: scene.needed]
            tiles = [places(scene, player.size)[f"tile {place}"] for place in picked]
            for place in picked:
                scene.press_tile(place)
            act = partial(player.clicks, [*tiles, places(scene, player.size)["main"]])
        player.does(act, lambda before=before: len(seen.entries(line)) > before)
        seat, action = seen.entries(line)[before]
        assert seat == 0
        if scene.phase is Phase.PASSING:
            assert action == Pass(tuple(sorted(scene.out)))
        choices += 1
    return choices


@pytest.mark.slow
def test_from_the_first_start_through_kills_to_the_closing_of_the_window(player, data, look, tmp_path):
    """The explanation, a deal, passes, choices by key and click, kill -9, going on at the exact choice, a fork."""
    seen = Seen(data, look)
    player.start()
    with Store(tmp_path / "elsewhere.sqlite") as store:
        routes = Navigation(Desk(AtOnce(), store), look)
        deal = places(IntroScene(routes, routes.home(), first=True), player.size)["Begin with twelve hands"]
    (line,) = player.does(lambda: player.click(deal), seen.lines)
    assert seen.said("explained") is True
    assert play_the_passes(player, seen, line.id) >= 4
    let_go_by_keys(player, seen, line.id)
    let_go_by_clicks(player, seen, line.id, 6)
    let_go_by_keys(player, seen, line.id)
    played = seen.whole(line.id)

    player.kill()
    assert seen.entries(line.id) == played
    player.start()
    let_go_by_keys(player, seen, line.id)
    assert seen.whole(line.id)[: len(played)] == played
    assert len(seen.lines()) == 1
    played = seen.whole(line.id)

    # One step back and another choice there: a fork, in which the very same tile comes.
    gone = len(played) - 2
    for lefts in range(2, 8):  # a tile like the one that went only steps forward again: then take another
        player.keys("z", *["Left"] * lefts, "Return")
        if until(lambda: len(seen.lines()) == 2, 8.0):
            break
    fork = seen.lines()[1]
    assert (fork.parent, fork.forked_at) == (line.id, gone)
    assert seen.entries(line.id) == played
    assert until(lambda: len(seen.entries(fork.id)) == gone + 2)
    forked = seen.entries(fork.id)
    assert forked[gone] != played[gone]
    assert forked[:gone] + forked[gone + 1 :] == played[:gone] + played[gone + 1 :]

    player.kill()
    player.start()
    let_go_by_clicks(player, seen, fork.id, 0)
    assert player.ask_to_close() == 0
    assert player.process.stderr.read() == b""
    assert [one.id for one in seen.lines()] == [line.id, fork.id]
    assert seen.entries(line.id) == played


@pytest.mark.slow
def test_a_whole_game_from_a_deal_code_to_its_end_and_the_next_deal(player, data, look):
    """Four picks, by keys and by clicks in turn; the end is in the store, Enter deals anew, the closing ends it."""
    seen = Seen(data, look)
    code = DealCode.of(find("first-steps"), House(picks=4), 20)
    player.start("play", "--sheet", "first-steps", "--deal", str(code))
    (line,) = until(seen.lines)
    assert line.deal == str(code)
    for choice in range(5):
        if choice % 2:
            let_go_by_clicks(player, seen, line.id, 13 - choice)
        else:
            let_go_by_keys(player, seen, line.id)
    (line,) = seen.lines()
    assert line.ending == GameEnd("picks", 4)
    assert line.entries == 9
    first, second = player.does(lambda: player.keys("Return"), lambda: len(seen.lines()) == 2 and seen.lines())
    assert first.id == line.id
    assert second.house == line.house
    assert not second.finished
    assert player.ask_to_close() == 0
    assert player.process.stderr.read() == b""
