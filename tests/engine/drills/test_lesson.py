"""Lessons: read and written back, faults with place and cure, hostile files refused; results side by side."""

import random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from lessons_made import lesson_text

from engine.drills.grades import Skill
from engine.drills.lesson.model import DealStep, DrillStep, LessonResults, PositionStep, ReadStep, StepResult
from engine.drills.lesson.reader import read_lesson, read_lesson_file
from engine.drills.lesson.results import read_results, read_results_file, side_by_side
from engine.drills.lesson.writer import fingerprint, write_lesson, write_results
from engine.drills.one_pass import WhichPass
from engine.sheet.shelf import find

SHEETS = (find("first-steps"),)
TEXT = lesson_text(SHEETS[0])


def sound(text):
    """The lesson of a sound text."""
    reading = read_lesson(text, SHEETS)
    assert reading.faults == ()
    assert reading.sheet is SHEETS[0]
    return reading.lesson


def test_a_lesson_is_read():
    """Every kind of step, with its keys."""
    lesson = sound(TEXT)
    read, lay, passing, tile, choice, deal = lesson.steps
    assert read == ReadStep("Read both hands aloud before you begin.")
    assert lay == DrillStep(Skill.LAY, 2, SHEETS[0].hands[1].name)
    assert passing == DrillStep(Skill.PASS, 1, "", WhichPass.COURTESY, 60.0)
    assert isinstance(tile, PositionStep)
    assert (tile.draws, tile.answer) == (20, "9d 2b")
    assert choice.choices == ("the open one", "the concealed one")
    assert isinstance(deal, DealStep)


def test_what_is_written_reads_back():
    """The same lesson; odd characters are quoted."""
    lesson = sound(
        TEXT.replace("A pair too many", "'It''s: a # pair'").replace("say: Read both", "say: '- # both'\n  - say: Read")
    )
    assert sound(write_lesson(lesson)) == lesson
    assert fingerprint(sound(write_lesson(lesson))) == fingerprint(lesson)
    assert fingerprint(lesson) != fingerprint(sound(TEXT))


BROKEN = [
    ("drill: lay", "drill: lie", "7:12", "write lay"),
    ("times: 2", "times: 0", "8:12", "from 1 to 50"),
    ("moment: courtesy", "moment: curtsy", "12:13", "write courtesy"),
    ("sheet: First Steps", "sheet: Frist Steps", "3:8", "did you mean First Steps?"),
    ("season: 2026", "season: 1999", "4:9", "write season: 2026, or load the other one first"),
    ("rack: 2b 3b 3b 5c 5c 6c we we 7d 7d 7d fl jk 9d", "rack: 2b", "15:11", "give 13 or 14"),
    ("rack: 2b 3b 3b 5c 5c 6c we we 7d 7d 7d fl jk 9d", "rack: 2b 9z", "15:11", "is no tile"),
    ("answer: 9d 2b", "answer: dw", "19:13", "a tile of the rack"),
    ("answer: the open one", "answer: another", "26:7", "one of the choices"),
    ("exposed: pung wn jokers 1", "exposed: pair wn", "23:14", "an exposed group is a"),
    ("shown: we 2x1b", "shown: we 2x0b", "16:12", "is no tile"),
    ("    moment: courtesy", "    moment: courtesy\n    hand: Hedge and path", "13:11", "hand goes with drill: lay"),
    ("      - the concealed one\n", "", "26:7", "each on a line after a -"),
    ("5c 5c 6c we we 7d 7d 7d fl jk 9d", "5c 5c 6c we we 7d 7d 7d jk 9d", "19:13", "13 tiles lets none go"),
    ("draws: 20", "draws: 2000", "17:12", "from 0 to 99"),
    ("    seconds: 60", "    clock: 60", "13:5", "is no key of a step"),
    ("  - say: Read both hands aloud before you begin.", "  - say: x\n    rack: 2b", "7:11", "does not go with say"),
    ("  - say: Read both hands aloud before you begin.", "  - &a say: x", "6:5", "not allowed in a lesson"),
    ("  - say: Read both hands aloud before you begin.", "  - just a text", "6:5", "this is no step"),
    ("  - say: Read both hands aloud before you begin.", "  - say: !!python/object x", "6:10", "in a lesson"),
]


@pytest.mark.parametrize(("old", "new", "place", "cure"), BROKEN)
def test_faults_say_where_and_what_to_write(old, new, place, cure):
    """Line, column, and a cure."""
    text = TEXT.replace("First Steps", SHEETS[0].name)
    old = old.replace("2026", SHEETS[0].season).replace("First Steps", SHEETS[0].name)
    assert old in text
    reading = read_lesson(text.replace(old, new, 1), SHEETS, "my.yaml")
    assert reading.lesson is None
    said = [str(fault) for fault in reading.faults]
    assert any(one.startswith(f"my.yaml:{place}: ") and cure in one for one in said), said


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("      - the concealed one\n", ""),
        ("choices:\n      - the open one\n      - the concealed one", "choices: open or concealed"),
        ("say: Read both", 'say: "Read both'),
        ("    rack: 2b 3b 3b 5c 5c 6c we we 7d 7d 7d fl jk 9d\n", ""),
        ("lesson: Two roads\n", ""),
        ("lesson: Two roads", "lesson: # Two roads"),
        ("say: Read both hands", "say: Read hand # 3"),
        ("say: Read both hands", "say: #1 first"),
        ("- the open one", "- the open one # 4"),
    ],
)
def test_one_mistake_gets_one_sentence(old, new):
    """Nothing is said besides of what follows from the mistake alone."""
    assert old in TEXT
    assert len(read_lesson(TEXT.replace(old, new, 1), SHEETS).faults) == 1


