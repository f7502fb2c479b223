"""Explanation, sheet, choices and settings: what they do, and that they can be read at any size."""

import os
from itertools import pairwise

import pytest
from awkward import LONG_SHEET
from bare_desk import BareRoutes, summary
from harness import click, drawn, make_look, press, write

from engine.rules.house import FULL, House
from engine.sheet.shelf import find, shipped
from engine.tiles import rank_of
from game.play.settings import ALWAYS, HINTED
from game.scenes.choosing import ChooseScene, Faults
from game.scenes.home.scene import HomeScene
from game.scenes.house import HouseScene
from game.scenes.intro import ABOVE, IntroScene
from game.scenes.paths import last_folder, offered, remember
from game.scenes.settings import SettingsScene
from game.scenes.sheet.scene import SheetScene
from game.ui.popups import Question
from game.window.app import fitting
from game.words.house import house_words
from game.words.sheet import shown_rows

SIZE = (1440, 900)


@pytest.fixture
def routes():
    """Routes with an unfinished deal."""
    return BareRoutes(make_look(), unfinished=summary())


def test_first_start_explains_itself_on_one_screen(routes):
    """At 1024 by 640 nothing has to be scrolled, the standing of the group's rules is said once, Enter deals."""
    scene = IntroScene(routes, HomeScene(routes), first=True)
    texts = [one.text for one in drawn(scene, (1024, 640), 1.0)]
    assert all(area.furthest == 0 for area in scene.ui.areas)
    assert " ".join(texts).count(ABOVE) == 1
    assert press(scene, "return").place == "deal None"
    assert not routes.desk.first_start


@pytest.mark.slow
def test_a_first_start_begins_with_few_hands_and_shows_what_it_promises(routes):
    """The main button deals from the twelve hands, with advice shown; the other one from all sixty."""
    scene = IntroScene(routes, HomeScene(routes), first=True)
    texts = [one.text for one in drawn(scene, SIZE, 1.0)]
    assert "Begin with twelve hands" in texts
    assert "All 60 hands" in texts
    press(scene, "return")
    assert (routes.desk.current_sheet.name, routes.desk.settings.advice) == ("First Steps", ALWAYS)
    other = BareRoutes(make_look())
    scene = IntroScene(other, HomeScene(other), first=True)
    drawn(scene, SIZE, 1.0)
    press(scene, "a")
    assert (other.desk.current_sheet.name, other.desk.settings.advice) == ("Lantern Street", ALWAYS)


def test_how_it_plays_changes_no_setting(routes):
    """Read again later, the explanation leads back and leaves the advice as it was set."""
    home = HomeScene(routes)
    scene = IntroScene(routes, home, first=False)
    drawn(scene, SIZE, 1.0)
    assert press(scene, "escape") is home
    assert routes.desk.settings.advice == HINTED


