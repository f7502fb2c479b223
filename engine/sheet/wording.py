"""What may vary in a hand, in plain words made from its groups and clauses: "any five numbers in a row, one suit".

The words are made, never typed, and where two ways of putting it are open (is `x < y` an order that matters, or only a
way of saying that the two differ?) the variants decide.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from engine.sheet.clauses import Clause, Compare, variables
from engine.sheet.model import Group, Line
from engine.sheet.notation import DRAGON, RANK, SUIT_LETTERS, WIND, DragonOf, Number, Pattern, Season
from engine.sheet.variants import TooManyWaysError, Work, expand, letter_uses, ranks_allowed
from engine.sheet.wording_numbers import collection_text, names_by_place, numbers_text, steps_of
from engine.sheet.words import in_words, listed

AS_SHOWN = "just as shown"
_STEPS = 4_000
_ORDINALS = ("first", "second", "third")


@dataclass(frozen=True)
class _Said:
    """The words about one alternative: its numbers, its suits, its winds and dragons; each may be empty."""

    numbers: str
    suits: str
    honours: str

    def __str__(self) -> str:
        tiles = ", ".join(text for text in (self.numbers, self.suits) if text)
        return "; ".join(text for text in (tiles, self.honours) if text) or AS_SHOWN


def wording(lines: Sequence[Line], where: Sequence[Clause], season: str) -> str:
    """The words for a hand of these alternatives; "just as shown" when nothing may vary."""
    said: list[_Said] = []
    for line in lines:
        count = _count([line], where, season)
        if count != 0:  # an alternative that can't be made is not spoken of
            told = _Said("", "", "") if count == 1 else _line(lines, line, where, season)
            if told not in said:
                said.append(told)
    return _together(said)


def _together(said: list[_Said]) -> str:
    """Alternatives joined by "or", what they share said once."""
    if not said:
        return AS_SHOWN
    first = said[0]
    for field in ("numbers", "suits", "honours"):
        if all(replace(one, **{field: ""}) == replace(first, **{field: ""}) for one in said):
            texts = [getattr(one, field) for one in said]
            if all(texts) and not any("," in text for text in texts):
                return str(replace(first, **{field: listed(texts)}))
    return "; or ".join(map(str, said))


def _line(lines: Sequence[Line], line: Line, where: Sequence[Clause], season: str) -> _Said:
    patterns = line.patterns
    uses = letter_uses([pattern for each in lines for pattern in each.patterns], where)
    here = list(dict.fromkeys(letter for pattern in patterns for letter, _ in pattern.letters))
    clauses = _plainest(line, where, season)
    ranks = [letter for letter in here if uses[letter] == RANK]
    hidden = {
        letter: ranks_allowed((), where, letter) for letter in uses if uses[letter] == RANK and letter not in here
    }
    numbers = _numbers(patterns, ranks, clauses, hidden, season)
    honours = [
        _collection([letter for letter in here if uses[letter] == use], noun, clauses)
        for use, noun in ((WIND, "wind"), (DRAGON, "dragon"))
    ]
    suits, dragons = _suits(patterns, bool(numbers))
    return _Said(numbers, suits, listed([text for text in (*honours, dragons) if text], "and"))


def _count(lines: Sequence[Line], where: Sequence[Clause], season: str) -> int | None:
    """How many variants; None when there are too many to count here."""
    ways = _keys(lines, where, season)
    return None if ways is None else len(ways)


def _keys(lines: Sequence[Line], where: Sequence[Clause], season: str) -> set[tuple[Group, ...]] | None:
    try:
        return {variant.key for variant in expand(lines, where, season, work=Work(_STEPS))}
    except TooManyWaysError:
        return None


def _plainest(line: Line, where: Sequence[Clause], season: str) -> list[Clause]:
    """The clauses with every `x < y` that only says "different" turned into `x != y`, and without those that say
    nothing more than the others: both leave the line's variants as they are."""
    clauses = list(where)
    wanted = _keys([line], clauses, season)
    if wanted is None:
        return clauses
    for clause in where:
        if not isinstance(clause, Compare) or len(variables(clause)) != 2:
            continue
        place = clauses.index(clause)
        without = clauses[:place] + clauses[place + 1 :]
        if (
            set(variables(clause))
            <= {letter for other in without for letter in variables(other)}
            | {letter for pattern in line.patterns for letter, _ in pattern.letters}
            and _keys([line], without, season) == wanted
        ):
            clauses = without
            continue
        milder = [*clauses[:place], Compare(clause.left, "!=", clause.right), *clauses[place + 1 :]]
        if _keys([line], milder, season) == wanted:
            clauses = milder
    return clauses


