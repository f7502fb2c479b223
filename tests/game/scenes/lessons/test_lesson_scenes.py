"""Lessons in the window: made, given, gone through, handed in, set side by side; a position laid out by hand."""

import random

import pytest
from at_table import routes_over
from harness import click, drawn, make_look, press, write
from lessons_made import lesson_text

from engine.drills.grades import Skill
from engine.drills.lesson.model import DealStep, DrillStep, PositionStep, ReadStep, StepResult
from engine.drills.lesson.reader import read_lesson, read_lesson_file
from engine.drills.lesson.results import read_results_file
from engine.rules.actions import Discard
from engine.sheet.shelf import find
from engine.tiles import parse_tiles
from game.play.practice.lessons import KEPT
from game.scenes.lessons.advised import AdvisedScene
from game.scenes.lessons.list import LessonsScene
from game.scenes.lessons.make import NEW, MakeScene
from game.scenes.lessons.position import PositionScene
from game.scenes.lessons.run import LessonScene
from game.scenes.table.scene import TableScene

SIZE = (1440, 900)
SHEET = find("first-steps")


@pytest.fixture
def routes(tmp_path):
    """The program's routes over a store of its own, with the small sheet chosen."""
    with_store = routes_over(make_look(), tmp_path / "store.sqlite")
    with_store.desk.choose_sheet(SHEET, None)
    yield with_store
    with_store.desk.store.close()


def seen(scene):
    """The scene, drawn, so that its targets are there."""
    drawn(scene, SIZE, 1.0)
    return scene


def field(scene, name, text):
    """Types a text into a field."""
    seen(scene)
    click(scene, name)
    press(scene, "ctrl+a")
    return write(scene, text)


def lesson(routes):
    """The lesson for tests, brought in."""
    listed = LessonsScene(routes, routes.home())
    listed.lessons.keep(read_lesson(lesson_text(SHEET), [SHEET]).lesson)
    listed.enter()
    scene = seen(listed).open(listed.kept[0])
    scene.drilling.chance = random.Random(3)
    return seen(scene)


@pytest.mark.slow
def test_a_lesson_is_gone_through(routes):
    """Words, a drill, a position let go, a choice, a deal: each is kept, and Enter leads on."""
    run = lesson(routes)
    words = press(run, "return")
    drill = press(seen(words), "return")  # the next step begins at once
    assert drill.question.item.skill == "lay"
    for _ in range(2):
        seen(drill)
        drill.give_up()
        press(seen(drill), "return")
    assert press(seen(drill), "return") is run
    run.enter()
    assert run.next == 3
    position = run.begin(4)
    seen(position)
    place = position.task.task.rack.index(parse_tiles("9d")[0])
    click(position, f"tile {place}")
    click(position, f"tile {place}")
    assert position.told[:2] == ["Right.", "The lonely ends go first."]
    after = press(seen(position), "return")  # step 3 was left out, and comes now
    assert after.question.item.skill == "pass"
    choice = run.begin(5)
    press(seen(choice), "2")
    assert choice.told[0] == "Not this time."
    press(seen(choice), "return")
    assert [one.step for one in run.results] == [1, 2, 4, 5]
    table = press(seen(press(seen(run.begin(6)), "return")), "f1")
    assert isinstance(getattr(table, "parent", table), TableScene)


def test_results_are_handed_in_and_set_side_by_side(routes, tmp_path):
    """A name first; then a file, which another window reads, a whole folder too."""
    run = lesson(routes)
    press(run, "w")
    assert run.said == "Write your name first, as your teacher knows you."
    run.lessons.record(run.lesson, StepResult(1))
    run.enter()
    run.name = "Kim"
    popup = run.hand_in()
    popup.text = str(tmp_path / "kim.yaml")
    assert popup.go() is run
    assert read_results_file(tmp_path / "kim.yaml").results.player == "Kim"
    popup.go()
    assert "is there already" in popup.trouble
    (tmp_path / "bad.yaml").write_text("results: [", encoding="utf-8")
    beside = seen(run.beside())
    asked = beside.bring_in()
    asked.text = str(tmp_path)
    assert asked.go() is beside
    assert beside.said.startswith("One file read. One other could not be read; the first: ")
    asked.text = str(tmp_path / "bad.yaml")
    assert asked.go() is None
    assert "bad.yaml:1:" in asked.trouble
    again = run.beside()
    assert [one.player for one in again.results] == ["Kim"]


