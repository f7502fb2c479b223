"""Where a question is answered: tiles to lay, hands to name, yes or no. One kind of answer for each kind of task."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Protocol

from engine.advice.advise.hands import HandReach
from engine.drills.grades import Grade
from engine.drills.laying import LayTask, Stage, judge
from engine.drills.may_i import MayTask, judge_answer
from engine.drills.which_hands import NAMED, WhichTask, judge_named
from engine.sheet.groups import HAND_TILES, Variant
from engine.sheet.model import Sheet
from engine.tiles import COPIES, JOKER, KINDS, Kind, name
from game.draw.theme import BODY, BODY_BOLD, SMALL, SMALL_BOLD, SOFT, TEAL
from game.draw.tiles import SLOT, Face, height_for
from game.play.practice.drilling import Drilling, DrillQuestion
from game.scenes.hand import draw_groups
from game.scenes.table.rack import ROOMY_FROM
from game.ui.buttons import Press
from game.ui.column import Column
from game.ui.layout import Rect, flow
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.drills import lay_asked, lay_told, may_asked, may_told, which_asked, which_told
from game.words.sheet import ShownGroup

POOL = 46
"""Units of width of a tile to choose; as large as ROOMY_POOL where there is room for a row for each suit."""
ROOMY_POOL = 62
LEAST_POOL = 26
ROOMY = 800
"""Units of height of a window with that room."""
LAID = 56
"""Units of width of a tile that is laid."""
RACK = 80
"""Units of width of a tile of a rack at most."""
SMALLEST = 22
"""The same at least."""
EMPTY = "Your hand. Tiles that are alike form one group."
IN_A_ROW = 9
"""Tiles of a suit."""
MOST_ALIKE = 6
"""Tiles of a group at most."""

Finish = Callable[[Grade, Sequence[str]], Screen | None]


class Answer(Protocol):
    """A place to answer one question."""

    asked: str
    """The question, in words."""
    slow: bool
    """Whether grading takes a second or more, so that it is done in the background."""

    def given(self, page: Column) -> None:
        """What the question is about, drawn over the place to answer."""

    def fill(self, page: Column) -> None:
        """The place to answer."""

    def presses(self, check: Callable[[], Screen | None]) -> list[Press]:
        """Buttons that give the answer; `check` grades it as it stands."""

    def lacks(self) -> str:
        """What is still to be done before it can be graded, in a sentence; empty where it can be."""

    def judged(self) -> tuple[Grade, list[str]]:
        """The grade and what there is to say. Raises ValueError with what is still to be done."""

    def shown(self) -> list[str]:
        """What there is to say when the answer is asked for: a heading first."""

    def solution(self, page: Column) -> None:
        """The right answer, drawn."""


def draw_variant(page: Column, variant: Variant, units: float = LAID) -> None:
    """A variant as a row of laid groups."""
    groups = tuple(ShownGroup(group.size, group.kind, "") for group in variant.groups)
    page.add(lambda at, width: draw_groups(page.ui, groups, Rect(at, (width, 0)), units))


def draw_reach(page: Column, reach: HandReach) -> None:
    """A hand in reach: its tiles as they are held, outlines for those that are still to come."""
    groups = tuple(ShownGroup(group.size, group.kind, "") for group in reach.variant.groups)

    def faces(place: int) -> list[Face]:
        return [Face(one.kind, joker=one.joker) if one.held else Face(one.kind, SLOT) for one in reach.slots[place]]

    page.add(lambda at, width: draw_groups(page.ui, groups, Rect(at, (width, 0)), LAID, faces=faces))


def draw_rack(page: Column, rack: Sequence[Kind]) -> None:
    """A rack in one line, as large as fits."""
    gap = 5
    room = (page.width / page.ui.unit - gap * (len(rack) - 1)) / max(len(rack), 1)
    page.tiles([Face(kind) for kind in rack], min(max(int(room) - 1, SMALLEST), RACK), gap)


class Laying:
    """Tiles are pressed one after another; like ones gather in a group. A press on a group takes its last tile back."""

    slow = False

    def __init__(self, task: LayTask, question: DrillQuestion, drilling: Drilling) -> None:
        self.task, self.question, self.drilling = task, question, drilling
        self.asked = lay_asked(task, seen=True)
        self.groups: list[list[Kind]] = []
        self._closed = False
        """Whether the next tile begins a new group."""
        self._nearest: Variant = task.accepted[0]

    @property
    def pool(self) -> list[tuple[Kind, int]]:
        """The tiles that may be taken: loose ones one by one, else each kind with how many are left of it."""
        laid = [kind for group in self.groups for kind in group]
        if self.task.stage is not Stage.LOOSE:
            return [(kind, COPIES[kind] - laid.count(kind)) for kind in range(KINDS)]
        left = list(self.task.tiles)
        for kind in laid:
            left.remove(kind)
        return [(kind, 1) for kind in left]

    def take(self, kind: Kind) -> Screen | None:
        """Lay a tile: on the open group where it goes with it, else as a new group."""
        group = self.groups[-1] if self.groups and not self._closed else None
        if group is not None and len(group) < MOST_ALIKE and _goes_with(kind, group):
            group.append(kind)
        else:
            self.groups.append([kind])
        self._closed = False
        return None

    def take_back(self, place: int) -> Screen | None:
        """The last tile of a group goes back."""
        self.groups[place].pop()
        if not self.groups[place]:
            del self.groups[place]
            self._closed = bool(self.groups)
        return None

    def close(self) -> Screen | None:
        """The next tile begins a new group."""
        self._closed = True
        return None

    def given(self, page: Column) -> None:
        """The tile that must be in the hand, where there is one."""
        if self.task.forced is not None:
            page.tiles([Face(self.task.forced)], POOL)

    def fill(self, page: Column) -> None:
        """The groups laid so far over the tiles to choose from."""
        ui, cramped = page.ui, _cramped(page.ui)
        pad = 6 if cramped else 20 if _roomy(ui) else 10
        with page.panel(pad=pad) as inside:
            if not cramped:
                inside.text("Your hand" if self.groups else EMPTY, SMALL_BOLD, SOFT)
                inside.gap(4)
            elif not self.groups:  # where its tiles will lie
                inside.put(0, lambda rect: ui.paragraph(EMPTY, rect.topleft, rect.width, SMALL_BOLD, SOFT))
            inside.add(lambda at, width: self._draw_laid(ui, at, width))
        page.gap(8)
        with page.panel(pad=pad) as inside:
            if not cramped:
                inside.text("Press a tile to lay it; press a group to take a tile back.", SMALL_BOLD, SOFT)
                inside.gap(4)
            inside.add(lambda at, width: self._draw_pool(ui, at, width))

    def _draw_laid(self, ui: Ui, at: tuple[int, int], width: int) -> int:
        """The groups so far, each to press; room for one line of tiles even before the first."""
        gap = ui.u(3)
        in_line = (width - 3 * ui.u(16)) // HAND_TILES - gap
        wide = min(ui.u(LAID), max(in_line, ui.u(SMALLEST)) if _cramped(ui) else width // MOST_ALIKE)
        sizes = [(len(group) * wide + (len(group) - 1) * gap, height_for(wide)) for group in self.groups]
        bottom = at[1] + height_for(wide)
        for place, rect in enumerate(flow(sizes, at, width, (ui.u(16), ui.u(10)))):
            ui.tiles([Face(kind) for kind in self.groups[place]], rect.topleft, wide, gap)
            ui.target(f"group {place}", rect, partial(self.take_back, place), f"take back from group {place + 1}")
            bottom = max(bottom, rect.bottom)
        return bottom

    def _draw_pool(self, ui: Ui, at: tuple[int, int], width: int) -> int:
        """The tiles to choose from, each with how many are left; a row for each suit where there is room."""
        roomy = _roomy(ui)
        wide, gap = ui.u(ROOMY_POOL if roomy else POOL), ui.u(3 if _cramped(ui) else 8)
        pool = self.pool
        loose = self.task.stage is Stage.LOOSE
        if loose:  # in one line, if the tiles are large enough then
            in_line = (width + gap) // max(len(self.task.tiles), 1) - gap
            wide = min(wide, in_line) if in_line >= ui.u(LEAST_POOL if _cramped(ui) else POOL) else wide
        row = min(width, IN_A_ROW * (wide + gap)) if roomy and not loose else width
        sizes = [(wide, height_for(wide) + (0 if loose else ui.line(SMALL)))] * len(pool)
        bottom = at[1]
        for place, ((kind, left), rect) in enumerate(zip(pool, flow(sizes, at, row, (gap, ui.u(4))), strict=True)):
            ui.tile(Face(kind) if left else Face(kind, SLOT), Rect(rect.left, rect.top, wide, height_for(wide)))
            if not loose:
                under = Rect(rect.left, rect.bottom - ui.line(SMALL), wide, ui.line(SMALL))
                ui.fitted(str(left), under, SMALL, SOFT, "middle")
            ui.target(f"tile {place}", rect, partial(self.take, kind), f"lay the {name(kind)}", enabled=left > 0)
            bottom = max(bottom, rect.bottom)
        return bottom

    def presses(self, check: Callable[[], Screen | None]) -> list[Press]:
        """Check the hand, or close the group."""
        return [
            Press("That is the hand", check, "return", main=True, enabled=bool(self.groups)),
            Press("Next group", self.close, "n", enabled=bool(self.groups) and not self._closed),
        ]

    def lacks(self) -> str:
        """Some tiles."""
        return "" if self.groups else "Lay the hand first: press its tiles."

    def judged(self) -> tuple[Grade, list[str]]:
        """Against the accepted variant that is nearest."""
        judged = judge(self.task, self.groups)
        self._nearest = judged.nearest
        if not judged.off:
            self.drilling.laid(self.question, judged.nearest)
        return judged.grade, lay_told(self.task, judged)

    def shown(self) -> list[str]:
        """The hand in words."""
        return ["This is the hand.", lay_told(self.task, judge(self.task, []))[-1]]

    def solution(self, page: Column) -> None:
        """The nearest right variant."""
        draw_variant(page, self._nearest)


def _roomy(ui: Ui) -> bool:
    """Whether the window has room for a row for each suit, however large its page is set."""
    return ui.window.height >= ROOMY * ui.look.unit(ui.window.size)


def _cramped(ui: Ui) -> bool:
    """Whether the hand and the tiles to lay have to take as little room as they can."""
    return ui.window.height < ROOMY_FROM * ui.look.unit(ui.window.size)


def _goes_with(kind: Kind, group: Sequence[Kind]) -> bool:
    """Whether a tile goes on with an open group: it is like the others, or one of them is a joker."""
    real = {one for one in group if one != JOKER}
    return kind == JOKER or kind in real or not real


class Naming:
    """Up to three hands are ticked on the sheet's list of names."""

    slow = False

    def __init__(self, task: WhichTask, sheet: Sheet) -> None:
        self.task, self.sheet = task, sheet
        self.asked = which_asked(task, seen=True)
        self.names: list[str] = []

    def tick(self, hand: str, _: bool = True) -> Screen | None:
        """Tick a hand, or untick it; a fourth one takes the place of the first."""
        if hand in self.names:
            self.names.remove(hand)
        else:
            self.names.append(hand)
            del self.names[:-NAMED]
        return None

    def given(self, page: Column) -> None:
        """The rack."""
        draw_rack(page, self.task.rack)

    def fill(self, page: Column) -> None:
        """All hands by section."""
        for place, section in enumerate(self.sheet.sections):
            page.gap(10 if place else 0)
            page.text(section.name, SMALL_BOLD, SOFT)
            page.gap(4)
            with page.grid(180, 6) as cell:
                for hand in section.hands:
                    one = cell()
                    with one.card(f"hand {hand.name}", partial(self.tick, hand.name), says=hand.name,
                                  here=hand.name in self.names) as inside:  # fmt: skip
                        inside.text(hand.name, BODY_BOLD if hand.name in self.names else BODY)

    def presses(self, check: Callable[[], Screen | None]) -> list[Press]:
        """Done."""
        return [Press("These hands", check, "return", main=True, enabled=len(self.names) >= 2)]

    def lacks(self) -> str:
        """Grading says itself what is missing."""
        return ""

    def judged(self) -> tuple[Grade, list[str]]:
        """By their odds."""
        judged = judge_named(self.task, self.names)
        return judged.grade, which_told(self.task, judged)

    def shown(self) -> list[str]:
        """The likeliest hands."""
        best = [reach.hand.name for reach in self.task.hands[:2]]
        return ["These are the likeliest.", *which_told(self.task, judge_named(self.task, best))[1:]]

    def solution(self, page: Column) -> None:
        """The likeliest hands laid out, with outlines for what the rack lacks."""
        for place, reach in enumerate(self.task.hands[:NAMED]):
            page.gap(10 if place else 0)
            page.text(reach.hand.name, BODY_BOLD, TEAL)
            page.gap(4)
            draw_reach(page, reach)


