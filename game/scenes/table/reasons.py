"""What is advised, in words: the verdict and its reasons, the others, then the figures for those who ask."""

from __future__ import annotations

from engine import words
from engine.advice.advise.answers import Advice, Chance, Help, Keep, Known
from engine.advice.advise.calls import CallAdvice, CallChoice, ExchangeAdvice
from engine.advice.advise.defence import Defence
from engine.tiles import Kind, name
from game.draw.theme import BLUE, BODY, BODY_BOLD, HEADING, INK, RULE, SMALL, SMALL_BOLD, SOFT, TEAL, VERMILION_TEXT
from game.draw.tiles import Face, height_for
from game.play.advising import TableAdvice
from game.ui.layout import Rect, Space
from game.ui.widgets import Ui
from game.words.odds import chance_note, chance_words, cost_words, draws_to_come
from game.words.situation import call_words

TRYING = "Trying the close choices out…"
MOST_HELPS = 5
MOST_CLOSE = 4
HELP_ROW = 44
TRIED_ROW = 38
"""Units of height of both."""
MOST_LOST = 4
"""Hands named that a call would rule out."""


def reasons_text(
    ui: Ui,
    area: Rect,
    advice: TableAdvice,
    tile: Kind | None,
    hand: tuple[str, str] = ("", ""),
    trying: bool = False,
    alone: bool = True,
) -> int:
    """The reasons from a point down; gives the y under them. `tile`: the one asked about; `hand`: a
    question about a hand and its answer; `trying`: better figures are on their way; `alone`: nobody else plays."""
    y = area.top
    if hand[0]:
        y = ui.paragraph(hand[0], (area.left, y), area.width, HEADING) + ui.u(6)
        y = ui.paragraph(hand[1], (area.left, y), area.width, BODY) + ui.u(14)
    if advice.call is not None:
        y = call_text(ui, area, y, advice.call)
        return defence_text(ui, area, y + ui.u(10), advice.defence)
    y = _verdict(ui, area, y, advice, tile)
    if advice.finished:
        return y
    if advice.exchange is not None:
        y = exchange_text(ui, area, y, advice.exchange) + ui.u(12)
    y = chance_text(ui, area, y, advice.rack.chance, draws_to_come(advice.rack.draws), alone)
    if advice.rack.chance.known is Known.ESTIMATED and trying:
        y = ui.paragraph(TRYING, (area.left, y), area.width, SMALL, SOFT)
    y = _close(ui, area, y + ui.u(16), advice.rack)
    y = _helps(ui, area, y, advice.rack)
    return defence_text(ui, area, y + ui.u(12), advice.defence)


def _verdict(ui: Ui, area: Rect, y: int, advice: TableAdvice, tile: Kind | None) -> int:
    """What to do now and why; before it, if another tile is asked about, why not that one."""
    verdict = advice.verdict
    other = next((keep for keep in advice.rack.keeps if keep.kind == tile and keep.kind != advice.let_go), None)
    if other is not None and not advice.finished:
        y = ui.paragraph(f"Why not the {name(other.kind)}?", (area.left, y), area.width, HEADING) + ui.u(6)
        y = ui.paragraph(other.because, (area.left, y), area.width, BODY) + ui.u(4)
        warning = advice.defence.warning(other.kind)
        y = (ui.paragraph(warning, (area.left, y), area.width, BODY) if warning else y) + ui.u(12)
    if verdict is not None:
        size = HEADING if other is None or advice.finished else BODY_BOLD
        y = ui.paragraph(verdict.title, (area.left, y), area.width, size, TEAL if advice.finished else INK) + ui.u(6)
        y = ui.paragraph(verdict.because, (area.left, y), area.width, BODY)
        if verdict.price:
            y = ui.paragraph(verdict.price, (area.left, y + ui.u(4)), area.width, BODY)
        warning = advice.defence.warning(verdict.kind) if verdict.kind is not None and not advice.finished else None
        if warning is not None:
            y = ui.paragraph("Mind the others", (area.left, y + ui.u(8)), area.width, BODY_BOLD, VERMILION_TEXT)
            y = ui.paragraph(warning, (area.left, y), area.width, BODY)
    elif advice.rack.because:
        y = ui.paragraph(advice.rack.because, (area.left, y), area.width, BODY)
    return y + ui.u(16)


def chance_text(ui: Ui, area: Rect, y: int, chance: Chance, within: str, alone: bool = True) -> int:
    """How likely a hand is, and how that is known."""
    y = ui.paragraph(chance_words(chance, within, alone=alone), (area.left, y), area.width, BODY_BOLD)
    return ui.paragraph(words.sentence(chance_note(chance)), (area.left, y), area.width, SMALL, SOFT)


