"""A full table as a film: a strong seat plays, each choice with its reasons, at the pace one likes.

It runs by itself, or step by step; what was shown can be looked at again. The next choice is worked out meanwhile.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from engine.advice.advise.calls import CallAdvice
from engine.advice.moment import Work
from engine.drills.follow import FollowTask, judge_follow
from engine.drills.one_pass import moment_of
from engine.rules.actions import Action, Discard, Give, LetGo, Pass
from engine.rules.state import State
from engine.tiles import Kind
from game.draw.theme import BODY, BODY_BOLD, SOFT
from game.play.practice.drilling import Drilling
from game.play.practice.following import Shoulder
from game.scenes.drills.between import between
from game.scenes.drills.play_answers import draw_choice, draw_seats
from game.scenes.routes import Routes
from game.scenes.table.rack import RackLook
from game.ui.buttons import Press
from game.ui.column import Column
from game.ui.scene import Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.practice.moments import MOMENTS, does_words, happened_words
from game.words.practice.shoulder import aside_because, does_because
from game.words.situation import outcome_sentences

PACES = (800, 500, 340, 240, 170, 120)
"""Words a minute at which a choice can be read while it is shown. Grown-ups read some 240 to themselves (a mean over
190 studies, Brysbaert 2019; from memory)."""
USUAL = 3
"""Which of them at first."""
LOOK = 2.5
"""Seconds to look at the tiles, besides reading."""
TOO_FAR = 1.0
"""A call that would cost more turns is let by without a word."""
WIDEST = 1240
LEAST = 96
"""Units of height of what is seen of the film; where there is less, everything scrolls together."""
ROOMY = 500
"""Units of height of a window in which the buttons' keys are shown on them."""


@dataclass(frozen=True)
class FilmChoice:
    """One choice of the seat, as it is shown."""

    state: State
    """Before the choice."""
    rack: tuple[Kind, ...]
    """Sorted."""
    happened: tuple[str, ...]
    does: str
    because: str
    goes: Kind | None = None
    """The tile that it lets go."""
    passed: tuple[Kind, ...] = ()
    """The tiles that it passes or gives across."""
    task: FollowTask | None = None
    over: bool = False

    def seconds(self, pace: int) -> float:
        """How long it is shown, in seconds, at a pace in words a minute."""
        said = " ".join((*self.happened, self.does, self.because))
        return LOOK + 60.0 * len(said.split()) / pace


def next_choice(shoulder: Shoulder) -> FilmChoice:
    """The choice that comes next, which is then made; or the end of the game."""
    sitting = shoulder.sitting
    state, seat = sitting.state, sitting.player
    rack = tuple(sorted(state.racks[seat]))
    if shoulder.over:
        first, *more = outcome_sentences(state)
        return FilmChoice(state, rack, tuple(happened_words(sitting)), first, " ".join(more), over=True)
    task, does = shoulder.choice(), shoulder.does()
    moment = moment_of(sitting.observation)
    happened = tuple(happened_words(sitting)) if moment is None else (f"{MOMENTS[moment].rstrip('?')}.",)
    because = ""
    if task is not None and does in task.choices:
        because = does_because(task, judge_follow(task, shoulder.advisor.table, does, Work(0)))
    elif task is None or does not in task.choices:
        aside = shoulder.aside()
        because = "" if aside is None else aside_because(sitting.observation, does, aside)
    frame = FilmChoice(state, rack, happened, does_words(sitting.observation, does), because, _goes(does), task=task)
    shoulder.play()
    return replace(frame, passed=does.kinds) if isinstance(does, Pass | Give) else frame


def _goes(does: Action) -> Kind | None:
    return does.kind if isinstance(does, Discard) else None


def _others(call: CallAdvice) -> list[float]:
    """What calling the discard would cost, each way, in turns."""
    return [choice.picks for choice in call.choices if choice.action != LetGo()]


def _places(rack: Sequence[Kind], kinds: Sequence[Kind]) -> frozenset[int]:
    """The places of these tiles in a rack, each copy at another one."""
    found: list[int] = []
    for kind in kinds:
        found.append(next(at for at, one in enumerate(rack) if one == kind and at not in found))
    return frozenset(found)