@pytest.mark.slow
def test_a_lesson_is_made_given_and_brought_in(routes, tmp_path):
    """Each form takes its step; what is missing is said; the file reads back; order can be changed."""
    make = seen(MakeScene(routes, routes.home()))
    make.keep()
    assert make.trouble == "Give the lesson a name first."
    field(make, "name", "Low dots")
    form = make.add(_new("Words"))
    click(seen(form), "Take this step")
    assert form.trouble == "Write what is to be read."
    field(form, "say", "Read this.")
    assert click(seen(form), "Take this step") is make
    drill = make.add(lambda: DrillStep(Skill.LAY))
    field(drill, "hand", SHEET.hands[1].name[:-1].lower())
    assert click(seen(drill), "Take this step") is make
    assert make.lesson.steps[1].hand == SHEET.hands[1].name
    deal = make.add(_new("Deal"))
    field(deal, "deal", "K7Q2")
    click(seen(deal), "Take this step")
    assert deal.trouble
    click(seen(deal), "Another deal by my house rules")
    assert click(seen(deal), "Take this step") is make
    place = make.add(_new("Position"))
    field(place, "position", "A rack")
    click(seen(place), "Take this step")
    assert place.trouble == "Lay the position out first."
    laying = seen(place.lay())
    field(laying, "typed", "2b 3b 3b 5c 5c 6c we we 7d 7d 7d fl jk 9d")
    press(seen(laying), "return")
    assert laying.layout.room == 0
    assert click(seen(laying), "Take this position") is place
    field(place, "choices", "yes / no")
    place.set("answer", "no")
    assert click(seen(place), "Take this step") is make
    make.move(0, 1)
    assert isinstance(make.keep(), LessonScene)
    listed = LessonsScene(routes, routes.home())
    (kept,) = listed.kept
    assert [type(step) for step in kept.lesson.steps][:2] == [DrillStep, ReadStep]
    assert kept.lesson.steps[3].choices == ("yes", "no")
    run = listed.open(kept)
    popup = run.give()
    popup.text = str(tmp_path / "low.yaml")
    assert popup.go() is run
    assert read_lesson_file(tmp_path / "low.yaml", [SHEET]).lesson == kept.lesson
    run._remove()
    listed.enter()
    assert listed.kept == ()
    asked = listed.bring_in()
    asked.text = str(tmp_path / "low.yaml")
    assert asked.go() is listed
    assert listed.said == "Low dots is here now."


@pytest.mark.slow
def test_a_whole_lesson_takes_few_presses(routes):
    """Name, words, a drill on one hand, a position and a deal, by keys alone: 20 presses besides what is typed."""
    presses = 0

    def keys(scene, *names):
        nonlocal presses
        presses += len(names)
        for name in names:
            scene = press(seen(scene), name)
        return seen(scene)

    make = keys(routes.practice(routes.home()), "t", "m")
    write(make, "Few presses")
    form = keys(make, "return", "return", "w")
    write(form, "Read this.")
    drill = keys(keys(form, "return"), "d", "h")
    drill = keys(drill, "tab", "return")
    form = keys(keys(drill, "return"), "p")
    write(form, "A rack")
    laying = keys(form, "return")
    write(laying, "2b 3b 3b 5c 5c 6c we we 7d 7d 7d fl jk 9d")
    make = keys(keys(laying, "return", "return"), "return")
    run = keys(keys(make, "e", "return"), "k")
    assert isinstance(run, LessonScene)
    assert [type(step) for step in run.lesson.steps] == [ReadStep, DrillStep, PositionStep, DealStep]
    assert run.lesson.steps[1].hand == SHEET.hands[0].name
    assert keys(run, "l").text.endswith("few-presses.yaml")
    assert presses == 20


def _new(says):
    """Makes a new step of that kind."""
    return next(make for name, _, make in NEW if name == says)


