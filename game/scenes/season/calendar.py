"""The season's calendar: when the sheet began and ends, what part of the season it is, and what helps most in it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from functools import partial

from engine.drills.calendar import EXERCISES, Exercise, SeasonPart, part_of, season_from
from engine.drills.ledger import SeasonDates
from engine.rules.house import FULL
from engine.words import sentence
from game.draw.theme import BODY, BODY_BOLD, EDGE, INK, LIT, ON_TEAL, RULE, SMALL, SMALL_BOLD, SOFT, TEAL, TOUCH
from game.play.defaults import FOUR_PLAY
from game.play.practice.standing import most_promising
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.season import calendar as said
from game.words.season.home import part_words

WIDEST = 1240
TWO_COLUMNS = 820
STRIP = 84
"""Units of height of the strip of the season."""
CLUB = (("no day", None), ("in a week", 7), ("in two weeks", 14), ("in a month", 30))
SHOWN = (SeasonPart.GETTING_TO_KNOW, SeasonPart.PLAYING_IN, SeasonPart.KEEPING_FRESH, SeasonPart.WAITING)


class CalendarScene(Scene):
    """The season of the current sheet."""

    def __init__(self, routes: Routes, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes, self.desk = routes, routes.desk
        self._back = back
        self.fault = ""
        self.begins, self.ends, self.club = "", "", ""
        """What stands in the three fields."""
        self.season: SeasonDates = season_from(date.today())
        self.known = False
        """Whether the season's dates are known, and not just guessed from today."""
        self.ready: date | None = None
        self.enter()

    def enter(self) -> None:
        """The first game may have been played meanwhile, or another sheet chosen."""
        kept = self.desk.ledgers().season
        self.known, self.season = kept is not None, kept or season_from(date.today())
        self.begins, self.ends = self.season.begins.isoformat(), self.season.ends.isoformat()
        self.ready = self.desk.drilling().schedule.ready
        self.club = "" if self.ready is None else self.ready.isoformat()
        self.dirty = True

    def back(self) -> Scene | None:
        """Where the player came from."""
        return self._back

    @property
    def part(self) -> SeasonPart:
        """The part of the season that today lies in."""
        return part_of(self.season, date.today())

    # Dates.

    def keep(self) -> Scene | None:
        """Keep the season's first and last day, and the day to be ready for, as they are written."""
        try:
            begins, ends = said.read_day(self.begins), said.read_day(self.ends)
            ready = said.read_day(self.club) if self.club.strip() else None
            self.desk.ledgers().set_season(begins, ends)
            self.desk.drilling().be_ready(ready)
        except ValueError as error:
            self.fault = f"{sentence(str(error).rstrip('.'))}."
            return None
        self.fault = ""
        self.enter()
        return None

    def be_ready(self, days: int | None) -> Scene | None:
        """The next club evening is so many days from now."""
        self.desk.drilling().be_ready(None if days is None else date.today() + timedelta(days=days))
        self.enter()
        return None

    def _change(self, field: str, text: str) -> Scene | None:
        setattr(self, field, text)
        self.fault = ""
        return None

    # What can be done.

    def _do(self, one: Exercise) -> Callable[[], Scene | None]:
        """Where an exercise leads: one press."""
        routes, sheet = self.routes, self.desk.current_sheet
        ways: dict[Exercise, Callable[[], Scene | None]] = {
            Exercise.STUDY: lambda: routes.study(sheet, self),
            Exercise.LAY_HANDS: lambda: routes.practice(self),
            Exercise.QUIET_GAMES: routes.new_deal,
            Exercise.PASSES: lambda: routes.rehearsal(self),
            Exercise.FULL_TABLES: self._full_table,
            Exercise.MATCHES: lambda: routes.match(self),
            Exercise.WANTED_HANDS: self._wanted,
            Exercise.OTHER_SHEETS: lambda: routes.choosing(self),
            Exercise.INVENTED_SHEETS: lambda: routes.choosing(self),
            Exercise.TWISTS: lambda: routes.twists(self),
        }
        return ways[one]

    def _full_table(self) -> Scene | None:
        """A game of four by the player's own rules, or by the usual ones."""
        house = self.desk.house if self.desk.house.table == FULL else FOUR_PLAY
        return self.routes.at_table(self.desk.deal(self.desk.current_sheet, self.desk.chosen, house))

    def _wanted(self) -> Scene | None:
        """A deal for the most promising hand still to win; the ledger where every hand is won."""
        left = most_promising(self.desk.ledgers().ledger(date.today()))
        return self.routes.wanted_deal(left[0].hand) if left else self.routes.ledger(self)

    # What is on it.

    def paint(self, ui: Ui) -> None:
        """The strip of the season, then what helps now beside the dates."""
        sheet = self.desk.current_sheet
        rest = ui.header("Season’s calendar", f"{sheet.name} {sheet.season}", self.back)
        scrolled(ui, "calendar", rest, self._fill, widest=WIDEST, gap=14, roomy=True)

    def _fill(self, page: Column) -> None:
        with page.panel() as inside:
            inside.text(part_words(self.part, self.season, date.today()), BODY_BOLD, TEAL)
            inside.text(said.ABOUT[self.part], BODY)
            inside.gap(14)
            inside.block(
                STRIP if self.ready is None else STRIP + 20, partial(_strip, inside.ui, self.season, self.ready)
            )
            guessed = "" if self.known else " (as long as you set no dates)"
            inside.text(f"{said.dates_words(self.season)}{guessed}.", SMALL, SOFT)
        with page.beside([1.3, 1], least=TWO_COLUMNS, gap=14) as (left, right):
            with left.panel("What helps most now") as inside:
                for place, one in enumerate(EXERCISES[self.part]):
                    self._exercise(inside, one, place == 0)
            self._dates(right)

    def _exercise(self, page: Column, one: Exercise, first: bool) -> None:
        name, why = said.EXERCISES[one]
        page.gap(0 if first else 8)
        with page.card(f"exercise {one.value}", self._do(one), says=name, pad=7, here=first) as card:
            card.text(name, BODY_BOLD, TEAL)
            card.text(why, SMALL, SOFT)

    def _dates(self, page: Column) -> None:
        with page.panel("The dates") as inside:
            for name, field in (("The sheet began on", "begins"), ("It ends on", "ends"), ("Be ready for", "club")):
                inside.caption(name)
                inside.block(TOUCH, partial(self._field, inside.ui, field))
                inside.gap(10)
            inside.text(said.ready_for_words(self.ready, date.today()), SMALL, SOFT)
            inside.gap(10)
            inside.buttons([Press("Keep these dates", self.keep, "k", main=True)])
            if self.fault:
                inside.gap(8)
                inside.notice(self.fault)
            inside.gap(12)
            inside.caption("Or a club evening")
            options = [(days, name) for name, days in CLUB]
            chosen = next((days for days, _ in options if self._is_ready(days)), -1)
            inside.add(lambda at, width: inside.ui.choice(at, width, "club", options, chosen, self.be_ready))

    def _is_ready(self, days: int | None) -> bool:
        return self.ready is None if days is None else self.ready == date.today() + timedelta(days=days)

    def _field(self, ui: Ui, field: str, rect: Rect) -> None:
        hint = "such as 2026-04-01" if field != "club" else "no day"
        ui.field(
            rect, field, getattr(self, field), partial(self._change, field), hint=hint, enter=self.keep, longest=40
        )


