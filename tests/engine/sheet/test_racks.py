"""Racks to practise on that tempt to the hand of the old sheet."""

from __future__ import annotations

import pytest

from engine.sheet.compare.comparison import compare
from engine.sheet.compare.racks import TEMPTING, racks
from engine.sheet.shelf import find
from engine.tiles import COPIES, JOKER, counts_of


@pytest.mark.slow
def test_racks_tempt_to_the_old_hand() -> None:
    """Fourteen real tiles that the set holds, ten or more of them the old hand's; the same seed, the same racks."""
    found = compare(find("lantern-street"), find("first-steps"))
    dealt = racks(found, 100, seed=5)
    assert dealt == racks(found, 100, seed=5) != racks(found, 100, seed=6)
    for one in dealt:
        counts = counts_of(one.rack)
        assert len(one.rack) == 14
        assert all(have <= of for have, of in zip(counts, COPIES, strict=True))
        assert not counts[JOKER]
        assert sum(map(min, counts, one.variant.total)) >= TEMPTING
        assert one.variant in one.unlearn.hand.variants
        served = {
            hand.name: max(sum(map(min, counts, variant.total)) for variant in hand.variants)
            for hand in find("first-steps").hands
        }
        assert served[one.hand.name] == max(served.values()) == sum(map(min, counts, one.towards.total))
        assert one.towards in one.hand.variants
    assert {one.unlearn.hand.name for one in dealt[:60]} == {hand.name for hand in find("lantern-street").hands}


@pytest.mark.slow
def test_hands_that_came_off_often_tempt_first() -> None:
    """With all the weight on one hand, that hand comes first."""
    found = compare(find("lantern-street"), find("first-steps"))
    for name in ("Moth", "Gale"):
        assert racks(found, 1, 3, {name: 0.2})[0].unlearn.hand.name == name
