"""The sentences on tiles that go before play: which hands a choice gives up, what it gains, how many to exchange."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from engine.advice.advise.plan import Aim, Plan
from engine.advice.advise.reasons import named_in_aim, say_aim, say_watch, so_many_tiles
from engine.advice.worth.after_pass import NEVER
from engine.tiles import Kind, name, say_tiles
from engine.words import TRIFLE, about_picks, in_words, listed, picks, sentence


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
    picks: float
    """What it costs against the best choice."""
    margin: float | None
    """What the next best choice costs; None where there is no other."""
    tried: bool = False
    """Whether that was found by playing games out."""
    turns: bool = False
    """Whether costs are counted in turns of a full table."""


def why_pass(facts: PassFacts) -> str:
    """Which hands a choice gives up and which it keeps, and what it costs if it isn't the best."""
    if not facts.nearest:
        return "No hand is in reach of the tiles to come."
    said = _taken(facts) if facts.hurt else _spared(facts)
    if facts.picks > 0:
        return f"{said}. It costs {_rough(facts.picks, facts)} against the best choice."
    if facts.hurt and facts.margin is not None:
        if facts.margin >= TRIFLE:
            return f"{said}. Any other choice costs {_rough(facts.margin, facts)} or more."
        return f"{said}. Another choice is {'just' if facts.margin <= 0 else 'almost'} as good."
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


def _rough(cost: float, facts: PassFacts) -> str:
    said = picks(cost, turns=facts.turns)
    return said if facts.tried or said.startswith("under") else f"about {said}"


def say_pass(plan: Plan, kinds: Sequence[Kind]) -> str:
    """The advice for a pass: what the rack is heading for, what the tiles that go serve, and what to look out for among
    those that come in."""
    if not plan.aim:
        return say_aim(plan)
    watch = say_watch(plan) if plan.aim[0].missing > 1 else ""
    return " ".join(part for part in (say_aim(plan), say_serves(plan, kinds), watch) if part)


def say_serves(plan: Plan, kinds: Sequence[Kind]) -> str:
    """Which hands of the plan miss the tiles that go: none, or which tile serves whom. The plan is that of the rack
    without them."""
    targets = named_in_aim(plan)
    used = {kind: [one.hand.name for one in targets if _lacks(one, kind)] for kind in dict.fromkeys(kinds)}
    serving = {kind: names for kind, names in used.items() if names}
    if not serving:
        what = "that tile" if len(kinds) == 1 else "these tiles"
        if any(one.needs[kind] for one in targets for kind in kinds):
            who = "It" if len(targets) == 1 else "Both" if len(targets) == 2 else f"All {in_words(len(targets))}"
            return f"{who} can spare {what}."
        who = "It" if len(targets) == 1 else "Neither" if len(targets) == 2 else "None of them"
        return f"{who} {'has no' if len(targets) == 1 else 'has a'} use for {what}."
    said = [f"the {name(kind)} serves {listed(names)}" for kind, names in serving.items()]
    if len(said) == 1 and len(used) > 1:
        return f"Of these only {said[0]}, but no other choice costs less."
    return f"{sentence(listed(said))}, but no other choice costs less."


def _lacks(one: Aim, kind: Kind) -> bool:
    """Whether a hand lacks tiles of a kind."""
    return any(gap.kind == kind for gap in one.gaps)


def why_blind(number: int, gain: float, *, turns: bool = False) -> str:
    """Whether to pass on tiles unseen; by `gain` picks a hand comes sooner than after the best three from the rack."""
    if number:
        what = "one tile" if number == 1 else f"{in_words(number)} tiles"
        sooner = about_picks(gain, turns=turns)
        return f"Pass on {what} unseen: a hand comes {sooner} sooner than with three from the rack."
    if gain > 0:
        return f"Pass none on unseen: that would gain {about_picks(gain, turns=turns)} at best, too little to count on."
    if gain < 0:
        return f"Pass none on unseen: it would cost {about_picks(-gain, turns=turns)}."
    return "Pass none on unseen: it would gain nothing."


def why_round(plan: Plan, gain: float, passes: int, *, turns: bool = False) -> str:
    """Whether to play the second round, of so many passes, which brings a hand `gain` picks sooner: how far the hand
    aimed for is, the plan, then the figure."""
    more = "one pass more" if passes == 1 else f"{in_words(passes)} passes more"
    verb = "brings" if passes == 1 else "bring"
    vote = "Agree" if gain > 0 else "Stop"
    far = ""
    if plan.shared and plan.shift is None:  # else the plan's own sentence says how far it is
        still = "still" if gain > 0 else "only"
        far = f": {plan.names[0]} {still} needs {so_many_tiles(plan.aim[0].missing)}"
    if gain > 0:
        figure = f"{verb} a hand {about_picks(gain, turns=turns)} sooner"
    else:
        figure = f"would cost {about_picks(-gain, turns=turns)}" if gain < 0 else "would gain nothing"
    return f"{vote}{far}. {say_aim(plan)} {sentence(more)} {figure}."


def why_ask(plan: Plan, number: int, give: Sequence[Kind], costs: Sequence[float], *, turns: bool = False) -> str:
    """How many to ask for in the courtesy pass, the plan once these tiles have gone, what they serve, and what one
    fewer or one more would cost; `costs` of none, one and so on."""
    claims = []
    if number > 0:
        claims.append(f"one fewer costs {_costs(costs[number - 1], turns)}")
    if number + 1 < len(costs):
        claims.append(f"one more costs {_costs(costs[number + 1], turns)}")
    ask = f"Ask for {in_words(number)} and give {say_tiles(give)}." if number else "Ask for none."
    serves = say_serves(plan, give) if give and plan.aim else ""
    figure = f"{sentence(listed(claims))}." if claims else ""
    return " ".join(part for part in (ask, say_aim(plan), serves, figure) if part)


def _costs(cost: float, turns: bool) -> str:
    return about_picks(cost, turns=turns) if cost > 0 else "nothing"
