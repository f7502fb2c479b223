"""Writing a sheet in the window: typed, built by presses, changed, undone, kept, played."""

from types import SimpleNamespace

import pygame
import pytest
from at_table import routes_over
from broken_sheets import ALL
from harness import check_records, click, drawn, key, make_look, press, write
from typist import Typist

from engine.invent.balance import UnbalancedError
from engine.sheet.clauses import parse_where
from engine.sheet.parsing import parse_groups
from engine.sheet.reader import read
from engine.sheet.shelf import find, shipped
from engine.sheet.writing.document import Place
from game.play.worker import Job
from game.play.writing.drafts import Drafts
from game.play.writing.starting import begin, go_on
from game.play.writing.states import HandState
from game.scenes.editor.more import FaultList, PlayPopup
from game.scenes.editor.notation import NOTATION
from game.scenes.editor.scene import EditorScene
from game.scenes.editor.start import WriteScene
from game.scenes.sheet.invent import InventScene
from game.window.open import first_scene

LONG = 5000
"""Characters of a file that takes its time to be read."""
FOURTEEN = "quint a.n, kong b.n, pung c.n, pair b.n+2"


@pytest.fixture
def routes(tmp_path):
    """Routes over a store of its own."""
    made = routes_over(make_look(), tmp_path / "lone-east.sqlite")
    made.desk.explained()
    yield made
    made.desk.store.close()


def begun(routes, sheet=None):
    """An editor with an empty sheet, or a copy of one whose hands are all looked at."""
    start = routes.writing(routes.home())
    scene = start.empty() if sheet is None else start.copy(sheet)
    scene.enter()
    routes.desk.worker.poll()
    return shown(scene)


def shown(scene):
    """The scene after a frame."""
    if isinstance(scene, EditorScene):
        scene.desk.worker.poll()
    scene.draw(pygame.Surface((1440, 900)))
    return scene


def at_new_hand(routes):
    """An empty hand of an empty sheet."""
    scene = begun(routes)
    return press(scene, "ctrl+n")


def test_choosing_leads_on_to_writing_and_to_inventing(routes):
    """A press each."""
    scene = routes.choosing(routes.home())
    drawn(scene, (1440, 900), 1.0)
    assert isinstance(click(scene, "Write a sheet"), WriteScene)
    drawn(scene, (1440, 900), 1.0)
    assert isinstance(click(scene, "Invent a sheet"), InventScene)


@pytest.mark.slow
def test_a_hand_is_typed_letter_by_letter(routes):
    """Keys alone, each with its frame: name, groups, clauses, points; Enter goes on, and at the end to a new hand."""
    scene = at_new_hand(routes)
    typist = Typist(scene, letters=True)
    hand = find("first-steps").hands[0]
    typist.write_hand(hand)
    place = scene.writing.place
    assert scene.writing.hand(place).variants == hand.variants
    press(scene, "return")
    assert scene.writing.place == Place(0, 1)
    assert scene.field == "hand"


@pytest.mark.slow
@pytest.mark.parametrize("stem", shipped())
def test_every_shipped_sheet_is_typed(routes, stem):
    """From the sheet's name to the points of its last hand by keys alone: the same text as our plain form."""
    sheet = find(stem)
    scene = begun(routes)
    Typist(scene).write_sheet(sheet)
    assert scene.writing.document.text == sheet.canonical


def unlike(sheet):
    """Hands of a sheet, each with a form of tile, clause, hold or alternative that none before it has."""
    seen = set()
    for hand in sheet.hands:
        marks = {type(clause).__name__ for clause in hand.where} | {f"{len(hand.lines)} lines", hand.concealed}
        for pattern in (pattern for line in hand.lines for pattern in line.patterns):
            tile = pattern.tile
            offset = getattr(tile, "offset", 0)
            marks.add(
                (type(tile).__name__, getattr(tile, "variable", None), offset < 0, len(getattr(tile, "name", "")) == 1)
            )
        if not marks <= seen:
            seen |= marks
            yield hand


def built(routes, season, hands):
    """Builds each hand by presses in an empty sheet and compares what it comes to."""
    scene = begun(routes)
    typist = Typist(scene)
    typist.begin_building(season)
    for hand in hands:
        typist.build_hand(hand)
        scene.enter()
        typist.show()
        made = scene.writing.hand(scene.writing.place)
        assert made is not None, (hand.name, scene.writing.faults(scene.writing.place))
        assert (made.variants, made.concealed, made.points) == (hand.variants, hand.concealed, hand.points), hand.name
        scene.new_hand()
        typist.show()


def test_a_hand_is_built_by_presses(routes):
    """Size, suit and number by the pad alone."""
    built(routes, "2026", find("first-steps").hands[:1])


@pytest.mark.slow
def test_every_form_of_hand_is_built_by_presses(routes):
    """Each form of tile, clause, hold and alternative of the full sheet. The bench builds every hand of every sheet."""
    sheet = find("lantern-street")
    hands = list(unlike(sheet))
    assert len(hands) > 12
    built(routes, sheet.season, hands)


