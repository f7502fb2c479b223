"""Sheet files against YAML itself: its specification, and loaders that are not ours.

Sources: YAML 1.1 and 1.2 specifications, production [1] c-printable (the ranges written from memory); PyYAML's own
constructor over its pure-Python parser and, where PyYAML was built with it, over libyaml.
"""

from __future__ import annotations

import pytest
import yaml

from engine.sheet.model import Sheet
from engine.sheet.reader import read
from engine.sheet.shelf import find, shipped

LOADERS = [yaml.BaseLoader, *([yaml.CBaseLoader] if hasattr(yaml, "CBaseLoader") else [])]
"""Loaders that leave every scalar a string."""


def as_data(sheet: Sheet) -> dict[str, object]:
    """What a plain YAML reader should find in the file of a sheet."""
    return {
        "sheet": sheet.name,
        "season": sheet.season,
        "maker": sheet.maker,
        "sections": [
            {
                "section": section.name,
                "hands": [
                    {
                        "hand": hand.name,
                        **(
                            {"groups": hand.lines[0].text}
                            if len(hand.lines) == 1
                            else {"either": [line.text for line in hand.lines]}
                        ),
                        **({"where": hand.where_text} if hand.where else {}),
                        **({"hold": "concealed"} if hand.concealed else {}),
                        "points": str(hand.points),
                    }
                    for hand in section.hands
                ],
            }
            for section in sheet.sections
        ],
    }


@pytest.mark.parametrize("loader", LOADERS, ids=lambda loader: loader.__name__)
@pytest.mark.parametrize("stem", shipped())
@pytest.mark.slow
def test_written_sheets_are_plain_yaml(stem: str, loader: type) -> None:
    """What we write, other YAML readers read to the same names, groups, clauses and points."""
    sheet = find(stem)
    assert yaml.load(sheet.canonical, Loader=loader) == as_data(sheet)


def printable(point: int) -> bool:
    """Production [1] c-printable of the YAML specification."""
    return (
        point in (0x9, 0xA, 0xD, 0x85)
        or 0x20 <= point <= 0x7E
        or 0xA0 <= point <= 0xD7FF
        or 0xE000 <= point <= 0xFFFD
        or 0x10000 <= point <= 0x10FFFF
    )


def test_characters_that_yaml_refuses_are_faults() -> None:
    """Every character outside c-printable is refused at its place, as YAML demands."""
    refused = [point for point in range(0xFFFF + 1) if not printable(point) and not 0xD800 <= point <= 0xDFFF]
    assert len(refused) == 0x20 - 3 + 1 + 0x20 - 1 + 2  # control characters but tab, LF, CR, DEL and NEL; FFFE, FFFF
    for point in refused:
        (fault,) = [fault for fault in read(f"# a{chr(point)}b\n").faults if "U+" in fault.message]
        assert (fault.line, fault.column) == (1, 4)
        assert f"U+{point:04X}" in fault.message


@pytest.mark.slow
def test_characters_that_yaml_allows_may_stand_in_names() -> None:
    """Letters and signs of every plane are read as they are, when they can be seen."""
    for name in ("Größe", "木の札", "🀄 dragon", "½ & ¾", "Ελλάς", "a\u00a0b", "\u05d0\u05d1"):
        text = f"sheet: '{name}'\n" + find(shipped()[0]).canonical.split("\n", 1)[1]
        sheet = read(text).sheet
        assert sheet is not None
        assert sheet.name == name
        assert yaml.load(sheet.canonical, Loader=yaml.BaseLoader)["sheet"] == name
