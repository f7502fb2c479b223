"""What is advised, in words: the verdict and its reasons, the others, then the figures for those who ask."""

from __future__ import annotations

from functools import partial

from engine import words
from engine.advice.advise.answers import Advice, Chance, Help, Keep, Known
from engine.advice.advise.calls import CallAdvice, CallChoice, say_ruled_out
from engine.advice.advise.defence import Defence
from engine.advice.advise.exchanges import ExchangeAdvice
from engine.tiles import Kind, name
from game.draw.theme import BLUE, BODY, BODY_BOLD, HEADING, INK, RULE, SMALL, SMALL_BOLD, SOFT, TEAL, VERMILION_TEXT
from game.draw.tiles import Face, width_for
from game.play.advising import TableAdvice
from game.ui.column import Column
from game.ui.layout import Rect
from game.ui.widgets import Ui
from game.words.odds import chance_note, chance_words, cost_words, draws_to_come
from game.words.situation import call_words

TRYING = "Trying the close choices out…"
MOST_HELPS = 5
MOST_CLOSE = 4
HELP_ROW = 44
TRIED_ROW = 38
"""Units of height of a tile in these rows."""
BAR_HIGH, BAR_LEAST = 10, 48
"""Units of height of a bar, and of the width that it needs."""
MOST_LOST = 4
"""Hands named that a call would rule out."""


def reasons_text(
    page: Column,
    advice: TableAdvice,
    tile: Kind | None,
    hand: tuple[str, str] = ("", ""),
    trying: bool = False,
    alone: bool = True,
) -> None:
    """The verdict and the figures under it, in one column."""
    verdict_text(page, advice, tile, hand)
    page.gap(16)
    figures_text(page, advice, trying, alone)


def verdict_text(page: Column, advice: TableAdvice, tile: Kind | None, hand: tuple[str, str] = ("", "")) -> None:
    """What to do now and why. `tile`: the one asked about; `hand`: a question about a hand and its answer."""
    if hand[0]:
        page.heading(hand[0])
        page.gap(6)
        page.text(hand[1])
        page.gap(14)
    if advice.call is not None:
        page.text(call_words(advice.call.best.action), HEADING, TEAL)
        page.text(advice.call.best.because)
        return
    verdict = advice.verdict
    other = next((keep for keep in advice.rack.keeps if keep.kind == tile and keep.kind != advice.let_go), None)
    if other is not None and not advice.finished:
        page.heading(f"Why not the {name(other.kind)}?")
        page.gap(6)
        page.text(other.because)
        warning = advice.defence.warning(other.kind)
        if warning:
            page.gap(4)
            page.text(warning)
        page.gap(12)
    if verdict is not None:
        size = HEADING if other is None or advice.finished else BODY_BOLD
        page.text(verdict.title, size, TEAL if advice.finished else INK)
        page.gap(6)
        page.text(verdict.because)
        if verdict.price:
            page.gap(4)
            page.text(verdict.price)
        if advice.warning is not None:
            page.gap(8)
            page.text("Mind the others", BODY_BOLD, VERMILION_TEXT)
            page.text(advice.warning)
    elif advice.rack.because:
        page.text(advice.rack.because)


def figures_text(page: Column, advice: TableAdvice, trying: bool = False, alone: bool = True) -> None:
    """What stands under the verdict. `trying`: better figures are on their way; `alone`: nobody else plays."""
    if advice.call is not None:
        _other_answers(page, advice.call)
        page.gap(10)
        _defence(page, advice.defence)
        return
    if advice.finished:
        return
    if advice.exchange is not None:
        _exchanges(page, advice.exchange)
        page.gap(12)
    chance_text(page, advice.rack.chance, draws_to_come(advice.rack.draws), alone)
    if advice.rack.chance.known is Known.ESTIMATED and trying:
        page.text(TRYING, SMALL, SOFT)
    page.gap(16)
    _close(page, advice.rack)
    _helps(page, advice.rack)
    page.gap(12)
    _defence(page, advice.defence)


def chance_text(page: Column, chance: Chance, within: str, alone: bool = True) -> None:
    """How likely a hand is, and how that is known."""
    page.text(chance_words(chance, within, alone=alone), BODY_BOLD)
    page.text(words.sentence(chance_note(chance)), SMALL, SOFT)


