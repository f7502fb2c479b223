"""Judges one hand of a sheet file: its keys, groups and clauses, and that it can be made at all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from engine.sheet.clauses import Clause, any_use, parse_where, variables, write_where
from engine.sheet.faults import EXAMPLES, Fields, SheetReading
from engine.sheet.groups import HAND_TILES, Variant
from engine.sheet.model import Hand, Line
from engine.sheet.notation import DRAGON, RANK, WIND, Pattern, Season, write_groups
from engine.sheet.parsing import parse_groups
from engine.sheet.tree import Listing, Mapping, Node, Refused, Scalar
from engine.sheet.variants import StepsLeft, TooManyWaysError, expand, why_none
from engine.sheet.wording import wording
from engine.words import counted, nearest, quoted

MOST_POINTS = 1000
MOST_LINES = 40
_STEPS_A_HAND = 60_000
_STEPS_A_WORDING = 20_000
_KEYS = ("hand", "groups", "either", "where", "hold", "points")


@dataclass(frozen=True)
class _Placed:
    """A line of groups with the scalar it stands in and where each group begins in it."""

    scalar: Scalar
    patterns: tuple[Pattern, ...]
    offsets: tuple[int, ...]


def read_hand(node: Node, section: str, reading: SheetReading) -> Hand | None:
    """The hand that a node of a `hands` list describes; None when it has a fault, which has been reported then."""
    items = node.items if isinstance(node, Mapping) else ()
    named = (value.value for key, value in items if key.value == "hand" and isinstance(value, Scalar))
    reading.hand = next(named, "").strip()
    hand = _read_hand(node, section, reading)
    reading.hand = ""
    return hand


def _read_hand(node: Node, section: str, reading: SheetReading) -> Hand | None:
    if not isinstance(node, Mapping):
        if not isinstance(node, Refused):
            reading.report(
                node.start, "this is no hand; write - hand: and its name, and its groups and points below that"
            )
        return None
    found = reading.fields(node, _KEYS, ("hand", "points"), "a hand")
    name = reading.name(found["hand"], "hand") if "hand" in found else None
    if name is not None:
        line = reading.names.setdefault(name, found["hand"].start)
        if line != found["hand"].start:
            reading.report(
                found["hand"].start, f"there is a hand {quoted(name)} on this sheet already; give it another name"
            )
    points = _points(found["points"], reading) if "points" in found else None
    concealed = _concealed(found["hold"], reading) if "hold" in found else False
    lines = _lines(node, found, reading)
    clauses = _where(found["where"], lines, reading) if "where" in found else ()
    if lines is None or clauses is None or not _letters_agree(lines, reading):
        return None
    if any(isinstance(p.tile, Season) for line in lines for p in line.patterns) and reading.season is None:
        return None
    if not _fourteen(lines, reading) or not node.complete:
        return None
    season = reading.season or ""
    model_lines = tuple(Line(line.patterns, write_groups(line.patterns)) for line in lines)
    variants = _variants(model_lines, clauses, lines[0].scalar, reading)
    if not variants or name is None or points is None or concealed is None:
        return None
    work = StepsLeft(max(0, min(_STEPS_A_WORDING, reading.words)))
    reading.words -= work.left
    words = wording(model_lines, clauses, season, work)
    reading.words += max(0, work.left)
    return Hand(name, section, model_lines, clauses, write_where(clauses), concealed, points, words, variants)


def _variants(
    lines: Sequence[Line], where: Sequence[Clause], scalar: Scalar, reading: SheetReading
) -> tuple[Variant, ...]:
    """The variants; when there are none or too many, a fault is reported where the groups begin."""
    if reading.work < 0:
        return ()  # that has been said at an earlier hand
    work = StepsLeft(min(_STEPS_A_HAND, reading.work))
    reading.work -= work.left
    try:
        variants = expand(lines, where, reading.season or "", work=work)
    except TooManyWaysError:
        what = "this hand" if reading.work > 0 else "this sheet, its hands up to this one,"
        reading.work = reading.work or -1
        reading.at(scalar, 0, f"{what} can be made in too many ways; {_NARROW}")
        return ()
    reading.work += work.left
    if not variants:
        reading.at(scalar, 0, why_none(lines, where, reading.season or ""))
    return variants


_NARROW = "use fewer letters, or narrow them with where, as in where: n in 2..6; x < y"


def _points(node: Node, reading: SheetReading) -> int | None:
    scalar = reading.string(node, "points")
    if scalar is None:
        return None
    text = scalar.value.strip()
    if text.isascii() and text.isdigit() and len(text) <= 4 and 1 <= int(text) <= MOST_POINTS:
        return int(text)
    reading.report(scalar.start, f"points is {quoted(text)}; write a whole number from 1 to {MOST_POINTS:,}")
    return None


def _concealed(node: Node, reading: SheetReading) -> bool | None:
    scalar = reading.string(node, "hold")
    if scalar is None:
        return None
    text = scalar.value.strip().lower()
    if text in ("open", "concealed"):
        return text == "concealed"
    guess = nearest(text, ("open", "concealed"))
    reading.report(scalar.start, f"hold is {quoted(text)}; write {guess or 'open or concealed'}")
    return None


def _lines(node: Mapping, found: Fields, reading: SheetReading) -> list[_Placed] | None:
    """The alternatives from `groups` or `either`."""
    if "groups" in found and "either" in found:
        start = next(key.start for key, _ in reversed(node.items) if key.value in ("groups", "either"))
        reading.report(
            start, "a hand has groups or either, and here are both; move the groups' line into the list of either"
        )
    if "groups" not in found and "either" not in found:
        misspelt = any(
            nearest(key.value, _KEYS) in ("groups", "either") for key, _ in node.items if key.value not in _KEYS
        )
        if node.complete and not misspelt:
            reading.report(node.start, f"a hand lacks its groups; write {EXAMPLES['groups']}")
        return None
    nodes: list[tuple[Node, str]] = [(found["groups"], "groups")] if "groups" in found else []
    complete = True
    if "either" in found:
        either = found["either"]
        if isinstance(either, Listing):
            nodes += [(item, "groups") for item in either.items]
            complete = either.complete
            if not either.items and complete:
                reading.report(either.start, f"either is empty; write {EXAMPLES['either']}")
            if len(either.items) > MOST_LINES:
                reading.report(either.start, f"either has {len(either.items)} lines; write at most {MOST_LINES}")
                return None
        elif not isinstance(either, Refused):
            reading.report(
                either.start, f"either is no list; write {EXAMPLES['either']}, or write groups: for one line"
            )
    lines = [_line(item, key, reading) for item, key in nodes]
    whole = [line for line in lines if line is not None]
    if not whole or len(whole) < len(lines) or not complete or ("groups" in found and "either" in found):
        return None
    return whole


def _line(node: Node, key: str, reading: SheetReading) -> _Placed | None:
    scalar = reading.string(node, key)
    if scalar is None:
        return None
    parsed = parse_groups(scalar.value)
    for error in parsed.errors:
        reading.at(scalar, error.offset, str(error))
    return None if parsed.errors else _Placed(scalar, parsed.patterns, parsed.offsets)


def _letters_agree(lines: list[_Placed], reading: SheetReading) -> bool:
    """Whether every letter is used in one way; one that isn't is reported where the second use begins."""
    uses: dict[str, str] = {}
    agree = True
    for line in lines:
        for pattern, offset in zip(line.patterns, line.offsets, strict=True):
            for letter, use in pattern.letters:
                first = uses.setdefault(letter, use)
                if first != use:
                    reading.at(
                        line.scalar,
                        offset,
                        f"the letter {letter} stands for a {first} before and a {use} here; use another letter here",
                    )
                    agree = False
    return agree


