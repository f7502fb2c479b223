"""Slips as values: why a call or a mahjong would be wrong, and how a hand died."""

from engine.rules.actions import Call, Discard, Draw
from engine.rules.game import apply
from engine.rules.refusals import HandFault, Rule
from engine.rules.slips import Slipped, likeliest_call, slips_of, why_no_call, why_no_mahjong
from engine.rules.state import Exposure
from engine.tiles import JOKER, kind_of

NORTH = kind_of("wn")


def discarded(kit, tile, **racks):
    """The states of a full table before and after East lets a tile go."""
    before = kit.table(table="full", east=tile, **racks)
    return [before, apply(before, Discard(kind_of(tile)))]


def test_nothing_to_call_yet(kit):
    """Before the first discard there is nothing to call."""
    state = kit.table(table="full")
    assert likeliest_call(state, 1) is None
    assert why_no_call([state], 1).what is Slipped.NOTHING_LET_GO


def test_nobody_calls_a_discard_of_their_own_or_a_joker(kit):
    """Each is refused by a rule of its own."""
    own = why_no_call(discarded(kit, "wn"), 0)
    assert (own.what, own.refusal.rule) == (Slipped.REFUSED, Rule.OWN_DISCARD)
    joker = why_no_call(discarded(kit, "jk"), 1)
    assert (joker.what, joker.refusal.rule) == (Slipped.REFUSED, Rule.JOKER_CALLED)


def test_a_call_that_the_rack_or_the_sheet_does_not_allow(kit):
    """The rest is not held, or no hand has such a group; the fault goes with it."""
    bare = why_no_call(discarded(kit, "wn"), 1)
    assert (bare.what, bare.kind, bare.refusal.rule) == (Slipped.CANNOT_CALL, NORTH, Rule.REST_NOT_HELD)
    states = discarded(kit, "wn", west="2xwn")
    assert likeliest_call(states[-1], 2) == Call(3)
    none = why_no_call(states, 2)
    assert (none.what, none.refusal.fault.fault) == (Slipped.CANNOT_CALL, HandFault.EXPOSURE_FITS_NOTHING)


def test_a_call_that_comes_too_late(kit):
    """It could have been made while the discard waited; now the next tile is drawn."""
    states = discarded(kit, "5d", west="2x5d")
    states.append(kit.let_go(states[-1]))
    states.append(apply(states[-1], Draw(states[-1].wall[0])))
    late = why_no_call(states, 2)
    assert (late.what, late.kind, late.refusal.rule) == (Slipped.TOO_LATE, kind_of("5d"), Rule.TOO_LATE)


def test_a_call_that_comes_too_late_by_one_moment(kit):
    """All have let the discard go and no tile is drawn yet: that it was let go is what stands in the way now."""
    states = discarded(kit, "5d", west="2x5d")
    states.append(kit.let_go(states[-1]))
    late = why_no_call(states, 2)
    assert (late.what, late.kind, late.refusal.rule) == (Slipped.TOO_LATE, kind_of("5d"), Rule.LET_GO)


def test_a_call_that_was_made_already(kit):
    """By whom, too."""
    states = discarded(kit, "5d", west="3x5d")
    states.append(apply(states[-1], Call(4)))
    called = why_no_call(states, 1)
    assert (called.what, called.kind, called.seat) == (Slipped.CALLED_ALREADY, kind_of("5d"), 2)


def test_every_fault_of_what_would_be_shown(kit):
    """One slip for each, and a hand that is right has none."""
    state = kit.table(east="2x3d 3x8d 4x5d 3x6d wn ws")
    slips = why_no_mahjong(state, 0)
    assert [slip.fault.fault for slip in slips] == [HandFault.NO_HAND]
    assert why_no_mahjong(kit.table(east="2x3d 3x8d 4x5d 3x6d 2x7d"), 0) == []


def test_how_a_hand_died(kit):
    """By which exposure and when; seats whose hand lives have no slip."""
    before = kit.table(table="full", slips=True, seat=2, east="wn", west="2xwn")
    states = [before, apply(before, Discard(NORTH))]
    states.append(apply(states[-1], Call(3)))
    (slip,) = slips_of(states, 2)
    assert (slip.what, slip.exposure, slip.index) == (Slipped.DIED, Exposure(3, NORTH), 1)
    assert slips_of(states, 0) == []
    assert JOKER not in (slip.kind, slip.exposure.kind)
