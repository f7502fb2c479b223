"""`lone-east invent` as a user runs it: bad input, a file written, and an end before its time."""

import pytest

from engine.advice.moment import StoppedError
from engine.invent.balance import Shares
from engine.invent.making import Invented
from engine.sheet.shelf import find
from game.command_line import main
from game.commands import invent as command
from game.words.invent import loosened_words


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (["--hands", "5"], "--hands is “5”; write a whole number from 12 to 96."),
        (["--hands", "many"], "--hands is “many”; write a whole number from 12 to 96."),
        (["--season", "27"], "--season is “27”; write four digits, such as 2027."),
        (["--seed", "-1"], "--seed is “-1”"),
        (["--kept", "40"], "--kept says how much of a sheet is kept; name the sheet with --like."),
        (["--like", "first-steps", "--hands", "20"], "--like makes as many hands as its sheet has; leave --hands out."),
        (["--like", "first-steps", "--kept", "120"], "--kept is “120”; write a whole number from 0 to 100."),
        (["-o", "/nowhere/sheet.yaml"], "in a folder that isn't there"),
    ],
)
def test_bad_input(given, said, capsys):
    """One sentence that says what to write, before any work."""
    assert main(["invent", *given]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert said in err


@pytest.fixture
def wished(monkeypatch):
    """What was wished for; the sheet made is the beginners' one."""
    wishes = []

    def made(wish, **_):
        wishes.append(wish)
        sheet = find("first-steps")
        return Invented(sheet, sheet.canonical, Shares(60, (5,) * len(sheet.hands)), ("About something.",) * 4)

    monkeypatch.setattr(command, "invent", made)
    return wishes


def test_the_sheet_is_written_to_a_file(wished, tmp_path, capsys):
    """The file holds the sheet, the terminal what each section is about; the wish is what was typed."""
    file = tmp_path / "sheet.yaml"
    assert main(["invent", "--hands", "24", "--season", "2031", "--seed", "8", "-o", str(file)]) == 0
    assert file.read_text(encoding="utf-8") == find("first-steps").canonical
    out, err = capsys.readouterr()
    assert out.startswith(
        "First Steps, season 2026, from seed 8.\n  Garden Path     3 hands  25.0%  About something.\n"
    )
    assert err == ""
    assert out.endswith("nor every section under 18%: here the limits are 16.7% and 36%.\n")
    assert (wished[0].seed, wished[0].hands, wished[0].season, wished[0].like) == (8, 24, "2031", None)


def test_the_sheet_is_printed(wished, capsys):
    """Without a file the sheet alone goes to standard output, so that it can be sent on."""
    assert main(["invent", "--like", "first-steps", "--kept", "50%", "--seed", "1"]) == 0
    out, err = capsys.readouterr()
    assert out == find("first-steps").canonical
    assert "from seed 1." in err
    assert (wished[0].season, wished[0].kept) == ("2027", 50)


def test_stopped_leaves_nothing(monkeypatch, tmp_path, capsys):
    """Ctrl-C ends it with a word, and no file is there."""

    def stopped(*_, **__):
        raise StoppedError

    monkeypatch.setattr(command, "invent", stopped)
    file = tmp_path / "sheet.yaml"
    assert main(["invent", "-o", str(file)]) == 130
    assert capsys.readouterr().err == "Stopped. No sheet was made.\n"
    assert not file.exists()


@pytest.mark.parametrize(
    ("hands", "sections", "said"),
    [
        (60, 11, ""),
        (30, 8, ""),
        (24, 7, "A sheet of 24 hands can't keep every hand under 7% of the hands made: here the limit is 8.3%."),
        (60, 5, "A sheet of 5 sections can't keep every section under 18% of the hands made: here the limit is 29%."),
    ],
)
def test_what_a_small_sheet_cannot_keep_to_is_said(hands, sections, said):
    """Which bound can't hold and what stands instead; nothing where all hold."""
    assert loosened_words(hands, sections) == said
