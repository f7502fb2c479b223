"""The sheet as a place to learn in: hands found and opened, variants turned over, pictures pressed, sheets compared."""

from dataclasses import replace

import pygame
import pytest
from at_table import routes_over
from bare_desk import BareRoutes
from harness import click, drawn, key, make_look, press
from polling import poll_until

from engine.drills.rehearsal import KIND
from engine.sheet.reader import read
from engine.sheet.shelf import find
from engine.sheet.study.finding import Finding
from engine.tiles import DRAGONS, FLOWER, NAMES, parse_tiles
from engine.words import sentence
from game.play.lines import line_of
from game.play.practice.ledgers import NEAR
from game.play.worker import Worker
from game.scenes.home import HomeScene
from game.scenes.sheet.compare import CHANGED, GONE, KEPT, NEW, PRACTISE, CompareScene
from game.scenes.sheet.find import FindPopup
from game.scenes.sheet.hand_page import HandScene
from game.scenes.sheet.heat import MADE
from game.scenes.sheet.made import Made
from game.scenes.sheet.scene import SheetScene
from game.scenes.sheet.study import COUNTS, SECTIONS, SHAPES, TILES, BehindPopup, StudyScene
from game.words.sheet import finding_words, fixed_words, shown_variants
from game.words.study import shape_words

SIZE = (1440, 900)
RACK = parse_tiles("5d 5d 5d 6d 6d 7d 7d 2b 3b 3b fl fl jk we")


@pytest.fixture
def routes():
    return BareRoutes(make_look())


@pytest.fixture
def home(routes):
    return HomeScene(routes)


@pytest.fixture
def sheet(routes):
    return routes.desk.current_sheet


SIZES = range(1, 7)


def groups_of(hand):
    """Every (size, kind) of a group in any variant."""
    return {(group.size, group.kind) for variant in hand.variants for group in variant.groups}


def texts(scene):
    """All that is written on a scene, in one string."""
    return " ".join(one.text for one in drawn(scene, SIZE, 1.0))


# The sheet.


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


# A hand's page.


@pytest.mark.parametrize("name", ["Handrail", "Ebb and flow", "Old calendar", "Storm glass"])
@pytest.mark.slow
def test_all_variants_are_turned_over(routes, home, sheet, name):
    """Right goes through every variant once and comes round; left goes back."""
    hand = sheet.hand(name)
    page = HandScene(routes, sheet, hand, home, Made(sheet, None))
    seen = []
    for _ in hand.variants:
        assert f"Way {page.place + 1} of {len(hand.variants)}." in texts(page)
        seen.append(page.place)
        press(page, "right")
    assert (seen, page.place) == (list(range(len(hand.variants))), 0)
    press(page, "left")
    assert page.place == len(hand.variants) - 1


def test_the_wheel_over_the_tiles_turns_them(routes, home, sheet, monkeypatch):
    """One notch, one variant; elsewhere the wheel scrolls."""
    page = HandScene(routes, sheet, sheet.hands[0], home, Made(sheet, None))
    drawn(page, SIZE, 1.0)
    over = page._tiles.center
    for at, place in ((over, 1), ((5, 5), 1)):
        monkeypatch.setattr(pygame.mouse, "get_pos", lambda at=at: at)
        page.handle(pygame.event.Event(pygame.MOUSEWHEEL, y=-1, x=0, precise_y=-1.0))
        assert page.place == place


def test_moved_groups_are_those_that_differ(routes, home, sheet):
    """The places marked are those whose tiles or tabs are others than before."""
    hand = sheet.hand("Sandglass")
    shown = shown_variants(sheet, hand)
    page = HandScene(routes, sheet, hand, home, Made(sheet, None))
    assert page.moved == ()
    for place in range(1, len(shown)):
        page.turn(1)
        pairs = zip(shown[place], shown[place - 1], strict=True)
        assert page.moved == tuple(at for at, (now, before) in enumerate(pairs) if now != before)
        assert page.moved


