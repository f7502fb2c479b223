"""Past deals: what is listed and how, opening, deleting and bringing back, files; and going on from the home screen."""

import sqlite3

import pytest
from at_table import beginner, deal, let_go_first, routes_over
from harness import check_records, click, drawn, make_look, press, write

from engine.drills.match import Match, MatchRules
from engine.rules.deal import DealCode
from engine.rules.house import House
from game.play.lines import begin, line_of
from game.play.matches import MatchPlay, left_off
from game.scenes.deal_popups import DealPopup, FilePopup
from game.scenes.deals import AT_ONCE, REHEARSALS, PastDeals
from game.scenes.home.scene import HomeScene
from game.scenes.match.setup import MatchScene
from game.scenes.paths import written_path
from game.ui.popups import Question
from game.window.open import first_scene

SIZE = (1440, 900)


@pytest.fixture
def routes(tmp_path):
    """Routes over a store of the test's own."""
    routes = routes_over(make_look(), tmp_path / "lone-east.sqlite")
    routes.desk.explained()
    yield routes
    routes.desk.store.close()


def shown(scene):
    """The scene once it is drawn."""
    drawn(scene, SIZE, 1.0)
    return scene


def texts(scene):
    """Everything that is written on it."""
    return " ".join(record.text for record in drawn(scene, SIZE, 1.0))


def finished(routes, seed=11, picks=1):
    """A game that came to its end; its line."""
    table = deal(routes, House(picks=picks), seed)
    let_go_first(table, 9)
    assert table.sitting.over
    return line_of(table.sitting)


def past(routes):
    """The screen."""
    return shown(PastDeals(routes, HomeScene(routes)))


def listed(scene):
    """The lines that the listed deals were last played on."""
    return [one.latest.id for one in scene.deals]


@pytest.mark.slow
def test_past_deals_list_the_latest_first_and_open(routes):
    """A finished deal is looked back at from its first choice, an unfinished one goes on."""
    over = finished(routes)
    begun = shown(deal(routes))
    press(begun, "right", "return")
    scene = past(routes)
    assert listed(scene) == [line_of(begun.sitting), over]
    on = press(scene, "return")
    assert on.sitting.states == begun.sitting.states
    assert on.sitting.at_end
    back = click(scene, f"Look back {over}")
    assert back.sitting.cursor == 0
    assert back.sitting.over
    assert isinstance(press(scene, "escape"), HomeScene)


@pytest.mark.slow
def test_a_deal_of_some_sections_says_how_many(routes):
    """Beside the sheet's name, as other hands were wanted in it."""
    routes.desk.deal(beginner(), ("Garden Path", "Front Door"), House(picks=1))
    assert "two sections" in texts(past(routes))


def test_forks_lie_folded_under_their_deal(routes):
    """One row for the deal; its lines are in its popup, and a try that was taken back before its end is not."""
    table = deal(routes, House(picks=2))
    let_go_first(table, 9)
    first = line_of(table.sitting)
    table.again()
    table.chosen = 5
    table.let_go()
    tried = line_of(table.sitting)
    assert tried != first
    table.sitting.go_to(0)
    table.again()
    table.chosen = 3
    table.let_go()
    let_go_first(table, 9)
    last = line_of(table.sitting)
    assert table.sitting.over
    assert last not in (first, tried)
    scene = past(routes)
    assert listed(scene) == [last]
    assert "three lines of play" in texts(scene)
    popup = shown(click(scene, f"More {last}"))
    assert isinstance(popup, DealPopup)
    assert [line.id for line in popup.lines] == [first, last]
    opened = click(popup, "Look back at line 1")
    assert line_of(opened.sitting) == first


@pytest.mark.slow
def test_an_unfinished_try_is_listed_only_while_it_is_what_was_played_last(routes):
    """Then it is what going on leads to; once another line is played to, it is gone from the list."""
    table = deal(routes, House(picks=2))
    let_go_first(table, 9)
    first = line_of(table.sitting)
    table.again()
    table.chosen = 5
    table.let_go()
    tried = line_of(table.sitting)
    assert listed(past(routes)) == [tried]
    assert left_off(routes.desk).game.id == tried
    assert routes.left_off().sitting.keeper.line == tried
    table.again()
    table.chosen = 3
    table.let_go()
    let_go_first(table, 9)
    assert left_off(routes.desk).nothing
    assert tried not in [line.id for line in DealPopup(past(routes), past(routes).deals[0]).lines]
    assert first in [line.id for line in past(routes).deals[0].lines]


