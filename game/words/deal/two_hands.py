"""The two-hand game in words: its rules, where it stands, what happened, and how it ended."""

from __future__ import annotations

from engine import words
from engine.rules.actions import Action, ChangeRacks, Discard, Draw, Mahjong, PutOn
from engine.rules.house import House
from engine.rules.state import Phase, State
from engine.rules.two_hands import open_racks, racks_of
from engine.store.endings import GameEnd
from engine.tiles import name

RULES = (
    "You play alone, with two racks of thirteen tiles, and make a hand of the sheet on each.",
    "Every tile that you draw goes on either rack.",
    "Then, once a turn, a tile of one rack may change places with a tile of the other.",
    "Then one tile is let go from the rack that has fourteen.",
    "Fourteen tiles that make a hand may be shown instead: that rack is done, and every tile then goes on the other.",
    "You win once both hands are shown, and their points are added.",
)

NO_REVIEW = (
    "What your choices cost is not told after this game: a tile that one rack loses may serve the other, and no figure "
    "here weighs both together. Step back to any choice to see what the advice would have done."
)
"""Why the end of the game has no list of costly choices."""


def asked(state: State, *, short: bool = False) -> str:
    """Where the game stands and what is asked, in one or two sentences; `short`, only what is asked."""
    if state.phase is Phase.OVER:
        return "The game is over."
    two = racks_of(state)
    if state.phase is Phase.PLACING and two.waiting is not None:
        return f"You drew the {name(two.waiting)}. Which rack gets it?"
    if short:
        return f"Let one tile of rack {state.turn + 1} go."
    left = open_racks(state)
    drew = f"You drew the {name(state.drawn)}. " if len(left) == 1 and state.drawn is not None else ""
    may = " Two tiles may change racks first." if not two.changed and len(left) == 2 else ""
    return f"{drew}Let one tile of rack {state.turn + 1} go.{may}"


def did(action: Action, before: State) -> str:
    """What the player did, or what was drawn, in one sentence."""
    match action:
        case Draw(kind):
            return f"You drew the {name(kind)}."
        case PutOn(rack):
            waiting = racks_of(before).waiting
            return f"You put the {'tile' if waiting is None else name(waiting)} on rack {rack + 1}."
        case ChangeRacks(first, second):
            return f"The {name(first)} of rack 1 and the {name(second)} of rack 2 changed places."
        case Discard(kind):
            return f"You let the {name(kind)} of rack {before.turn + 1} go."
        case Mahjong():
            return f"You showed the hand of rack {before.turn + 1}."
    return ""


def shown_sentences(state: State) -> list[str]:
    """The hands that are shown already."""
    return [
        f"Rack {place + 1} is done: {one.hand.name}, {words.count(one.points, 'point')}."
        for place, one in enumerate(racks_of(state).shown)
        if one is not None
    ]


def two_hands_ended(end: GameEnd, house: House) -> list[str]:
    """How a two-hand game ended: what was made, and what it counts."""
    if end.winner is not None:
        counts = f"Together they count {words.count(end.points, 'point')}"
        return [f"You made both hands, {end.hand}, by pick {end.picks}.", f"{counts}."]
    picks = "The one pick is used." if house.picks == 1 else f"All {words.count(house.picks, 'pick')} are used."
    used = "The wall is used up." if end.kind == "wall" else picks
    made = f"One hand was made, {end.hand}; the other was not." if end.hand else "Neither hand was made."
    return [used, made]
