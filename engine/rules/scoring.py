"""What a hand is worth and who pays it."""

from __future__ import annotations

from collections.abc import Sequence

from engine.rules.house import QUIET
from engine.rules.matching import holds_no_joker, worth
from engine.rules.state import Exposure, Outcome
from engine.sheet.groups import Variant
from engine.sheet.model import Hand
from engine.tiles import Kind, counts_of


def payments(
    hand: Hand, variant: Variant, winner: int, discarder: int | None, jokerless: bool
) -> tuple[int, int, int, int]:
    """What each seat wins or loses; the four add up to nothing.

    Won by a discard (`discarder` is a seat) the discarder pays double and the others single; self-drawn (None) all pay
    double. A hand made without any joker doubles again, except one of singles and pairs only.
    """
    single = worth(hand, variant, jokerless)
    amounts = [-2 * single if discarder in (None, seat) else -single for seat in range(4)]
    amounts[winner] = 0
    amounts[winner] = -sum(amounts)
    east, south, west, north = amounts
    return east, south, west, north


def won(
    table: str,
    winner: int,
    found: tuple[Hand, Variant],
    rack: tuple[Kind, ...],
    exposures: Sequence[Exposure],
    discarder: int | None,
) -> Outcome:
    """The outcome of a mahjong: `rack` and `exposures` are the 14 tiles shown, `discarder` is None when self-drawn."""
    hand, variant = found
    jokerless = holds_no_joker(counts_of(rack), exposures)
    paid = payments(hand, variant, winner, discarder, jokerless)
    return Outcome(
        kind="mahjong",
        winner=winner,
        hand=hand,
        variant=variant,
        tiles=rack,
        self_drawn=discarder is None,
        discarder=discarder,
        jokerless=jokerless,
        points=paid[winner],
        payments=(0, 0, 0, 0) if table == QUIET else paid,
    )
