"""A game in the terminal from its start: which deal it is, the table for it, and what is kept of it."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable

from engine.advice.review.review import Review
from engine.store.files import default_path
from engine.store.store import Store
from engine.store.values import StoreError
from game.commands.options import chosen_deal
from game.play.defaults import house_for
from game.play.desk import Desk
from game.play.lines import line_of
from game.play.practice.looks import note_look
from game.play.reviewing import keep_figures
from game.play.settings import ALWAYS, HIDDEN
from game.play.sitting import Sitting
from game.play.skill import play_over_time
from game.play.worker import Worker
from game.text.table import TextTable
from game.text.two_hands import TwoHandsText
from game.words.season.progress import said_of
from game.words.settings import lost_setting


def play_in_text(args: argparse.Namespace) -> int:
    """Play the deal asked for, the one left unfinished, or a new one. Raises BadInputError."""
    store = Store(default_path())
    with store:
        desk = Desk(Worker(), store)
        for sentence in (*desk.told, *map(lost_setting, desk.lost_settings)):
            _say(f"{sentence.rstrip('.')}.")
        desk.heard()
        over = _table(desk, _sitting(args, desk)).play()
    if store.unsaved:  # the store is closed now, and has tried once more what it could not save before
        _say("Not all of the game could be kept." if over else "The game could not be kept.")
    elif not over:
        _say("The game is kept; it goes on from here next time.")
    return 0


def _table(desk: Desk, sitting: Sitting) -> TextTable | TwoHandsText:
    """The text table for a sitting, with all that is kept of it."""
    store, state = desk.store, sitting.state

    def keep_note(text: str) -> None:
        line = line_of(sitting)
        if line is not None:
            store.note(line, text, sitting.cursor)

    def advice_given() -> None:
        line = line_of(sitting)
        if line is not None:
            store.advice_seen(line)
            note_look(store, line, sitting.cursor)

    def reviewed(found: Review) -> list[str]:
        keep_figures(store, line_of(sitting), found)
        return said_of(play_over_time(store.reviews()))

    if state.two is not None:
        return TwoHandsText(
            sitting,
            desk.advisor(state.sheet, state.house.jokers).table,
            _typed(),
            _say,
            keep_note,
            always_advise=desk.settings.advice == ALWAYS,
            hide_advice=desk.settings.advice == HIDDEN,
            advice_given=advice_given,
        )
    return TextTable(
        sitting,
        desk.advisor(state.sheet, state.house.jokers),
        _typed(),
        _say,
        keep_note,
        always_advise=desk.settings.advice == ALWAYS,
        hide_advice=desk.settings.advice == HIDDEN,
        advice_given=advice_given,
        trouble=lambda: store.trouble,
        reviewed=reviewed,
        other_sheets=lambda: tuple(desk.sheets()),
    )


def _sitting(args: argparse.Namespace, desk: Desk) -> Sitting:
    if args.deal or args.sheet or args.sections or args.table or args.twist:
        asked = chosen_deal(args, house_for(args.table), desk.sheets)
        _say(f"A new deal, {asked.code}.")
        return desk.deal_asked(asked)
    left = desk.unfinished
    if left is not None:
        try:
            return desk.sitting_of(left.id)
        except (StoreError, ValueError) as error:
            _say(f"The game left unfinished can't be resumed: {str(error).rstrip('.')}.")
    sitting = desk.new_deal()
    _say(f"A new deal, {desk.code_of(sitting)}.")
    return sitting


def _typed() -> Iterable[str]:
    """What is typed, line by line; nothing where there is no input at all."""
    return sys.stdin or ()


def _say(text: str) -> None:
    print(text, flush=True)
