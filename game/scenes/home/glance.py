"""What the home screen shows at a glance: the season (hands won, days, what got better), a sheet being written."""

from __future__ import annotations

from datetime import date
from functools import partial

from engine.tiles import parse_tiles
from engine.words import sentence
from game.draw.theme import (
    BODY,
    BODY_BOLD,
    EDGE,
    ON_TEAL,
    RULE,
    SMALL,
    SMALL_BOLD,
    SOFT,
    TEAL,
    TITLE,
    WOOD,
    WOOD_DEEP,
    WOOD_LIT,
)
from game.draw.tiles import Face, height_for
from game.play.practice.standing import SeasonGlance
from game.play.writing.drafts import DraftNote
from game.ui.column import Column
from game.ui.layout import Rect
from game.ui.targets import Do
from game.ui.widgets import Ui
from game.words.season.home import better_words, days_words, part_words, won_words
from game.words.writing import draft_title, draft_words

DAYS = ("Mo", "Tu", "We", "Th", "Fr", "Sa", "Su")
BAR, DISC = 12, 46
"""Units: the height of the bar of hands won, and of the seven days with their letters."""
BESIDE = 480
"""Units of width from which hands and days stand side by side."""


def fill_glance(page: Column, glance: SeasonGlance) -> None:
    """Hands won, the last seven days, the part of the season, and what got better."""
    with page.beside([1, 1.4], least=BESIDE, gap=24) as (won, days):
        won.text(str(glance.won), TITLE, TEAL)
        won.text(won_words(glance), SMALL, SOFT)
        won.gap(6)
        won.block(BAR, partial(_won_bar, won.ui, glance))
        days.block(DISC, partial(_week, days.ui, glance))
        days.gap(4)
        days.text(f"{sentence(days_words(glance))}.", SMALL, SOFT)
    page.gap(10)
    if glance.part is not None and glance.season is not None:
        page.text(part_words(glance.part, glance.season, date.today()), BODY)
    for said in better_words(glance.better):
        page.gap(2)
        page.text(said, BODY)


def _won_bar(ui: Ui, glance: SeasonGlance, rect: Rect) -> None:
    """How much of the sheet is won."""
    ui.bar(rect, glance.won / max(glance.hands, 1), TEAL, RULE)


def _week(ui: Ui, glance: SeasonGlance, rect: Rect) -> None:
    """Seven days: a filled disc with a tick for one on which something was done, a ring for one without."""
    side = rect.height - ui.line(SMALL_BOLD)
    step = min(side + ui.u(14), rect.width // max(len(glance.week), 1))
    for place, (day, done) in enumerate(glance.week):
        disc = Rect(rect.left + place * step, rect.top, side, side)
        ui.panel(disc, TEAL if done else None, TEAL if done else EDGE, side, 2)
        if done:
            ui.mark("tick", disc.center, 14, ON_TEAL)
        ui.text(DAYS[day.weekday()], (disc.centerx, disc.bottom), SMALL_BOLD if done else SMALL, SOFT, "middle")


def written_card(page: Column, draft: DraftNote, go: Do) -> None:
    """The sheet being written, to go on with by a press."""
    title = f"Go on writing {draft_title(draft)}"
    with page.card("Go on writing", go, says=title, pad=6) as card:
        card.text(title, BODY_BOLD, TEAL)
        card.text(draft_words(draft), SMALL, SOFT)


def winds_on_ledge(ui: Ui, band: Rect) -> None:
    """Four winds and a joker on a ledge."""
    kinds = parse_tiles("we ws ww wn jk")
    wood, gap = ui.u(14), ui.u(10)
    width = min((band.height - wood) * 100 // 138, (band.width - gap * 6) // len(kinds))
    left = band.right - ui.u(14) - width * len(kinds) - gap * (len(kinds) - 1)
    top = band.bottom - wood - height_for(width)
    for index, kind in enumerate(kinds):
        ui.tile(Face(kind), Rect(left + index * (width + gap), top, width, height_for(width)))
    ledge = Rect(left - ui.u(14), band.bottom - wood, band.right - left + ui.u(14), wood)
    ui.look.shapes.ledge(ui.surface, ledge, WOOD_LIT, WOOD, WOOD_DEEP)
