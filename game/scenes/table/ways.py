"""Several ways from one deal: its lines side by side, and the sections that another one is to be played towards."""

from __future__ import annotations

from engine import words
from engine.store.values import LineSummary, StoreError
from game.draw.theme import BODY, BODY_BOLD, HEADING, SMALL, SOFT
from game.play.desk import Desk
from game.play.jobs import AdviceJob
from game.play.lines import line_of
from game.play.rehearsing import Held
from game.play.sitting import Sitting
from game.scenes.routes import Routes
from game.scenes.table.board import held_rows
from game.ui.buttons import Press
from game.ui.layout import Rect, columns
from game.ui.popups import box
from game.ui.scene import Popup, Scene
from game.ui.widgets import Ui
from game.words.situation import ending_sentences

COLUMN = 580
"""Units of width of a column at the least."""
MOST = 6


class WaysScene(Scene):
    """The lines of one deal side by side, with what each holds now."""

    def __init__(self, routes: Routes, sitting: Sitting, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes, self.desk = routes, routes.desk
        self._back = back
        line = line_of(sitting)
        self.ways = self.desk.ways(line)[-MOST:] if line is not None else []
        self.now = line
        desk, ways = self.desk, self.ways

        def estimate() -> dict[int, Held]:
            return {one.id: held_now(desk, way) for one, way in ways if way.state.outcome is None}

        self.work = AdviceJob(desk.worker, estimate, changed=self._changed)
        self.work.begin()

    def enter(self) -> None:
        """Another scene's work may have ended this one's."""
        self.work.go_on()

    @property
    def held(self) -> dict[int, Held]:
        """What each unfinished line holds now, as far as it is known."""
        return self.work.answer or {}

    def _changed(self, _: object) -> None:
        self.dirty = True

    def back(self) -> Scene | None:
        """Back to the table."""
        return self._back

    def paint(self, ui: Ui) -> None:
        """As many columns as there is room for."""
        rest = ui.header("Ways from this deal", words.count(len(self.ways), "line"), self.back)
        ui.scroll("ways", rest, lambda area: self._all(ui, area))

    def _all(self, ui: Ui, area: Rect) -> int:
        across = max(1, min(len(self.ways), area.width // ui.u(COLUMN)))
        y = bottom = area.top
        for start in range(0, len(self.ways), across):
            row = self.ways[start : start + across]
            places = columns(Rect(area.left, y, area.width, 0), [1.0] * across, ui.u(16))
            for (one, way), place in zip(row, places, strict=False):
                bottom = max(bottom, self._way(ui, place, one, way))
            y = bottom + ui.u(14)
        if len(self.ways) == 1:
            text = "There is one line so far. Step back and choose otherwise, or try other sections, for another."
            return ui.paragraph(text, (area.left, y), area.width, BODY, SOFT)
        return y

    def _way(self, ui: Ui, area: Rect, one: LineSummary, way: Sitting) -> int:
        number = [other.id for other, _ in self.ways].index(one.id) + 1
        title = f"Line {number}" + (", the one you came from" if one.id == self.now else "")
        return ui.titled(area.topleft, area.width, title, lambda inner: self._inside(ui, inner, one, way, number))

    def _inside(self, ui: Ui, area: Rect, one: LineSummary, way: Sitting, number: int) -> int:
        towards = words.listed(list(one.chosen)) if one.chosen else "all sections"
        y = ui.paragraph(f"Towards {towards}.", area.topleft, area.width, BODY_BOLD)
        choices = words.count(len(way.decisions), "choice")
        y = ui.paragraph(f"{words.sentence(choices)} so far.", (area.left, y), area.width, SMALL, SOFT) + ui.u(8)
        if one.ending is not None:
            ended = " ".join(ending_sentences(one.ending, one.house))
            y = ui.paragraph(ended, (area.left, y), area.width, BODY) + ui.u(8)
        elif one.id in self.held:
            y = held_rows(ui, Rect(area.left, y, area.width, 0), self.held[one.id]) + ui.u(4)
        else:
            y = ui.paragraph("Working out the odds…", (area.left, y), area.width, BODY, SOFT) + ui.u(8)
        says = "Look back" if one.finished else "Play this one on"
        return ui.buttons(
            (area.left, y), area.width, [Press(f"{says}: line {number}", lambda: self.routes.at_table(way))]
        )


def held_now(desk: Desk, sitting: Sitting) -> Held:
    """What a line holds at its latest moment, weighed on the sections that it is played towards."""
    state = sitting.state
    advisor = desk.advisor(state.sheet, state.house.jokers)
    observation = sitting.observation
    return Held(observation.rack, advisor.advise(observation))


class SectionsPopup(Popup):
    """Which sections another line of the deal is to be played towards."""

    def __init__(self, parent: Scene, routes: Routes, sitting: Sitting) -> None:
        super().__init__(parent)
        self.routes, self.sitting = routes, sitting
        self.whole = routes.desk.whole(sitting.state.sheet)
        self.chosen = set(sitting.state.sheet.chosen or ())
        self.trouble = ""

    def _toggle(self, name: str, value: bool) -> Scene | None:
        (self.chosen.add if value else self.chosen.discard)(name)
        return None

    def go(self) -> Scene | None:
        """Fork the deal at the moment that is shown, towards the chosen sections."""
        names = tuple(section.name for section in self.whole.sections if section.name in self.chosen)
        whole = len(names) in (0, len(self.whole.sections))
        try:
            return self.routes.another_way(self.sitting, self.sitting.cursor, None if whole else names)
        except (StoreError, ValueError) as error:
            self.trouble = words.sentence(f"{str(error).rstrip('.')}.")
            return None

    def paint(self, ui: Ui) -> None:
        """A box to tick for each section."""
        inside = box(ui, 560, 720)

        def content(area: Rect) -> int:
            y = ui.paragraph("Play it another way", area.topleft, area.width, HEADING) + ui.u(4)
            text = (
                "A fork of this deal begins at the moment shown, and advice keeps to the sections you tick here. "
                "The line you have played stays as it is. None ticked is all."
            )
            y = ui.paragraph(text, (area.left, y), area.width, BODY, SOFT) + ui.u(8)
            for section in self.whole.sections:
                note = words.count(len(section.hands), "hand")
                name = section.name
                y = ui.check((area.left, y), area.width, name, name in self.chosen,
                             lambda value, name=name: self._toggle(name, value), note)  # type: ignore[misc]  # fmt: skip
            if self.trouble:
                y = ui.notice(self.trouble, (area.left, y), area.width)
            presses = [Press("Play it this way", self.go, "return", main=True), Press("Back", self.back, "escape")]
            return ui.buttons((area.left, y + ui.u(10)), area.width, presses)

        with ui.within(inside):
            ui.scroll("sections", inside, content)
