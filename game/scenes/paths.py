"""File names as a player writes them, and files that are offered so that none has to be written."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from itertools import islice
from pathlib import Path

from engine.store.store import Store
from engine.store.values import Json

RECENT = "recent files"
"""The setting that holds the names of files read or written last."""
REMEMBERED = 8
LOOKED_AT = 3000
"""Files of a folder that are looked at, so that a huge one delays nobody."""


def written_path(text: str) -> Path:
    """The file that a player means: blanks and quotation marks around the name don't count, `~` is the home folder.

    Raises ValueError, with a sentence for the player, for a name that can't be one.
    """
    clean = text.strip().strip("\"'").strip()
    if not clean:
        raise ValueError("write the file's name, with its folder")
    if "\0" in clean or any("\ud800" <= char <= "\udfff" for char in clean):
        raise ValueError("the name holds a character that no file's name can hold; write it again")
    try:
        return Path(clean).expanduser()
    except RuntimeError as error:
        who = clean.partition("/")[0]
        raise ValueError(f"there is no home folder for “{who}”; write the whole name, from the first folder") from error


def usual_folder() -> str:
    """Where the player's own files are, with a slash behind it: the home folder, or the present one without a home."""
    home = Path.home() if os.path.expanduser("~") != "~" else Path.cwd()  # noqa: PTH111 - Path.home() raises
    return f"{home}{os.sep}"


def remember(store: Store, path: Path) -> None:
    """A file was read or written: it comes first among the recent ones. Raises StoreError."""
    name = str(path.absolute())
    names: list[Json] = [name, *(str(one) for one in recent(store) if str(one) != name)]
    store.set(RECENT, names[:REMEMBERED])


def recent(store: Store) -> list[Path]:
    """Files read or written last, the latest first, whether they are still there or not."""
    kept = store.get(RECENT)
    return [Path(one) for one in kept if isinstance(one, str)] if isinstance(kept, list) else []


def last_folder(store: Store) -> str:
    """The folder of the file read or written last, with a slash behind it; the usual one where there is none."""
    folder = next((one.parent for one in recent(store) if one.parent.is_dir()), None)
    return usual_folder() if folder is None else f"{folder}{os.sep}"


def offered(store: Store, endings: Sequence[str], begins: str = "", most: int = 5) -> list[Path]:
    """Files that the player may mean: recent ones first, then those of the usual folders, the newest first.

    `endings` are those of the names, such as `.yaml`; `begins` is what a name begins with.
    """
    home = Path(usual_folder())
    folders = [*(one.parent for one in recent(store)), home, *(home / name for name in ("Documents", "Downloads"))]
    found = [one for one in recent(store) if _fits(one, endings, begins)]
    for folder in dict.fromkeys(folders):
        found += sorted(_files(folder, endings, begins), key=_changed, reverse=True)
    return list(dict.fromkeys(found))[:most]


def _files(folder: Path, endings: Sequence[str], begins: str) -> Iterator[Path]:
    try:
        yield from (one for one in islice(folder.iterdir(), LOOKED_AT) if _fits(one, endings, begins))
    except OSError:  # no such folder, or not to be looked into
        return


def _fits(path: Path, endings: Sequence[str], begins: str) -> bool:
    try:
        return path.suffix.lower() in endings and path.name.startswith(begins) and path.is_file()
    except OSError:
        return False


def _changed(path: Path) -> float:
    try:
        return path.stat().st_mtime
    except OSError:
        return 0.0
