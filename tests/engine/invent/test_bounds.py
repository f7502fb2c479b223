"""How evenly a sheet's hands should be made, and that drafts of every size can keep to it."""

from math import isclose

import pytest
from scipy.stats import binom

from engine.invent.balance import DEALS, FIRST, Shares, out_of_balance, stages, work_done
from engine.invent.bounds import bounds, least_made
from engine.invent.dice import Dice
from engine.invent.draft import FEWEST_HANDS, MOST_HANDS, plan, sections_for, target


@pytest.mark.parametrize(
    ("hands", "sections", "kept"),
    [
        (12, 4, (1666, 400, 3600)), (18, 6, (1111, 400, 2400)), (20, 8, (1000, 400, 1800)),
        (24, 8, (833, 400, 1800)), (30, 8, (700, 400, 1800)), (40, 9, (700, 400, 1800)), (60, 11, (700, 400, 1800)),
    ],
)  # fmt: skip
def test_bounds(hands, sections, kept):
    """7% a hand, 4 to 18% a section; on small sheets twice the average, and what few sections can keep to. The numbers
    of sections are what a plan of so many hands has."""
    found = bounds(hands, sections)
    assert (found.hand, found.least, found.most) == kept
    assert (found.loosened_hand, found.loosened_section) == (kept[0] > 700, kept[2] > 1800)
    assert sections_for(hands) == sections


@pytest.mark.parametrize("hands", range(FEWEST_HANDS, MOST_HANDS + 1))
def test_sections_follow_the_hands(hands):
    """Eight sections at least from twenty hands on, none of less than two hands, and what is wanted of a hand or a
    section lies within the bounds."""
    draft = plan(Dice(hands), hands, "2031")
    assert sum(len(part.slots) for part in draft.parts) == hands
    assert len(draft.parts) >= 8 or hands < 20
    assert min(len(part.slots) for part in draft.parts) >= 2
    assert len({part.theme.sentence for part in draft.parts}) == len(draft.parts)
    kept = bounds(hands, len(draft.parts))
    total = sum(slot.target for slot in draft.slots)
    for part in draft.parts:
        assert kept.least <= sum(slot.target for slot in part.slots) * 10_000 // total <= kept.most
        assert all(slot.target * 10_000 // total <= kept.hand for slot in part.slots)


def test_targets_are_drawn_together_where_there_is_little_room():
    """On sixty hands the heaviest is wanted three times as often as the lightest; on twenty they are nearly alike."""
    assert [target(weight, 60, 700) for weight in (180, 100, 60)] == [300, 166, 100]
    assert [target(weight, 20, 1000) for weight in (180, 100, 60)] == [600, 500, 450]


def test_staying_clear_against_the_binomial_distribution():
    """A hand that is just clear of its bound after a whole look passes it in fresh deals once in some forty times, as
    two standard errors say; a look that has only begun allows more."""
    whole = bounds(60, 11).clear(5000, 5000)
    assert isclose(binom.sf(350, 5000, whole.hand / 10_000), 0.02, abs_tol=0.01)
    begun = bounds(60, 11).clear(512, 5000)
    assert whole.hand < begun.hand
    assert begun.most > whole.most
    assert begun.least < whole.least
    assert bounds(60, 11).clear(2500, 2500).hand == 598, "700 less two errors of 51 each"
    assert least_made(5000, 5000) == 7
    assert [least_made(deals, 5000) for deals in (512, 1024, 2048)] == [0, 0, 1]


def test_looks_are_judged_on_the_way():
    """After 512, 1,024 and 2,048 deals of 5,000; a short look at its end only. The work done grows with each."""
    assert stages(DEALS) == (FIRST, 2 * FIRST, 4 * FIRST, DEALS)
    assert stages(400) == (400,)
    done = [work_done(1, stage, DEALS) for stage in stages(DEALS)]
    assert done == sorted(done)
    assert (work_done(1, 0, DEALS), done[-1], work_done(9, DEALS, DEALS)) == (0, 1, 1)


def test_what_is_out_of_balance_is_named():
    """A hand that comes too often, one that never came, and of a section that came too seldom its rarest hand."""
    draft = plan(Dice(3), 30, "2031")
    made = [100] * 30
    made[0] = 400
    made[5] = 0
    last = len(draft.parts[-1].slots)
    made[-last:] = [20] * last
    found = out_of_balance(draft, Shares(DEALS, tuple(made)), DEALS)
    slots = draft.slots
    assert {slots.index(slot) for slot in found} == {0, 5, 30 - last}
    even = Shares(DEALS, tuple(100 for _ in range(30)))
    assert [slots.index(slot) for slot in out_of_balance(plan(Dice(3), 30, "2031"), even, DEALS)] == []
