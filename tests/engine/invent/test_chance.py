"""The chance that everything wanted comes, against SciPy's binomial distribution, and the pull of a hand."""

from itertools import product

import pytest
from scipy.stats import binom

from engine.invent.chance import ONE, all_come, pull, wants
from engine.sheet.shelf import find

COMES = 0.4


@pytest.mark.parametrize(
    "wanted",
    [
        ((4, 2, 0), (4, 1, 0), (8, 2, 0)),
        ((4, 0, 3), (4, 0, 4), (8, 0, 5)),
        ((4, 2, 4), (4, 0, 5), (4, 3, 0)),
        ((8, 0, 6), (4, 0, 5), (4, 0, 3)),
    ],
)
def test_chance_against_scipy(wanted):
    """Tiles of every kind come independently of the others; jokers fill what the larger groups still lack."""
    chance = 0.0
    for come in product(*(range(copies + 1) for copies, _, _ in wanted)):
        if any(number < real for number, (_, real, _) in zip(come, wanted, strict=True)):
            continue
        short = sum(max(real + loose - number, 0) for number, (_, real, loose) in zip(come, wanted, strict=True))
        weight = binom.sf(short - 1, 8, COMES)
        for number, (copies, _, _) in zip(come, wanted, strict=True):
            weight *= binom.pmf(number, copies, COMES)
        chance += weight
    assert all_come(wanted) / ONE == pytest.approx(chance, abs=2e-9)


def test_wants_of_a_variant():
    """Kinds are left out of account: variants of one shape want alike."""
    hand = find("first-steps").hand("Doormat")
    assert {wants(variant) for variant in hand.variants} == {((4, 0, 3), (4, 0, 3), (4, 2, 0), (8, 0, 6))}


def test_pull_grows_with_the_variants():
    """Twice the variants of one shape pull twice."""
    variants = find("first-steps").hand("Doormat").variants
    assert pull(variants[:20]) == pytest.approx(2 * pull(variants[:10]), abs=1)
