"""Which parts a player wants on paper, and the PDF file made of them."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from engine.drills.ledger import Ledger
from engine.drills.lesson.model import Lesson
from engine.sheet.compare.comparison import compare
from engine.sheet.model import Sheet
from engine.sheet.study.counts import Study
from engine.store.files import write_safely
from game.paper.comparison import print_comparison
from game.paper.ledger import print_ledger
from game.paper.lesson import print_lesson
from game.paper.page import POINTS, Paper
from game.paper.practice import practice, print_practice
from game.paper.sheet import print_sheet
from game.paper.study import print_study

PAPERS = tuple(POINTS)
MOST_PRACTICE = 60
"""Racks of one document."""


@dataclass(frozen=True)
class PrintParts:
    """The parts of one document, in the order in which they are printed."""

    sheet: Sheet
    hands: bool = True
    """The sheet itself."""
    study: bool = False
    old: Sheet | None = None
    """The sheet to compare with."""
    practice: int = 0
    """Racks to practise on."""
    ledger: bool = False
    kept: Ledger | None = None
    """What was played so far; None prints empty boxes."""
    lesson: Lesson | None = None
    large: bool = False
    """Large tiles, in one column."""
    paper: str = "a4"
    seed: int = 1
    """Of the racks to practise on."""


def make_pdf(wanted: PrintParts, told: Callable[[int], None] = lambda _: None, *, compress: bool = True) -> bytes:
    """The document as PDF. `told` is called with how many racks to practise on are ready."""
    file = io.BytesIO()
    paper = Paper(file, f"{wanted.sheet.name} {wanted.sheet.season}", wanted.paper, compress=compress)
    parts: list[Callable[[], None]] = []
    if wanted.hands:
        parts.append(lambda: print_sheet(paper, wanted.sheet, wanted.large))
    if wanted.study:
        parts.append(lambda: print_study(paper, Study.of(wanted.sheet)))
    if wanted.old is not None:
        compared = compare(wanted.old, wanted.sheet)
        parts.append(lambda: print_comparison(paper, compared))
    if wanted.lesson is not None:
        lesson = wanted.lesson
        parts.append(lambda: print_lesson(paper, lesson))
    if wanted.practice:
        asked = practice(wanted.sheet, wanted.practice, wanted.seed, told)
        parts.append(lambda: print_practice(paper, asked))
    if wanted.ledger:
        parts.append(lambda: print_ledger(paper, wanted.sheet, wanted.kept))
    for part in parts:
        paper.new_page()
        part()
    paper.close()
    return file.getvalue()


def write_pdf(wanted: PrintParts, path: Path, told: Callable[[int], None] = lambda _: None) -> None:
    """Write the document to a file. Raises OSError; a file that was there then stands as it was."""
    write_safely(path, make_pdf(wanted, told))
