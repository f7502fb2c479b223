"""Two sheets side by side: what was kept, changed, came and went, what to unlearn, and racks that tempt."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from engine.advice.moment import StoppedError
from engine.sheet.compare.comparison import Comparison, compare
from engine.sheet.compare.racks import Temptation, racks
from engine.sheet.model import Hand, Sheet
from engine.tiles import Kind, kinds_of
from game.draw.theme import BODY_BOLD, SMALL, SMALL_BOLD, SOFT, TEAL
from game.draw.tiles import Face
from game.play.practice.drilling import season_before
from game.play.worker import Job
from game.scenes.hand import draw_groups
from game.scenes.routes import Routes
from game.scenes.sheet.hand_page import HandScene
from game.scenes.sheet.hands import rack_strip
from game.scenes.sheet.made import Made
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect, Space
from game.ui.scene import Scene
from game.ui.widgets import Ui
from game.words.compare.report import (
    because,
    changed_sentence,
    drift_sentences,
    headline,
    names_of,
    shape_sentences,
    unlearn_sentence,
)
from game.words.sheet import shown_rows, shown_variants

UNLEARN, CHANGED, NEW, GONE, KEPT, PRACTISE = "To unlearn", "Changed", "New", "Gone", "Kept", "Practise"
PARTS = (UNLEARN, CHANGED, NEW, GONE, KEPT, PRACTISE)
WIDEST = 1400
BESIDE = 900
TILE = 34
RACK_TILE = 58
DEALT = 8
"""Racks to practise on, one after another."""


class CompareScene(Scene):
    """A sheet beside an older one, which the player chooses; its last season to begin with, if that is there."""

    def __init__(self, routes: Routes, sheet: Sheet, back: Scene, rack: Sequence[Kind] = ()) -> None:
        """`rack` is what the player holds at a table: it stays in sight, and no other rack is dealt."""
        super().__init__(routes.look)
        self.routes, self.sheet, self.rack = routes, sheet, tuple(rack)
        self.others = [one for one in routes.desk.sheets() if one.fingerprint != sheet.fingerprint]
        self.part = UNLEARN
        self.place = 0
        """Which rack is shown."""
        self.answered = False
        """Whether it is said what that rack is near."""
        self.old: Sheet | None = None
        self.compared: Comparison | None = None
        """None until it is worked out."""
        self._racks: tuple[Temptation, ...] = ()
        self._made = Made(sheet, routes.desk.worker)
        self._back = back
        if self.others:
            self.choose(season_before(sheet, self.others) or self.others[0])

    def back(self) -> Scene | None:
        """Where the reader came from."""
        return self._back

    def choose(self, old: Sheet) -> Scene | None:
        """Compare with this old sheet, in the background: two sheets with little in common take a moment."""
        self.old, self.compared, self._racks = old, None, ()
        self.place, self.answered = 0, False
        worker = self.routes.desk.worker
        if worker is None:
            self._told(_compare(old, self.sheet, Job.alone()))
        else:
            worker.submit(lambda job: _compare(old, self.sheet, job), self._told)
        return None

    def _told(self, found: Compared) -> None:
        self.compared, self._racks = found
        self.dirty = True

    def show(self, part: str) -> Scene | None:
        """Turns to another part."""
        self.part = part
        return None

    # Painting.

    def paint(self, ui: Ui) -> None:
        """The headline, what to turn to, and that part."""
        title = f"{self.sheet.name} {self.sheet.season}, compared"
        rest = Space(ui.header(title, "", self.back))
        rack_strip(ui, rest, self.rack)
        scrolled(ui, "compare", rest.rect, self._fill, WIDEST, gap=14)

    def _fill(self, page: Column) -> None:
        if self.old is None:
            page.text("There is no other sheet to compare with. Load the old one, and come back.", most=800)
            page.buttons([Press("Sheets", lambda: self.routes.choosing(self), "return", main=True)])
            return
        page.caption("With which older sheet?")
        options = [(one, f"{one.name} {one.season}") for one in self.others]
        old: Sheet = self.old
        page.add(lambda at, width: page.ui.choice(at, width, "old sheet", options, old, self.choose))
        if self.compared is None:
            page.text("The two sheets are being compared.")
            return
        with page.panel() as inside:
            inside.text(headline(self.compared), BODY_BOLD)
            for said in drift_sentences(self.compared):
                inside.gap(4)
                inside.text(said, SMALL, SOFT)
        parts = [(part, self._counted(part)) for part in PARTS if part != PRACTISE or not self.rack]
        page.add(lambda at, width: page.ui.choice(at, width, "part", parts, self.part, self.show))
        {
            UNLEARN: self._unlearn, CHANGED: self._changed, NEW: self._new, GONE: self._gone, KEPT: self._kept,
            PRACTISE: self._practise,
        }[self.part](page, self.compared)  # fmt: skip

    def _counted(self, part: str) -> str:
        """A part's name with how many hands it has."""
        compared = self.compared
        if compared is None or part == PRACTISE:
            return part
        of: dict[str, Sequence[object]] = {
            UNLEARN: compared.unlearn, CHANGED: compared.changed, NEW: compared.new_hands, GONE: compared.gone,
            KEPT: compared.kept,
        }  # fmt: skip
        return f"{part}: {len(of[part])}"

    def _unlearn(self, page: Column, compared: Comparison) -> None:
        if not compared.unlearn:
            page.text("There is nothing to unlearn: whatever was mahjong still is.")
        for one in compared.unlearn:
            with page.panel(pad=14) as inside:
                inside.text(unlearn_sentence(one))
                inside.gap(8)
                with inside.beside([1, 1], least=BESIDE) as (left, right):
                    self._hand(left, "It was", compared.old, one.hand)
                    self._hand(
                        right, f"Now: {one.nearest.name}", compared.new, one.nearest, press=f"of {one.hand.name}"
                    )

    def _changed(self, page: Column, compared: Comparison) -> None:
        if not compared.changed:
            page.text("No hand has changed.")
        for pair in compared.changed:
            with page.panel(pad=14) as inside:
                inside.text(changed_sentence(pair))
                inside.gap(8)
                with inside.beside([1, 1], least=BESIDE) as (left, right):
                    self._hand(left, "It was", compared.old, pair.old)
                    self._hand(right, "It is", compared.new, pair.new, press="now")

    def _new(self, page: Column, compared: Comparison) -> None:
        for said in shape_sentences(compared):
            page.text(said, SMALL, SOFT)
        if not compared.new_hands:
            page.text("No hand is new.")
        self._all(page, compared.new, compared.new_hands, "new")

    def _gone(self, page: Column, compared: Comparison) -> None:
        if not compared.gone:
            page.text("No hand is gone.")
        self._all(page, compared.old, compared.gone)

    def _kept(self, page: Column, compared: Comparison) -> None:
        hands = [pair.new for pair in compared.kept]
        page.text(f"As they were: {names_of(hands)}." if hands else "No hand was kept as it was.")

    def _all(self, page: Column, sheet: Sheet, hands: Sequence[Hand], press: str = "") -> None:
        with page.grid(least=520, gap=12, most=2) as cell:
            for hand in hands:
                with cell().panel(pad=14, fills=True) as inside:
                    self._hand(inside, f"{hand.section} · {hand.points} points", sheet, hand, press, name=True)

    def _hand(
        self, column: Column, caption: str, sheet: Sheet, hand: Hand, press: str = "", name: bool = False
    ) -> None:
        """A hand's tiles and words; `press` makes its name a way to its page, and tells such names apart."""
        ui = column.ui
        if name:
            column.text(hand.name, BODY_BOLD)
        column.caption(caption)
        groups = shown_rows(sheet, hand)[0]
        column.add(lambda at, width: draw_groups(ui, groups, Rect(*at, width, 0), TILE))
        column.gap(4)
        column.text(hand.wording, SMALL, SOFT)
        if press:
            column.gap(6)
            target = f"{hand.name}, {press}"
            open_ = partial(self._open, hand)

            def button(at: tuple[int, int], width: int) -> int:
                wide = min(ui.button_size("All ways to make it")[0], width)
                rect = Rect(at, (wide, ui.button_size("All ways to make it")[1]))
                ui.button(rect, "All ways to make it", open_, name=target)
                return rect.bottom

            column.add(button)

    def _open(self, hand: Hand) -> Scene | None:
        return HandScene(self.routes, self.sheet, hand, self, self._made, self.rack)

    # Racks to practise on.

    def _practise(self, page: Column, compared: Comparison) -> None:
        if not self._racks:
            page.text("There is nothing to unlearn, and so no rack to practise on.")
            return
        one = self._racks[self.place]
        with page.panel(f"Rack {self.place + 1} of {len(self._racks)}") as inside:
            inside.text("An old hand tempts here. Which one, and which hand of the new sheet would you turn to?")
            inside.gap(10)
            inside.tiles([Face(kind) for kind in one.rack], RACK_TILE)
            inside.gap(12)
            if not self.answered:
                inside.buttons([Press("Say it", self._answer, "return", main=True)])
                return
            old = one.unlearn.hand
            inside.text(f"It is near the old {old.name}. {because(one.unlearn)}")
            inside.gap(8)
            self._laid(inside, f"The old {old.name}", compared.old, old, one)
            inside.gap(8)
            self._laid(inside, f"Turn to {one.hand.name}", compared.new, one.hand, one)
            inside.gap(12)
            inside.buttons([
                Press("Next rack", self._next, "return", main=True),
                Press(f"Play a deal near {one.hand.name}", lambda: self.routes.deal_near(self.sheet, one.hand), "d"),
            ])  # fmt: skip

    def _laid(self, column: Column, caption: str, sheet: Sheet, hand: Hand, one: Temptation) -> None:
        """The variant that is meant, as laid tiles."""
        variant = one.variant if hand is one.unlearn.hand else one.towards
        groups = shown_variants(sheet, hand)[hand.variants.index(variant)]
        shared = sum(map(min, (one.rack.count(kind) for kind in range(len(variant.total))), variant.total))
        column.text(f"{caption}: the rack has {shared} of its {len(kinds_of(variant.total))} tiles", SMALL_BOLD, TEAL)
        column.gap(4)
        column.add(lambda at, width: draw_groups(column.ui, groups, Rect(*at, width, 0), TILE + 10))

    def _answer(self) -> Scene | None:
        self.answered = True
        return None

    def _next(self) -> Scene | None:
        self.place, self.answered = (self.place + 1) % len(self._racks), False
        return None


Compared = tuple[Comparison, tuple[Temptation, ...]]
"""Two sheets compared, and racks to practise on."""


def _compare(old: Sheet, new: Sheet, job: Job[Compared]) -> Compared:
    """The comparison with its slow parts worked out. Raises StoppedError once nobody waits for it."""

    def pause() -> None:
        job.breathe()
        if job.stopped:
            raise StoppedError

    compared = compare(old, new, pause)
    compared.studies, compared.drifts  # noqa: B018 - worked out once and kept
    return compared, racks(compared, DEALT, seed=1)