@pytest.mark.parametrize("stem", ["first-steps", "lantern-street"])
def test_shown_variants_are_the_hands_variants(stem):
    """Row by row the same groups, in the same order of variants."""
    sheet = find(stem)
    for hand in sheet.hands:
        rows = shown_variants(sheet, hand)
        assert [sorted((group.size, group.kind) for group in row) for row in rows] == [
            sorted((group.size, group.kind) for group in variant.groups) for variant in hand.variants
        ]


def test_what_stays_is_in_every_variant():
    """The groups said to stay are in all variants, and groups that are in all are said."""

    def said(groups):
        rows = ["sheet: Made", "season: 2026", "sections:", "- section: One", "  hands:", "  - hand: Alone"]
        return fixed_words(read("\n".join([*rows, f"    groups: {groups}", "    points: 25"])).sheet.hands[0])

    assert said("quint a.n, kong b.n+2, pung a.n+4, pair flower") == (
        "In all 30 ways the pair of flowers stays as shown; the rest moves."
    )
    assert said("quint flower, single dragon red, kong a.n, kong wind u") == (
        "In all 108 ways the quint of flowers and the single red dragon stay as shown; the rest moves."
    )
    assert said("quint a.n, quint b.n, kong c.n") == "Nothing of it is fixed: all its groups move over 27 ways."
    assert said("sextet flower, quint zero, pung wind east") == "There is one way to make it."


def test_neighbours_lead_on_and_back(routes, home, sheet):
    """A near hand opens its own page, which leads back to this one."""
    page = HandScene(routes, sheet, sheet.hands[0], home, Made(sheet, None))
    drawn(page, SIZE, 1.0)
    name = next(target.name for target in page.ui.targets if target.name.startswith("near "))
    other = click(page, name)
    assert f"near {other.hand.name}" == name
    assert press(other, "escape") is page


@pytest.mark.slow
def test_a_rack_near_the_hand_is_dealt_and_counted_apart(tmp_path):
    """The deal is kept under a kind of its own, of the whole sheet, with the hand in reach; a rehearsal likewise."""
    routes = routes_over(make_look(), tmp_path / "lone-east.sqlite")
    sheet = find("first-steps")
    page = HandScene(routes, sheet, sheet.hand("Low wall"), HomeScene(routes), Made(sheet, None))
    drawn(page, SIZE, 1.0)
    table = press(page, "d")
    store = routes.desk.store
    assert store.line(line_of(table.sitting)).kind == NEAR
    assert table.sitting.state.sheet.name == "First Steps"
    drawn(page, SIZE, 1.0)
    passes = press(page, "e")
    assert store.line(line_of(passes.sitting)).kind == KIND
    assert passes.sitting.state.sheet.chosen is None
    store.close()


def test_no_deal_is_offered_at_a_table(routes, home, sheet):
    """With a rack in hand the page only teaches."""
    page = SheetScene(routes, sheet, home, rack=RACK).open(sheet.hands[0])
    assert "Deal me a rack" not in texts(page)


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


@pytest.mark.slow
def test_a_sheet_is_compared_with_its_last_season_first(routes, home):
    """Whatever else is on the shelf."""
    scene = CompareScene(routes, find("lantern-street-2027"), home)
    assert (scene.old.name, scene.old.season) == ("Lantern Street", "2026")


def test_a_sheet_is_studied_in_the_background():
    """A worker counts; until it has, the screen says so."""
    worker = Worker()
    routes = BareRoutes(make_look())
    routes.desk.worker = worker
    scene = StudyScene(routes, routes.desk.current_sheet, HomeScene(routes))
    assert "The sheet is being counted." in texts(scene)
    poll_until(worker, lambda: scene.heat is not None)
    assert "The sheet is being counted." not in texts(scene)
    assert scene.study.hands == 60
    worker.close()


