"""Judges one hand of a sheet file: its keys, groups and clauses, and that it can be made at all."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, field

from engine.sheet.clauses import Clause, any_use, parse_where, variables, write_where
from engine.sheet.events import Listing, Mapping, Node, Refused, Report, Scalar, offset_of
from engine.sheet.model import HAND_TILES, Hand, Line, Variant
from engine.sheet.notation import DRAGON, RANK, WIND, Pattern, Season, parse_groups, write_groups
from engine.sheet.variants import TooManyWaysError, Work, expand, why_none
from engine.sheet.wording import wording
from engine.sheet.words import counted, nearest, quoted

MOST_POINTS = 1000
MOST_NAME = 60
MOST_TEXT = 2000
MOST_LINES = 40
_STEPS_A_HAND = 60_000
_STEPS_A_SHEET = 150_000
_WORDING_STEPS_A_SHEET = 80_000
_STEPS_A_WORDING = 20_000
_JOINERS = "\u200c\u200d"  # unseen, but part of words and signs in some scripts

Fields = dict[str, Node]


@dataclass
class Judge:
    """What all hands of a file share: where faults go, the text, and how much trying is left."""

    text: str
    report: Report
    season: str | None = None
    """None when the file gives none that can be used; hands that need it are not expanded then."""
    work: int = _STEPS_A_SHEET
    words: int = _WORDING_STEPS_A_SHEET
    """How much trying is left for the wording."""
    names: dict[str, int] = field(default_factory=dict)

    def fields(self, node: Mapping, known: Sequence[str], required: Sequence[str], what: str) -> Fields:
        """The values of a mapping by key; unknown and missing keys are faults."""
        found: Fields = {}
        meant: set[str] = set()
        for key, value in node.items:
            if key.value in known:
                found[key.value] = value
                continue
            guess = nearest(key.value, known)
            cure = f"write {guess}" if guess else f"take it out, or write one of {', '.join(known)}"
            self.report(key.start, f"{quoted(key.value)} is no key of {what}; {cure}")
            meant.add(guess or "")
        for name in required:
            if node.complete and name not in found and name not in meant:
                self.report(node.start, f"{what} lacks its {name}; write {_EXAMPLES[name]}")
        return found

    def string(self, node: Node, key: str) -> Scalar | None:
        """The node as a text that isn't empty, else a fault."""
        if isinstance(node, Refused):
            return None
        if not isinstance(node, Scalar):
            kind = "a list" if isinstance(node, Listing) else "a mapping"
            self.report(node.start, f"{key} is {kind}; write it as one text, such as {_EXAMPLES[key]}")
            return None
        if not node.value.strip():
            self.report(node.start, f"{key} is empty; write {_EXAMPLES[key]}")
            return None
        if len(node.value) > MOST_TEXT:
            self.report(node.start, f"{key} is {len(node.value):,} characters long; write at most {MOST_TEXT:,}")
            return None
        return node

    def name(self, node: Node, key: str) -> str | None:
        """A name: trimmed, 1 to 60 characters that can be seen."""
        scalar = self.string(node, key)
        if scalar is None:
            return None
        name = scalar.value.strip()
        if len(name) > MOST_NAME:
            self.report(scalar.start, f"this name is {len(name)} characters long; write at most {MOST_NAME}")
            return None
        for char in name:
            if unicodedata.category(char) in ("Cc", "Cf", "Cs", "Zl", "Zp") and char not in _JOINERS:
                what = (
                    "a line break or tab" if char in "\n\r\t" else f"a character that can't be seen (U+{ord(char):04X})"
                )
                self.report(scalar.start, f"the name {quoted(name)} holds {what}; take it out")
                return None
        return name

    def at(self, scalar: Scalar, offset: int, message: str) -> None:
        """Report a fault inside a scalar's value."""
        self.report(offset_of(self.text, scalar, offset), message)


