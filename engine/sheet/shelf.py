"""The sheets that ship with the game, by their files' stems, and any other sheet by its path."""

from __future__ import annotations

from functools import lru_cache
from importlib.resources import files
from os import PathLike
from pathlib import Path

from engine.sheet.model import Sheet
from engine.sheet.reader import Fault, Reading, read, read_file, sheet_of

_SUFFIX = ".yaml"
EARLIER = {
    "595e2cae51fd5a15": "first-steps",
    "8ebee1bd9889cbde": "first-steps",
    "dcc914ade5011120": "first-steps",
    "f01ef13ef5e38bd5": "lantern-street",
    "a131294d2ba1b07b": "lantern-street",
    "ab4bfe89f11509b7": "lantern-street-2027",
    "eac9cf7fd01232b7": "three-workshops",
}
"""Fingerprints of editions that shipped once, with the stem of what ships today in their place. Who has played one has
it in the store, where its deals go on; it is no longer offered beside today's. Add one when a shipped sheet changes.
"""


def shipped() -> tuple[str, ...]:
    """The stems of the shipped sheets, in alphabetical order."""
    names = (file.name for file in files("sheets").iterdir())
    return tuple(sorted(name.removesuffix(_SUFFIX) for name in names if name.endswith(_SUFFIX)))


def reading(name_or_path: str | PathLike[str]) -> Reading:
    """Read a shipped sheet by its stem, or a file by its path."""
    name = str(name_or_path)
    if name in shipped():
        return _shipped(name)
    if not _may_be_there(name) and "/" not in name and "\\" not in name and not name.endswith((_SUFFIX, ".yml")):
        message = f"there is no such file, and no sheet of that name ships; the shipped ones are {', '.join(shipped())}"
        return Reading(None, (Fault(name, 1, 1, message),))
    return read_file(name_or_path)


@lru_cache(maxsize=16)
def _shipped(name: str) -> Reading:
    """A shipped sheet does not change while the game runs, so it is read once."""
    return read(files("sheets").joinpath(name + _SUFFIX).read_bytes(), name)


def _may_be_there(name: str) -> bool:
    """Whether there is such a file, or its name is one that can't be asked for."""
    try:
        return Path(name).exists()
    except (OSError, ValueError):
        return True


def of_today(fingerprint: object) -> object:
    """The fingerprint of what ships today in the place of an earlier edition; of any other sheet its own."""
    stem = EARLIER.get(fingerprint) if isinstance(fingerprint, str) else None
    return fingerprint if stem is None else find(stem).fingerprint


def shipped_as(fingerprint: str) -> Sheet | None:
    """The shipped sheet of that fingerprint, or None."""
    return next((sheet for sheet in map(find, shipped()) if sheet.fingerprint == fingerprint), None)


def find(name_or_path: str | PathLike[str]) -> Sheet:
    """A shipped sheet by its stem, or a file's sheet by its path. Raises SheetFaults holding every fault."""
    return sheet_of(reading(name_or_path))
