"""Whether to call a discard, and which joker to exchange: what each choice costs in turns, and what it rules out.

Figures count the seat's own draws, its share of the wall, and no later calls.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from engine.advice.advise.answers import Advice, Chance, Costed, Known
from engine.advice.advise.contested import Contested
from engine.advice.advise.discard import advise
from engine.advice.advise.hands import HandReach
from engine.advice.advise.plan import NEVER, Plan, least_missing
from engine.advice.advise.reasons_calls import (
    CallFacts,
    why_call,
    why_let_it_go,
    why_out,
)
from engine.advice.contest.choosing import TIE, calls_that_go_on, too_soon
from engine.advice.moment import USUAL, Moment, Work
from engine.advice.race import Race
from engine.advice.rollout.calls import try_answers
from engine.advice.rollout.discards import PICKS, better_one
from engine.advice.rollout.race import Contrast, Tried
from engine.advice.table import SheetTable
from engine.advice.worth.worth import SAME
from engine.rules.actions import Action, Call, LetGo, Mahjong
from engine.rules.house import SEATS
from engine.rules.observation import Observation
from engine.rules.state import Exposure, Phase
from engine.sheet.model import Hand
from engine.tiles import JOKER, Kind, name
from engine.words import listed

MANY_CONCEALED = 2
"""So many concealed hands or more are named in one sentence."""


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
class CallChoice(Costed):
    """One thing that may be done about a discard."""

    action: LetGo | Call | Mahjong
    picks: float
    """How many turns later a hand comes on average than after the best choice; 0 where no difference can be told."""
    chance: Chance
    """Of a hand after it, out of the seat's own draws."""
    rules_out: tuple[RuledOut, ...]
    """Concealed hands first, then by odds."""
    let_go: Kind | None
    """The best tile to let go afterwards."""
    because: str
    """Three short sentences at most."""
    dead: bool = False
    """Whether no hand would be left."""
    plan: Plan | None = None
    """What to go for after it."""


@dataclass(frozen=True)
class CallAdvice:
    """What may be done about the last discard, best first."""

    kind: Kind
    seat: int
    """Who let it go."""
    chance: Chance
    """Of a hand with the rack as it is."""
    plan: Plan
    """With the rack as it is."""
    hands: tuple[HandReach, ...]
    """In reach as it is, best odds first."""
    choices: tuple[CallChoice, ...]
    turns: bool = True

    @property
    def best(self) -> CallChoice:
        """The choice that is advised; letting go if no call is better."""
        return self.choices[0]

    def of(self, action: Action) -> CallChoice | None:
        """What is said of one action."""
        return next((choice for choice in self.choices if choice.action == action), None)


@dataclass(frozen=True)
class _Answer:
    """One answer to a discard, worked out."""

    action: LetGo | Call
    moment: Moment
    """With 13 tiles, the best one having gone after a call."""
    advice: Advice
    needed: float
    """Turns from now until a hand on average, estimated; where none comes, the turn after the last."""
    out: tuple[RuledOut, ...] = ()
    let_go: Kind | None = None
    laid: Exposure | None = None


def advise_call(table: SheetTable, observation: Observation, before: Plan | None = None) -> CallAdvice:
    """Advice for a seat that is asked about a discard, against the table of its sheet and number of jokers.

    Raises ValueError when the seat is not asked.
    """
    return _advice(table, observation, before, None)


def deepen_call(
    table: SheetTable, observation: Observation, work: Work = USUAL, before: Plan | None = None
) -> CallAdvice:
    """What `advise_call` says, the answers tried out by rollouts. Raises StoppedError once `work` is stopped."""
    return _advice(table, observation, before, work)


def _advice(table: SheetTable, observation: Observation, before: Plan | None, work: Work | None) -> CallAdvice:
    if observation.phase is not Phase.CALLING or LetGo() not in observation.legal:
        raise ValueError("this seat is asked about no discard; ask for advice when it is")
    last = observation.discards[-1]
    now = advise(Moment.seen(table, observation), before, helps=False)
    claim = Mahjong() in observation.legal
    if claim:
        found = observation.hand
        if found is not None:
            said = f"The {name(last.kind)} makes {found[0].name}: call it for mahjong."
            win = CallChoice(Mahjong(), 0.0, Chance(1.0, Known.EXACT), (), None, said)
            rest = _choices(table, observation, now, None)
            worse = [replace(one, picks=max(one.picks, 1.0), because="It gives the mahjong away.") for one in rest]
            return CallAdvice(last.kind, last.seat, now.chance, now.plan, now.hands, (win, *worse))
    choices = _choices(table, observation, now, work)
    if claim:
        said = "This is no hand of the sheet: yours would be dead."
        never = observation.picks_left + 1.0
        choices = (*choices, CallChoice(Mahjong(), never, Chance(0.0, Known.EXACT), (), None, said, dead=True))
    return CallAdvice(last.kind, last.seat, now.chance, now.plan, now.hands, choices)


