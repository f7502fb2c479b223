"""How hands are shown to be read, as groups of tiles with tabs, and what is said about them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from engine.sheet.groups import Group, Variant, size_name
from engine.sheet.model import Hand, Line, Sheet
from engine.sheet.notation import SUIT_LETTERS, DragonOf, Number, Pattern, Season, Zero
from engine.sheet.study.finding import Finding
from engine.sheet.variants import expand
from engine.tiles import DRAGONS, SUITS, Kind, name, rank_of, suit_of
from engine.words import listed


@dataclass(frozen=True)
class ShownGroup:
    """So many tiles alike, and what stands on the tab over them."""

    size: int
    kind: Kind
    tab: str
    """A suit letter where the suit may vary, `0` for a white dragon that is a zero, else nothing."""


def sheet_words(sheet: Sheet, chosen: Sequence[str] | None) -> str:
    """The sheet that is set, and how many of its sections are played with. `chosen`: their names, None for all."""
    cut = f"{len(chosen)} of {len(sheet.sections)} sections" if chosen else "all sections"
    return f"{sheet.name} {sheet.season}, {cut}"


def shown_rows(sheet: Sheet, hand: Hand) -> tuple[tuple[ShownGroup, ...], ...]:
    """One row of groups for every alternative of the hand that the set can supply.

    The numbers are the lowest there are; the suits change from hand to hand, so that no suit letter has a colour of its
    own.
    """
    turn = next((place for place, one in enumerate(sheet.hands) if one is hand), 0)
    if len(hand.lines) == 1:
        return (_row(sheet, hand.lines[0], _sample(hand.variants, turn)),)
    rows: list[tuple[ShownGroup, ...]] = []
    for line in hand.lines:
        variants = expand((line,), hand.where, sheet.season)
        if variants:
            rows.append(_row(sheet, line, _sample(variants, turn + len(rows))))
    return tuple(rows)


def shown_variants(sheet: Sheet, hand: Hand) -> tuple[tuple[ShownGroup, ...], ...]:
    """Every variant of the hand as a row of groups, in the order of the hand's variants."""
    found: dict[tuple[Group, ...], tuple[ShownGroup, ...]] = {}
    for line in hand.lines:
        for variant in expand((line,), hand.where, sheet.season):
            found.setdefault(variant.key, _row(sheet, line, variant.groups))
    return tuple(found[variant.key] for variant in hand.variants)


def spoken_row(row: Sequence[ShownGroup]) -> str:
    """A row of groups for one who hears it: `pung of 5 bam in suit a; pair of flower`."""
    return "; ".join(_spoken(group) for group in row)


def _spoken(group: ShownGroup) -> str:
    suit = "" if not group.tab else ", the zero" if group.tab == "0" else f" in suit {group.tab}"
    return f"{size_name(group.size)} of {name(group.kind)}{suit}"


def _sample(variants: Sequence[Variant], turn: int) -> tuple[Group, ...]:
    """The groups of a variant with the numbers of the first one, in suits that change with the turn."""
    shape = _without_suits(variants[0])
    alike = [variant.groups for variant in variants if _without_suits(variant) == shape]
    leading = [groups for groups in alike if _first_suit(groups) == turn % len(SUITS)]
    chosen = leading or alike
    return chosen[turn // len(SUITS) % len(chosen)]


def _without_suits(variant: Variant) -> list[tuple[int, int]]:
    """Sizes and numbers, dragons counted as one; other tiles by their kind, below nothing."""
    return [
        (group.size, rank_of(group.kind) or (0 if group.kind in DRAGONS else -1 - group.kind))
        for group in variant.groups
    ]


def _first_suit(groups: Sequence[Group]) -> int | None:
    """The suit of the first number, as its place among the suits; None without a number."""
    return next((suit for group in groups if (suit := suit_of(group.kind)) is not None), None)


def _row(sheet: Sheet, line: Line, groups: tuple[Group, ...]) -> tuple[ShownGroup, ...]:
    tabs = [tab for pattern in line.patterns for tab in _tabs(pattern, sheet.season)]
    return tuple(ShownGroup(group.size, group.kind, tab) for group, tab in zip(groups, tabs, strict=True))


def laid_groups(laid: Sequence[tuple[Pattern, Sequence[Group]]], season: str) -> tuple[ShownGroup, ...]:
    """Groups with their tabs, of patterns that tiles were found for."""
    return tuple(
        ShownGroup(group.size, group.kind, tab)
        for pattern, groups in laid
        for group, tab in zip(groups, _tabs(pattern, season), strict=True)
    )


def _tabs(pattern: Pattern, season: str) -> list[str]:
    """A tab for each group that the pattern stands for."""
    match pattern.tile:
        case Season(suit=suit):
            letter = suit if suit in SUIT_LETTERS else ""
            return ["0" if digit == "0" else letter for digit in season]
        case Zero():
            return ["0"]
        case Number(suit=suit) | DragonOf(suit=suit):
            return [suit if suit in SUIT_LETTERS else ""]
    return [""] * pattern.groups(season)


def hold_words(hand: Hand) -> str:
    """Whether the hand may be exposed, in a word."""
    return "concealed" if hand.concealed else "open"


def finding_words(finding: Finding) -> str:
    """What hands are looked for, in words: `Concealed hands with a pung of 6 bam, from 30 points`."""
    held = {None: "Hands", True: "Concealed hands", False: "Open hands"}[finding.concealed]
    parts = []
    if finding.kind is not None:
        group = (
            group_words(Group(finding.size, finding.kind)).replace("the", "a", 1)
            if finding.size
            else f"the {name(finding.kind)}"
        )
        parts.append(f"with {group}")
    elif finding.size:
        parts.append(f"with a {size_name(finding.size)}")
    if finding.flowers is not None:
        parts.append("with flowers" if finding.flowers else "without flowers")
    if finding.least_points:
        parts.append(f"from {finding.least_points} points")
    return f"{held} {listed(parts)}" if parts else held


def hold_meaning(hand: Hand) -> str:
    """Whether the hand may be exposed, and what that means."""
    if hand.concealed:
        return "Concealed: nothing of it may be exposed. Only its last tile may be called, for mahjong."
    if all(not group.takes_jokers for variant in hand.variants for group in variant.groups):
        return "Open, but all singles and pairs: nothing can be called before the last tile, and no joker helps."
    return "Open: its groups of three or more may be called and exposed. Singles and pairs must be drawn."


def fixed_words(hand: Hand) -> str:
    """Which of its groups are the same in every variant."""
    shared = Counter(hand.variants[0].groups)
    for variant in hand.variants[1:]:
        shared &= Counter(variant.groups)
    if len(hand.variants) == 1:
        return "There is one way to make it."
    if not shared:
        return f"Nothing of it is fixed: all its groups move over {len(hand.variants)} ways."
    groups = list(dict.fromkeys(group_words(group) for group in shared.elements()))
    stay = "stays" if len(groups) == 1 else "stay"
    return f"In all {len(hand.variants)} ways {listed(groups)} {stay} as shown; the rest moves."


def group_words(group: Group) -> str:
    """`the pair of flowers`, `the single 5 dot`."""
    if group.size == 1:
        return f"the single {name(group.kind)}"
    return f"the {size_name(group.size)} of {name(group.kind)}s"
