"""What becomes of a sheet that is written: it is played, kept, gone on with, mended, written to a file, deleted."""

from types import SimpleNamespace

import pygame
import pytest
from broken_sheets import ALL
from editor_kit import LONG, at_new_hand, begun, shown
from harness import click, press, write

from engine.invent.balance import UnbalancedError
from engine.sheet.clauses import parse_where
from engine.sheet.parsing import parse_groups
from engine.sheet.shelf import find
from engine.sheet.writing.document import Place
from game.play.worker import Job
from game.play.writing.drafts import Drafts
from game.play.writing.starting import begin, go_on
from game.scenes.editor.more import FaultList, PlayPopup
from game.scenes.editor.notation import NOTATION
from game.scenes.editor.scene import EditorScene
from game.window.open import first_scene


def test_a_half_finished_sheet_is_played(routes):
    """The hands that are whole become the sheet of the next deal; the next state of the sheet takes its place."""
    scene = begun(routes, find("first-steps"))
    scene.go(Place(0, 0))
    scene.new_hand()
    scene.writing.put("hand", "Half")
    popup = shown(scene).use()
    assert isinstance(popup, PlayPopup)
    assert (popup.found.whole, popup.found.hands) == (12, 13)
    assert popup.home().desk.current_sheet.name == "First Steps, changed"
    assert len(routes.desk.current_sheet.hands) == 12
    assert Drafts.beside(routes.desk.store.path).in_writing().about.name == "First Steps, changed"
    scene.remove()
    PlayPopup(scene).home()
    assert [sheet.name for sheet in routes.desk.sheets()].count("First Steps, changed") == 1
    assert Drafts.beside(routes.desk.store.path).in_writing() is None


def test_leaving_keeps_and_home_names_it(routes):
    """Esc leaves; home names the sheet being written and leads back to the hand that was worked on."""
    scene = at_new_hand(routes)
    write(scene, "Wet pier")
    start = press(scene, "escape")
    home = shown(routes.home())
    assert not isinstance(start, EditorScene)
    again = click(home, "Go on writing")
    assert isinstance(again, EditorScene)
    assert again.writing.place == Place(0, 0)
    assert again.text_of("hand") == "Wet pier"


def test_a_sheet_in_which_nothing_was_done_is_not_kept(routes):
    """Begun and left at once it is gone; one letter, and it stays."""
    drafts = Drafts.beside(routes.desk.store.path)
    scene = begun(routes)
    press(scene, "escape")
    assert drafts.notes() == ()
    scene = begun(routes)
    write(scene, "W")
    press(scene, "escape")
    assert [note.about.name for note in drafts.notes()] == ["W"]


def test_the_next_start_goes_on_in_the_editor(routes):
    """A window closed over the editor opens there again; left by Esc it opens at home."""
    scene = at_new_hand(routes)
    write(scene, "Wet pier")
    scene.closing()
    again = first_scene(routes)
    assert isinstance(again, EditorScene)
    assert again.text_of("hand") == "Wet pier"
    again.back()
    assert not isinstance(first_scene(routes), EditorScene)


@pytest.mark.slow
def test_a_broken_file_opens_at_its_fault(routes, tmp_path):
    """At the hand at fault; remarks stay; the last good copy is offered, and undone again."""
    file = tmp_path / "ours.yaml"
    good = "# ours\n" + find("first-steps").canonical
    file.write_text(good, encoding="utf-8")
    routes.choosing(routes.home()).load(str(file))
    name = find("first-steps").hands[4].name
    at = good.index("groups: ", good.index(name))
    file.write_text(good[:at] + "groups: pong a.n, " + good[at + 8 :], encoding="utf-8")
    faults = shown(routes.choosing(routes.home())).load(str(file))
    scene = shown(press(shown(faults), "m"))
    assert scene.text_of("hand") == name
    assert scene.notice.startswith("This file has 1 fault; you are at")
    assert scene.writing.document.text.startswith("# ours\n")
    click(scene, "Take the last copy without a fault")
    assert scene.writing.document.text == good
    press(scene, "ctrl+z")
    assert "pong a.n" in scene.writing.document.text


def test_lines_that_no_form_fits_are_mended(routes, tmp_path):
    """A tab in a hand: its lines are shown, one is mended, and the form is there again."""
    file = tmp_path / "ours.yaml"
    text = find("first-steps").canonical.replace("        points", "\tpoints", 1)
    file.write_text(text, encoding="utf-8")
    scene = shown(routes.write_file(file, routes.home()))
    scene.enter()
    shown(scene)
    assert scene.writing.form is None
    number = next(n for n, line in enumerate(scene.writing.piece.splitlines()) if line.startswith("\t"))
    scene.to_field(f"line {number}")
    shown(scene)
    press(scene, "ctrl+a")
    write(scene, f"        points: {find('first-steps').hands[0].points}")
    click(scene, "Read them again")
    assert scene.writing.form is not None
    assert scene.writing.document.text == find("first-steps").canonical


