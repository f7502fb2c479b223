"""Reading sheet files: what is read, and every fault with its line, column and cure."""

from __future__ import annotations

import os
import re
from functools import cache
from pathlib import Path

import pytest
from broken_sheets import ALL, FIRST_SUM, GOOD, RUN, SECOND_SUM, Broken, swap
from depth import deep
from hypothesis import example, given, settings
from hypothesis import strategies as st

from engine.sheet.groups import Variant
from engine.sheet.reader import Fault, SheetFaults, load, read, read_file, sheet_of
from engine.sheet.tree import Places
from engine.sheet.variants import StepsLeft
from engine.sheet.writer import write

CURES = "write|take|put|save|give|use|keep|split|close|change|ease|make|mend|indent|move|add|turn|compare|begin"
"""Words that tell a person what to do."""


@cache
def faults(content: str | bytes) -> list[tuple[int, int, str]]:
    return [(fault.line, fault.column, fault.message) for fault in read(content).faults]


def test_a_good_sheet_is_read_whole() -> None:
    """Every part of a file arrives in the sheet."""
    sheet = sheet_of(read(GOOD))
    assert (sheet.name, sheet.season, sheet.maker) == ("Lamp Post", "2026", "invented for practice")
    assert [section.name for section in sheet.sections] == ["Stairs"]
    wide, sums = sheet.hands
    assert (wide.name, wide.section, wide.points, wide.concealed) == ("Wide landing", "Stairs", 30, False)
    assert (sums.name, sums.section, sums.points, sums.concealed) == ("Two sums", "Stairs", 35, True)
    assert [line.text for line in wide.lines] == [RUN]
    assert len(sums.lines) == 2
    assert (wide.where_text, sums.where_text) == ("", "x + y = z; x < y")
    assert (len(wide.variants), len(sums.variants)) == (3 * 6, 16 * 6 + 16 * 6)
    assert wide.wording == "any five numbers spaced as shown, two suits"


_HAND = "this hand can be made in too many ways"
_SHEET = "this sheet, its hands up to this one, can be made in too many ways"


@pytest.mark.parametrize(("steps", "said"), [
    (60_001, [(7, _HAND), (10, _HAND), (13, _SHEET)]),
    (60_000, [(13, _SHEET)]),
    (50_000, [(16, _SHEET)]),
    (30_000, []),
])  # fmt: skip
def test_how_much_work_a_hand_and_a_sheet_may_take(
    monkeypatch: pytest.MonkeyPatch, steps: int, said: list[tuple[int, str]]
) -> None:
    """60,000 steps a hand, 150,000 a sheet: the first hand for which too few are left says so, the others nothing."""
    hand = "  - hand: Hand {0}\n    groups: quint a.{0}, sextet flower, pung b.{0}\n    points: 30\n"
    text = "sheet: Work\nseason: 2027\nsections:\n- section: One\n  hands:\n" + "".join(
        hand.format(number) for number in range(1, 6 if said else 5)
    )
    ways = sheet_of(read(text)).hands[0].variants

    def expand(*_: object, work: StepsLeft) -> tuple[Variant, ...]:
        work.spend(steps)
        return ways

    monkeypatch.setattr("engine.sheet.hand.expand", expand)
    assert [(fault.line, fault.message.split(";")[0]) for fault in read(text).faults] == said


@pytest.mark.parametrize("case", ALL, ids=lambda case: case.name)
@pytest.mark.slow
def test_broken_sheets(case: Broken) -> None:
    """All faults of a broken file are found, none but these, each at its place and with its cure."""
    found = faults(case.content)
    assert [(line, column) for line, column, _ in found] == [(line, column) for line, column, _ in case.faults]
    for (_, _, message), (_, _, part) in zip(found, case.faults, strict=True):
        assert part in message


@pytest.mark.parametrize("case", ALL, ids=lambda case: case.name)
@pytest.mark.slow
def test_faults_lie_inside_the_file(case: Broken) -> None:
    """Line and column point at a character of the file, or just behind its last one."""
    rows = re.split(r"\r\n|\r|\n", case.content.decode("utf-8", "replace"))
    for line, column, _ in faults(case.content):
        assert 1 <= line <= len(rows)
        assert 1 <= column <= len(rows[line - 1]) + 1


