"""The chances of near variants, and how they change when one tile goes or one comes.

When a tile goes, only variants that use every held copy of its kind change. When a tile comes, only variants that still
miss its kind change. All changes are worked out together, since they have most of their parts in common.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from engine.advice.odds.arrivals import Arrivals, Numbers, picked
from engine.advice.odds.needs import Needs
from engine.advice.table import Whole
from engine.tiles import JOKER


@dataclass(frozen=True, eq=False)
class Changes:
    """Variants that one tile changes, m of them, each for one kind."""

    of: Whole
    """[m] places in the list of the n near variants."""
    kind: Whole
    """[m] the kind of the tile."""
    chance: Numbers
    """[Z, m] the chance of the variant then."""


@dataclass(frozen=True, eq=False)
class Chances:
    """Chances of n near variants at Z points."""

    now: Numbers
    """[Z, n]"""
    less: Changes
    """With one tile of a kind fewer in the rack, which is then not to be had any more."""
    more: Changes | None
    """With one tile of a kind moved from those unseen into the rack, where that was asked for."""


def chances_of(arrivals: Arrivals, missed: Needs, held: Whole, unseen: Whole, *, coming: bool = False) -> Chances:
    """The chances of n variants with `held` jokers in the rack and `unseen` ones to come, each [n], and what one tile
    less makes of them; with `coming` also what one tile more does."""
    size = len(held)
    short = missed.plain_short
    factors = arrivals.at_least(missed.plain_unseen, short)
    plain = np.ones((arrivals.points, size))
    starts = np.flatnonzero(np.diff(missed.plain_of, prepend=-1))
    if len(starts):
        plain[:, missed.plain_of[starts]] = np.multiply.reduceat(factors, starts, axis=1)
    elements = missed.elements
    left_over = (elements >> 4 & 15).sum(axis=1)

    lists = [(elements, held, unseen)]
    at_less = ((missed.held > 0) & (missed.held <= missed.real + missed.loose)).ravel().nonzero()[0]
    lists.append(_changed(elements, at_less, missed.elements_with(missed.held - 1), held, unseen))
    joker_less = ((held > 0) & (held <= left_over)).nonzero()[0]
    lists.append((elements[joker_less], held[joker_less] - 1, unseen[joker_less]))
    if coming:
        at_more = ((elements >> 4 > 0) & (missed.unseen > 0)).ravel().nonzero()[0]
        drawn = replace(missed, unseen=missed.unseen - 1).elements_with(missed.held + 1)
        lists.append(_changed(elements, at_more, drawn, held, unseen))
        joker_more = ((unseen > 0) & (held < left_over)).nonzero()[0]
        lists.append((elements[joker_more], held[joker_more] + 1, unseen[joker_more] - 1))
    everything = arrivals.finished(*(np.concatenate(parts) for parts in zip(*lists, strict=True)))
    filled = np.split(everything, np.cumsum([len(one[1]) for one in lists])[:-1], axis=1)

    now = plain * filled[0]
    fewer = ((missed.plain_held > 0) & (missed.plain_held <= missed.plain_real)).nonzero()[0]
    worse = arrivals.at_least(missed.plain_unseen[fewer], short[fewer] + 1)
    less = _together(missed, plain, now, fewer, _ratio(worse, picked(factors, fewer)), at_less, joker_less, filled[1:3])
    if not coming:
        return Chances(now, less, None)
    come = ((short > 0) & (missed.plain_unseen > 0)).nonzero()[0]
    better = arrivals.at_least(missed.plain_unseen[come] - 1, short[come] - 1)
    more = _together(missed, plain, now, come, _ratio(better, picked(factors, come)), at_more, joker_more, filled[3:])
    return Chances(now, less, more)


def _changed(elements: Whole, at: Whole, new: Whole, held: Whole, unseen: Whole) -> tuple[Whole, Whole, Whole]:
    """The lists of elements with the one at each flat place changed for the new one there, and their jokers."""
    of = at // elements.shape[1]
    changed = elements[of]
    changed[np.arange(len(at)), at % elements.shape[1]] = new.ravel()[at]
    return changed, held[of], unseen[of]


def _ratio(after: Numbers, before: Numbers) -> Numbers:
    """By what a plain factor changes; a variant without a chance keeps none."""
    ratio: Numbers = np.divide(after, before, out=np.zeros_like(after), where=before > 0)
    return ratio


def _together(
    missed: Needs,
    plain: Numbers,
    now: Numbers,
    plain_at: Whole,
    ratio: Numbers,
    group_at: Whole,
    joker_at: Whole,
    filled: list[Numbers],
) -> Changes:
    """Changes in plain kinds, in kinds of larger groups and in jokers, one list after the other."""
    plain_of, group_of = missed.plain_of[plain_at], group_at // missed.kinds.shape[1]
    kinds = (missed.plain_kind[plain_at], missed.kinds.ravel()[group_at], np.full(len(joker_at), JOKER))
    chance = (picked(now, plain_of) * ratio, picked(plain, group_of) * filled[0], picked(plain, joker_at) * filled[1])
    return Changes(
        np.concatenate((plain_of, group_of, joker_at)), np.concatenate(kinds), np.concatenate(chance, axis=1)
    )
