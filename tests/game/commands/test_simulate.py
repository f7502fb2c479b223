"""`lone-east simulate` as a user runs it: table, CSV and chart, bad input, Ctrl-C, the bar on a terminal."""

import csv
import os
import re
import select
import signal
import subprocess
import sys
import time

import pygame
import pytest

from engine.advice.simulation.simulate import simulate
from engine.advice.simulation.tally import tally
from engine.advice.table import SheetTable
from engine.sheet.shelf import find
from game.command_line import main
from game.commands.shared.chart import WIDE, Chart
from game.commands.shared.progress_bar import Progress
from game.draw.theme import BLUE, VERMILION_TEXT
from game.words.simulation import COLUMNS, as_csv, as_lines, percent

SMALL = ("simulate", "first-steps", "--deals", "60", "--picks", "30")


@pytest.fixture(scope="module")
def counted():
    """What the small simulation counts, in this process."""
    sheet = find("first-steps")
    return sheet, tally(sheet, simulate(SheetTable.of(sheet), 60, 30, workers=1))


@pytest.mark.slow
def test_the_table_is_aligned_and_counts_what_was_played(capsys, counted):
    """Every section and hand has a row with its count; columns end at one place; the same again gives the same."""
    sheet, tally_of_it = counted
    assert main(SMALL) == 0
    said = capsys.readouterr()
    assert said.err == ""
    assert said.out.splitlines() == as_lines(sheet, tally_of_it, 30, 1)
    lines = said.out.splitlines()
    assert lines[0] == "First Steps, season 2026."
    assert lines[1].startswith("60 deals of seed 1 on the quiet table without passes")
    rows = lines[lines.index("") + 1 : -2]
    made = rows[0].index("Made") + len("Made")
    named = {row[: made - 4].rstrip(): int(row[made - 4 : made]) for row in rows[1:]}
    assert named == {
        **{section.name: section.made for section in tally_of_it.sections},
        **{f"  {hand.name}": hand.made for hand in tally_of_it.hands},
        "Any hand": tally_of_it.whole.made,
    }
    assert named["Any hand"] == sum(hand.made for hand in tally_of_it.hands)


def test_hands_never_made_are_named_plainly(capsys):
    """In three deals of one pick no hand is made: all are named, with how rare that says they are."""
    assert main(["simulate", "first-steps", "--deals", "3", "--picks", "1"]) == 0
    last = capsys.readouterr().out.splitlines()[-1]
    assert last.startswith("Never made in 3 deals: Stepping stones, ")
    assert "That is 12 hands of 12" in last
    assert last.endswith("at most 56.15% of all deals.")  # 3.8415 / 6.8415, Wilson's interval for none of three


@pytest.mark.slow
def test_the_figures_do_not_depend_on_how_many_jobs_play(capsys):
    """One deal after another or two side by side: the same table."""
    said = []
    for jobs in ("1", "2"):
        assert main([*SMALL, "--jobs", jobs]) == 0
        said.append(capsys.readouterr().out)
    assert said[0] == said[1]


def test_sections_cut_the_sheet(capsys):
    """Only the hands of the sections named are gone for, and listed."""
    section = find("first-steps").sections[1]
    assert main([*SMALL, "--sections", section.name]) == 0
    said = capsys.readouterr().out
    assert said.startswith(f"First Steps, season 2026, only {section.name}.")
    assert all(hand.name in said for hand in section.hands)
    assert find("first-steps").sections[0].hands[0].name not in said


@pytest.mark.slow
def test_the_csv_holds_the_same_figures(tmp_path, capsys, counted):
    """One line for the sheet, each section and each hand, figures as numbers; an old file is replaced."""
    sheet, tally_of_it = counted
    file = tmp_path / "figures.csv"
    file.write_text("old", encoding="utf-8")
    assert main([*SMALL, "--csv", str(file)]) == 0
    assert file.read_text(encoding="utf-8") == as_csv(tally_of_it)
    with file.open(encoding="utf-8", newline="") as lines:
        rows = list(csv.DictReader(lines))
    assert tuple(rows[0]) == COLUMNS
    assert [row["what"] for row in rows] == ["sheet", *["section"] * len(sheet.sections), *["hand"] * len(sheet.hands)]
    for row, count in zip(rows, (tally_of_it.whole, *tally_of_it.sections, *tally_of_it.hands), strict=True):
        assert (row["name"], int(row["made"]), int(row["deals"])) == (count.name, count.made, 60)
        assert float(row["share"]) == pytest.approx(count.share, rel=1e-5)
        assert float(row["share_low"]) <= float(row["share"]) <= float(row["share_high"])
        assert (row["picks_mean"] == "") is (count.mean is None)
        assert (row["picks_mean_low"] == "") is (count.mean_within is None)
    capsys.readouterr()


