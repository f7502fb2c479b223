"""What a rehearsal of the passes comes to: what the player holds, and what the advised line would have held."""

from __future__ import annotations

from dataclasses import dataclass, replace

from engine.advice.advise.answers import Advice
from engine.advice.advise.passes import advise_courtesy, advise_passes, advise_second_round
from engine.rules.actions import Action, Agree, Ask, Give, Pass, Stop
from engine.rules.house import QUIET, House
from engine.rules.observation import Observation, observe
from engine.rules.passing import BEFORE_PLAY
from engine.rules.state import Phase
from engine.tiles import Kind
from game.play.advisor import Advisor
from game.play.sitting import SeatPlayer, Sitting


@dataclass(frozen=True)
class Held:
    """What a line holds once the passes are done."""

    rack: tuple[Kind, ...]
    advice: Advice


def advised(advisor: Advisor, observation: Observation) -> Action:
    """What the advice does at a choice before play."""
    table = advisor.table
    if observation.phase is Phase.PASSING:
        advice = advise_passes(table, observation)
        return Pass(advice.blind_kinds, advice.blind) if advice.blind else Pass(advice.choices[0].kinds)
    if observation.phase is Phase.AGREEING:
        return Agree() if advise_second_round(table, observation).agree else Stop()
    courtesy = advise_courtesy(table, observation)
    return Ask(courtesy.ask) if observation.phase is Phase.ASKING else Give(courtesy.give)


def advised_line(sitting: Sitting, advisor: Advisor, others: SeatPlayer | None) -> Sitting:
    """The same deal with every choice before play as advised; the other seats choose as they would have."""
    line = Sitting(sitting.states[0], others=others)
    while line.state.phase in BEFORE_PLAY:
        line.act(advised(advisor, line.observation))
    return line


def held(sitting: Sitting, advisor: Advisor) -> Held:
    """What the player holds at the first moment of play, or at the latest moment if play hasn't begun."""
    for state in sitting.states:
        if state.phase not in BEFORE_PLAY:
            break
    observation = observe(state, sitting.player)
    return Held(observation.rack, advisor.advise(observation))


def rehearsal_house(house: House) -> House:
    """House rules for a rehearsal: the player's, at a quiet table, with the passes."""
    return replace(house, table=QUIET, passes=house.passes or 6, courtesy=house.courtesy or not house.passes)
