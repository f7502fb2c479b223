"""The screens of lessons, each in the states that look different."""

import random

from lessons_made import lesson_text

from engine.drills.lesson.model import LessonResults, StepResult
from engine.drills.lesson.reader import read_lesson
from engine.drills.lesson.writer import fingerprint, write_results
from game.play.practice.laying_out import EXPOSED, RACK, SHOWN, Layout
from game.scenes.lessons.beside import BesideScene
from game.scenes.lessons.list import LessonsScene
from game.scenes.lessons.make import NEW, MakeScene
from game.scenes.lessons.position import PositionScene
from game.scenes.lessons.run import LessonScene
from game.scenes.lessons.step import QuestionScene


def position():
    """A position with everything in it."""
    layout = Layout()
    layout.type(RACK, "2b 3b 3b 5c 5c 6c we we 7d 7d fl")
    layout.type(SHOWN, "we 2x1b 4c")
    layout.type(EXPOSED, "pung wn jokers 1")
    return layout


def lesson_screens(routes, sheet):
    """Names and scenes."""
    home = routes.home()
    screens = {"no lessons": LessonsScene(routes, home)}
    lesson = read_lesson(lesson_text(sheet), [sheet]).lesson
    listed = LessonsScene(routes, home)
    listed.lessons.keep(lesson)
    listed.enter()
    screens["lessons"] = listed
    run = LessonScene(routes, listed.lessons, lesson, sheet, listed)
    run.drilling.chance = random.Random(4)
    for result in (StepResult(1), StepResult(2, 2, 1, 1, 30.0), StepResult(4, 1, 1, 0, 8.0, "9 dot")):
        listed.lessons.record(lesson, result)
    run.enter()
    screens["a lesson"] = run
    screens["words of a lesson"] = run.begin(1)
    screens["a position to answer"] = run.begin(4)
    told = QuestionScene(routes, run.drilling, lesson.steps[3], 4, run, lambda _: run)
    told.press(0)
    told.let_go()
    screens["a position answered"] = told
    screens["a position with choices"] = run.begin(5)
    beside = BesideScene(routes, lesson, run)
    screens["no results yet"] = beside
    table = BesideScene(routes, lesson, run)
    for place, name in enumerate(("Ana", "Kim of the Thursday table", "Lee", "Mo", "Pat")):
        steps = (StepResult(1), StepResult(2, 2, place % 3, 0, 31.0), StepResult(4, 1, place % 2, 0, 8.0, "9 dot"))
        one = LessonResults(lesson.name, fingerprint(lesson), name, "2026-04-01", steps)
        assert write_results(one)
        table.results.append(one)
    table.results.append(LessonResults("Another", "f" * 16, "Zoe", "2026-04-01", ()))
    screens["results side by side"] = table
    make = MakeScene(routes, home)
    screens["making a lesson"] = make
    screens["making a lesson, with steps"] = MakeScene(routes, home, lesson)
    screens["making a lesson, refused"] = MakeScene(routes, home)
    screens["making a lesson, refused"].keep()
    for says, _, new in NEW:
        screens[f"a step: {says}"] = make.add(new)
    screens["a step: position, laid"] = screens["making a lesson, with steps"].edit(4)
    screens["laying out, nothing yet"] = PositionScene(routes, sheet, home)
    laid = PositionScene(routes, sheet, home, position(), use=lambda _: None)
    laid.part = EXPOSED
    screens["laying out a group"] = laid
    asked = PositionScene(routes, sheet, home, position()).ask()
    asked.ask_tile(0)
    asked.ask_hand(sheet.hands[2])
    screens["a position advised on"] = asked
    return screens
