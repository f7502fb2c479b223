"""`study` and `compare` as a user runs them: sentences, the JSON objects, and sheets that can't be read."""

from __future__ import annotations

import json
from importlib.resources import files
from pathlib import Path
from random import Random
from typing import Any

import pytest
from random_sheets import random_hands, sheet_text

from engine.sheet.shelf import find, shipped
from game.command_line import main


def printed(capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> str:
    """What the command prints when all is well."""
    assert main([str(one) for one in arguments]) == 0
    shown = capsys.readouterr()
    assert shown.err == ""
    return shown.out


def data(capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(printed(capsys, *arguments, "--json"))
    return found


@pytest.mark.parametrize("name", shipped())
@pytest.mark.slow
def test_study_json(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    """The keys that scripts rely on, in their order, and figures that agree with the sheet."""
    sheet = find(name)
    found = data(capsys, "study", name)
    assert list(found) == [
        "sheet", "season", "hands", "variants", "tiles", "flowers", "shapes", "concealed", "sections", "sentences",
    ]  # fmt: skip
    assert (found["sheet"], found["season"], found["hands"]) == (sheet.name, sheet.season, len(sheet.hands))
    assert found["variants"] == sum(len(hand.variants) for hand in sheet.hands)
    assert len(found["tiles"]) == 35
    assert all(list(one) == ["hands", "variants", "groups"] for one in found["tiles"].values())
    assert all(list(one) == ["sizes", "hands"] and sum(one["sizes"]) == 14 for one in found["shapes"])
    assert sum(one["variants"] for one in found["sections"]) == found["variants"]
    assert all(sentence.endswith(".") for sentence in found["sentences"])


def test_study_in_sentences(capsys: pytest.CaptureFixture[str]) -> None:
    """The terminal gets the sentences of the JSON, and the counts in words."""
    shown = printed(capsys, "study", "first-steps")
    assert shown.startswith("First Steps, season 2026: 12 hands, which can be made in 462 ways.")
    assert all(sentence in shown for sentence in data(capsys, "study", "first-steps")["sentences"])
    assert "Flowers, by the hands that want them: as a pair in 4, as a pung in 2 and as a sextet in 2" in shown
    assert all(line == "" or line.endswith(".") for line in shown.splitlines())


@pytest.mark.parametrize("name", shipped())
def test_compare_a_sheet_with_itself(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    """All kept, in the JSON and in the terminal."""
    found = data(capsys, "compare", name, name)
    names = [hand.name for hand in find(name).hands]
    assert found["kept"] == [{"old": one, "new": one} for one in names]
    assert [found[key] for key in ("changed", "new", "gone", "unlearn")] == [[], [], [], []]
    assert f"All {len(names)} hands are as they were." in printed(capsys, "compare", name, name)


def test_compare_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A sheet with one hand changed in its points and its name, one gone and one new."""
    text = files("sheets").joinpath("first-steps.yaml").read_text(encoding="utf-8")
    changed = text.replace("hand: Doormat", "hand: Bath mat")
    changed = changed.replace(
        "quint a.n, pung b.n+1, pung c.n+2, pung flower", "sextet flower, quint wind u, pung zero"
    )
    before, doormat, after = changed.partition("pair c.n\n        points: 16")
    changed = before + doormat.replace("16", "40") + after
    changed = changed.replace("hand: Big pot", "hand: Kettle")
    file = tmp_path / "changed.yaml"
    file.write_text(changed, encoding="utf-8")
    found = data(capsys, "compare", "first-steps", file)
    assert list(found) == ["kept", "changed", "new", "gone", "unlearn"]
    assert len(found["kept"]) == 10
    assert found["changed"] == [
        {"old": "Doormat", "new": "Bath mat", "changes": ["points: 16, now 40", "name: Doormat, now Bath mat"]}
    ]
    assert (found["new"], found["gone"]) == (["Kettle"], ["Big pot"])
    assert [(one["hand"], one["because"]) for one in found["unlearn"]] == [
        ("Big pot", "It is gone, and none of the ways to make it is a hand now.")
    ]
    assert found["unlearn"][0]["nearest"] in [hand.name for hand in find(str(file)).hands]
    shown = printed(capsys, "compare", "first-steps", file)
    assert "Bath mat: it has 40 points instead of 16; it was called Doormat." in shown
    assert "Big pot: It is gone, and none of the ways to make it is a hand now. The nearest hand now is " in shown
    assert shown.count("looks like the old Big pot; turn to ") == 3


@pytest.mark.slow
def test_sheets_made_by_chance_never_end_in_a_traceback(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Both commands, on sheets that nobody has seen."""
    for seed in range(3):
        file = tmp_path / f"{seed}.yaml"
        file.write_text(sheet_text(random_hands(Random(seed), 6)), encoding="utf-8")
        printed(capsys, "study", file)
        printed(capsys, "compare", "first-steps", file)
        printed(capsys, "compare", file, "first-steps")


@pytest.mark.parametrize("arguments", [("study", "no-such"), ("compare", "first-steps", "no-such")])
def test_a_sheet_that_is_not_there(arguments: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    """One sentence on standard error, exit 1, nothing printed."""
    for more in ([], ["--json"]):
        assert main([*arguments, *more]) == 1
        shown = capsys.readouterr()
        assert shown.out == ""
        assert "no such file" in shown.err
