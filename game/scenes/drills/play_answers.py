"""Where a moment of play is answered: a tile to let go, tiles to pass, a choice as another seat would make it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from engine.advice.advise.answers import Advice
from engine.drills.follow import FollowJudged, FollowTask, judge_follow
from engine.drills.grades import Grade
from engine.drills.let_one_go import LetGoJudged, LetGoTask, judge_let_go
from engine.drills.one_pass import PassAnswer, PassJudged, PassTask, WhichPass, judge_pass
from engine.rules.actions import PASS_TILES, Action, Discard
from engine.rules.state import State
from engine.tiles import Kind, name
from game.draw.theme import BODY, BODY_BOLD, SMALL_BOLD, SOFT, TEAL
from game.draw.tiles import Face
from game.play.practice.drilling import Drilling
from game.scenes.drills.answers import draw_reach
from game.scenes.table.rack import RackLook, rack, rack_height, tile_width
from game.scenes.table.seats import Others, seats_height, seats_row
from game.ui.buttons import Press
from game.ui.column import Column
from game.ui.screen import Screen
from game.words.practice.moments import (
    action_words,
    follow_asked,
    happened_words,
    how_many_words,
    let_go_asked,
    let_go_shown,
    let_go_told,
    pass_asked,
    pass_shown,
    pass_told,
)
from game.words.practice.shoulder import follow_told

GONE = 34
"""Units of width of a tile that was let go."""
SEATS_LEAST = 900
"""Units of width from which the three other seats are drawn as panels; in less their exposures are listed."""


def draw_choice(page: Column, kinds: Sequence[Kind], look: RackLook, press: Callable[[int], Screen | None]) -> None:
    """A rack on its ledge, each tile to press."""
    ui = page.ui
    page.put(
        rack_height(ui, page.width, len(kinds)),
        lambda rect: rack(ui, rect, kinds, look, press),  # type: ignore[arg-type]
    )


def draw_seats(page: Column, state: State, seat: int) -> None:
    """The three other seats, where there is room for them, and what the seat itself has exposed."""
    ui = page.ui
    if page.has(SEATS_LEAST):
        others = Others(state, seat, lambda _: None)
        page.put(seats_height(ui, page.width, others), lambda rect: seats_row(ui, rect, others))
        page.gap(8)
    own = state.exposures[seat]
    if own:
        page.caption("Exposed by itself")
        page.tiles([Face(one.kind, joker=place >= one.real) for one in own for place in range(one.size)], GONE, 3)
        page.gap(8)


def draw_aim(page: Column, advice: Advice) -> None:
    """The hand that is best gone for, laid out."""
    names = advice.plan.names or tuple(reach.hand.name for reach in advice.hands[:1])
    reach = next((one for one in advice.hands if names and one.hand.name == names[0]), None)
    if reach is not None:
        page.text(reach.hand.name, BODY_BOLD, TEAL)
        page.gap(4)
        draw_reach(page, reach)


class LettingGo:
    """A press chooses a tile; a second press on it, or the button, lets it go."""

    slow = True

    def __init__(self, task: LetGoTask, drilling: Drilling, check: Callable[[], Screen | None]) -> None:
        self.task, self.drilling = task, drilling
        self.asked = let_go_asked(task, seen=True)
        self.chosen: int | None = None
        self.result: LetGoJudged | None = None
        self._check = check

    def press(self, place: int) -> Screen | None:
        """Choose the tile, or let it go if it is chosen."""
        if self.result is not None:
            return None
        if self.chosen == place:
            return self._check()
        self.chosen = place
        return None

    def given(self, page: Column) -> None:
        """What went before, and the rack."""
        if self.task.gone:
            page.caption("Let go so far")
            most = tile_width(page.ui, page.width, len(self.task.rack)) / page.ui.unit
            page.tiles([Face(kind) for kind in sorted(self.task.gone)], min(GONE, most), 3)
            page.gap(2)
        judged = self.result
        look = RackLook(chosen=self.chosen)
        if judged is not None:
            look = RackLook(chosen=self.chosen, advice=judged.advice, let_go=judged.best)
        draw_choice(page, self.task.rack, look, self.press)

    def fill(self, page: Column) -> None:
        """Nothing more: the rack answers."""

    def presses(self, check: Callable[[], Screen | None]) -> list[Press]:
        """Let the chosen tile go."""
        return [Press("Let it go", check, "return", main=True, enabled=self.chosen is not None)]

    def lacks(self) -> str:
        """What is still to be done before this can be graded."""
        return "Choose a tile first: press it." if self.chosen is None else ""

    def judged(self) -> tuple[Grade, list[str]]:
        """By what it costs."""
        assert self.chosen is not None
        self.result = judge_let_go(self.task, self.task.rack[self.chosen], self.drilling.work)
        return self.result.price.grade, let_go_told(self.result)

    def shown(self) -> list[str]:
        """The tile that is advised."""
        best = self.task.best
        self.chosen = self.task.rack.index(best)
        self.result = judge_let_go(self.task, best, self.drilling.work)
        return let_go_shown(self.result)

    def solution(self, page: Column) -> None:
        """The hand to go for."""
        if self.result is not None:
            draw_aim(page, self.result.advice)


class Passing:
    """Tiles are pressed until enough are chosen; or yes and no."""

    slow = True

    def __init__(self, task: PassTask, drilling: Drilling, check: Callable[[], Screen | None]) -> None:
        self.task, self.drilling = task, drilling
        self.asked = pass_asked(task, seen=True)
        self.picked: list[int] = []
        self.agree: bool | None = None
        self.result: PassJudged | None = None
        self._check = check

    @property
    def votes(self) -> bool:
        """Whether the answer is yes or no."""
        return self.task.moment is WhichPass.SECOND_ROUND

    def press(self, place: int) -> Screen | None:
        """Choose a tile, or take it back; a fourth one takes the place of the first."""
        if self.result is not None or self.votes:
            return None
        if place in self.picked:
            self.picked.remove(place)
        else:
            self.picked.append(place)
            del self.picked[:-PASS_TILES]
        return None

    def vote(self, yes: bool) -> Screen | None:
        """Go on to a second round, or stop."""
        self.agree = yes
        return self._check()

    def given(self, page: Column) -> None:
        """The rack."""
        draw_choice(page, self.task.rack, RackLook(picked=frozenset(self.picked)), self.press)

    def _places(self, kinds: Sequence[Kind]) -> list[int]:
        left, places = list(kinds), []
        for place, kind in enumerate(self.task.rack):
            if kind in left:
                left.remove(kind)
                places.append(place)
        return places

    def fill(self, page: Column) -> None:
        """How many are still to be chosen."""
        if not self.votes:
            page.text(how_many_words(self.picked, self.task), BODY, SOFT)

    def presses(self, check: Callable[[], Screen | None]) -> list[Press]:
        """Yes and no, or pass the tiles chosen."""
        if self.votes:
            return [Press("Yes", partial(self.vote, True), "y"), Press("No", partial(self.vote, False), "n")]
        if self.task.moment is WhichPass.COURTESY:
            says = "Give none" if not self.picked else "Give these"
            return [Press(says, check, "return", main=True)]
        return [Press("Pass these", check, "return", main=True, enabled=len(self.picked) == PASS_TILES)]

    def lacks(self) -> str:
        """What is still to be done before this can be graded."""
        if self.votes:
            return "" if self.agree is not None else "Press Yes or No."
        if self.task.moment is WhichPass.COURTESY or len(self.picked) == PASS_TILES:
            return ""
        return "Choose three tiles first: press them."

    def judged(self) -> tuple[Grade, list[str]]:
        """By what it costs."""
        answer = PassAnswer(agree=self.agree) if self.votes else PassAnswer(self._chosen())
        self.result = judge_pass(self.task, self.drilling.table, answer, self.drilling.work)
        return self.result.price.grade, pass_told(self.result)

    def _chosen(self) -> tuple[Kind, ...]:
        return tuple(sorted(self.task.rack[place] for place in self.picked))

    def shown(self) -> list[str]:
        """What is advised."""
        best = self.task.best(self.drilling.table)
        self.picked = self._places(best.kinds)
        self.result = judge_pass(self.task, self.drilling.table, best, self.drilling.work)
        return pass_shown(self.result)

    def solution(self, page: Column) -> None:
        """What goes."""
        if self.result is not None and self.result.best.kinds:
            page.caption("What the advice lets go")
            page.tiles([Face(kind) for kind in self.result.best.kinds], 56)


class Following:
    """The table as the seat sees it; a tile is pressed, or one of the answers to a discard."""

    slow = True

    def __init__(self, task: FollowTask, drilling: Drilling, check: Callable[[], Screen | None]) -> None:
        self.task, self.drilling = task, drilling
        self.asked = follow_asked(task)
        self.rack = tuple(sorted(task.seen.rack))
        self.chosen: int | None = None
        self.action: Action | None = None
        self.result: FollowJudged | None = None
        self._check = check
        self._sitting = drilling.shoulder().sitting
        self._happened = happened_words(self._sitting)

    def press(self, place: int) -> Screen | None:
        """Choose the tile, or let it go if it is chosen."""
        if self.result is not None or self.task.call is not None:
            return None
        if self.chosen == place:
            return self._check()
        self.chosen, self.action = place, Discard(self.rack[place])
        return None

    def choose(self, action: Action) -> Screen | None:
        """An answer to a discard."""
        self.action = action
        return self._check()

    def given(self, page: Column) -> None:
        """What happened, the other seats, the rack."""
        seen = self.task.seen
        if self._happened and self.result is None:
            page.text(" ".join(self._happened), BODY, SOFT)
            page.gap(8)
        draw_seats(page, self._sitting.state, seen.seat)
        look = RackLook(chosen=self.chosen)
        if self.result is not None and self.task.call is None:
            assert isinstance(self.task.does, Discard)
            look = RackLook(chosen=self.chosen, advice=self.result.rack, let_go=self.task.does.kind)
        draw_choice(page, self.rack, look, self.press)

    def fill(self, page: Column) -> None:
        """The tile that may be called."""
        if self.task.call is not None:
            kind = self.task.seen.discards[-1].kind
            page.caption(f"The {name(kind)} may be called")
            page.tiles([Face(kind)], 56)

    def presses(self, check: Callable[[], Screen | None]) -> list[Press]:
        """The answers to a discard, or let the chosen tile go."""
        if self.task.call is None:
            return [Press("Let it go", check, "return", main=True, enabled=self.chosen is not None)]
        return [
            Press(action_words(action), partial(self.choose, action), str(place))
            for place, action in enumerate(self.task.choices, 1)
        ]

    def lacks(self) -> str:
        """What is still to be done before this can be graded."""
        return "" if self.action is not None else "Choose first: press a tile or an answer."

    def judged(self) -> tuple[Grade, list[str]]:
        """By what it costs beside what the seat does."""
        assert self.action is not None
        self.result = judge_follow(self.task, self.drilling.table, self.action, self.drilling.work)
        return self.result.grade, follow_told(self.task, self.result)

    def shown(self) -> list[str]:
        """What the seat does."""
        self.result = judge_follow(self.task, self.drilling.table, self.task.does, self.drilling.work)
        if isinstance(self.task.does, Discard):
            self.chosen = self.rack.index(self.task.does.kind)
        return ["This is what they do.", *follow_told(self.task, self.result)[1:]]

    def solution(self, page: Column) -> None:
        """The hand that the advice goes for."""
        if self.result is not None:
            page.text("What to go for with this rack:", SMALL_BOLD, SOFT)
            page.gap(4)
            draw_aim(page, self.result.rack)


def play_answer(
    task: LetGoTask | PassTask | FollowTask, drilling: Drilling, check: Callable[[], Screen | None]
) -> LettingGo | Passing | Following:
    """The place to answer a moment of play; `check` grades it as it stands."""
    if isinstance(task, LetGoTask):
        return LettingGo(task, drilling, check)
    return Passing(task, drilling, check) if isinstance(task, PassTask) else Following(task, drilling, check)
