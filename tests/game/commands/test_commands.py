"""The commands that play, as a user runs them: with and without a display or a terminal, bad input, bad usage."""

import os
import re
import select
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

import pytest

from engine.rules.deal import DealCode
from engine.rules.house import FULL, House
from engine.sheet.shelf import find
from engine.store.endings import GameEnd
from game.__main__ import COMMANDS, main
from game.play.settings import Settings

DISPLAYS = ("DISPLAY", "WAYLAND_DISPLAY", "SDL_VIDEODRIVER")
SHEET = ("--sheet", "first-steps")


def code(house=None, seed=4, sheet="first-steps"):
    """A deal code as text."""
    return str(DealCode.of(find(sheet), house or House(picks=3), seed))


@pytest.fixture
def environment(tmp_path):
    """No display, a data folder of the test's own, and the modules found where this test finds them."""
    clean = {name: value for name, value in os.environ.items() if name not in DISPLAYS}
    return {**clean, "LONE_EAST_DATA": str(tmp_path / "data"), "PYTHONPATH": os.pathsep.join(filter(None, sys.path))}


@pytest.fixture
def lone_east(environment):
    """Runs the real command in a process of its own."""

    def run(*arguments, typed="", **more):
        return subprocess.run(
            [sys.executable, "-m", "game", *arguments],
            input=typed,
            capture_output=True,
            encoding="utf-8",
            env={**environment, **more},
            timeout=120,
            check=False,
        )

    return run


def kept(environment):
    """Every line of play in the data folder: entries, how it ended, whether advice was hidden."""
    with sqlite3.connect(Path(environment["LONE_EAST_DATA"]) / "lone-east.sqlite") as db:
        return db.execute("SELECT entries, ended, advice_hidden FROM lines ORDER BY id").fetchall()


def test_a_game_is_played_in_the_terminal_left_and_taken_up_again(lone_east, environment):
    """Two choices, then the input ends; the next start goes on there and comes to the end."""
    first = lone_east("play", "--text", *SHEET, "--deal", code(), typed="rack\njoker\n")
    assert first.returncode == 0
    assert first.stderr == ""
    held = re.search(r"You hold 14 tiles: (.+?), ", first.stdout)[1]
    assert first.stdout.endswith("The game is kept; it goes on from here next time.\n")
    before = kept(environment)[0][0]
    second = lone_east("play", "--text", typed=f"{held}\n" if before == 0 else "advice\n")
    assert second.returncode == 0
    assert "A new deal" not in second.stdout
    typed = "".join(f"{name}\n" for name in every_tile())
    third = lone_east("play", "--text", typed=typed * 4)
    assert "The game is over." in third.stdout
    (line,) = kept(environment)
    assert line[1] == '{"kind": "picks", "picks": 3}'


def every_tile():
    """Names that a player may type; those not held are refused and do no harm."""
    return [f"{rank}{suit}" for suit in "bcd" for rank in range(1, 10)]


def test_the_text_table_follows_the_settings(lone_east, environment):
    """Advice that the window's settings hide is hidden here, and the line counts as one without advice."""
    from engine.store.files import default_path
    from engine.store.store import Store

    with Store(default_path(environment)) as store:
        store.set("settings", {**Settings().to_json(), "advice": "hidden"})
    result = lone_east("play", "--text", *SHEET, "--deal", code(), typed="advice\n")
    assert "Advice is hidden" in result.stdout
    assert [line[2] for line in kept(environment)] == [1]
    with Store(default_path(environment)) as store:
        store.set("settings", {**Settings().to_json(), "advice": "always", "scale": 77})
    result = lone_east("play", "--text", typed="quit\n")
    assert "Let go the " in result.stdout
    assert "The setting “size” could not be read" in result.stdout
    assert [line[2] for line in kept(environment)] == [0]


