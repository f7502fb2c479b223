"""The shelf: shipped sheets by stem, other sheets by path."""

from __future__ import annotations

from pathlib import Path

import pytest

from engine.sheet.reader import SheetFaults, load
from engine.sheet.shelf import find, reading, shipped
from engine.sheet.writer import write


def test_every_shipped_sheet_is_found_and_sound() -> None:
    """There are shipped sheets, and none has a fault."""
    assert shipped()
    for stem in shipped():
        assert reading(stem).faults == ()
        assert find(stem).hands


def test_a_path_is_found(tmp_path: Path) -> None:
    """A sheet file is found by its path, as text or as a Path, and is the sheet it was written from."""
    sheet = find(shipped()[0])
    file = tmp_path / "copy.yaml"
    file.write_text(write(sheet), encoding="utf-8")
    assert find(file) == find(str(file)) == load(file) == sheet


def test_an_unknown_name_lists_the_shipped_ones() -> None:
    """A mistyped stem is answered with the names that there are."""
    with pytest.raises(SheetFaults) as caught:
        find("no-such-sheet")
    (fault,) = caught.value.faults
    assert (fault.file, fault.line, fault.column) == ("no-such-sheet", 1, 1)
    for stem in shipped():
        assert stem in fault.message


def test_an_unknown_path_says_that_the_file_is_missing(tmp_path: Path) -> None:
    """A path that leads nowhere is a missing file, not a mistyped stem."""
    with pytest.raises(SheetFaults, match="there is no such file"):
        find(tmp_path / "none.yaml")


def test_a_stem_goes_before_a_file_of_that_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A shipped sheet's stem means the shipped sheet wherever the command is run."""
    stem = shipped()[0]
    (tmp_path / stem).write_text("not a sheet", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    assert find(stem).hands
