"""One plain sentence for a choice before play, said from the odds before and after it and from nothing else."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from engine.advice.reasons import costs
from engine.sheet.words import in_words, listed
from engine.tiles import Kind, say_tiles

NEAREST = 5
"""A sentence looks at so many hands, best odds first."""
FELT = 0.01
"""A fall of odds that is worth a word."""
NOTHING = 0.0005
"""A fall that rounds to nothing."""


def why_pass(before: Mapping[str, float], after: Mapping[str, float], best: bool) -> str:
    """Which of the nearest hands a pass hurts and which it keeps; odds before and after by hand, best first."""
    nearest = sorted(before, key=lambda hand: -before[hand])[:NEAREST]
    if not nearest:
        return "No hand is in reach yet, so any three will do."
    fall = {hand: before[hand] - after.get(hand, 0.0) for hand in nearest}
    hurt = [hand for hand in nearest if fall[hand] >= FELT]
    kept = [hand for hand in nearest if fall[hand] < NOTHING]
    gone = [hand for hand in before if hand not in after]
    said = []
    if not hurt:
        if len(nearest) == 1:
            said.append(f"{nearest[0]}, the one hand in reach, loses nothing to speak of")
        else:
            said.append(f"None of your {in_words(len(nearest))} nearest hands loses a point by it")
    else:
        most = max(hurt, key=lambda hand: fall[hand])
        said.append(f"{most} falls from {_odds(before[most])} to {_odds(after.get(most, 0.0))}")
        if len(hurt) > 1:
            others = listed([hand for hand in hurt if hand != most], "and")
            said[-1] += f", and {others} {'falls' if len(hurt) == 2 else 'fall'} too"
        if kept:
            said.append(f"{listed(kept, 'and')} {'keeps' if len(kept) == 1 else 'keep'} all")
    if gone:
        said.append(f"{listed(gone[:2], 'and')}{' and others' if len(gone) > 2 else ''} can’t be made any more")
    tail = ". Nothing better was found." if best and hurt else "."
    return "; ".join(said) + tail


def why_blind(number: int, gain: float) -> str:
    """Whether to pass on tiles unseen, and what it gains."""
    if number == 0:
        return "Passing on unseen tiles would gain nothing: there are three to spare."
    tiles = "one tile" if number == 1 else f"{in_words(number)} tiles"
    return f"Passing on {tiles} unseen keeps {_points(gain)} more than the best three from the rack."


def why_round(go: float, stop: float) -> str:
    """Whether to play the second round: three passes more against what the rack is worth now."""
    if go > stop:
        return (
            f"Going on is worth {_points(go - stop)} more than stopping: nine more tiles to look at for three that go."
        )
    return f"Stopping is worth {_points(stop - go)} more: the rack has no three tiles to spare."


def why_courtesy(number: int, give: Sequence[Kind], worths: Mapping[int, float]) -> str:
    """How many to exchange across, against the next best number."""
    if len(worths) == 1:
        return f"Give {say_tiles(give)}: the rack is worth most without {'it' if len(give) == 1 else 'them'}."
    others = [worth for other, worth in worths.items() if other != number]
    ahead = worths[number] - max(others) if others else 0.0
    margin = f"{_points(ahead)} more than any other number" if ahead > NOTHING else "as much as any other number"
    if number == 0:
        return f"Ask for none: the rack as it is is worth {margin}."
    return f"Ask for {in_words(number)} and give {say_tiles(give)}: that is worth {margin}."


def _points(value: float) -> str:
    return costs(value).removeprefix("costs ").removesuffix(" of odds")


def _odds(value: float) -> str:
    if 0 < value < 0.005:
        return "under 1%"
    if 0.995 < value < 1:
        return "over 99%"
    return f"{value:.0%}"