@pytest.mark.parametrize("case", ALL, ids=lambda case: case.name)
@pytest.mark.slow
def test_messages_are_one_printable_line(case: Broken) -> None:
    """A message is one line that any terminal can print, and says more than that something is wrong."""
    for _, _, message in faults(case.content):
        assert message.isprintable()
        assert len(message) < 250
        assert re.search(rf"\b({CURES})\b", message), message


@pytest.mark.parametrize(
    "text",
    [
        swap(
            f"groups: {RUN}", "groups: pair a.n,\n          pong a.n+1,\n          pung b.n+3, kong b.n+4, pair a.n+6"
        ),
        swap(
            f"groups: {RUN}",
            "groups: >-\n          pair a.n,\n          pong a.n+1, pung b.n+3, kong b.n+4, pair a.n+6",
        ),
        swap(f"groups: {RUN}", "groups: |  # a remark\n          pair a.n,\n\n            pong a.n+1, pung b.n+3"),
        swap(RUN, f"'{RUN.replace('pung a.n+1', 'pong a.n+1')}'"),
        swap(RUN, f'"{RUN.replace("pung a.n+1", "pong a.n+1")}"'),
        swap(RUN, '"pair a.n,\n            pong a.n+1, pung b.n+3, kong b.n+4, pair a.n+6"'),
        "\ufeff" + swap("pung a.n+1", "pong a.n+1"),
        swap("pung a.n+1", "pong a.n+1").replace("\n", "\r\n"),
        swap("pung a.n+1", "pong a.n+1").replace("\n", "\r"),
        swap("pung a.n+1", "pong a.n+1").replace("Wide", "𝕎ïdé 木"),
    ],
)
def test_columns_are_true_however_the_text_is_written(text: str) -> None:
    """A word is pointed at in plain, quoted, folded and block texts, and after any kind of line end."""
    rows = re.split(r"\r\n|\r|\n", text.removeprefix("\ufeff"))
    line = next(number for number, row in enumerate(rows, 1) if "pong" in row)
    found = [(at, column) for at, column, message in faults(text) if "“pong” is no size" in message]
    assert found == [(line, rows[line - 1].index("pong") + 1)]


def test_escapes_in_double_quotes_point_at_the_text() -> None:
    """Where escapes stand between file and text, the fault is shown where the text begins."""
    text = swap(RUN, '"pair a.n,\\x20pong a.n+1, pung b.n+3, kong b.n+4, pair a.n+6"')
    assert [(line, column) for line, column, _ in faults(text)] == [(8, 17)]


@pytest.mark.parametrize(
    "text",
    [
        GOOD.replace("\n", "\r\n"),
        GOOD.replace("\n", "\r"),
        "\ufeff" + GOOD,
        "--- # the sheet\n" + GOOD + "...\n",
        "# first a remark\n\n" + GOOD.replace("points: 30", "points: 30   # few"),
        GOOD.replace("Lamp Post", "'Lamp Post'").replace("Two sums", '"Two sums"'),
        GOOD.replace("season: 2026", "season: '2026'").replace("30", "'30'"),
        GOOD.replace(RUN, RUN.upper()).replace("concealed", "Concealed"),
        GOOD.replace(RUN, RUN.replace(", ", ",\n            ")),
        GOOD.replace("x + y = z; x < y", "x+y=z;x<y"),
        GOOD.replace("points: 30", "hold: open\n        points: 030"),
        GOOD.replace("maker: invented for practice\n", "").replace(
            "sections:", "maker: invented for practice\nsections:"
        ),
    ],
)
@pytest.mark.slow
def test_layout_does_not_change_the_edition(text: str) -> None:
    """Comments, quotes, line ends, capitals and spaces leave the sheet and its fingerprint as they were."""
    sheet, plain = sheet_of(read(text)), sheet_of(read(GOOD))
    assert sheet == plain
    assert sheet.fingerprint == plain.fingerprint


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("30", "31"),
        ("2026", "2027"),
        ("Stairs", "Steps"),
        ("x < y", "y < x"),
        ("concealed", "open"),
        ("practice", "play"),
    ],
)
@pytest.mark.slow
def test_every_change_of_substance_changes_the_fingerprint(old: str, new: str) -> None:
    """Another edition of a sheet is told from this one."""
    assert sheet_of(read(GOOD.replace(old, new))).fingerprint != sheet_of(read(GOOD)).fingerprint


