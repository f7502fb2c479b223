"""Drills in words: what is asked, how good the answer was and why, and why an item comes up."""

from __future__ import annotations

from datetime import date, datetime

from engine import words
from engine.advice.stats import ENOUGH
from engine.drills.grades import Grade, Skill
from engine.drills.laying import Judged, LayTask, Off, OffGroup, Stage
from engine.drills.may_i import Asked, MayTask, Trap
from engine.drills.rehearsal import FOR_A_PACE, OwnPace, Tally
from engine.drills.schedule import Due, Why
from engine.drills.which_hands import DRAWS, FEWEST, NAMED, WhichJudged, WhichTask
from engine.rules.sentences import fault_sentence
from engine.sheet.groups import Group, size_name
from engine.sheet.model import Hand
from engine.tiles import name, say_tiles
from game.play.practice.drilling import DrillTally
from game.words.practice.moments import PRAISE

SKILLS = {
    Skill.LAY: "Lay a hand",
    Skill.WHICH: "Which hands?",
    Skill.LET_GO: "Let one go",
    Skill.MAY_I: "May I?",
    Skill.RECALL: "From memory",
    Skill.FOLLOW: "Choose as they would",
    Skill.PASS: "One pass, again and again",
}
ABOUT = {
    Skill.LAY: "Lay a hand from loose tiles, then another way, then with a given tile in it.",
    Skill.MAY_I: "Yes or no: is this mahjong, may you call, may you expose?",
    Skill.WHICH: "A rack: name the hands it is most likely to make.",
    Skill.RECALL: "You see only the name of a hand: lay it from memory.",
    Skill.LET_GO: "A rack from a game under way: choose the tile that goes.",
    Skill.PASS: "The same moment of the passes, from many racks.",
    Skill.FOLLOW: "Over a strong player's shoulder: choose first, then see what they do and why.",
}
OWN_PACE = "Your own pace"
ANY_CLOCK = "The time is for all the passes of one deal. Rehearsals with and without a clock are counted apart."
FIXED = "Each time you are done in time, the next clock is shorter: five minutes, then four, three and two."


def group_words(group: Group) -> str:
    """`a pung of 5 dot`."""
    return f"a {size_name(group.size)} of {name(group.kind)}"


def groups_words(hand: Hand, groups: tuple[Group, ...]) -> str:
    """A variant as a sentence."""
    return f"{hand.name}: {words.listed([group_words(group) for group in groups])}."


def hold_words(hand: Hand) -> str:
    """Whether a hand may be exposed, in a sentence."""
    if hand.concealed:
        return f"{hand.name} is concealed: nothing of it may be exposed, and only its last tile may be called."
    return f"{hand.name} is open: its groups of three or more may be called."


# What is asked.


def lay_asked(task: LayTask, seen: bool = False) -> str:
    """What to lay; `seen` where the loose tiles are drawn beside it."""
    hand = task.hand
    where = f"{hand.name} (in {hand.section})"
    if task.stage is Stage.LOOSE:
        tiles = "these tiles" if seen else f"these tiles: {say_tiles(sorted(task.tiles))}"
        return f"Lay {where} from {tiles}. It asks for {hand.wording}."
    if task.stage is Stage.ANOTHER:
        return f"Lay {where} another way than before. You may take any tiles. It asks for {hand.wording}."
    if task.stage is Stage.FORCED and task.forced is not None:
        return f"Lay {where} with the {name(task.forced)} in it. You may take any other tiles."
    return f"From memory: lay {where}. You may take any tiles."


def which_asked(task: WhichTask, seen: bool = False) -> str:
    """A rack, and what to name; `seen` where the rack is drawn beside it."""
    asked = (
        f"Which {words.in_words(FEWEST)} or {words.in_words(NAMED)} hands are you most likely to make within "
        f"{words.in_words(DRAWS)} draws?"
    )
    return asked if seen else f"Your rack: {say_tiles(task.rack)}. {asked}"


def may_asked(task: MayTask, seen: bool = False) -> str:
    """A question to answer with yes or no; `seen` where the rack is drawn beside it."""
    if task.asked is Asked.OPEN:
        return f"May you expose a group of {task.hand.name}?"
    if task.asked is Asked.MAHJONG:
        return "Is this mahjong?" if seen else f"Is this mahjong? {say_tiles(task.rack)}."
    assert task.group is not None
    hold = "this rack" if seen else say_tiles(task.rack)
    return (
        f"You are going for {task.hand.name} and hold {hold}. Somebody lets the {name(task.group.kind)} go. "
        f"May you call it for {group_words(task.group)} and expose that?"
    )


def results_words(tally: DrillTally, timed: bool) -> str:
    """How a drill went so far: right answers of all of them."""
    clock = "by the clock" if timed else "without a clock"
    if not tally.answers:
        return f"Not done yet{' by the clock' if timed else ''}."
    near = f", {tally.near} nearly" if tally.near else ""
    few = "; too few to say more" if tally.answers < ENOUGH else f": {tally.right / tally.answers:.0%}"
    return f"{tally.right} right of {tally.answers} {clock}{near}{few}."


def ready_words(ready: date | None, today: date) -> str:
    """The day to be ready for, in a sentence."""
    if ready is None or ready < today:
        return "The next club evening, or the end of the season. Hands then come up in time for it."
    days = (ready - today).days
    when = "today" if days == 0 else f"in {words.count(days, 'day')}"
    return f"You want to be ready {when}: hands come up in time for it."


# How good it was.


