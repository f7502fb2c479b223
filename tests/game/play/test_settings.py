"""The settings: to JSON and back, and what becomes of broken ones."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.play.rack_order import ORDERS
from game.play.settings import ADVICE, FIXED_KEYS, HINTED, KEY_USES, KeyTakenError, Settings

JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=8,
)
NAMES = ("scale", "advice", "rack_order", "sound", "motion", "keys", "unknown")


@given(
    st.sampled_from([1.0, 1.25, 2.0, 3.0]),
    st.sampled_from(ADVICE),
    st.sampled_from(ORDERS),
    st.booleans(),
    st.booleans(),
)
def test_settings_come_back_from_json(scale, advice, order, sound, motion):
    """What is written as JSON text is read back equal, without a note."""
    settings = Settings(scale, advice, order, sound, motion).with_key("why", "k").with_key("mahjong", "7")
    back, notes = Settings.from_json(json.loads(json.dumps(settings.to_json())))
    assert back == settings
    assert notes == ()


@given(JSON | st.dictionaries(st.sampled_from(NAMES), JSON))
def test_broken_settings_never_raise(data):
    """Any JSON gives settings that are sound: they go to JSON and back without a note."""
    settings, _ = Settings.from_json(data)
    assert Settings.from_json(settings.to_json()) == (settings, ())


def test_a_broken_value_falls_back_alone_with_a_note():
    """One bad value costs nothing else."""
    settings, notes = Settings.from_json({"scale": 9, "advice": "loud", "sound": True, "keys": {"why": "return"}})
    assert settings == Settings(sound=True)
    assert len(notes) == 3
    assert all(note.endswith("as at the first start.") for note in notes)
    assert settings.advice == HINTED


def test_nothing_kept_yet_needs_no_note():
    """The very first start."""
    assert Settings.from_json(None) == (Settings(), ())


def test_two_uses_never_share_a_key():
    """Defaults are all different and not fixed; a taken key is refused with the use that has it."""
    defaults = [use.key for use in KEY_USES]
    assert len(set(defaults)) == len(defaults)
    assert not set(defaults) & set(FIXED_KEYS)
    with pytest.raises(KeyTakenError, match="say why"):
        Settings().with_key("mahjong", "w")
    for key in ("return", "ctrl+z", "left shift", "f11"):
        with pytest.raises(KeyTakenError):
            Settings().with_key("why", key)
    swapped, notes = Settings.from_json({"keys": {"why": "m", "mahjong": "w"}})
    assert (swapped.key("why"), swapped.key("mahjong"), notes) == ("m", "w", ())
