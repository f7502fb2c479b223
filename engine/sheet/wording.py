"""What may vary in a hand, in plain words made from its groups and clauses: "any five numbers in a row, one suit".

The words are made, never typed, and where two ways of putting it are open (is `x < y` an order that matters, or only a
way of saying that the two differ?) the variants decide.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from engine.sheet.clauses import Clause, Compare, variables
from engine.sheet.groups import Group
from engine.sheet.model import Line
from engine.sheet.notation import DRAGON, RANK, SUIT_LETTERS, WIND, DragonOf, Number, Pattern, Season
from engine.sheet.variants import StepsLeft, TooManyWaysError, expand, letter_uses
from engine.sheet.wording_numbers import collection_text, hidden_letter, names_by_place, numbers_text, steps_of
from engine.words import in_words, listed, ordinal

AS_SHOWN = "just as shown"
_STEPS = 20_000  # beyond so much trying, clauses are told as they are written


@dataclass(frozen=True)
class _Said:
    """The words about one alternative: its numbers, its suits, its winds and dragons; each may be empty."""

    numbers: str
    suits: str
    honours: str

    def __str__(self) -> str:
        tiles = ", ".join(text for text in (self.numbers, self.suits) if text)
        return "; ".join(text for text in (tiles, self.honours) if text) or AS_SHOWN


def wording(lines: Sequence[Line], where: Sequence[Clause], season: str, work: StepsLeft | None = None) -> str:
    """The words for a hand of these alternatives; "just as shown" when nothing may vary. `work` bounds the trying."""
    work = work or StepsLeft(_STEPS)
    said: list[_Said] = []
    for line in lines:
        ways = _keys(line, where, season, work)
        if ways is None or ways:  # an alternative that can't be made is not spoken of
            alone = ways is not None and len(ways) == 1
            told = _Said("", "", "") if alone else _Teller(lines, line, where, season, work, ways).said()
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
                return str(replace(first, **{field: listed(texts, "or")}))
    return "; or ".join(map(str, said))


def _keys(line: Line, where: Sequence[Clause], season: str, work: StepsLeft) -> set[tuple[Group, ...]] | None:
    """What tells the variants of one alternative apart; None when there are too many to try here."""
    try:
        return {variant.key for variant in expand([line], where, season, work=work)}
    except TooManyWaysError:
        return None


class _Teller:
    """Finds the words for one alternative."""

    def __init__(
        self,
        lines: Sequence[Line],
        line: Line,
        where: Sequence[Clause],
        season: str,
        work: StepsLeft,
        ways: set[tuple[Group, ...]] | None,
    ) -> None:
        self._line = line
        self._season = season
        self._work = work
        self._uses = letter_uses([pattern for each in lines for pattern in each.patterns], where)
        self._here = list(dict.fromkeys(letter for pattern in line.patterns for letter, _ in pattern.letters))
        self._clauses = self._plainest(list(dict.fromkeys(where)), ways)

    def said(self) -> _Said:
        """The words."""
        numbers = self._numbers()
        winds, dragons = self._collection(WIND), self._collection(DRAGON)
        suits, suit_dragons = _suits(self._line.patterns, bool(numbers))
        honours = [text for text in (winds, dragons, suit_dragons) if text]
        plain = not any("," in text for text in honours)
        return _Said(numbers, suits, listed(honours) if plain else "; ".join(honours))

    def _letters(self, use: str) -> list[str]:
        return [letter for letter in self._here if self._uses[letter] == use]

    def _plainest(self, clauses: list[Clause], wanted: set[tuple[Group, ...]] | None) -> list[Clause]:
        """The clauses with every `x < y` that only says "different" turned into `x != y`, and without comparisons
        that say nothing more than the others: neither changes the line's variants."""
        for clause in list(clauses) if wanted is not None else []:
            if not isinstance(clause, Compare) or len(variables(clause)) != 2:
                continue
            place = clauses.index(clause)
            without = clauses[:place] + clauses[place + 1 :]
            milder = [*clauses[:place], Compare(clause.left, "!=", clause.right), *clauses[place + 1 :]]
            for plainer in (without, milder):
                if _keys(self._line, plainer, self._season, self._work) == wanted:
                    clauses = plainer
                    break
        return clauses

    def _numbers(self) -> str:
        """Season digits, fixed numbers beside free ones, and the free ones."""
        tiles = [pattern.tile for pattern in self._line.patterns]
        texts = [f"the digits of {self._season}"] if any(isinstance(tile, Season) for tile in tiles) else []
        letters = self._letters(RANK)
        if letters:
            fixed = sorted({tile.offset for tile in tiles if isinstance(tile, Number) and tile.variable is None})
            texts += [str(rank) for rank in fixed]
            hidden = {
                letter: hidden_letter(letter, self._clauses)
                for letter, use in self._uses.items()
                if use == RANK and letter not in self._here
            }
            steps = [steps_of(self._line.patterns, self._clauses, letter) for letter in letters]
            texts.append(numbers_text(steps, self._clauses, hidden))
        return listed(texts)

    def _collection(self, use: str) -> str:
        """Winds or dragons that a letter stands for."""
        letters = self._letters(use)
        if len(letters) < 2:
            return f"any {use}" if letters else ""
        return collection_text(letters, f"{use}s", self._clauses, names_by_place(letters, {}))


def _suits(patterns: Sequence[Pattern], numbers: bool) -> tuple[str, str]:
    """The words for suits (their dragons included) and for dragons of suits that have no numbers."""
    tiles = [pattern.tile for pattern in patterns]
    own = list(dict.fromkeys(t.suit for t in tiles if isinstance(t, (Number, Season)) and t.suit in SUIT_LETTERS))
    fixed = list(dict.fromkeys(t.suit for t in tiles if isinstance(t, Number) and t.suit not in SUIT_LETTERS))
    dragons = list(dict.fromkeys(t.suit for t in tiles if isinstance(t, DragonOf) and t.suit in SUIT_LETTERS))
    lonely = [suit for suit in dragons if suit not in own]
    if not own:
        text = f"in {listed([f'{suit}s' for suit in fixed])}" if fixed and numbers else ""
        return text, ("", "any dragon", "any two different dragons", "the three dragons in any order")[len(lonely)]
    text = f"{in_words(len(own))} suit{'s' if len(own) > 1 else ''}"
    if fixed:
        text = f"{listed([f'{suit}s' for suit in fixed])} and any {text}"
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
    which = listed([ordinal(place + 1) for place in sorted(places)])
    return f", the {which} with {'its dragon' if len(places) == 1 else 'their dragons'}"


def _other_dragons(own: int, lonely: int) -> str:
    if not lonely:
        return ""
    if lonely == 2:
        return " and the dragons of the other two"
    return " and the dragon of another" if own == 1 else " and the dragon of the third"
