"""The clauses after `where`: `n odd`, `n in 2..6`, `x < y`, `x + y = z`, from text to values, to text, and judged."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from engine.sheet.notation import SUIT_LETTERS
from engine.sheet.parsing import NotationError, split
from engine.words import lowered, nearest, quoted

Operand = str | int
"""A variable's letter or a whole number."""


@dataclass(frozen=True)
class Parity:
    """`n odd`, `n even`."""

    variable: str
    odd: bool

    def __str__(self) -> str:
        return f"{self.variable} {'odd' if self.odd else 'even'}"


@dataclass(frozen=True)
class Within:
    """`n in 2..6`, `n in 3 6 9`: the values in rising order."""

    variable: str
    values: tuple[int, ...]

    def __str__(self) -> str:
        low, high = self.values[0], self.values[-1]
        if len(self.values) > 1 and self.values == tuple(range(low, high + 1)):
            return f"{self.variable} in {low}..{high}"
        return f"{self.variable} in {' '.join(map(str, self.values))}"


@dataclass(frozen=True)
class Compare:
    """`x < y`, `u != v`."""

    left: Operand
    sign: str
    right: Operand

    def __str__(self) -> str:
        return f"{self.left} {self.sign} {self.right}"


@dataclass(frozen=True)
class Reckon:
    """`x + y = z`, `x * y = z`."""

    left: Operand
    sign: str
    right: Operand
    result: Operand

    def __str__(self) -> str:
        return f"{self.left} {self.sign} {self.right} = {self.result}"


Clause = Parity | Within | Compare | Reckon


def operands(clause: Clause) -> tuple[Operand, ...]:
    """Variables and whole numbers in the order written (for `in`, the variable only)."""
    match clause:
        case Parity(variable=variable) | Within(variable=variable):
            return (variable,)
        case Compare(left=left, right=right):
            return (left, right)
        case Reckon(left=left, right=right, result=result):
            return (left, right, result)


def variables(clause: Clause) -> tuple[str, ...]:
    """The different variables of a clause, in the order written."""
    return tuple(dict.fromkeys(operand for operand in operands(clause) if isinstance(operand, str)))


def any_use(clause: Clause) -> bool:
    """Whether the clause makes sense for winds and dragons too: only `!=` does, and only between variables."""
    return isinstance(clause, Compare) and clause.sign == "!=" and not any(isinstance(o, int) for o in operands(clause))


def holds(clause: Clause, values: Mapping[str, int]) -> bool:
    """Whether the clause is true for values of all its variables. Raises KeyError when one is missing."""

    def value(operand: Operand) -> int:
        return operand if isinstance(operand, int) else values[operand]

    match clause:
        case Parity(variable=variable, odd=odd):
            return values[variable] % 2 == odd
        case Within(variable=variable, values=allowed):
            return values[variable] in allowed
        case Compare(left=left, sign=sign, right=right):
            return value(left) < value(right) if sign == "<" else value(left) != value(right)
        case Reckon(left=left, sign=sign, right=right, result=result):
            made = value(left) + value(right) if sign == "+" else value(left) * value(right)
            return made == value(result)


def write_where(clauses: tuple[Clause, ...]) -> str:
    """The clauses as one line: `x + y = z; x < y`."""
    return "; ".join(map(str, clauses))


@dataclass(frozen=True)
class ParsedWhere:
    """What a `where` line says: the clauses, where each begins in the text, and the errors."""

    clauses: tuple[Clause, ...]
    offsets: tuple[int, ...]
    errors: tuple[NotationError, ...]


_MOST_CLAUSES = 20


def parse_where(text: str) -> ParsedWhere:
    """Read clauses apart by semicolons. All errors are returned, none raised."""
    parts = list(split(text, ";"))
    if len(parts) > _MOST_CLAUSES:
        message = f"there are {len(parts)} clauses here; write at most {_MOST_CLAUSES}"
        return ParsedWhere((), (), (NotationError(parts[_MOST_CLAUSES][0], message),))
    found: list[Clause] = []
    offsets: list[int] = []
    errors: list[NotationError] = []
    for offset, part in parts:
        try:
            found.append(parse_clause(part))
            offsets.append(offset)
        except NotationError as error:
            errors.append(NotationError(offset + error.offset, str(error)))
    return ParsedWhere(tuple(found), tuple(offsets), tuple(errors))


