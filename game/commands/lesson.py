"""`lone-east lesson`: go through a lesson in the terminal, check its file, write and compare results."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from engine.drills.lesson.model import Lesson
from engine.drills.lesson.reader import LessonReading, read_lesson_file
from engine.drills.lesson.results import read_results_file, side_by_side
from engine.drills.lesson.writer import write_results
from engine.store.files import default_path
from engine.store.store import Store
from engine.words import shown
from game.play.desk import Desk
from game.play.practice.drilling import Drilling
from game.play.practice.lessons import Lessons
from game.play.worker import Worker
from game.text.lessons import TextLesson
from game.words.practice.lessons import beside_words, lesson_words

if TYPE_CHECKING:
    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]


def add_parser(subparsers: Subparsers) -> None:
    """Add the command to the command line."""
    parser = subparsers.add_parser(
        "lesson",
        help="go through a lesson, check its file, compare results",
        description="Go through a lesson in the terminal: drills, positions with questions, deals, in the teacher's "
        "order. What is answered is kept at once; leave and come back at any step.",
    )
    parser.add_argument("file", metavar="LESSON", type=Path, help="a lesson's YAML file")
    ways = parser.add_mutually_exclusive_group()
    ways.add_argument("--check", action="store_true", help="say every fault of the file, or that it is sound")
    ways.add_argument("--write", metavar="FILE", type=Path, help="write what you have made of it, for your teacher")
    ways.add_argument(
        "--beside", metavar="FILE", type=Path, nargs="+", help="set results of several players side by side"
    )
    parser.add_argument("--name", default="", help="with --write: the name that stands in the file")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """0, or 1 for a file that can't be read or written."""
    with Store(default_path()) as store:
        worker = Worker()
        try:
            desk = Desk(worker, store)
            lessons = Lessons(store, desk.sheets)
            reading = read_lesson_file(args.file, desk.sheets())
            if reading.lesson is None:
                return _faults(reading)
            if args.check:
                print(shown(f"{reading.lesson.name}. {lesson_words(reading.lesson)}"))
                return 0
            if args.write:
                return _write(lessons, reading.lesson, args.write, args.name)
            if args.beside:
                return _beside(reading.lesson, args.beside)
            assert reading.sheet is not None
            lessons.keep(reading.lesson)
            drilling = Drilling(store, reading.sheet, jokers=desk.house.jokers)
            TextLesson(lessons, reading.lesson, drilling, sys.stdin, lambda text: print(text, flush=True)).run()
            return 0
        finally:
            worker.close()


def _faults(reading: LessonReading) -> int:
    for fault in reading.faults:
        print(shown(str(fault)), file=sys.stderr)
    return 1


def _write(lessons: Lessons, lesson: Lesson, path: Path, name: str) -> int:
    clean = " ".join(name.split())
    if not clean:
        print("give the name that your teacher knows you by, as in --name “Wednesday player”", file=sys.stderr)
        return 2
    try:
        with path.open("x", encoding="utf-8") as file:
            file.write(write_results(lessons.as_file(lesson, clean[:60])))
    except FileExistsError:
        print(f"{shown(str(path))} is there already; give another name", file=sys.stderr)
        return 1
    except OSError as error:
        print(f"{shown(str(path))} can't be written ({error.strerror}); give another name", file=sys.stderr)
        return 1
    print(f"Your results are in {shown(str(path))}.")
    return 0


def _beside(lesson: Lesson, paths: list[Path]) -> int:
    found, bad = [], 0
    for path in paths:
        reading = read_results_file(path)
        bad += reading.results is None
        for fault in reading.faults:
            print(shown(str(fault)), file=sys.stderr)
        if reading.results is not None:
            found.append(reading.results)
    for said in beside_words(side_by_side(lesson, found)):
        print(shown(said))
    return 1 if bad else 0