_EXAMPLES = {
    "sheet": "sheet: and the sheet's name",
    "season": "season: and its year in digits, such as season: 2026",
    "maker": "maker: and who made it",
    "sections": "sections: and below it a list, each item beginning with - section:",
    "section": "section: and the section's name",
    "hands": "hands: and below it a list, each item beginning with - hand:",
    "hand": "hand: and the hand's name",
    "groups": "groups: pair flower, kong a.n, kong b.n, kong c.n",
    "either": "either: and below it a list, each item one line of groups",
    "where": "where: n odd, or leave it out",
    "hold": "hold: open, or hold: concealed",
    "points": "points: 30",
}
_KEYS = ("hand", "groups", "either", "where", "hold", "points")


@dataclass(frozen=True)
class _Placed:
    """A line of groups with the scalar it stands in and where each group begins in it."""

    scalar: Scalar
    patterns: tuple[Pattern, ...]
    offsets: tuple[int, ...]


def read_hand(node: Node, section: str, judge: Judge) -> Hand | None:
    """The hand that a node of a `hands` list describes; None when it has a fault, which has been reported then."""
    if not isinstance(node, Mapping):
        if not isinstance(node, Refused):
            judge.report(
                node.start, "this is no hand; write - hand: and its name, and its groups and points below that"
            )
        return None
    found = judge.fields(node, _KEYS, ("hand", "points"), "a hand")
    name = judge.name(found["hand"], "hand") if "hand" in found else None
    if name is not None:
        line = judge.names.setdefault(name, found["hand"].start)
        if line != found["hand"].start:
            judge.report(
                found["hand"].start, f"there is a hand {quoted(name)} on this sheet already; give it another name"
            )
    points = _points(found["points"], judge) if "points" in found else None
    concealed = _concealed(found["hold"], judge) if "hold" in found else False
    lines = _lines(node, found, judge)
    clauses = _where(found["where"], lines, judge) if "where" in found else ()
    if lines is None or clauses is None or not _letters_agree(lines, judge):
        return None
    if any(isinstance(p.tile, Season) for line in lines for p in line.patterns) and judge.season is None:
        return None
    if not _fourteen(lines, judge) or not node.complete:
        return None
    season = judge.season or ""
    model_lines = tuple(Line(line.patterns, write_groups(line.patterns)) for line in lines)
    variants = _variants(model_lines, clauses, lines[0].scalar, judge)
    if not variants or name is None or points is None or concealed is None:
        return None
    work = Work(max(0, min(_STEPS_A_WORDING, judge.words)))
    judge.words -= work.left
    words = wording(model_lines, clauses, season, work)
    judge.words += max(0, work.left)
    return Hand(name, section, model_lines, clauses, write_where(clauses), concealed, points, words, variants)


def _variants(lines: Sequence[Line], where: Sequence[Clause], scalar: Scalar, judge: Judge) -> tuple[Variant, ...]:
    """The variants; when there are none or too many, a fault is reported where the groups begin."""
    if judge.work <= 0:
        return ()  # that has been said at an earlier hand
    work = Work(min(_STEPS_A_HAND, judge.work))
    judge.work -= work.left
    try:
        variants = expand(lines, where, judge.season or "", work=work)
    except TooManyWaysError:
        what = "this hand" if judge.work > 0 else "this sheet, its hands up to this one,"
        judge.at(scalar, 0, f"{what} can be made in too many ways; {_NARROW}")
        return ()
    judge.work += work.left
    if not variants:
        judge.at(scalar, 0, why_none(lines, where, judge.season or ""))
    return variants


_NARROW = "use fewer letters, or narrow them with where, as in where: n in 2..6; x < y"


def _points(node: Node, judge: Judge) -> int | None:
    scalar = judge.string(node, "points")
    if scalar is None:
        return None
    text = scalar.value.strip()
    if text.isascii() and text.isdigit() and len(text) <= 4 and 1 <= int(text) <= MOST_POINTS:
        return int(text)
    judge.report(scalar.start, f"points is {quoted(text)}; write a whole number from 1 to {MOST_POINTS:,}")
    return None


