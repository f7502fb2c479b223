"""Plain sentences for the choices before play, said from counted tiles and weighed worths and from nothing else."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from engine.advice.kept import NEVER
from engine.advice.reasons import costs
from engine.advice.worth import SAME
from engine.sheet.words import in_words
from engine.tiles import Kind, say_tiles


@dataclass(frozen=True)
class Hurt:
    """A hand whose best variant uses some of the tiles that go."""

    name: str
    before: int
    """Tiles that its best variant misses now."""
    after: int
    """The least number of tiles that the hand misses once they have gone; NEVER if it can't be made then."""


@dataclass(frozen=True)
class PassFacts:
    """What is known about one choice."""

    tiles: int
    """How many go from the rack."""
    nearest: tuple[str, ...]
    """Hands looked at, best odds first: five, or fewer if fewer are in reach."""
    hurt: tuple[Hurt, ...]
    """Those of them that use some of the tiles."""
    further: Hurt | None
    """The next hand behind the nearest that misses more once they have gone."""
    less: float
    """Worth lost against the best choice."""
    margin: float | None
    """For the best choice, what the next best loses; None where there is no other."""
    tried: bool = False
    """Whether that was found by playing on."""


def why_pass(facts: PassFacts) -> str:
    """Which hands a choice gives up and which it keeps, and what it costs if it isn't the best."""
    if not facts.nearest:
        return "No hand is in reach of the tiles to come."
    said = _taken(facts) if facts.hurt else _spared(facts)
    if facts.less > 0:
        return f"{said}. It {costs(facts.less)} against the best choice."
    if facts.hurt and facts.margin is not None:
        if facts.margin > 0:
            return f"{said}. Any other choice {costs(facts.margin)} more."
        return f"{said}. Another choice is as good{', as far as can be told' if facts.tried else ''}."
    return f"{said}."


def _spared(facts: PassFacts) -> str:
    """None of the nearest hands uses the tiles."""
    tiles = "it" if facts.tiles == 1 else "any of them"
    if len(facts.nearest) == 1:
        said = f"{facts.nearest[0]}, the one hand in reach, doesn't use {tiles}"
    else:
        said = f"None of your {in_words(len(facts.nearest))} nearest hands uses {tiles}"
    return f"{said}; {facts.further.name}, further off, {_then(facts.further)}" if facts.further else said


def _taken(facts: PassFacts) -> str:
    """What becomes of the nearest hand that uses the tiles, how many more do, and whether the first of all is safe."""
    hurt, others = facts.hurt[0], len(facts.hurt) - 1
    said = f"{hurt.name} {_then(hurt)}"
    if others:
        loses = "loses" if others == 1 else "lose"
        said += f", and {in_words(others)} more of your {in_words(len(facts.nearest))} nearest hands {loses} tiles too"
    if facts.nearest[0] != hurt.name:
        said += f"; {facts.nearest[0]}, the nearest, keeps all it has"
    return said


def _then(hurt: Hurt) -> str:
    if hurt.after >= NEVER:
        return "can't be made any more"
    if hurt.after <= hurt.before:
        return "loses tiles but has another way that is as near"
    tiles = "one tile" if hurt.after == 1 else f"{in_words(hurt.after)} tiles"
    return f"then needs {tiles} instead of {in_words(hurt.before) if hurt.before else 'none'}"


def why_blind(number: int, gain: float) -> str:
    """Whether to pass on tiles unseen; `gain` is the worth of doing so less that of the best three from the rack."""
    if number:
        what = "one tile" if number == 1 else f"{in_words(number)} tiles"
        return f"Pass on {what} unseen: that is worth {points(gain)} more than the best three from the rack."
    if gain > 0:
        return f"Pass none on unseen: that would gain {points(gain)} at best, too little to count on."
    if gain < 0:
        return f"Pass none on unseen: the best three from the rack are worth {points(-gain)} more."
    return "Pass none on unseen: the best three from the rack are worth as much."


def why_round(gain: float, passes: int) -> str:
    """Whether to play the second round, of so many passes; `gain` is the worth of going on less that of stopping."""
    more = "one pass more" if passes == 1 else f"{in_words(passes)} passes more"
    if gain > 0:
        return f"Agree: {more} {'is' if passes == 1 else 'are'} worth {points(gain)}."
    if gain < 0:
        return f"Stop: {more} would cost {points(-gain)}."
    return f"Stop: {more} would gain nothing."


def why_ask(number: int, give: Sequence[Kind], worths: Sequence[float]) -> str:
    """How many to ask for in the courtesy pass, against one fewer and one more; `worths` for none, one and so on."""
    claims = []
    if number > 0:
        claims.append(f"one fewer would be worth {_less(worths[number] - worths[number - 1])}")
    if number + 1 < len(worths):
        claims.append(f"one more would be worth {_less(worths[number] - worths[number + 1])}")
    ask = f"Ask for {in_words(number)} and give {say_tiles(give)}" if number else "Ask for none"
    return f"{ask}: {', '.join(claims)}." if claims else f"{ask}."


def _less(worth: float) -> str:
    return "as much" if worth <= SAME else f"{points(worth)} less"


def points(worth: float) -> str:
    """`4.1 points of odds`, never rounded to nothing."""
    return costs(worth).removeprefix("costs ")
