"""The sheet as a place to learn in: its hands are found, listed by the rack and opened; the way to its study."""

import pytest
from harness import click, drawn, press
from sheet_scene_kit import RACK, SIZE, texts

from engine.sheet.study.finding import Finding
from game.scenes.sheet.compare import PRACTISE, CompareScene
from game.scenes.sheet.find import FindPopup
from game.scenes.sheet.hand_page import HandScene
from game.scenes.sheet.scene import SheetScene
from game.scenes.sheet.study import StudyScene
from game.words.sheet import finding_words


def test_a_hand_is_pressed_and_opens_its_page(routes, home, sheet):
    """By mouse; Esc leads back to the sheet."""
    scene = SheetScene(routes, sheet, home)
    drawn(scene, SIZE, 1.0)
    page = click(scene, f"hand {sheet.hands[1].name}")
    assert isinstance(page, HandScene)
    assert page.hand == sheet.hands[1]
    assert press(page, "escape") is scene


@pytest.mark.slow
def test_the_sheet_leads_to_the_study_and_the_comparison(routes, home, sheet):
    """By their keys, and back."""
    scene = SheetScene(routes, sheet, home)
    for name, kind in (("u", StudyScene), ("c", CompareScene)):
        drawn(scene, SIZE, 1.0)
        there = press(scene, name)
        assert isinstance(there, kind)
        assert press(there, "escape") is scene


@pytest.mark.slow
def test_hands_are_found_by_a_tile(routes, home, sheet):
    """“Who wants the 6 bam?”: the list holds those hands only, says so, and shows all again by one key."""
    scene = SheetScene(routes, sheet, home)
    drawn(scene, SIZE, 1.0)
    popup = press(scene, "f")
    assert isinstance(popup, FindPopup)
    drawn(popup, SIZE, 1.0)
    click(popup, "tile east wind")
    wanted = [hand.name for hand in sheet.hands if any(27 in [g.kind for g in v.groups] for v in hand.variants)]
    drawn(popup, SIZE, 1.0)
    assert press(popup, "return") is scene
    shown = texts(scene)
    assert f"Hands with the east wind: {len(wanted)} of 60 hands." in shown
    assert [target.name for target in scene.ui.targets if target.name.startswith("hand ")] == [
        f"hand {name}" for name in wanted
    ]
    press(scene, "a")
    assert scene.hands.finding == Finding()


def test_a_search_that_finds_nothing_says_what_to_do(routes, home, sheet):
    """No empty list without a word; the popup's button can't be pressed."""
    scene = SheetScene(routes, sheet, home)
    scene.hands.finding = Finding(kind=27, size=6)
    assert "No hand of this sheet is like that." in texts(scene)
    popup = FindPopup(scene, scene.hands)
    drawn(popup, SIZE, 1.0)
    assert [target.enabled for target in popup.ui.targets if target.name == "Show 0 hands"] == [False]


@pytest.mark.slow
def test_hands_by_the_rack_only_where_there_is_a_rack(routes, home, sheet):
    """At a table the hands that the rack serves best come first, each with how many tiles."""
    bare = SheetScene(routes, sheet, home)
    assert "my rack" not in texts(FindPopup(bare, bare.hands))
    scene = SheetScene(routes, sheet, home, rack=RACK)
    popup = FindPopup(scene, scene.hands)
    drawn(popup, SIZE, 1.0)
    click(popup, "Put the hands that my rack serves best first")
    shown = texts(scene)
    assert "By your rack, nearest first" in shown
    best = max(max(sum(map(min, [RACK.count(k) for k in range(36)], v.total)) for v in h.variants) for h in sheet.hands)
    assert f"{best} tiles of your rack" in shown


def test_a_section_that_is_hidden_by_a_search_is_shown_when_gone_to(routes, home, sheet):
    """Going to a section takes the search back."""
    scene = SheetScene(routes, sheet, home)
    scene.hands.finding = Finding(kind=27)
    drawn(scene, SIZE, 1.0)
    press(scene, "1")
    assert scene.hands.finding == Finding()


@pytest.mark.parametrize(
    ("finding", "words"),
    [
        (Finding(), "Hands"),
        (Finding(kind=5), "Hands with the 6 bam"),
        (Finding(kind=5, size=3), "Hands with a pung of 6 bams"),
        (Finding(size=6, concealed=False), "Open hands with a sextet"),
        (Finding(flowers=False, concealed=True, least_points=40), "Concealed hands without flowers and from 40 points"),
    ],
)
def test_what_is_looked_for_in_words(finding, words):
    """One phrase, whatever is looked for."""
    assert finding_words(finding) == words


@pytest.mark.parametrize(("size", "scale"), [((1024, 640), 1.0), ((1024, 640), 2.0), (SIZE, 1.0)])
@pytest.mark.slow
def test_the_rack_stays_in_sight_at_a_table(routes, home, sheet, size, scale):
    """Under the sheet and under a hand's page, in any window; nothing that can be pressed lies on it."""
    scene = SheetScene(routes, sheet, home, rack=RACK)
    for one in (scene, scene.open(sheet.hands[0])):
        drawn(one, size, scale)
        area = next(area for area in one.ui.areas if area.name in ("hands", "hand"))
        below = [text.text for text in drawn(one, size, scale) if text.rect.top >= area.rect.bottom]
        assert sorted(text for text in below if text.isdigit()) == sorted("55566772" + "33")
        seen = [target.rect for target in one.ui.targets if target.rect.height]
        assert all(rect.bottom <= area.rect.bottom + 8 for rect in seen)


@pytest.mark.parametrize(("size", "scale"), [((1024, 640), 1.0), ((1024, 640), 2.0), (SIZE, 1.0)])
@pytest.mark.slow
def test_study_and_comparison_stand_over_the_rack(routes, home, sheet, size, scale):
    """Opened at a table from the sheet, they leave the rack in sight, and so do the hands that they lead to."""
    scene = SheetScene(routes, sheet, home, rack=RACK)
    for name in ("u", "c"):
        drawn(scene, size, scale)
        there = press(scene, name)
        for one in (there, there._open(sheet.hands[0])):
            written = drawn(one, size, scale)
            bottom = max(area.rect.bottom for area in one.ui.areas)
            below = [text.text for text in written if text.rect.top >= bottom]
            assert sorted(text for text in below if text.isdigit()) == sorted("55566772" + "33")
            assert all(target.rect.bottom <= bottom + 8 for target in one.ui.targets if target.rect.height)


@pytest.mark.slow
def test_no_rack_is_dealt_beside_the_rack(routes, home, sheet):
    """At a table the comparison has no racks to practise on."""
    assert PRACTISE not in texts(CompareScene(routes, sheet, home, RACK))
    assert PRACTISE in texts(CompareScene(routes, sheet, home))
