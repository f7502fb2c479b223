"""File names as a player writes them."""

from __future__ import annotations

import os
from pathlib import Path


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