def _concealed(node: Node, judge: Judge) -> bool | None:
    scalar = judge.string(node, "hold")
    if scalar is None:
        return None
    text = scalar.value.strip().lower()
    if text in ("open", "concealed"):
        return text == "concealed"
    guess = nearest(text, ("open", "concealed"))
    judge.report(scalar.start, f"hold is {quoted(text)}; write {guess or 'open or concealed'}")
    return None


def _lines(node: Mapping, found: Fields, judge: Judge) -> list[_Placed] | None:
    """The alternatives from `groups` or `either`."""
    if "groups" in found and "either" in found:
        start = next(key.start for key, _ in reversed(node.items) if key.value in ("groups", "either"))
        judge.report(
            start, "a hand has groups or either, and here are both; move the groups' line into the list of either"
        )
    if "groups" not in found and "either" not in found:
        misspelt = any(
            nearest(key.value, _KEYS) in ("groups", "either") for key, _ in node.items if key.value not in _KEYS
        )
        if node.complete and not misspelt:
            judge.report(node.start, f"a hand lacks its groups; write {_EXAMPLES['groups']}")
        return None
    nodes: list[tuple[Node, str]] = [(found["groups"], "groups")] if "groups" in found else []
    complete = True
    if "either" in found:
        either = found["either"]
        if isinstance(either, Listing):
            nodes += [(item, "groups") for item in either.items]
            complete = either.complete
            if not either.items and complete:
                judge.report(either.start, f"either is empty; write {_EXAMPLES['either']}")
            if len(either.items) > MOST_LINES:
                judge.report(either.start, f"either has {len(either.items)} lines; write at most {MOST_LINES}")
                return None
        elif not isinstance(either, Refused):
            judge.report(either.start, f"either is no list; write {_EXAMPLES['either']}, or write groups: for one line")
    lines = [_line(item, key, judge) for item, key in nodes]
    whole = [line for line in lines if line is not None]
    if not whole or len(whole) < len(lines) or not complete or ("groups" in found and "either" in found):
        return None
    return whole


def _line(node: Node, key: str, judge: Judge) -> _Placed | None:
    scalar = judge.string(node, key)
    if scalar is None:
        return None
    parsed = parse_groups(scalar.value)
    for error in parsed.errors:
        judge.at(scalar, error.offset, str(error))
    return None if parsed.errors else _Placed(scalar, parsed.patterns, parsed.offsets)


def _letters_agree(lines: list[_Placed], judge: Judge) -> bool:
    """Whether every letter is used in one way; one that isn't is reported where the second use begins."""
    uses: dict[str, str] = {}
    agree = True
    for line in lines:
        for pattern, offset in zip(line.patterns, line.offsets, strict=True):
            for letter, use in pattern.letters:
                first = uses.setdefault(letter, use)
                if first != use:
                    judge.at(
                        line.scalar,
                        offset,
                        f"the letter {letter} stands for a {first} before and a {use} here; use another letter here",
                    )
                    agree = False
    return agree


def _where(node: Node, lines: list[_Placed] | None, judge: Judge) -> tuple[Clause, ...] | None:
    scalar = judge.string(node, "where")
    if scalar is None:
        return None
    parsed = parse_where(scalar.value)
    for error in parsed.errors:
        judge.at(scalar, error.offset, str(error))
    if lines is None:
        return None  # which letters the groups use is not known for certain
    uses = {letter: use for line in lines for pattern in line.patterns for letter, use in pattern.letters}
    fault = bool(parsed.errors)
    for clause, offset in zip(parsed.clauses, parsed.offsets, strict=True):
        message = _misuse(clause, uses)
        if message:
            judge.at(scalar, offset, message)
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


def _fourteen(lines: list[_Placed], judge: Judge) -> bool:
    fine = True
    for line in lines:
        tiles = sum(pattern.size * pattern.groups(judge.season or "") for pattern in line.patterns)
        if tiles != HAND_TILES:
            cure = f"add {HAND_TILES - tiles}" if tiles < HAND_TILES else f"take {tiles - HAND_TILES} out"
            judge.at(
                line.scalar, 0, f"these groups come to {counted(tiles, 'tile')}, and a hand has {HAND_TILES}; {cure}"
            )
            fine = False
    return fine
