"""Rehearsing the passes: setting the clock, the tallies so far, and a pass screen with a clock in it."""

from __future__ import annotations

from engine.drills.rehearsal import ALLOWANCES, KIND, PACE, Tally, pace_of, tallies
from engine.words import clock
from game.draw.theme import BODY, BODY_BOLD, HEADING, SMALL, SOFT
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.layout import Rect, columns
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.drills import ANY_CLOCK, FIXED, OWN_PACE, pace_sentences, rehearsals_sentences, rehearsals_title

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
        ui.scroll("rehearse", rest, lambda area: self._all(ui, area))

    def _all(self, ui: Ui, area: Rect) -> int:
        width = min(area.width, ui.u(WIDEST))
        place = Rect(area.centerx - width // 2, area.top, width, 0)
        if width >= ui.u(TWO_COLUMNS):
            left, right = columns(place, [1, 1], ui.u(20))
            return max(self._setup(ui, left), self._figures(ui, right))
        return self._figures(ui, place.move(0, self._setup(ui, place) + ui.u(16) - place.top))

    def _setup(self, ui: Ui, area: Rect) -> int:
        return ui.titled(area.topleft, area.width, "The clock", lambda inner: self._clock(ui, inner))

    def _clock(self, ui: Ui, area: Rect) -> int:
        now = self.clock
        options: list[tuple[float | str | None, str]] = [(PACE, OWN_PACE), (None, "No clock")]
        options += [(seconds, f"{round(seconds / 60)} minutes") for seconds in ALLOWANCES]
        if not isinstance(now, str) and now is not None and now not in ALLOWANCES:
            options.append((now, f"{clock(now)} minutes"))
        y = ui.choice(area.topleft, area.width, "clock", options, now, self._set) + ui.u(12)
        if not isinstance(now, str) and now is not None:
            text = "Or set it yourself, in steps of half a minute:"
            y = ui.paragraph(text, (area.left, y), area.width, BODY, SOFT) + ui.u(6)
            step = ui.stepper((area.left, y), "half minutes", round(now / 30), 1, 40, lambda to: self._set(to * 30.0),
                              clock(now))  # fmt: skip
            y = step.bottom + ui.u(10)
        said = pace_sentences(self._pace) if isinstance(now, str) else [] if now is None else [FIXED]
        for text in (*said, ANY_CLOCK):
            y = ui.paragraph(text, (area.left, y), area.width, BODY, SOFT) + ui.u(6)
        y += ui.u(8)
        chosen = self.desk.chosen
        sheet = self.desk.current_sheet
        cut = f"{len(chosen)} of {len(sheet.sections)} sections" if chosen else "all sections"
        y = ui.paragraph(f"{sheet.name} {sheet.season}, {cut}", (area.left, y), area.width, BODY_BOLD) + ui.u(10)
        return ui.buttons(
            (area.left, y), area.width, [Press("Start", self.begin, "return", main=True),
                                         Press("Sheet and sections", self._choose, "c")]
        )  # fmt: skip

    def _choose(self) -> Scene | None:
        return self.routes.choosing(self)

    def _figures(self, ui: Ui, area: Rect) -> int:
        return ui.titled(area.topleft, area.width, "So far", lambda inner: self._tally_rows(ui, inner))

    def _tally_rows(self, ui: Ui, area: Rect) -> int:
        if not self._tallies:
            return ui.paragraph("No rehearsal yet.", area.topleft, area.width, BODY, SOFT)
        y = area.top
        for tally in self._tallies:
            y = ui.paragraph(rehearsals_title(tally), (area.left, y), area.width, HEADING)
            for text in rehearsals_sentences(tally):
                y = ui.paragraph(text, (area.left, y), area.width, BODY)
            y += ui.u(12)
        note = "Costs are picks lost against the best choice found; a rehearsal’s passes are added up."
        return ui.paragraph(note, (area.left, y), area.width, SMALL, SOFT)
