"""Why not this hand? What it needs, how often it comes, and what stands in its way, against the plan."""

from __future__ import annotations

from engine.advice.advise.answers import Advice
from engine.advice.advise.hands import HandReach, best_of_each_hand
from engine.advice.advise.plan import Aim, Gap, least_missing, target_of
from engine.advice.advise.reasons import MOST_NAMED, are, so_many, where
from engine.advice.moment import Moment
from engine.sheet.groups import size_name
from engine.sheet.model import Hand
from engine.words import about_picks, in_words, listed, odds

SURE = 0.995
"""From this chance on picks tell hands apart, since percentages don't."""
NEVER = 99
"""More tiles than a hand can miss: it can't be made any more."""


def why_not_hand(moment: Moment, advice: Advice, hand: Hand) -> str:
    """Three short sentences at most on a hand: how near it is beside the plan's, how often it comes, what it lacks.

    `advice` is that of the moment.
    """
    if advice.finished and advice.hands[0].hand.name == hand.name:
        return f"This is {hand.name}. Show it for mahjong."
    if moment.table.sheet.hands.index(hand) not in moment.table.hand:
        return f"{hand.name} can't be made with the groups that you have exposed."
    rows, chances = best_of_each_hand(moment.table, moment.counts, moment.unseen, moment.draws)
    row = next(
        (int(row) for row in rows if moment.table.sheet.hands[int(moment.table.hand[row])].name == hand.name), -1
    )
    if row < 0:
        missing = least_missing(moment, hand)
        if missing >= NEVER:
            return f"{hand.name} can't be made any more: too many of its tiles have gone."
        return f"{hand.name} needs {_tiles(missing)}, more than the draws that are left."
    aim = target_of(moment, row, chances[row])
    said = [_how_near(aim, advice), _how_often(aim, advice)]
    if aim.gaps and aim.missing:
        said.append(_lacks(aim, aim.gaps[0]))
    return " ".join(said)


def _how_near(aim: Aim, advice: Advice) -> str:
    here = aim.hand.name
    if here in advice.plan.names:
        return f"{here} is what the plan goes for: it needs {_tiles(aim.missing)}."
    second = advice.plan.second
    if second is not None and second.hand.name == here:
        return f"{here} is the second string: it needs {_tiles(aim.missing)}."
    if not advice.plan.aim:
        return f"{here} needs {_tiles(aim.missing)}."
    lead = advice.plan.aim[0]
    return f"{here} needs {_tiles(aim.missing)}, {lead.hand.name} {in_words(lead.missing)}."


def _how_often(aim: Aim, advice: Advice) -> str:
    lead = next((one for one in advice.hands if advice.plan.aim and one.hand.name == advice.plan.names[0]), None)
    here = next((one for one in advice.hands if one.hand.name == aim.hand.name), None)
    if lead is not None and here is not None and min(lead.odds, here.odds) > SURE:
        said = f"Going for it alone takes {_about(here)} on average"
        return f"{said}." if lead is here else f"{said}, {lead.hand.name} {_about(lead)}."
    said = f"Going for it alone makes it {odds(aim.odds)} of the time"
    if lead is None or lead.hand.name == aim.hand.name:
        return f"{said}."
    return f"{said}, {lead.hand.name} {odds(lead.odds)}."


def _about(reach: HandReach) -> str:
    return about_picks(max(round(reach.picks), 1))


def _lacks(aim: Aim, gap: Gap) -> str:
    """The tile that is hardest to get."""
    left = are(gap.unseen)
    if gap.strict:
        place = where(gap.size, gap.number)
        return f"It lacks {so_many(gap.number, gap.kind)} {place}, where no joker may stand; {left} unseen."
    kinds = [so_many(one.number, one.kind) for one in aim.gaps[:MOST_NAMED]]
    more = ["more"] if len(aim.gaps) > MOST_NAMED else []
    group = f" in its {size_name(gap.size)}" if len(aim.gaps) == 1 else ""
    return f"It lacks {listed([*kinds, *more])}{group}; jokers may fill in."


def _tiles(number: int) -> str:
    return f"{in_words(number)} more tile{'' if number == 1 else 's'}"
