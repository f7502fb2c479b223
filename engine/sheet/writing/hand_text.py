"""The text of one hand, as a form has it: its name, its lines of groups, its clauses, how it is held, its points."""

from __future__ import annotations

from engine.sheet.tree import Scalar
from engine.sheet.writer import scalar
from engine.sheet.writing.keyed import Keyed

NAME, GROUPS, WHERE, HOLD, POINTS = "hand", "groups", "where", "hold", "points"
"""The fields, by their keys in the file. Lines of groups stand in `groups`, or in `either` where there are several."""
EITHER = "either"
_KNOWN = {NAME, GROUPS, EITHER, WHERE, HOLD, POINTS}


class HandText:
    """A hand's text with its fields. The `put` methods give the whole new text."""

    def __init__(self, keyed: Keyed) -> None:
        self._keyed = keyed
        self.text = keyed.text
        either = keyed.entries.get(EITHER)
        self.lines: tuple[str, ...] = tuple(one.value for one in either.values) if either else (keyed.value(GROUPS),)
        """The groups of each alternative, as written."""
        self.name = keyed.value(NAME)
        self.where = keyed.value(WHERE)
        self.points = keyed.value(POINTS)
        self.concealed = keyed.value(HOLD).strip().lower() == "concealed"

    @classmethod
    def of(cls, text: str) -> HandText | None:
        """The fields of a hand's text; None where only its lines can be shown."""
        keyed = Keyed.of(text)
        if keyed is None or not set(keyed.entries) <= _KNOWN or {GROUPS, EITHER} <= set(keyed.entries):
            return None
        either = keyed.entries.get(EITHER)
        if either is not None and (not either.listed or not either.values):
            return None
        if any(entry.listed for key, entry in keyed.entries.items() if key != EITHER):
            return None
        hold = keyed.value(HOLD).strip().lower()
        return cls(keyed) if hold in ("", "open", "concealed") and (hold or HOLD not in keyed.entries) else None

    def spans(self) -> tuple[tuple[str, int, Scalar], ...]:
        """Each value as field, number of its line, and where it stands in the text."""
        found: list[tuple[str, int, Scalar]] = []
        for key, entry in self._keyed.entries.items():
            field = GROUPS if key == EITHER else key
            found += [(field, number, one) for number, one in enumerate(entry.values)]
        return tuple(found)

    def put(self, field: str, value: str, line: int = 0) -> str:
        """Another value for a field. Clauses that become empty are taken out, key and all."""
        if field == WHERE and not value:
            return self._keyed.remove(WHERE)
        if field == GROUPS and EITHER in self._keyed.entries:
            return self._keyed.change(EITHER, value, line)
        return self._keyed.change(field, value)

    def put_concealed(self, concealed: bool) -> str:
        """Held concealed, or open, which is not written."""
        return self._keyed.change(HOLD, "concealed") if concealed else self._keyed.remove(HOLD)

    def add_line(self, value: str) -> str:
        """One more alternative, after the others."""
        keyed = self._keyed
        either = keyed.entries.get(EITHER)
        if either is not None:
            last = either.values[-1]
            dash = self.text.rfind("-", 0, last.start)
            pad = " " * (dash - (self.text.rfind("\n", 0, dash) + 1))
            at = keyed.after(last.end)
            return f"{self.text[:at]}{pad}- {scalar(value)}{keyed.newline}{self.text[at:]}"
        groups = keyed.entries.get(GROUPS)
        if groups is None:
            return keyed.add(GROUPS, scalar(value))
        rows = [f"{keyed.pad}  - {scalar(one)}" for one in (self.lines[0], value)]
        old = groups.values[0]
        rest = keyed.newline if self.text[old.start : old.end].endswith("\n") else ""
        head = self.text[: groups.key.start]
        return f"{head}{EITHER}:{keyed.newline}{keyed.newline.join(rows)}{rest}{self.text[old.end :]}"

    def drop_line(self, number: int) -> str:
        """Without one alternative; the last one left is written as `groups` again, and can't be dropped."""
        keyed = self._keyed
        either = keyed.entries.get(EITHER)
        if either is None or len(either.values) < 2:
            return self.text
        if len(either.values) == 2:
            kept = either.values[1 - number]
            last = either.values[-1]
            rest = keyed.newline if self.text[last.start : last.end].endswith("\n") else ""
            return f"{self.text[: either.key.start]}{GROUPS}: {scalar(kept.value)}{rest}{self.text[last.end :]}"
        gone = either.values[number]
        return keyed.without(self.text.rfind("\n", 0, gone.start) + 1, gone.end)


def new_hand(name: str, groups: str = "", points: str = "") -> str:
    """The text of a hand that is only begun, in our plain form."""
    fields = ((NAME, name), (GROUPS, groups), (POINTS, points))
    rows = [f"{key}: {scalar(value)}" for key, value in fields]
    return f"      - {rows[0]}\n        {rows[1]}\n        {rows[2]}\n"


def new_section(name: str) -> str:
    """The text of a section without hands."""
    return f"  - section: {scalar(name)}\n    hands:\n"


def new_sheet(name: str, season: str) -> str:
    """The text of a sheet without sections."""
    return f"sheet: {scalar(name)}\nseason: {scalar(season)}\nsections:\n"
