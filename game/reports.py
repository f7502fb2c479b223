"""What just happened, how it ended and what it cost, as sentences for the window and the text table alike."""

from __future__ import annotations

from dataclasses import dataclass

from engine.advice.review import Decision, Interval, Review
from engine.rules.actions import Discard, Mahjong
from engine.rules.house import QUIET, seat_name
from engine.rules.observation import observe
from engine.rules.state import Outcome, Phase, State
from engine.tiles import Kind, name, say_tiles
from game import words
from game.advisor import Advisor
from game.sitting import Sitting

BEFORE_PLAY = (Phase.PASSING, Phase.AGREEING, Phase.ASKING, Phase.GIVING)
"""Phases of the passes."""

WORTH_NAMING = 0.0005
"""Costs below this probability are the same choice for a player, and are not called a mistake."""


@dataclass(frozen=True)
class Costly:
    """A choice of the player's that was worth less than the best one at that moment."""

    index: int
    """The state at which it was made."""
    let_go: Kind
    better: Kind
    cost: float
    """Probability lost."""
    sentence: str
    tried: bool = False
    """Whether the cost was found by trying both out, not reckoned."""


def situation(sitting: Sitting) -> str:
    """One sentence for where the player stands and what is asked of them."""
    state = sitting.state
    if state.phase is Phase.OVER:
        return "The game is over."
    if state.phase is Phase.TURN and state.to_act == sitting.player:
        if state.drawn is None:
            return "You start: let one tile go."
        return f"Pick {state.picks}: you drew the {name(state.drawn)}. {_left(state)} Let one tile go."
    return f"It is {seat_name(max(state.to_act, 0)).capitalize()}'s turn."


def prompt(sitting: Sitting) -> str:
    """What happened and what is asked, shorter: where the pick and the wall are shown beside it.

    Looking back it says what was chosen at that moment.
    """
    state = sitting.state
    if state.phase is not Phase.TURN or state.to_act != sitting.player:
        return situation(sitting)
    drew = "" if state.drawn is None else f"You drew the {name(state.drawn)}"
    if sitting.at_end and Mahjong() in sitting.legal():
        return f"{drew or 'You were dealt a whole hand'}: your hand is complete."
    if sitting.at_end:
        return f"{drew}. Let one tile go." if drew else "You start: let one tile go."
    action = sitting.entries[sitting.cursor].action
    chose = f"let the {name(action.kind)} go" if isinstance(action, Discard) else "showed mahjong"
    return f"{drew} and {chose}." if drew else f"You started and {chose}."


def _left(state: State) -> str:
    return f"{words.sentence(words.count(len(state.wall), 'tile'))} left in the wall."


def headline(outcome: Outcome, player: int) -> str:
    """How the game ended, in a few words."""
    if outcome.kind == "mahjong":
        return "Mahjong!" if outcome.winner == player else f"{seat_name(outcome.winner or 0).capitalize()} made mahjong"
    return {"wall": "Wall game", "picks": "Out of picks", "dead": "Dead hand"}[outcome.kind]


def outcome_sentences(state: State) -> list[str]:
    """How a finished game ended: what was made, how, and what it pays."""
    outcome = state.outcome
    if outcome is None:
        return []
    if outcome.kind != "mahjong" or outcome.hand is None or outcome.winner is None:
        reason = {
            "wall": "The wall is used up and nobody has made a hand: a wall game, and nobody scores.",
            "picks": f"All {state.house.picks} picks are used and no hand was made.",
            "dead": "Your hand is dead: it can no longer be made into a hand of this sheet.",
        }
        return [reason[outcome.kind]]
    mine = outcome.winner == state.house.seat
    who = "You" if mine else seat_name(outcome.winner).capitalize()
    how = "drawing the last tile" if outcome.self_drawn else "calling the last tile"
    said = [
        f"{who} made {outcome.hand.name}, in {outcome.hand.section}, by {how}"
        + (f", at pick {state.picks}." if mine else ".")
    ]
    bare = ", made without a joker" if outcome.jokerless else ""
    if state.house.table == QUIET:
        said.append(
            f"The hand counts {outcome.hand.points} points{bare}; at a full table you would collect {outcome.points}."
        )
    else:
        collects = "you collect" if mine else f"{who} collects"
        said.append(f"The hand counts {outcome.hand.points} points{bare}; {collects} {outcome.points}.")
    return said


def costs_of(sitting: Sitting, advisor: Advisor) -> list[Costly]:
    """The player's discards that cost something, dearest first; ties in the order played."""
    costly = []
    for index in sitting.decisions:
        action = sitting.entries[index].action
        state = sitting.states[index]
        if not isinstance(action, Discard) or state.phase is not Phase.TURN:
            continue
        advice = advisor.advise(observe(state, sitting.player))
        cost = next((keep.cost for keep in advice.keeps if keep.kind == action.kind), 0.0)
        if cost < WORTH_NAMING:
            continue
        costly.append(costly_choice(index, state, action.kind, advice.keeps[-1].kind, cost))
    return sorted(costly, key=lambda one: -one.cost)


def costs_tried(sitting: Sitting, found: Review) -> tuple[list[Costly], int]:
    """The player's choices that cost something beyond doubt, dearest first, once they were tried out: tiles let go and
    tiles passed; and how many more were reckoned to but can't be told apart from the advised ones."""
    costly, unsure = [], 0
    for decision in found.decisions:
        if not decision.chosen or not decision.best:
            continue
        if not decision.fault:
            unsure += decision.within is not None
        elif decision.cost >= WORTH_NAMING:
            state = sitting.states[decision.index]
            if decision.passing:
                costly.append(_costly_pass(state, decision))
            else:
                index, chosen, best = decision.index, decision.chosen[0], decision.best[0]
                costly.append(costly_choice(index, state, chosen, best, decision.cost, decision.within))
    return sorted(costly, key=lambda one: -one.cost), unsure


def _costly_pass(state: State, decision: Decision) -> Costly:
    """A pass that cost something; the tiles shown are ones that only it, or only the advised one, gives away."""
    mine, best = decision.chosen, decision.best
    gone = next(kind for kind in mine if mine.count(kind) > best.count(kind))
    better = next((kind for kind in best if best.count(kind) > mine.count(kind)), gone)
    said = (
        f"In pass {state.passes_done + 1} you gave away {say_tiles(mine)}; {say_tiles(best)} would have kept "
        f"{words.points_of_odds(decision.cost)} points of odds more{_give_or_take(decision.within)}."
    )
    return Costly(decision.index, gone, better, decision.cost, said, decision.within is not None)


def _give_or_take(within: Interval | None) -> str:
    half = 0.0 if within is None else (within[1] - within[0]) / 2
    return f", give or take {words.give_or_take(half)}" if half else ""


def costly_choice(
    index: int, state: State, let_go: Kind, better: Kind, cost: float, within: Interval | None = None
) -> Costly:
    """A choice that cost something, `within` the interval where it was tried out."""
    said = (
        f"{_moment(state)} you let the {name(let_go)} go; letting the {name(better)} go would have kept "
        f"{words.points_of_odds(cost)} points of odds more{_give_or_take(within)}."
    )
    return Costly(index, let_go, better, cost, said, within is not None)


def _moment(state: State) -> str:
    return f"At pick {state.picks}" if state.picks else "At the start"