def _where(node: Node, lines: list[_Placed] | None, reading: SheetReading) -> tuple[Clause, ...] | None:
    scalar = reading.string(node, "where")
    if scalar is None:
        return None
    parsed = parse_where(scalar.value)
    for error in parsed.errors:
        reading.at(scalar, error.offset, str(error))
    if lines is None:
        return None  # which letters the groups use is not known for certain
    uses = {letter: use for line in lines for pattern in line.patterns for letter, use in pattern.letters}
    fault = bool(parsed.errors)
    for clause, offset in zip(parsed.clauses, parsed.offsets, strict=True):
        message = _misuse(clause, uses)
        if message:
            reading.at(scalar, offset, message)
            fault = True
    return None if fault else parsed.clauses


def _misuse(clause: Clause, uses: dict[str, str]) -> str | None:
    """What is wrong with a clause, given what the letters of the groups stand for."""
    names = variables(clause)
    for name in names:
        if name not in uses:
            known = sorted(letter for letter, use in uses.items() if use in (RANK, WIND, DRAGON))
            cure = f"use one of {', '.join(known)}" if known else "take the clause out, the groups hold no variable"
            return f"no group uses the letter {name} of “{clause}”; {cure}"
    kinds = {uses[name] for name in names}
    if len(kinds) > 1:
        first = names[0]
        other = next(name for name in names if uses[name] != uses[first])
        return (
            f"“{clause}” compares a {uses[first]} ({first}) with a {uses[other]} ({other}); "
            "compare numbers with numbers, winds with winds, dragons with dragons"
        )
    if kinds <= {WIND, DRAGON} and not any_use(clause):
        return f"{names[0]} is a {uses[names[0]]}, and “{clause}” is for numbers; write u != v, or take it out"
    return None


def _fourteen(lines: list[_Placed], reading: SheetReading) -> bool:
    fine = True
    for line in lines:
        tiles = sum(pattern.size * pattern.groups(reading.season or "") for pattern in line.patterns)
        if tiles != HAND_TILES:
            cure = f"add {HAND_TILES - tiles}" if tiles < HAND_TILES else f"take {tiles - HAND_TILES} out"
            reading.at(
                line.scalar, 0, f"these groups come to {counted(tiles, 'tile')}, and a hand has {HAND_TILES}; {cure}"
            )
            fine = False
    return fine