def test_suggestions_are_taken(routes):
    """Ctrl and a figure takes what may come next; a figure and a blank is a size."""
    scene = at_new_hand(routes)
    scene.to_field("groups 0")
    shown(scene)
    write(scene, "5")
    write(scene, " ")
    assert scene.text_of("groups 0") == "quint "
    press(scene, "ctrl+1")
    assert scene.text_of("groups 0") == "quint a."
    press(scene, "ctrl+1")
    assert scene.text_of("groups 0") == "quint a.n"
    click(scene, "size pair")
    click(scene, "put flower")
    assert scene.text_of("groups 0") == "quint a.n, pair flower"
    scene.to_field("where")
    shown(scene)
    click(scene, "next: n odd")
    assert scene.text_of("where") == "n odd"


def test_a_fault_is_shown_where_it_is(routes):
    """The word is underlined, the sentence bears the hand's name; what is only half typed is no fault yet."""
    scene = at_new_hand(routes)
    write(scene, "Wet pier")
    press(scene, "return")
    write(scene, "quint a.n, kong d.3, pu")
    scene.enter()
    shown(scene)
    texts = [text for _, _, text in scene.said]
    assert [text for text in texts if text.startswith("“Wet pier”: “d” is no suit")]
    assert not [text for text in texts if "pu" in text]
    press(scene, "home")
    assert [text for _, _, text in scene.said if "“pu” is no size" in text]
    assert scene.writing.state(scene.writing.place) is HandState.FAULTY
    assert not check_records(drawn(scene, (1440, 900), 1.0), (1440, 900))


def test_what_a_hand_comes_to_is_said(routes):
    """Tiles to go, then ways and wording."""
    scene = at_new_hand(routes)
    write(scene, "Wet pier")
    press(scene, "return")
    write(scene, "quint a.n, kong b.n")
    shown(scene)
    assert [text for _, _, text in scene.said if text == "9 of 14 tiles: 5 to go."]
    write(scene, ", pung c.n, pair b.n+2")
    press(scene, "return", "return")
    write(scene, "25")
    shown(scene)
    ((mark, _, said),) = scene.said
    assert mark == "tick"
    assert said.startswith("Whole: 42 ways to make it. ")
    assert scene.writing.counts == (1, 1)


@pytest.mark.slow
def test_groups_are_chosen_changed_moved_and_taken_out(routes):
    """A press on the tiles of a group, then on a size, a tile, or a button."""
    scene = begun(routes, find("first-steps"))
    scene.go(Place(0, 0))
    scene.typed("groups", 0, FOURTEEN)
    shown(scene)
    click(scene, "group 0.1")
    click(scene, "size pung")
    assert scene.text_of("groups 0") == "quint a.n, pung b.n, pung c.n, pair b.n+2"
    click(scene, "put wind west")
    assert scene.text_of("groups 0") == "quint a.n, pung wind west, pung c.n, pair b.n+2"
    click(scene, "Move it left")
    assert scene.text_of("groups 0") == "pung wind west, quint a.n, pung c.n, pair b.n+2"
    click(scene, "Take it out")
    assert scene.text_of("groups 0") == "quint a.n, pung c.n, pair b.n+2"
    for _ in range(4):
        press(scene, "ctrl+z")
    assert scene.text_of("groups 0") == FOURTEEN
    press(scene, "ctrl+y")
    assert scene.text_of("groups 0") == "quint a.n, pung b.n, pung c.n, pair b.n+2"


@pytest.mark.slow
def test_hands_are_copied_moved_and_taken_out_by_keys(routes):
    """Ctrl D copies, Alt and arrows move over the edge of a section, Ctrl Delete takes out; undo brings all back."""
    scene = begun(routes, find("first-steps"))
    before = scene.writing.document.text
    scene.go(Place(0, 0))
    press(scene, "ctrl+d")
    assert scene.writing.place == Place(0, 1)
    assert scene.text_of("hand") == ""
    write(scene, "Its twin")
    last = len(scene.writing.document.sections[0].hands) - 1
    for _ in range(last):
        scene.handle(key("down", pygame.KMOD_ALT))
    assert scene.writing.place == Place(1, 0)
    assert scene.text_of("hand") == "Its twin"
    press(scene, "ctrl+up", "ctrl+up")
    assert scene.writing.place == Place(0, last - 1)
    press(scene, "ctrl+delete")
    assert read(scene.writing.document.text).sheet is not None
    for _ in range(last + 3):
        press(scene, "ctrl+z")
    assert scene.writing.document.text == before


def test_a_section_comes_and_goes(routes):
    """Ctrl E begins one; taken out with hands it is asked about."""
    scene = begun(routes, find("first-steps"))
    press(scene, "ctrl+e")
    write(scene, "Quays")
    press(scene, "return")
    write(scene, "Wet pier")
    place = scene.writing.place
    assert scene.writing.name_at(Place(place.section)) == "Quays"
    scene.go(Place(place.section))
    more = shown(scene.more())
    asked = shown(press(more, "t"))
    assert asked is not scene
    press(asked, "t")
    assert "Quays" not in scene.writing.document.text
    press(scene, "ctrl+z")
    assert "Wet pier" in scene.writing.document.text


def test_names_are_spelt_by_the_mouse(routes):
    """Letters, a blank, back, and a name that is found for one."""
    scene = at_new_hand(routes)
    for name in ("letter A", "letter b", "Space", "letter c", "Back one letter", "letter d"):
        click(scene, name)
    assert scene.text_of("hand") == "Ab d"
    click(scene, "Name it for me")
    named = scene.text_of("hand")
    assert named
    press(scene, "ctrl+n")
    click(scene, "Name it for me")
    assert scene.text_of("hand") not in ("", named)


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
