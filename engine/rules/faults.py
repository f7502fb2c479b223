"""What is wrong with a hand or an exposure: every fault at once, each with the hand of the sheet it concerns."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from engine.rules.actions import SMALLEST_CALL
from engine.rules.matching import allows, index_of, match, tiles_to_show
from engine.rules.refusals import Found, HandFault, Refusal, Rule
from engine.rules.state import Exposure, State
from engine.sheet.groups import HAND_TILES, Group, Variant
from engine.sheet.model import Hand, Sheet
from engine.tiles import COPIES, JOKER, KINDS, counts_of, full_set


def find_faults(
    sheet: Sheet,
    counts: Sequence[int],
    exposures: Sequence[Exposure] = (),
    *,
    jokers: int = COPIES[JOKER],
    other_sheets: Iterable[Sheet] = (),
) -> tuple[Found, ...]:
    """Every fault of a hand shown as mahjong: `counts` (36) of the rack, with a called tile, and its exposures.

    `jokers` are those of the set. Each kind of fault is named once.
    """
    found = [
        *_count_faults(counts, exposures, jokers),
        *_exposure_faults(sheet, exposures, jokers),
        *_shape_faults(sheet, counts, exposures, other_sheets),
    ]
    known: dict[HandFault, Found] = {}
    for one in found:
        known.setdefault(one.fault, one)
    return tuple(known[fault] for fault in HandFault if fault in known)


def faults_to_show(state: State, seat: int, other_sheets: Iterable[Sheet] = ()) -> tuple[Found, ...]:
    """Every fault of what a seat could show as mahjong now, with the discard while one may be called."""
    tiles = tiles_to_show(state.racks[seat], seat, state.phase, state.discards)
    exposures, jokers = state.exposures[seat], state.house.jokers
    return find_faults(state.sheet, counts_of(tiles), exposures, jokers=jokers, other_sheets=other_sheets)


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
        yield Found(HandFault.WRONG_COUNT, number=total, wanted=HAND_TILES)
    for kind, most in enumerate(full_set(jokers)):
        if together[kind] > most:
            yield Found(HandFault.TOO_MANY_ALIKE, kind=kind, number=together[kind], wanted=most)


def _exposure_faults(sheet: Sheet, exposures: Sequence[Exposure], jokers: int) -> Iterator[Found]:
    if not exposures or allows(sheet, exposures, jokers):
        return
    index = index_of(sheet, jokers)
    concealed = next(index.chosen(index.holding(exposures)), None)
    if concealed is not None:
        yield Found(HandFault.EXPOSED_CONCEALED, concealed[0])
        return
    lone = next((exposure for exposure in exposures if not allows(sheet, (exposure,), jokers)), None)
    wrong = exposures if lone is None else (lone,)
    groups = tuple(Group(exposure.size, exposure.kind) for exposure in wrong)
    few = jokers if allows(sheet, wrong, max(jokers, COPIES[JOKER])) else None
    yield Found(HandFault.EXPOSURE_FITS_NOTHING, sheet=sheet, groups=groups, jokers=few)


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
            yield Found(HandFault.EXPOSED_CONCEALED, hand)
        elif overlook_groups:
            yield Found(HandFault.EXPOSURE_FITS_NOTHING, hand)
        if not strict:
            yield _joker_in_pair(hand, variant, together if overlook_groups else counts)
        break
    else:
        yield Found(HandFault.NO_HAND, sheet=sheet)
    for other in other_sheets:
        there = match(other, counts, exposures) if other.fingerprint != sheet.fingerprint else None
        if there is not None:
            yield Found(HandFault.OTHER_SHEET, there[0], other)
            return


def _joker_in_pair(hand: Hand, variant: Variant, counts: Sequence[int]) -> Found:
    short = next(kind for kind in range(KINDS) if counts[kind] < variant.real[kind])
    return Found(HandFault.JOKER_IN_PAIR, hand, kind=short, wanted=variant.real[short])


def refusal_of_exposure(sheet: Sheet, exposed: Sequence[Exposure], new: Exposure, jokers: int) -> Refusal | None:
    """Why a discard may not be called for the exposure `new`, whose tiles the caller holds; None when it may."""
    if new.size < SMALLEST_CALL:
        return Refusal(Rule.PAIR_CALLED)
    fault = call_fault(sheet, exposed, new, jokers)
    return None if fault is None else Refusal(Rule.WRONG_EXPOSURE, fault=fault)


def call_fault(sheet: Sheet, exposed: Sequence[Exposure], new: Exposure, jokers: int = COPIES[JOKER]) -> Found | None:
    """What would be wrong with laying `new` beside the exposures, or None when some hand still allows it.

    `jokers` are those of the set.
    """
    return next(_exposure_faults(sheet, (*exposed, new), jokers), None)
