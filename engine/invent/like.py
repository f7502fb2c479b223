"""The next season of a sheet: a share of its hands kept, a third changed in one thing each, the rest new."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from engine.invent.bounds import WHOLE
from engine.invent.dice import Dice
from engine.invent.draft import Draft, DraftSection, HandSlot
from engine.invent.idea import Idea
from engine.invent.themes import SMALL, THEMES, Theme
from engine.sheet.clauses import Clause, Parity, Reckon
from engine.sheet.model import Hand, Section, Sheet
from engine.sheet.notation import Dragon, DragonOf, EachDragon, EachWind, Flower, Number, Pattern, Season, Wind
from engine.sheet.variants import RANKS

CHANGED = 3
"""One hand in so many is changed."""
_LARGE = 5

Line = tuple[Pattern, ...]
Lines = tuple[Line, ...]
Where = tuple[Clause, ...]


def plan_like(dice: Dice, sheet: Sheet, season: str, kept: int) -> Draft:
    """The sections of a sheet with what becomes of each hand; `kept` is the share of those kept, in percent.

    A hand that the new season leaves no way to make is replaced. Raises ValueError for a share out of range.
    """
    if not 0 <= kept <= 100:
        raise ValueError(f"the share kept is {kept}%; choose 0 to 100")
    hands = sheet.hands
    order = dice.shuffled(range(len(hands)))
    keep = set(order[: (len(hands) * kept + 50) // 100])
    changing = set([place for place in order if place not in keep][: len(hands) // CHANGED])
    draft = Draft(season)
    place = 0
    for section in sheet.sections:
        theme = theme_of(section)
        part = DraftSection(theme, [], section.name)
        for hand in section.hands:
            part.slots.append(_slot(hand, season, theme, len(hands), place in keep, place in changing))
            place += 1
        draft.parts.append(part)
    return draft


def _slot(hand: Hand, season: str, theme: Theme, hands: int, kept: bool, changing: bool) -> HandSlot:
    slot = HandSlot(theme, WHOLE // hands, hand.concealed)
    idea = Idea(tuple(line.patterns for line in hand.lines), hand.where, season, hand.concealed)
    if not idea.variants:
        return slot
    if kept:
        slot.idea, slot.fixed, slot.name, slot.points = idea, True, hand.name, hand.points
    elif changing:
        slot.throw, slot.name = lambda dice, _: changed(dice, idea), hand.name
    return slot


def theme_of(section: Section) -> Theme:
    """What the hands of a section are about, told from what most of them hold; runs where nothing else stands out."""
    half = len(section.hands) / 2
    for sentence, found in _SIGNS:
        if sum(found(hand) for hand in section.hands) >= half:
            return next((theme for theme in THEMES if sentence in theme.sentence), SMALL)
    return THEMES[1]


def _any_tile(*kinds: type) -> Callable[[Hand], bool]:
    return lambda hand: any(isinstance(pattern.tile, kinds) for line in hand.lines for pattern in line.patterns)


_SIGNS: Sequence[tuple[str, Callable[[Hand], bool]]] = (
    ("Singles and pairs", lambda hand: all(p.size < 3 for line in hand.lines for p in line.patterns)),
    ("season", _any_tile(Season)),
    ("added or multiplied", lambda hand: any(isinstance(clause, Reckon) for clause in hand.where)),
    ("winds", _any_tile(Wind, EachWind)),
    ("dragons", _any_tile(Dragon, DragonOf, EachDragon)),
    ("stay as they are", lambda hand: not any(
        isinstance(p.tile, Number) and p.tile.variable for line in hand.lines for p in line.patterns
    )),
    ("Flowers", lambda hand: any(
        isinstance(p.tile, Flower) and p.size >= _LARGE - 1 for line in hand.lines for p in line.patterns
    )),
    ("Odd numbers", lambda hand: any(isinstance(clause, Parity) for clause in hand.where)),
)  # fmt: skip
"""Words of a theme's sentence, and what most hands of its section hold. The first that fits is taken."""


def changed(dice: Dice, idea: Idea) -> Idea | None:
    """The idea with one thing changed; None where that leaves it as it was or makes no hand."""
    lines, where = dice.pick(_CHANGES)(dice, idea.lines, idea.where)
    if (lines, where) == (idea.lines, idea.where):
        return None
    fixed = [p.tile.offset for line in lines for p in line if isinstance(p.tile, Number) and p.tile.variable is None]
    after = replace(idea, lines=lines, where=where)
    return after if all(rank in RANKS for rank in fixed) and after.variants else None


def _sizes_swapped(dice: Dice, lines: Lines, where: Where) -> tuple[Lines, Where]:
    """Two groups give each other their sizes, in every line alike."""
    one, other = dice.below(len(lines[0])), dice.below(len(lines[0]))
    after: list[Line] = []
    for line in lines:
        if max(one, other) >= len(line):
            return lines, where
        groups = list(line)
        groups[one], groups[other] = (
            replace(groups[one], size=groups[other].size),
            replace(groups[other], size=groups[one].size),
        )
        after.append(tuple(groups))
    return tuple(after), where


def _number_moved(dice: Dice, lines: Lines, where: Where) -> tuple[Lines, Where]:
    """One number moves up or down by one."""
    return _one_tile(dice, lines, lambda tile: replace(tile, offset=tile.offset + dice.pick((-1, 1)))), where


def _suit_changed(dice: Dice, lines: Lines, where: Where) -> tuple[Lines, Where]:
    """One number goes to another suit."""
    return _one_tile(dice, lines, lambda tile: replace(tile, suit=dice.pick("abc"))), where


def _one_tile(dice: Dice, lines: Lines, change: Callable[[Number], Number]) -> Lines:
    """One number of one line with its tile changed; the lines as they were where the group picked is no number."""
    which = dice.below(len(lines))
    place = dice.below(len(lines[which]))
    pattern = lines[which][place]
    if not isinstance(pattern.tile, Number):
        return lines
    groups = list(lines[which])
    groups[place] = replace(pattern, tile=change(pattern.tile))
    return (*lines[:which], tuple(groups), *lines[which + 1 :])


def _limit_changed(dice: Dice, lines: Lines, where: Where) -> tuple[Lines, Where]:
    """Odd becomes even or free; a free number becomes odd or even."""
    parities = [clause for clause in where if isinstance(clause, Parity)]
    if parities:
        others = tuple(clause for clause in where if clause != parities[0])
        turned = replace(parities[0], odd=not parities[0].odd)
        return lines, others if dice.once_in(2) else (*others, turned)
    free = {p.tile.variable for line in lines for p in line if isinstance(p.tile, Number) and p.tile.variable}
    if len(free) != 1 or where:
        return lines, where
    return lines, (Parity(free.pop(), dice.once_in(2)),)


_CHANGES = (_sizes_swapped, _number_moved, _suit_changed, _limit_changed)