@pytest.mark.slow
def test_a_deal_is_deleted_once_asked_and_comes_back(routes):
    """With all its lines and notes; Esc deletes nothing; the figures of play stay."""
    over, other = finished(routes, 11), finished(routes, 12)
    routes.desk.store.note(over, "keep the flowers", 0)
    scene = past(routes)
    popup = shown(click(scene, f"More {over}"))
    question = click(popup, "Delete this deal")
    assert isinstance(question, Question)
    assert press(question, "escape") is scene
    assert listed(scene) == [other, over]
    assert click(shown(popup.ask_to_delete()), "Delete it") is scene
    assert listed(scene) == [other]
    assert "is deleted." in texts(scene)
    again = past(routes)
    click(again, "Bring the deleted deal back")
    assert listed(again) == [other, over]
    assert [note.text for note in routes.desk.store.notes(over)] == ["keep the flowers"]
    assert routes.desk.deleted == 0


@pytest.mark.slow
def test_rehearsals_are_listed_apart(routes):
    """They are no games, and are gone on with from their own list only."""
    rehearsed = line_of(routes.desk.deal_rehearsal())
    over = finished(routes)
    scene = past(routes)
    assert listed(scene) == [over]
    click(scene, "show: Rehearsals of the passes")
    assert scene.showing == REHEARSALS
    assert listed(scene) == [rehearsed]
    assert left_off(routes.desk).nothing


@pytest.mark.slow
def test_older_deals_are_shown_when_asked_for(routes):
    """A long list is not drawn at once."""
    for number in range(AT_ONCE + 3):
        begin(routes.desk.store, beginner(), DealCode.of(beginner(), House(), number))
    scene = past(routes)
    assert len([target for target in scene.ui.targets if target.name.startswith("More ")]) == AT_ONCE
    assert press(scene, "o") is scene
    assert len([target for target in shown(scene).ui.targets if target.name.startswith("More ")]) == AT_ONCE + 3


@pytest.mark.slow
def test_a_deal_goes_out_to_a_file_and_comes_in_again(routes, tmp_path):
    """Written under the name typed; read in, it is a line of its own; a wrong name is said and stays to be mended."""
    line = finished(routes)
    scene = past(routes)
    popup = click(shown(click(scene, f"More {line}")), "Write to a file")
    assert isinstance(popup, FilePopup)
    popup.text = str(tmp_path / "missing" / "deal.txt")
    assert press(popup, "return") is popup
    assert "missing" in popup.trouble
    popup.text = str(tmp_path)
    assert press(popup, "return") is scene
    (file,) = tmp_path.glob("deal-*.txt")
    assert str(file.name) in scene.said
    popup = press(scene, "r")
    for wrong in ("~no-such-user-here/deal.txt", "", "  ", "\0", "a\ud800b"):
        popup.text = wrong
        assert press(popup, "return") is popup
        assert popup.trouble.endswith(".")
    popup.text = f'  "{file}" '
    assert press(popup, "return") is scene
    assert scene.deals[0].latest.imported
    brought = scene.deals[0].latest.id
    assert routes.desk.store.record(brought).entries == routes.desk.store.record(line).entries


@pytest.mark.parametrize("wrong", ["~no-such-user-here/x", "", "'\"", "a\0b", "\udcff"])
def test_a_name_that_can_be_no_file_is_said(wrong):
    """In a sentence that says what to write."""
    with pytest.raises(ValueError, match="write"):
        written_path(wrong)


def damage(routes, line):
    """A wall that nothing can read, of a deal without a code to deal it again."""
    with sqlite3.connect(routes.desk.store.path) as db:
        db.execute("UPDATE lines SET wall = 'x', deal = '' WHERE id = ?", (line,))
    db.close()


@pytest.mark.slow
def test_a_damaged_deal_ends_no_screen(routes):
    """Going on from home or from the list says what is wrong, and everything else goes on."""
    table = deal(routes)
    home = shown(HomeScene(routes))
    damage(routes, line_of(table.sitting))
    assert click(home, "Go on with this deal") is home
    assert "damaged" in texts(home)
    assert isinstance(first_scene(routes), HomeScene)
    damaged = MatchPlay(routes.desk, Match(MatchRules(2)))
    sitting = damaged.sitting()
    home = shown(HomeScene(routes))
    damage(routes, line_of(sitting))
    assert click(home, "Go on with the match") is home
    assert "damaged" in texts(home)
    setup = shown(MatchScene(routes, home))
    assert click(setup, "Go on with the match") is setup
    assert "damaged" in texts(setup)