def test_remarks_may_stand_where_no_text_ends():
    """On lines of their own, behind numbers, and within quotes."""
    remarked = TEXT.replace("steps:", "# for Thursday\nsteps:").replace("times: 2", "times: 2  # enough")
    quoted = remarked.replace("Read both hands aloud before you begin.", "'Read # both'")
    assert sound(quoted.replace("shown: we 2x1b", "shown: we 2x1b # by South")).steps[0].say == "Read # both"


def test_a_deal_of_another_sheet_is_refused():
    """And one with a slip in it."""
    other = TEXT.replace(TEXT.split("deal: ")[1].split("\n")[0], "AAAA-AAAA-AAAA-AAAA")
    assert read_lesson(other, SHEETS).lesson is None
    big = find("lantern-street")
    foreign = lesson_text(big).split("deal: ")[1].split("\n")[0]
    (fault,) = read_lesson(TEXT.replace(TEXT.split("deal: ")[1].split("\n")[0], foreign), SHEETS).faults
    assert "another sheet" in fault.message


@pytest.mark.parametrize(
    "bad", [b"", b"\xff\xfe\0a", b"\x80", b"[[[[[[[[[[[[", b"x" * 300_000, b"- 1", b"\0" * 99, b"a: b"]
)
def test_hostile_files_get_one_sentence_each(tmp_path, bad):
    """No exception, and at least one fault that says what to do."""
    for read in (lambda content: read_lesson(content, SHEETS), read_results):
        reading = read(bad)
        assert reading.faults
        assert all(fault.message for fault in reading.faults)
    path = tmp_path / "bad.yaml"
    path.write_bytes(bad)
    assert read_lesson_file(path, SHEETS).faults
    assert read_results_file(path).faults
    assert read_lesson_file(tmp_path, SHEETS).faults
    assert read_results_file(tmp_path / "none.yaml").faults


@pytest.mark.slow
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_spoiled_files_never_raise(data):
    """Any line cut, doubled or filled with odd characters."""
    lines = TEXT.splitlines()
    place = data.draw(st.integers(0, len(lines) - 1))
    lines[place] = data.draw(
        st.sampled_from([lines[place][:-3], lines[place] * 2, " " + lines[place], "", "\t- {", "'"])
    )
    lines.insert(place, data.draw(st.text(max_size=12)))
    reading = read_lesson("\n".join(lines), SHEETS)
    assert (reading.lesson is None) == bool(reading.faults)


def results(player, right, fingerprint, day="2026-04-01"):
    """A player's results of three steps."""
    steps = (StepResult(1), StepResult(2, 2, right, 0, 31.0), StepResult(4, 1, 1, 0, 8.0, "9 dot"))
    return LessonResults("Two roads", fingerprint, player, day, steps)


def test_words_that_were_read_count_no_answer():
    """Nothing asked, nothing right."""
    read = StepResult(3)
    assert (read.of, read.right, read.near, read.seconds, read.answer) == (0, 0, 0, 0.0, "")


def test_results_are_written_and_read():
    """The same values; a file that was changed by hand says what is wrong."""
    one = results("Pat: the second", 1, "0123456789abcdef")
    text = write_results(one)
    assert read_results(text).results == one
    (fault,) = read_results(text.replace("right: 1", "right: many", 1)).faults
    assert "write a whole number" in fault.message
    (fault,) = read_results(text.replace("2026-04-01", "2026-14-01")).faults
    assert "write day: 2026-04-01" in fault.message
    assert read_results(text.replace("0123456789abcdef", "me")).results is None


def test_results_stand_side_by_side():
    """By name, the latest of each; those of another lesson apart; sums by step."""
    lesson = sound(TEXT)
    mine = fingerprint(lesson)
    many = [
        results("Kim", 0, mine),
        results("Ana", 2, mine),
        results("Kim", 1, mine, "2026-04-02"),
        results("Lee", 2, "f" * 16),
    ]
    random.Random(1).shuffle(many)
    table = side_by_side(lesson, many)
    assert [one.player for one in table.players] == ["Ana", "Kim"]
    assert [one.player for one in table.others] == ["Lee"]
    assert table.right(2) == (3, 4)
    assert table.right(3) == (0, 0)
    assert table.players[1].day == "2026-04-02"
