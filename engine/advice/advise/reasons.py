"""The sentences of the plan: what to aim for, what serves it, what to watch. Nothing is said that is not counted."""

from __future__ import annotations

from collections.abc import Sequence

from engine.advice.advise.plan import Aim, Gap, Plan, Shift, Turning
from engine.sheet.groups import size_name
from engine.tiles import JOKER, Kind, name
from engine.words import in_words, listed, sentence

MOST_NAMED = 2
"""Kinds of tiles that one sentence names at most."""
MOST_OLD = 3
"""From so many hands given up on, only the first is named."""
MOST_LACKING = 4
"""Tiles that a hand lacks are named if there are so many at most…"""
MOST_KINDS = 3
"""…of so many kinds at most."""
NEAR = 3
"""A hand that lacks so many tiles is near, whatever its chance."""
LUCK = 0.05
"""A hand less likely than this takes luck."""
ONE_IN = 3
"""At a full table a hand that lacks more than one tile for so many draws is far off."""
MOST_OUTS = 4
"""Kinds that complete a hand are named if there are so many at most."""


def say_plan(plan: Plan, goes: Kind | None = None, held: int = 0, cost: float | None = None) -> str:
    """The plan in three sentences at most: the aim, the tile that goes (of so many held), what to watch.

    `cost` is what the next best tile costs in picks, if there is one.
    """
    if not plan.aim:
        return _no_hand(plan)
    said = [say_aim(plan)]
    if goes is not None:
        said.append(why_let_go(plan, goes, held, cost))
    if plan.aim[0].missing > 1:
        said.append(say_watch(plan))
    elif plan.calls:
        said.append(_call_it(plan.aim[0]))
    return " ".join(part for part in said if part)


def say_aim(plan: Plan) -> str:
    """What to aim for, in one sentence."""
    if not plan.aim:
        return _no_hand(plan)
    lead = plan.aim[0]
    if lead.missing == 1:
        return say_one_away(lead)
    if plan.shift is not None:
        return _turned(plan)
    if plan.open:
        return f"Stay open between {listed(plan.names)}: {_ties(plan)}."
    go = "Stay with" if plan.stays else "Go for"
    if plan.second is None:
        return f"{go} {lead.hand.name}: {_still_to_come(lead)}."
    return f"{go} {lead.hand.name}, with {plan.second.hand.name} as the second string: {_ties(plan)}."


def _no_hand(plan: Plan) -> str:
    """That no hand is to be hoped for, and what then matters."""
    if plan.calls:
        return "No hand is near enough for the draws left to you, so what matters now is to give the others nothing."
    return "No hand can be made any more with the tiles that may still come."


def _call_it(lead: Aim) -> str:
    """Which discards of others make a hand that lacks one tile; a joker can't be called."""
    outs = [kind for kind in lead.outs if kind != JOKER]
    if len(outs) == 1:
        return f"If anyone lets {a(outs[0])} go, call it for mahjong."
    but = " but a joker" if JOKER in lead.outs else ""
    return f"If anyone lets one of these{but} go, call it for mahjong." if outs else ""


def named_in_aim(plan: Plan) -> tuple[Aim, ...]:
    """The hands that `say_aim` names as goals."""
    if plan.aim[0].missing == 1:
        return plan.aim[:1]
    if plan.open or plan.shift is not None:
        return plan.aim
    return plan.targets


def say_one_away(target: Aim) -> str:
    """`You are one tile from Handrail: a 3 crak makes its pair, which no joker fills; two are unseen.`"""
    start = f"You are one tile from {target.hand.name}"
    gap = next((gap for gap in target.gaps if gap.strict), None)
    if gap is not None and target.outs == (gap.kind,):
        what = "is the single that it lacks" if gap.size == 1 else f"makes its {size_name(gap.size)}"
        only = ", which no joker fills" if target.jokers else ""
        return f"{start}: {a(gap.kind)} {what}{only}; {are(gap.unseen)} unseen."
    if not target.outs:
        return f"{start}, but none of the tiles that would complete it is left."
    if len(target.outs) > MOST_OUTS:
        kinds, tiles = in_words(len(target.outs)), in_words(target.outs_unseen)
        return f"{start}: tiles of {kinds} kinds complete it; {tiles} of them are unseen."
    if len(target.outs) == 1:
        return f"{start}: {a(target.outs[0])} completes it; {are(target.outs_unseen)} unseen."
    outs = listed([a(kind) for kind in target.outs], "or")
    return f"{start}: {outs} completes it; {in_words(target.outs_unseen)} of these are unseen."


