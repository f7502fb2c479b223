"""What a hand is worth and who pays it."""

from __future__ import annotations

from collections.abc import Sequence

from engine.rules.house import QUIET, House
from engine.rules.matching import holds_no_joker, worth
from engine.rules.state import Exposure, Outcome
from engine.rules.twists.known import twist_of
from engine.sheet.groups import Variant
from engine.sheet.model import Hand
from engine.tiles import Kind, counts_of

Payments = tuple[int, int, int, int]
"""What each seat wins or loses; the four add up to nothing."""


def payments(
    house: House, single: int, winner: int, discarder: int | None, before: Payments = (0, 0, 0, 0)
) -> Payments:
    """What each seat wins or loses by a mahjong worth `single` points.

    With a `discarder` (a seat) that seat pays double and the others pay single. With None the hand was self-drawn, and
    all pay double. The house rules may let the discarder pay for all, or take the double off self-drawn hands. `before`
    is what the seats have won or lost already: in all, no seat loses more than the house's limit.
    """
    paid = list(before)
    for seat in range(4):
        if seat == winner:
            continue
        if discarder is None:
            amount = single * (2 if house.self_drawn_doubles else 1)
        elif house.discarder_pays_all:
            amount = single * 4 if seat == discarder else 0
        else:
            amount = single * (2 if seat == discarder else 1)
        _pay(house, paid, seat, winner, amount)
    return paid[0], paid[1], paid[2], paid[3]


def mistakes_paid(house: House, mistaken: Sequence[int]) -> Payments:
    """What each seat wins or loses by the mistaken mahjongs of these seats, each of which pays every other one."""
    paid = [0, 0, 0, 0]
    for seat in mistaken:
        for other in range(4):
            if other != seat:
                _pay(house, paid, seat, other, house.mistake_pays)
    return paid[0], paid[1], paid[2], paid[3]


def _pay(house: House, paid: list[int], payer: int, to: int, amount: int) -> None:
    if house.loss_limit:
        amount = max(0, min(amount, house.loss_limit + paid[payer]))
    paid[payer] -= amount
    paid[to] += amount


def won(
    house: House,
    winner: int,
    found: tuple[Hand, Variant],
    rack: tuple[Kind, ...],
    exposures: Sequence[Exposure],
    discarder: int | None,
    mistaken: Sequence[int] = (),
    let_go: int = 0,
) -> Outcome:
    """The outcome of a mahjong.

    `rack` and `exposures` are the 14 tiles shown. `discarder` is None for a self-drawn hand. `mistaken` are the seats
    that have shown a mahjong by mistake before. `let_go` is how many tiles the winner has let go.
    """
    hand, variant = found
    jokerless = holds_no_joker(counts_of(rack), exposures)
    single = worth(hand, variant, jokerless, bool(exposures), house) * twist_of(house).times(let_go)
    before = mistakes_paid(house, mistaken)
    after = payments(house, single, winner, discarder, before)
    return Outcome(
        kind="mahjong",
        winner=winner,
        hand=hand,
        variant=variant,
        tiles=rack,
        self_drawn=discarder is None,
        discarder=discarder,
        jokerless=jokerless,
        points=after[winner] - before[winner],
        payments=(0, 0, 0, 0) if house.table == QUIET else after,
    )
