"""Rehearsing the passes: setting the clock, the tallies so far, and a pass screen with a clock in it."""

from __future__ import annotations

from engine import words
from engine.drills.rehearsal import ALLOWANCES, KIND, Tally, tallies
from engine.words import clock
from game.draw.theme import BODY, BODY_BOLD, HEADING, SMALL, SOFT
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.layout import Rect, columns
from game.ui.scene import Scene
from game.ui.widgets import Ui

WIDEST = 1100
TWO_COLUMNS = 820


class RehearseScene(Scene):
    """How to rehearse, and how it went so far."""

    def __init__(self, routes: Routes, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes, self.desk = routes, routes.desk
        self._back = back
        self._tallies: tuple[Tally, ...] = ()
        self.enter()

    def enter(self) -> None:
        """A rehearsal may have been added."""
        self._tallies = tallies(self.desk.store.results(KIND))
        self.dirty = True

    def back(self) -> Scene | None:
        """Where it was opened from."""
        return self._back

    @property
    def allowance(self) -> float | None:
        """Seconds for all passes of a deal; None without a clock."""
        return self.desk.rehearsal_allowance

    def _set(self, allowance: float | None) -> Scene | None:
        self.desk.save_rehearsal_allowance(allowance)
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
        options: list[tuple[float | None, str]] = [(None, "No clock")]
        options += [(seconds, f"{round(seconds / 60)} minutes") for seconds in ALLOWANCES]
        if self.allowance is not None and self.allowance not in ALLOWANCES:
            options.append((self.allowance, f"{clock(self.allowance)} minutes"))
        y = ui.choice(area.topleft, area.width, "clock", options, self.allowance, self._set) + ui.u(12)
        if self.allowance is not None:
            text = "Or set it yourself, in steps of half a minute:"
            y = ui.paragraph(text, (area.left, y), area.width, BODY, SOFT) + ui.u(6)
            half = round(self.allowance / 30)
            step = ui.stepper((area.left, y), "half minutes", half, 1, 40, lambda to: self._set(to * 30.0),
                              clock(self.allowance))  # fmt: skip
            y = step.bottom + ui.u(10)
        text = (
            "The time is for all the passes of one deal. Each time you are done within it, the next allowance is "
            "shorter: five minutes, then four, three and two. Rehearsals with and without a clock are counted apart."
        )
        y = ui.paragraph(text, (area.left, y), area.width, BODY, SOFT) + ui.u(14)
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
            title = "Without a clock" if tally.allowance is None else f"With {clock(tally.allowance)} minutes"
            y = ui.paragraph(title, (area.left, y), area.width, HEADING)
            for text in tally_sentences(tally):
                y = ui.paragraph(text, (area.left, y), area.width, BODY)
            y += ui.u(12)
        note = "Costs are picks lost against the best choice found; a rehearsal’s passes are added up."
        return ui.paragraph(note, (area.left, y), area.width, SMALL, SOFT)


def tally_sentences(tally: Tally) -> list[str]:
    """What a tally says, with what was counted; nothing is made of fewer than ten rehearsals."""
    said = [f"{words.sentence(words.count(tally.rehearsals, 'rehearsal'))}, {tally.passes} passes."]
    if tally.allowance is not None:
        said.append(f"Done in time: {tally.in_time} of {tally.rehearsals}.")
    said.append(f"Passes that no choice would have bettered: {tally.best} of {tally.passes}.")
    if tally.enough:
        cost = f", mean cost {words.picks(tally.picks)}" if tally.picks is not None else ""
        said.append(f"Mean time {clock(tally.seconds)}{cost}.")
    else:
        said.append("Too few to say a mean time or cost; ten are needed.")
    return said
