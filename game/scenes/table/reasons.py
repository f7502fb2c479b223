"""What is advised, in words: the verdict and its reasons, the others, then the figures for those who ask."""

from __future__ import annotations

from engine import words
from engine.advice.advise.answers import Advice, Help, Keep
from engine.advice.advise.calls import CallAdvice, CallChoice, ExchangeAdvice
from engine.advice.advise.defence import Defence
from engine.advice.rollout.race import Outlook
from engine.tiles import Kind, name
from game.draw.theme import BLUE, BODY, BODY_BOLD, HEADING, INK, RULE, SMALL, SMALL_BOLD, SOFT, TEAL, VERMILION_TEXT
from game.draw.tiles import Face, height_for
from game.play.advising import WORTH_SAYING, TableAdvice
from game.ui.layout import Rect, Space
from game.ui.widgets import Ui
from game.words.odds import draws_to_come, outlook_note, outlook_words, tried_words
from game.words.situation import call_words, exchange_words

TRYING = "Reckoned so far; trying the close choices out…"
MOST_HELPS = 5
MOST_CLOSE = 4
HELP_ROW = 44
TRIED_ROW = 38
"""Units of height of both."""
MOST_LOST = 4
"""Hands named that a call would rule out."""


def reasons_text(
    ui: Ui, area: Rect, advice: TableAdvice, tile: Kind | None, player: int, trying: bool = False, alone: bool = True
) -> int:
    """The reasons from a point down; gives the y under them. `tile`: the one asked about, else the verdict's;
    `trying`: better figures are on their way; `alone`: nobody else plays."""
    y = area.top
    if advice.call is not None:
        y = call_text(ui, area, y, advice.call)
        return defence_text(ui, area, y + ui.u(10), advice.defence)
    y = _verdict(ui, area, y, advice, tile)
    if advice.exchange is not None:
        y = exchange_text(ui, area, y, advice.exchange, player) + ui.u(12)
    y = _outlook(ui, area, y, advice.rack, trying, alone)
    y = _close(ui, area, y, advice.rack)
    y = _helps(ui, area, y, advice.rack)
    return defence_text(ui, area, y + ui.u(12), advice.defence)


def _verdict(ui: Ui, area: Rect, y: int, advice: TableAdvice, tile: Kind | None) -> int:
    """What to do with the rack, or what is to be said of the tile asked about."""
    keeps = {keep.kind: keep for keep in advice.rack.keeps}
    if advice.finished:
        y = ui.paragraph("Show mahjong", (area.left, y), area.width, HEADING, TEAL) + ui.u(6)
        return ui.paragraph(advice.rack.keeps[-1].because, (area.left, y), area.width, BODY) + ui.u(16)
    kind = tile if tile in keeps else advice.let_go
    if kind is None:
        return y
    best = kind == advice.let_go
    title = f"Let go the {name(kind)}" if best else f"Why keep the {name(kind)}"
    y = ui.paragraph(title, (area.left, y), area.width, HEADING) + ui.u(6)
    y = ui.paragraph(keeps[kind].because, (area.left, y), area.width, BODY)
    fastest = advice.rack.let_go
    if best and fastest is not None and fastest != kind:
        said = f"Letting the {name(fastest)} go is as fast, but less safe. {advice.warning or ''}"
        y = ui.paragraph(said.rstrip(), (area.left, y + ui.u(4)), area.width, BODY)
    return _watch(ui, area, y + ui.u(4), advice, kind) + ui.u(12)


def _watch(ui: Ui, area: Rect, y: int, advice: TableAdvice, kind: Kind) -> int:
    """What the others may do with the tile, and the price of a safer one."""
    warning = advice.defence.warning(kind)
    if warning is None:
        return y
    y = ui.paragraph("Mind the others", (area.left, y + ui.u(4)), area.width, BODY_BOLD, VERMILION_TEXT)
    y = ui.paragraph(warning, (area.left, y), area.width, BODY) + ui.u(4)
    safer = safer_words(advice, kind)
    return ui.paragraph(safer, (area.left, y), area.width, BODY) if safer else y


def safer_words(advice: TableAdvice, kind: Kind) -> str:
    """A tile that serves the others far less than this one, with its price, if the rack has one."""
    safer = advice.safer(kind)
    if safer is None:
        return ""
    more = safer.cost - next((keep.cost for keep in advice.rack.keeps if keep.kind == kind), 0.0)
    price = "costs no more" if more < WORTH_SAYING else f"costs {words.points_of_odds(more)} points more"
    return f"Letting the {name(safer.kind)} go is safer and {price}."


