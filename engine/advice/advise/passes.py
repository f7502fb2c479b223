"""Advice before play: which three to pass, whether to go on to a second round, how many tiles to exchange across.

Every choice is weighed by what it leaves of the rack, with the tiles that passes bring and the draws of play still to
come. Nothing is sampled, so that the same rack always gets the same advice. Tiles that later passes take are taken to
be tiles to spare.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from engine.advice.advise.answers import Chance, CourtesyAdvice, Known, PassAdvice, RoundAdvice
from engine.advice.advise.contested import LEAST_TURN
from engine.advice.advise.hands import HandReach
from engine.advice.advise.pass_choices import (
    EQUAL,
    best_worth,
    chance_after,
    costs_of,
    draws_of_play,
    in_reach,
    possible_choices,
    ranked,
    weighed,
)
from engine.advice.advise.plan import Plan, plan_of
from engine.advice.advise.reasons import say_aim
from engine.advice.advise.reasons_passes import say_pass, why_ask, why_blind, why_round
from engine.advice.contest import choosing
from engine.advice.contest.choosing import to_come
from engine.advice.contest.contest import contest_of
from engine.advice.moment import USUAL, Moment, Work
from engine.advice.race import Race
from engine.advice.rollout.discards import CLOSE, MOST_CHOICES, better_one
from engine.advice.rollout.passes import try_passes
from engine.advice.rollout.playout import Results
from engine.advice.rollout.race import FEW, Tried, stand
from engine.advice.table import Real, SheetTable
from engine.advice.worth.after_pass import RacksLeft
from engine.advice.worth.worth import SAME
from engine.rules.actions import PASS_TILES, Action, Agree, Ask, Give, Pass, Stop
from engine.rules.house import FULL
from engine.rules.observation import Observation
from engine.rules.state import Phase
from engine.tiles import JOKER, Kind

BLIND_MARGIN = 0.4
"""Tiles are passed on unseen only if that gains more picks. Played out both ways in 400 deals of one sheet and 900 of
another, gains of 0.1 to 0.4 picks of 40 turned out as losses, smaller ones as nothing, larger ones as gains."""


def advise_passes(table: SheetTable, observation: Observation, before: Plan | None = None) -> PassAdvice:
    """Weigh every choice of three tiles from the rack, and passing on unseen ones where that is allowed.

    With the plan `before`, its aim stays while it is nearly as good as any. Raises ValueError when the seat is not to
    choose a pass, or holds no three tiles that may be passed.
    """
    _check(observation, Phase.PASSING)
    return _pass_advice(table, observation, before, _Weighed.of(table, observation), {})


def deepen_passes(
    table: SheetTable, observation: Observation, work: Work = USUAL, before: Plan | None = None
) -> PassAdvice:
    """What `advise_passes` says, with the close choices tried out: the tiles of the passes come in, then the game is
    played to its end. It takes up to a second and says the same each time. Raises StoppedError once `work` is stopped.
    """
    if _turns(observation):
        return advise_passes(table, observation, before)  # rollouts play alone and know nothing of a game among four
    _check(observation, Phase.PASSING)
    here = _Weighed.of(table, observation)
    kinds = here.close(draws_of_play(observation))
    found = _try(table, observation, kinds, work)
    best = better_one(stand(found), 1.0 / max(draws_of_play(observation), 1))
    tried = dict(zip(kinds, stand(found, best), strict=True))
    return _pass_advice(table, observation, before, here, {kinds[best]: tried.pop(kinds[best]), **tried})


@dataclass(frozen=True, eq=False)
class _Weighed:
    """Every choice of three from the rack, what each leaves, and what that is worth."""

    choices: Sequence[tuple[Kind, ...]]
    left: RacksLeft
    worths: Real

    @classmethod
    def of(cls, table: SheetTable, observation: Observation) -> _Weighed:
        """Raises ValueError when fewer than three tiles may be passed."""
        choices = possible_choices(observation, PASS_TILES)
        return cls(choices, *weighed(table, observation, choices, to_come(observation)))

    def close(self, draws: int) -> list[tuple[Kind, ...]]:
        """The choices to try out, best first."""
        costs = costs_of(self.worths, draws)
        order = np.lexsort((np.arange(len(costs)), costs.round(EQUAL))).tolist()
        return [self.choices[place] for place in order if costs[place] < CLOSE][:MOST_CHOICES]


def _pass_advice(
    table: SheetTable,
    observation: Observation,
    before: Plan | None,
    here: _Weighed,
    tried: Mapping[tuple[Kind, ...], Tried],
) -> PassAdvice:
    """The advice; those `tried`, the best one first, cost what that has shown."""
    coming, draws, turns = to_come(observation), draws_of_play(observation), _turns(observation)
    choices, left, worths = here.choices, here.left, here.worths
    rows, hands = in_reach(table, observation, (), coming)
    ordered = ranked(left, choices, costs_of(worths, draws), rows, hands, tried, draws=draws, turns=turns)
    best = ordered[0].kinds
    after = in_reach(table, observation, best, coming)[1]
    least = after[0].odds if after else 0.0
    estimate = Chance(chance_after(table, observation, best, coming), Known.FORECAST)
    if not turns:
        estimate = Chance(max(estimate.share, least), Known.ESTIMATED)
    chance = Chance.played(next(iter(tried.values())), least) if tried else estimate
    plan = plan_after(table, observation, best, coming, before)
    blind, blind_kinds, blind_gain = _blind(table, observation, float(worths.max()))
    blind_plan = plan_after(table, observation, blind_kinds, coming - blind, before) if blind else None
    return PassAdvice(
        draws=coming + draws,
        coming=coming,
        chance=chance,
        plan=plan,
        because=say_pass(plan, best),
        average=sum(choice.picks for choice in ordered) / len(ordered),
        hands=hands,
        after=after,
        choices=ordered,
        blind=blind,
        blind_kinds=blind_kinds,
        blind_picks=blind_gain,
        blind_aim="" if blind_plan is None else say_aim(blind_plan),
        blind_because=why_blind(blind, blind_gain, turns=turns) if _may_be_blind(observation) else "",
        turns=turns,
    )


def plan_after(
    table: SheetTable, observation: Observation, gone: Sequence[Kind], coming: int, before: Plan | None = None
) -> Plan:
    """What the rack is heading for once these tiles have gone, with so many to come by passes."""
    counts = list(observation.counts)
    for kind in gone:
        counts[kind] -= 1
    draws = coming + draws_of_play(observation)
    calls = _turns(observation)
    race = Race.seen(observation, coming) if calls else None
    moment = Moment(table, tuple(counts), observation.unseen, draws, calls=calls, race=race, whole=table)
    return plan_of(moment, before)


def _turns(observation: Observation) -> bool:
    """Whether costs count turns of a full table."""
    return observation.house.table == FULL


def compare_passes(
    table: SheetTable,
    observation: Observation,
    best: tuple[Kind, ...],
    other: tuple[Kind, ...],
    work: Work = USUAL,
) -> Tried:
    """How passing the tiles `other` stands to passing `best`, both tried out."""
    return stand(_try(table, observation, [best, other], work))[1]


def _try(table: SheetTable, observation: Observation, choices: Sequence[tuple[Kind, ...]], work: Work) -> list[Results]:
    coming = to_come(observation)
    batches = [PASS_TILES] * (coming // PASS_TILES) + ([coming % PASS_TILES] if coming % PASS_TILES else [])
    moment = Moment(table, observation.counts, observation.unseen, draws_of_play(observation))
    # with FEW games in the first round it is mostly the only one, which is quicker than two
    return try_passes(moment, choices, batches, work, first=FEW, elsewhere=observation.elsewhere)


def hands_after(table: SheetTable, observation: Observation, kinds: Sequence[Kind]) -> tuple[HandReach, ...]:
    """The hands in reach once these tiles have gone, best odds first, with as many tiles to come as `advise_passes`
    counts on, or `advise_courtesy` once a number is settled."""
    coming = observation.settled if observation.phase is Phase.GIVING else to_come(observation)
    return in_reach(table, observation, kinds, coming)[1]


def advise_second_round(table: SheetTable, observation: Observation, before: Plan | None = None) -> RoundAdvice:
    """Weigh stopping, and exchanging across as well as can be where the house plays the courtesy pass, against going
    on, the first pass of the round chosen as well as can be. Raises ValueError when the seat has no vote to cast."""
    _check(observation, Phase.AGREEING)
    gain = _gain_of_going_on(table, observation)
    _, hands = in_reach(table, observation, (), 0)
    plan, turns = plan_after(table, observation, (), 0, before), _turns(observation)
    said = why_round(plan, gain, observation.house.passes - observation.passes_done, turns=turns)
    return RoundAdvice(draws_of_play(observation), hands, gain > 0, gain, plan, said, turns)


def advise_courtesy(table: SheetTable, observation: Observation, before: Plan | None = None) -> CourtesyAdvice:
    """Weigh exchanging none to three tiles; once a number is settled, which ones to give. Raises ValueError when the
    seat has nothing to ask or give."""
    _check(observation, Phase.ASKING, Phase.GIVING)
    asking = observation.phase is Phase.ASKING
    draws, turns = draws_of_play(observation), _turns(observation)
    worths = _exchanges(table, observation, PASS_TILES)
    costs = tuple(costs_of(np.array(worths), draws).tolist())
    ask = _first_best(worths) if asking else observation.settled
    rows, hands = in_reach(table, observation, (), ask)
    choices = possible_choices(observation, ask)
    left, worth_left = weighed(table, observation, choices, ask)
    in_picks = costs_of(worth_left, draws)
    best_first = ranked(left, choices, in_picks, rows, hands, draws=draws, turns=turns) if ask else ()
    give = best_first[0].kinds if ask else ()
    plan = plan_after(table, observation, give, ask, before)
    because = why_ask(plan, ask, give, costs, turns=turns) if asking else say_pass(plan, give)
    return CourtesyAdvice(draws + ask, hands, ask, give, costs, best_first, plan, because, turns)


def choose_before_play(table: SheetTable, observation: Observation) -> Action:
    """The choice that the advice comes to, without its reasons. Raises ValueError when the seat has none to make."""
    _check(observation, Phase.PASSING, Phase.AGREEING, Phase.ASKING, Phase.GIVING)
    if _turns(observation):
        return choosing.choose_before_play(contest_of(table), observation)
    if observation.phase is Phase.AGREEING:
        return Agree() if _gain_of_going_on(table, observation) > 0 else Stop()
    if observation.phase is Phase.ASKING:
        return Ask(_first_best(_exchanges(table, observation, PASS_TILES)))
    if observation.phase is Phase.GIVING:
        return Give(best_worth(table, observation, observation.settled, observation.settled)[1])
    worth, kinds = best_worth(table, observation, PASS_TILES, to_come(observation))
    blind, blind_kinds, _ = _blind(table, observation, worth)
    return Pass(blind_kinds, blind) if blind else Pass(kinds)


def _check(observation: Observation, *phases: Phase) -> None:
    if observation.phase not in phases or not observation.legal:
        wanted = " or ".join(phase.value for phase in phases)
        raise ValueError(f"this is advice for the seat to act in {wanted}; ask for it when that seat has to choose")


def _gain_of_going_on(table: SheetTable, observation: Observation) -> float:
    """By how many picks a hand comes sooner if the second round is played than if it is stopped."""
    courtesy = observation.house.courtesy
    stop = max(_exchanges(table, observation, PASS_TILES if courtesy else 0))
    coming = to_come(observation)  # the vote done, what is to come is what it is before the next pass
    gain = best_worth(table, observation, PASS_TILES, coming)[0] - stop
    return 0.0 if abs(gain) <= SAME else gain * draws_of_play(observation)


def _exchanges(table: SheetTable, observation: Observation, most: int) -> list[float]:
    """What the rack is worth with none, one and so on exchanged across, the best ones given."""
    held = len(observation.rack) - observation.counts[JOKER]
    return [best_worth(table, observation, number, number)[0] for number in range(min(most, held) + 1)]


def _first_best(worths: Sequence[float]) -> int:
    return max(range(len(worths)), key=lambda number: (round(worths[number], EQUAL), -number))


def _may_be_blind(observation: Observation) -> bool:
    return observation.house.may_be_blind(observation.passes_done)


def _blind(table: SheetTable, observation: Observation, best: float) -> tuple[int, tuple[Kind, ...], float]:
    """How many tiles to pass on unseen, what then goes from the rack, and the gain in picks against the best three
    from the rack, which leave the worth `best`."""
    if not _may_be_blind(observation):
        return 0, (), 0.0
    if _turns(observation):
        return _blind_among_four(table, observation)
    coming = to_come(observation)
    found = [best_worth(table, observation, PASS_TILES - blind, coming - blind) for blind in range(1, PASS_TILES + 1)]
    place = _first_best([worth for worth, _ in found])
    gain = found[place][0] - best
    gain = 0.0 if abs(gain) <= SAME else gain * draws_of_play(observation)
    if gain <= BLIND_MARGIN:
        return 0, (), gain
    return place + 1, found[place][1], gain


def _blind_among_four(table: SheetTable, observation: Observation) -> tuple[int, tuple[Kind, ...], float]:
    """`_blind` in a game among four, as the contest chooses it."""
    contest = contest_of(table)
    worth, _ = choosing.best_gone(contest, observation, PASS_TILES, to_come(observation))
    blind = choosing.best_blind(contest, observation, worth)
    assert blind is not None
    gain = (blind.worth - worth) / max(contest.a_turn(contest.rack(observation)), LEAST_TURN)
    if not blind.gains:
        return 0, (), gain
    return blind.action.blind, blind.action.kinds, gain
