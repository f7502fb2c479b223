"""Faults: each one found and said, all at once, with the hand of the sheet that it concerns."""

import pytest

from engine.rules.faults import call_fault, find_faults
from engine.rules.refusals import Found, HandFault
from engine.rules.sentences import fault_clause, fault_sentence
from engine.rules.state import Exposure
from engine.tiles import counts_of, kind_of, parse_tiles


def found(kit, tiles, *exposures, **more):
    """Faults of the tiles with the practice sheet, by name, and their sentences."""
    faults = find_faults(kit.sheet, counts_of(parse_tiles(tiles)), exposures, **more)
    return {one.fault.name: fault_sentence(one) for one in faults}


def kong(code, jokers=0):
    """An exposed kong."""
    return Exposure(4, kind_of(code), jokers)


RIGHT = "2x3d 3x8d 4x5d 3x6d 2x7d"


def test_a_right_hand_has_no_fault(kit):
    """Open, concealed, with jokers and with exposures."""
    assert found(kit, RIGHT) == {}
    assert found(kit, "2x3d 8d 2xjk 3x6d 2x7d", kong("5d", 2)) == {}
    assert found(kit, "we ws ww wn 3x2c 3x1d 4xfl") == {}


def test_wrong_count(kit):
    """Thirteen or fifteen tiles, exposures counted."""
    assert found(kit, RIGHT + " 9b") == {"WRONG_COUNT": "A hand is 14 tiles, and this one has 15."}
    assert found(kit, "2x3d 3x8d 3x6d 7d", kong("5d")) == {"WRONG_COUNT": "A hand is 14 tiles, and this one has 13."}


def test_no_hand(kit):
    """Fourteen tiles that make nothing."""
    assert found(kit, "4x1b 4x2b 4x9d wn ws") == {"NO_HAND": "No hand on Copper Kettle matches these tiles."}


def test_a_hand_of_another_loaded_sheet(kit):
    """The commonest slip of a new season is named with that season."""
    tiles = "4x1b 3x2c 3x5d 2x9c 2x9d"
    faults = found(kit, tiles, other_sheets=(kit.sheet, kit.other))
    assert set(faults) == {"NO_HAND", "OTHER_SHEET"}
    assert faults["OTHER_SHEET"] == "That is on the sheet of season 2030: “Odd lot” of Tin Kettle."
    exposed = found(kit, "3x2c 3x5d 2x9c 2x9d", kong("1b"), other_sheets=(kit.other,))
    assert "OTHER_SHEET" in exposed
    assert "OTHER_SHEET" not in found(kit, RIGHT, other_sheets=(kit.other,))


def test_a_section_left_out_is_no_other_sheet(kit):
    """Playing on a cut sheet, a hand of the sections left out is on no sheet of another season."""
    stairs, tiles = kit.sheet.cut(["Stairs"]), counts_of(parse_tiles("we ws ww wn 3x2c 3x1d 4xfl"))
    faults = find_faults(stairs, tiles, other_sheets=(kit.sheet, kit.other))
    assert [one.fault for one in faults] == [HandFault.NO_HAND]


def test_a_joker_in_a_single_or_pair(kit):
    """The hand that is meant, and the tile it wants."""
    faults = found(kit, "3d jk 3x8d 4x5d 3x6d 2x7d")
    assert faults == {
        "JOKER_IN_PAIR": "“Landing” needs 2 of the 3 dot without a joker, "
        "since a joker can't stand for a single or in a pair."
    }
    assert set(found(kit, "we ws ww jk 3x2c 3x1d 4xfl")) == {"JOKER_IN_PAIR"}
    assert set(found(kit, "3d jk 3x8d 3x6d 2x7d", kong("5d"))) == {"JOKER_IN_PAIR"}


def test_exposed_on_a_concealed_hand(kit):
    """The other common slip, named with the hand."""
    faults = found(kit, "we ws ww wn 3x2c 3x1d", Exposure(4, 34))
    assert faults == {"EXPOSED_CONCEALED": "“Vane” is concealed, so nothing of it may be exposed."}
    assert set(found(kit, "we ws ww jk 3x2c 3x1d", Exposure(4, 34))) == {"EXPOSED_CONCEALED", "JOKER_IN_PAIR"}


