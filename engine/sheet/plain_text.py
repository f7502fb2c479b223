"""From a file to a text that can be read at all: its size, its encoding, characters that can't be seen."""

from __future__ import annotations

import re
from os import PathLike
from pathlib import Path

from engine.sheet.tree import Places, Report

_UNSEEN = re.compile("[^\t\n\r\x20-\x7e\xa0-\u2027\u202a-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]+")
_MOST_UNSEEN = 20


class UnreadError(ValueError):
    """A file that can't be read as text: what to do instead, and where, line and column from 1."""

    def __init__(self, message: str, line: int = 1, column: int = 1) -> None:
        super().__init__(message)
        self.message, self.line, self.column = message, line, column


def bytes_of(path: str | PathLike[str], most: int, what: str) -> bytes:
    """The bytes of a file, one more than `most` at most; `what` it should hold, such as `sheet`. Raises UnreadError."""
    try:
        file = Path(path)
        if file.is_dir():
            raise UnreadError("this is a folder; name a file")
        if file.exists() and not file.is_file():
            raise UnreadError(f"this is no ordinary file; name a {what}'s YAML file")
        with file.open("rb") as stream:
            return stream.read(most + 1)
    except FileNotFoundError as error:
        raise UnreadError("there is no such file; check the name and the folder") from error
    except PermissionError as error:
        raise UnreadError("this file may not be read; change its permissions or copy it elsewhere") from error
    except UnreadError:
        raise
    except (OSError, ValueError) as error:
        reason = (error.strerror if isinstance(error, OSError) else None) or str(error)
        raise UnreadError(f"this file can't be read ({reason}); check its name") from error


def text_of(content: str | bytes, most: int, what: str) -> str:
    """The text of a file's bytes, at most so many. Raises UnreadError."""
    data = content.encode("utf-8", "surrogatepass") if isinstance(content, str) else content
    if len(data) > most:
        raise UnreadError(f"the file is larger than {most:,} bytes; a {what} is far smaller, split it into several")
    if data.startswith((b"\xff\xfe", b"\xfe\xff")) or data.count(b"\0") * 3 > len(data) > 0:
        raise UnreadError("the file is written in UTF-16; save it as UTF-8")
    data = data.removeprefix(b"\xef\xbb\xbf")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8")
        line, column = Places(before).of(len(before))
        message = f"the byte {data[error.start]:#04x} is not UTF-8; save the file as plain text in UTF-8"
        raise UnreadError(message, line, column) from error


def seen_text(text: str, report: Report, what: str) -> str | None:
    """The text with spaces for characters that YAML has no place for, each reported; None for a binary file."""
    unseen = list(_UNSEEN.finditer(text))
    for found in unseen[:_MOST_UNSEEN]:
        report(
            found.start(), f"a character that can't be seen (U+{ord(found.group()[0]):04X}) stands here; take it out"
        )
    if len(unseen) > _MOST_UNSEEN:
        report(unseen[_MOST_UNSEEN].start(), f"this looks like no text at all; give a {what}'s YAML file")
        return None
    return _UNSEEN.sub(lambda found: " " * len(found.group()), text)