def _still_to_come(lead: Aim) -> str:
    """The tiles that a hand lacks and what the rack's jokers fill of it; only how many where there are too many."""
    filled, gaps = lead.jokers_in, _to_come(lead)
    if not _few(lead):
        return f"{so_many_tiles(lead.missing)} are still to come"
    said = f"it lacks {listed([so_many(gap.number, gap.kind) for gap in gaps])}"
    if not filled or not lead.unfilled:
        return said
    own = "your joker fills" if filled == 1 else f"your {in_words(filled)} jokers fill"
    return f"{said}, and {own} {in_words(filled)} of these"


def _to_come(lead: Aim) -> list[Gap]:
    """What a hand lacks that the rack's jokers don't fill whole."""
    return [gap for gap in lead.gaps if gap.strict or lead.unfilled]


def _few(lead: Aim) -> bool:
    return lead.missing <= MOST_LACKING and len(_to_come(lead)) <= MOST_KINDS


def _named_what_lacks(plan: Plan) -> bool:
    """Whether `say_aim` names the tiles that the hand aimed for lacks."""
    return plan.shift is None and not plan.open and plan.second is None and _few(plan.aim[0])


def so_many(number: int, kind: Kind) -> str:
    """`a 3 crak`, `two 3 craks`."""
    return a(kind) if number == 1 else f"{in_words(number)} {_plural(kind)}"


def _turned(plan: Plan) -> str:
    """That the aim is another one, and why."""
    shift, lead = plan.shift, plan.aim[0]
    assert shift is not None
    old = listed(shift.before) if len(shift.before) < MOST_OLD else f"{shift.before[0]} and the others"
    new = listed(plan.names)
    if shift.why is Turning.LOST:
        return f"Turn from {old} to {new}: {shift.before[0]} can no longer be made."
    if shift.why is Turning.NEARER:
        return (
            f"Turn from {old} to {new}: {lead.hand.name} needs {so_many_tiles(lead.missing)} now, "
            f"{shift.before[0]} {in_words(shift.missing)}."
        )
    return f"Turn from {old} to {new}: {_why_better(plan, shift)}."


def _why_better(plan: Plan, shift: Shift) -> str:
    """Why the new aim is better than the old one, which needs no more tiles."""
    lead, old = plan.aim[0], shift.before[0]
    new, tile = lead.hand.name, name(shift.kind)
    here, its = (new, f"groups of {new}") if plan.open else ("it", "its groups")
    if lead.missing == shift.missing:
        needs = f"{new} and {old} need {so_many_tiles(lead.missing)} each"
    else:
        needs = f"{new} needs {so_many_tiles(lead.missing)} and {old} {in_words(shift.missing)}"
    match shift.why:
        case Turning.CAME:
            return f"the {tile} that came serves {here} and not {old}"
        case Turning.GONE:
            more = "one more has" if shift.here == 1 else f"{in_words(shift.here)} more have"
            return f"{old} lacks {so_many(shift.there, shift.kind)}, and {more} gone"
        case Turning.CALLED:
            return f"{its} may be called, while {old} is concealed"
        case Turning.JOKERS:
            only = "none" if not shift.there else f"only {in_words(shift.there)}"
            return f"{needs}, but jokers may fill {in_words(shift.here)} for {new} and {only} for {old}"
        case Turning.HELPED:
            return f"{needs}, but {in_words(shift.here)} unseen tiles help {new} and only {in_words(shift.there)} {old}"
        case Turning.WAYS:
            most, ways = so_many_tiles(lead.missing), f"{in_words(shift.here)} ways"
            return f"{here} can be made in {ways} with {most} or fewer, {old} in {in_words(shift.there)}"
        case Turning.PAYS:
            return f"{needs}, but {new} pays {shift.here} points and {old} {shift.there}"
    return f"{'their' if plan.open else 'its'} tiles are likelier to come now"


def _slight(plan: Plan) -> bool:
    """Whether all that the hands of a plan have in common is one tile of the rack."""
    return len(plan.shared) == 1 and plan.shared[0][1] == 1


def _ties(plan: Plan) -> str:
    """What the hands of a plan have in common, or how far each is."""
    several = plan.aim if plan.open else plan.targets
    if plan.shared and not _slight(plan):
        every = "both" if len(several) == 2 else "all " + in_words(len(several))
        tiles = [name(kind) if number == 1 else _plural(kind) for kind, number in plan.shared[:MOST_NAMED]]
        return f"{every} use your {listed(tiles)}"
    shares = f", and they share only your {name(plan.shared[0][0])}" if plan.shared else ""
    if not plan.open:
        first, second = several
        needs = f"it needs {so_many_tiles(first.missing)}, {second.hand.name} {in_words(second.missing)}"
        return f"{_far(several) if first.missing == second.missing else needs}{shares}"
    if shares:
        return f"{_far(several)}{shares}"
    far = [one.missing for one in several]
    if max(far) - min(far) > 1:
        return f"{_far(several)}, but come about as soon"
    ahead = "none" if len(several) > 2 else "neither"
    return f"{_far(several)}, and {ahead} is ahead yet"