@pytest.mark.slow
def test_a_deal_near_the_hand_to_turn_to(routes, home, sheet):
    """From a rack to practise on that was answered."""
    scene = CompareScene(routes, sheet, home)
    scene.show(PRACTISE)
    drawn(scene, SIZE, 1.0)
    press(scene, "return")
    drawn(scene, SIZE, 1.0)
    assert "deal near" in press(scene, "d").place


def test_a_page_says_what_was_counted_and_turns_only_where_there_is_more(routes, home, sheet):
    """The sentence before anything was counted; the buttons that turn are dead where a hand has one way."""
    hand = sheet.hands[0]
    for variants in (hand.variants[:1], hand.variants[:2]):
        page = HandScene(routes, sheet, replace(hand, variants=variants), home, Made(sheet, None))
        assert "Nobody has counted yet" in texts(page)
        turning = {
            target.name: target.enabled for target in page.ui.targets if target.name in ("Way before", "Next way")
        }
        assert turning == dict.fromkeys(("Way before", "Next way"), len(variants) > 1)


@pytest.mark.slow
def test_how_often_a_hand_comes_off_is_counted_in_the_background():
    """Deals are played on the worker's thread; what is said are the counts of the command's first deals."""
    sheet = find("first-steps")
    worker = Worker()
    made = Made(sheet, worker)
    routes = BareRoutes(make_look())
    page = HandScene(routes, sheet, sheet.hand("Curtains"), HomeScene(routes), made)
    assert "Nobody has counted yet" in texts(page)
    press(page, "o")
    poll_until(worker, lambda: made.tally is not None)
    assert made.running
    count = next(one for one in made.tally.hands if one.name == "Curtains")
    assert f"made in {count.made} of {count.deals} practice deals so far" in texts(page)
    worker.close()


# The study.


@pytest.mark.parametrize("kind", [4, *DRAGONS, FLOWER])
@pytest.mark.slow
def test_a_pressed_tile_names_its_hands(routes, home, sheet, kind):
    """As many hands as the cell says, each a way to its page."""
    study = StudyScene(routes, sheet, home)
    study.show(TILES)
    drawn(study, SIZE, 1.0)
    click(study, f"tile {NAMES[kind]}")
    wanted = [hand for hand in sheet.hands if any(kind in [g.kind for g in v.groups] for v in hand.variants)]
    assert list(study.hands) == wanted
    assert f"{len(wanted)} hands" in texts(study)
    page = click(study, f"hand {wanted[0].name}")
    assert isinstance(page, HandScene)
    assert press(page, "escape") is study


def test_pressed_cells_of_the_other_pictures(routes, home, sheet):
    """A section's cell, a bar of sizes and a bar of flowers answer with their hands."""
    study = StudyScene(routes, sheet, home)
    study.show(SECTIONS)
    drawn(study, SIZE, 1.0)
    click(study, "Weather W")
    winds = [
        hand for hand in sheet.sections[4].hands if any(27 <= g.kind < 31 for v in hand.variants for g in v.groups)
    ]
    assert list(study.hands) == winds
    study.show(SHAPES)
    drawn(study, SIZE, 1.0)
    shape, number = study.study.shapes[0]
    click(study, f" {sentence(shape_words(shape))}")
    assert len(study.hands) == number
    assert all(shape in [tuple(g.size for g in v.groups) for v in hand.variants] for hand in study.hands)
    study.show(COUNTS)
    drawn(study, SIZE, 1.0)
    click(study, "Flowers, by the size of their group A pair")
    assert [hand.name for hand in study.hands] == [
        hand.name
        for hand in sheet.hands
        if any((g.size, g.kind) == (2, FLOWER) for v in hand.variants for g in v.groups)
    ]


