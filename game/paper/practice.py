"""Practice pages: racks with room for an answer, and the answers on a later page, from the engine."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass

from engine.advice.moment import Work
from engine.advice.table import SheetTable
from engine.drills.let_one_go import LetGoJudged, LetGoTask, judge_let_go, let_go_task
from engine.drills.racks import pick
from engine.drills.which_hands import WhichTask, which_task
from engine.sheet.model import Sheet
from engine.tiles import say_tiles
from engine.words import listed, odds
from game.draw.theme import SOFT
from game.paper.page import SMALL, Paper
from game.words.practice.moments import let_go_shown

SHOWN = 3
"""Hands named in an answer."""
EVERY = 3
"""Every so many racks it is asked which tile to let go; else, which hands to go for."""


@dataclass(frozen=True)
class Practice:
    """Questions for paper: racks near hands of the sheet, and racks from games under way, judged."""

    sheet: Sheet
    tasks: tuple[WhichTask | LetGoJudged, ...]
    racks: tuple[tuple[int, ...], ...]


def practice(sheet: Sheet, number: int, seed: int, told: Callable[[int], None] = lambda _: None) -> Practice:
    """So many questions, the same for the same seed. `told` is called with how many are ready."""
    table = SheetTable.of(sheet)
    chance = random.Random(seed)
    tasks: list[WhichTask | LetGoJudged] = []
    racks: list[tuple[int, ...]] = []
    for place in range(number):
        if place % EVERY == EVERY - 1:
            asked: LetGoTask = let_go_task(table, chance)
            tasks.append(judge_let_go(asked, asked.best, Work(effort=0)))
            racks.append(asked.rack)
        else:
            which = which_task(table, sheet.hands[pick(chance, len(sheet.hands))], chance)
            tasks.append(which)
            racks.append(which.rack)
        told(place + 1)
    return Practice(sheet, tuple(tasks), tuple(racks))


def print_practice(paper: Paper, asked: Practice) -> None:
    """The questions, then the answers on a page of their own."""
    paper.heading(f"Practice for {asked.sheet.name} {asked.sheet.season}")
    paper.text(
        "Write your answers first, then turn to the answers at the end. Where a hand's odds are given, they are for "
        "going for that hand alone with 40 draws to come.", SMALL, colour=SOFT,
    )  # fmt: skip
    for place, (task, rack) in enumerate(zip(asked.tasks, asked.racks, strict=True), 1):
        question = (
            "Which two or three hands would you go for?" if isinstance(task, WhichTask) else "Which tile do you let go?"
        )
        paper.gap(10)
        paper.need(110)
        paper.text(f"{place}. {question}", bold=True)
        paper.gap(2)
        paper.rack(rack, say_tiles(rack), 30)
        paper.blanks(2)
    paper.new_page()
    paper.heading("Answers")
    for place, task in enumerate(asked.tasks, 1):
        paper.text(f"{place}. {answer(task)}")
        paper.gap(4)


def answer(task: WhichTask | LetGoJudged) -> str:
    """What the engine says of a question."""
    if isinstance(task, WhichTask):
        best = [f"{one.hand.name} ({one.missing} missing, {odds(one.odds)})" for one in task.hands[:SHOWN]]
        return f"{listed(best, 'then')}." if best else "No hand of the sheet can be made any more."
    return " ".join(let_go_shown(task))
