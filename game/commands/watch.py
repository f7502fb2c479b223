"""`lone-east watch`: the advisor plays one deal, and each choice is printed with its reasons."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from engine import words
from engine.advice.advise.answers import Advice, Known
from engine.advice.advise.passes import choose_before_play
from engine.advice.advise.two_hands import advise_two
from engine.advice.moment import never, nothing
from engine.advice.table import SheetTable
from engine.rules.actions import Action, LetGo, Mahjong
from engine.rules.house import TWO
from engine.rules.passing import BEFORE_PLAY
from engine.rules.state import CHANCE, Phase
from engine.rules.twists.known import sheet_of_deal
from engine.seats.character import Strength
from engine.tiles import say_tiles
from game.commands.options import BadInputError, add_deal_options, chosen_deal, complain, kept_desk, loaded_sheets
from game.play.advising import advise_table, choice_before, deepen_table
from game.play.advisor import Advisor
from game.play.defaults import USUAL_GAME
from game.play.lines import others_of
from game.play.settings import Settings
from game.play.sitting import Entry, Sitting
from game.words.actions import say_action, say_seat
from game.words.deal.twists import twist_sentence
from game.words.deal.two_hands import asked as what_is_asked
from game.words.odds import chance_words, draws_to_come, hand_chance
from game.words.situation import outcome_sentences, situation


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    parser = subparsers.add_parser("watch", help="watch the advisor play one deal, each choice with its reasons")
    add_deal_options(parser)
    parser.add_argument(
        "--try", dest="tried", action="store_true", help="try close choices out, too: about a second for each choice"
    )
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Play the deal to its end and print it."""
    try:
        asked = chosen_deal(args, USUAL_GAME, loaded_sheets)
    except BadInputError as error:
        return complain(error)
    with kept_desk() as desk:
        strength = Strength((Settings() if desk is None else desk.settings).others)
    sheet, code = asked.sheet, asked.code
    others = others_of(sheet, asked.whole, code.house, lambda one: SheetTable.of(one, code.house.jokers), strength)
    sitting = Sitting(code.deal(sheet), others=others)
    advisor = Advisor(sheet_of_deal(sheet, code.house), code.house.jokers)
    game = "the two-hand game" if code.house.table == TWO else f"{code.house.table} table"
    print(f"{sheet.name}, season {sheet.season}. Deal {code}, {game}.")
    if code.house.twist:
        print(twist_sentence(code.house))
    seat, first = sitting.player, sitting.states[0]
    for rack in (0, 1) if first.two is not None else (seat,):
        who = f"Rack {rack + 1}" if first.two is not None else f"{say_seat(seat)}, the seat that is watched,"
        print(f"{who} is dealt {say_tiles(sorted(first.racks[rack]))}.")
    happened: Sequence[Entry] = sitting.entries
    while True:
        for entry in happened:
            if entry.seat not in (seat, CHANCE) and entry.action != LetGo():
                print(say_action(entry.action, entry.seat, hidden=True))
        if sitting.over:
            break
        if sitting.state.phase is Phase.TURN:
            print(situation(sitting) if sitting.state.two is None else what_is_asked(sitting.state))
        action, reasons = advised(advisor, sitting, tried=getattr(args, "tried", False))
        for reason in reasons:
            print(f"  {reason}")
        happened = sitting.act(action)
    for sentence in outcome_sentences(sitting.state):
        print(sentence)
    return 0


def advised(advisor: Advisor, sitting: Sitting, *, tried: bool = False) -> tuple[Action, list[str]]:
    """What the advisor does at this moment, and why."""
    observation = sitting.observation
    if observation.two is not None:
        both = advise_two(advisor.table, observation)
        return both.action, [both.because]
    if sitting.wins:
        return Mahjong(), ["The hand is complete: mahjong."]
    if observation.phase in BEFORE_PLAY:
        action = choose_before_play(advisor.table, observation)
        return action, [say_action(action, observation.seat)]
    advice = advise_table(advisor, observation, choice_before(sitting))
    if tried:
        advice = deepen_table(advisor, advice, observation, never, nothing, choice_before(sitting))
    verdict = advice.verdict
    assert verdict is not None
    if observation.phase is Phase.CALLING:
        return verdict.action, [] if verdict.action == LetGo() else [f"{verdict.title}. {verdict.because}"]
    said = [*nearest(advice.rack), f"{verdict.title}. {verdict.because}", *([verdict.price] if verdict.price else [])]
    if advice.rack.chance.known is not Known.ESTIMATED:
        said.append(f"{chance_words(advice.rack.chance, draws_to_come(advice.rack.draws))}.")
    return verdict.action, said


def nearest(advice: Advice) -> list[str]:
    """One sentence for the hand most likely to be made."""
    if not advice.hands:
        return ["No hand of this sheet can still be made."]
    best = advice.hands[0]
    return [
        f"Nearest: {best.hand.name}, {words.count(best.missing, 'tile')} to come, "
        f"{hand_chance(best.odds, advice.draws, alone=not advice.turns)}."
    ]
