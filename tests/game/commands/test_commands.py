"""The commands that play: with and without a display or a terminal, bad input, bad usage."""

import re
import shutil
import sys
import tomllib
from pathlib import Path

import pytest
from command_kit import DISPLAYS, SHEET, code, every_tile, kept
from depth import deep

from engine.advice.table import SheetTable
from engine.rules.actions import Discard
from engine.rules.deal import DealCode
from engine.rules.house import FULL, House
from engine.rules.state import CHANCE
from engine.seats.character import Strength
from engine.seats.players import table_of
from engine.sheet.shelf import find
from engine.store.endings import GameEnd
from engine.store.files import default_path
from engine.store.store import Store
from game.command_line import COMMANDS, main
from game.commands import watch
from game.play.advisor import Advisor
from game.play.settings import Settings
from game.play.sitting import Sitting
from game.words.actions import say_action


@pytest.mark.slow
def test_a_game_is_played_in_the_terminal_left_and_taken_up_again(started, lone_east, environment):
    """Two choices, then the input ends; the next start goes on there and comes to the end."""
    first = started("play", "--text", *SHEET, "--deal", code(), typed="rack\njoker\n")
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


@pytest.mark.slow
def test_the_text_table_follows_the_settings(lone_east, environment):
    """Advice that the window's settings hide is hidden here, and the line counts as one without advice."""
    with Store(default_path(environment)) as store:
        store.set("settings", {**Settings().to_json(), "advice": "hidden"})
    result = lone_east("play", "--text", *SHEET, "--deal", code(), typed="advice\n")
    assert "Advice is hidden" in result.stdout
    assert [line[2] for line in kept(environment)] == [1]
    with Store(default_path(environment)) as store:
        store.set("settings", {**Settings().to_json(), "advice": "always", "scale": 77})
    result = lone_east("play", "--text", typed="quit\n")
    assert "Let the " in result.stdout
    assert "The setting “size” could not be read" in result.stdout
    assert [line[2] for line in kept(environment)] == [0]


@pytest.mark.slow
def test_a_new_deal_in_the_terminal_is_what_the_window_was_set_to(lone_east, environment):
    """Sheet, sections and house rules as chosen there, where nothing is asked for on the command line."""
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


@pytest.mark.slow
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


@pytest.mark.slow
def test_watching_the_same_deal_twice_prints_the_same(started, lone_east):
    """The deal code is all that a game depends on, not Python's seed of hashes; the choices come with their reasons."""
    first, second = (run("watch", *SHEET, "--deal", code(House(picks=6))) for run in (started, lone_east))
    assert first.returncode == 0
    assert first.stdout == second.stdout
    assert first.stdout.count("  Let the ") == 7
    assert first.stdout.count("  Nearest: ") + first.stdout.count("  No hand of this sheet") == 7
    other = lone_east("watch", *SHEET, "--deal", code(House(picks=6), seed=5))
    assert other.stdout != first.stdout


@pytest.mark.slow
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
@pytest.mark.slow
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


def test_the_version_is_that_of_the_project(capsys):
    """One line, as pyproject.toml has it."""
    assert main(["--version"]) == 0
    project = tomllib.loads((Path(__file__).parents[3] / "pyproject.toml").read_text(encoding="utf-8"))
    assert capsys.readouterr().out == f"lone-east {project['project']['version']}\n"


WINDOW_BOX = """
sheet: Window Box
season: 2031
sections:
  - section: Earth
    hands:
      - hand: Five and four
        groups: quint a.n, kong a.n+2, pung b.n, pair flower
        points: 20
  - section: Rain
    hands:
      - hand: Gaps
        groups: quint b.n, pung a.n+4, pung b.n+4, pung dragon v
        points: 25
"""


def loaded(environment, tmp_path):
    """A sheet that was loaded from a file, which is gone since, and a deal code for it."""
    path = tmp_path / "window-box.yaml"
    path.write_text(WINDOW_BOX, encoding="utf-8")
    sheet = find(str(path))
    with Store(default_path(environment)) as store:
        store.add_sheet(sheet)
    path.unlink()
    return sheet, str(DealCode.of(sheet, House(picks=3), 8))


@pytest.mark.parametrize("command", [("play", "--text"), ("watch",)])
@pytest.mark.slow
def test_a_deal_code_finds_its_sheet_among_all_that_were_loaded(command, lone_east, environment, tmp_path):
    """Shipped or loaded, without naming the sheet; a code of an unknown sheet says what to do."""
    sheet, its_code = loaded(environment, tmp_path)
    assert sheet.name in lone_east(*command, "--deal", its_code, typed="quit\n").stdout
    shipped = code(sheet="first-steps")
    assert "First Steps" in lone_east(*command, "--deal", shipped, typed="quit\n").stdout
    nowhere = lone_east(*command, "--deal", its_code, LONE_EAST_DATA=str(tmp_path / "another"))
    assert nowhere.returncode == 1
    assert nowhere.stderr == (
        f"The code {its_code} was made for a sheet, or an edition of one, that isn't here; "
        "name its file with --sheet.\n"
    )


