"""`check`: faults on standard error, counts on standard output, and the JSON list, through the real command."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest
from broken_sheets import ALL, GOOD, Broken, swap

from engine.sheet.shelf import find, shipped
from game.command_line import main

FAULT = re.compile(r"(?P<file>.+):(?P<line>\d+):(?P<column>\d+): (?P<message>.+)")


def lone_east(*arguments: str | Path) -> subprocess.CompletedProcess[str]:
    """Run the real command in a process of its own; one that hangs fails the test."""
    command = [sys.executable, "-m", "game", *map(str, arguments)]
    return subprocess.run(command, capture_output=True, encoding="utf-8", timeout=60, check=False)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with every broken sheet as a file of its own, and a good one."""
    folder = tmp_path_factory.mktemp("sheets")
    for case in ALL:
        path_of(folder, case).write_bytes(case.content)
    (folder / "good.yaml").write_text(GOOD, encoding="utf-8")
    return folder


def path_of(folder: Path, case: Broken) -> Path:
    return folder / f"{case.name.replace(' ', '-')}.yaml"


@pytest.mark.slow
def test_every_broken_sheet_through_the_real_command(folder: Path) -> None:
    """All broken files in one go: exit 1, every fault as file:line:column: message, nothing else, no traceback."""
    result = lone_east("check", *(path_of(folder, case) for case in ALL))
    assert result.returncode == 1
    assert result.stdout == ""
    rows = [FAULT.fullmatch(row) for row in result.stderr.splitlines()]
    found: dict[str, list[tuple[int, int, str]]] = {}
    for row in rows:
        assert row is not None, result.stderr[-2000:]
        found.setdefault(row["file"], []).append((int(row["line"]), int(row["column"]), row["message"]))
    for case in ALL:
        got = found.pop(str(path_of(folder, case)))
        assert [(line, column) for line, column, _ in got] == [(line, column) for line, column, _ in case.faults]
        assert all(part in message for (_, _, message), (_, _, part) in zip(got, case.faults, strict=True))
    assert not found


@pytest.mark.parametrize("case", ALL, ids=lambda case: case.name)
@pytest.mark.slow
def test_each_broken_sheet_alone(case: Broken, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A broken file alone ends with 1 and its faults on standard error."""
    assert main(["check", str(path_of(folder, case))]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert len(err.splitlines()) == len(case.faults)


def test_sections_are_counted(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A good file gives a row for each section with its hands and variants, in columns, and a total."""
    assert main(["check", str(folder / "good.yaml")]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    assert out == (
        f"{folder / 'good.yaml'}: Lamp Post, season 2026\n"
        "  Section  Hands  Variants\n"
        "  Stairs       2       210\n"
        "  Total        2       210\n"
    )


@pytest.mark.parametrize("stem", shipped())
def test_shipped_sheets_by_stem(stem: str, capsys: pytest.CaptureFixture[str]) -> None:
    """A shipped sheet is named by its stem, and its counts are those of the sheet."""
    assert main(["check", stem]) == 0
    rows = [re.split(r"  +", row.strip()) for row in capsys.readouterr().out.splitlines()[2:]]
    sheet = find(stem)
    for section, row in zip(sheet.sections, rows, strict=False):
        variants = sum(len(hand.variants) for hand in section.hands)
        assert row == [section.name, str(len(section.hands)), f"{variants:,}"]
    assert rows[-1] == ["Total", str(len(sheet.hands)), f"{sum(len(hand.variants) for hand in sheet.hands):,}"]


def test_good_and_broken_files_together(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Every file is reported, whatever the others are, and one fault is enough for exit 1."""
    (folder / "bad.yaml").write_text(swap("points: 30", "points: x"), encoding="utf-8")
    assert main(["check", str(folder / "good.yaml"), str(folder / "bad.yaml"), "none.yaml", shipped()[0]]) == 1
    out, err = capsys.readouterr()
    assert [row.split(":")[0] for row in out.splitlines() if ": " in row] == [str(folder / "good.yaml"), shipped()[0]]
    assert [row.split(": ")[0] for row in err.splitlines()] == [f"{folder / 'bad.yaml'}:9:17", "none.yaml:1:1"]


def test_json(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With --json there is one object for each file, good or not, in the order named."""
    (folder / "bad.yaml").write_text(swap("points: 30", "points: x"), encoding="utf-8")
    assert main(["check", "--json", str(folder / "good.yaml"), str(folder / "bad.yaml")]) == 1
    out, err = capsys.readouterr()
    assert err == ""
    message = "“Wide landing”: points is “x”; write a whole number from 1 to 1,000"
    assert json.loads(out) == [
        {
            "file": str(folder / "good.yaml"),
            "sheet": "Lamp Post",
            "season": "2026",
            "variants": 210,
            "hands": [
                {"section": "Stairs", "hand": "Wide landing", "variants": 18},
                {"section": "Stairs", "hand": "Two sums", "variants": 192},
            ],
            "faults": [],
        },
        {
            "file": str(folder / "bad.yaml"),
            "sheet": None,
            "season": None,
            "variants": 0,
            "hands": [],
            "faults": [{"line": 9, "column": 17, "message": message}],
        },
    ]


@pytest.mark.parametrize("stem", shipped())
def test_json_of_shipped_sheets(stem: str, capsys: pytest.CaptureFixture[str]) -> None:
    """The JSON of a sheet without faults exits 0 and adds up."""
    assert main(["check", stem, "--json"]) == 0
    (entry,) = json.loads(capsys.readouterr().out)
    assert entry["variants"] == sum(hand["variants"] for hand in entry["hands"])
    assert [hand["hand"] for hand in entry["hands"]] == [hand.name for hand in find(stem).hands]
    assert (entry["season"], entry["faults"]) == (find(stem).season, [])


def test_folder_missing_file_and_help(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A folder and a missing file are faults; no file at all is bad usage; --help explains."""
    assert main(["check", str(tmp_path), str(tmp_path / "none.yaml")]) == 1
    assert capsys.readouterr().err == (
        f"{tmp_path}:1:1: this is a folder; name a file\n"
        f"{tmp_path / 'none.yaml'}:1:1: there is no such file; check the name and the folder\n"
    )
    assert main(["check"]) == 2
    assert "FILE" in capsys.readouterr().err
    assert main(["check", "--help"]) == 0
    assert "standard error" in " ".join(capsys.readouterr().out.split())
