"""The home screen: what goes on, begins and is told there, and where it leads."""

import pytest
from bare_desk import BareRoutes, Elsewhere, summary
from harness import click, drawn, make_look, press, write

from engine.store.values import StoreError
from game.scenes.choosing import ChooseScene
from game.scenes.home.scene import HomeScene
from game.scenes.house import HouseScene
from game.scenes.intro import IntroScene
from game.scenes.settings import SettingsScene
from game.scenes.sheet.scene import SheetScene
from game.ui.popups import Question

SIZE = (1440, 900)


@pytest.fixture
def routes():
    """Routes with an unfinished deal."""
    return BareRoutes(make_look(), unfinished=summary())


@pytest.fixture
def home(routes):
    """The start screen."""
    return HomeScene(routes)


def test_home_goes_on_where_the_player_left_off(home):
    """With a deal unfinished, Enter goes on with it."""
    drawn(home, SIZE, 1.0)
    following = press(home, "return")
    assert isinstance(following, Elsewhere)
    assert following.place == "line 1"


@pytest.mark.parametrize("scale", [1.0, 1.5, 2.0])
def test_home_has_what_is_needed_most_in_sight(home, scale):
    """In the smallest window: going on, a new deal and its code are wholly in sight, in no part that is scrolled."""
    drawn(home, (1024, 640), scale)
    found = {target.name: target for target in home.ui.targets}
    for name in ("Go on with this deal", "Deal", "deal code", "Deal it"):
        assert found[name].rect == found[name].whole, name
        assert found[name].area in (None, "home"), name
    assert not [area for area in home.ui.areas if area.name == "home" and area.furthest], "the page is not scrolled"


def test_home_names_the_sections_of_the_deal_that_was_left(routes):
    """Only where not the whole sheet is played."""
    for chosen, named in ((None, False), (("Tides", "Kites"), True)):
        routes.desk.unfinished = summary(chosen=chosen)
        said = " ".join(one.text for one in drawn(HomeScene(routes), SIZE, 1.0))
        assert ("only Tides and Kites" in said) == named


def test_home_begins_with_the_sheet_when_nothing_is_left(routes):
    """A sheet that was never opened is read first; then a few hands are to be learnt, and D deals at any time."""
    routes.desk.unfinished = None
    home = HomeScene(routes)
    drawn(home, SIZE, 1.0)
    assert press(home, "d").place == "deal None"
    assert isinstance(press(home, "return"), SheetScene)
    routes.desk.opened(routes.desk.current_sheet)
    home.enter()
    said = " ".join(one.text for one in drawn(home, SIZE, 1.0))
    assert "Learn a few hands Not practised yet: Handrail, Missing step and Turning stair." in said
    assert press(home, "return").place == "practice"


@pytest.mark.slow
def test_home_takes_a_deal_code(home, routes):
    """A code is typed in and dealt by Enter; a refusal is said on the same screen and goes when one types on."""
    drawn(home, SIZE, 1.0)
    click(home, "deal code")
    write(home, "k7q2")
    routes.refused = "the code “k7q2” is too short"
    assert press(home, "return") is home
    assert any(one.text.startswith("The code “k7q2” is too short") for one in drawn(home, SIZE, 1.0))
    write(home, "-m4x9")
    routes.refused = None
    assert press(home, "return").place == "deal k7q2-m4x9"


def test_home_says_why_a_deal_cannot_be_gone_on_with(routes, monkeypatch):
    """A damaged deal or match ends nothing: the reason is said on the same screen."""
    home = HomeScene(routes)
    drawn(home, SIZE, 1.0)

    def damaged(_):
        raise StoreError("this deal is damaged and can't be opened")

    monkeypatch.setattr(routes, "resume", damaged)
    assert press(home, "return") is home
    assert any("This deal is damaged" in one.text for one in drawn(home, SIZE, 1.0))


def test_home_tells_once(routes):
    """What went wrong at the start is said until the player has read it."""
    routes.desk.told = ["A file was damaged."]
    home = HomeScene(routes)
    assert any(one.text == "A file was damaged." for one in drawn(home, SIZE, 1.0))
    click(home, "I have read this")
    assert routes.desk.told == []


@pytest.mark.slow
def test_home_leads_everywhere_by_keys_and_by_clicks(home):
    """Each place has a key and a target."""
    places = {
        "h": ("Read the sheet", SheetScene), "s": ("Settings", SettingsScene), "w": ("How it plays", IntroScene),
        "r": ("House rules", HouseScene), "c": ("Sheet and sections", ChooseScene), "p": ("Past deals", Elsewhere),
        "y": ("Your progress", Elsewhere), "n": ("Season’s calendar", Elsewhere),
    }  # fmt: skip
    for key, (name, kind) in places.items():
        drawn(home, SIZE, 1.0)
        assert isinstance(press(home, key), kind), name
        assert isinstance(click(home, name), kind), name


def test_leaving_asks_first_by_escape_and_ends_the_program(home):
    """Esc asks; Enter then leaves."""
    drawn(home, SIZE, 1.0)
    question = press(home, "escape")
    assert isinstance(question, Question)
    assert press(question, "return").over


def test_leaving_says_what_would_be_lost(home, routes, monkeypatch):
    """While the disk is full nothing is kept, and the question does not say that it is."""
    monkeypatch.setattr(type(routes.desk.store), "unsaved", True)
    monkeypatch.setattr(type(routes.desk.store), "trouble", "the disk is full; free some space")
    drawn(home, SIZE, 1.0)
    for key in ("escape", "q"):
        said = " ".join(record.text for record in drawn(press(home, key), SIZE, 1.0))
        assert "The disk is full; free some space. If you leave before that, what is not saved is lost." in said
        assert "is kept" not in said
