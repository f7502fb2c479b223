"""`lone-east watch`: the advisor plays one deal, and each choice is printed with its reasons."""

from __future__ import annotations

import argparse

from engine.advice.keeps import Advice
from engine.rules.actions import Action, Discard, Mahjong
from engine.rules.observation import Observation
from engine.rules.state import Phase
from engine.tiles import name, say_tiles
from game import words
from game.advisor import Advisor
from game.commands.choosing import BadInputError, add_deal_options, chosen_deal, chosen_sheet, complain
from game.keeping import USUAL_GAME
from game.reports import outcome_sentences, situation
from game.sitting import Sitting


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    parser = subparsers.add_parser("watch", help="watch the advisor play one deal, each choice with its reasons")
    add_deal_options(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Play the deal to its end and print it."""
    try:
        sheet = chosen_sheet(args.sheet, args.sections)
        code = chosen_deal(sheet, args.deal, USUAL_GAME)
        sitting = Sitting(code.deal(sheet))
    except BadInputError as error:
        return complain(error)
    advisor = Advisor(sheet, code.house.jokers)
    print(f"{sheet.name}, season {sheet.season}. Deal {code}, {code.house.table} table.")
    print(f"East is dealt {say_tiles(sorted(sitting.observation.rack))}.")
    while not sitting.over:
        print(situation(sitting))
        action, reasons = advised(advisor, sitting.observation)
        for reason in reasons:
            print(f"  {reason}")
        sitting.act(action)
    for sentence in outcome_sentences(sitting.state):
        print(sentence)
    return 0


def advised(advisor: Advisor, observation: Observation) -> tuple[Action, list[str]]:
    """What the advisor does at this moment, and why."""
    if Mahjong() in observation.legal:
        return Mahjong(), ["The hand is complete: mahjong."]
    if observation.phase is not Phase.TURN:
        return observation.legal[0], []
    advice = advisor.advise(observation)
    let_go = advice.keeps[-1]
    return Discard(let_go.kind), [*nearest(advice), f"Let go the {name(let_go.kind)}. {let_go.because}"]


def nearest(advice: Advice) -> list[str]:
    """One sentence for the hand most likely to be made."""
    if not advice.hands:
        return ["No hand of this sheet can still be made."]
    best = advice.hands[0]
    return [
        f"Nearest: {best.hand.name}, {words.count(best.missing, 'tile')} to come, "
        f"odds {words.odds(best.odds)} within {words.count(advice.draws, 'draw')}."
    ]
