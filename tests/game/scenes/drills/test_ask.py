"""Drills in the window: every kind answered by mouse and by keyboard, graded, kept, explained."""

import random
from datetime import UTC, datetime

import pytest
from at_table import routes_over
from harness import click, drawn, make_look, press

from engine.drills.grades import Grade, Skill
from engine.drills.schedule import Item
from engine.sheet.shelf import find
from engine.tiles import JOKER
from game.play.practice.drilling import Drilling
from game.scenes.drills.ask import AskScene
from game.scenes.drills.menu import PracticeScene

SIZE = (1440, 900)
START = datetime(2026, 4, 1, 19, 0, tzinfo=UTC)


@pytest.fixture
def routes(tmp_path):
    """The program's routes over a store of its own."""
    with_store = routes_over(make_look(), tmp_path / "store.sqlite")
    yield with_store
    with_store.desk.store.close()


@pytest.fixture
def drilling(routes):
    """Drills on the small sheet with a seed."""
    return Drilling(routes.desk.store, find("first-steps"), chance=random.Random(3), now=lambda: START)


def asked(routes, drilling, skill, **options):
    """A drill of one skill, drawn once."""
    scene = AskScene(routes, drilling, routes.home(), skill=skill, **options)
    drawn(scene, SIZE, 1.0)
    return scene


def lay(scene, tile):
    """Lay the hand, `tile(place)` pressing a tile of the pool."""
    groups = scene.question.task.accepted[0].groups
    for group in sorted(groups, key=lambda group: group.takes_jokers):
        scene.answer.close()
        for _ in range(group.size):
            kinds = [kind for kind, left in scene.answer.pool if left]
            pool = [kind for kind, _ in scene.answer.pool]
            wanted = group.kind if group.kind in kinds else JOKER
            tile(pool.index(wanted))


@pytest.mark.parametrize("skill", [Skill.LAY, Skill.RECALL])
@pytest.mark.slow
def test_a_hand_is_laid_by_the_mouse(routes, drilling, skill):
    """Tile by tile, checked by the button; it is right, kept, and the next hand follows."""
    scene = asked(routes, drilling, skill)
    first = scene.question.item.hand

    def tile(place):
        click(scene, f"tile {place}")
        drawn(scene, SIZE, 1.0)

    lay(scene, tile)
    drawn(scene, SIZE, 1.0)
    click(scene, "That is the hand")
    assert scene.told[0] == "Right."
    assert drilling.schedule.memories[Item(first, skill.value)].grade is Grade.RIGHT
    drawn(scene, SIZE, 1.0)
    click(scene, "Next")
    assert scene.question.item.hand != first


def test_a_group_is_taken_back_and_what_is_off_is_said(routes, drilling):
    """A press on a group takes its last tile; a hand half laid names what is missing."""
    scene = asked(routes, drilling, Skill.LAY)
    click(scene, "tile 0")
    drawn(scene, SIZE, 1.0)
    click(scene, "tile 0")
    drawn(scene, SIZE, 1.0)
    laid = sum(len(group) for group in scene.answer.groups)
    click(scene, "group 0")
    assert sum(len(group) for group in scene.answer.groups) == laid - 1
    drawn(scene, SIZE, 1.0)
    press(scene, "return")
    assert scene.told[0] == "Not this time."
    assert any("missing" in said for said in scene.told)


def test_yes_and_no_by_keys(routes, drilling):
    """Y and N answer; the rule is said; Enter goes on."""
    scene = asked(routes, drilling, Skill.MAY_I)
    task = scene.question.task
    press(scene, "y" if task.answer else "n")
    assert scene.told[0] == "Right."
    assert scene.told[1].startswith("Yes:" if task.answer else "No:")
    assert "Right." in [one.text for one in drawn(scene, SIZE, 1.0)]
    press(scene, "return")
    assert scene.told == []
    assert len(scene.grades) == 1


def test_hands_are_named_by_ticks(routes, drilling):
    """The two likeliest are right; one alone can't be handed in; a fourth takes the first one's place."""
    scene = asked(routes, drilling, Skill.WHICH)
    best = [reach.hand.name for reach in scene.question.task.hands[:2]]
    click(scene, f"hand {best[0]}")
    scene.check()
    assert scene.trouble == "Name 2 or 3 different hands."
    drawn(scene, SIZE, 1.0)
    click(scene, f"hand {best[1]}")
    assert scene.answer.names == best
    others = [hand.name for hand in drilling.sheet.hands if hand.name not in best]
    for name in others[:2]:
        scene.answer.tick(name)
    assert scene.answer.names == [best[1], *others[:2]]
    for name in others[:2]:
        scene.answer.tick(name)
    scene.answer.tick(best[0])
    drawn(scene, SIZE, 1.0)
    press(scene, "return")
    assert scene.told[0] == "Right."


def test_show_me_counts_as_not_known(routes, drilling):
    """The answer is shown, and the hand comes up again."""
    scene = asked(routes, drilling, Skill.RECALL)
    press(scene, "s")
    assert scene.told[0] == "This is the hand."
    assert scene.grades == [Grade.WRONG]


def test_over_the_time_allowed(routes, drilling):
    """A right answer is nearly right, and is kept among the timed ones."""
    ticks = iter((0.0, 20.0, 31.0))
    scene = AskScene(routes, drilling, routes.home(), skill=Skill.MAY_I, seconds=30.0, now=lambda: next(ticks, 31.0))
    assert scene.note == "0:10 left"
    assert scene.note == "the time is up; answer all the same"
    scene.answer.say(scene.question.task.answer)
    assert scene.grades == [Grade.NEAR]
    assert scene.told[0] == "Right, though over the time allowed."
    assert drilling.tally(Skill.MAY_I, timed=True).answers == 1
    assert drilling.tally(Skill.MAY_I, timed=False).answers == 0


def test_what_is_due_today_comes_to_an_end(routes, drilling):
    """Item by item with its reason; then the tally, and back to where drills are chosen, which has nothing more."""
    menu = PracticeScene(routes, drilling, routes.home())
    drawn(menu, SIZE, 1.0)
    number = len(drilling.session())
    scene = press(menu, "return")
    for _ in range(number):
        drawn(scene, SIZE, 1.0)
        scene.give_up()
        scene.go_on()
    assert scene.question is None
    drawn(scene, SIZE, 1.0)
    back = press(scene, "return")
    assert back is menu
    menu.enter()
    assert drilling.session() == ()


def test_the_day_to_be_ready_for_is_kept(routes, drilling):
    """Chosen, and there again when the game is opened anew."""
    menu = PracticeScene(routes, drilling, routes.home())
    menu.ready(14)
    again = Drilling(routes.desk.store, drilling.sheet)
    assert again.schedule.ready == drilling.schedule.ready is not None
    menu.ready(None)
    assert Drilling(routes.desk.store, drilling.sheet).schedule.ready is None


def test_a_new_hand_meets_one_skill_at_a_time(drilling):
    """First it is laid; the next skill comes half a day later, in turns with other new hands."""
    first = drilling.sheet.hands[0].name
    assert [due.item.skill for due in drilling.session()] == ["lay"] * 3
    drilling.answered(drilling.question(Item(first, "lay")), Grade.RIGHT, 5.0)
    assert all(item.skill == "lay" for item in drilling.items())
    drilling.now = lambda: START.replace(day=2)
    new = [item for item in drilling.items() if item not in drilling.schedule.memories]
    assert new[:3] == [
        Item(drilling.sheet.hands[1].name, "lay"),
        Item(first, "may-i"),
        Item(drilling.sheet.hands[2].name, "lay"),
    ]