class FilmScene(Scene):
    """The film. `shoulder` is the game, fresh or under way."""

    def __init__(self, routes: Routes, drilling: Drilling, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes, self.drilling = routes, drilling
        self.frames: list[FilmChoice] = []
        self.at = 0
        self.pace = USUAL
        self.running = True
        self._back = back
        self._shown = 0.0
        """Seconds for which the present choice has been shown."""
        self._shoulder: Shoulder | None = None
        self._making = False
        """Whether the next choice is being worked out."""
        self._wanted = False
        """Whether it is to be shown as soon as it is there."""
        self._ahead()

    def back(self) -> Screen | None:
        """To where the film was begun."""
        return self._back

    # The frames.

    @property
    def frame(self) -> FilmChoice | None:
        """What is shown; None until the first choice is there."""
        return self.frames[self.at] if self.at < len(self.frames) else None

    @property
    def ended(self) -> bool:
        """Whether the end of the game is shown."""
        return self.frame is not None and self.frame.over

    def _ahead(self) -> None:
        """Work out the next choice, one ahead of what is shown."""
        if self._making or (self.frames and self.frames[-1].over) or len(self.frames) > self.at + 1:
            return
        self._making = True
        self.routes.desk.worker.submit(lambda _: self._make(), self._made)

    def _make(self) -> None:
        """On the worker's thread. The frame is kept even if another screen no longer waits for it."""
        try:
            if self._shoulder is None:
                self._shoulder = self.drilling.shoulder(anew=True)
            frame = next_choice(self._shoulder)
            while self._tells_nothing(frame):
                frame = next_choice(self._shoulder)
            self.frames.append(frame)
        finally:
            self._making = False

    @staticmethod
    def _tells_nothing(frame: FilmChoice) -> bool:
        """A discard that the seat can only let go, or that nobody would call."""
        if frame.task is None:
            return frame.does.endswith("does not call.")
        call = frame.task.call
        return call is not None and frame.task.does == LetGo() and min(_others(call), default=99.0) > TOO_FAR

    def _made(self, _: None) -> None:
        self.dirty = True
        if self._wanted:
            self._go(1)
        self._ahead()

    # Moving.

    def step(self, forward: bool) -> Screen | None:
        """To the next choice, or to the one before; the film stands still then."""
        self.running = False
        self._go(1 if forward else -1)
        return None

    def _go(self, way: int) -> None:
        self._wanted = way > 0 and self.at + 1 >= len(self.frames) and not self.ended
        self.at = min(max(self.at + way, 0), max(len(self.frames) - 1, 0))
        self._shown, self.dirty = 0.0, True

    def run(self) -> Screen | None:
        """Go on by itself, or stand still."""
        self.running = not self.running
        self._shown = 0.0
        return None

    def faster(self, by: int) -> Screen | None:
        """Each choice is shown for a shorter or a longer time."""
        self.pace = min(max(self.pace - by, 0), len(PACES) - 1)
        return None

    def anew(self) -> Screen | None:
        """Another game."""
        self.frames, self.at, self._shoulder, self.running = [], 0, None, True
        self._ahead()
        return None

    def update(self, seconds: float) -> None:
        """The film goes on by itself; the next choice is worked out."""
        super().update(seconds)
        if not self._making:
            self._ahead()
        if self.running and self.frame is not None and not self.ended:
            self._shown += seconds
            if self._shown >= self.frame.seconds(PACES[self.pace]) and len(self.frames) > self.at + 1:
                self._go(1)

    # What is on it.

    def paint(self, ui: Ui) -> None:
        """What happened, the table, what the seat does and why; the ways to move stay where they are, at the bottom."""
        pace = f"at a pace of {PACES[self.pace]} words a minute"
        rest = ui.header("Watch a strong player", pace if self.running else f"stopped; goes on {pace}", self.back)
        fills = (lambda _: None, self._fill, self._moves)
        between(ui, "film", rest, fills, widest=WIDEST, least=LEAST, foot=True)

    def _fill(self, page: Column) -> None:
        """What is said stands over the tiles, so that it is in sight in a small window, too."""
        frame = self.frame
        if frame is None:
            page.text("The table is being laid…", BODY_BOLD, SOFT)
            return
        page.text(" ".join(frame.happened) or "The first turn.", BODY, SOFT)
        page.gap(6)
        page.text(frame.does, BODY_BOLD)
        if frame.because:
            page.gap(4)
            page.text(frame.because, BODY, most=1000)
        page.gap(10)
        look = RackLook(picked=_places(frame.rack, frame.passed))
        if frame.task is not None and frame.goes is not None:
            look = RackLook(chosen=frame.rack.index(frame.goes), advice=frame.task.rack, let_go=frame.goes)
        draw_choice(page, frame.rack, look, lambda _: None)
        page.gap(10)
        draw_seats(page, frame.state, frame.state.house.seat)

    def _moves(self, page: Column) -> None:
        if self.ended:
            page.buttons([Press("Another game", self.anew, "return", main=True),
                          Press("Earlier", lambda: self.step(False), "b")])  # fmt: skip
            return
        roomy = page.ui.window.height >= page.ui.u(ROOMY)
        page.buttons([
            Press("Pause" if self.running else "Go on", self.run, "p", main=True),
            Press("Earlier", lambda: self.step(False), "b", enabled=self.at > 0),
            Press("Next", lambda: self.step(True), "n"),
            Press("Slower" if roomy else "Slow", lambda: self.faster(-1), "s", enabled=self.pace < len(PACES) - 1),
            Press("Faster" if roomy else "Fast", lambda: self.faster(1), "f", enabled=self.pace > 0),
        ], show_keys=roomy)  # fmt: skip
