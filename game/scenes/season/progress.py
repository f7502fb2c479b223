"""Your progress: games, what choices cost, time, passes, drills and weeks, each figure with its count."""

from __future__ import annotations

from functools import partial

from engine import words
from engine.advice.review.full import FullReview
from engine.advice.review.review import Review
from engine.advice.review.skill import Play
from engine.advice.stats import ENOUGH
from engine.rules.house import FULL
from engine.sheet.model import Sheet
from engine.store.values import StoreError
from game.draw.theme import (
    BODY,
    BODY_BOLD,
    INK,
    RULE,
    SMALL,
    SMALL_BOLD,
    SOFT,
    Style,
)
from game.play.practice.progress import ProgressReport, progress_of, unweighed
from game.play.reviewing import keep_figures, keep_points, kept_points, points_job, review_job, tried_job
from game.play.settings import ALWAYS
from game.play.skill import PlayOverTime, Ten, play_over_time
from game.play.worker import Job
from game.scenes.routes import Routes
from game.scenes.season.export import ExportPopup
from game.scenes.season.panels import fill_drills, fill_games, fill_sections, fill_time, fill_weeks
from game.scenes.season.ten_chart import MARK, chart, sign
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.season.progress import change_line, days, per_choice
from game.words.season.report import choices_words

WIDEST = 1400
REST = 1000
"""The share of spare height that stays empty under the cards, which would grow to fill it."""
CELL = 420
"""Units of width of a card of figures at least."""
FIGURES = ("games", "choices", "picks lost", "picks each")
FIGURE = 92
"""Units of a column of figures."""
BESIDE = 700
"""Units of width from which a row's words and its figures stand side by side."""


class ProgressScene(Scene):
    """The measure of play over time; games that were never looked through can be from here."""

    def __init__(self, routes: Routes, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes, self.desk = routes, routes.desk
        self._back = back
        self.found: PlayOverTime = play_over_time(())
        self.only: Sheet | None = None
        """The sheet that is shown; None for all sheets together."""
        self.report: ProgressReport = progress_of(self.desk.store)
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
        store = self.desk.store
        self.report = progress_of(store, None if self.only is None else self.only.fingerprint)
        lines = None if self.only is None else {one.id for one in store.lines(None, sheet=self.only.fingerprint)}
        self.found = play_over_time([one for one in store.reviews() if lines is None or one.line in lines])
        waiting = [*store.unreviewed(), *(unweighed(store) if self.desk.effort else ())]
        self.waiting = [line for line in waiting if line not in self._spoiled]
        self.dirty = True

    def back(self) -> Scene | None:
        """Where it was opened from; what was looked through by then is kept."""
        if self.looking:
            self.desk.worker.cancel()
        return self._back

    def show(self, only: Sheet | None) -> Scene | None:
        """One sheet, or all of them."""
        self.only = only
        self._read()
        return None

    def write(self) -> Scene | None:
        """Everything as files for a spreadsheet."""
        return ExportPopup(self, self.desk)

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
        if state.house.table == FULL:
            weigh = points_job(sitting, advisor)
            self.desk.worker.submit(
                lambda job: weigh(lambda: job.stopped, job.breathe), lambda found: self._weighed(line, found)
            )
            return True
        work = review_job(sitting, advisor)

        def whole(job: Job[Review | None]) -> Review | None:
            found = work(lambda: job.stopped)
            if found is None or not advisor.effort:
                return found
            return tried_job(sitting, advisor, found)(lambda: job.stopped, job.breathe)

        self.desk.worker.submit(whole, lambda found: self._reviewed(line, found))
        return True

    def _weighed(self, line: int, found: FullReview | None) -> None:
        keep_points(self.desk.store, line, found)
        self._looked(line, kept_points(self.desk.store, line) is not None)

    def _reviewed(self, line: int, found: Review | None) -> None:
        self._looked(line, keep_figures(self.desk.store, line, found))

    def _looked(self, line: int, kept: bool) -> None:
        """A game was looked through; one that can't be kept is not tried again."""
        if not kept:
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
        """Which sheet, then the cards of figures, then the chart and the table of what choices cost."""
        count = len(self.found.games)
        note = f"{words.count(count, 'game')} looked through" if count else ""
        action = Press("Write it to files", self.write, "f")
        rest = ui.header("Your progress", note, self.back, action=action)
        scrolled(ui, "progress", rest, self._fill, widest=WIDEST, gap=16)

    def _fill(self, page: Column) -> None:
        sheet = self.desk.current_sheet
        options = ((None, "All sheets"), (sheet, f"{sheet.name} {sheet.season}"))
        page.add(lambda at, width: page.ui.choice(at, width, "sheet", options, self.only, self.show))
        with page.beside([1.15, 1], least=2 * CELL, gap=16) as (left, right):
            with left.panel("Choices", fills=True) as inside:
                self._words(inside)
            fill_games(right, self.report)
            right.gap(16)
            fill_time(right, self.report)
        with page.grid(CELL, 16) as cell:
            if self.report.drills:
                fill_drills(cell(), self.report)
                fill_sections(cell(), self.report)
            if self.report.weeks:
                fill_weeks(cell(), self.report)
        if any(ten.full for ten in self.found.tens):
            with page.panel("What choices cost, ten games at a time") as inside:
                self._chart(inside)
        if self.found.games:
            with page.panel("The figures behind it") as inside:
                self._table(inside)
        page.spring(REST)

    def _words(self, inside: Column) -> None:
        hidden = self.found.hidden
        first, *rest = choices_words(self.report)
        said = [(first, BODY_BOLD, INK), (change_line(self.found.of(hidden=True)), BODY, INK)]
        said += [(one, BODY, INK) for one in rest]
        if not hidden.games:
            said.append((self._how(), BODY, INK))
        others = self.found.at_hand.games
        if others:
            more = words.sentence(words.count(others, "other game"))
            said.append((f"{more}, with advice always in sight or tried another way: not counted.", BODY, SOFT))
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
        if self.desk.settings.advice == ALWAYS:
            return "Have advice shown only when you ask for it, and every choice that you make on your own counts here."
        return "Play a deal at the quiet table to its end: every choice that you make on your own counts here."

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
        always = self.desk.settings.advice == ALWAYS
        presses = [Press("New deal", self.routes.new_deal, "d", main=not always)]
        if always:
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
                name = "All that count" if hidden else "All others"
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
        kind = "Counted" if ten.hidden else "Others"
        which = f"game {ten.first}" if ten.first == ten.last else f"games {ten.first} to {ten.last}"
        return f"{kind}, {which}, {days(ten.games)}"

    def _notes(self, inside: Column) -> None:
        counted = [game for game in self.found.games if not game.advice_seen]
        faults = sum(game.faults for game in counted)
        text = (
            "A choice counts where another one would have cost less or more. Picks lost are how many picks sooner the "
            "best choices would have brought a hand, as tried out after the game; picks each are those divided by the "
            "number of choices. In a game that is all but lost a choice counts as if there were still half as much to "
            "lose as in an average deal. Choices that you looked up first are left out. All house rules are counted "
            "together."
        )
        if counted:
            made = sum(game.choices for game in counted)
            text += f" Of the {made:,} that count {faults:,} cost something beyond doubt."
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
