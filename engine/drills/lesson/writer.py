"""Writes a lesson, and a player's results, as YAML that the readers read back and a person can read too."""

from __future__ import annotations

from collections.abc import Iterator
from hashlib import blake2b

from engine.drills.lesson.model import (
    USUAL_DRAWS,
    DealStep,
    DrillStep,
    Lesson,
    LessonResults,
    PositionStep,
    ReadStep,
    Step,
)
from engine.sheet.writer import scalar


def write_lesson(lesson: Lesson) -> str:
    """The text of a lesson's file."""
    rows = [f"lesson: {scalar(lesson.name)}"]
    if lesson.maker:
        rows.append(f"maker: {scalar(lesson.maker)}")
    rows += [f"sheet: {scalar(lesson.sheet)}", f"season: {scalar(lesson.season)}", "steps:"]
    for step in lesson.steps:
        pairs = list(_pairs(step))
        for place, (key, value) in enumerate(pairs):
            start = "  - " if place == 0 else "    "
            if isinstance(value, tuple):
                rows += [f"{start}{key}:", *(f"      - {_one_line(text)}" for text in value)]
            else:
                rows.append(f"{start}{key}: {_one_line(value)}")
    return "\n".join(rows) + "\n"


def fingerprint(lesson: Lesson) -> str:
    """Sixteen characters that tell this lesson from any other, and from an earlier form of it."""
    return blake2b(write_lesson(lesson).encode("utf-8", "surrogatepass"), digest_size=8).hexdigest()


def _one_line(text: str) -> str:
    return scalar(" ".join(text.split()))


def _pairs(step: Step) -> Iterator[tuple[str, str | tuple[str, ...]]]:
    """The keys of a step with their values, in the order in which they are written; usual values are left out."""
    match step:
        case ReadStep(say):
            yield "say", say
        case DealStep(deal, say):
            yield "deal", deal
            if say:
                yield "say", say
        case DrillStep():
            yield "drill", step.drill.value
            yield "times", str(step.times)
            if step.hand:
                yield "hand", step.hand
            if step.moment is not None:
                yield "moment", step.moment.value
            if step.seconds:
                yield "seconds", f"{step.seconds:.0f}"
            if step.say:
                yield "say", step.say
        case PositionStep():
            yield "position", step.position
            yield "rack", step.rack
            for key, text in (("shown", step.shown), ("exposed", step.exposed)):
                if text:
                    yield key, text
            if step.draws != USUAL_DRAWS:
                yield "draws", str(step.draws)
            if step.ask:
                yield "ask", step.ask
            if step.choices:
                yield "choices", step.choices
            for key, text in (("answer", step.answer), ("say", step.say)):
                if text:
                    yield key, text


def write_results(results: LessonResults) -> str:
    """The text of a results file."""
    rows = [
        f"results: {scalar(results.lesson)}",
        f"lesson: {results.fingerprint}",
        f"player: {scalar(results.player)}",
        f"day: {results.day}",
        "steps:",
    ]
    for one in results.steps:
        rows.append(f"  - step: {one.step}")
        rows += [f"    of: {one.of}", f"    right: {one.right}", f"    near: {one.near}"]
        rows.append(f"    seconds: {one.seconds:.0f}")
        if one.answer:
            rows.append(f"    answer: {_one_line(one.answer)}")
    return "\n".join(rows) + "\n"
