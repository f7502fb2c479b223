"""One plain sentence on why a tile is worth keeping, or why it may go, said from counted facts and nothing else."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from engine.advice.rollout.race import Tried
from engine.advice.worth.after_pass import NEVER
from engine.advice.worth.worth import SAME
from engine.tiles import FLOWER, JOKER, Kind, name, say_tiles
from engine.words import in_words

NEAREST = 5
"""A sentence looks at so many hands, best odds first."""


@dataclass(frozen=True)
class Facts:
    """What is known about letting one tile of a kind go. A hand needs the kind if its best variant uses every tile of
    it that is held, so that letting one go would leave a gap."""

    kind: Kind
    held: int
    nearest: int
    """Hands looked at: five, or fewer if fewer are in reach."""
    needing: int
    """How many of them need the kind."""
    as_pair: int
    """How many of those would lose a piece of a pair."""
    as_single: int
    """How many of those would lose a single."""
    further: int
    """Hands in reach beyond the nearest that need the kind."""
    unseen: int
    """Copies still to come."""
    lost: tuple[str, ...]
    """Names of hands in reach that none of the draws could finish any more."""
    cost: float
    """Worth lost against the best tile to let go, a probability."""
    tried: Tried | None = None
    """How it stands to that tile once both were played on."""
    reckoned: bool = False
    """Whether other choices were tried out, but this one only reckoned."""


def why_keep(facts: Facts) -> str:
    """Why a tile that is not the best one to let go should stay; or that it could go as well."""
    if facts.cost <= 0 and not facts.needing:
        return _sentence(f"{_the(facts)} could go as well: {_need(facts)}")
    if facts.cost <= 0 and facts.tried is not None:
        return _sentence(
            f"{_the(facts)} could go as well: {_need(facts)}{_where(facts)}, but {_no_difference(facts.tried)}"
        )
    if facts.cost <= 0 and facts.nearest:
        return _sentence(f"{_the(facts)} could go as well: {_need(facts)}{_where(facts)}, but {_nothing(facts)}")
    said = f"Keep {_tiles(facts)}: {_need(facts)}{_where(facts)}"
    if facts.cost > 0 and not facts.needing and facts.nearest:
        said += _beyond(facts)
    if facts.needing and facts.kind != JOKER and facts.unseen <= 1:
        said += "; no other is left to come" if facts.unseen == 0 else "; only one more can come"
    return _sentence(said + _losing(facts) + f"; letting {_one(facts)} go {_costs(facts)}")


def _costs(facts: Facts) -> str:
    said = costs(facts.cost)
    return said.replace("costs", "is reckoned to cost", 1) if facts.reckoned else said


def _nothing(facts: Facts) -> str:
    return f"letting {_one(facts)} go costs nothing"


def why_let_go(facts: Facts, least: float | None) -> str:
    """Why the best tile to let go may go; `least` is the least cost among the other tiles, None without others."""
    if not facts.needing:
        return _sentence(_need(facts) + _losing(facts))
    said = f"{_need(facts)}{_where(facts)}{_losing(facts)}, but "
    if least is not None and least > 0:
        return _sentence(f"{said}letting any other tile go {costs(least)} more")
    if facts.tried is not None and facts.tried.games:
        return _sentence(f"{said}no other choice is better by a whole pick, as far as can be told")
    return _sentence(f"{said}letting any other tile go costs no less")


def why_finished(hand: str) -> str:
    """What to say of the tile to let go when the rack is a finished hand."""
    return f"{hand} is finished: there is no tile to let go, show it."


def costs(cost: float) -> str:
    """`costs 4.1 points of odds`, one decimal, never rounded to nothing."""
    if cost <= 0:
        return "costs nothing"
    return "costs under 0.1 points of odds" if cost < 0.0005 else f"costs {100 * cost:.1f} points of odds"


def _no_difference(tried: Tried) -> str:
    """That trying both came to the same, as far as can be told."""
    if not tried.games:
        return "with everything looked at that may come it makes no difference"
    return f"played on {tried.games} times, no difference can be told"


def _need(facts: Facts) -> str:
    """How many of the nearest hands need the kind."""
    nearest, needing = facts.nearest, facts.needing
    needs, need = ("has", "have") if facts.kind == JOKER else ("needs", "need")
    what = {1: "it", 2: "both"}.get(facts.held, f"all {in_words(facts.held)}")
    if facts.kind == JOKER:
        what = f"a place for {what} in a larger group"
    if nearest == 0:
        return "no hand is in reach of the draws to come"
    if nearest == 1:
        return f"the one hand in reach {needs} {what}" if needing else f"the one hand in reach {_not(facts)} {what}"
    if needing == 0:
        return f"none of your {in_words(nearest)} nearest hands {needs} {what}"
    if needing == nearest:
        return f"{'both' if nearest == 2 else 'all ' + in_words(nearest)} of your nearest hands {need} {what}"
    return f"{in_words(needing)} of your {in_words(nearest)} nearest hands {needs if needing == 1 else need} {what}"


def _not(facts: Facts) -> str:
    return "doesn't have" if facts.kind == JOKER else "doesn't need"


def _where(facts: Facts) -> str:
    """Which of the hands need it as a pair or a single."""
    parts = [(facts.as_pair, "as a pair"), (facts.as_single, "as a single")]
    said = []
    for number, what in parts:
        if number:
            who = "" if facts.needing == 1 else "each " if number == facts.needing else f"{in_words(number)} "
            said.append(who + what)
    return f", {' and '.join(said)}, which a joker can't fill" if said else ""


def _beyond(facts: Facts) -> str:
    """Who needs the kind if not the nearest hands."""
    if facts.further == 0:
        return f", but other ways to make a hand use {_them(facts)}"
    return f", but {in_words(facts.further)} further {'hand does' if facts.further == 1 else 'hands do'}"


def _losing(facts: Facts) -> str:
    """The hands that go with it."""
    if not facts.lost:
        return ""
    without = "without it" if facts.held == 1 else "with one fewer"
    who = facts.lost[0] if len(facts.lost) == 1 else f"{in_words(len(facts.lost))} hands"
    return f"; {without} {who} can't be made any more"


def _tiles(facts: Facts) -> str:
    if facts.held == 1:
        return name(facts.kind) if facts.kind < 27 else f"the {name(facts.kind)}"
    plural = f"{name(facts.kind)}s" if facts.kind in (FLOWER, JOKER) else f"{name(facts.kind)} tiles"
    return f"{'both' if facts.held == 2 else 'all ' + in_words(facts.held)} {plural}"


def _the(facts: Facts) -> str:
    return f"{'the' if facts.held == 1 else 'one'} {name(facts.kind)}"


def _one(facts: Facts) -> str:
    return "it" if facts.held == 1 else "one"


def _them(facts: Facts) -> str:
    return {1: "it", 2: "both"}.get(facts.held, f"all {in_words(facts.held)}")


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + "."


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
