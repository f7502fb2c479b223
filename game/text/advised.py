"""What advice says in play, as sentences: what to do, the nearest hands, the odds, the others, what choices cost."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from engine import words
from engine.advice.advise.answers import Advice, Known
from engine.advice.advise.calls import CallAdvice, say_ruled_out
from engine.advice.advise.defence import advise_defence
from engine.advice.advise.why_not import why_not_hand
from engine.advice.moment import Moment
from engine.advice.review.review import Review
from engine.rules.actions import Call
from engine.rules.house import QUIET
from engine.rules.matching import hand_of
from engine.rules.observation import Observation
from engine.rules.state import Phase
from engine.rules.twists.known import twist_of
from engine.sheet.model import Hand
from engine.tiles import Kind, name
from game.play.advising import advise_table, choice_before
from game.play.advisor import Advisor
from game.play.costs import Cost, costs_of, dearest, left_open
from game.play.ended import looked_through
from game.play.sitting import Sitting
from game.text.heard import still_to_come
from game.words.costs import cost_sentence
from game.words.odds import chance_note, chance_words, cost_words, draws_to_come, hand_chance, how_likely
from game.words.season.luck import luck_lines, points_lines
from game.words.situation import call_words

NEAREST = 5
COSTLIEST = 3


def what_to_do(advisor: Advisor, sitting: Sitting) -> list[str]:
    """The choice that is advised in a turn or about a discard, and why."""
    if sitting.state.phase is Phase.CALLING:
        return _about_the_discard(advisor.call(sitting.observation, choice_before(sitting)))
    if sitting.wins:
        return [complete(sitting)]
    advice = advise_table(advisor, sitting.observation, choice_before(sitting))
    verdict = advice.verdict
    if verdict is None:
        return ["There is nothing to let go now."]
    said = [f"{verdict.title}. {verdict.because}", *([verdict.price] if verdict.price else [])]
    if advice.warning is not None:
        said.append(f"Mind the others: {lowered(advice.warning)}")
    rest = advice.exchange.choices if advice.exchange is not None else ()
    unweighed = twist_of(sitting.state.house).unweighed
    others = [f"{one.title}? {one.because}" for one in rest if one.action != verdict.action]
    return [*said, *others, *([unweighed] if unweighed else [])]


def complete(sitting: Sitting) -> str:
    """Which hand the player's tiles make, and what to type."""
    made = hand_of(sitting.state, sitting.player)
    return f"Your tiles make {made[0].name if made else 'a hand'}: type “mahjong” to show it."


def hands(advisor: Advisor, sitting: Sitting) -> list[str]:
    """The nearest hands, with their odds and what is still to come."""
    advice = _rack(advisor, sitting)
    return [
        f"{reach.hand.name}, in {reach.hand.section}: {words.count(reach.missing, 'tile')} to come, "
        f"{hand_chance(reach.odds, advice.draws, alone=not advice.turns)}. {still_to_come(reach)}"
        for reach in advice.hands[:NEAREST]
    ] or ["No hand of this sheet can still be made."]


def odds(advisor: Advisor, sitting: Sitting) -> list[str]:
    """The choices tried out: how likely a hand is, and how the others stand to the best one."""
    if sitting.state.phase is Phase.CALLING:
        return _about_the_discard(advisor.deepen_call(sitting.observation, before=choice_before(sitting)))
    advice = advisor.deepen(sitting.observation, before=choice_before(sitting))
    best = advice.let_go
    if advice.chance.known is Known.ESTIMATED or best is None or advice.finished:
        return ["There is nothing to try out now."]
    alone = sitting.state.house.table == QUIET
    chance = chance_words(advice.chance, draws_to_come(advice.draws), alone=alone)
    said = [f"Let the {name(best)} go. {chance}.", words.sentence(chance_note(advice.chance))]
    tried = [keep for keep in advice.keeps if keep.known is not Known.ESTIMATED and keep.kind != best]
    for keep in sorted(tried, key=lambda keep: keep.behind)[:NEAREST]:
        said.append(f"Letting the {name(keep.kind)} go: {cost_words(keep, turns=advice.turns)}.")
    return said


def why(advisor: Advisor, sitting: Sitting, kind: Kind) -> list[str]:
    """The reason for one tile of the rack."""
    return [keep.because for keep in _rack(advisor, sitting).keeps if keep.kind == kind]


def why_hand(advisor: Advisor, sitting: Sitting, hand: Hand) -> list[str]:
    """Why not go for one hand: what it needs, how often it comes, what stands in its way."""
    return [why_not_hand(Moment.seen(advisor.table, sitting.observation), _rack(advisor, sitting), hand)]


def _rack(advisor: Advisor, sitting: Sitting) -> Advice:
    """What is advised about the rack, whatever of it is asked first: the plan of the choice before goes on."""
    return advisor.best(sitting.observation, choice_before(sitting))


def seat(observation: Observation, seat: int) -> list[str]:
    """What one of the others may be after, and which of the player's tiles it could use."""
    shown = next(one for one in advise_defence(observation).seats if one.seat == seat)
    return [
        shown.sentence,
        *(f"{hand.hand.name}: {how_likely(hand.share)}." for hand in shown.hands[:NEAREST]),
        *(risk.because for risk in shown.risks[:NEAREST]),
    ]


def costs(advisor: Advisor, sitting: Sitting, reviewed: Callable[[Review], Iterable[str]] | None = None) -> list[str]:
    """What the choices so far have cost. After the game they are tried out, and it is said what luck did; `reviewed`
    is given the review of a game that has one, and what it says is said too."""
    if sitting.state.phase is not Phase.OVER:
        return _costs(sitting, costs_of(sitting, advisor))
    found = looked_through(sitting, advisor)
    said = [*_costs(sitting, found.costs), *luck_lines(found.review), *points_lines(found.points)]
    return [*said, *reviewed(found.review)] if found.review is not None and reviewed is not None else said


def ways_to_call(calls: Iterable[Call]) -> str:
    """What to type for each of the calls that are open."""
    said = [f"“{lowered(call_words(call))}”" for call in calls]
    return f"Type {words.listed(said, 'or')}."


def lowered(text: str) -> str:
    """The text with a small first letter, to follow a colon."""
    return text[:1].lower() + text[1:]


def _about_the_discard(advice: CallAdvice) -> list[str]:
    lost = next((choice.rules_out for choice in advice.choices if choice.rules_out), ())
    return [
        f"{call_words(advice.best.action)}. {advice.best.because}",
        *(f"{call_words(choice.action)}: {lowered(choice.because)}" for choice in advice.choices[1:]),
        *say_ruled_out(lost[:4]),
    ]


def _costs(sitting: Sitting, found: Iterable[Cost]) -> list[str]:
    """The dearest choices, and how many could not be told apart from the best ones."""
    found = tuple(found)
    worst, unsure = dearest(found), left_open(found)
    said = [cost_sentence(sitting, cost) for cost in worst[:COSTLIEST]]
    if not said:
        said.append("No choice so far has cost you anything that shows.")
    if unsure:
        more = words.sentence(words.count(unsure, "choice"))
        said.append(f"{more} that seemed to cost something can't be told apart from the advised ones.")
    return said
