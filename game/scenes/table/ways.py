"""Several ways from one deal: its lines side by side, and the sections that another one is to be played towards."""

from __future__ import annotations

from engine import words
from engine.store.values import LineSummary, StoreError
from game.draw.theme import BODY, BODY_BOLD, SMALL, SOFT
from game.play.desk import Desk
from game.play.jobs import AdviceJob
from game.play.lines import line_of
from game.play.rehearsing import Held
from game.play.sitting import Sitting
from game.scenes.routes import Routes
from game.scenes.table.board import held_rows
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.popups import pane_of
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
        """As many side by side as there is room for."""
        rest = ui.header("Ways from this deal", words.count(len(self.ways), "line"), self.back)
        scrolled(ui, "ways", rest, self._fill)

    def _fill(self, page: Column) -> None:
        with page.grid(COLUMN, gap=16) as cell:
            for number, (one, way) in enumerate(self.ways, 1):
                title = f"Line {number}" + (", the one you came from" if one.id == self.now else "")
                with cell().panel(title, fills=True) as inside:
                    self._way(inside, one, way, number)
        if len(self.ways) == 1:
            page.gap(14)
            text = "There is one line so far. Step back and choose otherwise, or try other sections, for another."
            page.text(text, BODY, SOFT)

    def _way(self, inside: Column, one: LineSummary, way: Sitting, number: int) -> None:
        towards = words.listed(list(one.chosen)) if one.chosen else "all sections"
        inside.text(f"Towards {towards}.", BODY_BOLD)
        choices = words.count(len(way.decisions), "choice")
        inside.text(f"{words.sentence(choices)} so far.", SMALL, SOFT)
        inside.gap(8)
        if one.ending is not None:
            inside.text(" ".join(ending_sentences(one.ending, one.house)))
        elif one.id in self.held:
            held_rows(inside, self.held[one.id])
        else:
            inside.text("Working out the odds…", BODY, SOFT)
        inside.gap(8)
        says = "Look back" if one.finished else "Play this one on"
        inside.buttons([Press(f"{says}: line {number}", lambda: self.routes.at_table(way))])


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
        presses = [Press("Play it this way", self.go, "return", main=True), Press("Back", self.back, "escape")]
        pane_of(ui, 640, "sections", self._fill, presses)

    def _fill(self, page: Column) -> None:
        page.heading("Play it another way")
        page.gap(4)
        text = (
            "A fork of this deal begins at the moment shown, and advice keeps to the sections you tick here. "
            "The line you have played stays as it is. None ticked is all."
        )
        page.text(text, BODY, SOFT)
        page.gap(8)
        if self.trouble:
            page.notice(self.trouble)
            page.gap(8)
        with page.grid(250, gap=4) as cell:
            for section in self.whole.sections:
                self._section(cell(), section.name, words.count(len(section.hands), "hand"))

    def _section(self, page: Column, name: str, note: str) -> None:
        def change(value: bool) -> Scene | None:
            return self._toggle(name, value)

        page.add(lambda at, width: page.ui.check(at, width, name, name in self.chosen, change, note))