def test_scalars_are_strings_as_written() -> None:
    """What other readers take for numbers, dates and truth values stays a text here (YAML 1.1's implicit types)."""
    text = GOOD.replace("Lamp Post", "no").replace("Stairs", "12:30:45").replace("Wide landing", "0123").replace(
        "Two sums", "~").replace("2026", "0012")  # fmt: skip
    sheet = sheet_of(read(text))
    assert (sheet.name, sheet.season, sheet.sections[0].name) == ("no", "0012", "12:30:45")
    assert [hand.name for hand in sheet.hands] == ["0123", "~"]


def test_names_may_have_sixty_characters() -> None:
    """A name of sixty characters is taken, and white space around it does not count."""
    assert sheet_of(read(GOOD.replace("Lamp Post", f"'  {'L' * 60} '"))).name == "L" * 60


def test_a_quote_at_the_beginning_is_no_part_of_the_text() -> None:
    """In quoted groups that begin with a quotation mark the mark itself is pointed at, not YAML's own."""
    text = swap(RUN, "'" + "''" + RUN + "'")
    assert [(line, column) for line, column, message in faults(text) if "“'pair” is no size" in message] == [(8, 18)]


def test_maker_may_be_left_out_or_empty() -> None:
    """A sheet need not say who made it."""
    for text in (
        GOOD.replace("maker: invented for practice\n", ""),
        GOOD.replace("maker: invented for practice", "maker:"),
    ):
        assert sheet_of(read(text)).maker == ""


def test_text_and_bytes_read_alike() -> None:
    """A text is read as its UTF-8 bytes are."""
    assert read(GOOD) == read(GOOD.encode())
    assert "not UTF-8" in read("sheet: \ud800").faults[0].message


def test_fault_is_written_with_its_place() -> None:
    """A fault's text is file, line, column and message, as compilers write them."""
    assert str(Fault("a.yaml", 3, 7, "no good; write better")) == "a.yaml:3:7: no good; write better"
    named = Fault("a.yaml", 3, 7, "no good; write better", "Tall jar")
    assert str(named) == "a.yaml:3:7: “Tall jar”: no good; write better"


@pytest.mark.parametrize(
    ("hand", "old", "new"),
    [
        ("Wide landing", "points: 30", "points: none"),
        ("Wide landing", "pair a.n, pung", "pear a.n, pung"),
        ("Wide landing", "points: 30", "pionts: 30"),
        ("Two sums", "x < y", "x < q"),
        ("Two sums", "hold: concealed", "hold: concealde"),
        ("Two sums", "quint c.z", "pung c.z"),
        ("", "season: 2026", "season: soon"),
        ("", "maker: invented", "mager: invented"),
    ],
)
def test_a_fault_names_the_hand_that_it_is_in(hand, old, new) -> None:
    """Every fault inside a hand does, in its keys, groups, clauses and points alike; one outside names none."""
    found = read(swap(old, new)).faults
    assert found
    assert {fault.hand for fault in found} == {hand}
    assert found[0].said == (f"“{hand}”: {found[0].message}" if hand else found[0].message)


def test_load_raises_all_faults(tmp_path: Path) -> None:
    """A file's faults arrive in one exception, a line each."""
    file = tmp_path / "bad.yaml"
    file.write_text(GOOD.replace("30", "x").replace("35", "y"), encoding="utf-8")
    with pytest.raises(SheetFaults) as caught:
        load(file)
    assert len(caught.value.faults) == 2
    assert str(caught.value).splitlines() == [str(fault) for fault in caught.value.faults]
    assert str(caught.value).startswith(f"{file}:9:17: “Wide landing”: points is “x”")


def test_load_reads_a_file(tmp_path: Path) -> None:
    """A good file gives its sheet."""
    file = tmp_path / "good.yaml"
    file.write_text(GOOD, encoding="utf-8")
    assert load(file) == load(str(file)) == sheet_of(read(GOOD))


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    """A missing file, a folder, a device and a name that no file can have are faults like any other."""
    cases = {str(tmp_path / "none.yaml"): "no such file", str(tmp_path): "this is a folder", "a\0b": "can't be read"}
    if Path(os.devnull).exists():
        cases[os.devnull] = "no ordinary file"
    for path, part in cases.items():
        (fault,) = read_file(path).faults
        assert (fault.file, fault.line, fault.column) == (path, 1, 1)
        assert part in fault.message


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may read everything")
def test_file_without_permission(tmp_path: Path) -> None:
    """A file that may not be read says so."""
    file = tmp_path / "locked.yaml"
    file.write_text(GOOD, encoding="utf-8")
    file.chmod(0)
    assert "may not be read" in read_file(file).faults[0].message


