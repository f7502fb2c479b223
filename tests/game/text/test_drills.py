"""Drills at the terminal: whole sentences, every answer graded and kept, faults that say what to type."""

import io
import random
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from engine.drills.grades import Grade, Skill
from engine.drills.one_pass import WhichPass
from engine.drills.schedule import Item, Why
from engine.sheet.shelf import find
from engine.store.store import Store
from engine.tiles import write_tiles
from game.play.practice.drilling import Drilling, season_before
from game.text.drills import TextDrill, groups_typed, hands_typed, yes_typed
from game.text.typed import NotUnderstoodError
from game.words.drills import due_words, why_words

START = datetime(2026, 4, 1, 19, 0, tzinfo=UTC)


@pytest.fixture
def drilling(tmp_path):
    """Drills on the small sheet, with a seed and a clock that stands still."""
    with Store(tmp_path / "store.sqlite", now=lambda: START) as store:
        yield Drilling(store, find("first-steps"), effort=0, chance=random.Random(3), now=lambda: START)


def typed(drilling, text, **options):
    """A drill with these lines typed, and what it says."""
    said = []
    ticks = iter(range(0, 100000, 7))
    return TextDrill(drilling, io.StringIO(text), said.append, clock=lambda: float(next(ticks)), **options), said


def test_a_hand_is_laid_and_then_another_way(drilling):
    """Right groups in any order are right; the next task of the hand asks for another variant."""
    hand = drilling.sheet.hands[0]
    question = drilling.question(Item(hand.name, "lay"))
    groups = ", ".join(write_tiles([g.kind] * g.size) for g in reversed(question.task.accepted[0].groups))
    drill, said = typed(drilling, f"{groups}\n")
    assert drill.ask(question)
    assert said[-1] == "Right."
    assert drilling.schedule.memories[Item(hand.name, "lay")].grade is Grade.RIGHT
    (result,) = drilling.store.results("drill lay")
    assert result.figures == {
        "sheet": drilling.sheet.fingerprint,
        "section": hand.section,
        "hand": hand.name,
        "grade": "right",
        "seconds": 7.0,
    }
    again = drilling.question(Item(hand.name, "lay"))
    assert again.task.stage.value == "another"
    assert question.task.accepted[0] not in again.task.accepted


def test_what_is_off_is_said_and_the_hand_is_shown(drilling):
    """One sentence for each group, then the whole hand."""
    drill, said = typed(drilling, "pung we\n")
    drill.one_skill(Skill.LAY, most=1)
    name = drilling.sheet.hands[0].name
    assert said[1] == "Not this time."
    assert said[-2].startswith(f"{name}: a ")
    assert said[-1] == "0 right of one question. It is kept."


def test_faults_say_what_to_type_and_ask_again(drilling):
    """Nothing is graded until an answer is understood."""
    drill, said = typed(drilling, "pung 12z\n\nhelp\nshow\n")
    drill.one_skill(Skill.LAY, most=1)
    assert "is no tile" in said[1]
    assert said[2].startswith("Type its groups with commas between them")
    assert said[3].startswith("It is ")
    assert drill.grades == [Grade.WRONG]


def test_leaving_keeps_what_was_answered(drilling):
    """Also at the end of the input."""
    drill, said = typed(drilling, "yes\n")
    drill.one_skill(Skill.MAY_I)
    assert said[-1].endswith(" right of one question. It is kept.")
    assert len(drilling.store.results("drill may-i")) == 1


def test_leaving_at_once_says_that_nothing_changes(drilling):
    """A question was asked, so it is not said that nothing is due."""
    drill, said = typed(drilling, "quit\n")
    drill.one_skill(Skill.LAY)
    assert said[-1] == "Nothing was answered, so nothing changes."


def test_over_the_time_allowed_a_right_answer_is_nearly_right(drilling):
    """Timed answers are kept apart from untimed ones."""
    question = drilling.question(Item(drilling.sheet.hands[0].name, "may-i"))
    drill, said = typed(drilling, "yes\n" if question.task.answer else "no\n", seconds=5.0)
    assert drill.ask(question)
    assert said[0].endswith("You have five seconds.")
    assert said[1] == "Right, though over the time allowed."
    assert drill.grades == [Grade.NEAR]
    assert [result.allowance for result in drilling.store.results("drill may-i")] == [5.0]


def test_today_says_why_each_item_comes_up(drilling):
    """New hands first; the next day those that went wrong."""
    drill, said = typed(drilling, "show\nshow\nquit\n")
    drill.today()
    name = drilling.sheet.hands[0].name
    assert said[0] == f"You have not practised {name} yet."
    drilling.now = lambda: START + timedelta(days=1, hours=1)
    due = drilling.session()
    assert due[0].why is Why.MISSED
    next_drill, later = typed(drilling, "quit\n")
    next_drill.today()
    assert later[0] == f"{due[0].item.hand} went wrong one day ago."


