"""Drills on moments of play in words: the tile to let go, one pass, a choice over another's shoulder."""

from __future__ import annotations

from collections.abc import Sequence

from engine import words
from engine.advice.advise.answers import CourtesyAdvice, Known, PassAdvice, RoundAdvice
from engine.drills.follow import FollowTask
from engine.drills.grades import Grade, Price
from engine.drills.let_one_go import PICKS, LetGoJudged, LetGoTask
from engine.drills.one_pass import PassAnswer, PassJudged, PassTask, WhichPass
from engine.rules.actions import PASS_TILES, Action, Discard
from engine.rules.observation import Observation
from engine.rules.state import Phase
from engine.tiles import name, say_tiles
from game.play.sitting import Sitting
from game.words.actions import say_action, say_exposure, say_seat
from game.words.happened import told
from game.words.situation import call_words

PRAISE = {Grade.RIGHT: "Right.", Grade.NEAR: "Nearly.", Grade.WRONG: "Not this time."}
MOMENTS = {
    WhichPass.FIRST_RIGHT: "First pass, to the right",
    WhichPass.FIRST_ACROSS: "Second pass, across",
    WhichPass.FIRST_LEFT: "Third pass, to the left",
    WhichPass.SECOND_ROUND: "A second round?",
    WhichPass.SECOND_LEFT: "Fourth pass, to the left",
    WhichPass.SECOND_ACROSS: "Fifth pass, across",
    WhichPass.SECOND_RIGHT: "Sixth pass, to the right",
    WhichPass.COURTESY: "Courtesy pass",
}
"""What each moment of the passes is called."""
SHOWN = 8
"""Things that happened before a choice that are told at most."""


def price_words(price: Price, *, turns: bool = False) -> str:
    """What a choice costs and how that is known, as the rest of a sentence: `costs 2.1 picks, give or take 0.6`."""
    if price.cost <= 0:
        games = price.known is Known.PLAYED and price.games
        return f"costs nothing: in {price.games} games no difference showed" if games else "costs nothing"
    figure = words.picks(price.cost, turns=turns)
    if price.known is Known.ESTIMATED:
        return f"costs about {figure}" if price.cost >= words.TRIFLE else f"costs {figure}"
    half = f", give or take {words.picks_figure(price.half)}" if price.half else ""
    return f"costs {figure}{half}"


# Let one go.


def let_go_asked(task: LetGoTask, seen: bool = False) -> str:
    """Which tile to let go; `seen` where the rack is drawn beside it."""
    where = f"Pick {task.pick} of {PICKS}." if task.pick else f"Before the first of {PICKS} picks."
    asked = f"{where} Which tile do you let go?"
    if seen:
        return asked
    gone = f" Let go so far: {say_tiles(sorted(task.gone))}." if task.gone else ""
    return f"Your rack: {say_tiles(task.rack)}.{gone} {asked}"


def let_go_told(judged: LetGoJudged) -> list[str]:
    """How good the tile was, and what the advice says."""
    chosen, best = name(judged.kind), name(judged.best)
    said = [PRAISE[judged.price.grade]]
    if judged.kind == judged.best:
        said.append(judged.advice.because)
        if judged.next_price >= words.TRIFLE:
            said.append(f"Any other tile costs {words.picks(judged.next_price)} or more.")
        return said
    said.append(f"Letting the {chosen} go {price_words(judged.price)}. {_first(judged.keep.because)}")
    better = "As good" if judged.price.cost <= 0 else "Better"
    return [*said, f"{better}: let the {best} go. {judged.advice.because}"]


def let_go_shown(judged: LetGoJudged) -> list[str]:
    """What there is to say when the answer is asked for."""
    return [f"Let the {name(judged.best)} go.", *let_go_told(judged)[1:]]


# One pass.


def pass_asked(task: PassTask, seen: bool = False) -> str:
    """What to pass, or whether to go on; `seen` where the rack is drawn beside it."""
    asked = {
        WhichPass.SECOND_ROUND: "Three passes are done. Do you want a second round of passes?",
        WhichPass.COURTESY: "The courtesy pass. Which tiles do you give across: none, or up to three?",
    }.get(task.moment, f"{MOMENTS[task.moment]}. Which three tiles go?")
    return asked if seen else f"Your rack: {say_tiles(task.rack)}. {asked}"


def pass_words(answer: PassAnswer) -> str:
    """A choice, in a few words."""
    if answer.agree is not None:
        return "a second round" if answer.agree else "stopping the passes"
    return say_tiles(answer.kinds) if answer.kinds else "giving none"


