"""What is advised at the full table, in words: whether to call and what that rules out, exchanges, what others show."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from engine import words
from engine.advice.advise.calls import CallAdvice, CallChoice, ExchangeAdvice
from engine.advice.advise.defence import Defence
from engine.tiles import Kind, name
from game.draw.theme import BODY, BODY_BOLD, HEADING, INK, SMALL, SMALL_BOLD, SOFT, TEAL, VERMILION_TEXT
from game.scenes.table.reasons import reasons_text
from game.ui.layout import Rect, inset
from game.ui.widgets import Ui
from game.words.situation import call_words, exchange_words

if TYPE_CHECKING:
    from game.scenes.table.full import FullAdvice, FullScene

MOST_LOST = 4
"""Hands named that a call would rule out."""
WORTH_SAYING = 0.0005
"""Gains under this are none."""


def full_reasons(
    ui: Ui,
    rect: Rect,
    scene: FullScene,
    full: FullAdvice,
    below: Callable[[Ui, Rect, int, FullScene], int] | None = None,
) -> None:
    """The reasons in a panel, scrolled if they don't fit, and perhaps something more below them."""
    ui.panel(rect)
    inner = inset(rect, ui.u(18), ui.u(10))

    def content(area: Rect) -> int:
        y = full_reasons_text(ui, area, scene, full)
        return y if below is None else below(ui, area, y + ui.u(14), scene)

    with ui.within(rect):
        ui.scroll("reasons", inner, content)


def full_reasons_text(ui: Ui, area: Rect, scene: FullScene, full: FullAdvice) -> int:
    """The reasons from a point down; gives the y under them."""
    y = area.top
    if full.call is not None:
        y = call_text(ui, area, y, full.call)
        return defence_text(ui, area, y + ui.u(10), full.defence)
    tile = scene.tile if scene.tile is not None else full.rack.let_go
    warning = full.defence.warning(tile) if tile is not None else None
    if warning is not None:
        y = ui.paragraph("Mind the others", (area.left, y), area.width, BODY_BOLD, VERMILION_TEXT)
        y = ui.paragraph(warning, (area.left, y), area.width, BODY) + ui.u(4)
        safer = safer_words(full, tile)
        y = (ui.paragraph(safer, (area.left, y), area.width, BODY) if safer else y) + ui.u(12)
    if full.exchange is not None:
        y = exchange_text(ui, area, y, full.exchange, scene.sitting.player) + ui.u(12)
    y = reasons_text(ui, Rect(area.left, y, area.width, area.height), full.rack, scene.tile, scene.trying, alone=False)
    return defence_text(ui, area, y + ui.u(12), full.defence)


def call_text(ui: Ui, area: Rect, y: int, advice: CallAdvice) -> int:
    """The best answer to a discard, why, and what it rules out."""
    best = advice.best
    y = ui.paragraph(call_words(best.action), (area.left, y), area.width, HEADING, TEAL)
    y = ui.paragraph(best.because, (area.left, y), area.width, BODY) + ui.u(10)
    for choice in advice.choices[1:]:
        y = _answer(ui, area, y, choice)
    lost = next((choice for choice in advice.choices if choice.rules_out), None)
    if lost is not None:
        y = ui.paragraph(lost_title(lost), (area.left, y + ui.u(6)), area.width, SMALL_BOLD, SOFT)
        for one in lost.rules_out[:MOST_LOST]:
            y = ui.paragraph(one.because, (area.left, y), area.width, BODY) + ui.u(3)
        rest = len(lost.rules_out) - MOST_LOST
        if rest > 0:
            y = ui.paragraph(f"And {words.count(rest, 'more hand')}.", (area.left, y), area.width, BODY)
    note = "Worth counts your own draws to the end of the wall, and no later calls."
    return ui.paragraph(note, (area.left, y + ui.u(6)), area.width, SMALL, SOFT)


def lost_title(choice: CallChoice) -> str:
    """The heading over the hands that a call rules out."""
    return f"Ruled out by “{words.sentence(call_words(choice.action))}”"


def _answer(ui: Ui, area: Rect, y: int, choice: CallChoice) -> int:
    y = ui.paragraph(call_words(choice.action), (area.left, y), area.width, BODY_BOLD)
    return ui.paragraph(choice.because, (area.left, y), area.width, BODY) + ui.u(8)


def exchange_text(ui: Ui, area: Rect, y: int, advice: ExchangeAdvice, player: int) -> int:
    """Which joker to take, if one helps."""
    y = ui.paragraph("Jokers to be had", (area.left, y), area.width, BODY_BOLD, INK)
    for choice in advice.choices:
        good = choice.gain > WORTH_SAYING
        y = ui.paragraph(
            f"{exchange_words(choice.action, player)}: {choice.because}" if good else choice.because,
            (area.left, y), area.width, BODY, INK if good else SOFT,
        ) + ui.u(3)  # fmt: skip
    return y


def safer_words(full: FullAdvice, kind: Kind | None) -> str:
    """A tile that costs little more and serves nobody as much, if the rack has one."""
    if kind is None or not full.rack.keeps:
        return ""
    here = full.defence.share(kind)
    cost = {keep.kind: keep.cost for keep in full.rack.keeps}
    safer = [keep for keep in full.rack.keeps if keep.kind != kind and full.defence.share(keep.kind) < here / 2]
    best = min(safer, key=lambda keep: keep.cost, default=None)
    if best is None:
        return ""
    more = best.cost - cost.get(kind, 0.0)
    price = "costs no more" if more <= WORTH_SAYING else f"costs {words.points_of_odds(more)} points more"
    return f"Letting the {name(best.kind)} go is safer and {price}."


def defence_text(ui: Ui, area: Rect, y: int, defence: Defence) -> int:
    """What the exposures of each seat can still become."""
    shown = [one for one in defence.seats if one.exposures or one.dead]
    if not shown:
        return y
    y = ui.paragraph("What the others show", (area.left, y), area.width, SMALL_BOLD, SOFT)
    for one in shown:
        y = ui.paragraph(one.sentence, (area.left, y), area.width, BODY) + ui.u(3)
    return y