@pytest.mark.slow
def test_sheet_shows_every_hand_of_every_section(routes):
    """Scrolling through it meets every name, every wording's first words and every number of points."""
    sheet = routes.desk.current_sheet
    scene = SheetScene(routes, sheet, HomeScene(routes))
    seen = set()
    drawn(scene, SIZE, 1.0)
    area = next(area for area in scene.ui.areas if area.name == "hands")
    for offset in range(0, area.furthest + area.rect.height, area.rect.height // 2):
        scene.ui.scroll_to("hands", offset)
        seen |= {one.text for one in drawn(scene, SIZE, 1.0)}
    for section in sheet.sections:
        assert section.name in seen
        for hand in section.hands:
            assert hand.name in seen
            assert f"{hand.points} points" in seen


def test_sheet_goes_to_a_section_by_key_and_by_click(routes):
    """The digits and the list at the side scroll to a section, which then is the current one."""
    scene = SheetScene(routes, routes.desk.current_sheet, HomeScene(routes))
    drawn(scene, SIZE, 1.0)
    names = [section.name for section in routes.desk.current_sheet.sections]
    press(scene, "4")
    assert scene.now(scene.ui) == names[3]
    click(scene, f"section {names[1]}")
    assert scene.now(scene.ui) == names[1]


@pytest.mark.parametrize("stem", shipped())
def test_shown_rows_are_variants_with_a_tab_for_each_varying_suit(stem):
    """Every row has 14 tiles; a hand in suit letters has tabs, equal letters over equal suits."""
    sheet = find(stem)
    for hand in sheet.hands:
        for row in shown_rows(sheet, hand):
            assert sum(group.size for group in row) == 14
            suits = {}
            for group in row:
                if group.tab in ("a", "b", "c") and group.kind < 27:
                    assert suits.setdefault(group.tab, group.kind // 9) == group.kind // 9
            assert len(set(suits.values())) == len(suits)
        first = hand.variants[0].groups
        shown = shown_rows(sheet, hand)[0]
        assert [(group.size, rank_of(group.kind)) for group in shown] == [
            (one.size, rank_of(one.kind)) for one in first
        ]
        assert tuple((group.size, group.kind) for group in shown) in {
            tuple((one.size, one.kind) for one in variant.groups) for variant in hand.variants
        }


@pytest.mark.parametrize("stem", shipped())
def test_no_suit_letter_has_a_colour_of_its_own(stem):
    """From one hand to the next the suits change, and every letter of three hands or more meets all three of them."""
    sheet = find(stem)
    met = {"a": [], "b": []}
    for hand in sheet.hands:
        for letter in met:
            suits = [group.kind // 9 for group in shown_rows(sheet, hand)[0] if group.tab == letter and group.kind < 27]
            met[letter] += suits[:1]
    for suits in met.values():
        if len(suits) > 2:
            assert set(suits) == {0, 1, 2}
            assert sum(before != after for before, after in pairwise(suits)) > (len(suits) - 1) / 2
    changes = sum(before != after for before, after in pairwise(met["a"]))
    assert changes > 0.9 * (len(met["a"]) - 1) or len(met["a"]) < 3


@pytest.mark.slow
def test_sections_are_unticked_but_never_all(routes):
    """Unticking cuts the next deal; the last section can't be unticked; ticking all again means the whole sheet."""
    scene = ChooseScene(routes, HomeScene(routes))
    names = [section.name for section in routes.desk.current_sheet.sections]
    for name in names[:-1]:
        drawn(scene, SIZE, 1.0)
        click(scene, name)
    assert routes.desk.chosen == (names[-1],)
    drawn(scene, SIZE, 1.0)
    click(scene, names[-1])
    assert routes.desk.chosen == (names[-1],)
    press(scene, "t")
    assert routes.desk.chosen is None


@pytest.mark.slow
def test_a_file_is_loaded_or_its_faults_are_listed(routes, tmp_path):
    """A sound file is chosen at once; of a broken one every fault is shown."""
    scene = ChooseScene(routes, HomeScene(routes))
    drawn(scene, SIZE, 1.0)
    good, bad = tmp_path / "good.yaml", tmp_path / "bad.yaml"
    good.write_text(LONG_SHEET, encoding="utf-8")
    bad.write_text("sheet: X\nseason: 2026\nsections:\n  - section: A\n    hands: []\n", encoding="utf-8")
    click(scene, "file")
    write(scene, str(good))
    assert press(scene, "return") is scene
    assert routes.desk.current_sheet.name.startswith("A sheet with a very long name")
    faults = scene.load(str(bad))
    assert isinstance(faults, Faults)
    assert any("bad.yaml" in one.text for one in drawn(faults, SIZE, 1.0))
    assert isinstance(scene.load(str(tmp_path / "missing.yaml")), Faults)
    assert scene.load("   ") is None


@pytest.mark.slow
def test_a_corrected_sheet_takes_the_place_of_the_one_before(routes, tmp_path):
    """Loaded again under the same name and season it is listed once, and what was loaded can be removed."""
    scene = ChooseScene(routes, HomeScene(routes))
    file = tmp_path / "mine.yaml"
    file.write_text(LONG_SHEET, encoding="utf-8")
    scene.load(str(file))
    first = routes.desk.current_sheet
    file.write_text(LONG_SHEET.replace("points: 1000", "points: 30"), encoding="utf-8")
    scene.load(str(file))
    second = routes.desk.current_sheet
    assert second.fingerprint != first.fingerprint
    assert [one.name for one in routes.desk.sheets()].count(first.name) == 1
    drawn(scene, SIZE, 1.0)
    question = press(scene, "m")
    assert isinstance(question, Question)
    drawn(question, SIZE, 1.0)
    assert press(question, "return") is scene
    assert first.name not in [one.name for one in routes.desk.sheets()]
    assert routes.desk.current_sheet.name == "Lantern Street"
    assert routes.desk.whole(second.cut((second.sections[0].name,))).fingerprint == second.fingerprint
    scene.load(str(file))
    assert routes.desk.current_sheet.fingerprint == second.fingerprint


@pytest.mark.slow
def test_shipped_sheets_cannot_be_removed(routes):
    """There is no button for it."""
    scene = ChooseScene(routes, HomeScene(routes))
    assert "Remove from the list" not in [one.text for one in drawn(scene, SIZE, 1.0)]


@pytest.mark.slow
def test_files_are_offered_so_that_no_path_must_be_typed(routes, tmp_path, monkeypatch):
    """Sheets in the home folder and in Downloads, recent ones first; one press loads."""
    monkeypatch.setenv("HOME", str(tmp_path))
    downloads = tmp_path / "Downloads"
    downloads.mkdir()
    (tmp_path / "notes.txt").write_text("no sheet", encoding="utf-8")
    for number, place in enumerate((tmp_path / "old.yaml", downloads / "new.yml")):
        place.write_text(LONG_SHEET, encoding="utf-8")
        os.utime(place, (1000 + number, 1000 + number))
    assert offered(routes.desk.store, [".yaml", ".yml"]) == [tmp_path / "old.yaml", downloads / "new.yml"]
    remember(routes.desk.store, downloads / "new.yml")
    assert offered(routes.desk.store, [".yaml", ".yml"]) == [downloads / "new.yml", tmp_path / "old.yaml"]
    assert last_folder(routes.desk.store) == f"{downloads}{os.sep}"
    scene = ChooseScene(routes, HomeScene(routes))
    drawn(scene, (1440, 2600), 1.0)
    assert click(scene, f"offer {tmp_path / 'old.yaml'}") is scene
    assert routes.desk.current_sheet.name.startswith("A sheet with a very long name")


def test_the_size_of_the_window_is_kept(routes):
    """The next start asks for it; what was damaged counts for nothing."""
    assert routes.desk.window is None
    routes.desk.save_window((1300, 777))
    assert routes.desk.window == (1300, 777)
    for damaged in ("wide", [1300], [1300, -5], [True, 700], [1000.5, 700]):
        routes.desk.store.set("window", damaged)
        assert routes.desk.window is None


def test_a_window_fits_its_desktop():
    """Never smaller than 1024 by 640 where the desktop has that room, never larger than the desktop with its bars."""
    assert fitting((1440, 900), (1920, 1080)) == (1440, 900)
    assert fitting((300, 200), (1920, 1080)) == (1024, 640)
    assert fitting((5000, 3000), (1920, 1080)) == (1805, 950)


@pytest.mark.slow
def test_settings_are_kept_as_they_are_changed(routes):
    """A click changes and keeps; a key is given another use, unless it is taken."""
    scene = SettingsScene(routes, HomeScene(routes))
    drawn(scene, SIZE, 1.0)
    click(scene, "advice: Hidden")
    click(scene, "motion: Off")
    assert (routes.desk.settings.advice, routes.desk.settings.motion) == ("hidden", False)
    for area in scene.ui.areas:
        scene.ui.scroll_to(area.name, area.furthest)
    drawn(scene, SIZE, 1.0)
    ask = click(scene, "key to say why")
    assert press(ask, "m") is ask
    assert "mahjong" in ask.fault
    assert press(ask, "k") is scene
    assert routes.desk.settings.key("why") == "k"


@pytest.mark.slow
def test_house_rules_are_kept_as_they_are_changed(routes):
    """Fewer jokers, another seat, two rounds of passes."""
    scene = HouseScene(routes, HomeScene(routes))
    drawn(scene, SIZE, 1.0)
    click(scene, "jokers: less")
    click(scene, "your seat: North")
    click(scene, "rounds: Two rounds")
    assert (routes.desk.house.jokers, routes.desk.house.seat, routes.desk.house.passes) == (7, 3, 6)


@pytest.mark.slow
def test_later_house_rules_are_chosen_on_the_screen(routes):
    """Every one of them, by what it may be; the others' strengths one by one."""
    desk = routes.desk
    desk.save_house(House(table=FULL, passes=6, courtesy=True, slips=True))
    scene = HouseScene(routes, HomeScene(routes))
    presses = {
        "vote: Always": ("vote", False),
        "blind: Second round only": ("blind_round", 2),
        "last_tiles: 16 tiles": ("last_tiles", 16),
        "discarder_pays_all: Pays for all": ("discarder_pays_all", True),
        "self_drawn_doubles: All pay single": ("self_drawn_doubles", False),
        "jokerless_doubles: Does not double": ("jokerless_doubles", False),
        "concealed_bonus: 10 points": ("concealed_bonus", 10),
        "loss_limit: 200 points": ("loss_limit", 200),
        "mistake_pays: 25 points": ("mistake_pays", 25),
        "east_stays: Stays East": ("east_stays", True),
        "alike: Each its own": ("others", "steady steady steady"),
        "strength 1: Sharp": ("others", "steady sharp steady"),
    }
    for name, (rule, value) in presses.items():
        drawn(scene, (1440, 2600), 1.0)
        click(scene, name)
        assert getattr(desk.house, rule) == value, name
    drawn(scene, (1440, 2600), 1.0)
    click(scene, "blind: None")
    assert (desk.house.blind, desk.house.blind_round) == (False, 0)
    drawn(scene, (1440, 2600), 1.0)
    click(scene, "alike: All alike, as in the settings")
    assert desk.house.others == ""


def test_house_rules_in_words():
    """Every rule that differs from the plainest table is named."""
    assert house_words(House()) == "quiet table, you are East, 8 jokers, all of the wall, no passes"
    full = House(table=FULL, jokers=1, seat=2, passes=6, courtesy=True, blind=False, slips=True)
    assert house_words(full) == (
        "full table, you are West, 1 joker, two rounds of passes, courtesy pass, no blind passes, slips may happen"
    )
    assert house_words(House(jokers=0, picks=1, passes=4)).endswith("no jokers, 1 pick, four passes")