def _close(page: Column, advice: Advice) -> None:
    """How the other choices that were tried out stand to the advised one, the closest first."""
    tried = [keep for keep in advice.keeps if keep.known is not Known.ESTIMATED and keep.kind != advice.let_go]
    if not tried:
        return
    page.caption("Other choices, tried out")
    for keep in sorted(tried, key=lambda keep: keep.behind)[:MOST_CLOSE]:
        _tried(page, keep, advice.turns)
        page.gap(4)
    page.gap(16)


def _tried(page: Column, keep: Keep, turns: bool) -> None:
    tile = row_tile(page.ui, TRIED_ROW)
    with page.aside(tile, gap=10, down="middle") as (picture, said):
        picture.tile(Face(keep.kind), tile)
        said.text(cost_words(keep, turns=turns), SMALL)


def _helps(page: Column, advice: Advice) -> None:
    if not advice.helps or not advice.chance.share:
        return
    unit = "turns sooner, later calls counted," if advice.turns else "picks sooner"
    page.caption(f"Draws that help most: {unit} than the least useful one, roughly")
    best = max(one.picks for one in advice.helps)
    for one in advice.helps[:MOST_HELPS]:
        _help(page, one, best)
        page.gap(4)


def _help(page: Column, one: Help, best: float) -> None:
    """A tile, how many are unseen, a bar where there is room for one, and the picks."""
    ui = page.ui
    tile = row_tile(ui, HELP_ROW)
    figure, unseen = words.picks_figure(one.picks), f"{one.unseen} unseen"
    with page.aside(tile, gap=10, down="middle") as (picture, row):
        picture.tile(Face(one.kind), tile)
        with row.aside(ui.width(figure, SMALL_BOLD) + ui.u(4), gap=8, right=True, down="middle") as (left, right):
            right.text(figure, SMALL_BOLD, across="right")
            wide = min(ui.width(unseen, SMALL) + ui.u(6), left.width)
            if left.width - wide <= ui.u(BAR_LEAST):
                left.text(unseen, SMALL, SOFT)
                return
            with left.aside(wide, gap=8, down="middle") as (said, bar):
                said.text(unseen, SMALL, SOFT)
                bar.block(BAR_HIGH, partial(_bar, ui, one.picks / best))


def _bar(ui: Ui, share: float, rect: Rect) -> None:
    ui.bar(rect, share, BLUE, RULE)


def row_tile(ui: Ui, high: float) -> int:
    """Pixels of width of a tile in a row of so many units of height."""
    return max(width_for(ui.u(high)), 8)


def _other_answers(page: Column, advice: CallAdvice) -> None:
    """The other answers to a discard, and what the best one to call rules out."""
    for choice in advice.choices[1:]:
        page.text(call_words(choice.action), BODY_BOLD)
        page.text(choice.because)
        page.gap(8)
    lost = next((choice for choice in advice.choices if choice.rules_out), None)
    if lost is not None:
        page.gap(14)
        page.text(lost_title(lost), SMALL_BOLD, SOFT)
        for said in say_ruled_out(lost.rules_out[:MOST_LOST]):
            page.text(said)
            page.gap(3)
        rest = len(lost.rules_out) - MOST_LOST
        if rest > 0:
            page.text(f"And {words.count(rest, 'more hand')}.")
    page.gap(6)
    page.text("What an answer costs is weighed for this game: as much as losing so many turns.", SMALL, SOFT)


def lost_title(choice: CallChoice) -> str:
    """The heading over the hands that a call rules out."""
    return f"Ruled out by “{words.sentence(call_words(choice.action))}”"


def _exchanges(page: Column, advice: ExchangeAdvice) -> None:
    """Every joker that may be had; the verdict has said already which one to take."""
    rest = [choice for choice in advice.choices if choice is not advice.best]
    if rest:
        page.text("Jokers to be had", BODY_BOLD)
    for choice in rest:
        page.text(f"{choice.title}? {choice.because}", BODY, INK if choice.good else SOFT)
        page.gap(3)


def _defence(page: Column, defence: Defence) -> None:
    """What the exposures of each seat can still become."""
    shown = [one for one in defence.seats if one.exposures or one.dead]
    if shown:
        page.text("What the others show", SMALL_BOLD, SOFT)
    for one in shown:
        page.text(one.sentence)
        page.gap(3)
