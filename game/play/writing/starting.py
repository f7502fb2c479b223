"""Where a sheet being written comes from: a text, a draft that was left, or a file elsewhere."""

from __future__ import annotations

from pathlib import Path

from engine.sheet.reader import Fault, read
from game.play.writing.drafts import About, Drafts, mark_of, read_text
from game.play.writing.sheet_writing import SheetWriting


def begin(drafts: Drafts, text: str, file: Path | None = None) -> SheetWriting:
    """A new draft of a text; `file` is where it was read. Raises OSError where drafts can't be kept."""
    about = About(file=str(file), seen=mark_of(text)) if file is not None else About()
    return SheetWriting(drafts, drafts.begin(text, about), text, about)


def go_on(drafts: Drafts, draft: str) -> SheetWriting:
    """A draft as it was left. Raises OSError."""
    return SheetWriting(drafts, draft, drafts.text(draft), drafts.about(draft))


def open_file(drafts: Drafts, file: Path) -> tuple[SheetWriting, tuple[Fault, ...]]:
    """A file elsewhere as a draft, at its first fault, and its faults. A draft of the same file, if it has not been
    changed there since, is gone on with. Raises OSError, and ValueError with a sentence."""
    file = file.absolute()
    text = read_text(file)
    reading = read(text, file.name)
    if reading.sheet is not None:
        drafts.remember_good(file, text)
    known = next((n for n in drafts.notes() if n.about.file == str(file) and n.about.seen == mark_of(text)), None)
    writing = go_on(drafts, known.id) if known is not None else begin(drafts, text, file)
    if reading.faults and writing.document.text.rstrip("\n") == text.rstrip("\n"):
        first = reading.faults[0]
        lines = text.splitlines(keepends=True)
        offset = sum(map(len, lines[: first.line - 1])) + first.column - 1
        writing.go(writing.document.at(offset)[0])
    return writing, reading.faults
