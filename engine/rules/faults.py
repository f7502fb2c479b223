"""What is wrong with a hand, a call or a pass: every fault at once, each with one sentence and the hand it concerns."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import Flag, auto
from functools import reduce
from operator import or_

from engine.rules.actions import SMALLEST_CALL, Call
from engine.rules.matching import allows, index_of, match, still_allowed
from engine.rules.state import Exposure
from engine.sheet.groups import HAND_TILES, Variant, size_name
from engine.sheet.model import Hand, Sheet
from engine.tiles import JOKER, KINDS, Kind, full_set, name


class HandFault(Flag):
    """Every fault that the game names."""

    WRONG_COUNT = auto()
    NO_HAND = auto()
    """The tiles make no hand of this sheet, even with jokers anywhere and exposures overlooked."""
    OTHER_SHEET = auto()
    """They do make a hand of another sheet that is loaded."""
    JOKER_IN_PAIR = auto()
    EXPOSED_CONCEALED = auto()
    EXPOSURE_FITS_NOTHING = auto()
    TOO_MANY_ALIKE = auto()
    CALLED_PAIR = auto()
    CALLED_LATE = auto()
    PASSED_JOKER = auto()


_IN_GENERAL = {
    HandFault.WRONG_COUNT: f"a hand is {HAND_TILES} tiles",
    HandFault.NO_HAND: "no hand on this sheet matches these tiles",
    HandFault.OTHER_SHEET: "that is on the sheet of another season",
    HandFault.JOKER_IN_PAIR: "a joker can't stand for a single or in a pair",
    HandFault.EXPOSED_CONCEALED: "a concealed hand may hold no exposure",
    HandFault.EXPOSURE_FITS_NOTHING: "no hand on this sheet allows what is exposed",
    HandFault.TOO_MANY_ALIKE: "the set holds fewer of that tile",
    HandFault.CALLED_PAIR: "a single or a pair is called only for mahjong",
    HandFault.CALLED_LATE: "a discard is called before the next tile is drawn, so this comes too late",
    HandFault.PASSED_JOKER: "jokers are never passed",
}


def _sentence(clause: str) -> str:
    return clause[0].upper() + clause[1:] + "."


def say(fault: HandFault) -> str:
    """One sentence for a single fault when nothing more is known. Raises KeyError for none or several."""
    return _sentence(_IN_GENERAL[fault])


@dataclass(frozen=True)
class Found:
    """One fault, why, and the hand of the sheet that it concerns, if any."""

    fault: HandFault
    clause: str
    """Why, as a clause that could follow a colon."""
    hand: Hand | None = None

    @property
    def sentence(self) -> str:
        """Why, as a sentence."""
        return _sentence(self.clause)


def faults_of(
    sheet: Sheet,
    counts: Sequence[int],
    exposures: Sequence[Exposure] = (),
    *,
    jokers: int = 8,
    other_sheets: Iterable[Sheet] = (),
    call: Call | None = None,
    late: bool = False,
    passed: Sequence[Kind] = (),
) -> HandFault:
    """All faults together, `HandFault(0)` when there is none; the arguments are those of `find_faults`."""
    found = find_faults(
        sheet, counts, exposures, jokers=jokers, other_sheets=other_sheets, call=call, late=late, passed=passed
    )
    return reduce(or_, (one.fault for one in found), HandFault(0))


def find_faults(
    sheet: Sheet,
    counts: Sequence[int],
    exposures: Sequence[Exposure] = (),
    *,
    jokers: int = 8,
    other_sheets: Iterable[Sheet] = (),
    call: Call | None = None,
    late: bool = False,
    passed: Sequence[Kind] = (),
) -> tuple[Found, ...]:
    """Every fault of a hand shown as mahjong: `counts` (36) of the rack, with a called tile, and its exposures.

    `jokers` are those of the set. `call` is a call that was made for an exposure, `late` says that it came after the
    next draw, `passed` are tiles put into a pass.
    """
    found = [
        *_count_faults(counts, exposures, jokers),
        *_exposure_faults(sheet, exposures),
        *_shape_faults(sheet, counts, exposures, other_sheets),
    ]
    if call is not None and call.size < SMALLEST_CALL:
        found.append(_general(HandFault.CALLED_PAIR))
    if late:
        found.append(_general(HandFault.CALLED_LATE))
    if JOKER in passed:
        found.append(_general(HandFault.PASSED_JOKER))
    known: dict[HandFault, Found] = {}
    for one in found:
        known.setdefault(one.fault, one)
    return tuple(known[fault] for fault in HandFault if fault in known)


def _general(fault: HandFault) -> Found:
    return Found(fault, _IN_GENERAL[fault])


def _on_table(counts: Sequence[int], exposures: Sequence[Exposure]) -> list[int]:
    """Rack and exposures together, exposed jokers as jokers."""
    together = list(counts)
    for exposure in exposures:
        together[exposure.kind] += exposure.real
        together[JOKER] += exposure.jokers
    return together


def _count_faults(counts: Sequence[int], exposures: Sequence[Exposure], jokers: int) -> Iterator[Found]:
    together = _on_table(counts, exposures)
    total = sum(together)
    if total != HAND_TILES:
        yield Found(HandFault.WRONG_COUNT, f"a hand is {HAND_TILES} tiles, and this one has {total}")
    for kind, most in enumerate(full_set(jokers)):
        if together[kind] > most:
            clause = f"the set holds {most} of the {name(kind)}, and here are {together[kind]}"
            yield Found(HandFault.TOO_MANY_ALIKE, clause)


def _exposure_faults(sheet: Sheet, exposures: Sequence[Exposure]) -> Iterator[Found]:
    if not exposures or allows(sheet, exposures):
        return
    index = index_of(sheet)
    concealed = next(index.chosen(index.holding(exposures)), None)
    if concealed is not None:
        yield _exposed_concealed(concealed[0])
        return
    groups = [f"a {size_name(exposure.size)} of {name(exposure.kind)}" for exposure in exposures]
    lone = [text for text, exposure in zip(groups, exposures, strict=True) if not allows(sheet, (exposure,))]
    clause = f"no open hand on {sheet.name} has {lone[0]}" if lone else (
        f"no open hand on {sheet.name} has {' and '.join(groups)} together"
    )  # fmt: skip
    yield Found(HandFault.EXPOSURE_FITS_NOTHING, clause)


def _exposed_concealed(hand: Hand) -> Found:
    clause = f"“{hand.name}” is concealed, so nothing of it may be exposed"
    return Found(HandFault.EXPOSED_CONCEALED, clause, hand)


def _shape_faults(
    sheet: Sheet, counts: Sequence[int], exposures: Sequence[Exposure], other_sheets: Iterable[Sheet]
) -> Iterator[Found]:
    """What fourteen tiles lack to be a hand: the mildest explanation first, and only then that there is none."""
    together = _on_table(counts, exposures)
    if sum(together) != HAND_TILES or match(sheet, counts, exposures):
        return
    index = index_of(sheet)
    holding = index.holding(exposures)
    for overlook_groups, strict in ((False, True), (False, False), (True, True), (True, False)):
        tiles, laid = (together, ()) if overlook_groups else (list(counts), tuple(exposures))
        near = next(index.chosen(index.fitting(tiles, laid, index.all if overlook_groups else holding, strict)), None)
        if near is None:
            continue
        hand, variant = near
        if exposures and hand.concealed:
            yield _exposed_concealed(hand)
        elif overlook_groups:
            clause = f"“{hand.name}” is made of other groups than those exposed"
            yield Found(HandFault.EXPOSURE_FITS_NOTHING, clause, hand)
        if not strict:
            yield _joker_in_pair(hand, variant, together if overlook_groups else counts)
        break
    else:
        yield Found(HandFault.NO_HAND, f"no hand on {sheet.name} matches these tiles")
    for other in other_sheets:
        there = match(other, counts, exposures) if other.fingerprint != sheet.fingerprint else None
        if there is not None:
            clause = f"that is on the sheet of season {other.season}: “{there[0].name}” of {other.name}"
            yield Found(HandFault.OTHER_SHEET, clause, there[0])
            return


def _joker_in_pair(hand: Hand, variant: Variant, counts: Sequence[int]) -> Found:
    short = next(kind for kind in range(KINDS) if counts[kind] < variant.real[kind])
    clause = (
        f"“{hand.name}” needs {variant.real[short]} of the {name(short)} without a joker, "
        "since a joker can't stand for a single or in a pair"
    )
    return Found(HandFault.JOKER_IN_PAIR, clause, hand)


def mahjong_rule(sheet: Sheet, counts: Sequence[int], exposures: Sequence[Exposure]) -> str:
    """Why a hand that does not match may not be shown, as a clause."""
    return next(iter(find_faults(sheet, counts, exposures))).clause


def call_rule(sheet: Sheet, rack: Sequence[Kind], exposed: Sequence[Exposure], new: Exposure) -> str:
    """Why a discard, no joker, may not be called for the exposure `new`, as a clause."""
    if new.size < SMALLEST_CALL:
        return _IN_GENERAL[HandFault.CALLED_PAIR]
    if rack.count(new.kind) < new.real - 1 or rack.count(JOKER) < new.jokers:
        return f"the caller does not hold the rest of a {size_name(new.size)} of {name(new.kind)}"
    return next(_exposure_faults(sheet, (*exposed, new))).clause


def call_fault(sheet: Sheet, exposed: Sequence[Exposure], new: Exposure) -> Found | None:
    """What would be wrong with laying `new` beside the exposures, or None when some hand still allows it."""
    return next(_exposure_faults(sheet, (*exposed, new)), None)


def concealed_hands_lost(sheet: Sheet, exposed: Sequence[Exposure]) -> tuple[Hand, ...]:
    """The concealed hands that a first exposure rules out; none when something is exposed already."""
    return () if exposed else tuple({h.name: h for h, _ in still_allowed(sheet, ()) if h.concealed}.values())