def test_a_file_is_written_and_not_over_another(routes, tmp_path):
    """Written as it stands, remarks and all; a file that somebody else has changed since is asked about."""
    file = tmp_path / "ours.yaml"
    file.write_text("# ours\n" + find("first-steps").canonical, encoding="utf-8")
    scene = shown(routes.write_file(file, routes.home()))
    scene.go(Place(0, 0))
    scene.writing.put("hand", "Wet pier")
    popup = scene.more().file()
    assert popup.text == str(file)
    assert popup.go() is scene
    assert file.read_text(encoding="utf-8").startswith("# ours\n")
    assert "Wet pier" in file.read_text(encoding="utf-8")
    file.write_text("# theirs\n", encoding="utf-8")
    popup = scene.more().file()
    assert popup.go() is None
    assert "another text" in popup.trouble
    assert file.read_text(encoding="utf-8") == "# theirs\n"
    assert popup.go() is scene
    assert "Wet pier" in file.read_text(encoding="utf-8")


def test_faults_are_listed_with_their_hands(routes):
    """Each leads to its hand; a name that is there twice is one of them."""
    scene = begun(routes, find("first-steps"))
    scene.go(Place(0, 1))
    scene.writing.put("hand", find("first-steps").hands[0].name)
    scene.go(Place(1, 0))
    scene.writing.put("where", "n strange")
    scene.enter()
    shown(scene)
    faults = FaultList(scene)
    assert len(scene.writing.all_faults()) == 2
    assert click(shown(faults), "fault 1") is scene
    assert scene.writing.place == Place(0, 1)


def test_a_draft_is_deleted_when_that_is_said_twice(routes):
    """Asked once, then gone; other drafts stay."""
    drafts = Drafts.beside(routes.desk.store.path)
    kept = begin(drafts, "sheet: Kept\n").draft
    scene = begun(routes)
    asked = shown(shown(scene.more()).ask_to_remove())
    press(asked, "d")
    assert [note.id for note in drafts.notes()] == [kept]
    assert go_on(drafts, kept).name == "Kept"


def test_an_invented_sheet_is_begun_with(routes, monkeypatch):
    """Invented in the background, then there to be changed, with the remarks that say what its sections are about."""
    sheet = find("first-steps")
    made = SimpleNamespace(sheet=sheet, text=f"# Invented.\n{sheet.canonical}")
    wishes = []
    monkeypatch.setattr("game.scenes.editor.start.invent", lambda wish, **_: wishes.append(wish) or made)
    start = shown(routes.writing(routes.home()))
    click(start, "Invent one")
    scene = click(start, "Begin with it")
    assert [wish.hands for wish in wishes] == [24]
    assert scene.writing.document.text == made.text


def test_other_work_ends_inventing(routes):
    """The editor's own work takes the worker; back at the start another sheet can be invented."""
    start = routes.writing(routes.home())
    start.inventing = Job.alone()
    start.enter()
    assert start.inventing is not None
    start.inventing.stop()
    start.enter()
    assert start.inventing is None


def test_no_balance_is_said(routes, monkeypatch):
    """Where the sheet can't be balanced a sentence says so, and it can be tried again."""

    def refused(*_, **__):
        raise UnbalancedError("no balance was found in 3 looks")

    monkeypatch.setattr("game.scenes.editor.start.invent", refused)
    start = shown(routes.writing(routes.home()))
    click(start, "Invent one")
    assert start.trouble == "No balance was found in 3 looks; try again."
    assert start.inventing is None


def test_the_examples_of_the_notation_can_be_read():
    """Every example of the help parses as what it shows."""
    for written, _ in NOTATION:
        parsed = parse_where(written) if ";" in written else parse_groups(written)
        assert not parsed.errors, written


@pytest.mark.slow
def test_broken_files_open(routes, tmp_path):
    """Every third broken file of the reader's tests: it opens at its first fault, can be drawn, and is in the draft to
    the character; what is no text is refused."""
    file = tmp_path / "ours.yaml"
    opened = 0
    for case in [case for case in ALL if len(case.content) < LONG][::3]:
        file.write_bytes(case.content)
        try:
            scene = routes.write_file(file, routes.home())
        except ValueError:
            continue
        opened += 1
        scene.enter()
        routes.desk.worker.poll()
        scene.draw(pygame.Surface((640, 400)))
        assert scene.notice, case.name
        text = case.content.decode("utf-8").removeprefix("\ufeff")
        assert scene.writing.rewritten or scene.writing.document.text.rstrip("\n") == text.rstrip("\n"), case.name
        scene.cut_again()
        scene.afresh()
        scene.draw(pygame.Surface((640, 400)))
        scene.back()
    assert opened > 25
