"""The sentences on calls and joker exchanges: what a call brings, what it spends, what it costs."""

from __future__ import annotations

from dataclasses import dataclass

from engine.advice.advise.hands import HandReach
from engine.advice.advise.plan import Aim, Plan
from engine.advice.advise.reasons import a, say_aim, say_one_away, so_many_tiles
from engine.advice.contest.choosing import TIE
from engine.rules.house import seat_name
from engine.rules.state import Exposure
from engine.sheet.groups import JOKERS_FROM, size_name
from engine.tiles import Kind, name
from engine.words import TRIFLE, about_picks, in_words, listed, picks

MOST_LEFT = 2
"""Hands that a call leaves open are named if there are so many at most."""


@dataclass(frozen=True)
class CallFacts:
    """What is known about one call."""

    laid: Exposure
    lead: Aim | None
    """The hand to go for after it; None if none is left."""
    before: int
    """Tiles that this hand missed at least before the call."""
    left: tuple[str, ...]
    """Hands in reach that it leaves open, best odds first."""
    reach: int
    """Hands in reach before it."""
    aim: str
    """The hand aimed for before, if the call rules it out; else empty."""
    second: str
    """The second string, if the call rules it out; else empty."""
    cost: float = 0.0
    """In turns, against the best choice."""
    margin: float | None = None
    """What the next best choice costs; None if there is none."""
    rough: bool = True
    """Whether costs are estimated."""
    only: bool = False
    """Whether letting go is the only other answer."""
    tie: bool = False
    """Whether letting go is advised since nothing tells this call from it."""
    dead: bool = False
    """Whether no hand of the sheet allows the group exposed."""
    hope: tuple[str, int] | None = None
    """Where `lead` is None, the hand that is nearest all the same, and how many tiles it needs."""


def why_call(facts: CallFacts) -> str:
    """What a call brings nearer, what it spends and rules out, and what it or the next best choice costs."""
    group, kind = size_name(facts.laid.size), name(facts.laid.kind)
    if facts.dead:
        return f"No hand of this sheet allows a {group} of {kind}s exposed: your hand would be dead."
    if facts.lead is None and facts.cost <= 0 and facts.hope is not None:
        hand, missing = facts.hope
        return (
            f"Your own draws are too few for any hand, but calls may still bring {hand}: "
            f"it needs {so_many_tiles(missing)} after the {group}."
        )
    if facts.lead is None:
        return f"After the {group} no hand is near enough for the draws left to you."
    said = [_nearer(facts, facts.lead, group), _spends(facts)]
    if facts.tie:
        said.append("It is worth hardly more than letting it go, and the others see what you collect.")
    elif facts.cost > 0:
        said.append(f"It costs {_cost(facts.cost, facts.rough)}.")
    elif facts.margin is not None and facts.margin >= TRIFLE:
        if facts.only:
            said.append(f"Letting it go costs {_cost(facts.margin, facts.rough)}.")
        else:
            said.append(f"Any other answer costs {_cost(facts.margin, facts.rough)} or more.")
    elif facts.margin is not None:
        said.append(f"{'Letting it go' if facts.only else 'Another answer'} is almost as good.")
    return " ".join(part for part in said if part)


def _nearer(facts: CallFacts, lead: Aim, group: str) -> str:
    hand = lead.hand.name
    callable_ = ", all of which may be called" if lead.missing > 1 and not any(gap.strict for gap in lead.gaps) else ""
    if lead.missing == 1:
        return say_one_away(lead).replace("You are", f"The {group} brings you to", 1)
    if lead.missing < facts.before:
        return f"The {group} brings {hand} from {so_many_tiles(facts.before)} to {in_words(lead.missing)}{callable_}."
    return f"The {group} leaves {hand} at {so_many_tiles(lead.missing)}{callable_}."


def _spends(facts: CallFacts) -> str:
    """The jokers that a call uses and the hands that it rules out."""
    parts = [f"{verb}s {what}" for verb, what in _price(facts)]
    return f"It {listed(parts)}." if parts else ""


def _price(facts: CallFacts) -> list[tuple[str, str]]:
    """The same as verbs and what they act on."""
    parts = []
    if facts.laid.jokers:
        parts.append(("spend", _jokers(facts.laid.jokers)))
    if facts.aim:
        parts.append(("give", f"up {facts.aim}"))
    elif facts.second:
        parts.append(("give", f"up {facts.second} as the second string"))
    open_, out = len(facts.left), facts.reach - len(facts.left)
    if not open_ and out > 1:
        parts.append(("rule", f"out all {in_words(out)} hands now in reach"))
    elif out and 0 < open_ <= MOST_LEFT:
        parts.append(("commit", f"you to {listed(facts.left, 'or')}"))
    elif out and not facts.aim:
        parts.append(("leave", f"{in_words(open_)} of {in_words(facts.reach)} hands open"))
    return parts