def _outlook(ui: Ui, area: Rect, y: int, advice: Advice, trying: bool, alone: bool) -> int:
    """What the rack is worth, and how likely a hand is once that was tried out."""
    if advice.outlook is not None:
        y = outlook_text(ui, area, y, advice.outlook, draws_to_come(advice.draws), alone) + ui.u(8)
    worth = f"Your rack is worth {words.odds(advice.worth)}"
    y = ui.paragraph(worth, (area.left, y), area.width, BODY_BOLD)
    note = "the chance, averaged over the draws to come, that some hand is made by then. Costs are points of it."
    if advice.outlook is None:
        note = f"reckoned: {note}"
    y = ui.paragraph(note, (area.left, y), area.width, SMALL, SOFT)
    if advice.outlook is None and trying:
        y = ui.paragraph(TRYING, (area.left, y), area.width, SMALL, SOFT)
    return y + ui.u(16)


def outlook_text(ui: Ui, area: Rect, y: int, outlook: Outlook, within: str, alone: bool = True) -> int:
    """How likely a hand is, and how that is known."""
    y = ui.paragraph(outlook_words(outlook, within, alone=alone), (area.left, y), area.width, BODY_BOLD)
    return ui.paragraph(outlook_note(outlook), (area.left, y), area.width, SMALL, SOFT)


def _close(ui: Ui, area: Rect, y: int, advice: Advice) -> int:
    """How the other choices that were tried out stand to the advised one, the closest first."""
    tried = [(keep.tried.behind, keep) for keep in advice.keeps if keep.tried and keep.kind != advice.let_go]
    if not tried or advice.outlook is None or advice.outlook.exact:
        return y
    y = ui.paragraph("Other choices, tried out", (area.left, y), area.width, SMALL_BOLD, SOFT) + ui.u(6)
    for _, keep in sorted(tried, key=lambda one: one[0])[:MOST_CLOSE]:
        y = _tried(ui, Rect(area.left, y, area.width, ui.u(TRIED_ROW)), keep) + ui.u(4)
    return y + ui.u(12)


def _tried(ui: Ui, rect: Rect, keep: Keep) -> int:
    tile = max(int(rect.height / 1.38), 8)
    space = Space(rect)
    place = space.left(tile, ui.u(10))
    ui.tile(Face(keep.kind), Rect(place.left, rect.top + (rect.height - height_for(tile)) // 2, tile, height_for(tile)))
    ui.fitted(tried_words(keep), space.rect, SMALL)
    return rect.bottom


def _helps(ui: Ui, area: Rect, y: int, advice: Advice) -> int:
    if not advice.helps:
        return y
    y = ui.paragraph("Next draws that help most, as reckoned", (area.left, y), area.width, SMALL_BOLD, SOFT) + ui.u(6)
    best = max(one.worth for one in advice.helps)
    for one in advice.helps[:MOST_HELPS]:
        y = _help(ui, Rect(area.left, y, area.width, ui.u(HELP_ROW)), one, advice.estimated, best) + ui.u(4)
    return y


def _help(ui: Ui, rect: Rect, one: Help, before: float, best: float) -> int:
    high = rect.height
    tile = max(int(high / 1.38), 8)
    space = Space(rect)
    place = space.left(tile, ui.u(10))
    ui.tile(Face(one.kind), Rect(place.left, rect.top + (high - height_for(tile)) // 2, tile, height_for(tile)))
    change = f"{words.odds(before)} to {words.odds(one.worth)}"
    wide = ui.width(change, SMALL_BOLD) + ui.u(4)
    ui.fitted(change, space.right(wide, ui.u(8)), SMALL_BOLD, across="right")
    unseen = f"{one.unseen} unseen"
    ui.fitted(unseen, space.left(min(ui.width(unseen, SMALL) + ui.u(6), space.rect.width), ui.u(8)), SMALL, SOFT)
    bar = space.rect
    if bar.width > ui.u(40):
        share = (one.worth - before) / (best - before) if best > before else 0.0
        ui.bar(Rect(bar.left, bar.centery - ui.u(5), bar.width, ui.u(10)), max(share, 0.0), BLUE, RULE)
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


def defence_text(ui: Ui, area: Rect, y: int, defence: Defence) -> int:
    """What the exposures of each seat can still become."""
    shown = [one for one in defence.seats if one.exposures or one.dead]
    if not shown:
        return y
    y = ui.paragraph("What the others show", (area.left, y), area.width, SMALL_BOLD, SOFT)
    for one in shown:
        y = ui.paragraph(one.sentence, (area.left, y), area.width, BODY) + ui.u(3)
    return y