DAMAGE = [
    "",
    "\t",
    "- ",
    ": ",
    "[",
    "}",
    "'",
    '"',
    "&a ",
    "*a",
    "!x ",
    "|",
    "%",
    "\n",
    "\0",
    "…",
    ",",
    ";",
    "#",
    "\\",
    "? ",
]


@settings(max_examples=deep(100, 150), deadline=None)
@given(st.integers(0, len(GOOD)), st.sampled_from(DAMAGE), st.integers(0, 12))
@example(0, "", len(GOOD))
@pytest.mark.slow
def test_any_small_damage_is_read_or_reported(at: int, added: str, cut: int) -> None:
    """Whatever is put in or cut out, the outcome is a sheet that writes out and back, or faults inside the file."""
    text = GOOD[:at] + added + GOOD[at + cut :]
    reading = read(text)
    assert (reading.sheet is None) == bool(reading.faults)
    rows = text.split("\n")
    for fault in reading.faults:
        assert 1 <= fault.line <= len(rows)
        assert 1 <= fault.column <= len(rows[fault.line - 1]) + 1
    if reading.sheet is not None:
        assert read(write(reading.sheet)).sheet == reading.sheet


@settings(max_examples=200, deadline=None)
@given(st.binary(max_size=200))
@pytest.mark.slow
def test_any_bytes_are_reported(content: bytes) -> None:
    """Bytes that are no sheet give faults, whatever they are."""
    assert read(content).faults


@settings(max_examples=200, deadline=None)
@given(st.text(alphabet="ab:-[]{}&*!|>'\"%@`#,? \n\t.~<=\\x", max_size=60))
def test_any_text_of_yaml_signs_is_reported(content: str) -> None:
    """Signs that mean something to YAML, in any order, give faults and nothing worse."""
    assert read(content).faults


def test_places_count_lines_as_editors_do() -> None:
    """Lines end with LF, CRLF or CR; columns count characters from 1."""
    places = Places("ab\ncd\r\nef\rg")
    assert [places.of(offset) for offset in (0, 2, 3, 5, 7, 10)] == [(1, 1), (1, 3), (2, 1), (2, 3), (3, 1), (4, 1)]


@pytest.mark.parametrize(("line", "place"), [("sheet: - Lamp Post", (1, 8)), ("season: - 2026", (1, 9))])
def test_a_list_beside_its_key_is_said_to_be_one(line, place) -> None:
    """The dash has its space; it is where it stands that is wrong."""
    (fault,) = read(f"{line}\n").faults
    assert (fault.line, fault.column) == place
    assert fault.message.startswith("a dash can't stand here")


def test_twenty_unseen_characters_are_named_and_with_more_it_is_no_text() -> None:
    """Each of twenty has a fault of its own; the twenty-first ends it."""
    few = read(GOOD + "# \x01" * 20 + "\n").faults
    assert len(few) == 20
    assert all("can't be seen" in fault.message for fault in few)
    many = read(GOOD + "# \x01" * 21 + "\n").faults
    assert len(many) == 21
    assert many[-1].message.startswith("this looks like no text at all")


@pytest.mark.parametrize(("number", "said"), [(40, []), (41, ["either has 41 lines; write at most 40"])])
def test_a_hand_has_at_most_forty_alternatives(number, said) -> None:
    """Forty lines under either are read, one more is a fault that says how many may be written."""
    first, second = (f"          - {text}\n" for text in (FIRST_SUM, SECOND_SUM))
    text = swap(first + second, first * number)
    assert [fault.message for fault in read(text).faults] == said


def test_a_file_with_ten_times_the_entries_of_a_sheet_is_not_judged() -> None:
    """One fault, at the place where it becomes too much: what stands before is no sheet either."""
    head = GOOD[: GOOD.index("  - section:")]
    (fault,) = read(head + "  - x\n" * 6100).faults
    assert "more entries than a sheet has; split it" in fault.message
    assert 5900 < fault.line < 6010
