"""The season's ledger in the window: hands and wins, a tick by hand, a game dealt for a hand."""

from datetime import date

import pytest
from at_table import deal, routes_over
from harness import click, drawn, make_look, press

from engine.rules.actions import Discard, Mahjong
from engine.rules.house import House
from engine.sheet.shelf import find
from engine.tiles import JOKER
from game.scenes.season.ledger import HandPopup, LedgerScene

SIZE = (1440, 900)


@pytest.fixture
def routes(tmp_path):
    """The program's routes over a store of its own, the small sheet chosen."""
    made = routes_over(make_look(), tmp_path / "store.sqlite")
    made.desk.choose_sheet(find("first-steps"), None)
    yield made
    made.desk.store.close()


def opened(routes):
    """The ledger, drawn once."""
    scene = routes.ledger(routes.home())
    drawn(scene, SIZE, 1.0)
    return scene


@pytest.mark.slow
def test_a_game_is_looked_through_when_the_ledger_opens(routes):
    """Its figures are kept, so that the next time nothing is left to do."""
    table = deal(routes, House(picks=6), sheet=find("first-steps"))
    sitting = table.sitting
    while not sitting.over:
        legal = sitting.legal()
        real = [action for action in legal if isinstance(action, Discard) and action.kind != JOKER]
        sitting.act(Mahjong() if Mahjong() in legal else (real or legal)[0])
    scene = opened(routes)
    assert scene.ledger.games == 1
    assert not scene.working
    assert routes.desk.ledgers().waiting() == []


@pytest.mark.slow
def test_a_win_at_a_real_table_is_ticked_and_taken_back(routes):
    """From a hand's own panel, by mouse and by key."""
    scene = opened(routes)
    name = find("first-steps").hands[0].name
    popup = click(scene, f"hand {name}")
    assert isinstance(popup, HandPopup)
    drawn(popup, SIZE, 1.0)
    back = press(popup, "w")
    assert back is scene
    assert scene.ledger.won == 1
    assert scene.ledger.records[0].first == date.today()
    drawn(scene, SIZE, 1.0)
    again = click(scene, f"hand {name}")
    drawn(again, SIZE, 1.0)
    click(again, "Take that back")
    assert scene.ledger.won == 0


def test_a_win_is_ticked_with_its_day(routes):
    """As it is written; a day to come and what is no day are refused in one sentence."""
    scene = opened(routes)
    popup = HandPopup(scene, scene.ledger.records[1])
    for text, said in (("2999-01-01", "still to come"), ("some day", "1 April 2026")):
        popup.day = text
        assert popup.tick() is None
        assert said in popup.fault
    popup.day = "3 March 2026"
    assert popup.tick() is scene
    assert scene.ledger.records[1].first == date(2026, 3, 3)


def test_only_hands_won_or_still_to_win(routes):
    """By one press each."""
    scene = opened(routes)
    names = [hand.name for hand in find("first-steps").hands]
    scene.ledgers.tick(names[0], date(2026, 3, 3))
    scene.enter()
    for shown, expected in (("Won", {names[0]}), ("Still to win", set(names[1:])), ("All hands", set(names))):
        drawn(scene, (1440, 4000), 1.0)
        click(scene, f"hands: {shown}")
        drawn(scene, (1440, 4000), 1.0)
        found = {one.name.removeprefix("hand ") for one in scene.ui.targets if one.name.startswith("hand ")}
        assert found == expected, shown


@pytest.mark.slow
def test_a_game_is_dealt_for_a_hand(routes):
    """The hand is within reach of the first rack; the ledger counts the game apart."""
    scene = opened(routes)
    record = scene.ledger.records[4]
    table = HandPopup(scene, record).deal()
    line = table.sitting.keeper.line
    assert routes.desk.store.get(f"wanted {line}") == record.hand
    assert isinstance(routes.ledger(routes.home()), LedgerScene)