def test_hands_behind_a_cell_come_in_a_popup_where_there_is_no_room(routes, home, sheet):
    """In a small window the answer isn't put out of sight under the picture; a hand there opens its page."""
    study = StudyScene(routes, sheet, home)
    study.show(SECTIONS)
    drawn(study, (1024, 640), 2.0)
    popup = next(target for target in study.ui.targets if target.name == "Weather W").do()
    assert isinstance(popup, BehindPopup)
    said = " ".join(one.text for one in drawn(popup, (1024, 640), 2.0))
    assert "Weather: winds" in said
    assert f"{len(study.hands)} hands" in said
    assert press(popup, "escape") is study


def test_a_picture_that_is_turned_to_forgets_what_was_asked(routes, home, sheet):
    """No hands stand beside a picture that they don't belong to."""
    study = StudyScene(routes, sheet, home)
    study.show(TILES)
    study.ask("tile 1 bam", "Hands that want the 1 bam", sheet.hands)
    study.show(SECTIONS)
    assert study.hands == ()
    assert "Press a cell of the picture" in texts(study)


@pytest.mark.slow
def test_tiles_are_weighed_by_what_comes_off():
    """Once deals are played, a tile's figure is its share of the hands made, in a hundred."""
    sheet = find("first-steps")
    worker = Worker()
    routes = BareRoutes(make_look())
    routes.desk.worker = worker
    study = StudyScene(routes, sheet, HomeScene(routes))
    poll_until(worker, lambda: study.heat is not None)
    study.show(TILES)
    study.heat.measure = MADE
    drawn(study, SIZE, 1.0)
    press(study, "o")
    poll_until(worker, lambda: study.made.tally is not None)
    made = {count.name: count.made for count in study.made.tally.hands}
    flowers = sum(
        made[hand.name] * sum(FLOWER in [g.kind for g in v.groups] for v in hand.variants) / len(hand.variants)
        for hand in sheet.hands
    )
    assert study.heat.figure(FLOWER) == pytest.approx(100 * flowers / sum(made.values()))
    worker.close()


# Two sheets.


@pytest.mark.slow
def test_compared_with_the_other_sheet_on_the_shelf(routes, home, sheet):
    """The headline says what became of the old hands, and each part shows as many as it says."""
    scene = CompareScene(routes, sheet, home)
    assert "Of 12 hands, 0 are kept" in texts(scene)
    for part, names in (
        (CHANGED, [pair.new.name for pair in scene.compared.changed][:1]),
        (NEW, [scene.compared.new_hands[0].name]),
        (GONE, [scene.compared.gone[0].name]),
        (KEPT, ["No hand was kept as it was."]),
    ):
        scene.show(part)
        assert all(name in texts(scene) for name in names), part


@pytest.mark.slow
def test_a_rack_to_practise_on_is_answered_and_followed_by_another(routes, home, sheet):
    """Enter says what it is near, Enter again brings the next rack."""
    scene = CompareScene(routes, sheet, home)
    scene.show(PRACTISE)
    before = texts(scene)
    assert "Rack 1 of 8" in before
    assert "It is near the old" not in before
    press(scene, "return")
    assert "It is near the old" in texts(scene)
    press(scene, "return")
    assert "Rack 2 of 8" in texts(scene)
    assert not scene.answered


@pytest.mark.slow
def test_sheets_are_compared_in_the_background():
    """A worker compares; until it has, the screen says so."""
    worker = Worker()
    routes = BareRoutes(make_look())
    routes.desk.worker = worker
    scene = CompareScene(routes, routes.desk.current_sheet, HomeScene(routes))
    assert "The two sheets are being compared." in texts(scene)
    poll_until(worker, lambda: scene.compared is not None)
    assert "Of 12 hands, 0 are kept" in texts(scene)
    worker.close()


def test_no_other_sheet_to_compare_with(routes, home, sheet):
    """One sentence and the way to load one."""
    routes.desk.sheets = lambda: [sheet]
    scene = CompareScene(routes, sheet, home)
    assert "There is no other sheet to compare with." in texts(scene)
    assert scene.compared is None
    scene.handle(key("return"))
