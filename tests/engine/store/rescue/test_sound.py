"""A row that was read from damaged pages is taken only where our own writing could have left it so."""

import pytest

from engine.store.rescue.sound import is_sound

AT = "2026-03-01T12:00:00+00:00"
SOUND = {
    "results": {"id": 3, "at": AT, "kind": "lay", "allowance": None, "figures": '{"right": 2}', "line": None},
    "settings": {"key": "scale", "value": "1.5"},
    "notes": {"id": 1, "line": 2, "moment": 4, "at": AT, "text": "kept the flowers"},
    "reviews": {"id": 1, "line": 2, "at": AT, "choices": 30, "cost": 1.5, "faults": 2, "advice_seen": 0},
}


def row_of(table, **changed):
    """A sound row of a table with some of its values changed; settings have a number here, too."""
    return {"id": 1, **SOUND[table], **changed}


@pytest.mark.parametrize("table", SOUND)
def test_a_row_that_we_wrote_is_sound(table):
    """As it stands in a store."""
    assert is_sound(table, row_of(table))


@pytest.mark.parametrize(
    ("table", "changed"),
    [
        ("results", {"figures": '{"right": 2'}),
        ("results", {"figures": "[2]"}),
        ("results", {"at": "yesterday"}),
        ("results", {"allowance": "long"}),
        ("results", {"line": 2.5}),
        ("results", {"kind": "la\ufffd"}),
        ("settings", {"value": "{"}),
        ("settings", {"key": 7}),
        ("notes", {"at": "yesterday"}),
        ("notes", {"moment": "four"}),
        ("notes", {"text": b"kept"}),
        ("reviews", {"choices": -1}),
        ("reviews", {"at": 12}),
        ("reviews", {"id": 0}),
    ],
)
def test_a_row_with_a_damaged_value_is_none_of_ours(table, changed):
    """One value at a time."""
    assert not is_sound(table, row_of(table, **changed))
