"""What is printed holds all that it should, in text that can be found, and fits its page."""

import re
import subprocess
import sys

import pytest

from engine.drills.grades import Skill
from engine.drills.ledger import ledger_of
from engine.drills.lesson.model import DrillStep, Lesson, PositionStep, ReadStep
from engine.sheet.groups import size_name
from engine.sheet.reader import read
from engine.sheet.shelf import find, shipped
from engine.sheet.study.counts import Study
from engine.tiles import JOKER, KINDS, name, parse_tiles, say_tiles
from game.paper.fonts import REGULAR, clean, width, wrap
from game.paper.page import MARGIN, POINTS, STANDS_ABOVE, Paper
from game.paper.printing import PAPERS, PrintParts, make_pdf
from game.words.sheet import ShownGroup

AWKWARD = """
sheet: "Ein sehr langer Name \\u4e2d für ein Blatt"
season: 2026
sections:
  - section: "A section of a name so long that it is wrapped nearly anywhe"
    hands:
      - hand: "Ahandwithalongnamethathasnospacesatallsothatithastobebroken"
        groups: pair a.n, pung a.n+1, pung b.n+3, kong b.n+4, pair a.n+6
        points: 1000
"""


def texts(pdf):
    """What the pages say, in the order in which it was written: (text, x, y, size) of every line.

    The pages are not packed. Each line sets its font, its place and its glyphs; the glyphs are numbers in the part of
    the font that is embedded, which says itself which letters they are (ToUnicode, ISO 32000-1, 9.10.3).
    """
    objects = {int(number): body for number, body in re.findall(rb"\n(\d+) 0 obj(.*?)\nendobj", pdf, re.DOTALL)}
    fonts = {}
    for body in objects.values():
        told, named = re.search(rb"/ToUnicode (\d+) 0 R", body), re.search(rb"/Name /(F\d\+\d)", body)
        if told and named:
            fonts[named[1].decode()] = _letters(objects[int(told[1])].decode("latin-1"))
    found = []
    for number in re.findall(rb"/Contents (\d+) 0 R", pdf):
        for block in re.findall(rb"BT 1 0 0 1 ([\d.-]+) ([\d.-]+) Tm (.*?) ET", objects[int(number)], re.DOTALL):
            said, size, letters = "", 0.0, {}
            for part in re.finditer(rb"/(F\d\+\d) ([\d.]+) Tf|\((.*?)(?<!\\)\) Tj", block[2], re.DOTALL):
                if part[1]:
                    letters, size = fonts[part[1].decode()], float(part[2])
                else:
                    said += "".join(letters[one] for one in _bytes(part[3]))
            found.append((said, float(block[0]), float(block[1]), size))
    return found


def _bytes(text):
    """The bytes of a PDF string: `\\ddd` is an octal number, a backslash before another sign is left out."""
    return re.sub(rb"\\(\d{3}|.)", lambda m: bytes([int(m[1], 8)]) if m[1].isdigit() and len(m[1]) == 3 else m[1], text)


def _letters(lines):
    """Which letter a byte stands for, from the map of a font."""
    return {int(code, 16): chr(int(letter, 16)) for code, letter in re.findall(r"^<(\w\w)> <(\w{4})>$", lines, re.M)}


def plain(parts):
    """All text of a document, its lines joined by blanks."""
    return " ".join(said for said, *_ in texts(make_pdf(parts, compress=False)))


@pytest.mark.parametrize("stem", shipped())
@pytest.mark.slow
def test_every_hand_stands_on_the_paper(stem):
    """Names, points, what may vary, and the groups in words, for every hand in the sheet's order; the rule once."""
    sheet = find(stem)
    said = plain(PrintParts(sheet))
    at = 0
    for hand in sheet.hands:
        at = said.index(hand.name, at)
        for group in hand.variants[0].groups[:1]:
            assert size_name(group.size) in said[at:]
        end = said.index(f"{hand.points} points", at)
        assert end - at < 120
        assert "concealed" in said[at:end] or not hand.concealed
        worded = f"{hand.wording[:1].upper()}{hand.wording[1:]}."
        assert worded in said[at : at + 900]
    assert said.count(STANDS_ABOVE.split(".")[0]) == 1


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.slow
def test_nothing_leaves_the_page(paper):
    """Every line of text begins and ends within the margins, names that are too long for a line too."""
    sheet = read(AWKWARD).sheet
    wide, high = POINTS[paper]
    pdf = make_pdf(PrintParts(sheet, study=True, ledger=True, paper=paper), compress=False)
    assert f"/MediaBox [ 0 0 {wide:g} {high:g}".encode() in pdf
    for said, x, y, size in texts(pdf):
        if size >= 7 and x >= MARGIN - 1:  # the marks on tiles are placed in units of the tile
            assert x + width(said, REGULAR, size) <= wide - MARGIN + 2, said
            assert MARGIN - 8 <= y <= high - MARGIN + 2, said


@pytest.mark.slow
def test_no_hand_is_parted():
    """A hand's name, its groups and its words stand on the same page and in the same column."""
    sheet = find("lantern-street")
    lines = texts(make_pdf(PrintParts(sheet), compress=False))
    places = {said: (x, y) for said, x, y, _ in lines}
    for hand in sheet.hands:
        name_at = next(place for place, line in enumerate(lines) if line[0] == hand.name)
        spoken = next(line for line in lines[name_at + 1 :] if line[0].startswith(tuple(map(size_name, range(1, 7)))))
        assert abs(spoken[1] - places[hand.name][0]) < 1
        assert 0 < places[hand.name][1] - spoken[2] < 40


