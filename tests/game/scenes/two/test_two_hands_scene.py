"""The two-hand game in the window and in the terminal: played, kept, gone on with, and readable at any size."""

import pytest
from at_table import AtOnce
from harness import SIZES, check_records, click, drawn, make_look, press, small_targets

from engine.advice.advise.two_hands import UNWEIGHED, advise_two
from engine.rules.actions import ChangeRacks, Discard, Mahjong, PutOn
from engine.rules.deal import DealCode
from engine.rules.house import TWO, House
from engine.rules.record import from_text, to_text
from engine.rules.state import Phase
from engine.sheet.shelf import find
from engine.store.store import Store
from game.command_line import main
from game.play.desk import Desk
from game.play.lines import line_of
from game.play.settings import ALWAYS, HIDDEN
from game.scenes.navigation import Navigation
from game.scenes.twists import TwistPopup
from game.scenes.two.scene import TwoHandsScene
from game.scenes.two.setup import KEPT, TwoHandsSetup, kept_picks
from game.text.two_hands import TwoHandsText, meant
from game.words.house import house_words

SIZE = (1440, 900)
SHEET = find("first-steps")


@pytest.fixture
def routes(tmp_path):
    """Routes over a store of their own."""
    with Store(tmp_path / "deals.sqlite") as store:
        routes = Navigation(Desk(AtOnce(), store), make_look())
        routes.desk.effort = 0
        routes.desk.choose_sheet(SHEET, None)
        yield routes


def game(routes, picks=60, seed=2, **rules):
    """A two-hand game at its first choice."""
    return routes.deal_of(SHEET, DealCode.of(SHEET, House(table=TWO, picks=picks, **rules), seed))


def by_advice(scene, turns=500):
    """Play on as the advice says."""
    while turns > 0 and not scene.finished:
        turns -= 1
        scene.act(advise_two(scene.table, scene.sitting.observation).action)
    return scene


def test_a_game_from_the_start_screen(routes):
    """The way in, the number of picks, and the deal; the code says the game."""
    setup = routes.two_hands(routes.home())
    assert isinstance(setup, TwoHandsSetup)
    drawn(setup, SIZE, 1.0)
    click(setup, "picks: 80")
    assert kept_picks(routes.desk) == 80
    scene = click(setup, "Deal")
    assert isinstance(scene, TwoHandsScene)
    assert DealCode.parse(scene.code).house == House(table=TWO, picks=80)
    routes.desk.store.set(KEPT, "many")
    assert kept_picks(routes.desk) == 60


def test_a_turn_by_keys_and_mouse(routes):
    """Placed by a key, two tiles changed by pressing both, one let go by pressing it twice."""
    scene = game(routes)
    drawn(scene, SIZE, 1.0)
    press(scene, "2")
    assert (scene.state.turn, scene.state.phase) == (1, Phase.TURN)
    first, second = scene.rack(0), scene.rack(1)
    place = next(at for at, kind in enumerate(second) if kind != first[0])
    drawn(scene, SIZE, 1.0)
    click(scene, "rack 1 tile 0")
    press(scene, "c")
    assert "each rack" in scene.trouble
    assert "each rack" in " ".join(one.text for one in drawn(scene, SIZE, 1.0))
    click(scene, f"rack 2 tile {place}")
    press(scene, "c")
    assert scene.sitting.entries[scene.sitting.cursor - 1].action == ChangeRacks(first[0], second[place])
    press(scene, "return")
    assert scene.trouble == "Choose a tile of rack 2 first: press it."
    goes = scene.rack(1)[3]
    drawn(scene, SIZE, 1.0)
    click(scene, "rack 2 tile 3")
    drawn(scene, SIZE, 1.0)
    click(scene, "rack 2 tile 3")
    assert scene.state.discards[-1].kind == goes
    assert scene.placing
    drawn(scene, SIZE, 1.0)
    press(scene, "m")
    assert scene.state.picks == 2


@pytest.mark.slow
def test_it_is_kept_and_gone_on_with(routes):
    """Every choice is on disk; home goes on with it; stepping back and choosing otherwise is a fork."""
    scene = by_advice(game(routes), 9)
    line = line_of(scene.sitting)
    again = routes.resume(line)
    assert isinstance(again, TwoHandsScene)
    assert again.state == scene.state
    assert routes.left_off().state == scene.state
    while again.sitting.back():
        pass
    again.place(1 - next(e.action.rack for e in again.sitting.entries if isinstance(e.action, PutOn)))
    assert line_of(again.sitting) != line
    assert routes.look_back(line).looking_back


