"""The words for what numbers, winds and dragons may be: "any five numbers in a row", "any two different winds"."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from engine.sheet.clauses import Clause, Compare, Operand, Reckon, variables
from engine.sheet.notation import Number, Pattern
from engine.sheet.variants import RANKS, ranks_allowed
from engine.words import in_words, listed, ordinal

Name = Callable[[Operand], str]


@dataclass(frozen=True)
class Steps:
    """The numbers that one letter makes in a line: their offsets, and the values that the lowest may have."""

    letter: str
    offsets: tuple[int, ...]
    lowest: tuple[int, ...]
    suits: int
    """In how many suits they stand."""

    @property
    def count(self) -> int:
        """How many different numbers the letter makes."""
        return len(self.offsets)


def steps_of(patterns: Sequence[Pattern], where: Sequence[Clause], letter: str) -> Steps:
    """What a number letter makes in a line."""
    tiles = [p.tile for p in patterns if isinstance(p.tile, Number) and p.tile.variable == letter]
    offsets = tuple(sorted({tile.offset for tile in tiles}))
    low = offsets[0]
    lowest = tuple(value + low for value in ranks_allowed(patterns, where, letter))
    return Steps(letter, offsets, lowest, len({tile.suit for tile in tiles}))


def numbers_text(all_steps: Sequence[Steps], where: Sequence[Clause], hidden: Mapping[str, Hidden]) -> str:
    """All number letters of a line: what each may be and how they hang together. `hidden` are letters of other lines
    that the clauses name."""
    shown = [steps.letter for steps in all_steps]
    if len(all_steps) > 1 and all(steps.count == 1 for steps in all_steps):
        return _several(all_steps, where, hidden)
    texts = [single_text(steps) if steps.count == 1 else run_text(steps) for steps in all_steps]
    bonds = bonds_text(shown, where, _names_by_run(all_steps, hidden))
    return ", ".join([listed(texts), *bonds])


def _several(all_steps: Sequence[Steps], where: Sequence[Clause], hidden: Mapping[str, Hidden]) -> str:
    """Two letters or more, each a single number: "any three numbers, the first two adding up to the third"."""
    shown = [steps.letter for steps in all_steps]
    noun, details = "numbers", []
    values = {steps.lowest for steps in all_steps}
    odd = _all_of(all_steps[0].lowest, (1, 3, 5, 7, 9))
    even = _all_of(all_steps[0].lowest, (2, 4, 6, 8))
    if len(values) == 1 and (odd or even):
        noun = "odd numbers" if odd else "even numbers"
    elif len(values) == 1 and all_steps[0].lowest != RANKS:
        details = [f"each {values_text(all_steps[0].lowest)}"]
    else:
        for wanted in dict.fromkeys(steps.lowest for steps in all_steps if steps.lowest != RANKS):
            places = [index for index, steps in enumerate(all_steps) if steps.lowest == wanted]
            details.append(f"{_places(places, len(shown))} {values_text(wanted)}")
    return collection_text(shown, noun, where, names_by_place(shown, hidden), details)


def collection_text(
    shown: Sequence[str], noun: str, where: Sequence[Clause], name: Name, details: Sequence[str] = ()
) -> str:
    """Two or more letters alike: "any two different winds", with what the clauses say of them."""
    about = _about(shown, where)
    count = in_words(len(shown))
    different = {frozenset(pair) for i, a in enumerate(shown) for pair in ((a, b) for b in shown[i + 1 :])}
    rising = {frozenset(pair) for pair in pairwise(shown)} if len(shown) > 2 else set()
    if different <= {frozenset(variables(clause)) for clause in about if _compares(clause, "!=")}:
        said, head = different, f"any {count} different {noun}"
    elif rising and all(Compare(low, "<", high) in about for low, high in pairwise(shown)):
        said, head = rising, f"any {count} {noun} in rising order"
    else:
        said, head = set(), f"any {count} {noun}" if about else f"any {count} {noun}, alike or different"
    rest = [c for c in about if not (isinstance(c, Compare) and frozenset(variables(c)) in said)]
    bonds = bonds_text(shown, rest, name)
    if len(shown) == 2 and len(bonds) == 1 and bonds[0].startswith("the two "):
        head, bonds = f"{head} {bonds[0].removeprefix('the two ')}", []
    return ", ".join([head, *bonds, *details])


def _compares(clause: Clause, sign: str) -> bool:
    return isinstance(clause, Compare) and clause.sign == sign


def _about(shown: Sequence[str], where: Sequence[Clause]) -> list[Clause]:
    """The clauses of two letters or more that have to do with the shown ones, be it by way of hidden ones."""
    reached = set(shown)
    bonds = [clause for clause in where if len(variables(clause)) > 1]
    for _ in bonds:
        reached |= {letter for c in bonds if reached & set(variables(c)) for letter in variables(c)}
    return [clause for clause in bonds if reached & set(variables(clause))]


@dataclass(frozen=True)
class Hidden:
    """A letter of another line that the clauses name: the values it may have, and what to call it."""

    values: tuple[int, ...]
    name: str

    def __str__(self) -> str:
        return f"{self.name} {values_text(self.values)}"


def hidden_letter(letter: str, where: Sequence[Clause]) -> Hidden:
    """A hidden letter is "a number", and "a number z" when several clauses mean the same one."""
    times = sum(1 for clause in where if len(variables(clause)) > 1 and letter in variables(clause))
    return Hidden(ranks_allowed((), where, letter), f"a number {letter}" if times > 1 else "a number")


def names_by_place(shown: Sequence[str], hidden: Mapping[str, Hidden]) -> Name:
    """Calls letters by their place among the numbers (or winds, or dragons): the first, the second."""

    def name(operand: Operand) -> str:
        if isinstance(operand, int):
            return str(operand)
        if operand in shown:
            return _ordinal(list(shown).index(operand), len(shown))
        return str(hidden.get(operand, "some other"))

    return name


def _names_by_run(all_steps: Sequence[Steps], hidden: Mapping[str, Hidden]) -> Name:
    """Calls letters by the run they begin, or as the number beside the run."""
    runs = [steps.letter for steps in all_steps if steps.count > 1]
    lone = [steps.letter for steps in all_steps if steps.count == 1]
    by_letter = {steps.letter: steps for steps in all_steps}

    def name(operand: Operand) -> str:
        if isinstance(operand, int):
            return str(operand)
        if operand not in by_letter:
            return str(hidden.get(operand, "some other"))
        steps = by_letter[operand]
        offset = min(steps.offsets, key=abs)
        if operand in lone:
            which = "" if len(lone) == 1 else f"{ordinal(lone.index(operand) + 1)} "
            text = f"the {which}single number"
        else:
            which = "" if len(runs) == 1 else f"{ordinal(runs.index(operand) + 1)} "
            text = f"the {ordinal(steps.offsets.index(offset) + 1)} of the {which}row"
        if offset == 0:
            return text
        return f"{in_words(abs(offset))} {'below' if offset > 0 else 'above'} {text}"

    return name


def bonds_text(shown: Sequence[str], where: Sequence[Clause], name: Name) -> list[str]:
    """What the clauses say about two letters or more, at least one of them shown."""
    said: list[tuple[str, list[str]]] = []
    for clause in sorted(_about(shown, where), key=lambda c: not isinstance(c, Compare)):
        subject, predicate = _bond(clause, shown, name)
        for known, predicates in said:
            if known == subject:
                predicates.append(predicate)
                break
        else:
            said.append((subject, [predicate]))
    return [f"{subject} {listed(predicates)}" for subject, predicates in said]


def _bond(clause: Clause, shown: Sequence[str], name: Name) -> tuple[str, str]:
    match clause:
        case Compare(left=left, sign="!=", right=right):
            return _both(left, right, shown, name), "different"
        case Compare(left=left, right=right):
            return name(left), f"lower than {name(right)}"
        case Reckon(left=left, sign="+", right=right, result=result):
            if left == right:
                return name(result), f"twice {name(left)}"
            if isinstance(left, int) or isinstance(right, int):
                amount, base = (left, right) if isinstance(left, int) else (right, left)
                return name(result), f"{in_words(int(amount))} more than {name(base)}"
            return _both(left, right, shown, name), f"adding up to {name(result)}"
        case Reckon(left=left, right=right, result=result):
            if left == right:
                return f"{name(left)} times itself", f"making {name(result)}"
            if isinstance(left, int) or isinstance(right, int):
                amount, base = (left, right) if isinstance(left, int) else (right, left)
                times = {1: "the same as", 2: "twice"}.get(int(amount), f"{in_words(int(amount))} times")
                return name(result), f"{times} {name(base)}"
            return _both(left, right, shown, name), f"making {name(result)} when multiplied"
    raise TypeError(f"{clause} is about one letter only")


def _both(left: Operand, right: Operand, shown: Sequence[str], name: Name) -> str:
    pair = [name(left), name(right)]
    places = list(shown)
    if (
        left in places
        and right in places
        and pair == [_ordinal(places.index(str(o)), len(places)) for o in (left, right)]
    ):
        return _places(sorted({places.index(str(left)), places.index(str(right))}), len(places))
    return f"{pair[0]} and {pair[1]}"


def _ordinal(index: int, count: int) -> str:
    return "the last" if index == count - 1 and count > 3 else f"the {ordinal(index + 1)}"


def _places(spots: Sequence[int], count: int) -> str:
    """What to call the numbers at these places of so many: "the first", "the first two", "the second and fourth"."""
    size = len(spots)
    if size == count == 2:
        return "the two"
    if 1 < size < count and list(spots) in (list(range(size)), list(range(count - size, count))):
        return f"the {'first' if spots[0] == 0 else 'last'} {in_words(size)}"
    return "the " + listed([_ordinal(spot, count).removeprefix("the ") for spot in spots])


def single_text(steps: Steps) -> str:
    """One number: "any number", "any odd number", "either 2 or 6"; "one number" when it stands in several suits."""
    one = "one " if steps.suits > 1 else ""
    values = steps.lowest
    if values == RANKS:
        return f"any {one}number"
    if _all_of(values, (1, 3, 5, 7, 9)) or _all_of(values, (2, 4, 6, 8)):
        return f"any {one}{'odd' if values[0] % 2 else 'even'} number"
    if len(values) == 2:
        return f"either {values[0]} or {values[1]}"
    if len(values) == 1:
        return f"the number {values[0]}"
    text = values_text(values)
    return f"any {one}number {text}" if text.startswith(("from", "but")) else f"one of {text}"


def values_text(values: tuple[int, ...]) -> str:
    """A set of numbers: "odd", "from 2 to 6", "but 5" (any but that), "3, 6 or 9"."""
    if values == (1, 3, 5, 7, 9):
        return "odd"
    if values == (2, 4, 6, 8):
        return "even"
    if len(values) > 2 and values == tuple(range(values[0], values[-1] + 1)):
        return f"from {values[0]} to {values[-1]}"
    missing = [str(rank) for rank in RANKS if rank not in values]
    if len(missing) <= 2:
        return f"but {listed(missing, 'or')}"
    return listed([str(value) for value in values], "or")


def _all_of(values: tuple[int, ...], wanted: tuple[int, ...]) -> bool:
    return values == wanted


def run_text(steps: Steps) -> str:
    """Several numbers of one letter: "any five numbers in a row", "any three odd numbers in a row from 1 to 7"."""
    ladder = tuple(offset - steps.offsets[0] for offset in steps.offsets)
    span = ladder[-1]
    possible = tuple(range(1, 10 - span))
    count = in_words(len(ladder))
    if len(steps.lowest) == 1:
        return f"the numbers {listed([str(steps.lowest[0] + step) for step in ladder])}"
    gaps = {high - low for low, high in pairwise(ladder)}
    gap = gaps.pop() if len(gaps) == 1 else 0
    parity = steps.lowest[0] % 2
    if gap == 2 and all(value % 2 == parity for value in steps.lowest):
        possible = tuple(value for value in possible if value % 2 == parity)
        shape = f"{count} {'odd' if parity else 'even'} numbers in a row"
    elif gap == 2 and len(ladder) > 2:
        shape = f"{count} odd or {count} even numbers in a row"
    elif gap == 1:
        shape = f"{count} numbers in a row"
    elif gap and len(ladder) == 2:
        shape = f"two numbers {in_words(gap)} apart"
    elif gap:
        shape = f"{count} numbers, each {in_words(gap)} above the last"
    else:
        shape = f"{count} numbers spaced as shown"
    begins = _where_it_begins(steps.lowest, possible, span)
    comma = "," if begins and not shape.endswith(("row", "apart")) else ""
    return f"any {shape}{comma}{begins}"


def _where_it_begins(lowest: tuple[int, ...], possible: tuple[int, ...], span: int) -> str:
    if lowest == possible:
        return ""
    first = possible.index(lowest[0])
    if lowest == possible[first : first + len(lowest)] and len(lowest) > 1:
        return f" from {lowest[0]} to {lowest[-1] + span}"
    for parity, word in ((1, "an odd"), (0, "an even")):
        if lowest == tuple(value for value in possible if value % 2 == parity):
            return f" beginning with {word} number"
    missing = [str(value) for value in possible if value not in lowest]
    if len(missing) <= 2 < len(lowest):
        return f" not beginning with {listed(missing, 'or')}"
    return f" beginning with {listed([str(value) for value in lowest], 'or')}"