def why_let_it_go(
    plan: Plan,
    cost: float,
    margin: float | None,
    lost: str,
    *,
    rough: bool,
    call: CallFacts | None = None,
    nearer: bool = True,
) -> str:
    """Why a discard is let go: the plan goes on, and what the best `call` would spend, rule out and cost; or what
    letting it go costs.

    `lost` says why that call would give up the hand aimed for, if it would. `nearer` says whether it brings that hand
    nearer.
    """
    if cost > 0:
        return f"It costs {_cost(cost, rough)}."
    said = [say_aim(plan)]
    if lost:
        said.append(lost)
    if margin is not None and plan.aim:
        would = [] if nearer or lost else [f"bring {plan.names[0]} no nearer"]
        if call is not None and not lost:
            would += [f"{verb} {what}" for verb, what in _price(call)]
        if margin > TIE:
            would.append(f"cost {_cost(margin, rough)}")
        elif would:
            would.append("be worth hardly more")
        else:
            would += ["be worth hardly more", "show the others what you collect"]
        said.append(f"A call would {listed(would)}.")
    return " ".join(said)


def _jokers(number: int) -> str:
    return "a joker" if number == 1 else f"{in_words(number)} jokers"


def why_out(reach: HandReach, laid: Exposure, *, beside: bool) -> str:
    """Why a call rules a hand out."""
    if reach.hand.concealed:
        return f"{reach.hand.name} is concealed, so nothing of it may be exposed."
    if not reach.variant.total[laid.kind]:
        return f"{reach.hand.name} has no use for {a(laid.kind)}, so a call would give that hand up."
    shown = " beside what you have exposed" if beside else ""
    group = f"{size_name(laid.size)} of {name(laid.kind)}s"
    return f"{reach.hand.name} has no {group}{shown}, so a call would give that hand up."


def why_exchange(
    kind: Kind,
    gain: float,
    *,
    spare: bool,
    finishes: str,
    least: int = JOKERS_FROM,
    turns_to: tuple[str, str] = ("", ""),
    needs: str = "",
    hand: str = "",
    far: bool = False,
    luck: bool = False,
) -> str:
    """Whether to give a tile for a joker, as `exchange_title` names it: `gain` is how many turns sooner a hand comes by
    it, `least` the smallest group in which a joker may stand, `turns_to` the hands aimed for before and after where
    those are two, `needs` the one aimed for now if it uses the tile, `hand` the one then if a joker serves it. `far`
    says that no hand is near enough any more, `luck` that the one aimed for then will take luck."""
    tile = name(kind)
    if finishes:
        return f"The joker makes {finishes}, and that counts as self-drawn."
    fits = f"a joker fits any group of {in_words(least)} or more"
    if far and (spare or gain > 0):
        return "No hand is near enough for the draws left to you, but a joker is safe: nobody can call it."
    if spare:
        return f"You would let the {tile} go anyway, and {fits}."
    if gain > TIE:
        sooner = f": a hand comes {about_picks(gain, turns=True)} sooner"
        if luck and (hand or turns_to[0]):
            sooner = f", though {turns_to[1] or hand} will take luck"
        if turns_to[0]:
            return f"Turn from {turns_to[0]} to {turns_to[1]} with the joker{sooner}."
        return f"The joker serves {hand} better than the {tile}{sooner}." if hand else f"With the joker{sooner[1:]}."
    if gain < -TRIFLE:
        costs = f"taking the joker costs {about_picks(-gain, turns=True)}"
        return f"Keep the {tile}: {needs} needs it, and {costs}." if needs else f"Keep the {tile}: {costs}."
    if turns_to[0]:
        return f"It makes no difference that shows, so keep the {tile} and stay with {turns_to[0]}."
    return f"It costs nothing, and {fits}." if gain > 0 else "It makes no difference."


def say_aim_with_joker(plan: Plan) -> str:
    """What to aim for once a joker has been taken, in one sentence."""
    return say_aim(plan).replace("You are one tile", "The joker brings you to one tile", 1)


def exchange_title(kind: Kind, seat: int, *, own: bool) -> str:
    """`Give the 5 dot for South's joker`."""
    whose = "your own exposed" if own else f"{seat_name(seat).capitalize()}'s"
    return f"Give the {name(kind)} for {whose} joker"


def _cost(cost: float, rough: bool) -> str:
    return about_picks(cost, turns=True) if rough else picks(cost, turns=True)