def lay_told(task: LayTask, judged: Judged) -> list[str]:
    """What was right or off, and the hand as it should lie."""
    if not judged.off:
        return [PRAISE[Grade.RIGHT]]
    said = [PRAISE[judged.grade], *(off_words(one) for one in judged.off)]
    return [*said, groups_words(task.hand, judged.nearest.groups)]


def off_words(one: OffGroup) -> str:
    """One group that is off, as a sentence."""
    meant = "" if one.meant is None else group_words(one.meant)
    if one.place is None:
        return f"There is {meant} missing."
    place = words.ordinal(one.place + 1)
    said = {
        Off.SIZE: f"The {place} group has the right tile, but it should be {meant}.",
        Off.TILE: f"The {place} group has the right size, but it should be {meant}.",
        Off.GROUP: f"The {place} group should be {meant}.",
        Off.JOKER: f"The {place} group is {meant}, and a joker can't stand for a single or in a pair.",
        Off.MIXED: f"The tiles of the {place} group are not all alike; it should be {meant}.",
        Off.EXTRA: f"The {place} group is one too many.",
    }
    return said[one.off]


def which_told(task: WhichTask, judged: WhichJudged) -> list[str]:
    """How good the hands named are, and which would have been better."""
    best = [f"{reach.hand.name} ({words.odds(reach.odds)})" for reach in task.hands[:NAMED]]
    said = [PRAISE[judged.grade]]
    if judged.better:
        names = [f"{reach.hand.name} with {words.count(reach.missing, 'tile')} to come" for reach in judged.better]
        said.append(f"Likelier than a hand you named: {words.listed(names)}.")
    return [*said, f"Likeliest within {words.in_words(DRAWS)} draws, each gone for alone: {words.listed(best)}."]


def may_told(task: MayTask, grade: Grade) -> list[str]:
    """Right or not, and the rule behind it."""
    return [PRAISE[grade], f"{'Yes' if task.answer else 'No'}: {_because(task)}"]


def _because(task: MayTask) -> str:
    if task.asked is Asked.OPEN:
        return hold_words(task.hand)
    if task.asked is Asked.MAHJONG:
        if task.answer:
            return f"that is {task.hand.name}."
        return " ".join(fault_sentence(found) for found in task.faults)
    assert task.group is not None
    if task.trap is Trap.PAIR:
        return "a single or a pair is called only when it makes mahjong."
    if task.trap is Trap.CONCEALED:
        return hold_words(task.hand)
    if task.trap is Trap.TOO_FEW:
        return f"with it you still can't lay {group_words(task.group)}."
    return f"you hold the rest of {group_words(task.group)}, and {task.hand.name} is open."


# Why it comes up.


def due_words(due: Due, now: datetime) -> str:
    """What an item trains, and why it comes up."""
    return f"{SKILLS[Skill(due.item.skill)].rstrip('?')}: {_why(due, now, due.item.hand or 'this')}"


def why_words(due: Due, now: datetime) -> str:
    """Why an item comes up, as a sentence."""
    return words.sentence(_why(due, now, due.item.hand or f"“{SKILLS[Skill(due.item.skill)]}”"))


def _why(due: Due, now: datetime, hand: str) -> str:
    days = 0 if due.last is None else (now - due.last).days
    ago = "today" if days == 0 else f"{words.count(days, 'day')} ago"
    return {
        Why.NEW: f"you have not practised {hand} yet.",
        Why.MISSED: f"{hand} went wrong {ago}.",
        Why.FADING: f"you practised {hand} {ago}; by now it fades.",
        Why.READY: f"{hand} would fade before the day you want to be ready for.",
    }[due.why]


# Rehearsing the passes.


def pace_sentences(pace: OwnPace) -> list[str]:
    """Where the clock comes from at the player's own pace, or why there is none yet."""
    if pace.median is None or pace.allowance is None:
        done = words.count(pace.rehearsals, "rehearsal") if pace.rehearsals else "none"
        return [
            f"Your pace is taken from {words.count(FOR_A_PACE, 'rehearsal')} without a clock; you have done {done}. "
            "Until then the passes run without a clock."
        ]
    usual = f"Without a clock your usual time is {words.clock(pace.median)} minutes"
    done = words.count(pace.rehearsals, "rehearsal")
    return [
        f"{usual} (the median of {done}).",
        f"The next clock is set to {words.clock(pace.allowance)}. Each time you are in time, it gets a tenth shorter.",
    ]


def rehearsals_title(tally: Tally) -> str:
    """Which rehearsals a tally counts."""
    if tally.allowance is None:
        return "Without a clock"
    if tally.own:
        return f"At your own pace, {words.clock(tally.allowance)} minutes at last"
    return f"With {words.clock(tally.allowance)} minutes"


def rehearsals_sentences(tally: Tally) -> list[str]:
    """What a tally says, with what was counted; nothing is made of fewer than ten rehearsals."""
    said = [f"{words.sentence(words.count(tally.rehearsals, 'rehearsal'))}, {tally.passes} passes."]
    if tally.allowance is not None:
        said.append(f"Done in time: {tally.in_time} of {tally.rehearsals}.")
    said.append(f"Passes with no better choice: {tally.best} of {tally.passes}.")
    if tally.enough:
        cost = f", mean cost {words.picks(tally.picks)}" if tally.picks is not None else ""
        said.append(f"Mean time {words.clock(tally.seconds)}{cost}.")
    else:
        said.append("Too few to say a mean time or cost; ten are needed.")
    return said