def test_an_exposure_that_no_hand_allows(kit):
    """By itself, together with another, or in another size than the hand finally shown."""
    faults = found(kit, "2x3d 3x8d 3x6d 2x7d 5d", Exposure(3, kind_of("wn")))
    assert faults["EXPOSURE_FITS_NOTHING"] == "No open hand on Copper Kettle has a pung of north wind."
    faults = found(kit, "5d", Exposure(3, kind_of("5d")), kong("we"))
    assert faults["EXPOSURE_FITS_NOTHING"] == (
        "No open hand on Copper Kettle has a pung of 5 dot and a kong of east wind together."
    )
    faults = found(kit, "2x3d 3x8d 5d 3x6d 2x7d", Exposure(3, kind_of("5d")))
    assert faults == {"EXPOSURE_FITS_NOTHING": "“Landing” is made of other groups than those exposed."}
    faults = found(kit, "3d jk 3x8d 5d 3x6d 2x7d", Exposure(3, kind_of("5d")))
    assert set(faults) == {"EXPOSURE_FITS_NOTHING", "JOKER_IN_PAIR"}
    assert "needs 2 of the 3 dot without a joker" in faults["JOKER_IN_PAIR"]


def test_more_of_a_tile_than_the_set_holds(kit):
    """Counted over rack and exposures, jokers by the house."""
    assert found(kit, "5d 2x3d 3x8d 3x6d", kong("5d"))["TOO_MANY_ALIKE"] == (
        "The set holds 4 of the 5 dot, and here are 5."
    )
    assert "TOO_MANY_ALIKE" in found(kit, "3x3b 3xjk 2xdg 2xdr 4xfl", jokers=2)
    assert found(kit, "3x3b 3xjk 2xdg 2xdr 4xfl") == {}
    assert "TOO_MANY_ALIKE" in found(kit, "9xfl")


def test_an_exposure_that_the_set_is_too_small_for(kit):
    """Four alike and no joker make no five: the fault says that the jokers are why, not that the sheet has no such."""
    quint = Exposure(5, kind_of("5d"), 1)
    assert call_fault(kit.sheet, (), quint, jokers=2) is None
    for jokers, said in ((0, "no jokers"), (1, "one joker")):
        fault = call_fault(kit.sheet, (), quint, jokers=jokers)
        assert fault_sentence(fault) == f"With {said} in the set, no open hand on Copper Kettle has a quint of 5 dot."
    none = call_fault(kit.sheet, (), Exposure(3, kind_of("wn")), jokers=0)
    assert fault_sentence(none) == "No open hand on Copper Kettle has a pung of north wind."


def test_all_faults_come_at_once(kit):
    """Three of them in one look, each once."""
    faults = found(kit, "5x1b 9b 9b 9c", Exposure(3, kind_of("wn")), Exposure(4, kind_of("wn")))
    assert set(faults) == {"WRONG_COUNT", "TOO_MANY_ALIKE", "EXPOSURE_FITS_NOTHING"}


@pytest.mark.parametrize("fault", list(HandFault))
def test_every_fault_has_a_sentence_of_its_own(fault):
    """One clear sentence, and no two alike."""
    sentence = fault_sentence(Found(fault))
    assert sentence[0].isupper()
    assert sentence.endswith(".")
    assert [fault_sentence(Found(other)) for other in HandFault].count(sentence) == 1


def test_two_faults_are_not_one_sentence():
    """Words are made for a single flag."""
    for several in (HandFault(0), HandFault.WRONG_COUNT | HandFault.NO_HAND):
        with pytest.raises(ValueError, match="is not one fault"):
            fault_clause(Found(several))


def test_a_call_can_be_judged_before_it_is_made(kit):
    """Exposing for a concealed hand or for none is named with the line it breaks; a right one is None."""
    assert call_fault(kit.sheet, (), kong("5d")) is None
    concealed = call_fault(kit.sheet, (), Exposure(3, kind_of("2c")))
    assert (concealed.fault, concealed.hand.name) == (HandFault.EXPOSED_CONCEALED, "Vane")
    assert call_fault(kit.sheet, (Exposure(3, kind_of("5d")),), kong("we")).fault is HandFault.EXPOSURE_FITS_NOTHING


def test_a_set_has_eight_jokers_unless_something_else_is_said(kit):
    """Eight in a hand are no fault of number, nine are."""
    assert "TOO_MANY_ALIKE" not in found(kit, "8xjk 4x1b 2x2b")
    assert found(kit, "9xjk 4x1b 2b")["TOO_MANY_ALIKE"] == "The set holds 8 of the joker, and here are 9."
