"""A sheet's text is cut into pieces that are the text again, and changed so that all else stays as it was."""

from importlib.resources import files
from random import Random

import pytest
from broken_sheets import ALL, GOOD, broken, swap
from spoiling import judge, spoilt

from engine.sheet.reader import read
from engine.sheet.shelf import shipped
from engine.sheet.writer import write
from engine.sheet.writing.cutting import cut
from engine.sheet.writing.document import Document, Place
from engine.sheet.writing.hand_text import HandText, new_hand, new_section, new_sheet

REMARKED = """\
# A sheet of ours; keep this line.
sheet: Lamp Post
season: 2026   # the year
maker: invented for practice
sections:
  # About stairs.
  - section: Stairs
    hands:
      # The first one.
      - hand: Wide landing
        groups: pair a.n, pung a.n+1, pung b.n+3, kong b.n+4, pair a.n+6   # five groups
        points: 30

      - points: 35   # the points come first here
        hand: "Two sums"
        either:
          - pair flower, pung a.x, kong b.y, quint c.z
          # or in two suits
          - pair flower, pung a.x, kong a.y, quint b.z
        where: 'x + y = z; x < y'   # a sum
        hold: concealed
# The end.
"""

FOURTEEN = "quint a.n, kong b.n, pung c.n, pair b.n+2"


def shipped_text(stem):
    return files("sheets").joinpath(f"{stem}.yaml").read_text(encoding="utf-8")


def form_of(document, place):
    form = HandText.of(document.piece(place))
    assert form is not None
    return form


@pytest.mark.parametrize("stem", shipped())
@pytest.mark.slow
def test_pieces_are_the_text_again(stem):
    """Every hand and section of a shipped sheet is a piece of its own, and nothing is lost between them."""
    text = shipped_text(stem)
    document = cut(text).document
    sheet = read(text).sheet
    assert document.text == text
    assert [len(section.hands) for section in document.sections] == [len(s.hands) for s in sheet.sections]
    assert [form_of(document, place).name for place, _ in document.hands()] == [hand.name for hand in sheet.hands]


@pytest.mark.parametrize("case", ALL, ids=lambda case: case.name)
@pytest.mark.slow
def test_broken_files_lose_nothing(case):
    """A file in any state is cut without a fault of our own; its characters are all there."""
    text = case.content.decode("utf-8", "replace").removeprefix("\ufeff")
    found = cut(text)
    if found.rewritten:
        assert set(read(text).sheet.canonical if read(text).sheet else "") <= set(found.document.text)
    else:
        assert found.document.text.removesuffix("\n") == text.removesuffix("\n")


def test_a_broken_line_spoils_its_own_hand_only():
    """Where YAML itself is broken, the other hands can still be told apart and read."""
    document = cut(swap("        points: 30", "\tpoints: 30")).document
    assert HandText.of(document.piece(Place(0, 0))) is None
    assert form_of(document, Place(0, 1)).name == "Two sums"


def test_remarks_stay_where_they_are():
    """Every field of a hand is changed; what stands behind and above it stays, and the reader reads the new values."""
    document = cut(REMARKED).document
    first, second = Place(0, 0), Place(0, 1)
    values = {"hand": "Low: landing", "groups": FOURTEEN, "points": "25"}
    for field, value in values.items():
        document = document.put(first, form_of(document, first).put(field, value))
    other = "pair flower, pung b.x, kong b.y, quint b.z"
    document = document.put(second, form_of(document, second).put("groups", other, 1))
    document = document.put(second, form_of(document, second).put("where", ""))
    document = document.put(second, form_of(document, second).put_concealed(False))
    remarks = "# A sheet; # the year; # About; # The first; # five; # the points; # or in; # a sum; # The end"
    assert [one for one in remarks.split("; ") if one not in document.text] == []
    sheet = read(document.text).sheet
    assert [hand.name for hand in sheet.hands] == ["Low: landing", "Two sums"]
    assert sheet.hands[0].lines[0].text == FOURTEEN
    assert sheet.hands[0].points == 25
    assert sheet.hands[1].where == ()
    assert not sheet.hands[1].concealed
    assert sheet.hands[1].lines[1].text == other


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_alternatives_come_and_go(newline):
    """A second line of groups makes a list of both; dropping lines down to one makes a plain line again."""
    text = GOOD.replace("\n", newline)
    document = cut(text).document
    place = Place(0, 0)
    document = document.put(place, form_of(document, place).add_line("quint a.1, kong b.4, pung c.1, pair b.7"))
    document = document.put(place, form_of(document, place).add_line("quint a.2, kong b.5, pung c.2, pair b.8"))
    assert len(read(document.text).sheet.hands[0].lines) == 3
    document = document.put(place, form_of(document, place).drop_line(1))
    assert [line.text for line in read(document.text).sheet.hands[0].lines][
        1
    ] == "quint a.2, kong b.5, pung c.2, pair b.8"
    document = document.put(place, form_of(document, place).drop_line(1))
    assert document.text == text