@pytest.mark.slow
def test_a_match_that_was_left_is_named_and_gone_on_with(routes):
    """The program is killed: nothing more is written. The next start is in the match; home names it, and the game."""
    game = deal(routes)
    play = MatchPlay(routes.desk, Match(MatchRules(3)))
    sitting = play.sitting()
    assert first_scene(routes).sitting.states == sitting.states
    home = shown(HomeScene(routes))
    said = texts(home)
    assert "A match. Deal 1 of 3: you are East." in said
    assert said.index("Go on with the match") < said.index("Go on with this deal")
    assert click(home, "Go on with the match").sitting.states == sitting.states
    press(shown(game), "right", "return")
    assert first_scene(routes).sitting.states == game.sitting.states
    said = texts(shown(HomeScene(routes)))
    assert said.index("Go on with this deal") < said.index("Go on with the match")


@pytest.mark.slow
def test_the_deal_of_a_match_is_gone_on_with_in_the_match(routes):
    """From the list of past deals too: advice stays hidden, and the points count."""
    play = MatchPlay(routes.desk, Match(MatchRules(3)))
    sitting = play.sitting()
    scene = past(routes)
    on = click(scene, f"Go on {line_of(sitting)}")
    assert on.sitting.states == sitting.states
    assert not on.may_advise
    assert not on.may_step_back


@pytest.mark.slow
def test_a_deal_code_that_is_typed_finds_its_sheet(routes, tmp_path):
    """Among all that ship and all that were loaded, whichever is chosen for the next deal; that choice stays."""
    path = tmp_path / "window-box.yaml"
    path.write_text(
        "sheet: Window Box\nseason: 2031\nsections:\n  - section: Earth\n    hands:\n      - hand: Five and four\n"
        "        groups: quint a.n, kong a.n+2, pung b.n, pair flower\n        points: 20\n",
        encoding="utf-8",
    )
    loaded = routes.desk.load_sheet(path)
    chosen = routes.desk.current_sheet
    for sheet in (beginner(), loaded, chosen):
        home = shown(HomeScene(routes))
        click(home, "deal code")
        write(home, str(DealCode.of(sheet, House(picks=2), 5)))
        table = press(home, "return")
        assert table.sitting.state.sheet.fingerprint == sheet.fingerprint
        assert table.sitting.state.house == House(picks=2)
    assert routes.desk.current_sheet == chosen


@pytest.mark.slow
def test_between_two_deals_of_a_match_it_is_the_match_that_goes_on(routes):
    """Its last deal tells how long ago it was played."""
    deal(routes)
    play = MatchPlay(routes.desk, Match(MatchRules(3)))
    play.finish(play.sitting())
    assert left_off(routes.desk).match_last
    assert first_scene(routes).sitting.keeper.line != play.match.results[0].line


@pytest.mark.parametrize("size", [(1024, 640), (1440, 900)])
@pytest.mark.parametrize("scale", [1.0, 2.0])
@pytest.mark.slow
def test_every_text_can_be_read(size, scale, routes):
    """Lists, the popup of a deal, and home with a game and a match, at any size."""
    line = finished(routes)
    deal(routes)
    MatchPlay(routes.desk, Match(MatchRules(3))).sitting()
    scene = past(routes)
    popup = DealPopup(scene, next(one for one in scene.deals if one.latest.id == line))
    for screen in (scene, popup, popup.ask_to_delete(), HomeScene(routes)):
        assert check_records(drawn(screen, size, scale), size) == []


def test_a_damaged_deal_says_so_where_it_goes_on(routes):
    """At the table, where it now stands before the damage, and not only at home."""
    table = deal(routes, House(picks=9))
    let_go_first(table, 3)
    line = line_of(table.sitting)
    with sqlite3.connect(routes.desk.store.path) as db:
        db.execute("UPDATE entries SET action = 'discard xx' WHERE line = ? AND number = 4", (line,))
    db.close()
    again = routes.resume(line)
    assert len(again.sitting.entries) == 4
    assert "is damaged; it goes on from before that part." in texts(again)
