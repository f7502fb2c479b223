"""Why the seat that is looked at over the shoulder does what it does: the advice, said of that seat by its name."""

from __future__ import annotations

import re

from engine import words
from engine.advice.advise.answers import CourtesyAdvice, PassAdvice, RoundAdvice
from engine.advice.advise.defence import WORTH_A_WARNING
from engine.advice.advise.exchanges import ExchangeChoice
from engine.advice.advise.reasons import say_plan
from engine.drills.follow import FollowJudged, FollowTask
from engine.rules.actions import Action, Ask, Discard, Give, Pass, Stop
from engine.rules.house import FULL
from engine.rules.observation import Observation
from engine.tiles import name
from game.play.practice.following import Aside
from game.words.actions import say_seat
from game.words.practice.moments import PRAISE, action_words, does_words, price_words

START = r"(^|(?<=[.:] ))"
OF_A_SEAT = (
    (rf"{START}You are ", "{who} is "),
    (rf"{START}You would ", "{who} would "),
    (rf"{START}Go for ", "{who} goes for "),
    (rf"{START}Stay (open|with) ", r"{who} stays \2 "),
    (rf"{START}Turn from ", "{who} turns from "),
    (rf"{START}Watch for ", "{who} watches for "),
    (r"(If anyone lets .+? go), call it ", r"\1, {who} calls it "),
    (r"\bwhat you collect\b", "what it collects"),
    (r"\bleft to you\b", "left to it"),
    (r"\bcommits you to\b", "commits {who} to"),
    (r"\bcommit you to\b", "commit {who} to"),
    (r"\bbrings you to\b", "brings {who} to"),
    (r"\bnear you\b", "near it"),
    (r"\byou have\b", "it has"),
    (r"\byour own\b", "its own"),
    (r"\byour\b", "its"),
    (r"\bYour\b", "Its"),
)
"""How a sentence that speaks to a player is said of a seat."""


def of_seat(said: str, seat: int) -> str:
    """Advice that speaks to a player, said of a seat: `East goes for Handrail: both use its flowers.`"""
    for pattern, instead in OF_A_SEAT:
        said = re.sub(pattern, instead.format(who=say_seat(seat)), said)
    return said


def does_because(task: FollowTask, judged: FollowJudged) -> str:
    """Why the seat does so, with the figures of the advice."""
    return of_seat(_reason(task, judged), task.seen.seat)


def _reason(task: FollowTask, judged: FollowJudged) -> str:
    turns = task.seen.house.table == FULL
    if judged.call is not None:
        own = judged.call.of(task.does)
        if own is None or task.does == judged.advised:
            return judged.call.best.because
        other = f"“{action_words(judged.advised)}”"
        if judged.does_price.cost < words.TRIFLE:
            return f"By the advice it is as good as {other}. {own.because}"
        price = words.picks(judged.does_price.cost, turns=turns)
        return f"By the advice {other} is about {price} better. {judged.call.best.because}"
    if task.does == judged.advised:
        return judged.rack.because
    assert isinstance(task.does, Discard)
    assert isinstance(judged.advised, Discard)
    faster = name(judged.advised.kind)
    cost = words.picks(judged.does_price.cost, turns=turns)
    worth = f"costs about {cost}" if judged.does_price.cost >= words.TRIFLE else "costs nothing more"
    share, safer = task.defence.share(judged.advised.kind), task.defence.share(task.does.kind)
    if share >= WORTH_A_WARNING and safer < share:
        seat = say_seat(task.defence.most_at_risk(judged.advised.kind))
        return f"It is the safer tile: {seat} may be able to use the {faster}. All in all it {worth}."
    if judged.does_price.cost < words.TRIFLE and task.plan is not None:
        return say_plan(task.plan, task.does.kind, task.seen.counts[task.does.kind], judged.does_price.cost)
    return f"The advice would let the {faster} go, but the {name(task.does.kind)} {worth}. {judged.rack.because}"


def follow_told(task: FollowTask, judged: FollowJudged) -> list[str]:
    """How good the choice was, what the seat does, and why."""
    turns = task.seen.house.table == FULL
    said = [PRAISE[judged.grade]]
    if judged.chosen != task.does:
        costs = price_words(judged.price, turns=turns)
        if isinstance(judged.chosen, Discard):
            said.append(f"Letting the {name(judged.chosen.kind)} go {costs}.")
        else:
            said.append(f"“{action_words(judged.chosen)}” {costs}.")
        if judged.feeds is not None and isinstance(judged.chosen, Discard):
            said.append(f"{say_seat(judged.feeds)} may be able to use it.")
    return [*said, f"{does_words(task.seen, task.does)} {does_because(task, judged)}"]


DONE = re.compile(r"\A(?:(?:Agree|Stop)[:.] |Ask for [^.]+\. |Pass [^:.]+: )")
"""What the advice would do, where its reason begins with that."""


def aside_because(seen: Observation, does: Action, advice: Aside) -> str:
    """Why the seat passes, votes, exchanges across or takes a joker so; empty where it does not as the advice would.

    What the advice would do is left out: it stands before the reason, as what the seat does.
    """
    if _as_advised(does, advice):
        blind = isinstance(does, Pass) and does.blind
        said = advice.blind_because if isinstance(advice, PassAdvice) and blind else advice.because
        if not isinstance(advice, PassAdvice) or blind:
            said = words.sentence(DONE.sub("", said, count=1))
        return of_seat(said, seen.seat)
    return ""


def _as_advised(does: Action, advice: Aside) -> bool:
    match advice:
        case PassAdvice():
            wanted = advice.blind_kinds if advice.blind else advice.choices[0].kinds
            return isinstance(does, Pass) and (does.kinds, does.blind) == (wanted, advice.blind)
        case RoundAdvice():
            return advice.agree is not isinstance(does, Stop)
        case CourtesyAdvice():
            return does in (Ask(advice.ask), Give(advice.give))
        case ExchangeChoice():
            return does == advice.action