class YesOrNo:
    """Two buttons."""

    slow = False

    def __init__(self, task: MayTask, finish: Finish) -> None:
        self.task = task
        self.asked = may_asked(task, seen=True)
        self._finish = finish

    def say(self, yes: bool) -> Screen | None:
        """The answer."""
        grade = judge_answer(self.task, yes)
        return self._finish(grade, may_told(self.task, grade))

    def given(self, page: Column) -> None:
        """The tiles that it is about."""
        if self.task.rack:
            draw_rack(page, self.task.rack)
        if self.task.group is not None:
            page.gap(10)
            page.text("The tile that was let go:", SMALL_BOLD, SOFT)
            page.gap(4)
            page.tiles([Face(self.task.group.kind)], RACK)

    def fill(self, page: Column) -> None:
        """Nothing more: the buttons answer."""

    def presses(self, check: Callable[[], Screen | None]) -> list[Press]:  # noqa: ARG002 - a press is the answer
        """Yes and no."""
        return [Press("Yes", partial(self.say, True), "y"), Press("No", partial(self.say, False), "n")]

    def lacks(self) -> str:
        """Only the two buttons answer."""
        return "Press Yes or No."

    def judged(self) -> tuple[Grade, list[str]]:
        """Only the two buttons answer."""
        raise ValueError("Press Yes or No.")

    def shown(self) -> list[str]:
        """The rule."""
        return ["This is so.", *may_told(self.task, Grade.RIGHT)[1:]]

    def solution(self, page: Column) -> None:
        """Nothing more to draw."""