@pytest.mark.slow
def test_the_chart_has_a_row_for_every_hand(tmp_path, capsys, counted):
    """A PNG that pygame reads again, with bars as long as the shares and a word for hands never made."""
    _, tally_of_it = counted
    file = tmp_path / "chart.png"
    assert main([*SMALL, "--chart", str(file)]) == 0
    capsys.readouterr()
    assert file.read_bytes()[:8] == b"\x89PNG\r\n\x1a\n"
    picture = pygame.image.load(file)
    assert picture.get_width() == WIDE
    assert picture.get_height() > 28 * len(tally_of_it.hands)
    colours = {tuple(picture.get_at((x, y)))[:3] for x in range(0, WIDE) for y in range(0, picture.get_height(), 2)}
    assert BLUE in colours
    assert (VERMILION_TEXT in colours) is bool(tally_of_it.never)


def test_names_of_any_length_stay_in_the_chart(counted):
    """A name far too long is cut, so that nothing is drawn outside the picture or over the bars."""
    from dataclasses import replace

    _, tally_of_it = counted
    long = replace(tally_of_it, hands=tuple(replace(hand, name="Very long name " * 20) for hand in tally_of_it.hands))
    plain, wide = (Chart(one, "Heading", ["Words."]).surface for one in (tally_of_it, long))
    assert plain.get_size() == wide.get_size()
    right = pygame.Rect(360, 0, WIDE - 360, plain.get_height())
    assert pygame.image.tobytes(plain.subsurface(right), "RGB") == pygame.image.tobytes(wide.subsurface(right), "RGB")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("nowhere",), ".*nowhere.*"),
        (("first-steps", "--sections", "Nothing"), ".*Nothing.*"),
        (("first-steps", "--deals", "0"), "--deals is “0”; write a whole number from 1 to 10,000,000."),
        (("first-steps", "--deals", "many"), "--deals is “many”; .*"),
        (("first-steps", "--deals", "-5"), "--deals is “-5”; .*"),
        (("first-steps", "--deals", "9" * 40), "--deals is .*"),
        (("first-steps", "--picks", "100"), "--picks is “100”; write a whole number from 1 to 99."),
        (("first-steps", "--jobs", "0"), "--jobs is “0”; write a whole number from 1 to 256."),
        (("first-steps", "--seed", "1.5"), "--seed is “1.5”; .*"),
        (("first-steps", "--chart", "chart.jpg"), "--chart is “chart.jpg”; give a name that ends in .png."),
        (("first-steps", "--chart", "no/such/folder/a.png"), "--chart is .*; make the folder first."),
        (("first-steps", "--csv", "."), "--csv is “.”, which is no file to write; .*"),
        (("first-steps", "--csv", ""), "--csv is “”, which is no file to write; .*"),
        (("first-steps", "--csv", "a\0b"), "--csv.*; give another file's name."),
        (("first-steps", "--csv", "a" * 5000), "--csv.*; give another file's name."),
    ],
)
def test_bad_input_is_one_sentence(arguments, said, capsys, tmp_path, monkeypatch):
    """On standard error, before anything is played; exit 1."""
    monkeypatch.chdir(tmp_path)
    assert main(["simulate", *arguments]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert len(err.splitlines()) == 1
    assert re.fullmatch(said, err.strip()), err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="the superuser may write anywhere")
