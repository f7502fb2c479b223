"""A game in the terminal from its start: which deal it is, the table for it, and what is kept of it."""

from __future__ import annotations

import argparse
import sys

from engine.advice.review.review import Review
from engine.advice.table import SheetTable
from engine.rules.house import House
from engine.sheet.model import Sheet
from engine.store.files import default_path
from engine.store.store import GAME, Store
from engine.store.values import StoreError
from game.commands.options import chosen_deal, chosen_sheet
from game.play.advisor import Advisor
from game.play.defaults import house_for, kept_house, kept_sections, kept_sheet
from game.play.lines import begin, line_of, others_of, resume
from game.play.reviewing import keep_figures
from game.play.settings import ALWAYS, HIDDEN, Settings
from game.play.sitting import SeatPlayer, Sitting
from game.play.skill import play_over_time
from game.text.table import TextTable
from game.words.skill import said_of


def play_in_text(args: argparse.Namespace) -> int:
    """Play the deal asked for, the one left unfinished, or a new one. Raises BadInputError."""
    with Store(default_path()) as store:
        settings, notes = Settings.from_json(store.get("settings"))
        for note in notes:
            print(note)
        sitting = _sitting(args, store, settings.advice == HIDDEN)
        advisor = Advisor(sitting.state.sheet, sitting.state.house.jokers)

        def keep_note(text: str) -> None:
            line = line_of(sitting)
            if line is not None:
                store.note(line, text, sitting.cursor)

        def advice_given() -> None:
            line = line_of(sitting)
            if line is not None:
                store.advice_seen(line)

        def reviewed(found: Review) -> list[str]:
            keep_figures(store, line_of(sitting), found)
            return said_of(play_over_time(store.reviews()))

        table = TextTable(
            sitting,
            advisor,
            sys.stdin,
            lambda text: print(text, flush=True),
            keep_note,
            always_advise=settings.advice == ALWAYS,
            hide_advice=settings.advice == HIDDEN,
            advice_given=advice_given,
            trouble=lambda: store.trouble,
            reviewed=reviewed,
        )
        if not table.play():
            kept = store.saving or store.trouble is None
            print("The game is kept; it goes on from here next time." if kept else "The game could not be kept.")
        return 0


def _sitting(args: argparse.Namespace, store: Store, advice_hidden: bool) -> Sitting:
    asked_for = args.deal or args.sheet or args.sections or args.table
    last = None if asked_for else store.last_line(GAME)
    if last is not None:
        try:
            whole = store.sheet(store.line(last).fingerprint)
            return resume(store, last, others=_others(store.sheet_of(last), whole, store.line(last).house))
        except (StoreError, ValueError) as error:
            print(f"The game left unfinished can't be resumed: {error}.")
    if asked_for:
        whole, sheet = chosen_sheet(args.sheet), chosen_sheet(args.sheet, args.sections)
        house = house_for(args.table)
    else:
        whole, house = kept_sheet(store), kept_house(store)
        sections = kept_sections(store, whole)
        sheet = whole.cut(sections) if sections else whole
    code = chosen_deal(sheet, args.deal, house)
    print(f"A new deal, {code}.")
    others = _others(sheet, whole, code.house)
    return begin(store, sheet, code, others=others, advice_hidden=advice_hidden)


def _others(sheet: Sheet, whole: Sheet, house: House) -> SeatPlayer | None:
    return others_of(sheet, whole, house, lambda one: SheetTable.of(one, house.jokers))