@pytest.mark.slow
def test_the_study_counts_are_those_of_the_study():
    """The figure under every tile, as it is read aloud."""
    sheet = find("first-steps")
    study = Study.of(sheet)
    said = plain(PrintParts(sheet, hands=False, study=True))
    for kind in range(KINDS):
        if kind != JOKER:
            assert f"{name(kind)} {study.tiles[kind].hands}" in said


@pytest.mark.slow
def test_a_comparison_names_what_came_and_went():
    """Every new hand and every hand that is gone, by name."""
    old, new = find("lantern-street"), find("lantern-street-2027")
    said = plain(PrintParts(new, hands=False, old=old))
    kept = {hand.name for hand in old.hands} & {hand.name for hand in new.hands}
    for hand in (*old.hands, *new.hands):
        assert hand.name in said or hand.name in kept


@pytest.mark.slow
def test_answers_stand_on_a_later_page():
    """Every rack is asked before the first answer, and the same seed asks the same racks."""
    sheet = find("first-steps")
    first = plain(PrintParts(sheet, hands=False, practice=4))
    assert first.index("4. Which") < first.index("Answers") < first.index("1. ", first.index("Answers"))
    assert len(re.findall(r"\d\. Which", first)) == 4
    assert first == plain(PrintParts(sheet, hands=False, practice=4))
    assert first != plain(PrintParts(sheet, hands=False, practice=4, seed=2))


def test_the_ledger_has_a_line_for_every_hand():
    """Won or not: all hands stand there with their points."""
    sheet = find("first-steps")
    said = plain(PrintParts(sheet, hands=False, ledger=True, kept=ledger_of(sheet, [])))
    assert all(f"{hand.name} {hand.points} points" in said for hand in sheet.hands)


@pytest.mark.slow
def test_text_can_be_found_and_read_aloud():
    """A language, a title that is shown, an outline, embedded fonts; and the tiles' words, unseen, over the tiles."""
    sheet = find("first-steps")
    pdf = make_pdf(PrintParts(sheet), compress=False)
    for part in (b"/Lang (en)", b"/DisplayDocTitle true", b"/Outlines", b"/FontFile2"):
        assert part in pdf
    for section in sheet.sections:
        assert section.name.encode() in pdf
    assert b" 3 Tr" in pdf or b"3 Tr" in pdf
    assert "pung of 1 bam in suit a" in plain(PrintParts(sheet))


def test_letters_that_the_font_lacks_are_told():
    """A question mark stands in; blanks stand for control characters."""
    assert clean("Tee \u4e2d\tü") == "Tee ? ü"
    assert wrap("one two three", REGULAR, 10, width("one two", REGULAR, 10)) == ["one two", "three"]
    assert "".join(wrap("x" * 40, REGULAR, 10, 60)) == "x" * 40
    assert all(width(line, REGULAR, 10) <= 60 for line in wrap("x" * 40, REGULAR, 10, 60))


def test_a_rack_is_read_as_its_tiles(tmp_path):
    """What is written over a rack is its tiles in words, and a file is written whole."""
    paper = Paper(tmp_path / "rack.pdf", "Rack", compress=False)
    rack = parse_tiles("1b 1b 5d we fl jk")
    paper.rack(rack, say_tiles(rack))
    paper.close()
    assert any(said == say_tiles(rack) for said, *_ in texts((tmp_path / "rack.pdf").read_bytes()))


@pytest.mark.parametrize("tab", ["", "a"])
def test_a_hand_takes_the_room_that_was_asked_for_and_fills_a_narrow_line(tmp_path, tab):
    """Its tiles are made as wide as the line lets them be; the points it takes are those that were foretold."""
    paper = Paper(tmp_path / "hand.pdf", "Hand", compress=False)
    row = [ShownGroup(5, 3, tab), ShownGroup(3, 7, tab), ShownGroup(6, 12, "")]
    ends, real = [], paper.tiles.row
    paper.tiles.row = lambda *given: ends.append(real(*given)) or ends[-1]
    for most in (18.0, 900.0):
        before, asked = paper.y, paper.groups_height(row, most)
        paper.groups(row, most)
        assert before - paper.y == pytest.approx(asked)
    assert ends[2] - paper.left == pytest.approx(14 * 18.0 + 2 * 7 + 11 * 1)
    assert ends[5] - paper.left == pytest.approx(paper.width)


def test_a_lesson_is_printed_with_its_answers_on_a_later_page():
    """Steps in their order, positions as tiles in words, exposures in words, choices with letters."""
    lesson = Lesson("Ends", "First Steps", "2026", (
        ReadStep("Look twice."), DrillStep(Skill.LAY, hand="Low wall"),
        PositionStep("Lonely", "2b 3b 3b 5c 5c 6c we we 7d 7d", "dg", "pung wn jokers 1", ask="Open?",
                     choices=("yes", "no"), answer="no", say="It is exposed."),
    ))  # fmt: skip
    said = plain(PrintParts(find("first-steps"), hands=False, lesson=lesson))
    order = [
        "Look twice.", "Low wall", "Lonely", "2 bam, 3 bam", "pung of north wind", "green dragon", "Open?",
        "a) yes", "b) no", "Answers", "no It is exposed.",
    ]  # fmt: skip
    at = [said.index(part) for part in order]
    assert at == sorted(at)


@pytest.mark.slow
def test_the_library_is_loaded_late():
    """Neither the command line nor the window waits for it."""
    code = "import sys, game.__main__, game.commands.print, game.scenes.printing; print('reportlab' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, encoding="utf-8", check=True)
    assert done.stdout.strip().endswith("False")