def test_a_new_deal_in_the_terminal_is_what_the_window_was_set_to(lone_east, environment):
    """Sheet, sections and house rules as chosen there, where nothing is asked for on the command line."""
    from engine.store.files import default_path
    from engine.store.store import Store

    sheet = find("first-steps")
    with Store(default_path(environment)) as store:
        store.set("sheet", sheet.fingerprint)
        store.set("sections", [sheet.sections[2].name, sheet.sections[1].name])
        store.set("house", {"picks": 7, "jokers": 6})
    result = lone_east("play", "--text", typed="sheet\n")
    assert result.returncode == 0
    assert re.findall(r"^Section (.+)\.$", result.stdout, re.M) == [one.name for one in sheet.sections[1:3]]
    with Store(default_path(environment)) as store:
        (line,) = store.lines()
        assert line.house == House(picks=7, jokers=6)
        store.finish(line.id, GameEnd("wall"))
        store.set("sheet", "no such sheet")
        store.set("house", {"picks": "many"})
    result = lone_east("play", "--text", typed="quit\n")
    assert "You play Lantern Street" in result.stdout


def test_without_display_and_terminal_a_game_is_watched(lone_east, environment):
    """One line says that there is no display, then the advisor plays a whole game; nothing is kept."""
    for arguments in ((), ("play", *SHEET, "--deal", code())):
        result = lone_east(*arguments)
        assert result.returncode == 0
        assert result.stderr == ""
        lines = result.stdout.splitlines()
        assert lines[0] == "There is no display here, so the game is played in sentences."
        assert "is dealt" in lines[2]
        assert lines[-1].endswith((".", "!"))
    assert not Path(environment["LONE_EAST_DATA"]).exists()


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="needs displays that are found by a variable")
@pytest.mark.parametrize("driver", ["x11", ""])
def test_a_display_that_can_not_be_used_is_told_in_one_line(driver, lone_east):
    """The driver's reason is in the line; then the same as without a display. No window that nobody sees."""
    result = lone_east("play", *SHEET, "--deal", code(), SDL_VIDEODRIVER=driver, DISPLAY=":4999")
    assert result.returncode == 0
    first = result.stdout.splitlines()[0]
    assert first.startswith("The display here can't be used (")
    assert first.endswith("), so the game is played in sentences.")
    assert "Traceback" not in result.stderr
    assert "Let go the " in result.stdout


@pytest.mark.skipif(not hasattr(os, "openpty"), reason="needs a pseudo terminal")
def test_without_a_display_a_terminal_gets_the_text_table(environment):
    """Started in a terminal, what the player types is played."""
    keyboard, terminal = os.openpty()
    process = subprocess.Popen(
        [sys.executable, "-m", "game", "play", *SHEET, "--deal", code()],
        stdin=terminal, stdout=terminal, stderr=terminal, env=environment,
    )  # fmt: skip
    os.close(terminal)
    try:
        read_until(keyboard, "You hold 14 tiles")
        os.write(keyboard, b"help\n")
        read_until(keyboard, "goes on from here next time.")
        os.write(keyboard, b"quit\n")
        said = read_until(keyboard, "The game is kept")
        assert process.wait(60) == 0
        assert said.count("Traceback") == 0
    finally:
        process.kill()
        process.wait()
        os.close(keyboard)


def read_until(keyboard, words, seconds=60):
    """What the program prints, up to these words. Fails when they don't come."""
    said, end = "", time.monotonic() + seconds
    while words not in said:
        ready, _, _ = select.select([keyboard], [], [], max(end - time.monotonic(), 0))
        assert ready, f"“{words}” did not come, only: {said}"
        try:
            part = os.read(keyboard, 65536)
        except OSError:
            part = b""
        assert part, f"the program ended before “{words}” came: {said}"
        said += part.decode("utf-8", "replace")
    return said


def test_watching_the_same_deal_twice_prints_the_same(lone_east):
    """The deal code is all that a game depends on; the choices come with their reasons."""
    first, second = (lone_east("watch", *SHEET, "--deal", code(House(picks=6))) for _ in range(2))
    assert first.returncode == 0
    assert first.stdout == second.stdout
    assert first.stdout.count("  Let go the ") == 7
    assert first.stdout.count("  Nearest: ") + first.stdout.count("  No hand of this sheet") == 7
    other = lone_east("watch", *SHEET, "--deal", code(House(picks=6), seed=5))
    assert other.stdout != first.stdout