def _far(several: Sequence[Aim]) -> str:
    """How many tiles several hands need: `each needs eight tiles`, `they need eight and nine tiles`."""
    needs = [one.missing for one in several]
    if len(set(needs)) == 1:
        return f"each needs {so_many_tiles(needs[0])}"
    return f"they need {listed([in_words(number) for number in needs])} tiles"


def why_let_go(plan: Plan, kind: Kind, held: int, cost: float | None) -> str:
    """Why the tile to let go may go; `cost` is what the next best tile costs, None if there is no other."""
    targets = named_in_aim(plan)
    users = [one for one in targets if one.uses(kind, held)]
    tile = name(kind)
    if kind == JOKER:
        return "No joker may stand in a pair or a single, so one can go."
    if not users and not any(one.needs[kind] for one in targets):
        if len(targets) == 1:
            return f"It has no use for {_the(kind, held)}."
        return f"{'Neither' if len(targets) == 2 else 'None of them'} has a use for {_the(kind, held)}."
    if not users:
        who = "it" if len(targets) == 1 else "either" if len(targets) == 2 else "any of them"
        return f"One {tile} is more than {who} needs."
    if len(users) < len(targets):
        return f"{sentence(_the(kind, held))} serves only {listed([one.hand.name for one in users])}."
    if all(_jokers_stand_in(one, kind) for one in users):
        return f"Your jokers can stand in for {_the(kind, held)}."
    if cost is not None and cost > 0:
        return f"{sentence(_the(kind, held))} has its use too, but every other tile costs more to lose."
    return f"{sentence(_the(kind, held))} has its use too, but no tile costs less to lose."


def _jokers_stand_in(one: Aim, kind: Kind) -> bool:
    """Whether the rack's jokers fill all that is missing of a hand's larger groups, so that it misses no more tiles
    without one of the kind."""
    return one.unfilled == 0 and not any(gap.strict and gap.kind == kind for gap in one.gaps)


def say_watch(plan: Plan) -> str:
    """The bottleneck: what decides between open hands, or the tile that is hardest to get."""
    if plan.nearer is not None and plan.shift is None:
        away = f"{plan.nearer.hand.name} is nearer, {so_many_tiles(plan.nearer.missing)} away"
        return f"{away}, but concealed: only its last tile may be called."
    if takes_luck(plan):
        return _luck(plan)
    if plan.open and plan.decides:
        first, *rest = zip(plan.decides, plan.names, strict=True)
        said = [f"{_more(first[0], plan)} speaks for {first[1]}"]
        said += [f"{_more(kind, plan)} for {hand}" for kind, hand in rest]
        return f"{sentence(listed(said))}."
    lead = plan.aim[0]
    needed = _to_come(lead)
    scarce = [gap for gap in needed if gap.strict or gap.unseen - gap.number <= gap.number]
    gap = min(scarce, key=lambda gap: gap.unseen - gap.number - gap.strict, default=None)
    if gap is not None:
        return _still_scarce(lead, gap) if _named_what_lacks(plan) else _scarce(lead, gap)
    if lead.jokers and lead.gaps and all(not gap.strict for gap in lead.gaps):
        return "All that is missing belongs to larger groups, so jokers help with it."
    return ""


def takes_luck(plan: Plan) -> bool:
    """Whether the hand aimed for is far off; where tiles may be called, one in three draws is not too much to hope."""
    lead = plan.aim[0]
    far = lead.odds < LUCK and lead.missing > NEAR
    return far and (not plan.calls or ONE_IN * lead.missing > plan.draws)


def _luck(plan: Plan) -> str:
    """That the hand aimed for is far off for the draws that are left, and what is hardest about it."""
    lead, draws, start = plan.aim[0], in_words(plan.draws), "It will take luck:"
    alone = plan.second is None and not plan.open and plan.shift is None
    strict, real = lead.strict_missing, in_words(lead.strict_missing)
    if not plan.calls:
        which = f"all {draws}" if plan.draws == lead.missing else f"{in_words(lead.missing)} of the {draws}"
        said = f"{start} {which} tiles to come must serve {'it' if alone else lead.hand.name}"
        some = "any" if strict == lead.missing else real
        return f"{said}, and no joker helps with {some} of them." if strict and lead.jokers else f"{said}."
    lacks = f"all the tiles that {'it' if alone else lead.hand.name} lacks"
    if not strict:
        return f"It will take luck, though {lacks} may be called."
    place = "a pair or single" if strict == 1 else "pairs and singles"
    if strict < lead.missing:
        lacks = f"of {lacks.removeprefix('all ')}, {real}"
    return f"{start} {lacks} {'is' if strict == 1 else 'are'} for {place}, which can be called only as the last tile."


