"""The sentences on each tile of a rack: who needs it, in what place, what is left of it, what letting it go costs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from engine.advice.advise.plan import Aim
from engine.advice.advise.reasons import no_joker, where
from engine.sheet.groups import JOKERS_FROM
from engine.tiles import JOKER, Kind, name
from engine.words import TRIFLE, about_picks, in_words, listed, picks

NEAREST = 5
"""A sentence about a tile looks at so many hands."""
MOST_NAMED = 2
"""Hands that one sentence names at most."""


@dataclass(frozen=True)
class TileFacts:
    """What is known about letting one tile of a kind go."""

    kind: Kind
    held: int
    named: tuple[Aim, ...]
    """The hands aimed for, the second string, then the likeliest others: five at most."""
    further: tuple[str, ...]
    """Hands beyond those that use every copy held."""
    other_way: str
    """The hand nearest by a way that uses every copy held, where no hand's best way does; else empty."""
    unseen: int
    """Copies still to come."""
    lost: tuple[str, ...]
    """Hands in reach that could not be made any more."""
    picks: float
    """What it costs; 0 where it makes no difference that could be told."""
    games: int | None
    """Rollouts of it; 0 after an exact search, None while it is estimated."""
    turns: bool
    """Whether costs are counted in turns of a full table."""
    feared: bool = False
    """Whether most of the cost is what another seat may do with it."""


def why_keep(facts: TileFacts) -> str:
    """Why a tile that is not the best one to let go should stay; or that it could go as well."""
    users = [one for one in facts.named if one.uses(facts.kind, facts.held)]
    if facts.picks <= 0:
        return f"{_one_of(facts)} could go as well: {_no_difference(facts, users)}."
    if facts.picks < TRIFLE:
        needs = _but(facts, users)
        return f"{_one_of(facts)} could go almost as well: {needs}it costs {picks(facts.picks, turns=facts.turns)}."
    who = f"{_who(facts, users)}{_role(facts, users)}{_left(facts, users)}"
    if facts.feared:
        who = f"another seat may be waiting for {'it' if facts.held == 1 else 'one'}"
    said = f"Keep {_all_of(facts)}: {who}."
    return f"{said} Letting {'it' if facts.held == 1 else 'one'} go costs {about(facts)}{_losing(facts)}."


def _who(facts: TileFacts, users: Sequence[Aim]) -> str:
    """Who needs the tile."""
    what = {1: "it", 2: "both"}.get(facts.held, f"all {in_words(facts.held)}")
    if facts.kind == JOKER:
        if not users:
            return f"jokers fill any group of {in_words(_jokers_from(facts.named))} or more"
        return f"{_named(users)} {_verb(users, 'has', 'have')} room for {what} in larger groups"
    if users:
        return f"{_named(users)} {_verb(users, 'needs', 'need')} {what}"
    if facts.further:
        others = " does" if len(facts.further) == 1 else " and others further off do"
        return f"no hand near you needs {what}, but {facts.further[0]}{others}"
    if facts.other_way:
        return f"another way to make {facts.other_way} needs {what}"
    return f"no hand in reach needs {what} now"


def _jokers_from(aims: Sequence[Aim]) -> int:
    """The smallest group of the deal in which a joker may stand."""
    return aims[0].hand.variants[0].groups[0].jokers_from if aims else JOKERS_FROM


def _named(users: Sequence[Aim]) -> str:
    names = [one.hand.name for one in users]
    if len(names) > MOST_NAMED:
        return f"{names[0]} and {in_words(len(names) - 1)} more of your nearest hands"
    return listed(names)


def _verb(users: Sequence[Aim], one: str, more: str) -> str:
    return one if len(users) == 1 else more


def _role(facts: TileFacts, users: Sequence[Aim]) -> str:
    """Whether the first hand needs it where no joker may stand."""
    if facts.kind == JOKER or not users or users[0].strict[facts.kind] < facts.held:
        return ""
    first = users[0]
    in_pung = first.strict[facts.kind] >= JOKERS_FROM and _jokers_from(users) > JOKERS_FROM
    what = where(JOKERS_FROM if in_pung else 2 if facts.kind in first.pairs else 1, facts.held)
    who = f", {users[0].hand.name}" if len(users) > 1 else ""
    return f"{who} {what}{no_joker(first)}"


def _left(facts: TileFacts, users: Sequence[Aim]) -> str:
    if facts.kind == JOKER or not users or facts.unseen > 1:
        return ""
    return "; no other is left to come" if facts.unseen == 0 else "; only one more can come"


def _losing(facts: TileFacts) -> str:
    """The hands that go with it."""
    if not facts.lost:
        return ""
    who = facts.lost[0] if len(facts.lost) == 1 else f"{in_words(len(facts.lost))} hands in reach"
    return f", and {who} could no longer be made"


def _no_difference(facts: TileFacts, users: Sequence[Aim]) -> str:
    needs = _but(facts, users)
    if facts.kind == JOKER and facts.named and not facts.named[0].room:
        needs = f"{facts.named[0].hand.name} lacks nothing that it may stand for, and "
    if facts.games:
        return f"{needs}in {facts.games} games played out no difference showed"
    return f"{needs}it makes no difference"


def _but(facts: TileFacts, users: Sequence[Aim]) -> str:
    """Who needs a tile that may go all the same."""
    return f"{_named(users)} {_verb(users, 'needs', 'need')} it, but " if users and facts.kind != JOKER else ""


def about(facts: TileFacts) -> str:
    """What it costs, and whether that is rough: `about 2.4 picks`."""
    return about_picks(facts.picks, turns=facts.turns) if facts.games is None else picks(facts.picks, turns=facts.turns)


def why_finished(hand: str) -> str:
    """What to say of a rack that is a finished hand."""
    return f"This is {hand}. Show it for mahjong."


def _one_of(facts: TileFacts) -> str:
    return f"{'The' if facts.held == 1 else 'One'} {name(facts.kind)}"


def _all_of(facts: TileFacts) -> str:
    if facts.held == 1:
        return f"the {name(facts.kind)}"
    return f"{'both' if facts.held == 2 else 'all ' + in_words(facts.held)} {name(facts.kind)}s"
