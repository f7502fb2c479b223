"""Sheets being written, each a YAML file in the data folder, with what is known of it beside it."""

from __future__ import annotations

import contextlib
import hashlib
import json
import re
from collections.abc import Iterator
from dataclasses import asdict, dataclass, fields
from datetime import UTC, datetime
from pathlib import Path

from engine.sheet.reader import MOST_BYTES
from engine.store.files import make_folder, write_safely

FOLDER = "drafts"
_GOOD = "good"
_MOST_LOOKED_AT = 2000
_ID = re.compile(r"sheet-[0-9]{1,6}")


@dataclass(frozen=True)
class About:
    """What is known of a draft besides its text. Each of it may be lost: the text alone makes a draft."""

    name: str = ""
    season: str = ""
    hands: int = 0
    whole: int = 0
    """Of its hands, how many were whole when it was last kept; -1 where not all of them had been looked at."""
    section: int = -1
    hand: int = -1
    """The place that was worked on."""
    file: str = ""
    """The file elsewhere that it was read from or written to; empty where there is none."""
    seen: str = ""
    """The mark of that file's text as last read or written, to tell whether somebody else has changed it since."""
    done: bool = False
    """The writer said that it is done."""
    open: bool = False
    """It was on the screen when it was last kept."""


@dataclass(frozen=True)
class DraftNote:
    """A draft in a list."""

    id: str
    about: About
    touched: datetime


def mark_of(text: str) -> str:
    """What tells a text from another."""
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:16]


class Drafts:
    """The folder of drafts. What reads gives what can be read; what writes raises OSError."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    @classmethod
    def beside(cls, store: Path) -> Drafts:
        """The drafts that belong to a store's file."""
        return cls(store.parent / FOLDER)

    def notes(self) -> tuple[DraftNote, ...]:
        """All drafts, the one touched last first."""
        return tuple(sorted(self._notes(), key=lambda note: note.touched, reverse=True))

    def _notes(self) -> Iterator[DraftNote]:
        try:
            found = sorted(self.folder.glob("sheet-*.yaml"))[:_MOST_LOOKED_AT]
        except OSError:
            return
        for path in found:
            if _ID.fullmatch(path.stem):
                with contextlib.suppress(OSError):
                    touched = datetime.fromtimestamp(path.stat().st_mtime, UTC)
                    yield DraftNote(path.stem, self.about(path.stem), touched)

    def in_writing(self) -> DraftNote | None:
        """The draft that was touched last and is not done; None where there is none."""
        return next((note for note in self.notes() if not note.about.done), None)

    def left_open(self) -> DraftNote | None:
        """The draft that was on the screen when the program ended; None where there was none."""
        return next((note for note in self.notes() if note.about.open), None)

    def about(self, draft: str) -> About:
        """What is known of a draft; nothing where that can't be read."""
        try:
            known = json.loads(self._path(draft, ".json").read_text(encoding="utf-8"))
        except (OSError, ValueError, RecursionError):
            return About()
        if not isinstance(known, dict):
            return About()
        kinds = {field.name: type(getattr(About(), field.name)) for field in fields(About)}
        return About(**{name: value for name, value in known.items() if type(value) is kinds.get(name)})

    def text(self, draft: str) -> str:
        """The text of a draft; characters that are damaged are marked. Raises OSError."""
        return _read(self._path(draft, ".yaml"))

    def good(self, draft: str) -> str:
        """The last text of the draft that had no fault; empty where there was none."""
        try:
            return _read(self._path(draft, ".good.yaml"))
        except OSError:
            return ""

    def begin(self, text: str, about: About) -> str:
        """Keep a new draft; gives its id."""
        make_folder(self.folder)
        numbers = [
            int(path.stem.removeprefix("sheet-"))
            for path in self.folder.glob("sheet-*.yaml")
            if _ID.fullmatch(path.stem)
        ]
        draft = f"sheet-{max(numbers, default=0) + 1}"
        self.keep(draft, text, about)
        return draft

    def keep(self, draft: str, text: str, about: About) -> None:
        """Keep a draft's text, whole or not at all, and what is known of it."""
        path = self._path(draft, ".yaml")
        if not path.exists() or _read(path) != text:
            write_safely(path, text)
        beside = self._path(draft, ".json")
        aside = beside.with_suffix(".json.new")
        aside.write_text(json.dumps(asdict(about), ensure_ascii=False), encoding="utf-8")
        aside.replace(beside)  # not synced: after a crash of the system it may be lost, and the text alone is enough

    def keep_good(self, draft: str, text: str) -> None:
        """Keep a text without a fault beside the draft."""
        write_safely(self._path(draft, ".good.yaml"), text)

    def remove(self, draft: str) -> None:
        """The draft goes, with all that is beside it."""
        for ending in (".yaml", ".json", ".good.yaml"):
            self._path(draft, ending).unlink(missing_ok=True)

    # Files elsewhere.

    def remember_good(self, file: Path, text: str) -> None:
        """Keep the text of a file elsewhere that was read without a fault, in case it is broken one day."""
        folder = self.folder / _GOOD
        make_folder(self.folder)
        make_folder(folder)
        write_safely(folder / f"{mark_of(str(file.absolute()))}.yaml", text)

    def good_of(self, file: Path) -> str:
        """The last text without a fault that was read from a file elsewhere; empty where there was none."""
        try:
            return _read(self.folder / _GOOD / f"{mark_of(str(file.absolute()))}.yaml")
        except OSError:
            return ""

    def _path(self, draft: str, ending: str) -> Path:
        return self.folder / f"{draft}{ending}"


def _read(path: Path) -> str:
    with path.open("rb") as file:
        return file.read(2 * MOST_BYTES).decode("utf-8", "replace")


def read_text(file: Path) -> str:
    """The text of a sheet's file elsewhere. Raises OSError, and ValueError with a sentence for one that is no text."""
    if file.exists() and not file.is_file():
        raise ValueError("this is no ordinary file; name a sheet’s YAML file")
    with file.open("rb") as stream:
        content = stream.read(MOST_BYTES + 1)
    if len(content) > MOST_BYTES:
        raise ValueError(f"the file is larger than {MOST_BYTES:,} bytes; a sheet is far smaller")
    if content.startswith((b"\xff\xfe", b"\xfe\xff")) or b"\0" in content:
        raise ValueError("this is no text in UTF-8; save it as plain text in UTF-8 first")
    try:
        return content.decode("utf-8").removeprefix("\ufeff")
    except UnicodeDecodeError as error:
        raise ValueError("this is no text in UTF-8; save it as plain text in UTF-8 first") from error