def _more(kind: Kind, plan: Plan) -> str:
    """`a 3 bam`, or `another 3 bam` where the rack has some for the hand already."""
    return f"another {name(kind)}" if any(one.held(kind) for one in plan.aim) else a(kind)


def _still_scarce(lead: Aim, gap: Gap) -> str:
    """How much is left of a tile that the hand lacks, as was said before, and what jokers can do for it."""
    left = f"{_have(gap.gone)} gone, {are(gap.unseen)} unseen" if gap.gone else f"{are(gap.unseen)} unseen"
    start, filled = f"Watch for the {name(gap.kind)}:", lead.jokers_in
    jokers = "your jokers" if filled > 1 else "your joker" if filled else "jokers"
    if not lead.jokers:
        return f"{start} {left}."
    if gap.strict:
        return f"{start} no joker may stand in for it; {left}."
    if not gap.unseen:
        return f"Watch for jokers: no other {name(gap.kind)} is left."
    if filled and lead.room == gap.number:
        return f"{start} {left}."
    if gap.unseen < gap.number:
        gone = f"{_have(gap.gone)} gone and " if gap.gone else ""
        return f"{start} {gone}only {are(gap.unseen)} unseen, so {jokers if filled else 'a joker'} must help."
    return f"{start} {left}, and {jokers} may fill in."


def _scarce(lead: Aim, gap: Gap) -> str:
    """What a hand lacks most, how much of it is left, and what jokers can do for it."""
    left = f"{_have(gap.gone)} gone, {are(gap.unseen)} unseen" if gap.gone else f"{are(gap.unseen)} unseen"
    start = f"Watch for the {name(gap.kind)}: {lead.hand.name}"
    if gap.strict:
        place = where(gap.size, gap.number)
        return f"{start} needs {in_words(gap.number)} {place}{no_joker(lead)}; {left}."
    group = size_name(gap.size)
    lacks = f"lacks {in_words(gap.number)} in its {group}"
    if not gap.unseen:
        return f"Watch for jokers: {lead.hand.name} {lacks} of {_plural(gap.kind)}, and no other is left."
    lacks = f"{start} {f'needs a whole {group}' if gap.number == gap.size else lacks}"
    filled = lead.jokers_in
    if filled and lead.room == gap.number:
        own = "your joker fills" if filled == 1 else f"your {in_words(filled)} jokers fill"
        return f"{lacks}, and {own} {in_words(filled)} of {in_words(gap.number)}; {left}."
    jokers = "your jokers" if filled > 1 else "your joker" if filled else "jokers"
    if gap.unseen < gap.number:
        gone = f"{_have(gap.gone)} gone and " if gap.gone else ""
        return f"{lacks}; {gone}only {are(gap.unseen)} unseen, so {jokers if filled else 'a joker'} must help."
    return f"{lacks}; {left}, and {jokers} may fill in." if lead.jokers else f"{lacks}; {left}."


def no_joker(one: Aim) -> str:
    """That a single or a pair takes no joker; empty where no joker can come any more."""
    return ", where no joker may stand" if one.jokers else ""


def where(size: int, number: int) -> str:
    """The place of so many tiles of a kind in groups of a size where no joker may stand."""
    return f"in a {size_name(size)}" if size > 1 else "as a single" if number == 1 else "as singles"


def a(kind: Kind) -> str:
    """`a 3 crak`, `an 8 bam`, `an east wind`."""
    said = name(kind)
    return f"{'an' if said[0] in '8eaiou' else 'a'} {said}"


def _the(kind: Kind, held: int) -> str:
    return f"the {name(kind)}" if held == 1 else a(kind)


def _plural(kind: Kind) -> str:
    return f"{name(kind)}s"


def so_many_tiles(number: int) -> str:
    """`one tile`, `five tiles`."""
    return f"{in_words(number)} tile{'' if number == 1 else 's'}"


def are(number: int) -> str:
    """`none is`, `one is`, `three are`."""
    return "none is" if number == 0 else "one is" if number == 1 else f"{in_words(number)} are"


def _have(number: int) -> str:
    return "one has" if number == 1 else f"{in_words(number)} have"