def pass_told(judged: PassJudged) -> list[str]:
    """How good the choice was, and what the advice says."""
    said = [PRAISE[judged.price.grade]]
    advice = judged.advice
    if judged.answer != judged.best:
        said.append(f"{words.sentence(pass_words(judged.answer))} {_costs(judged)}.")
        said += _why_chosen(judged)
        better = "As good" if judged.price.cost <= 0 else "Better"
        return [*said, f"{better}: {pass_words(judged.best)}. {advice.because}", *_unseen(advice)]
    return [*said, advice.because, *_unseen(advice)]


def pass_shown(judged: PassJudged) -> list[str]:
    """What there is to say when the answer is asked for."""
    return [f"{words.sentence(pass_words(judged.best))}.", *pass_told(judged)[1:]]


def _costs(judged: PassJudged) -> str:
    said = price_words(judged.price)
    plural = len(judged.answer.kinds) > 1
    return said.replace("costs", "cost", 1) if plural else said


def _why_chosen(judged: PassJudged) -> list[str]:
    """What the tiles chosen would have served."""
    if not isinstance(judged.advice, PassAdvice | CourtesyAdvice):
        return []
    mine = next((one for one in judged.advice.choices if one.kinds == judged.answer.kinds), None)
    return [] if mine is None or not mine.gives_up else [_first(mine.because)]


def _first(said: str) -> str:
    """The first sentence: the rest is a cost, which was said already."""
    return f"{said.split('. ')[0].rstrip('.')}."


def _unseen(advice: PassAdvice | RoundAdvice | CourtesyAdvice) -> list[str]:
    """That passing on unseen tiles would be better still."""
    return [advice.blind_because] if isinstance(advice, PassAdvice) and advice.blind else []


# Over another's shoulder.


def follow_asked(task: FollowTask) -> str:
    """What to choose."""
    who = say_seat(task.seen.seat)
    if task.call is not None:
        last = task.seen.discards[-1]
        return f"{say_seat(last.seat)} let the {name(last.kind)} go. What does {who} do?"
    return f"It is {who}'s turn. Which tile does {who} let go?"


def follow_seen(task: FollowTask, sitting: Sitting) -> list[str]:
    """The table as the seat sees it, in sentences: for a player who can't see it drawn."""
    seen = task.seen
    who = say_seat(seen.seat)
    said = [*happened_words(sitting), f"{who} holds {say_tiles(sorted(seen.rack))}."]
    for seat, exposures in enumerate(seen.exposures):
        if exposures:
            said.append(f"{say_seat(seat)} has exposed {words.listed([say_exposure(one) for one in exposures])}.")
    return [*said, f"{words.sentence(words.count(seen.wall_left, 'tile'))} left in the wall."]


def happened_words(sitting: Sitting) -> list[str]:
    """What happened since the seat's last discard, in sentences that name every seat."""
    begin = 0
    for index in sitting.decisions:
        if index < sitting.cursor and isinstance(sitting.entries[index].action, Discard):
            begin = index
    found = told(sitting.entries, sitting.states, -1, begin, sitting.cursor)
    said = [_of_seat(one.sentence, one.seat) for one in found][-SHOWN:]
    state = sitting.state
    if state.phase is Phase.TURN and state.drawn is not None:
        said.append(f"{say_seat(state.turn)} draws the {name(state.drawn)}.")
    return said


def _of_seat(said: str, seat: int) -> str:
    """The sentence with the seat's name where it speaks to the player."""
    return f"{say_seat(seat)} calls{said.removeprefix('You call')}" if said.startswith("You call") else said


def action_words(action: Action) -> str:
    """An answer, for a button or a list."""
    return f"Let the {name(action.kind)} go" if isinstance(action, Discard) else call_words(action)


def does_words(seen: Observation, action: Action) -> str:
    """What the seat does, as a sentence."""
    tile = seen.discards[-1].kind if seen.phase is Phase.CALLING and seen.discards else None
    return say_action(action, seen.seat, tile)


def how_many_words(tiles: Sequence[int], task: PassTask) -> str:
    """What is still to be chosen in a pass."""
    if task.moment is WhichPass.COURTESY:
        return f"{words.sentence(words.count(len(tiles), 'tile'))} chosen; up to three may go."
    left = PASS_TILES - len(tiles)
    return "Three tiles are chosen." if not left else f"{words.sentence(words.count(left, 'more tile'))} to choose."