def test_hands_and_sections_move_with_their_remarks():
    """Moving takes the lines above along; the file is read as before, in another order."""
    text = (
        REMARKED.replace("# The end.\n", "")
        + "  # Doors.\n  - section: Doors\n    hands:\n"
        + new_hand("Back door", FOURTEEN, "25")
    )
    document = cut(text).document
    moved = document.move(Place(0, 0), Place(1, 1))
    assert [hand.name for hand in read(moved.text).sheet.hands] == ["Two sums", "Back door", "Wide landing"]
    assert "# The first one.\n      - hand: Wide landing" in moved.text
    assert moved.move(Place(1, 1), Place(0, 0)).text == text
    turned = document.move_section(1, 0)
    assert [section.name for section in read(turned.text).sheet.sections] == ["Doors", "Stairs"]
    assert "# Doors.\n  - section: Doors" in turned.text


def test_hands_take_the_indent_of_their_file():
    """A file indented in its own way stays so when a hand is added."""
    text = GOOD.replace("        ", "          ").replace("      - hand", "       -  hand")
    assert read(text).sheet is not None
    document = cut(text).document.add(Place(0, 2), new_hand("Third", FOURTEEN, "25"))
    assert [hand.name for hand in read(document.text).sheet.hands] == ["Wide landing", "Two sums", "Third"]


def test_a_sheet_is_written_from_nothing():
    """Head, section, hand: each addition leaves a file that reads as far as it goes, and at last whole."""
    document = cut(new_sheet("Our table", "2027")).document
    document = document.add_section(0, new_section("Doors"))
    document = document.add(Place(0, 0), new_hand("Front door"))
    for field, value in (("groups", FOURTEEN), ("points", "25"), ("where", "n odd")):
        document = document.put(Place(0, 0), form_of(document, Place(0, 0)).put(field, value))
    sheet = read(document.text).sheet
    assert write(sheet) == document.text
    assert sheet.hands[0].where_text == "n odd"
    emptied = document.remove(Place(0, 0)).remove(Place(0))
    assert emptied.text == new_sheet("Our table", "2027")


def test_brackets_are_written_out_with_their_remarks():
    """A file in YAML's short form becomes lines; it means the same, and its remarks stand at the top."""
    text = (
        "# ours\nsheet: Lamp Post\nseason: 2026\nsections: [{section: Doors, hands: [{hand: Front door, "
        "groups: 'quint a.n, kong b.n, pung c.n, pair b.n+2', points: 25}]}]  # all in one\n"
    )
    found = cut(text)
    assert found.rewritten
    assert read(found.document.text).sheet.canonical == read(text).sheet.canonical
    assert found.document.text.startswith("# ours\n# all in one\n")


def test_places_in_the_text():
    """Every offset lies in one piece."""
    document = cut(GOOD).document
    at = GOOD.index("kong b.y")
    place, inside = document.at(at)
    assert place == Place(0, 1)
    assert document.piece(place)[inside:].startswith("kong b.y")
    with pytest.raises(IndexError):
        document.piece(Place(4, 0))


@pytest.mark.slow
def test_spoilt_files_lose_nothing():
    """Each is read, cut and changed in one place without a crash; every other character is kept. The bench spoils
    thousands."""
    chance = Random(8)
    for _ in range(60):
        judge(spoilt(REMARKED, chance), chance)


def test_empty_document():
    """Nothing at all is a document too."""
    assert cut("").document == Document("")
    assert broken("x", "").content == b""