def _choices(table: SheetTable, observation: Observation, now: Advice, work: Work | None) -> tuple[CallChoice, ...]:
    """Letting go and every call after which the game goes on, best first; of equal ones letting go first."""
    answers = [_let_go(table, observation, now)]
    answers += [_called(table, observation, action, now) for action in calls_that_go_on(observation)]
    alive = [one for one in answers if one.laid is None or len(one.moment.table)]
    alive.sort(key=lambda one: (round(one.needed, 9), one.laid is not None))
    draws = max(alive[0].moment.draws, 1)
    costs = {id(one): one.needed - alive[0].needed for one in alive}
    tie = _open_first(alive, costs, TIE)
    tried: dict[int, Tried] = {}
    if now.contested is not None:
        work = None  # rollouts play alone: they know nothing of a game among four
    if work is not None and work.effort and len(alive) > 1 and max(one.moment.draws for one in alive):
        draws = max(one.moment.draws for one in alive)
        found = try_answers([one.moment for one in alive], work)
        best = better_one(found, PICKS / draws)
        if best:
            found = try_answers([alive[best].moment, *(one.moment for one in alive if one is not alive[best])], work)
            alive.insert(0, alive.pop(best))
        tried = {id(one): result for one, result in zip(alive, found, strict=True)}
        for one in alive:
            result = tried[id(one)]
            costs[id(one)] = result.behind * draws if result.contrast(np.inf) is Contrast.WORSE else 0.0
        first = alive[0]
        alive.sort(key=lambda one: (one is not first, costs[id(one)]))
        tie = _open_first(alive, costs, 0.0)
    choices = [_choice(one, alive, costs, tried.get(id(one)), draws, now, answers[0].moment, tie) for one in alive]
    dead = [_dead(one, observation) for one in answers if one not in alive]
    return (*choices, *dead)


def _open_first(alive: list[_Answer], costs: dict[int, float], most: float) -> frozenset[int]:
    """Put letting go first where it costs no more than `most`, since it keeps the hand open; then it costs nothing.
    Gives the calls that can't be told from it."""
    let_go = next(one for one in alive if one.laid is None)
    if costs[id(let_go)] > most:
        return frozenset()
    level = costs[id(let_go)] + SAME
    ties = frozenset(id(one) for one in alive if one is not let_go and costs[id(one)] <= level)
    alive.remove(let_go)
    alive.insert(0, let_go)
    for one in alive:
        costs[id(one)] = max(costs[id(one)] - costs[id(let_go)], 0.0) if one is not let_go else 0.0
    return ties


def _let_go(table: SheetTable, observation: Observation, now: Advice) -> _Answer:
    moment = Moment.seen(table, observation)
    return _Answer(LetGo(), moment, now, now.needed)


def _called(table: SheetTable, observation: Observation, action: Call, now: Advice) -> _Answer:
    """A call, and the best tile to let go after it. Its first draw comes later than after letting go if the seat would
    have drawn next; the turns that pass meanwhile are added."""
    own = observation.exposures[observation.seat]
    kind = observation.discards[-1].kind
    laid = Exposure(action.size, kind, action.jokers)
    rack = list(observation.counts)
    rack[kind] -= laid.real - 1
    rack[JOKER] -= laid.jokers
    draws = draws_if_next(observation, observation.seat)
    race = None if now.contested is None else replace(Race.seen(observation), ahead=0.0)
    moment = Moment.of(table, rack, observation.unseen, draws, (*own, laid), calls=True, race=race)
    after = advise(moment, helps=False)
    out = ruled_out(table, now.hands, own, laid)
    rest = moment if after.let_go is None else moment.without(after.let_go)
    needed = after.needed + observation.picks_left - draws
    if now.contested is not None and after.contested is not None:
        margin = now.contested.contest.tuning.call_margin
        left = after.contested.keeps[after.contested.fastest] / margin
        lost = _turns_lost(now.contested, left)
        needed = now.needed + (max(lost, 0.0) if too_soon(now.contested.contest, observation, action) else lost)
    return _Answer(action, rest, after, needed, out, after.let_go, laid)


def _turns_lost(now: Contested, worth: float) -> float:
    """How many turns it costs to be left with this worth, against letting the discard go."""
    return now.turns(now.worth() - worth, now.contest.a_turn(now.rack))