@pytest.mark.slow
def test_a_game_by_the_advice_is_won(routes):
    """Both hands shown; the end says them; another deal is one press away; nothing is counted in the ledger."""
    scene = by_advice(game(routes, picks=0))
    assert scene.state.outcome.kind == "mahjong"
    shown = [one.hand.name for one in scene.state.two.shown]
    texts = " ".join(one.text for one in drawn(scene, SIZE, 1.0))
    assert all(name in texts for name in shown)
    assert "What your choices cost is not told after this game" in texts
    assert isinstance(press(scene, "return"), TwoHandsScene)
    assert routes.desk.ledgers().lines() == []
    assert routes.desk.store.unreviewed() == ()
    kept = routes.desk.store.line(line_of(scene.sitting))
    assert kept.ending.hand == " and ".join(shown)


@pytest.mark.slow
def test_advice_is_shown_as_the_settings_have_it(routes):
    """Always: said at once, with what it does not weigh. Hidden: not before the end."""
    routes.desk.save_settings(type(routes.desk.settings)(advice=ALWAYS))
    scene = game(routes)
    texts = " ".join(one.text for one in drawn(scene, (1440, 1400), 1.0))
    assert scene.advice is not None
    assert scene.advice.because.split(".")[0] in texts
    assert UNWEIGHED.split(";")[0] in texts
    routes.desk.save_settings(type(routes.desk.settings)(advice=HIDDEN))
    hidden = game(routes)
    hidden.toggle_advice()
    assert hidden.advice is None
    assert routes.desk.store.line(line_of(hidden.sitting)).advice_hidden


def test_a_twist_comes_with_it(routes):
    """Announced as at every table, and named in the rules of the deal."""
    told = game(routes, twist="mirror")
    assert isinstance(told, TwistPopup)
    assert told.parent.state.sheet.twist == "mirror"
    assert house_words(told.sitting.state.house) == "the two-hand game, eight jokers, 60 picks, the twist Mirror"


@pytest.mark.slow
@pytest.mark.parametrize(("size", "scale"), [(SIZES[0], 2.0), (SIZES[1], 1.0)])
def test_it_can_be_read(routes, size, scale):
    """Contrast, room and overlap of every text; targets large enough."""
    routes.desk.save_settings(type(routes.desk.settings)(advice=ALWAYS, scale=scale))
    scenes = [routes.two_hands(routes.home()), routes.twists(routes.home()), game(routes, twist="ten")]
    scenes += [by_advice(game(routes), 1), by_advice(game(routes, picks=3))]
    for scene in scenes:
        assert check_records(drawn(scene, size, scale), size) == []
        if not isinstance(scene, TwoHandsScene):  # a tile of fourteen in a narrow window is as wide as there is room
            assert small_targets(scene) == []


def test_both_racks_are_seen_whole_in_a_low_window(routes):
    """While a tile waits to be put on a rack, and while one is to go, at 1024x640 and 200% without scrolling."""
    scene, high = game(routes), 640
    for phase in (Phase.PLACING, Phase.TURN):
        while scene.state.phase is not phase:
            scene.act(advise_two(scene.table, scene.sitting.observation).action)
        scene.chosen = [None, None]
        marks = []
        tile, scene.ui.tile = scene.ui.tile, lambda _, rect, marks=marks: marks.append(rect)
        drawn(scene, (1024, high), 2.0)
        scene.ui.tile = tile
        assert len(marks) >= 27
        assert max(rect.bottom for rect in marks) < high - scene.ui.u(8), "the ledge under rack 2 is seen, too"
        assert "Step back" in {target.name for target in scene.ui.targets}


def test_stepping_back_shows_the_choice_as_it_was(routes):
    """The racks of then, nothing chosen; and forward again."""
    scene = game(routes)
    before = scene.state
    by_advice(scene, 1)
    after = scene.state
    scene.chosen = [1, None]
    scene.step(False)
    assert (scene.state, scene.chosen) == (before, [None, None])
    scene.step(True)
    assert scene.state == after


