"""Rehearsing the passes: setting the clock, the tallies so far, and a pass screen with a clock in it."""

from __future__ import annotations

from engine.drills.rehearsal import ALLOWANCES, KIND, PACE, Tally, pace_of, tallies
from engine.words import clock
from game.draw.theme import BODY, BODY_BOLD, SMALL, SOFT
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.drills import ANY_CLOCK, FIXED, OWN_PACE, pace_sentences, rehearsals_sentences, rehearsals_title
from game.words.sheet import sheet_words

WIDEST = 1100
TWO_COLUMNS = 820


class RehearseScene(Scene):
    """How to rehearse, and how it went so far."""

    def __init__(self, routes: Routes, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes, self.desk = routes, routes.desk
        self._back = back
        self._tallies: tuple[Tally, ...] = ()
        self._pace = pace_of(())
        self.enter()

    def enter(self) -> None:
        """A rehearsal may have been added."""
        results = self.desk.store.results(KIND)
        self._tallies = tallies(results)
        self._pace = pace_of(results)
        self.dirty = True

    def back(self) -> Scene | None:
        """Where it was opened from."""
        return self._back

    @property
    def clock(self) -> float | str | None:
        """What sets the clock: the player's own pace, fixed seconds for all passes of a deal, or nothing."""
        return self.desk.rehearsal_clock

    def _set(self, clock: float | str | None) -> Scene | None:
        self.desk.save_rehearsal_clock(clock)
        return None

    def begin(self) -> Scene | None:
        """Deal, and start the clock."""
        return self.routes.rehearse(self)

    def paint(self, ui: Ui) -> None:
        """Two columns, or one under the other."""
        note = "passes only, one deal after another"
        rest = ui.header("Rehearse the passes", note, self.back)
        scrolled(ui, "rehearse", rest, self._fill, widest=WIDEST, roomy=True)

    def _fill(self, page: Column) -> None:
        """The clock and the figures; what begins it never scrolls away."""
        page.rest("clock", self._columns)
        page.gap(14)
        page.text(sheet_words(self.desk.current_sheet, self.desk.chosen), BODY_BOLD)
        page.gap(8)
        page.buttons([
            Press("Start", self.begin, "return", main=True),
            Press("Sheet and sections", self._choose, "c"),
        ])  # fmt: skip

    def _columns(self, page: Column) -> None:
        with page.beside([1, 1], least=TWO_COLUMNS) as (left, right):
            with left.panel("The clock") as inside:
                self._clock(inside)
            with right.panel("So far") as inside:
                self._figures(inside)

    def _clock(self, page: Column) -> None:
        now, ui = self.clock, page.ui
        fixed = None if isinstance(now, str) else now
        options: list[tuple[float | str | None, str]] = [(PACE, OWN_PACE), (None, "No clock")]
        options += [(seconds, f"{round(seconds / 60)} minutes") for seconds in ALLOWANCES]
        if fixed is not None and fixed not in ALLOWANCES:
            options.append((fixed, f"{clock(fixed)} minutes"))
        page.add(lambda at, width: ui.choice(at, width, "clock", options, now, self._set))
        page.gap(12)
        if fixed is not None:
            page.text("Or set it yourself, in steps of half a minute:", BODY, SOFT)
            page.gap(6)
            half = round(fixed / 30)
            page.add(lambda at, _: ui.stepper(at, "half minutes", half, 1, 40, lambda to: self._set(to * 30.0),
                                              clock(fixed)).bottom)  # fmt: skip
            page.gap(10)
        said = pace_sentences(self._pace) if isinstance(now, str) else [] if now is None else [FIXED]
        for text in (*said, ANY_CLOCK):
            page.text(text, BODY, SOFT)
            page.gap(6)

    def _choose(self) -> Scene | None:
        return self.routes.choosing(self)

    def _figures(self, page: Column) -> None:
        if not self._tallies:
            page.text("No rehearsal yet.", BODY, SOFT)
            return
        for tally in self._tallies:
            page.heading(rehearsals_title(tally))
            for text in rehearsals_sentences(tally):
                page.text(text)
            page.gap(12)
        page.text("Costs are picks lost against the best choice found; a rehearsal’s passes are added up.", SMALL, SOFT)