_TOKEN = re.compile(r"[a-z]+|[0-9]+|\.\.|!=|<=|>=|==|[^\sa-z0-9]")
_FORMS = "write one of n odd, n even, n in 2..6, n in 3 6 9, x < y, u != v, x + y = z, x * y = z"
_CURES = {
    ">": "turn it round, as in x < y",
    "<=": "only < can be written; say x < y",
    ">=": "only < can be written, turned round, as in x < y",
    "==": "write x + y = z or x * y = z, or use the same letter twice in the groups",
    "=": "write x + y = z or x * y = z, or use the same letter twice in the groups",
    "≠": "write !=",
    "×": "write *",
    "-": "turn it into a sum, as in x + y = z",
    "−": "turn it into a sum, as in x + y = z",
    "/": "turn it into a product, as in x * y = z",
    ",": "put a semicolon between two clauses, and spaces only between numbers",
    "&": "put a semicolon between two clauses",
}

_Token = tuple[int, str]


def parse_clause(text: str) -> Clause:
    """Read one clause, in any case. Raises NotationError with the offset of the word at fault."""
    tokens = [(found.start(), found.group()) for found in _TOKEN.finditer(lowered(text))]
    if not tokens:
        raise NotationError(0, f"a clause is missing here; {_FORMS}, or take the semicolon out")
    words = [word for _, word in tokens]
    if len(words) > 1 and words[1] == "in":
        return _within(tokens)
    if len(words) == 2 and words[1] in ("odd", "even"):
        return Parity(_variable(tokens[0]), words[1] == "odd")
    if len(words) == 3 and words[1] in ("<", "!="):
        clause: Clause = Compare(_operand(tokens[0]), words[1], _operand(tokens[2]))
    elif len(words) == 5 and words[1] in ("+", "*") and words[3] == "=":
        clause = Reckon(_operand(tokens[0]), words[1], _operand(tokens[2]), _operand(tokens[4]))
    else:
        raise _no_clause(tokens)
    if not variables(clause):
        raise NotationError(
            tokens[0][0], f"{quoted(text)} holds no letter, so it says nothing about the hand; take it out"
        )
    if isinstance(clause, Compare) and clause.left == clause.right:
        raise NotationError(
            tokens[2][0],
            f"{quoted(text)} compares {clause.left} with itself; write two different letters, as in u != v",
        )
    return clause


def _variable(token: _Token) -> str:
    at, word = token
    if word in SUIT_LETTERS:
        raise NotationError(
            at, f"{quoted(word)} is a suit, and different suit letters are different suits anyway; {_FORMS}"
        )
    if len(word) != 1 or not "a" <= word <= "z":
        raise NotationError(at, f"{quoted(word)} is no variable; write a letter of the groups, such as n")
    return word


def _operand(token: _Token) -> Operand:
    at, word = token
    if word.isascii() and word.isdigit():
        if len(word) > 2:
            raise NotationError(at, f"{quoted(word)} is too large; write a number of at most two digits")
        return int(word)
    return _variable(token)


def _within(tokens: list[_Token]) -> Within:
    variable = _variable(tokens[0])
    rest = tokens[2:]
    words = [word for _, word in rest]
    if not rest:
        raise NotationError(tokens[1][0], "“in” needs numbers; write n in 2..6 or n in 3 6 9")
    if len(words) == 3 and words[1] == "..":
        low, high = _rank(rest[0]), _rank(rest[2])
        if low > high:
            raise NotationError(rest[0][0], f"{low}..{high} runs downwards; write {high}..{low}")
        return Within(variable, tuple(range(low, high + 1)))
    return Within(variable, tuple(sorted({_rank(token) for token in rest})))


def _rank(token: _Token) -> int:
    at, word = token
    if len(word) != 1 or not "1" <= word <= "9":
        raise NotationError(at, f"{quoted(word)} is no number from 1 to 9; write n in 2..6 or n in 3 6 9")
    return int(word)


def _no_clause(tokens: list[_Token]) -> NotationError:
    for at, word in tokens:
        if word in _CURES and not (word == "=" and len(tokens) > 3):
            return NotationError(at, f"{quoted(word)} can't be used here; {_CURES[word]}")
    for at, word in tokens:
        guess = nearest(word, ("odd", "even", "in")) if len(word) > 1 else None
        if guess and guess != word:
            return NotationError(at, f"{quoted(word)} is no part of a clause; write {guess}")
    whole = " ".join(word for _, word in tokens)
    return NotationError(tokens[0][0], f"{quoted(whole)} is no clause; {_FORMS}")
