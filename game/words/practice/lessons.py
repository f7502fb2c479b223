"""Lessons in words: what each step is, what was made of it, and several players side by side."""

from __future__ import annotations

from collections.abc import Sequence

from engine import words
from engine.drills.grades import Grade
from engine.drills.lesson.model import DealStep, DrillStep, Lesson, PositionStep, ReadStep, Step, StepResult
from engine.drills.lesson.results import SideBySide
from engine.drills.let_one_go import LetGoJudged
from engine.tiles import name, say_tiles
from game.play.practice.lessons import PositionTask
from game.words.actions import say_exposure
from game.words.drills import SKILLS
from game.words.practice.moments import MOMENTS, PRAISE, let_go_told

LONGEST = 70
"""Letters of what is to be read that stand in a list."""


def step_title(step: Step) -> str:
    """What a step is, on one line of a list."""
    match step:
        case DrillStep():
            about = f", {step.hand}" if step.hand else f", {MOMENTS[step.moment].lower()}" if step.moment else ""
            clock = f", {step.seconds:.0f} seconds each" if step.seconds else ""
            return f"{SKILLS[step.drill].rstrip('?')}{about}: {words.count(step.times, 'question')}{clock}"
        case PositionStep():
            return f"Position: {step.position}"
        case DealStep():
            return f"Play deal {step.deal}"
    short = step.say if len(step.say) <= LONGEST else f"{step.say[:LONGEST].rsplit(' ', 1)[0]}…"
    return f"Read: {short}"


def result_words(step: Step, result: StepResult | None) -> str:
    """What was made of a step, in a few words."""
    if result is None:
        return "not done yet"
    if isinstance(step, ReadStep):
        return "read"
    if isinstance(step, DealStep):
        return f"won with {result.answer}" if result.right else "played, not won"
    if not result.of:
        return "looked at"
    if result.of == 1:
        grade = "right" if result.right else "nearly right" if result.near else "not right"
        return f"{grade}: {result.answer}" if result.answer else grade
    near = f", {result.near} nearly" if result.near else ""
    return f"{result.right} right of {result.of}{near}"


def lesson_words(lesson: Lesson) -> str:
    """A lesson in one sentence, which stands under its name."""
    maker = f", made by {lesson.maker}" if lesson.maker else ""
    return f"{words.sentence(words.count(len(lesson.steps), 'step'))} on {lesson.sheet} {lesson.season}{maker}."


def position_seen(task: PositionTask) -> list[str]:
    """A position in sentences, for a player who can't see it drawn."""
    moment = task.task.moment
    said = [f"{task.step.position}.", f"Your rack: {say_tiles(task.task.rack)}."]
    if moment.exposures:
        exposed = [say_exposure(one) for one in moment.exposures]  # type: ignore[arg-type]
        said.append(f"You have exposed {words.listed(exposed)}.")
    if task.task.gone:
        said.append(f"Seen elsewhere: {say_tiles(task.task.gone)}.")
    return [*said, f"{words.sentence(words.count(moment.draws, 'draw'))} to come."]


def position_asked(task: PositionTask) -> str:
    """The question of a position."""
    if task.step.ask:
        return task.step.ask
    return "Which tile do you let go?" if task.asks_tile else "Look at this rack."


def choice_told(task: PositionTask, answer: str, grade: Grade) -> list[str]:
    """Whether a choice was right, and what the teacher says."""
    said = [PRAISE[grade]]
    if grade is not Grade.RIGHT:
        said.append(f"You answered “{answer}”. Right is “{task.step.answer}”.")
    return [*said, *([task.step.say] if task.step.say else [])]


def tile_told(task: PositionTask, judged: LetGoJudged, grade: Grade) -> list[str]:
    """How good a tile was: what the teacher says first, then the advice."""
    said = let_go_told(judged)
    said[0] = PRAISE[grade]
    if task.right:
        tiles = words.listed([f"the {name(kind)}" for kind in task.right], "or")
        said.insert(1, f"Your teacher lets {tiles} go.")
    return [said[0], *([task.step.say] if task.step.say else []), *said[1:]]


def beside_words(table: SideBySide) -> list[str]:
    """Several players' results in sentences, step by step."""
    said = [f"{table.lesson.name}: {words.count(len(table.players), 'player')}."]
    for at, step in enumerate(table.lesson.steps, 1):
        said.append(f"{at}. {step_title(step)}")
        for one in table.players:
            said.append(f"   {one.player}: {result_words(step, one.of(at))}")
        right, of = table.right(at)
        if of:
            said.append(f"   All together: {right} right of {of}.")
    said += others_words(table)
    return said


def others_words(table: SideBySide) -> list[str]:
    """That some results belong to another lesson."""
    return [
        f"{one.player} has done {words.quoted(one.lesson)}, or an earlier form of this lesson: left out here."
        for one in table.others
    ]


def answered_words(results: Sequence[StepResult], lesson: Lesson) -> str:
    """How far a player is, in one sentence."""
    right, of = sum(one.right for one in results), sum(one.of for one in results)
    number = words.sentence(words.in_words(len(results))) if results else "None"
    done = f"{number} of {words.count(len(lesson.steps), 'step')} done"
    return f"{done}, {right} right of {words.count(of, 'answer')}." if of else f"{done}."