def test_which_hands_are_graded_by_their_odds(drilling):
    """The two likeliest, by the start of their names, are right."""
    question = drilling.question(Item(drilling.sheet.hands[3].name, "which"))
    names = [reach.hand.name for reach in question.task.hands[:2]]
    drill, said = typed(drilling, f"{names[0].lower()}, {names[1][:6]}\n")
    assert drill.ask(question)
    assert said[1] == "Right."
    assert names[0] in said[-1]


@pytest.mark.parametrize("bad", ["", ",", "pung", "pung 5d 5d"])
def test_groups_that_are_none(bad):
    """They say how to type one."""
    with pytest.raises(NotUnderstoodError):
        groups_typed(bad)


def test_names_of_hands():
    """Whole or begun; unclear and unknown ones say so."""
    sheet = find("first-steps")
    first = sheet.hands[0].name
    assert hands_typed(f"{first.upper()},", sheet) == [first]
    with pytest.raises(NotUnderstoodError, match="There is no hand"):
        hands_typed("zzz", sheet)
    initials = [hand.name[0].lower() for hand in sheet.hands]
    twice = next(letter for letter in initials if initials.count(letter) > 1)
    with pytest.raises(NotUnderstoodError, match="type more of the name"):
        hands_typed(twice, sheet)


def test_yes_and_no():
    """And nothing else."""
    assert [yes_typed(text) for text in ("yes", "Y", "no", "n")] == [True, True, False, False]
    with pytest.raises(NotUnderstoodError):
        yes_typed("perhaps")


def test_the_season_before_is_the_latest_earlier_one():
    """Of the same sheet by name."""
    sheet = find("first-steps")
    older, oldest = replace(sheet, season="2025"), replace(sheet, season="2024")
    other = replace(sheet, name="Another", season="2025")
    assert season_before(sheet, [oldest, other, older, sheet]) is older
    assert season_before(oldest, [older, sheet]) is None


@pytest.mark.slow
def test_a_tile_is_let_go(drilling):
    """The advised one is right; one that is not held says so, and asks again."""
    question = drilling.question(Item("", "let-go"))
    other = next(kind for kind in range(34) if kind not in question.task.rack)
    drill, said = typed(drilling, f"{write_tiles([other])}\n5d 5d\n{write_tiles([question.task.best])}\n")
    assert drill.ask(question)
    assert said[1:4] == ["Choose a tile of the rack.", "Type a tile of the rack, such as “5d”.", "Right."]
    assert drilling.schedule.memories[Item("", "let-go")].grade is Grade.RIGHT
    (result,) = drilling.store.results("drill let-go")
    assert (result.figures["hand"], result.figures["section"]) == ("", "")


@pytest.mark.parametrize("moment", [WhichPass.FIRST_RIGHT, WhichPass.SECOND_ROUND, WhichPass.COURTESY])
@pytest.mark.slow
def test_one_pass_is_chosen(drilling, moment):
    """What is advised is right, typed as tiles, as yes or no, or as none."""
    drilling.pass_moment = moment
    question = drilling.question(Item("", "pass"))
    best = question.task.best(drilling.table)
    answer = ("yes" if best.agree else "no") if best.agree is not None else write_tiles(best.kinds) or "none"
    drill, said = typed(drilling, f"{answer}\n")
    assert drill.ask(question)
    assert said[1] == "Right."


@pytest.mark.slow
def test_a_strong_seat_is_followed(drilling):
    """Its own choice is right; the next question goes on in the same game."""
    question = drilling.question(Item("", "follow"))
    task = question.task
    answer = write_tiles([task.does.kind]) if task.call is None else str(task.choices.index(task.does) + 1)
    drill, said = typed(drilling, f"{answer}\n")
    assert drill.ask(question)
    assert "Right." in said
    assert any(line.startswith("East holds ") for line in said)
    game = drilling.shoulder()
    assert drilling.question(Item("", "follow")).task is not task
    assert drilling.shoulder() is game or game.over


def test_skills_of_play_come_up_once_hands_are_under_way(drilling):
    """After three hands, half a day later, one at a time."""
    for hand in drilling.sheet.hands[:3]:
        drilling.answered(drilling.question(Item(hand.name, "lay")), Grade.RIGHT, 5.0)
    assert not any(item.hand == "" for item in drilling.items())
    drilling.now = lambda: START + timedelta(days=1)
    assert [item.skill for item in drilling.items() if item.hand == ""] == ["let-go"]
    due = next(due for due in drilling.session() if not due.item.hand)
    assert due_words(due, drilling.now()) == "Let one go: you have not practised this yet."
    assert why_words(due, drilling.now()) == "You have not practised “Let one go” yet."