def _choice(
    one: _Answer,
    alive: Sequence[_Answer],
    costs: dict[int, float],
    tried: Tried | None,
    draws: int,
    now: Advice,
    as_it_is: Moment,
    ties: frozenset[int],
) -> CallChoice:
    cost = max(costs[id(one)], 0.0)
    least = one.advice.hands[0].odds if one.advice.hands else 0.0
    chance = one.advice.chance if tried is None else Chance.played(tried, least)
    others = [max(costs[id(other)], 0.0) for other in alive if other is not one]
    margin = min(others, default=None)
    rough = tried is None
    if one.laid is None:
        first_call = next((other for other in alive if other.laid is not None), None)
        lost = next((out for out in first_call.out if _leads(out, now)), None) if first_call is not None else None
        said = why_let_it_go(
            now.plan,
            cost,
            margin,
            lost.because if lost is not None else "",
            rough=rough,
            call=None if first_call is None else _facts(first_call, now, as_it_is),
            nearer=first_call is None or _nearer(first_call, now, as_it_is),
        )
    else:
        facts = replace(
            _facts(one, now, as_it_is),
            cost=cost,
            margin=margin,
            rough=rough,
            only=len(others) == 1,
            tie=id(one) in ties,
        )
        said = why_call(facts)
    choice = CallChoice(one.action, cost, chance, one.out, one.let_go, said, plan=one.advice.plan)
    if tried is None:
        return choice
    known = Known.PLAYED if tried.games else Known.EXACT
    return replace(choice, known=known, half=tried.half * draws, games=tried.games)


def _facts(call: _Answer, now: Advice, as_it_is: Moment) -> CallFacts:
    """What a call lays, where it leads and what it rules out; its cost is left out."""
    assert call.laid is not None
    lead = call.advice.plan.aim[0] if call.advice.plan.aim else None
    out = {ruled.hand.name for ruled in call.out}
    second = now.plan.second.hand.name if now.plan.second is not None else ""
    return CallFacts(
        call.laid,
        lead,
        least_missing(as_it_is, lead.hand) if lead else 0,
        tuple(reach.hand.name for reach in now.hands if reach.hand.name not in out),
        len(now.hands),
        now.plan.names[0] if any(_leads(ruled, now) for ruled in call.out) else "",
        second if second in out else "",
        hope=_hope(call.moment) if lead is None else None,
    )


def _hope(moment: Moment) -> tuple[str, int] | None:
    """The hand that needs fewest tiles, however few draws are left, and how many it needs; None if none can be made."""
    hands = [moment.table.sheet.hands[int(place)] for place in np.unique(moment.table.hand)]
    missing, name_ = min(((least_missing(moment, hand), hand.name) for hand in hands), default=(NEVER, ""))
    return (name_, missing) if missing < NEVER else None


def _nearer(call: _Answer, now: Advice, as_it_is: Moment) -> bool:
    """Whether a call brings the hand that the plan aims for nearer; so, too, where it turns to another hand."""
    aim = call.advice.plan.aim
    if not aim or not now.plan.aim or aim[0].hand.name != now.plan.names[0]:
        return True
    return least_missing(call.moment, aim[0].hand) < least_missing(as_it_is, aim[0].hand)


def _leads(out: RuledOut, now: Advice) -> bool:
    """Whether it is the hand that the plan aims for first."""
    return bool(now.plan.aim) and out.hand.name == now.plan.names[0]


def _dead(one: _Answer, observation: Observation) -> CallChoice:
    assert one.laid is not None
    facts = CallFacts(one.laid, None, 0, (), len(one.out), "", "", dead=True)
    draws = observation.picks_left + 1.0
    return CallChoice(one.action, draws, Chance(0.0, Known.EXACT), one.out, one.let_go, why_call(facts), dead=True)


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
        RuledOut(reach.hand, reach.odds, reach.missing, why_out(reach, laid, beside=bool(own)))
        for reach in hands
        if reach.hand.name not in names
    ]
    return tuple(sorted(out, key=lambda one: (not one.hand.concealed, -one.odds, one.missing)))


def say_ruled_out(out: Sequence[RuledOut]) -> list[str]:
    """Which hands a call rules out and why; the concealed ones, for which the reason is the same, in one sentence."""
    concealed = [one.hand.name for one in out if one.hand.concealed]
    if len(concealed) < MANY_CONCEALED:
        return [one.because for one in out]
    said = f"{listed(concealed)} are concealed, so nothing of them may be exposed."
    return [said, *(one.because for one in out if not one.hand.concealed)]
