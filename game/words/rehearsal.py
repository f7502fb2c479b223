"""What is said about rehearsing the passes: where the clock comes from, and how it went so far."""

from __future__ import annotations

from engine import words
from engine.drills.rehearsal import FOR_A_PACE, Pace, Tally
from engine.words import clock

OWN_PACE = "Your own pace"
ANY_CLOCK = "The time is for all the passes of one deal. Rehearsals with and without a clock are counted apart."
FIXED = "Each time you are done in time, the next clock is shorter: five minutes, then four, three and two."


def pace_sentences(pace: Pace) -> list[str]:
    """Where the clock comes from at the player's own pace, or why there is none yet."""
    if pace.median is None or pace.allowance is None:
        done = words.count(pace.rehearsals, "rehearsal") if pace.rehearsals else "none"
        return [
            f"Your pace is made of {words.count(FOR_A_PACE, 'rehearsal')} without a clock; you have done {done}. "
            "Until then the passes run without a clock."
        ]
    usual = f"Without a clock your usual time is {clock(pace.median)} minutes"
    done = words.count(pace.rehearsals, "rehearsal")
    return [
        f"{usual} (the median of {done}).",
        f"The next clock is set to {clock(pace.allowance)}. Each time you are done in time, it gets a tenth less.",
    ]


def tally_title(tally: Tally) -> str:
    """Which rehearsals a tally counts."""
    if tally.allowance is None:
        return "Without a clock"
    if tally.own:
        return f"At your own pace, {clock(tally.allowance)} minutes at last"
    return f"With {clock(tally.allowance)} minutes"


def tally_sentences(tally: Tally) -> list[str]:
    """What a tally says, with what was counted; nothing is made of fewer than ten rehearsals."""
    said = [f"{words.sentence(words.count(tally.rehearsals, 'rehearsal'))}, {tally.passes} passes."]
    if tally.allowance is not None:
        said.append(f"Done in time: {tally.in_time} of {tally.rehearsals}.")
    said.append(f"Passes that no choice would have bettered: {tally.best} of {tally.passes}.")
    if tally.enough:
        cost = f", mean cost {words.picks(tally.picks)}" if tally.picks is not None else ""
        said.append(f"Mean time {clock(tally.seconds)}{cost}.")
    else:
        said.append("Too few to say a mean time or cost; ten are needed.")
    return said
