"""The passes at the text table: what is asked before play, and what is advised."""

from __future__ import annotations

from engine import words
from engine.advice.advise.answers import Known
from engine.advice.advise.passes import advise_courtesy, advise_second_round
from engine.rules.observation import Observation
from engine.rules.passing import DIRECTIONS
from engine.rules.state import Phase
from engine.tiles import Kind, say_tiles
from game.play.advisor import Advisor
from game.words.odds import chance_note, chance_words, passed_words


def asked(observation: Observation) -> str:
    """What is to be chosen, and how it is typed."""
    came = ""
    if observation.received:
        came = f"There came in {say_tiles(observation.received)}. "
    if observation.phase is Phase.PASSING:
        way = DIRECTIONS[observation.passes_done]
        where = way if way == "across" else f"to the {way}"
        blind = ""
        if observation.house.may_be_blind(observation.passes_done):
            blind = (
                " Up to three of them may be tiles that come in, unseen: “pass 1b blind 2” passes one and two unseen."
            )
        number = observation.passes_done + 1
        return f"{came}Pass {words.in_words(number)}: three tiles go {where}. Type “pass” and three tiles.{blind}"
    if observation.phase is Phase.AGREEING:
        return f"{came}Shall there be a second round of passes? Type “agree” or “stop”."
    if observation.phase is Phase.ASKING:
        return f"{came}How many tiles would you exchange across? Type “ask” and a number from 0 to 3."
    tiles = words.count(observation.settled, "tile")
    return f"{words.sentence(tiles)} go across. Type “give” and {tiles}."


def advised_before(advisor: Advisor, observation: Observation) -> str:
    """What is advised for a choice before play, and why."""
    table = advisor.table
    if observation.phase is Phase.PASSING:
        advice = advisor.passes(observation)
        best = advice.choices[0]
        if advice.blind:
            return f"Pass {_with_unseen(advice.blind_kinds, advice.blind)}. {advice.blind_because}"
        return f"Pass {say_tiles(best.kinds)}. {advice.because}"
    if observation.phase is Phase.AGREEING:
        vote = advise_second_round(table, observation)
        said, _, rest = vote.because.partition(": ")
        return f"{said}. {words.sentence(rest)}"
    courtesy = advise_courtesy(table, observation)
    if observation.phase is Phase.ASKING:
        return courtesy.because
    return f"Give {_tiles(courtesy.give)}. {courtesy.because}"


def tried_before(advisor: Advisor, observation: Observation) -> list[str]:
    """Choices of three tiles tried out: how likely a hand is after the best, and how the next ones stand to it."""
    if observation.phase is not Phase.PASSING or not advisor.effort:
        return ["There is nothing to try out now."]
    advice = advisor.deepen_passes(observation)
    tried = [choice for choice in advice.choices if choice.known is not Known.ESTIMATED]
    best, *others = tried or advice.choices  # nothing is tried out in a game among four
    within = f"the {words.count(advice.draws - advice.coming, 'draw')} of play"
    which = "Of three tiles from the rack, pass" if advice.blind else "Pass"
    said = [f"{which} {say_tiles(best.kinds)}. {chance_words(advice.chance, within)}."]
    said.append(words.sentence(chance_note(advice.chance)))
    said += [f"Passing {say_tiles(choice.kinds)}: {passed_words(choice, turns=advice.turns)}." for choice in others[:4]]
    return said


def _tiles(kinds: tuple[Kind, ...]) -> str:
    return say_tiles(kinds) if kinds else "no tile"


def _with_unseen(kinds: tuple[Kind, ...], unseen: int) -> str:
    """`5 dot and two blind`; `three blind`."""
    blind = f"{words.in_words(unseen)} blind"
    return f"{say_tiles(kinds)} and {blind}" if kinds else blind
