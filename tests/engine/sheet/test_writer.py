"""Writing sheets: what is written is read back the same, by our reader and by plain YAML."""

from __future__ import annotations

import pytest
from depth import deep
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from sheets_made import names, sheet_texts

from engine.sheet.reader import read, sheet_of
from engine.sheet.shelf import find, shipped
from engine.sheet.writer import scalar, write

AWKWARD = ("no ~ null - -a a:b a: :a #b ' \" [a] {a} *a &a !a %a @a `a` ? 1e3 2026-01-01 << ... --- a'b | >").split()
AWKWARD += ["- a", "a: b", "a #b", "' '", "a  b"]
"""Names that mean something to YAML when they are not quoted."""

PLAIN = """\
sheet: Lamp Post
season: 2026
maker: nobody's
sections:
  - section: Stairs
    hands:
      - hand: Wide landing
        groups: pair a.n, pung a.n+1, pung b.n+3, kong b.n+4, pair a.n+6
        where: n in 2..3
        points: 30
  - section: 'Down: a cellar'
    hands:
      - hand: '- two'
        either:
          - quint a.n, pung b.n, sextet flower
          - quint a.n, pung a.n+1, sextet flower
        hold: concealed
        points: 35
"""


def test_plain_form() -> None:
    """A sheet in the plain form is written exactly as it stands."""
    assert write(sheet_of(read(PLAIN))) == PLAIN


@settings(max_examples=deep(25, 60), deadline=None)
@given(sheet_texts())
@pytest.mark.slow
def test_read_write_read_is_stable(text: str) -> None:
    """What was read is written to a text that reads as the same sheet and is written the same again."""
    sheet = read(text).sheet
    assume(sheet is not None)
    assert sheet is not None
    written = write(sheet)
    assert written == sheet.canonical
    again = sheet_of(read(written))
    assert again == sheet
    assert again.fingerprint == sheet.fingerprint
    assert write(again) == written


@pytest.mark.parametrize("stem", shipped())
def test_shipped_sheets_round_trip(stem: str) -> None:
    """Shipped sheets are written and read back without a difference."""
    sheet = find(stem)
    assert sheet_of(read(write(sheet))) == sheet


@given(names | st.sampled_from(AWKWARD))
@pytest.mark.slow
def test_any_name_survives(name: str) -> None:
    """Names of every kind, YAML's own signs included, are written so that they are read back, trimmed."""
    text = f"sheet: {scalar(name.strip())}\n" + PLAIN.split("\n", 1)[1]
    assert sheet_of(read(text)).name == name.strip()


def test_cut_sheet_writes_its_sections() -> None:
    """A sheet cut to some sections is written with those only, and still knows its whole edition."""
    sheet = sheet_of(read(PLAIN))
    cut = sheet.cut(["Stairs"])
    part = sheet_of(read(write(cut)))
    assert [section.name for section in part.sections] == ["Stairs"]
    assert cut.fingerprint == sheet.fingerprint != part.fingerprint


def test_no_maker_is_written_as_none() -> None:
    """A sheet without a maker has no line for one."""
    text = PLAIN.replace("maker: nobody's\n", "")
    assert write(sheet_of(read(text))) == text
