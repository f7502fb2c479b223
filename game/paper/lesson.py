"""A lesson on paper: its steps in order, positions drawn, with room for answers."""

from __future__ import annotations

from engine.drills.lesson.model import DealStep, DrillStep, Lesson, PositionStep
from engine.drills.lesson.reader import given
from engine.tiles import parse_tiles, say_tiles
from engine.words import listed
from game.draw.theme import SOFT
from game.paper.page import SIZE, SMALL, Paper
from game.words.actions import say_exposure
from game.words.practice.lessons import lesson_words, step_title

LETTERS = "abcdef"


def print_lesson(paper: Paper, lesson: Lesson) -> None:
    """Every step; the teacher's answers stand on a page of their own at the end."""
    paper.heading(lesson.name)
    paper.text(lesson_words(lesson), SIZE, colour=SOFT)
    answers: list[str] = []
    for place, step in enumerate(lesson.steps, 1):
        paper.gap(8)
        if isinstance(step, PositionStep):
            _position(paper, place, step)
            if step.answer or step.say:
                answers.append(" ".join(part for part in (f"{place}.", step.answer, step.say) if part))
        elif isinstance(step, DealStep | DrillStep):
            paper.text(f"{place}. {step_title(step)}", bold=True)
            if step.say:
                paper.text(step.say)
        else:
            paper.text(f"{place}. {step.say}")
    if answers:
        paper.new_page()
        paper.heading("Answers")
        for said in answers:
            paper.text(said)
            paper.gap(4)


def _position(paper: Paper, place: int, step: PositionStep) -> None:
    paper.need(110)
    paper.text(f"{place}. {step.position}", bold=True)
    _tiles(paper, step.rack, 30)
    exposed = given(step).laid.exposures
    if exposed:
        paper.text(f"Exposed: {listed([say_exposure(one) for one in exposed])}.", SMALL, colour=SOFT)
    if step.shown:
        paper.text("Seen elsewhere:", SMALL, colour=SOFT)
        _tiles(paper, step.shown, 18)
    if step.ask:
        paper.text(step.ask)
    for letter, choice in zip(LETTERS, step.choices, strict=False):
        paper.text(f"{letter}) {choice}", indent=12)
    paper.blanks(1)


def _tiles(paper: Paper, text: str, most: float) -> None:
    kinds = parse_tiles(text)
    if kinds:
        paper.rack(kinds, say_tiles(kinds), most)
