"""The words for a refusal and for a fault of a hand: the one place where they are made.

A clause could follow a colon; a sentence stands alone. `player` is the seat that reads it and is called “you”; with
None every seat has its name.
"""

from __future__ import annotations

from engine import words
from engine.rules.house import seat_name
from engine.rules.refusals import Found, HandFault, Refusal, Rule
from engine.rules.twists.known import twist_named
from engine.sheet.groups import JOKERS_FROM, Group, size_name
from engine.tiles import Kind, name

_CLAUSES = {
    Rule.PASS_COUNT: "a pass is {number} tiles, those passed on unseen included",
    Rule.COURTESY_COUNT: "a courtesy pass is 0 to {number} tiles",
    Rule.GROUP_SIZE: "a group has 1 to {number} tiles",
    Rule.CALL_JOKERS: "the called tile itself is no joker, all others at most are",
    Rule.SEAT_RANGE: "seats are 0 (east) to 3 (north)",
    Rule.EXPOSURE_RANGE: "a seat's exposures are 0 to 3",
    Rule.EXCHANGE_FOR_JOKER: "a joker is exchanged for a real tile",
    Rule.KIND_RANGE: "a kind of tile is a number from 0 to {number}",
    Rule.RACK_RANGE: "the racks are 1 and 2",
    Rule.PLACE_NOW: "the tile drawn is put on one of the two racks first",
    Rule.TWO_RACKS_NOW: "in the two-hand game a tile is let go, two tiles change racks, or a hand is shown",
    Rule.CHANGED_ALREADY: "two tiles have changed racks in this turn already",
    Rule.ONE_RACK_LEFT: "one hand is shown, so nothing changes racks any more",
    Rule.CHANGE_ALIKE: "two tiles that change racks are not alike",
    Rule.NOT_ON_RACK: "rack {number} has no {tile}",
    Rule.NO_HAND_THERE: "the fourteen tiles of rack {number} are no hand of this sheet",
    Rule.NO_ACTION: "it is none of the things that can be done at the table",
    Rule.UNREADABLE: "write one such as “discard 5d” or “pass 1b 2c we”",
    Rule.UNREADABLE_TILES: "{said}",
    Rule.NO_BLIND_PASS: "this table passes nothing on unseen",
    Rule.BLIND_TOO_EARLY: "tiles are passed on unseen only in the last pass of a round",
    Rule.BLIND_OTHER_ROUND: "this table passes tiles on unseen in round {number} only",
    Rule.COURTESY_SETTLED: "{number} is the smaller of the two numbers asked, so {number} go across",
    Rule.JOKER_PASSED: "jokers are never passed",
    Rule.TOO_FEW_HELD: "{who} {hold} too few of the {tile}",
    Rule.PASS_NOW: "three tiles are passed now",
    Rule.VOTE_NOW: "each seat agrees to a second round or stops the passes",
    Rule.ASK_NOW: "each seat asks for 0 to 3 tiles to exchange across",
    Rule.GIVE_NOW: "the tiles that were settled go across now",
    Rule.ENDED: "nothing more is played once it has ended",
    Rule.ONLY_ONE_PLAYS: "only {who} {play} at a quiet table",
    Rule.SEAT_ACTS: "{who} {are} to act",
    Rule.SEAT_DRAWS: "{who} {draw} from the wall next",
    Rule.TURN_NOW: "the seat in turn discards, exchanges a joker or shows mahjong",
    Rule.CALL_NOW: "the discard is called or let go",
    Rule.NEXT_TILE_IS: "the next tile of the wall is the {tile}",
    Rule.TOO_LATE: "a discard is called before the next tile is drawn, so this comes too late",
    Rule.LET_GO: "the discard was let go, and is dead",
    Rule.OWN_DISCARD: "nobody calls a discard of their own",
    Rule.CHOSEN_ALREADY: "{who} {have} chosen already",
    Rule.JOKER_CALLED: "a discarded joker may not be called",
    Rule.CALLS_CLOSED: "no discard is called any more once {number} tiles or fewer are left in the wall",
    Rule.DEAD_HAND: "{whose} hand is dead, and calls no more",
    Rule.PAIR_CALLED: "a single or a pair is called only for mahjong",
    Rule.REST_NOT_HELD: "{who} {do} not hold the rest of a {size} of {tile}",
    Rule.NOT_HELD: "{who} {hold} no {tile}",
    Rule.NO_SUCH_EXPOSURE: "{who} {have} laid {number} exposures, counted from 0",
    Rule.OTHER_EXPOSURE: "that exposure is of the {tile}, which its jokers stand for",
    Rule.NO_JOKER_THERE: "there is no joker in that exposure",
    Rule.NOTHING_TO_GIVE: "{who} {hold} no {tile} to give for the joker",
    Rule.TWIST: "the twist of this deal does not allow it{twist}",
}