def _numbers(
    patterns: Sequence[Pattern],
    ranks: Sequence[str],
    clauses: Sequence[Clause],
    hidden: dict[str, tuple[int, ...]],
    season: str,
) -> str:
    """Season digits, fixed numbers beside free ones, and the free ones."""
    texts = []
    if any(isinstance(pattern.tile, Season) for pattern in patterns):
        texts.append(f"the digits of {season}")
    if ranks:
        fixed = sorted({p.tile.offset for p in patterns if isinstance(p.tile, Number) and p.tile.variable is None})
        texts += [str(rank) for rank in fixed]
        texts.append(numbers_text([steps_of(patterns, clauses, letter) for letter in ranks], clauses, hidden))
    return listed(texts, "and")


def _collection(letters: Sequence[str], noun: str, clauses: Sequence[Clause]) -> str:
    """Winds or dragons that a letter stands for."""
    if not letters:
        return ""
    if len(letters) == 1:
        return f"any {noun}"
    return collection_text(letters, f"{noun}s", clauses, names_by_place(letters, {}))


def _suits(patterns: Sequence[Pattern], numbers: bool) -> tuple[str, str]:
    """The words for suits (their dragons included) and for dragons of suits that have no numbers."""
    tiles = [pattern.tile for pattern in patterns]
    own = list(dict.fromkeys(t.suit for t in tiles if isinstance(t, (Number, Season)) and t.suit in SUIT_LETTERS))
    fixed = list(dict.fromkeys(t.suit for t in tiles if isinstance(t, Number) and t.suit not in SUIT_LETTERS))
    dragons = list(dict.fromkeys(t.suit for t in tiles if isinstance(t, DragonOf) and t.suit in SUIT_LETTERS))
    lonely = [suit for suit in dragons if suit not in own]
    if not own:
        text = f"in {listed([f'{suit}s' for suit in fixed], 'and')}" if fixed and numbers else ""
        return text, ("", "any dragon", "any two different dragons", "the three dragons in any order")[len(lonely)]
    text = f"{in_words(len(own))} suit{'s' if len(own) > 1 else ''}"
    if fixed:
        text = f"{listed([f'{suit}s' for suit in fixed], 'and')} and any {text}"
    elif not numbers:
        text = "three suits in any order" if len(own) == 3 else f"any {text}"
    return text + _with_dragons(own, dragons) + _other_dragons(len(own), len(lonely)), ""


def _with_dragons(own: list[str], dragons: list[str]) -> str:
    """Which of the suits come with their own dragon."""
    places = [own.index(suit) for suit in dragons if suit in own]
    if not places:
        return ""
    if len(own) == 1:
        return " with its dragon"
    if len(places) == len(own):
        return ", each with its dragon"
    which = listed([_ORDINALS[place] for place in sorted(places)], "and")
    return f", the {which} with {'its dragon' if len(places) == 1 else 'their dragons'}"


def _other_dragons(own: int, lonely: int) -> str:
    if not lonely:
        return ""
    if lonely == 2:
        return " and the dragons of the other two"
    return " and the dragon of another" if own == 1 else " and the dragon of the third"