def _strip(ui: Ui, season: SeasonDates, ready: date | None, rect: Rect) -> None:
    """The season as a strip of its four parts, today marked on it by a pointer with its name, the day to be ready for
    by a thin line."""
    whole = (season.ends - season.begins).days + 1
    high = ui.u(30)
    top = rect.top + ui.line(SMALL_BOLD) + ui.u(4)
    today = date.today()

    def across(day: date) -> int:
        return rect.left + round(rect.width * min(max((day - season.begins).days / whole, 0.0), 1.0))

    days = [season.begins + timedelta(days=number) for number in range(whole)]
    for part in SHOWN:
        mine = [day for day in days if part_of(season, day) is part]
        if not mine:
            continue
        left, right = across(mine[0]), across(mine[-1] + timedelta(days=1))
        here = part is part_of(season, today)
        block = Rect(left, top, max(right - left - ui.u(3), 1), high)
        ui.panel(block, TEAL if here else LIT, TEAL if here else EDGE, 6, 1.5)
        if block.width > ui.width(said.NAMES[part], SMALL) + ui.u(8):
            label = ui.width(said.NAMES[part], SMALL)
            at = (block.centerx - label // 2, block.centery - ui.line(SMALL) // 2)
            with ui.within(block):
                ui.text(said.NAMES[part], at, SMALL, ON_TEAL if here else INK)
        else:  # under its block, from the strip's nearer end
            ends = left > rect.centerx
            ui.text(said.NAMES[part], (right - ui.u(3) if ends else left, top + high + ui.u(4)), SMALL,
                    TEAL if here else SOFT, "right" if ends else "left")  # fmt: skip
    thick = max(ui.u(2), 1)
    if season.begins <= today <= season.ends:
        x = across(today)
        ui.panel(Rect(x - thick, top - ui.u(4), 2 * thick, high + ui.u(8)), INK, None, 0)
        wide = ui.width("today", SMALL_BOLD)
        ui.text("today", (min(max(x - wide // 2, rect.left), rect.right - wide), rect.top), SMALL_BOLD, INK)
    if ready is not None and season.begins <= ready <= season.ends and ready >= today:
        x = across(ready)
        under = top + high + ui.u(4) + ui.line(SMALL)
        ui.panel(Rect(x - thick // 2, top, thick, under - top), RULE, None, 0)
        wide = ui.width("ready", SMALL)
        at = (min(max(x - wide // 2, rect.left), rect.right - wide), under)
        ui.text("ready", at, SMALL, SOFT)
