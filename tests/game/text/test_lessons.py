"""A lesson at the terminal: every kind of step, kept at once, gone on with later; its command."""

import io
import random
from datetime import UTC, datetime

import pytest
from lessons_made import lesson_text

from engine.drills.lesson.reader import read_lesson
from engine.drills.lesson.results import read_results_file
from engine.rules.actions import Discard
from engine.rules.deal import DealCode
from engine.sheet.shelf import find
from engine.store.store import Store
from game.command_line import main
from game.play.lines import begin
from game.play.practice.drilling import Drilling
from game.play.practice.lessons import Lessons, next_step
from game.text.lessons import TextLesson
from game.words.practice.lessons import result_words

START = datetime(2026, 4, 1, 19, 0, tzinfo=UTC)
SHEET = find("first-steps")


@pytest.fixture
def lessons(tmp_path):
    """An empty list of lessons."""
    with Store(tmp_path / "store.sqlite", now=lambda: START) as store:
        yield Lessons(store, lambda: [SHEET], now=lambda: START)


def typed(lessons, lesson, text):
    """The lesson with these lines typed, and what it says."""
    said = []
    drilling = Drilling(lessons.store, SHEET, effort=0, chance=random.Random(3), now=lambda: START)
    ticks = iter(range(0, 10_000, 5))
    TextLesson(lessons, lesson, drilling, io.StringIO(text), said.append, lambda: float(next(ticks))).run()
    return said


@pytest.mark.slow
def test_step_by_step(lessons):
    """Words, drills, positions; wrong input asks again; leaving keeps what was done; the rest comes later."""
    text = lesson_text(SHEET).replace("    times: 2\n", "    times: 2\n    say: Take your time.\n")
    lesson = read_lesson(text, [SHEET]).lesson
    said = typed(lessons, lesson, "\nshow\nshow\nquit\n")
    assert "Press Enter to go on." in said
    assert said.index("Take your time.") > said.index("Read both hands aloud before you begin.")
    assert said[0].startswith("Two roads. Six steps on ")
    assert [one.step for one in lessons.results(lesson)] == [1, 2]
    said = typed(lessons, lesson, "none\ndr\n9d\n3\n2\n")
    assert [one.step for one in lessons.results(lesson)] == [1, 2, 3, 4, 5]
    assert "Choose a tile of the rack." in said
    assert "The lonely ends go first." in said
    assert "Your teacher lets the 9 dot or the 2 bam go." in said
    assert "Type a number from 1 to 2." in said
    assert "You answered “the concealed one”. Right is “the open one”." in said
    assert any(one.startswith("Play it with: lone-east play --text --deal ") for one in said)
    made = {one.step: one for one in lessons.results(lesson)}
    assert result_words(lesson.steps[3], made[4]) == "right: 9 dot"
    assert result_words(lesson.steps[4], made[5]) == "not right: the concealed one"
    assert next_step(lesson, list(made.values())) == 6


def test_a_deal_that_was_played_counts(lessons):
    """Once it is at its end, wherever it was played."""
    lesson = read_lesson(lesson_text(SHEET), [SHEET]).lesson

    sitting = begin(lessons.store, SHEET, DealCode.parse(lesson.steps[5].deal))
    while not sitting.over:
        assert lessons.results(lesson) == ()
        sitting.act(Discard(sitting.state.racks[0][0]))
    (made,) = lessons.results(lesson)
    assert (made.step, made.of, made.right) == (6, 1, 0)
    assert result_words(lesson.steps[5], made) == "played, not won"


def test_lessons_are_kept(lessons):
    """The latest first; a changed one takes the place of its earlier form; one can be removed."""
    lesson = read_lesson(lesson_text(SHEET), [SHEET]).lesson
    other = read_lesson(lesson_text(SHEET).replace("Two roads", "Three roads"), [SHEET]).lesson
    for one in (lesson, other, other):
        lessons.keep(one)
    assert [one.lesson.name for one in lessons.all()] == ["Three roads", "Two roads"]
    changed = read_lesson(lesson_text(SHEET).replace("Two roads", "One road"), [SHEET]).lesson
    lessons.keep(changed, instead=lesson)
    assert [one.lesson.name for one in lessons.all()] == ["One road", "Three roads"]
    lessons.remove(other)
    assert [one.lesson.name for one in lessons.all()] == ["One road"]


def test_the_command(tmp_path, monkeypatch, capsys):
    """It checks a file, goes through it, writes results, and sets results side by side; faults go to standard error."""
    monkeypatch.setenv("LONE_EAST_DATA", str(tmp_path / "data"))
    path, results = tmp_path / "two-roads.yaml", tmp_path / "mine.yaml"
    path.write_text(lesson_text(SHEET), encoding="utf-8")
    assert main(["lesson", str(path), "--check"]) == 0
    assert "Six steps" in capsys.readouterr().out
    monkeypatch.setattr("sys.stdin", io.StringIO("\nquit\n"))
    assert main(["lesson", str(path)]) == 0
    assert "One of six steps done." in capsys.readouterr().out
    assert main(["lesson", str(path), "--write", str(results)]) == 2
    assert main(["lesson", str(path), "--write", str(results), "--name", "Kim"]) == 0
    assert read_results_file(results).results.player == "Kim"
    assert main(["lesson", str(path), "--write", str(results), "--name", "Kim"]) == 1
    assert "is there already" in capsys.readouterr().err
    assert main(["lesson", str(path), "--beside", str(results), str(tmp_path / "no.yaml")]) == 1
    shown = capsys.readouterr()
    assert "   Kim: read" in shown.out
    assert "there is no such file" in shown.err
    path.write_text("lesson: [", encoding="utf-8")
    assert main(["lesson", str(path)]) == 1
    assert capsys.readouterr().err.startswith(f"{path}:1:")
