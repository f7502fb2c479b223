"""Whether to call a discard, and which joker to exchange: what the rack is worth after each choice, and what it rules
out.

Worth counts the seat's own draws, its share of the wall, and no later calls; so it is low for all choices alike, and
what counts is the difference between them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from engine.advice.advise.answers import Advice, HandReach
from engine.advice.advise.discard import advise
from engine.advice.moment import Moment
from engine.advice.table import SheetTable
from engine.rules.actions import Action, Call, Exchange, LetGo, Mahjong
from engine.rules.house import SEATS, seat_name
from engine.rules.matching import Laid
from engine.rules.observation import Observation
from engine.rules.state import Exposure, Phase
from engine.sheet.groups import size_name
from engine.sheet.model import Hand
from engine.tiles import JOKER, Kind, name
from engine.words import in_words


@dataclass(frozen=True)
class RuledOut:
    """A hand in reach that a call would rule out, whatever comes."""

    hand: Hand
    odds: float
    """Its odds before the call."""
    missing: int
    """Its tiles still to come before the call."""
    because: str
    """One plain sentence."""


@dataclass(frozen=True)
class CallChoice:
    """One thing that may be done about a discard."""

    action: LetGo | Call | Mahjong
    worth: float
    """What the rack is worth after it and after letting the best tile go; 1 when it wins."""
    gain: float
    """Against letting the discard go."""
    rules_out: tuple[RuledOut, ...]
    """Concealed hands first, then by odds."""
    let_go: Kind | None
    """The best tile to let go afterwards."""
    because: str
    """One plain sentence."""


@dataclass(frozen=True)
class CallAdvice:
    """What may be done about the last discard, best first."""

    kind: Kind
    seat: int
    """Who let it go."""
    worth: float
    """Of the rack as it is."""
    hands: tuple[HandReach, ...]
    """In reach as it is, best odds first."""
    choices: tuple[CallChoice, ...]

    @property
    def best(self) -> CallChoice:
        """The choice of most worth; letting go if no call is worth more."""
        return self.choices[0]

    def of(self, action: Action) -> CallChoice | None:
        """What is said of one action."""
        return next((choice for choice in self.choices if choice.action == action), None)


@dataclass(frozen=True)
class ExchangeChoice:
    """One joker that may be taken for a real tile."""

    action: Exchange
    worth: float
    gain: float
    """Against not exchanging."""
    because: str
    """One plain sentence."""


@dataclass(frozen=True)
class ExchangeAdvice:
    """The joker exchanges that are open now, best first."""

    worth: float
    """Of the rack as it is, after letting the best tile go."""
    choices: tuple[ExchangeChoice, ...]


def advise_call(table: SheetTable, observation: Observation) -> CallAdvice:
    """Advice for a seat that is asked about a discard, against the table of its sheet and number of jokers.

    Raises ValueError when the seat is not asked.
    """
    if observation.phase is not Phase.CALLING or LetGo() not in observation.legal:
        raise ValueError("this seat is asked about no discard; ask for advice when it is")
    last = observation.discards[-1]
    now = advise(Moment.seen(table, observation))
    choices = [_choice(table, observation, action, now) for action in observation.legal if _about_discard(action)]
    order = sorted(choices, key=lambda one: (-one.worth, not isinstance(one.action, LetGo)))
    return CallAdvice(last.kind, last.seat, now.worth, now.hands, tuple(order))


def _about_discard(action: Action) -> bool:
    return isinstance(action, LetGo | Call | Mahjong)


def _choice(table: SheetTable, observation: Observation, action: Action, now: Advice) -> CallChoice:
    kind = observation.discards[-1].kind
    own = observation.exposures[observation.seat]
    if isinstance(action, Mahjong):
        found = observation.hand
        if found is None:
            return CallChoice(action, 0.0, -now.worth, (), None, "This is no hand of the sheet: yours would be dead.")
        return CallChoice(action, 1.0, 1.0 - now.worth, (), None, f"The {name(kind)} finishes {found[0].name}.")
    if not isinstance(action, Call):
        reach = len(now.hands)
        shut = sum(one.hand.concealed for one in now.hands)
        said = f"Your rack stays worth {percent(now.worth)}, with {_hands(reach)} in reach{_of_them(shut, reach)}."
        return CallChoice(LetGo(), now.worth, 0.0, (), None, said)
    laid = Exposure(action.size, kind, action.jokers)
    rack = list(observation.counts)
    rack[kind] -= laid.real - 1
    rack[JOKER] -= laid.jokers
    draws = draws_if_next(observation, observation.seat)
    after = advise(Moment.of(table, rack, observation.unseen, draws, (*own, laid)))
    out = ruled_out(table, now.hands, own, laid)
    return CallChoice(
        action, after.worth, after.worth - now.worth, out, after.let_go, _why_call(laid, now, after, out, table, own)
    )


def draws_if_next(observation: Observation, mover: int) -> int:
    """Draws that the observing seat may still hope for when the next live seat after `mover` draws next."""
    live = [seat for step in (1, 2, 3, 4) if not observation.dead[seat := (mover + step) % len(SEATS)]]
    if observation.seat not in live:
        return 0
    return max(0, -((live.index(observation.seat) - observation.wall_left) // len(live)))


def ruled_out(
    table: SheetTable, hands: Sequence[HandReach], own: Sequence[Exposure], laid: Exposure
) -> tuple[RuledOut, ...]:
    """Of these hands, those that no variant of the sheet makes with `laid` beside the exposures a seat has already."""
    still = {int(hand) for hand in np.unique(table.after((*own, laid)).hand)}
    names = {table.sheet.hands[place].name for place in still}
    out = [
        RuledOut(reach.hand, reach.odds, reach.missing, _why_out(reach, own, laid))
        for reach in hands
        if reach.hand.name not in names
    ]
    return tuple(sorted(out, key=lambda one: (not one.hand.concealed, -one.odds, one.missing)))


def _why_out(reach: HandReach, own: Sequence[Exposure], laid: Exposure) -> str:
    stood = f"it stands at {percent(reach.odds)} with {_tiles(reach.missing)} to come"
    if reach.hand.concealed:
        return f"{reach.hand.name} is concealed, so nothing of it may be exposed; {stood}."
    beside = " beside what you have exposed" if own else ""
    return f"{reach.hand.name} has no {size_name(laid.size)} of {name(laid.kind)}{beside}; {stood}."


def _why_call(
    laid: Exposure,
    now: Advice,
    after: Advice,
    out: Sequence[RuledOut],
    table: SheetTable,
    own: Sequence[Laid],
) -> str:
    group = f"the {size_name(laid.size)}"
    if not len(table.after((*own, laid))):
        return f"No hand of this sheet allows {group} of {name(laid.kind)} exposed: your hand would be dead."
    better = after.worth > now.worth
    verb = "brings your rack" if better else "would bring your rack down"
    said = f"{group} {verb} from {percent(now.worth)} to {percent(after.worth)}"
    if percent(now.worth) == percent(after.worth):
        said = f"{group} leaves your rack worth {percent(after.worth)}, {'a little more' if better else 'no more'}"
        said += " than it is"
    if not out:
        return _sentence(f"{said} and rules out no hand in reach")
    shut = sum(one.hand.concealed for one in out)
    said += f"; it rules out {in_words(len(out))} of {_hands(len(now.hands))} in reach{_of_them(shut, len(out))}"
    return _sentence(said)


def _of_them(shut: int, all_of: int) -> str:
    if not shut:
        return ""
    if shut == all_of:
        return ", concealed" if shut == 1 else ", all of them concealed"
    return f", {in_words(shut)} of them concealed"


def _hands(number: int) -> str:
    return f"{in_words(number)} hand{'' if number == 1 else 's'}"


def _tiles(number: int) -> str:
    return f"{in_words(number)} tile{'' if number == 1 else 's'}"


def advise_exchange(table: SheetTable, observation: Observation) -> ExchangeAdvice:
    """Every joker exchange that is open in the seat's own turn, and what it gains.

    Raises ValueError when it is not the seat's turn.
    """
    if observation.phase is not Phase.TURN or observation.to_act != observation.seat:
        raise ValueError("it is not this seat's turn; jokers are exchanged in one's own turn only")
    moment = Moment.seen(table, observation)
    now = advise(moment)
    choices = []
    for action in observation.legal:
        if isinstance(action, Exchange):
            after = advise(moment.swapped(action.kind))
            gain = after.worth - now.worth
            choices.append(ExchangeChoice(action, after.worth, gain, _why_exchange(observation, action, now, after)))
    order = sorted(choices, key=lambda one: -one.worth)
    return ExchangeAdvice(now.worth, tuple(order))


def _why_exchange(observation: Observation, action: Exchange, now: Advice, after: Advice) -> str:
    whose = "your own" if action.seat == observation.seat else f"{seat_name(action.seat).capitalize()}'s"
    what = f"The {name(action.kind)} for the joker in {whose} exposure"
    if after.hands and after.hands[0].missing == 0 and not (now.hands and now.hands[0].missing == 0):
        return f"{what} finishes {after.hands[0].hand.name}, and counts as self-drawn."
    before, then = percent(now.worth), percent(after.worth)
    if before == then:
        return f"{what} leaves your rack worth {then}."
    verb = "brings your rack" if after.worth > now.worth else "would bring your rack down"
    return f"{what} {verb} from {before} to {then}."


def percent(probability: float) -> str:
    """`12%`; never 0% or 100% of what is merely unlikely or likely."""
    if 0.0 < probability < 0.005:
        return "under 1%"
    return "over 99%" if 0.995 < probability < 1.0 else f"{probability:.0%}"


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + "."
