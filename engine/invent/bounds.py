"""How evenly the hands of a sheet should be made: the most for a hand, the least and the most for a section.

All shares are parts of WHOLE of the hands made. Sheets of few hands can't keep to the usual bounds: fifteen hands at
7% each would have to be exactly even, and six sections come to 17% on average. What such a sheet keeps to instead is
worked out here, and `loosened` tells that it is so.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import isqrt

WHOLE = 10_000
"""Shares are told in so many parts of all hands made."""
MOST_OF_A_HAND, LEAST_OF_A_SECTION, MOST_OF_A_SECTION = 700, 400, 1800
"""The usual bounds: 7%, 4% and 18%."""
UNEVEN = 20_000
"""A small sheet keeps its hands under twice the average: this, in parts of WHOLE, over the number of hands."""
UNEVEN_SECTIONS = 14_400
"""The same for the sections of a sheet that has too few of them."""
ENOUGH_SECTIONS = 7
"""From so many sections on, all of them can lie within the usual bounds."""
CLEAR = 2
"""A sheet must stay clear of a bound by so many standard errors of its whole look, so that fresh deals keep to it."""
AT_MOST = 6
"""It need never stay clear by more than one part in so many of the bound, however short the look."""
A_RARE_HAND = 800
"""A hand made only once in so many deals is made too seldom."""


@dataclass(frozen=True)
class ShareBounds:
    """What a sheet keeps to."""

    hand: int
    """The largest share of a hand."""
    least: int
    """The smallest share of a section."""
    most: int
    """The largest share of a section."""

    @property
    def loosened_hand(self) -> bool:
        """Whether hands may come oftener than is usual, as there are too few of them."""
        return self.hand > MOST_OF_A_HAND

    @property
    def loosened_section(self) -> bool:
        """Whether sections may come oftener than is usual, as there are too few of them."""
        return self.most > MOST_OF_A_SECTION

    def clear(self, made: int, of: int) -> ShareBounds:
        """The bounds to keep to in the first `made` hands of a look at `of`: narrower ones, as chance may have been
        kind to the sheet, and before the end less narrow, as chance may yet be."""
        return ShareBounds(
            self.hand - _clearance(self.hand, made, of),
            self.least + _clearance(self.least, made, of),
            self.most - _clearance(self.most, made, of),
        )


def bounds(hands: int, sections: int) -> ShareBounds:
    """The bounds of a sheet of so many hands in so many sections."""
    most = MOST_OF_A_SECTION if sections >= ENOUGH_SECTIONS else max(MOST_OF_A_SECTION, UNEVEN_SECTIONS // sections)
    return ShareBounds(max(MOST_OF_A_HAND, UNEVEN // hands), LEAST_OF_A_SECTION, most)


def least_made(deals: int, of: int) -> int:
    """How often every hand must have been made in the first `deals` of `of` deals: at the end once in A_RARE_HAND and
    once more; before, one standard error (Poisson's, the square root) less than that."""
    return 1 + of // A_RARE_HAND if deals == of else max(deals // A_RARE_HAND - isqrt(deals // A_RARE_HAND), 0)


def _clearance(share: int, made: int, of: int) -> int:
    """CLEAR standard errors (the binomial distribution's) of a share that is counted over `of` hands made, at most
    the AT_MOST part of it; and before the end half of a standard error over the `made` ones less."""
    whole = share * (WHOLE - share)
    early = isqrt(whole // max(made, 1)) // 2 if made < of else 0
    return min(CLEAR * isqrt(whole // max(of, 1)), share // AT_MOST) - early
