"""What a choice cost, as a sentence."""

from __future__ import annotations

from engine import words
from engine.rules.actions import Action, Agree, Ask, Call, Discard, Give, LetGo, Pass, Stop
from engine.rules.house import FULL
from engine.rules.passing import DIRECTIONS
from engine.rules.state import State
from engine.sheet.groups import size_name
from engine.tiles import name, say_tiles
from game.play.costs import Cost
from game.play.sitting import Sitting
from game.words.actions import say_seat
from game.words.situation import call_words


def cost_sentence(sitting: Sitting, cost: Cost) -> str:
    """A choice that cost something: when, what was chosen, and what the better choice would have saved."""
    state = sitting.states[cost.index]
    did, better = _two_choices(state, cost)
    return f"{did}; {better} would have saved {_saved(sitting, cost)}{_how_sure(cost)}."


def pass_sentence(sitting: Sitting, cost: Cost) -> str:
    """One pass of a rehearsal, and what it cost, if anything."""
    state, best = sitting.states[cost.index], cost.best
    if not isinstance(cost.chosen, Pass):
        return cost_sentence(sitting, cost) if cost.lost > 0 else f"{_two_choices(state, cost)[0]}: well chosen."
    assert isinstance(best, Pass)
    said = f"{words.sentence(which_pass(state))}: {say_tiles(cost.chosen.kinds)}. "
    better = words.sentence(say_tiles(best.kinds))
    if cost.lost > 0:
        sure = _how_sure(cost) if cost.tried else ""
        return f"{said}{better} would have saved {_saved(sitting, cost)}{sure}."
    if cost.open and best != cost.chosen:
        return f"{said}{better} may be as good: playing both out showed no clear difference."
    return f"{said}No better pass was found."


def which_pass(state: State) -> str:
    """`pass 2, across`; `pass 3, to the left`."""
    way = DIRECTIONS[state.passes_done]
    return f"pass {state.passes_done + 1}, {way if way == 'across' else f'to the {way}'}"


def _two_choices(state: State, cost: Cost) -> tuple[str, str]:
    """What was done, and the better choice, as the two halves of a sentence."""
    chosen, best = cost.chosen, cost.best
    if isinstance(chosen, Pass) and isinstance(best, Pass):
        return f"In pass {state.passes_done + 1} you gave away {say_tiles(chosen.kinds)}", say_tiles(best.kinds)
    if isinstance(chosen, Discard) and isinstance(best, Discard):
        return f"{_moment(state)} you let the {name(chosen.kind)} go", f"letting the {name(best.kind)} go"
    if isinstance(chosen, Give) and isinstance(best, Give):
        return f"In the courtesy pass you gave away {say_tiles(chosen.kinds)}", say_tiles(best.kinds)
    if isinstance(chosen, Ask) and isinstance(best, Ask):
        return f"You asked for {words.in_words(chosen.number)} across", f"asking for {words.in_words(best.number)}"
    if isinstance(chosen, Agree):
        return "You agreed to a second round of passes", "stopping"
    if isinstance(chosen, Stop):
        return "You stopped the passes", "a second round"
    last = state.discards[-1]
    did = f"When {say_seat(last.seat)} let the {name(last.kind)} go, you {_answered(chosen)}"
    return did, f"“{call_words(best)}”"


def _answered(action: Action) -> str:
    match action:
        case Call(size, _):
            return f"called it for a {size_name(size)}"
        case LetGo():
            return "let it go"
    return "called it for mahjong"


def _moment(state: State) -> str:
    return f"At pick {state.picks}" if state.picks else "At the start"


def _saved(sitting: Sitting, cost: Cost) -> str:
    """`2.1 picks`, or `roughly 2.1 picks` where nothing was tried out; turns at a table of four."""
    turns = sitting.states[0].house.table == FULL
    said = ("" if cost.tried else "roughly ") + words.picks(cost.lost, turns=turns)
    return said if cost.points is None else f"{said}, about {words.counted(round(cost.points), 'point')}"


def _how_sure(cost: Cost) -> str:
    half = 0.0 if cost.within is None else (cost.within[1] - cost.within[0]) / 2
    return f", give or take {words.picks_figure(half)}" if half else ""
