"""`lone-east advise`: the nearest hands of a rack, exact odds, what to let go and why."""

from __future__ import annotations

import argparse
import json
import sys
from typing import TYPE_CHECKING, Any

from engine import words
from engine.advice.advise.answers import Advice, Keep, Known
from engine.advice.advise.discard import advise, deepen
from engine.advice.moment import Moment
from engine.advice.table import SheetTable
from engine.rules.laid_out import PositionError, lay_out
from engine.rules.state import Exposure
from engine.sheet import shelf
from engine.sheet.groups import size_name
from engine.sheet.model import Sheet
from engine.sheet.reader import SheetFaultsError
from engine.tiles import Counts, code, name
from engine.words import quoted
from game.words.odds import chance_note, chance_words, cost_words, draws_to_come

if TYPE_CHECKING:
    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]

USUAL_DRAWS = 25
"""About one seat's share of the wall: 99 tiles over four seats."""
SHOWN_HANDS = 10
SHOWN_HELPS = 8


class AdviseError(ValueError):
    """Input that can't be advised on; the message is one sentence that says what to give."""


def add_parser(subparsers: Subparsers) -> None:
    """Add the command to the command line."""
    parser = subparsers.add_parser(
        "advise",
        help="the nearest hands of a rack, exact odds, what to let go and why",
        description=(
            "Say which hands of a sheet are nearest for a rack, how likely further draws finish each, and, for a rack "
            "of 14 tiles, what to let go and why. Tiles are 1b to 9b, 1c to 9c, 1d to 9d, we ws ww wn, dr dg dw, fl "
            "and jk; 3x5d stands for three."
        ),
    )
    parser.add_argument(
        "sheet", metavar="SHEET", help=f"a shipped sheet ({', '.join(shelf.shipped())}) or a sheet's YAML file"
    )
    parser.add_argument(
        "rack", metavar="RACK", nargs="+", help="13 or 14 tiles, less those in exposed groups, in quotes or not"
    )
    parser.add_argument("--shown", metavar="TILES", default="", help="tiles seen elsewhere, in quotes: “3x5d we”")
    parser.add_argument(
        "--exposed", metavar="GROUPS", default="", help="your exposed groups, in quotes: “kong 5d; pung wn jokers 1”"
    )
    parser.add_argument(
        "--draws",
        metavar="K",
        help=(
            f"how many tiles you may still draw, 0 to all tiles unseen; if not given, {USUAL_DRAWS}, about one seat's "
            "share of the wall at a full table, or all tiles unseen if they are fewer"
        ),
    )
    parser.add_argument(
        "--try",
        dest="tried",
        action="store_true",
        help="try the close choices out, too: played on, or looked at to the end; takes about a second",
    )
    parser.add_argument("--json", action="store_true", help="print one JSON object instead")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the advice; 0, or 1 for input that can't be advised on."""
    try:
        sheet = shelf.find(args.sheet)
        counts, exposures, unseen = read_tiles(" ".join(args.rack), args.shown, args.exposed)
        draws = read_draws(args.draws, sum(unseen))
    except SheetFaultsError as error:
        for fault in error.faults:
            print(words.shown(str(fault)), file=sys.stderr)
        return 1
    except (AdviseError, PositionError) as error:
        print(words.shown(str(error)), file=sys.stderr)
        return 1
    ask = deepen if args.tried else advise
    advice = ask(Moment.of(SheetTable.of(sheet), counts, unseen, draws, exposures))
    if args.json:
        print(json.dumps(_as_data(advice), indent=2))
    else:
        print("\n".join(_said(sheet, advice, sum(unseen))))
    return 0


def read_tiles(rack: str, shown: str, exposed: str) -> tuple[Counts, tuple[Exposure, ...], Counts]:
    """Counts of the rack, exposed groups, counts of the tiles unseen. Raises PositionError."""
    position = lay_out(rack, shown, exposed, ("The rack", "--shown", "--exposed"))
    return position.counts, position.exposures, position.unseen


def read_draws(text: str | None, unseen: int) -> int:
    """The number of draws to look ahead. Raises AdviseError."""
    if text is None:
        return min(USUAL_DRAWS, unseen)
    plain = text.strip()
    if not (plain.isascii() and plain.isdecimal()) or len(plain) > 4 or int(plain) > unseen:
        raise AdviseError(f"--draws is {quoted(text)}; write a whole number from 0 to {unseen}, the tiles unseen.")
    return int(plain)