_VERBS = {"hold": "holds", "have": "has", "do": "does", "are": "is", "draw": "draws", "play": "plays"}
"""How a verb reads after “you”, and after a seat's name."""


def clause(refusal: Refusal, player: int | None = None) -> str:
    """Why the action is refused, as a clause."""
    if refusal.fault is not None:
        return fault_clause(refusal.fault)
    seat = refusal.seat
    mine = seat is not None and seat == player
    who = "you" if mine else "" if seat is None else seat_name(seat)
    twist = twist_named(refusal.twist)
    verbs = {plain: plain if mine else third for plain, third in _VERBS.items()}
    return _CLAUSES[refusal.rule].format(
        who=who,
        whose="your" if mine else f"{who}'s",
        tile=_tile(refusal.kind),
        number=refusal.number,
        size=size_name(refusal.number) if 1 <= refusal.number <= 6 else "",
        said=refusal.said,
        twist=f". {twist.says.rstrip('.')}" if twist.says else "",
        **verbs,
    )


def sentence(refusal: Refusal, player: int | None = None) -> str:
    """Why the action is refused, as a sentence."""
    return _sentence(clause(refusal, player))


def fault_clause(found: Found) -> str:
    """What is wrong with a hand, as a clause."""
    hand = f"“{found.hand.name}”" if found.hand is not None else "the hand"
    sheet = found.sheet.name if found.sheet is not None else "this sheet"
    match found.fault:
        case HandFault.WRONG_COUNT:
            return f"a hand is {found.wanted} tiles, and this one has {found.number}"
        case HandFault.NO_HAND:
            return f"no hand on {sheet} matches these tiles"
        case HandFault.OTHER_SHEET:
            season = found.sheet.season if found.sheet is not None else "another year"
            return f"that is on the sheet of season {season}: {hand} of {sheet}"
        case HandFault.JOKER_IN_PAIR:
            return (
                f"{hand} needs {found.wanted} of the {_tile(found.kind)} without a joker, "
                f"since {_where_jokers_stand(found)}"
            )
        case HandFault.EXPOSED_CONCEALED:
            return f"{hand} is concealed, so nothing of it may be exposed"
        case HandFault.EXPOSURE_FITS_NOTHING if found.hand is not None:
            return f"{hand} is made of other groups than those exposed"
        case HandFault.EXPOSURE_FITS_NOTHING:
            together = " together" if len(found.groups) > 1 else ""
            few = "" if found.jokers is None else f"with {words.count(found.jokers, 'joker')} in the set, "
            return f"{few}no open hand on {sheet} has {' and '.join(map(_group, found.groups))}{together}"
        case HandFault.TOO_MANY_ALIKE:
            return f"the set holds {found.wanted} of the {_tile(found.kind)}, and here are {found.number}"
    raise ValueError(f"{found.fault} is not one fault; say each by itself")


def fault_sentence(found: Found) -> str:
    """What is wrong with a hand, as a sentence."""
    return _sentence(fault_clause(found))


def _where_jokers_stand(found: Found) -> str:
    jokers_from = JOKERS_FROM if found.hand is None else found.hand.variants[0].groups[0].jokers_from
    if jokers_from == JOKERS_FROM:
        return "a joker can't stand for a single or in a pair"
    return f"in this deal a joker stands in groups of {words.in_words(jokers_from)} or more only"


def _sentence(text: str) -> str:
    return f"{words.sentence(text)}."


def _tile(kind: Kind | None) -> str:
    return "" if kind is None else name(kind)


def _group(group: Group) -> str:
    return f"a {size_name(group.size)} of {name(group.kind)}"