@pytest.mark.slow
def test_a_sheet_from_a_file_is_played_with_some_of_its_sections(lone_east, environment, tmp_path):
    """Its whole sheet is kept with the deal, and the deal goes on next time."""
    path = tmp_path / "window-box.yaml"
    path.write_text(WINDOW_BOX, encoding="utf-8")
    first = lone_east("play", "--text", "--sheet", str(path), "--sections", "Rain", typed="sheet\n")
    assert (first.returncode, first.stderr) == (0, "")
    assert "Section Rain." in first.stdout
    assert "Section Earth." not in first.stdout
    path.unlink()
    second = lone_east("play", "--text", typed="sheet\n")
    assert (second.returncode, second.stderr) == (0, "")
    assert "Section Rain." in second.stdout
    assert len(kept(environment)) == 1


@pytest.mark.parametrize("others", ["beginner", "sharp"][: deep(1, 2)])
@pytest.mark.slow
def test_the_others_play_as_well_as_the_settings_have_it(others, lone_east, environment, monkeypatch):
    """In the terminal and where a game of four is watched, from the first pass to the end: the seats pass and discard
    as a player of that strength would, and what they pass stays hidden."""
    house = House(table=FULL, seat=2, passes=3)
    deal = DealCode.of(find("first-steps"), house, 12)
    with Store(default_path(environment)) as store:
        store.set("settings", {**Settings().to_json(), "others": others})
    expected = table_of((Strength(others),), SheetTable.of(find("first-steps"), 8))
    chosen, choose = {}, watch.advised

    def remembered(advisor, sitting, **more):
        """What is advised, worked out once for each beginning of a game."""
        played = tuple(sitting.entries)
        if played not in chosen:
            chosen[played] = choose(advisor, sitting, **more)
        return chosen[played]

    monkeypatch.setattr(watch, "advised", remembered)
    result = lone_east("watch", "--deal", str(deal))
    assert (result.returncode, result.stderr) == (0, "")
    said = result.stdout
    assert "West, the seat that is watched, is dealt" in said
    assert "East passes three tiles." in said
    assert re.search(r"^  West passes \w", said, re.M)
    assert "East lets go the " in said
    assert "does not call" not in said, "that would say who could have called"
    sitting = Sitting(deal.deal(find("first-steps")), others=expected)
    advisor = Advisor(find("first-steps"), 8)
    while not sitting.over:
        sitting.act(watch.advised(advisor, sitting)[0])
    for entry in sitting.entries:
        if entry.seat not in (house.seat, CHANCE) and isinstance(entry.action, Discard):
            line = say_action(entry.action, entry.seat)
            assert line in said
            said = said[said.index(line) + len(line) :]


def test_two_hyphens_as_a_value_are_bad_input(capsys, monkeypatch, tmp_path):
    """One sentence, for each option that takes a value."""
    monkeypatch.setenv("LONE_EAST_DATA", str(tmp_path))
    rack = "1b 3b 3b 4b 5b 6b 7b 8b 9b 1c 2c 3c 4c"
    for arguments in (
        ("advise", "first-steps", rack, "--shown=--"),
        ("advise", "first-steps", rack, "--exposed=--"),
        ("advise", "first-steps", rack, "--draws=--"),
        ("watch", "--deal=--"),
        ("watch", "--sheet=--"),
        ("watch", "--sections=--"),
        ("play", "--text", "--deal=--"),
    ):
        assert main(list(arguments)) == 1, arguments
        said = capsys.readouterr()
        assert said.out == ""
        assert "--" in said.err
        assert len(said.err.splitlines()) == 1


def test_without_a_home_folder_it_is_said_where_games_can_be_kept(capsys, monkeypatch):
    """One sentence and exit 1; a data folder that is named needs no home."""

    def no_home(*_, **__):
        raise RuntimeError("could not determine the home directory")

    monkeypatch.delenv("LONE_EAST_DATA", raising=False)
    monkeypatch.setattr("platformdirs.user_data_path", no_home)
    assert main(["play", "--text"]) == 1
    assert capsys.readouterr().err == ("There is no home folder to keep games in; name a folder in LONE_EAST_DATA.\n")


@pytest.mark.slow
def test_the_advisor_shows_no_wrong_hand_where_slips_may_happen(lone_east):
    """Mahjong may be said with any rack there; the advisor says it only with a hand."""
    result = lone_east("watch", *SHEET, "--deal", code(House(picks=6, slips=True)))
    assert result.returncode == 0
    assert "mahjong: " not in result.stdout
    assert "All 6 picks are used" in result.stdout or " made " in result.stdout


@pytest.mark.skipif(sys.platform == "win32", reason="an open file can't be deleted there")
def test_a_data_folder_that_is_deleted_while_playing_is_no_kept_game(capsys, monkeypatch, tmp_path):
    """Whatever the program says last is true: the game is in the file, or it is said that it is not."""
    folder = tmp_path / "data"
    monkeypatch.setenv("LONE_EAST_DATA", str(folder))

    def typed():
        yield "1b\n"
        shutil.rmtree(folder)
        yield from (f"{name}\n" for name in every_tile()[:6])

    monkeypatch.setattr("sys.stdin", typed())
    assert main(["play", "--text", *SHEET, "--deal", code(House(picks=40))]) == 0
    last = capsys.readouterr().out.splitlines()[-1]
    if last == "The game is kept; it goes on from here next time.":
        with Store(folder / "lone-east.sqlite") as store:
            assert store.trouble is None
            line = store.last_line()
            assert line is not None
            played = [action for _, action in store.record(line).entries]
            assert sum(isinstance(action, Discard) for action in played) >= 1
    else:
        assert last == "The game could not be kept."
