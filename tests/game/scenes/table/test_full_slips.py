"""Slips at the full table in the window: refused and explained, or let happen where the house has it so."""

import pytest
from at_full_table import HOUSE, full_table, let_go, unallowed
from at_table import beginner
from full_kit import advised, last, on_screen, shown
from harness import press

from engine.rules.actions import Call
from engine.rules.house import FULL, House
from engine.rules.matching import allows
from engine.rules.state import Exposure, Phase
from engine.sheet.shelf import find
from engine.tiles import FLOWER, JOKER, name
from game.play.settings import ALWAYS, HIDDEN
from game.scenes.table.popups import SlipPopup

pytestmark = pytest.mark.slow


def test_calling_when_no_call_is_open_says_why(routes):
    """In the player's own turn: nothing to call yet, or why the last discard could not be called."""
    scene = full_table(routes, [0, 0, 1, 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21], [30, 30, 30])
    popup = scene.call()
    assert isinstance(popup, SlipPopup)
    assert "Nothing has been let go yet" in shown(popup)
    let_go(scene, 21)
    popup = scene.call()
    assert "you do not hold the rest of a pung of north wind" in shown(popup)
    assert press(popup, "escape") is scene


def test_a_group_that_no_hand_allows_beside_the_exposures_is_not_offered_and_explained(routes):
    """Two pungs that no hand has together: the second one is not offered, and the key says why."""
    advised(routes, HIDDEN)
    sheet = beginner()
    one, other = next(
        (one, other) for one in range(9) for other in range(9, 27)
        if not allows(sheet, (Exposure(3, one), Exposure(3, other)))
    )  # fmt: skip
    fill = [tile for tile in range(31) if tile not in (one, other)]
    rack = [one, one, other, other, *fill[1:30:3]]
    scene = full_table(routes, rack, [one, 27, 28, other, 29])
    let_go(scene, fill[1])
    scene.call_for(Call(3))
    let_go(scene, fill[4])
    assert scene.state.phase is Phase.TURN
    assert scene.state.discards[-1].kind == other
    slip = scene.call().slips[0]
    pungs = f"a pung of {name(one)} and a pung of {name(other)}"
    assert slip.sentence == (f"The {name(other)} can’t be called: no open hand on {sheet.name} has {pungs} together.")


def test_a_wrong_mahjong_is_refused_with_every_fault_and_the_nearest_line_of_the_sheet(routes):
    """The nearest hand is shown as the sheet has it, where advice may be shown; else the faults alone."""
    advised(routes, ALWAYS)
    scene = full_table(routes, [0, 0, 1, 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21])
    popup = scene.mahjong()
    assert isinstance(popup, SlipPopup)
    assert "No hand on First Steps matches these tiles." in shown(popup)
    near = scene.known.rack.hands[0].hand
    assert near.name in shown(popup)
    advised(routes, HIDDEN)
    hidden = full_table(routes, [0, 0, 1, 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21])
    assert "Nearest is" not in shown(hidden.mahjong())
    assert not hidden.state.dead[0]


def concealed_deal(routes, house=HOUSE):
    """The player needs little for a concealed hand, and South lets go the third of a pung of it."""
    sheet = find("lantern-street")
    for hand in sheet.hands:
        for variant in hand.variants if hand.concealed else ():
            pungs = [group.kind for group in variant.groups if group.size == 3]
            if not pungs or max(variant.total[:FLOWER]) > 4 or JOKER in pungs:
                continue
            tiles = [group.kind for group in variant.groups for _ in range(group.size)]
            tiles.remove(pungs[0])
            other = next(tile for tile in tiles if tile != pungs[0])
            tiles.remove(other)
            spare = [tile for tile in range(26, -1, -1) if tile not in tiles and tile != other][:2]
            scene = full_table(routes, [*tiles, *spare], [pungs[0]], house, sheet=sheet)
            let_go(scene, spare[0])
            if scene.calling and scene.calls:
                return scene, hand
    raise AssertionError("no such hand")


@pytest.mark.slow
def test_exposing_for_a_concealed_hand_is_warned_of_with_its_line(routes):
    """One sentence and the hand as the sheet has it; the player may still call all the same, or go back."""
    scene, hand = concealed_deal(routes)
    call = scene.calls[0]
    popup = scene.call_for(call)
    assert isinstance(popup, SlipPopup)
    text = shown(popup)
    assert "Your nearest hand is concealed" in text
    assert f"{hand.name}, concealed, {hand.points} points" in text
    assert press(popup, "escape") is scene
    assert scene.calling
    assert press(on_screen(scene.call_for(call)), "g") is scene
    assert last(scene) == call


def test_where_slips_happen_nothing_is_warned_of(routes):
    """As at a real table: the exposure is laid."""
    scene, _ = concealed_deal(routes, House(table=FULL, slips=True))
    call = scene.calls[0]
    assert scene.call_for(call) is scene
    assert last(scene) == call


@pytest.mark.slow
def test_where_slips_happen_a_wrong_mahjong_kills_the_hand_and_is_explained_at_the_end(routes):
    """The others play on; the end says what was wrong."""
    house = House(table=FULL, slips=True)
    scene = full_table(routes, [0, 0, 1, 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21], house=house)
    assert "or why not" not in shown(press(on_screen(scene), "e"))
    press(on_screen(scene), "m")
    assert scene.finished
    assert scene.state.dead[0]
    assert [slip.index for slip in scene.slips] == [0]
    text = shown(scene)
    assert "What went wrong" in text
    assert "You showed mahjong by mistake, and your hand was dead." in text
    assert "No hand on First Steps matches these tiles." in text


@pytest.mark.slow
def test_where_slips_happen_a_wrong_exposure_kills_the_hand_and_is_explained(routes):
    """The sentence names the group that no hand allows."""
    kind = unallowed(beginner(), 4)
    others = [tile for tile in range(FLOWER) if tile != kind]
    house = House(table=FULL, slips=True)
    scene = full_table(routes, [kind, kind, kind, *others[3:25:2]][:14], [kind], house)
    let_go(scene, others[3])
    scene.call_for(Call(4))
    assert scene.finished
    assert f"You exposed a kong of {name(kind)}, and your hand was dead." in scene.slips[0].sentence
    assert "no open hand on first steps has a kong" in scene.slips[0].sentence.lower()
