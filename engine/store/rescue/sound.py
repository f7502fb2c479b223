"""Whether a row that was read from a damaged file can be one of ours, and rows of older forms as they would be now."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from engine.store import rows, schema
from engine.store.endings import end_from_sentence, end_text
from engine.store.values import UnsoundRowError

OLD_LINES = (*schema.WANTED["lines"][:-2], "outcome", "figures")
"""The columns of a line before its end was data."""


def rows_of(table: str, number: int, values: Sequence[object]) -> Iterator[dict[str, Any]]:
    """The rows, in today's form, that bare values may make in a table, sound or not."""
    for names in (schema.WANTED[table], OLD_LINES) if table == "lines" else (schema.WANTED[table],):
        if len(values) == len(names) and values[0] is None:
            yield of_today(table, {**dict(zip(names, values, strict=True)), "id": number})


def of_today(table: str, row: Mapping[str, Any]) -> dict[str, Any]:
    """A row of an older form as it would be written today."""
    today = dict(row)
    if table != "lines" or "outcome" not in row:
        return today
    sentence, figures = today.pop("outcome"), today.pop("figures", None)
    today |= {"ended": None, "sequence": 0}
    with contextlib.suppress(UnsoundRowError):
        if sentence is not None:
            today["ended"] = end_text(end_from_sentence(str(sentence), rows.object_of(figures)))
    return today


def is_sound(table: str, row: dict[str, Any]) -> bool:
    """Whether the store could have written this row."""
    if any(name not in row for name in schema.WANTED[table]) or type(row["id"]) is not int or row["id"] < 1:
        return False
    if table == "lines":
        row.update(rows.mended(row))
    if table != "notes" and any("\ufffd" in value for value in row.values() if isinstance(value, str)):
        return False  # bytes that are no text; in a note the player may have written the mark
    try:
        return _CHECKS[table](row)
    except (UnsoundRowError, TypeError, ValueError, KeyError):
        return False


def _whole(*values: object) -> bool:
    return all(isinstance(value, int) and value >= 0 for value in values)


def _text(*values: object) -> bool:
    return all(isinstance(value, str) for value in values)


def _sound_sheet(row: dict[str, Any]) -> bool:
    rows.moment_of(row["first_seen"])
    if not rows.canonical_is_sound(row["fingerprint"], row["canonical"]):
        row["canonical"] = None  # its name is still worth having
    return _text(row["fingerprint"], row["name"], row["season"], row["maker"])


def _sound_line(row: dict[str, Any]) -> bool:
    rows.summary_of({**row, "sheet_name": "", "season": "", "notes": 0, "set_aside": 0})
    rows.wall_of(row["wall"], rows.house_of(row["house"]))
    parent_is_older = row["parent"] is None or (_whole(row["parent"]) and row["parent"] < row["id"])
    return (
        parent_is_older
        and _whole(row["forked_at"], row["entries"])
        and row["forked_at"] <= row["entries"]
        and _text(row["deal"], row["sheet"], row["kind"])
        and row["advice_hidden"] in (0, 1)
        and row["imported"] in (0, 1)
        and _whole(row["sequence"])
    )


def _sound_entry(row: dict[str, Any]) -> bool:
    rows.action_of(row)
    rows.moment_of(row["at"])
    return _whole(row["line"], row["number"]) and _whole(row["seat"] + 1)


def _sound_note(row: dict[str, Any]) -> bool:
    rows.note_of(row)
    return _whole(row["line"]) and _text(row["text"]) and (row["moment"] is None or _whole(row["moment"]))


def _sound_setting(row: dict[str, Any]) -> bool:
    rows.from_json(row["value"])
    return _text(row["key"])


def _sound_result(row: dict[str, Any]) -> bool:
    rows.result_of(row)
    allowance_is_sound = row["allowance"] is None or isinstance(row["allowance"], int | float)
    return allowance_is_sound and _text(row["kind"]) and (row["line"] is None or _whole(row["line"]))


def _sound_review(row: dict[str, Any]) -> bool:
    rows.review_of(row)
    return _text(row["at"])


_CHECKS = {
    "sheets": _sound_sheet,
    "lines": _sound_line,
    "entries": _sound_entry,
    "notes": _sound_note,
    "settings": _sound_setting,
    "results": _sound_result,
    "reviews": _sound_review,
}
