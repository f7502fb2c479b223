"""Writes a sheet out in one plain form: what `reader.read` reads back, and what its fingerprint is taken from."""

from __future__ import annotations

import re
from collections.abc import Sequence

from engine.sheet.clauses import write_where
from engine.sheet.model import Hand, Section, Sheet
from engine.sheet.notation import write_groups

_PLAIN = re.compile(r"[A-Za-z0-9][A-Za-z0-9 ,.'()&/+*=<!;_-]*")


def write(sheet: Sheet) -> str:
    """The YAML text of a sheet; of a cut sheet, of its chosen sections."""
    return write_parts(sheet.name, sheet.season, sheet.maker, sheet.sections)


def write_parts(name: str, season: str, maker: str, sections: Sequence[Section]) -> str:
    """The same from the parts, before there is a Sheet."""
    rows = [f"sheet: {scalar(name)}", f"season: {scalar(season)}"]
    if maker:
        rows.append(f"maker: {scalar(maker)}")
    rows.append("sections:")
    for section in sections:
        rows += [f"  - section: {scalar(section.name)}", "    hands:"]
        for hand in section.hands:
            rows += _hand_rows(hand)
    return "\n".join(rows) + "\n"


def _hand_rows(hand: Hand) -> list[str]:
    rows = [f"      - hand: {scalar(hand.name)}"]
    texts = [write_groups(line.patterns) for line in hand.lines]
    if len(texts) == 1:
        rows.append(f"        groups: {texts[0]}")
    else:
        rows += ["        either:", *(f"          - {text}" for text in texts)]
    if hand.where:
        rows.append(f"        where: {write_where(hand.where)}")
    if hand.concealed:
        rows.append("        hold: concealed")
    rows.append(f"        points: {hand.points}")
    return rows


def scalar(text: str) -> str:
    """A one-line text as a YAML scalar: plain where that is safe, else in single quotes."""
    if _PLAIN.fullmatch(text) and not text.endswith(" "):
        return text
    return "'" + text.replace("'", "''") + "'"
