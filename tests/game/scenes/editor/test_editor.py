"""Writing a sheet in the window: typed, built by presses, changed, copied, moved, undone."""

import pygame
import pytest
from editor_kit import FOURTEEN, at_new_hand, begun, shown
from harness import check_records, click, drawn, key, press, write
from typist import Typist

from engine.sheet.reader import read
from engine.sheet.shelf import find, shipped
from engine.sheet.writing.document import Place
from game.play.writing.states import HandState
from game.scenes.editor.start import WriteScene
from game.scenes.sheet.invent import InventScene


def test_choosing_leads_on_to_writing_and_to_inventing(routes):
    """A press each."""
    scene = routes.choosing(routes.home())
    drawn(scene, (1440, 900), 1.0)
    assert isinstance(click(scene, "Write a sheet"), WriteScene)
    drawn(scene, (1440, 900), 1.0)
    assert isinstance(click(scene, "Invent a sheet"), InventScene)


@pytest.mark.slow
def test_the_pieces_of_the_sheet_are_listed_by_name(routes):
    """Sections and hands; one without a name says so."""
    said = [one.text for one in drawn(begun(routes, find("first-steps")), (1440, 900), 1.0)]
    assert {"Garden Path", "Low wall", "Two spoons"} <= set(said)
    assert "No name yet" not in said
    assert "No name yet" in [one.text for one in drawn(at_new_hand(routes), (1440, 900), 1.0)]


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
