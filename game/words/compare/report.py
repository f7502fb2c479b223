"""What has become of a sheet, in sentences: hands kept, changed, new and gone, and what to unlearn."""

from __future__ import annotations

from collections.abc import Sequence

from engine.sheet.compare.changes import Change
from engine.sheet.compare.comparison import Because, Comparison, Drift, Paired, Unlearn
from engine.sheet.compare.racks import Temptation, racks
from engine.sheet.model import Hand
from engine.tiles import name, write_tiles
from engine.words import counted, listed
from game.words.compare.changed import change_words
from game.words.study import shape_words

FEW_RACKS = 3
"""Racks to practise on in the report."""
MOST_DRIFTS = 4
"""Tiles named as dearer, and as cheaper."""
MOST_SHAPES = 4
"""Orders of groups named as new, and as gone."""


def headline(comparison: Comparison) -> str:
    """How many hands are kept, changed, new and gone."""
    old, new = len(comparison.old.hands), len(comparison.new.hands)
    if len(comparison.kept) == old == new:
        return f"All {counted(old, 'hand')} are as they were."
    return (
        f"Of {counted(old, 'hand')}, {len(comparison.kept)} {_are(len(comparison.kept))} kept, "
        f"{len(comparison.changed)} {_are(len(comparison.changed))} changed and {len(comparison.gone)} "
        f"{_are(len(comparison.gone))} gone; {len(comparison.new_hands)} {_are(len(comparison.new_hands))} new."
    )


def change_short(change: Change) -> str:
    """A change as scripts read it, groups in the notation of sheet files: `points: 25, now 30`, its kind first."""
    return f"{change.what.value}: {change.old or 'none'}, now {change.new or 'none'}"


def changed_sentence(pair: Paired) -> str:
    """What has become of a changed hand."""
    return f"{pair.new.name}: {'; '.join(map(change_words, pair.changes))}."


def because(unlearn: Unlearn) -> str:
    """Why an old hand leads astray, in one sentence."""
    lost, ways = len(unlearn.lost), len(unlearn.hand.variants)
    match unlearn.because:
        case Because.GONE if unlearn.became:
            return "It has changed, and none of the old ways to make it is a hand now."
        case Because.GONE:
            return "It is gone, and none of the ways to make it is a hand now."
        case Because.PARTLY:
            return f"Of the {ways} ways to make it, {lost} {'is no hand' if lost == 1 else 'are no hands'} now."
        case Because.CONCEALED if lost == ways:
            return "It is concealed now: an exposed one is a dead hand."
        case Because.CONCEALED:
            return f"Of the {ways} ways to make it, {lost} may no longer be exposed."


def unlearn_sentence(unlearn: Unlearn) -> str:
    """The hand, why it leads astray, and where to turn."""
    turn = f"It is {unlearn.nearest.name} now" if unlearn.became else f"The nearest hand now is {unlearn.nearest.name}"
    if unlearn.became and unlearn.nearest.name == unlearn.hand.name:
        return f"{unlearn.hand.name}: {because(unlearn)}"
    return f"{unlearn.hand.name}: {because(unlearn)} {turn}."


def shape_sentences(comparison: Comparison) -> list[str]:
    """Orders of groups that came and went."""
    found = []
    for shapes, said in ((comparison.shapes_new, "New orders of groups"), (comparison.shapes_gone, "Orders gone")):
        if shapes:
            named = list(map(shape_words, shapes[:MOST_SHAPES]))
            if len(shapes) > MOST_SHAPES:
                named.append(f"and {len(shapes) - MOST_SHAPES} more")
            found.append(f"{said}: {'; '.join(named)}.")
    return found


def drift_sentences(comparison: Comparison) -> list[str]:
    """The tiles that got dearest and cheapest."""
    dearer = [drift for drift in comparison.drifts if drift.new_share > drift.old_share][:MOST_DRIFTS]
    cheaper = [drift for drift in comparison.drifts[::-1] if drift.new_share < drift.old_share][:MOST_DRIFTS]
    found = []
    if dearer:
        found.append(f"Dearer: {listed([_drift(drift, comparison) for drift in dearer], 'and')}.")
    if cheaper:
        found.append(f"Cheaper: {listed([_drift(drift, comparison) for drift in cheaper], 'and')}.")
    return found


def _drift(drift: Drift, comparison: Comparison) -> str:
    old, new = len(comparison.old.hands), len(comparison.new.hands)
    return f"{name(drift.kind)} (wanted in {drift.old.hands} of {old} hands, now in {drift.new.hands} of {new})"


def rack_sentence(temptation: Temptation) -> str:
    """A rack to practise on, and what it is about."""
    old, now = temptation.unlearn.hand.name, temptation.hand.name
    turn = f"turn to {now}" if old != now else f"look how {now} is made now"
    return f"{write_tiles(temptation.rack)} looks like the old {old}; {turn}."


def report(comparison: Comparison) -> list[str]:
    """All of it, a sentence or two a line, with a few racks to practise on."""
    old, new = comparison.old, comparison.new
    lines = [f"From {old.name}, season {old.season}, to {new.name}, season {new.season}.", headline(comparison)]
    parts: list[tuple[str, list[str]]] = [
        ("Changed hands, by their new names:", [changed_sentence(pair) for pair in comparison.changed]),
        ("", [f"New: {names_of(comparison.new_hands)}."] if comparison.new_hands else []),
        ("", [f"Gone: {names_of(comparison.gone)}."] if comparison.gone else []),
        ("", [*shape_sentences(comparison), *drift_sentences(comparison)]),
        ("To unlearn:", [unlearn_sentence(one) for one in comparison.unlearn]),
        ("Racks to practise on:", [rack_sentence(one) for one in racks(comparison, FEW_RACKS, seed=1)]),
    ]
    for heading, sentences in parts:
        if sentences:
            lines += ["", *([heading] if heading else []), *sentences]
    return lines


def names_of(hands: Sequence[Hand]) -> str:
    """The hands' names in a row."""
    return listed([hand.name for hand in hands], "and")


def _are(number: int) -> str:
    return "is" if number == 1 else "are"