def _close(ui: Ui, area: Rect, y: int, advice: Advice) -> int:
    """How the other choices that were tried out stand to the advised one, the closest first."""
    tried = [keep for keep in advice.keeps if keep.known is not Known.ESTIMATED and keep.kind != advice.let_go]
    if not tried:
        return y
    y = ui.paragraph("Other choices, tried out", (area.left, y), area.width, SMALL_BOLD, SOFT) + ui.u(6)
    for keep in sorted(tried, key=lambda keep: keep.behind)[:MOST_CLOSE]:
        y = _tried(ui, Rect(area.left, y, area.width, ui.u(TRIED_ROW)), keep, advice.turns) + ui.u(4)
    return y + ui.u(12)


def _tried(ui: Ui, rect: Rect, keep: Keep, turns: bool) -> int:
    tile = max(int(rect.height / 1.38), 8)
    space = Space(rect)
    place = space.left(tile, ui.u(10))
    ui.tile(Face(keep.kind), Rect(place.left, rect.top + (rect.height - height_for(tile)) // 2, tile, height_for(tile)))
    ui.fitted(cost_words(keep, turns=turns), space.rect, SMALL)
    return rect.bottom


def _helps(ui: Ui, area: Rect, y: int, advice: Advice) -> int:
    if not advice.helps:
        return y
    unit = "turns" if advice.turns else "picks"
    title = f"Draws that help most: {unit} sooner than the least useful one, roughly"
    y = ui.paragraph(title, (area.left, y), area.width, SMALL_BOLD, SOFT) + ui.u(6)
    best = max(one.picks for one in advice.helps)
    for one in advice.helps[:MOST_HELPS]:
        y = _help(ui, Rect(area.left, y, area.width, ui.u(HELP_ROW)), one, best) + ui.u(4)
    return y


def _help(ui: Ui, rect: Rect, one: Help, best: float) -> int:
    high = rect.height
    tile = max(int(high / 1.38), 8)
    space = Space(rect)
    place = space.left(tile, ui.u(10))
    ui.tile(Face(one.kind), Rect(place.left, rect.top + (high - height_for(tile)) // 2, tile, height_for(tile)))
    figure = words.picks_figure(one.picks)
    wide = ui.width(figure, SMALL_BOLD) + ui.u(4)
    ui.fitted(figure, space.right(wide, ui.u(8)), SMALL_BOLD, across="right")
    unseen = f"{one.unseen} unseen"
    ui.fitted(unseen, space.left(min(ui.width(unseen, SMALL) + ui.u(6), space.rect.width), ui.u(8)), SMALL, SOFT)
    bar = space.rect
    if bar.width > ui.u(40):
        ui.bar(Rect(bar.left, bar.centery - ui.u(5), bar.width, ui.u(10)), one.picks / best, BLUE, RULE)
    return rect.bottom


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
    note = "Turns count your own draws to the end of the wall, and no later calls."
    return ui.paragraph(note, (area.left, y + ui.u(6)), area.width, SMALL, SOFT)


def lost_title(choice: CallChoice) -> str:
    """The heading over the hands that a call rules out."""
    return f"Ruled out by “{words.sentence(call_words(choice.action))}”"


def _answer(ui: Ui, area: Rect, y: int, choice: CallChoice) -> int:
    y = ui.paragraph(call_words(choice.action), (area.left, y), area.width, BODY_BOLD)
    return ui.paragraph(choice.because, (area.left, y), area.width, BODY) + ui.u(8)


def exchange_text(ui: Ui, area: Rect, y: int, advice: ExchangeAdvice) -> int:
    """Every joker that may be had; the verdict has said already which one to take."""
    rest = [choice for choice in advice.choices if choice is not advice.best]
    if not rest:
        return y
    y = ui.paragraph("Jokers to be had", (area.left, y), area.width, BODY_BOLD, INK)
    for choice in rest:
        y = ui.paragraph(choice.because, (area.left, y), area.width, BODY, INK if choice.good else SOFT) + ui.u(3)
    return y


def defence_text(ui: Ui, area: Rect, y: int, defence: Defence) -> int:
    """What the exposures of each seat can still become."""
    shown = [one for one in defence.seats if one.exposures or one.dead]
    if not shown:
        return y
    y = ui.paragraph("What the others show", (area.left, y), area.width, SMALL_BOLD, SOFT)
    for one in shown:
        y = ui.paragraph(one.sentence, (area.left, y), area.width, BODY) + ui.u(3)
    return y