def text_game(routes, lines, **more):
    """What the text table says to these lines."""
    said = []
    sitting = game(routes).sitting
    table = routes.desk.advisor(sitting.state.sheet, 8).table
    over = TwoHandsText(sitting, table, lines, said.append, **more).play()
    return said, over, sitting


def test_the_text_table_tells_a_twist_first(routes):
    """As every table does."""
    said = []
    sitting = game(routes, twist="mirror").parent.sitting
    TwoHandsText(sitting, routes.desk.advisor(sitting.state.sheet, 8).table, ["quit"], said.append).play()
    assert said[1].startswith("Mirror. ")


def test_the_text_table(routes):
    """Whole sentences for every command, sense out of nonsense."""
    lines = [
        "rules",
        "help",
        "racks",
        "discards",
        "sheet",
        "advice",
        "mahjong",
        "5",
        "2",
        "change 5d",
        "back",
        "forward",
    ]
    said, over, sitting = text_game(routes, [*lines, "note", "", "quit", "1"])
    assert not over
    assert sitting.state.turn == 1
    assert said[0] == "You play the two-hand game with First Steps."
    assert all(one.endswith((".", "?", "!", "…")) for one in said), [one for one in said if one[-1] not in ".?!…"]
    for sentence in (
        "The tile drawn is put on one of the two racks first.",
        "Type both tiles, as in “change 5d for 3b”: first the one of rack 1.",
        UNWEIGHED,
    ):
        assert sentence in said


@pytest.mark.slow
def test_a_whole_game_in_the_terminal(routes):
    """As the advice has it, typed line by line, to its end."""
    model = by_advice(game(routes, picks=12)).sitting
    said = []
    sitting = game(routes, picks=12).sitting
    table = routes.desk.advisor(sitting.state.sheet, 8).table
    lines = [
        str(entry.action).replace("place rack ", "").replace("discard ", "")
        for entry in model.entries
        if entry.seat == sitting.player
    ]
    assert TwoHandsText(sitting, table, lines, said.append).play()
    assert sitting.state == model.states[-1]
    assert "All 12 picks are used." in said
    assert any(one.startswith("What your choices cost is not told after this game: ") for one in said)


@pytest.mark.parametrize(
    ("typed", "action"),
    [
        ("1", PutOn(0)),
        ("on rack two", PutOn(1)),
        ("mahjong", Mahjong()),
        ("change the 5 dot for east", ChangeRacks(22, 27)),
        ("let the 5 dot", Discard(22)),
        ("5d", Discard(22)),
    ],
)
def test_what_is_typed_is_understood(typed, action):
    """Numbers of racks, tiles by code or name."""
    assert meant(typed) == action


@pytest.mark.slow
def test_it_can_be_watched(tmp_path, monkeypatch, capsys):
    """By its code: both racks as dealt, each choice with its reasons, and the end."""
    monkeypatch.setenv("LONE_EAST_DATA", str(tmp_path))
    code = DealCode.of(SHEET, House(table=TWO, picks=4), 5)
    assert main(["watch", "--deal", str(code), "--sheet", "first-steps"]) == 0
    said = capsys.readouterr().out
    assert f"Deal {code}, the two-hand game." in said
    assert "Rack 1 is dealt" in said
    assert "Rack 2 is dealt" in said
    assert said.count("  Put the") == 4
    assert said.endswith("Neither hand was made.\n")


@pytest.mark.slow
def test_past_deals_and_lines_of_a_deal_know_it(routes):
    """It stands among the past deals; a fork of it stands beside it, and the record leaves and comes back."""
    scene = by_advice(game(routes), 12)
    line = line_of(scene.sitting)
    while scene.sitting.back():
        pass
    scene.place(1 - next(e.action.rack for e in scene.sitting.entries if isinstance(e.action, PutOn)))
    texts = " ".join(one.text for one in drawn(routes.past_deals(routes.home()), SIZE, 1.0))
    assert "two lines of play" in texts
    assert "two hands" in texts
    drawn(routes.ways(scene.sitting, scene), SIZE, 1.0)
    text = to_text(routes.desk.store.record(line))
    added = routes.desk.store.add_record(from_text(text).record)
    assert routes.desk.sitting_of(added).states[-1].racks == routes.desk.sitting_of(line).states[-1].racks
