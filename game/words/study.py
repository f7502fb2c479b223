"""What a teacher says about a sheet: a sentence or two for each remark, and which of them to say."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from engine.sheet.groups import size_name
from engine.sheet.study.counts import Shape, Study
from engine.sheet.study.remarks import (
    CloseHands,
    CommonShape,
    Concealed,
    CountsForMore,
    FlowersWanted,
    HonoursHome,
    LeastWanted,
    MidRun,
    MostWanted,
    NarrowAndWide,
    NeedsJoker,
    NoJokerHelps,
    Remark,
    SeasonPress,
    SuitsNeeded,
    SumsPress,
    Unwanted,
    remarks,
)
from engine.sheet.variants import RANKS
from engine.tiles import DRAGONS, WINDS, name
from engine.words import counted, in_words, listed

FEW = 10
"""Sentences that a first look at a sheet takes in."""
NAMED = 4
"""Hands named in one sentence; of more, their number is said."""


def sentences(study: Study, number: int = FEW) -> tuple[str, ...]:
    """The most telling sentences about a sheet, at most so many."""
    return tuple(map(sentence_of, remarks(study)[:number]))


def report(study: Study) -> list[str]:
    """The whole study, a sentence or two a line."""
    sheet = study.sheet
    ranks = sorted(((len(study.wanting_rank(rank)), rank) for rank in RANKS), key=lambda pair: (-pair[0], pair[1]))
    honours = [f"{name(kind)} in {study.tiles[kind].hands}" for kind in (*WINDS, *DRAGONS)]
    lines = [
        f"{sheet.name}, season {sheet.season}: {counted(study.hands, 'hand')}, which can be made in "
        f"{counted(study.variants, 'way')}.",
        "",
        *sentences(study),
        "",
        f"Numbers, by the hands that want them: {listed([f'{rank} in {hands}' for hands, rank in ranks], 'and')}.",
        f"Winds and dragons, likewise: {listed(honours, 'and')}.",
    ]
    if study.flowers:
        groups = [f"{_flower_group(size)} in {hands}" for size, hands in study.flowers.items()]
        lines.append(f"Flowers, by the hands that want them: {listed(groups, 'and')}.")
    suits = [
        f"{counted(hands, 'hand')} with {in_words(number) if number else 'none'}"
        for number, hands in study.suits.items()
    ]
    lines += [
        f"Suits that the numbers of a hand may need: {listed(suits, 'and')}.",
        f"Orders of groups: {'; '.join(f'{shape_words(shape)} in {hands}' for shape, hands in study.shapes)}.",
        "",
        *(
            f"{section.name}: {counted(len(section.hands), 'hand')}, "
            f"{counted(sum(len(hand.variants) for hand in section.hands), 'way')}."
            for section in sheet.sections
        ),
    ]
    return lines


def sentence_of(remark: Remark) -> str:
    """A remark in plain words."""
    match remark:
        case MostWanted(rank, hands, sections):
            return f"{rank} is wanted in {counted(hands, 'hand')} of {_sections(sections)}, more than any other number."
        case SumsPress(rank, hands, sections, size):
            return (
                f"{rank} is wanted in {counted(hands, 'hand')} of {_sections(sections)}; in the sums it comes "
                f"{in_words(size)} at a time, so it will be short."
            )
        case SeasonPress():
            return _season(remark)
        case LeastWanted(rank, hands):
            return f"{rank} is the number that fewest hands want: {hands}. All else being equal, let it go first."
        case MidRun(rank, variants, of):
            return (
                f"{rank} stands in {variants:,} of the {of:,} ways to make a run of three or more, more than any other "
                "number: keep it while you look for a run."
            )
        case FlowersWanted(hands, of, size, with_size):
            return f"Flowers are wanted in {_of(hands, of)}, most often {_flower_group(size)}: {with_size}. " + (
                "No joker stands in for those, so keep the flowers you get." if size < 3 else "Jokers may help there."
            )
        case NoJokerHelps(hands):
            return f"No joker can help in {_named(hands)}: {_they(hands, 'is', 'are')} all singles and pairs."
        case NeedsJoker(hands):
            return (
                f"{_named(hands)} can't be made without a joker: {_they(hands, 'takes', 'take')} more of a tile "
                "than the set holds."
            )
        case Concealed(hands, of):
            return (
                f"{_of(hands, of)} {'is' if hands == 1 else 'are'} concealed: for {_it(hands)}, call nothing "
                "but the last tile."
            )
        case CommonShape(shape, hands, of):
            return f"The commonest order of groups is {shape_words(shape)}: {hands} of {counted(of, 'hand')} have it."
        case SuitsNeeded(one, three, of):
            return (
                f"Of {counted(of, 'hand')}, {one} can be made with the numbers of one suit, and {three} "
                f"{'needs' if three == 1 else 'need'} all three suits."
            )
        case HonoursHome(winds, hands, of, section, at_home):
            tiles = "Winds" if winds else "Dragons"
            return (
                f"{tiles} are wanted in {hands} of {counted(of, 'hand')}, and {at_home} of those stand in {section}: "
                "if you don't play there, they are the first to pass."
            )
        case Unwanted(kinds):
            return f"No hand of this sheet needs the {listed([name(kind) for kind in kinds])}."
        case NarrowAndWide(narrow, ways, wide, most):
            return (
                f"{narrow} can be made in {counted(ways, 'way')} only; {wide}, in {most:,}, leaves you the most to "
                "choose from."
            )
        case CloseHands(one, other, tiles):
            return (
                f"{one} and {other} can share {tiles} of their 14 tiles, more than any other two hands: go for both, "
                "and decide late."
            )
        case CountsForMore(kind, hands, made):
            return (
                f"{hands:.0%} of the hands want the {name(kind)}, but {made:.0%} of the hands that come off need it: "
                "it is worth more than it seems."
            )


def _season(remark: SeasonPress) -> str:
    tile = str(remark.digit) if remark.digit else "white dragon"
    digits = f"{in_words(remark.times)} {tile}s" if remark.times > 1 else f"{'a' if remark.digit else 'the'} {tile}"
    if remark.digit == 8 and remark.times == 1:
        digits = "an 8"
    inside = counted(remark.inside, "hand") + (" needs" if remark.inside == 1 else " need")
    if not remark.outside:
        return f"The season has {digits}, which {inside}; no other hand wants it."
    return (
        f"The season has {digits}, which {inside}; {remark.outside} other{'s' if remark.outside > 1 else ''} in "
        f"{_sections(remark.sections)} {'wants' if remark.outside == 1 else 'want'} {tile} too"
        + (", so it will be sought after." if remark.times > 1 else ".")
    )


def shape_words(shape: Shape) -> str:
    """`two pungs, a kong and a pair`, in the order of the groups."""
    runs = [(size, len(list(run))) for size, run in groupby(shape)]
    return listed([f"{'a' if times == 1 else in_words(times)} {_sizes(size, times)}" for size, times in runs], "and")


def _sizes(size: int, times: int) -> str:
    return size_name(size) + ("" if times == 1 else "es" if size_name(size).endswith("x") else "s")


def _flower_group(size: int) -> str:
    return "as a single" if size == 1 else f"as a {size_name(size)}"


def _sections(number: int) -> str:
    return counted(number, "section")


def _named(hands: Sequence[str]) -> str:
    return (
        listed(hands, "and") if len(hands) <= NAMED else f"{len(hands)} hands ({hands[0]} and {hands[-1]} among them)"
    )


def _they(hands: Sequence[str], one: str, more: str) -> str:
    return f"it {one}" if len(hands) == 1 else f"they {more}"


def _of(hands: int, of: int) -> str:
    return f"{hands} of {counted(of, 'hand')}"


def _it(hands: int) -> str:
    return "it" if hands == 1 else "these"
