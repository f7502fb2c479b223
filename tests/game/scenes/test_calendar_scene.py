"""The season's calendar in the window: dates kept and refused, the part of the season, one press to each exercise."""

from datetime import date, timedelta

import pytest
from at_table import routes_over
from harness import click, drawn, make_look, press

from engine.drills.calendar import EXERCISES, SeasonPart
from engine.rules.house import FULL
from engine.sheet.shelf import find
from game.play.practice.tables import all_tables
from game.scenes.season.calendar import CalendarScene
from game.scenes.season.export import ExportPopup
from game.scenes.season.progress import ProgressScene
from game.words.season.calendar import read_day, ready_for_words

SIZE = (1440, 900)
TODAY = date.today()


@pytest.fixture
def routes(tmp_path):
    """The program's routes over a store of its own, the small sheet chosen."""
    made = routes_over(make_look(), tmp_path / "store.sqlite")
    made.desk.choose_sheet(find("first-steps"), None)
    yield made
    made.desk.store.close()


def words_on(scene):
    """All that a scene says, in one string."""
    return " ".join(one.text for one in drawn(scene, SIZE, 1.0))


@pytest.mark.parametrize(
    "text", ["2026-04-01", "1.4.2026", "1 April 2026", "April 1, 2026", "1 apr 2026", "2026/04/01"]
)
def test_a_day_is_read_as_people_write_it(text):
    """All of these are the first of April."""
    assert read_day(text) == date(2026, 4, 1)


@pytest.mark.parametrize("text", ["", "4/1/2026", "31 February 2026", "soon", "2026-13-01", "1 2 3 4"])
def test_what_is_no_day_or_may_be_two_is_refused(text):
    """With what to write instead."""
    with pytest.raises(ValueError, match="write the day as 2026-04-01 or 1 April 2026"):
        read_day(text)


def test_dates_are_kept_and_say_the_part(routes):
    """The player sets both ends; the strip and the exercises follow."""
    scene = routes.calendar(routes.home())
    assert "as long as you set no dates" in words_on(scene)
    scene.begins, scene.ends = (TODAY - timedelta(days=200)).isoformat(), (TODAY + timedelta(days=165)).isoformat()
    press(scene, "k")
    assert scene.fault == ""
    assert scene.part is SeasonPart.KEEPING_FRESH
    assert "Keeping fresh, five months to go." in words_on(scene)
    again = routes.calendar(routes.home())
    assert (again.begins, again.ends, again.known) == (scene.begins, scene.ends, True)
    assert routes.desk.ledgers().season.begins == TODAY - timedelta(days=200)


def test_dates_the_wrong_way_round_are_refused(routes):
    """In one sentence, and nothing is kept."""
    scene = routes.calendar(routes.home())
    scene.begins, scene.ends = "2026-04-01", "2026-03-01"
    drawn(scene, SIZE, 1.0)
    click(scene, "Keep these dates")
    assert "choose a later end" in words_on(scene)
    assert routes.desk.ledgers().season is None


def test_a_club_evening_shifts_the_schedule(routes):
    """By a press or as a date; the schedule that drills use has it."""
    scene = routes.calendar(routes.home())
    drawn(scene, SIZE, 1.0)
    click(scene, "club: in a week")
    assert routes.desk.drilling().schedule.ready == TODAY + timedelta(days=7)
    assert "in seven days: hands come up in time for it." in words_on(scene)
    assert len(routes.desk.drilling().session()) > 3, "more new hands a day than without a day to be ready for"
    scene.club = ""
    scene.keep()
    assert routes.desk.drilling().schedule.ready is None
    assert ready_for_words(TODAY, TODAY).endswith("today: hands come up in time for it.")


@pytest.mark.parametrize("part", SeasonPart)
@pytest.mark.slow
def test_every_exercise_is_one_press_away(routes, part):
    """Each leads somewhere else, and back where it is a screen."""
    first, last = {
        SeasonPart.BEFORE: (10, 400),
        SeasonPart.GETTING_TO_KNOW: (-3, 360),
        SeasonPart.PLAYING_IN: (-60, 300),
        SeasonPart.KEEPING_FRESH: (-200, 165),
        SeasonPart.WAITING: (-350, 5),
        SeasonPart.OVER: (-400, -10),
    }[part]
    scene = routes.calendar(routes.home())
    routes.desk.ledgers().set_season(TODAY + timedelta(days=first), TODAY + timedelta(days=last))
    scene.enter()
    assert scene.part is part
    for one in EXERCISES[part]:
        drawn(scene, SIZE, 1.0)
        there = click(scene, f"exercise {one.value}")
        assert there is not scene, one


def test_a_full_table_is_one_of_four(routes):
    """Whatever the house rules of the next deal are."""
    scene = CalendarScene(routes, routes.home())
    assert scene._full_table().sitting.state.house.table == FULL


def test_everything_is_written_from_the_progress_screen(routes, tmp_path):
    """Into a folder; a second time the player is asked before anything is written over."""
    scene = routes.progress(routes.home())
    assert isinstance(scene, ProgressScene)
    drawn(scene, SIZE, 1.0)
    popup = press(scene, "f")
    assert isinstance(popup, ExportPopup)
    popup.text = str(tmp_path / "figures")
    popup.go()
    tables = all_tables(routes.desk.store, routes.desk.sheets(), TODAY)
    names = {f"{table.name}.csv" for table in tables} | {"columns.txt"}
    assert {path.name for path in (tmp_path / "figures").iterdir()} == names
    popup.go()
    assert set(popup.there) == names
    assert "Nothing was written." in popup.said
    drawn(popup, SIZE, 1.0)
    click(popup, "Write over them")
    assert popup.there == ()
    popup.text = "\0"
    popup.go()
    assert popup.said.startswith("The name holds a character")