def test_a_lesson_in_the_making_is_not_lost_unasked(routes):
    """Esc asks, and keeps or leaves; a step half written is asked about, too. What the program's end cuts short is
    there again, until it is kept or left."""
    home = routes.home()
    make = MakeScene(routes, home)
    assert make.back() is home
    make._named("name", "Half done")
    assert make.back() is not home
    form = make.add(_new("Words"))
    assert form.back() is make
    field(form, "say", "Read this.")
    asked = form.back()
    assert press(seen(asked), "t") is make
    again = MakeScene(routes, home)
    assert (again.lesson, again.said) == (make.lesson, "You left this lesson before it was kept.")
    assert press(seen(again.back()), "l") is home
    assert MakeScene(routes, home).lesson.steps == ()


def test_a_broken_lesson_says_where(routes, tmp_path):
    """In the popup, with the place in the file."""
    path = tmp_path / "broken.yaml"
    path.write_text(lesson_text(SHEET).replace("times: 2", "times: none"), encoding="utf-8")
    listed = LessonsScene(routes, routes.home())
    popup = listed.bring_in()
    popup.text = str(path)
    assert popup.go() is None
    assert f"{path}:8:12: " in popup.trouble
    assert isinstance(listed.position(), PositionScene)


def test_a_lesson_whose_sheet_has_gone_is_named(routes):
    """It stays kept, and the list says what to do."""
    text = lesson_text(SHEET).replace(f"sheet: {SHEET.name}", "sheet: Kitchen Shelf")
    routes.desk.store.set(KEPT, [text])
    listed = LessonsScene(routes, routes.home())
    shown = " ".join(text.text for text in drawn(listed, SIZE, 1.0))
    assert "Two roads can’t be opened now: there is no sheet “Kitchen Shelf” here; load that sheet first" in shown
    assert "There is no lesson here yet." not in shown


@pytest.mark.slow
def test_a_position_is_laid_by_the_mouse_and_asked_about(routes):
    """Tiles from the pool, taken back, a group with a joker; then the advice, why not a tile, why not a hand."""
    scene = seen(PositionScene(routes, SHEET, routes.home()))
    for kind in parse_tiles("2b 3b 3b"):
        click(seen(scene), f"tile {kind}")
    click(seen(scene), "rack 0")
    assert scene.layout.rack == list(parse_tiles("3b 3b"))
    click(seen(scene), "part: seen elsewhere")
    click(seen(scene), f"tile {parse_tiles('we')[0]}")
    click(seen(scene), "part: exposed groups")
    click(seen(scene), "jokers in it: more")
    click(seen(scene), f"tile {parse_tiles('wn')[0]}")
    assert scene.layout.texts() == ("3b 3b", "we", "pung wn jokers 1")
    press(seen(scene), "return")
    assert "give 10 or 11" in scene.trouble
    scene._to("rack")
    field(scene, "typed", "5c 5c 6c we we 7d 7d fl 9d")
    press(seen(scene), "return")
    click(seen(scene), "What is advised?")
    told = scene.ask()
    assert isinstance(told, AdvisedScene)
    seen(told)
    click(told, "tile 0")
    click(seen(told), f"hand {SHEET.hands[0].name}")
    assert told.asked is SHEET.hands[0]
    assert press(seen(told), "escape") is scene


def test_positions_of_steps_can_be_changed(routes):
    """The form opens them as they were laid."""
    make = MakeScene(routes, routes.home(), read_lesson(lesson_text(SHEET), [SHEET]).lesson)
    form = make.edit(4)
    layout = form.lay().layout
    assert layout.texts()[2] == "pung wn jokers 1"
    assert isinstance(make.lesson.steps[4], PositionStep)
    assert isinstance(make.lesson.steps[0], ReadStep)
    assert isinstance(LessonScene(routes, make.lessons, make.lesson, SHEET, make), LessonScene)


def test_a_deal_of_the_lesson_leads_back(routes):
    """From the table, and from its end, where it counts."""
    run = lesson(routes)
    table = run.begin(6).read()
    assert isinstance(table, TableScene)
    assert press(seen(table), "escape") is run
    while not table.sitting.over:
        table.sitting.act(Discard(table.sitting.state.racks[0][0]))
    run.enter()
    assert run.results[-1].step == 6
    ended = run.begin(6).read()
    assert [one.says for one in ended.policy.ending_presses(ended.sitting)] == ["On with the lesson"]
