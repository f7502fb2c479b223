"""The page of a hand: its ways turned over, what moves in them, neighbours, and deals near it."""

from dataclasses import replace

import pygame
import pytest
from at_table import routes_over
from harness import click, drawn, make_look, press
from sheet_scene_kit import RACK, SIZE, texts

from engine.drills.rehearsal import KIND
from engine.sheet.reader import read
from engine.sheet.shelf import find
from game.play.lines import line_of
from game.play.practice.ledgers import NEAR
from game.scenes.home.scene import HomeScene
from game.scenes.sheet.compare import PRACTISE, CompareScene
from game.scenes.sheet.hand_page import HandScene
from game.scenes.sheet.made import Made
from game.scenes.sheet.scene import SheetScene
from game.words.sheet import fixed_words, shown_variants


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