def test_a_deal_of_four_players_with_passes_is_watched_too(lone_east):
    """From the first pass to the end; the other seats' passes stay hidden."""
    result = lone_east("watch", *SHEET, "--deal", code(House(table=FULL, seat=2, passes=3), seed=9))
    assert result.returncode == 0
    assert result.stderr == ""
    assert "West, the seat that is watched, is dealt" in result.stdout
    assert "East passes three tiles." in result.stdout
    assert re.search(r"^  West passes \w", result.stdout, re.M)
    assert "East lets go the " in result.stdout


def test_sections_cut_the_sheet(lone_east):
    """Only hands of the sections named are gone for."""
    section = find("first-steps").sections[0]
    result = lone_east("watch", *SHEET, "--sections", f" {section.name} ;", "--deal", code(House(picks=30)))
    assert result.returncode == 0
    nearest = set(re.findall(r"Nearest: (.+?), \w+ tiles? to come", result.stdout))
    assert nearest
    assert nearest <= {hand.name for hand in section.hands}


@pytest.mark.parametrize("command", [("play", "--text"), ("play",), ("watch",)])
@pytest.mark.parametrize(
    ("arguments", "expected"),
    [
        (("--deal", "ABCD"), r"The deal code “ABCD” is not whole: .+\."),
        (("--deal", "K7Q2-M4X9-3TRB"), r"The deal code “K7Q2-M4X9-3TRB” has a slip in it: .+\."),
        (("--deal", "💥"), r"The deal code “.+” holds “💥”, which no code does; .+\."),
        (("--deal", code(sheet="first-steps"), "--sheet", "lantern-street"), r"The code .+ another edition .+\."),
        (("--sheet", "nowhere"), r".*nowhere.+"),
        (("--sheet", "nowhere.yaml"), r".*nowhere\.yaml.+"),
        (("--sections", "Nothing"), r".*Nothing.+\."),
        (("--sections", ";"), r".+\."),
    ],
)
def test_bad_input_is_one_sentence_on_standard_error(command, arguments, expected, capsys, monkeypatch, tmp_path):
    """Exit 1, nothing on standard output, no traceback, nothing kept."""
    for name in DISPLAYS:
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("SDL_VIDEODRIVER", "dummy")
    monkeypatch.setenv("LONE_EAST_DATA", str(tmp_path / "data"))
    assert main([*command, *arguments]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert re.fullmatch(expected, said.err.strip()), said.err
    assert len(said.err.splitlines()) == 1


@pytest.mark.parametrize(
    "arguments",
    [("dance",), ("play", "--loud"), ("watch", "--deal"), ("advise",), ("check",), ("--deal", "x"), ("play", "5d")],
)
def test_bad_usage_ends_with_2(arguments, capsys):
    """The usage and one line of what is wrong, on standard error."""
    assert main(list(arguments)) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith("usage: lone-east")
    assert "error: " in said.err.splitlines()[-1]


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_explains_itself(command, capsys):
    """--help prints the usage to standard output and ends with 0; the whole help names every command."""
    assert main([command, "--help"]) == 0
    said = capsys.readouterr()
    assert said.out.startswith(f"usage: lone-east {command} ")
    assert said.err == ""
    assert main(["--help"]) == 0
    assert re.search(rf"^    {command} +\w", capsys.readouterr().out, re.M)


def test_a_reader_that_goes_away_is_no_error(environment):
    """`lone-east watch | head -1`: no traceback, and the command ends."""
    process = subprocess.Popen(
        [sys.executable, "-m", "game", "watch", *SHEET, "--deal", code(House())],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=environment,
    )  # fmt: skip
    process.stdout.readline()
    process.stdout.close()
    complaints = process.stderr.read().decode()
    process.stderr.close()
    assert process.wait(60) == 0
    assert complaints == ""


def test_output_is_utf_8_where_the_locale_is_not(lone_east):
    """Typographic characters survive a plain C locale."""
    result = lone_east("play", "--text", *SHEET, typed="quit\n", LC_ALL="C", PYTHONIOENCODING="", PYTHONUTF8="0")
    assert "Type “help” to hear what you can type." in result.stdout