def test_a_folder_that_takes_no_file_is_said_before_play(capsys, tmp_path):
    """Nothing is played."""
    tmp_path.chmod(0o500)
    assert main([*SMALL, "--csv", str(tmp_path / "a.csv")]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert re.fullmatch(r"--csv is .+ can't be written to; give another one\.", err.strip())


@pytest.mark.parametrize(("option", "writes"), [("--csv", "write_safely"), ("--chart", "pygame.image.save")])
@pytest.mark.slow
def test_a_disk_that_fills_up_costs_the_file_only(option, writes, capsys, tmp_path, monkeypatch):
    """The table has been printed by then; one sentence says why there is no file."""

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(f"game.commands.simulate.{writes}" if "." not in writes else writes, full)
    monkeypatch.chdir(tmp_path)
    assert main([*SMALL, option, "a.png"]) == 1
    out, err = capsys.readouterr()
    assert "Any hand" in out
    assert err.strip() == f"{option}: “a.png” can't be written (No space left on device); give another file's name."


@pytest.mark.skipif(not hasattr(os, "openpty"), reason="needs a pseudo terminal")
@pytest.mark.slow
def test_ctrl_c_ends_with_what_has_been_counted(tmp_path):
    """A bar runs on the terminal; Ctrl-C there, which reaches the workers too, leaves a table of the deals done."""
    screen, terminal = os.openpty()
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))}
    file = tmp_path / "part.csv"
    process = subprocess.Popen(
        [sys.executable, "-m", "game", "simulate", "lantern-street", "--deals", "200000", "--csv", str(file)],
        stdout=subprocess.PIPE, stderr=terminal, env=environment, start_new_session=True, encoding="utf-8",
    )  # fmt: skip
    os.close(terminal)
    try:
        shown = read_until(screen, r"\] [1-9]\d* of 200,000 deals")
        assert shown.startswith("\r[......")
        os.killpg(process.pid, signal.SIGINT)
        out, _ = process.communicate(timeout=60)
        shown = read_until(screen, r"Stopped after [\d,]+ of 200,000 deals\.")
    finally:
        process.kill()
        process.wait()
        os.close(screen)
    assert process.returncode == 130
    assert "Traceback" not in shown
    done = re.search(r"Stopped after ([\d,]+) of 200,000 deals\.", shown)[1]
    assert f"\n{done} deals of seed 1 " in out
    assert "Any hand" in out
    assert f",{done.replace(',', '')}," in file.read_text(encoding="utf-8").splitlines()[1]


def read_until(screen, pattern, seconds=60):
    """What comes on the terminal, up to a match. Fails when it doesn't come."""
    shown, end = "", time.monotonic() + seconds
    while not re.search(pattern, shown):
        ready, _, _ = select.select([screen], [], [], max(end - time.monotonic(), 0))
        assert ready, f"{pattern} did not come, only: {shown}"
        shown += os.read(screen, 65536).decode("utf-8", "replace")
    return shown


class Screen:
    """A stream that says whether it is a terminal, and keeps what is written."""

    def __init__(self, terminal):
        self.terminal, self.written = terminal, ""

    def isatty(self):
        """As asked for."""
        return self.terminal

    def write(self, text):
        """Keep it."""
        self.written += text

    def flush(self):
        """Nothing to do."""


def test_the_bar_fills_tells_the_time_left_and_is_wiped_out():
    """On a terminal: hash signs by share, the rest by the speed so far, and a blank line at the end."""
    now = [0.0]
    screen = Screen(terminal=True)
    with Progress(screen, 1000, clock=lambda: now[0]) as progress:
        now[0] = 4.0
        progress.show(250)
    shown = screen.written.split("\r")
    assert shown[1] == f"[{'.' * 30}] 0 of 1,000 deals"
    assert shown[2] == f"[{'#' * 7}{'.' * 23}] 250 of 1,000 deals, about 12 s left"
    assert shown[3] == " " * len(shown[2])
    assert shown[4] == ""


def test_no_bar_where_nobody_looks():
    """Nothing is written to a stream that is no terminal."""
    screen = Screen(terminal=False)
    with Progress(screen, 10) as progress:
        progress.show(5)
    assert screen.written == ""


@pytest.mark.parametrize(
    ("share", "said"), [(0, "0.00"), (1, "100.00"), (1e-9, "0.01"), (1 - 1e-9, "99.99"), (0.12345, "12.35")]
)
def test_percentages_are_never_rounded_to_none_or_all(share, said):
    """Only what is 0 or 1 is said as 0 or 100."""
    assert percent(share) == said
