"""Exact odds where some tiles come in by passes first, any unseen ones but jokers, and draws from the wall follow."""

from __future__ import annotations

from collections.abc import Sequence
from math import comb

import numpy as np

from engine.advice.odds import exact
from engine.advice.table import Real, SheetTable, Whole
from engine.tiles import JOKER


def exact_after_passes(
    table: SheetTable, rows: Whole, counts: Sequence[int], unseen: Sequence[int], coming: int, draws: int
) -> Real:
    """[n] for each variant of `rows`, the probability that it is finished by a rack of the 36 `counts` with `coming`
    tiles taken from the 36 counts `unseen` without the jokers, and then `draws` tiles taken from all that are left.

    Given that j of the draws are jokers, the tiles that are none are `coming` + `draws` - j, any of them; so the odds
    are those of `exact` with j jokers more in the rack and none unseen, weighted by the chance of j (hypergeometric).

    Raises ValueError if there are not so many tiles.
    """
    jokers, total = unseen[JOKER], sum(unseen)
    if not 0 <= coming <= total - jokers or not 0 <= draws <= total - coming:
        raise ValueError(
            f"{coming} tiles coming in by passes and {draws} draws are more than the {total} tiles unseen, "
            f"{jokers} of them jokers; choose fewer"
        )
    left = total - coming
    plain = [*unseen[:JOKER], 0]
    odds = np.zeros(len(rows))
    for drawn in range(max(draws - (left - jokers), 0), min(jokers, draws) + 1):
        chance = comb(jokers, drawn) * comb(left - jokers, draws - drawn) / comb(left, draws)
        held = [*counts[:JOKER], counts[JOKER] + drawn]
        odds += chance * exact(table, rows, held, plain, coming + draws - drawn)
    return odds
