"""Review of a game at a full table: what luck, the others and the player's choices did, in points that add up exactly.

Every moment has a value in points (`values`). A part is the sum of the steps that one kind of event made from one value
to the next. The steps lead from 0, which is what a deal brings on average among four who play alike, to the payment.

    deal     value of what was dealt, less that of the average deal
    passes   value once tiles came in, less that of the choice of what went out
    draws    value after each draw of the player's, less its mean over every tile that might have come
    thrown   value once another has let a tile go, less the mean over what others tend to let go: tiles to call, and
             tiles that went past
    choices  value after each choice of the player's, less that after the advised one
    others   all else: what others exposed and won or did not win yet, rounds that went by, what the values were off
    clock    what there was still to win or to lose when the clock ended the game
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from engine.advice.moment import USUAL, Work
from engine.advice.review.review import NotReviewedError
from engine.advice.review.values import CENTS, PointsValue
from engine.advice.table import SheetTable
from engine.rules.actions import Action, Discard, Draw
from engine.rules.house import FULL
from engine.rules.passing import BEFORE_PLAY
from engine.rules.state import CHANCE, Phase, State

DEAL, PASSES, DRAWS, THROWN, OTHERS, CHOICES, CLOCK = PARTS = (
    "deal", "passes", "draws", "thrown", "others", "choices", "clock",
)  # fmt: skip


@dataclass(frozen=True)
class PointsChoice:
    """One choice of the player's at a full table."""

    index: int
    """The state at which it was made."""
    chosen: Action
    best: Action
    """The advised one."""
    value: int
    """Hundredths of a point: value after it, less that after the advised one. Above 0 at times, where the advice holds
    back for a reason that the value leaves out."""

    @property
    def cost(self) -> float:
        """What it lost, in points; never negative."""
        return max(-self.value, 0) / CENTS


@dataclass(frozen=True)
class PointsParts:
    """What a game at a full table came to, or several together, in parts. All are whole hundredths of a point."""

    deal: int
    passes: int
    draws: int
    thrown: int
    others: int
    choices: int
    clock: int
    result: int
    """What the player won or paid; for a game that is not over, the last value."""
    passed: bool
    """Whether tiles were passed."""

    @property
    def parts(self) -> dict[str, int]:
        """All that adds up to the result, by name, in the order of PARTS."""
        return {name: getattr(self, name) for name in PARTS}


@dataclass(frozen=True)
class FullReview(PointsParts):
    """A game at a full table taken apart."""

    decisions: tuple[PointsChoice, ...]


def together(games: Sequence[PointsParts]) -> PointsParts:
    """Several games as one: the parts of all of them added up."""
    sums = {name: sum(getattr(game, name) for game in games) for name in (*PARTS, "result")}
    return PointsParts(**sums, passed=any(game.passed for game in games))


@dataclass
class _Steps:
    """The parts while they are added up, and the value reached."""

    now: int = 0
    sums: dict[str, int] = field(default_factory=lambda: dict.fromkeys(PARTS, 0))

    def to(self, value: int, part: str) -> None:
        """A step to another value."""
        self.sums[part] += value - self.now
        self.now = value


def review_full(
    table: SheetTable, states: Sequence[State], actions: Sequence[Action], work: Work = USUAL, *, ended: bool = False
) -> FullReview:
    """Review the game of states[0], to which `actions` led on, one state after each, for the player's seat. `ended`: a
    clock has ended it, so that nobody pays.

    Raises NotReviewedError for another table than the full one, or once `work` is stopped; ValueError where actions and
    states don't fit.
    """
    if states[0].house.table != FULL:
        raise NotReviewedError("only games at the full table are reviewed in points")
    if len(states) != len(actions) + 1:
        raise ValueError(f"{len(actions)} actions lead to {len(actions) + 1} states, not {len(states)}")
    value, steps, decisions = PointsValue(table), _Steps(), []
    seat = states[0].house.seat
    dealt, average = value.dealt(_first_seen(states))
    steps.to(average, OTHERS)
    steps.to(dealt, DEAL)
    part, thrown_at = OTHERS, states[0]
    for index, (state, action, after) in enumerate(zip(states, actions, states[1:], strict=False)):
        work.pause()
        if work.halted():
            raise NotReviewedError("the review was stopped")
        if state.to_act == seat:
            best = value.advised(state)
            steps.to(value.after(state, best), part)
            before, part = steps.now, OTHERS
            steps.to(before if action == best else value.after(state, action), CHOICES)
            decisions.append(PointsChoice(index, action, best, steps.now - before))
        elif isinstance(action, Draw) and state.turn == seat:
            came, mean = value.before_draw(state)
            steps.to(mean, part)
            steps.to(came, DRAWS)
            part = OTHERS
            continue
        elif state.phase not in BEFORE_PLAY and state.to_act != CHANCE:
            part = _part_of(state, action, part)
            thrown_at = state if isinstance(action, Discard) else thrown_at
        if len(after.handed[seat]) > len(state.handed[seat]):
            part = PASSES
        asked = after.to_act == seat and after.phase is Phase.CALLING
        if _settled(after) or asked:
            if part == THROWN and after.phase is not Phase.OVER:
                steps.to(value.gone_by(thrown_at, after) + value.calls_bring(thrown_at), OTHERS)
            steps.to(value.of(after), part if after.phase is not Phase.OVER else OTHERS)
            part = OTHERS
    if ended and states[-1].phase is not Phase.OVER:
        steps.to(0, CLOCK)
    passed = bool(states[-1].handed[seat])
    return FullReview(**steps.sums, result=steps.now, passed=passed, decisions=tuple(decisions))


def _first_seen(states: Sequence[State]) -> State:
    """The first moment at which the player is to choose, or the others have begun to play: all that is known there is
    what was dealt."""
    seat = states[0].house.seat
    for state in states:
        if state.to_act == seat or state.phase not in BEFORE_PLAY:
            return state
    return states[0]


def _part_of(state: State, action: Action, part: str) -> str:
    """The part that another seat's action in play belongs to; the one before goes on where it shows nothing."""
    if isinstance(action, Discard):
        return THROWN
    if state.phase is Phase.CALLING:
        return OTHERS if type(action).__name__ != "LetGo" else part
    return OTHERS


def _settled(state: State) -> bool:
    """Whether all can see what came of the last action, and the player is not to choose: another's turn or draw."""
    if state.phase is Phase.OVER:
        return True
    if state.phase in BEFORE_PLAY or state.to_act == state.house.seat:
        return False
    return state.phase is Phase.DRAWING or (state.phase is Phase.TURN and state.drawn is None)