def _as_data(advice: Advice) -> dict[str, Any]:
    """The JSON object."""
    return {
        "draws": advice.draws,
        "chance": advice.chance.share,
        "plan": {"aim": list(advice.plan.names), "because": advice.because},
        "hands": [
            {
                "hand": reach.hand.name,
                "section": reach.hand.section,
                "missing": reach.missing,
                "odds": reach.odds,
                "groups": [[size_name(group.size), code(group.kind)] for group in reach.variant.groups],
            }
            for reach in advice.hands
        ],
        "keeps": [
            {
                "tile": code(keep.kind),
                "picks": keep.picks,
                "cost": keep.picks / max(advice.draws, 1),
                "because": keep.because,
            }
            for keep in advice.keeps
        ],
        "outlook": _outlook(advice),
        **_tried_as_data(advice),
    }


def _outlook(advice: Advice) -> dict[str, Any]:
    """How the chance is known, and what a player is told of it: an estimate is told in words. `half` is half of a 95%
    interval, null for an estimate; `games` is 0 where none was played out."""
    chance = advice.chance
    told = chance_words(chance, draws_to_come(advice.draws))
    half = None if chance.known is Known.ESTIMATED else chance.half
    return {
        "chance": chance.share,
        "known": chance.known.value,
        "half": half,
        "games": chance.games,
        "told": f"{told}; {chance_note(chance)}",
    }


def _tried_as_data(advice: Advice) -> dict[str, Any]:
    """What trying choices out has shown: `half` is half of a 95% interval, and `games` is 0 for what is exact."""
    if advice.chance.known is Known.ESTIMATED or advice.finished:
        return {}
    return {
        "tried": [
            {"tile": code(keep.kind), "picks": keep.behind, "half": keep.half, "games": keep.games}
            for keep in advice.keeps
            if keep.known is not Known.ESTIMATED
        ],
    }


def _said(sheet: Sheet, advice: Advice, unseen: int) -> list[str]:
    """The advice in sentences and columns."""
    draws = words.count(advice.draws, "draw")
    lines = [
        f"{sheet.name}, season {sheet.season}. {words.sentence(draws)} out of {words.count(unseen, 'tile')} unseen."
    ]
    if not advice.hands:
        return [*lines, "No hand of this sheet can be finished with these tiles and draws."]
    if advice.let_go is not None and not advice.finished:
        lines.append(f"Let the {name(advice.let_go)} go. {advice.because}")
    else:
        lines.append(advice.because)
    if not advice.finished:
        chance = chance_words(advice.chance, draws_to_come(advice.draws))
        lines.append(f"{chance}; {chance_note(advice.chance)}")
    lines += ["", "Hands in reach, likeliest first. The chance is exact, for going for that one hand alone."]
    rows = [("Hand", "To come", "Chance", "Groups")]
    for reach in advice.hands[:SHOWN_HANDS]:
        groups = ", ".join(f"{size_name(group.size)} {code(group.kind)}" for group in reach.variant.groups)
        rows.append((reach.hand.name, str(reach.missing), words.exact_odds(reach.odds), groups))
    widths = [max(len(row[column]) for row in rows) for column in range(3)]
    lines += [f"  {a:<{widths[0]}}  {b:>{widths[1]}}  {c:>{widths[2]}}  {d}" for a, b, c, d in rows]
    more = len(advice.hands) - SHOWN_HANDS
    if more > 0:
        lines.append(
            f"  {words.sentence(words.count(more, 'more hand'))} can still be finished; --json lists them all."
        )
    if len(advice.keeps) > 1:
        lines += ["", "What to keep, dearest first."]
        lines += [f"  {code(keep.kind)}  {keep.because}{_interval(keep)}" for keep in advice.keeps[:-1]]
    if advice.helps and advice.chance.share:
        after = "" if advice.let_go is None else ", once that tile has gone"
        lines += [
            "",
            f"The next draws that help most{after}: by how many picks sooner a hand comes than after the least useful "
            "draw, roughly.",
        ]
        lines += [
            f"  {code(one.kind)}  {one.unseen} unseen, {words.picks(one.picks)} sooner"
            for one in advice.helps[:SHOWN_HELPS]
        ]
    return lines


def _interval(keep: Keep) -> str:
    """That a cost was found by trying it out, and how sure it is."""
    if keep.known is not Known.PLAYED or not keep.picks:
        return ""
    return f" Tried out: it {cost_words(keep)}, over {keep.games} games."
