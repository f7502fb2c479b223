"""The passes at the text table: what is asked before play, and what is advised."""

from __future__ import annotations

from engine import words
from engine.advice.advise.answers import Known, PassAdvice, RoundAdvice
from engine.rules.observation import Observation
from engine.rules.passing import DIRECTIONS
from engine.rules.state import Phase
from engine.tiles import Kind, say_tiles
from game.play.advising import choice_before
from game.play.advisor import Advisor
from game.play.sitting import Sitting
from game.words.actions import with_blind
from game.words.odds import average_words, chance_note, chance_words, passed_words


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


def advised_before(advisor: Advisor, sitting: Sitting) -> str:
    """What is advised for a choice before play, and why."""
    advice = advisor.before_play(sitting.observation, choice_before(sitting))
    if isinstance(advice, PassAdvice):
        if advice.blind:
            what = with_blind(advice.blind_kinds, advice.blind)
            return f"Pass {what}. {advice.blind_aim} {advice.blind_because}"
        return f"Pass {say_tiles(advice.choices[0].kinds)}. {advice.because}"
    if isinstance(advice, RoundAdvice) or sitting.state.phase is Phase.ASKING:
        return advice.because
    return f"Give {_tiles(advice.give)}. {advice.because}"


def tried_before(advisor: Advisor, sitting: Sitting) -> list[str]:
    """Choices of three tiles tried out: how likely a hand is after the best, and how the next ones stand to it."""
    if sitting.state.phase is not Phase.PASSING or not advisor.effort:
        return ["There is nothing to try out now."]
    advice = advisor.deepen_passes(sitting.observation, before=choice_before(sitting))
    tried = [choice for choice in advice.choices if choice.known is not Known.ESTIMATED]
    best, *others = tried or advice.choices  # nothing is tried out in a game among four
    within = f"the {words.count(advice.draws - advice.coming, 'draw')} of play"
    which = "Of three tiles from the rack, pass" if advice.blind else "Pass"
    said = [f"{which} {say_tiles(best.kinds)}. {chance_words(advice.chance, within)}."]
    said.append(words.sentence(chance_note(advice.chance)))
    said += [f"Passing {say_tiles(choice.kinds)}: {passed_words(choice, turns=advice.turns)}." for choice in others[:4]]
    return [*said, average_words(advice)]


def _tiles(kinds: tuple[Kind, ...]) -> str:
    return say_tiles(kinds) if kinds else "no tile"
