"""Why not this hand? What it needs, how often it comes, and what stands in its way, against the plan."""

from __future__ import annotations

from collections.abc import Sequence

from engine.advice.advise.answers import Advice
from engine.advice.advise.hands import HandReach, best_of_each_hand, ways
from engine.advice.advise.plan import NEVER, Aim, Gap, least_missing, target_of
from engine.advice.advise.reasons import MOST_NAMED, are, no_joker, so_many, where
from engine.advice.moment import Moment
from engine.sheet.groups import size_name
from engine.sheet.model import Hand
from engine.tiles import JOKER
from engine.words import about_picks, in_words, listed, odds

SURE = 0.95
"""From this chance on picks tell hands apart, since percentages hardly do."""
MORE = 2
"""So many tiles more in common are a reason to prefer a hand."""


def why_not_hand(moment: Moment, advice: Advice, hand: Hand) -> str:
    """Three short sentences at most on a hand: how near it is beside the plan's, how often it comes, what it lacks.

    `advice` is that of the moment.
    """
    if advice.finished and advice.hands[0].hand.name == hand.name:
        return f"This is {hand.name}. Show it for mahjong."
    if moment.table.sheet.hands.index(hand) not in moment.table.hand:
        return f"{hand.name} can't be made with the groups that you have exposed."
    rows, chances = best_of_each_hand(moment.table, moment.counts, moment.unseen, moment.draws)
    row_of = {moment.table.sheet.hands[int(moment.table.hand[row])].name: int(row) for row in rows}
    if hand.name not in row_of:
        missing = least_missing(moment, hand)
        if missing >= NEVER:
            return f"{hand.name} can't be made any more: too many of its tiles have gone."
        return f"{hand.name} needs {_tiles(missing)}, more than the draws that are left."

    def aim_at(name: str) -> Aim:
        return target_of(moment, row_of[name], chances[row_of[name]])

    aim = aim_at(hand.name)
    said = [_how_near(aim, advice), _how_often(aim, advice, moment)]
    planned = [aim_at(one.hand.name) for one in advice.plan.targets if one.hand.name in row_of]
    against = _against(moment, aim, planned, advice)
    if against:
        said.append(against)
    elif aim.gaps and aim.missing:
        said.append(_lacks(aim, aim.gaps[0]))
    return " ".join(said)


def _against(moment: Moment, aim: Aim, planned: Sequence[Aim], advice: Advice) -> str:
    """Why the plan goes for another hand where this one is as likely by itself; else empty. `planned` are the hands of
    the plan."""
    if not planned or aim.hand.name in {one.hand.name for one in planned}:
        return ""
    lead, new = planned[0].hand, aim.hand
    reach = {one.hand.name: one for one in advice.hands}
    if lead.name not in reach or _tells(reach[new.name], reach[lead.name]):
        return ""
    if moment.calls and new.concealed and not lead.concealed:
        return f"But {new.name} is concealed, and groups of {lead.name} may be called."
    if moment.calls and lead.points > new.points:
        return f"But {lead.name} pays {lead.points} points and {new.name} {new.points}."
    if len(planned) > 1:
        mine, theirs = (_in_common(moment, planned[0], one) for one in (aim, planned[1]))
        if theirs >= mine + MORE:
            shares = f"{lead.name} uses {in_words(theirs)} of your tiles together with {planned[1].hand.name}"
            return f"But {shares}, and only {in_words(mine)} together with {new.name}."
    there, own = (ways(moment, one, planned[0].missing) for one in (lead, new))
    if there > own:
        less = "no way" if not own else "one way" if own == 1 else f"{in_words(own)} ways"
        most = _tiles(planned[0].missing)
        return f"But {lead.name} has {in_words(there)} ways that need {most} at most, {new.name} {less}."
    return f"It is about as good as {lead.name}: keep it in mind."


def _tells(here: HandReach, lead: HandReach) -> bool:
    """Whether the figures by themselves speak for the plan's hand."""
    if min(here.odds, lead.odds) > SURE:
        return lead.picks < here.picks - 0.5
    return odds(lead.odds) != odds(here.odds) and lead.odds > here.odds


def _in_common(moment: Moment, one: Aim, other: Aim) -> int:
    """How many tiles of the rack two hands both use, jokers left out."""
    return sum(min(held, *needs) for held, *needs in zip(moment.counts[:JOKER], one.needs, other.needs, strict=False))


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


def _how_often(aim: Aim, advice: Advice, moment: Moment) -> str:
    alone = "Going for it alone, undisturbed," if moment.calls else "Going for it alone"
    lead = next((one for one in advice.hands if advice.plan.aim and one.hand.name == advice.plan.names[0]), None)
    here = next((one for one in advice.hands if one.hand.name == aim.hand.name), None)
    if lead is not None and here is not None and min(lead.odds, here.odds) > SURE:
        said = f"{alone} takes {_about(here)} on average"
        return f"{said}." if lead is here else f"{said}, {lead.hand.name} {_about(lead)}."
    said = f"{alone} makes it {odds(aim.odds)} of the time"
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
        return f"It lacks {so_many(gap.number, gap.kind)} {place}{no_joker(aim)}; {left} unseen."
    kinds = [so_many(one.number, one.kind) for one in aim.gaps[:MOST_NAMED]]
    more = ["more"] if len(aim.gaps) > MOST_NAMED else []
    group = f" in its {size_name(gap.size)}" if len(aim.gaps) == 1 else ""
    return f"It lacks {listed([*kinds, *more])}{group}{'; jokers may fill in' if aim.jokers else ''}."


def _tiles(number: int) -> str:
    return f"{in_words(number)} more tile{'' if number == 1 else 's'}"
