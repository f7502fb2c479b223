"""Your play: what a choice costs the player, over all games with advice hidden, ten by ten, and as plain figures."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from engine import words
from engine.advice.review.review import Review
from engine.advice.review.skill import Play
from engine.advice.stats import ENOUGH
from engine.store.values import StoreError
from game.draw.theme import (
    BLUE,
    BODY,
    BODY_BOLD,
    CARD,
    EDGE,
    HEADING,
    INK,
    RULE,
    SMALL,
    SMALL_BOLD,
    SOFT,
    VERMILION,
    Style,
)
from game.play.reviewing import keep_figures, review_job, tried_job
from game.play.settings import HIDDEN
from game.play.skill import PlayOverTime, Ten, play_over_time
from game.play.worker import Job
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.season.progress import change_line, days, per_choice, play_line

WIDEST = 1000
FIGURES = ("games", "choices", "picks lost", "picks each")
FIGURE = 92
"""Units of a column of figures."""
BESIDE = 700
"""Units of width from which a row's words and its figures stand side by side."""


class PlayScene(Scene):
    """The measure of play over time; games that were never looked through can be from here."""

    def __init__(self, routes: Routes, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes, self.desk = routes, routes.desk
        self._back = back
        self.found: PlayOverTime = play_over_time(())
        self.waiting: list[int] = []
        """Lines that count but have not been looked through, the one played last first."""
        self.looking = False
        """Whether they are being looked through."""
        self.done = 0
        self._spoiled: set[int] = set()
        """Lines that can't be looked through."""
        self.enter()

    def enter(self) -> None:
        """Look again at what is kept."""
        self.looking, self.done = False, 0
        self._read()

    def _read(self) -> None:
        self.found = play_over_time(self.desk.store.reviews())
        self.waiting = [line for line in self.desk.store.unreviewed() if line not in self._spoiled]
        self.dirty = True

    def back(self) -> Scene | None:
        """Where it was opened from; what was looked through by then is kept."""
        if self.looking:
            self.desk.worker.cancel()
        return self._back

    # Looking through games.

    def look_through(self) -> Scene | None:
        """Review the games that wait, one after another, beside the window."""
        self.looking, self.done = True, 0
        self._next()
        return None

    def _next(self) -> None:
        """Begin with the next game that can be opened."""
        while self.waiting and not self._begin(self.waiting[0]):
            self._spoil(self.waiting[0])
        self.looking = bool(self.waiting)

    def _begin(self, line: int) -> bool:
        """Begin with one game; whether it can be opened."""
        try:
            sitting = self.desk.sitting_of(line)
        except (StoreError, ValueError):
            return False
        state = sitting.state
        advisor = self.desk.advisor(state.sheet, state.house.jokers)
        work = review_job(sitting, advisor)

        def whole(job: Job[Review | None]) -> Review | None:
            found = work(lambda: job.stopped)
            if found is None or not advisor.effort:
                return found
            return tried_job(sitting, advisor, found)(lambda: job.stopped, job.breathe)

        self.desk.worker.submit(whole, lambda found: self._reviewed(line, found))
        return True

    def _reviewed(self, line: int, found: Review | None) -> None:
        if not keep_figures(self.desk.store, line, found):
            self._spoil(line)
        self.done += 1
        self._read()
        self._next()

    def _spoil(self, line: int) -> None:
        self._spoiled.add(line)
        self.waiting.remove(line)
        self.dirty = True

    # Painting.

    def paint(self, ui: Ui) -> None:
        """The sentence first, then the chart, then the figures."""
        count = len(self.found.games)
        note = f"{words.count(count, 'game')} looked through" if count else ""
        rest = ui.header("Your play", note, self.back)
        scrolled(ui, "play", rest, self._fill, widest=WIDEST, gap=16, roomy=not count)

    def _fill(self, page: Column) -> None:
        with page.panel() as inside:
            self._words(inside)
        if any(ten.full for ten in self.found.tens):
            with page.panel("Ten games at a time") as inside:
                self._chart(inside)
        if self.found.games:
            with page.panel("The figures") as inside:
                self._table(inside)

    def _words(self, inside: Column) -> None:
        hidden = self.found.hidden
        said = [(play_line(hidden), HEADING, INK), (change_line(self.found.of(hidden=True)), BODY, INK)]
        if not hidden.games:
            said.append((self._how(), BODY, INK))
        others = self.found.at_hand.games
        if others:
            more = f"{words.sentence(words.count(others, 'other game'))}, with advice at hand or tried another way: "
            said.append((f"{more}shown below, not counted.", BODY, SOFT))
        said.append((self._waiting(), BODY, SOFT))
        for text, style, colour in said:
            if text:
                inside.text(text, style, colour)
                inside.gap(6)
        presses = self._presses()
        if presses:
            inside.gap(12)
            inside.buttons(presses)

    def _how(self) -> str:
        """What to do, so that there is something to see."""
        if self.waiting:
            return "Have your games looked through, and what your choices cost is counted here."
        shown = self.desk.settings.advice != HIDDEN
        first = "Hide the advice in the settings, play" if shown else "Play"
        return f"{first} a deal at the quiet table to its end, and what your choices cost is counted here."

    def _waiting(self) -> str:
        """How many games were never looked through, or how far that has come; nothing where there is none."""
        number = len(self.waiting)
        if self.looking:
            whole = words.count(self.done + number, "game")
            return f"Looking through {whole}: {words.count(self.done, 'game')} done."
        if number:
            verb = "has" if number == 1 else "have"
            return f"{words.sentence(words.count(number, 'finished game'))} {verb} not been looked through yet."
        if self._spoiled:
            return f"{words.sentence(words.count(len(self._spoiled), 'game'))} can’t be opened, so not counted."
        return ""

    def _presses(self) -> list[Press]:
        if self.looking:
            return []
        if self.waiting:
            return [Press("Look through them" if len(self.waiting) > 1 else "Look through it", self.look_through,
                          "return", main=True)]  # fmt: skip
        if self.found.hidden.games:
            return []
        presses = [Press("New deal", self.routes.new_deal, "d", main=self.desk.settings.advice == HIDDEN)]
        if self.desk.settings.advice != HIDDEN:
            presses.insert(0, Press("Settings", self._settings, "s", main=True))
        return presses

    def _settings(self) -> Scene | None:
        return self.routes.settings(self)

    def _chart(self, inside: Column) -> None:
        inside.add(lambda at, width: chart(inside.ui, Rect(at, (width, 0)), self.found))
        inside.gap(8)
        inside.text(
            "The line through each point shows how sure it is: about nine times in ten the true cost lies within it. "
            "Where the lines of two points overlap, their difference may be chance.",
            SMALL, SOFT,
        )  # fmt: skip

    # The table.

    def _table(self, inside: Column) -> None:
        rows: list[tuple[str, tuple[str, ...], Style, bool | None]] = [("", FIGURES, SMALL_BOLD, None)]
        for ten in reversed(self.found.tens):
            rows.append((self._name(ten), _figures(ten.play), BODY, ten.hidden))
        for hidden, play in ((True, self.found.hidden), (False, self.found.at_hand)):
            if play.games:
                name = "All with advice hidden" if hidden else "All others"
                rows.append((name, _figures(play), BODY_BOLD, hidden))
        for says, figures, style, kind in rows:
            if kind is not None:
                inside.rule(SOFT if style is BODY_BOLD else RULE)
                inside.gap(3)
            inside.add(partial(self._row, inside.ui, says, figures, style, kind))
        inside.gap(6)
        self._notes(inside)

    @staticmethod
    def _name(ten: Ten) -> str:
        kind = "Advice hidden" if ten.hidden else "Others"
        which = f"game {ten.first}" if ten.first == ten.last else f"games {ten.first} to {ten.last}"
        return f"{kind}, {which}, {days(ten.games)}"

    def _notes(self, inside: Column) -> None:
        counted = [game for game in self.found.games if not game.advice_seen]
        faults = sum(game.faults for game in counted)
        text = (
            "A choice counts where another one would have cost less or more. Picks lost are how many picks sooner the "
            "best choices would have brought a hand, as tried out after the game; picks each are those divided by the "
            "number of choices. All sheets and house rules are counted together."
        )
        if counted:
            made = sum(game.choices for game in counted)
            text += f" With advice hidden {faults:,} of {made:,} choices cost something that can be told."
        inside.text(text, SMALL, SOFT)

    @staticmethod
    def _row(
        ui: Ui, says: str, figures: tuple[str, ...], style: Style, hidden: bool | None, at: tuple[int, int], width: int
    ) -> int:
        """A mark and words at the left, figures at the right or under them; gives the y under the row."""
        beside = width >= ui.u(BESIDE)
        wide = ui.u(FIGURE) if beside else width // len(figures)
        right = at[0] + width
        left = at[0] + (ui.u(2.2 * MARK) if hidden is not None else 0)
        room = right - left - (len(figures) * wide + ui.u(12) if beside else 0)
        words_high = ui.tall(says, room, style) if says else 0
        line = ui.line(style)
        top = at[1] + (0 if beside else words_high)
        bottom = max(at[1] + words_high, top + line)
        if not ui.shows(Rect(at, (width, bottom - at[1]))) and ui.room.scrolled:
            return bottom + ui.u(5)
        if hidden is not None:
            sign(ui, (at[0] + ui.u(MARK), at[1] + line // 2), hidden)
        if says:
            ui.paragraph(says, (left, at[1]), room, style)
        for place, figure in enumerate(figures):
            cell = Rect(right - (len(figures) - place) * wide, top, wide - ui.u(6), line)
            ui.fitted(figure, cell, style, SOFT if hidden is None else INK, "right")
        return bottom + ui.u(5)


def _figures(play: Play) -> tuple[str, str, str, str]:
    each = per_choice(play.cost) if play.games >= ENOUGH else "too few"
    return f"{play.games:,}", f"{play.decisions:,}", f"{play.lost:,.1f}", each


TALL, LEAST = 300, 170
"""Units of the chart's height, and how little it may be in a low window."""
APART = 24
"""Units from one point to the next at least; what doesn't fit then is left to the table."""
ASIDE = 4
"""Units that the two kinds stand to the left and to the right of their place, so that neither hides the other."""
MARK = 12
STEPS = (0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0)
"""Costs that the lines of the scale may be apart."""
LINES = 4
BEYOND = 3.0
"""An interval that ends higher than so many times the highest mean runs out of the chart."""
COUNTED = "advice hidden: these count"
OTHERS = "advice at hand, or a deal tried another way: shown, not counted"


def chart(ui: Ui, area: Rect, found: PlayOverTime) -> int:
    """Paint it from the area's top; gives the y under it. Nothing where no ten is full."""
    tens = [ten for ten in found.tens if ten.full]
    if not tens:
        return area.top
    title = "Picks that a choice cost, on average over ten games in a row"
    y = ui.paragraph(title, area.topleft, area.width, SMALL_BOLD, SOFT) + ui.u(4)
    y = _legend(ui, area, y, tens) + ui.u(10)
    end, step = _scale(tens)
    wide = max(ui.width(_label(number * step, step), SMALL) for number in range(round(end / step) + 1)) + ui.u(10)
    high = max(ui.u(LEAST), min(ui.u(TALL), ui.window.height // 3))
    plot = Rect(area.left + wide, y + ui.line(SMALL) // 2, area.width - wide - ui.u(MARK), high)
    for number in range(round(end / step) + 1):
        at = plot.bottom - round(plot.height * number * step / end)
        ui.rule((plot.left, at), plot.width, RULE if number else EDGE)
        place = (plot.left - ui.u(10), at - ui.line(SMALL) // 2)
        ui.text(_label(number * step, step), place, SMALL, SOFT, "right")
    first, last = _span(ui, plot, found, tens)
    _months(ui, plot, found, first, last)
    for ten in tens:
        if ten.place >= first:
            _point(ui, plot, ten, _across(ui, plot, ten.place, first, last), end)
    return plot.bottom + ui.u(8) + ui.line(SMALL)


def _scale(tens: Sequence[Ten]) -> tuple[float, float]:
    """Where the scale ends, and how far apart its lines are: costs."""
    highest = max(ten.play.cost for ten in tens)
    top = max(_high(ten, BEYOND * highest) for ten in tens)
    step = next((step for step in STEPS if top <= LINES * step), STEPS[-1])
    return step * max(-(-top // step), 1), step


def _high(ten: Ten, most: float) -> float:
    return min(ten.play.within[1], most) if ten.play.within is not None else ten.play.cost


def _label(cost: float, step: float) -> str:
    return f"{cost:.2f}" if step < 0.1 else f"{cost:.1f}" if step < 1 else f"{cost:.0f}"


def _span(ui: Ui, plot: Rect, found: PlayOverTime, tens: Sequence[Ten]) -> tuple[float, float]:
    """Places of the first and the last game that are shown: all, or as many of the latest as there is room for."""
    last = len(found.games) - 1
    fit = max(plot.width // ui.u(APART), 1)
    return (0.0 if len(tens) <= fit else tens[-fit].place - 5), float(max(last, 1))


def _across(ui: Ui, plot: Rect, place: float, first: float, last: float) -> int:
    inner = plot.inflate(-2 * ui.u(MARK), 0)
    return inner.left + round(inner.width * (place - first) / max(last - first, 1))


def _months(ui: Ui, plot: Rect, found: PlayOverTime, first: float, last: float) -> None:
    """The month under the first game of each, as far as they don't crowd one another."""
    free = plot.left
    before = (0, 0)
    for place, game in enumerate(found.games):
        at = game.at.astimezone()
        if place < first or (at.year, at.month) == before:
            continue
        new_year, before = at.year != before[0], (at.year, at.month)
        name = words.MONTHS[at.month - 1] + (f" {at.year}" if new_year else "")
        wide = ui.width(name, SMALL)
        x = _across(ui, plot, place, first, last)
        left = min(x, plot.right - wide)
        ui.panel(Rect(x, plot.bottom, max(ui.u(1.5), 1), ui.u(6)), EDGE, None, 0)
        if left >= free:
            ui.text(name, (left, plot.bottom + ui.u(8)), SMALL, SOFT)
            free = left + wide + ui.u(16)


def _point(ui: Ui, plot: Rect, ten: Ten, x: int, end: float) -> None:
    x += ui.u(-ASIDE if ten.hidden else ASIDE)
    colour = BLUE if ten.hidden else VERMILION

    def down(cost: float) -> int:
        return plot.bottom - round(plot.height * min(cost / end, 1.0))

    if ten.play.within is not None:
        low, high = (down(cost) for cost in ten.play.within)
        line, half = max(ui.u(2), 1), ui.u(5)
        ui.panel(Rect(x - line // 2, high, line, max(low - high, 1)), colour, None, 0)
        ui.panel(Rect(x - half, low - line, 2 * half, line), colour, None, 0)
        if ten.play.within[1] <= end:
            ui.panel(Rect(x - half, high, 2 * half, line), colour, None, 0)
    sign(ui, (x, down(ten.play.cost)), ten.hidden)


def sign(ui: Ui, centre: tuple[int, int], hidden: bool) -> None:
    """The mark of a kind of game: a disc for those that count, an open square for the others."""
    if hidden:
        ui.mark("dot", centre, MARK * 1.5, BLUE)  # the mark's disc takes two thirds of its width
        return
    side = ui.u(MARK)
    ui.panel(Rect(centre[0] - side // 2, centre[1] - side // 2, side, side), CARD, VERMILION, 0, 2.5)


def _legend(ui: Ui, area: Rect, y: int, tens: Sequence[Ten]) -> int:
    """The marks that are there, each with what it means, one under the other; gives the y under them."""
    for hidden, says in ((True, COUNTED), (False, OTHERS)):
        if any(ten.hidden == hidden for ten in tens):
            sign(ui, (area.left + ui.u(MARK), y + ui.line(BODY) // 2), hidden)
            left = area.left + ui.u(2.2 * MARK)
            y = ui.paragraph(says, (left, y), area.right - left, BODY, INK)
    return y
