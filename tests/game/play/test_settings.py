"""The settings: to JSON and back, and what becomes of broken ones."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.play.rack_order import ORDERS
from game.play.settings import ADVICE, EVERYTHING, FIXED_KEYS, HINTED, KEY_USES, KEYS, KeyTakenError, Settings
from game.words.settings import KEY_SAYS, key_refused, lost_setting

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
@pytest.mark.slow
def test_broken_settings_never_raise(data):
    """Any JSON gives settings that are sound: they go to JSON and back without a note."""
    settings, _ = Settings.from_json(data)
    assert Settings.from_json(settings.to_json()) == (settings, ())


def test_a_broken_value_falls_back_alone_with_a_note():
    """One bad value costs nothing else."""
    settings, notes = Settings.from_json({"scale": 9, "advice": "loud", "sound": True, "keys": {"why": "return"}})
    assert settings == Settings(sound=True)
    assert notes == ("scale", "advice", "keys: why")
    assert [lost_setting(one) for one in notes] == [
        "The setting “size” could not be read; it is as at the first start.",
        "The setting “advice” could not be read; it is as at the first start.",
        "The key to say why could not be used; it is as at the first start.",
    ]
    assert settings.advice == HINTED


def test_nothing_kept_yet_needs_no_note():
    """The very first start."""
    assert Settings.from_json(None) == (Settings(), ())


def test_two_uses_never_share_a_key():
    """Defaults are all different and not fixed; a taken key is refused with the use that has it."""
    defaults = [use.key for use in KEY_USES]
    assert len(set(defaults)) == len(defaults)
    assert not set(defaults) & set(FIXED_KEYS)
    with pytest.raises(KeyTakenError) as caught:
        Settings().with_key("mahjong", "w")
    assert key_refused(caught.value) == "That key is there to say why; give that another key first."
    for key in ("return", "ctrl+z", "left shift", "f11", "", " ", "\ud800", "\n"):
        with pytest.raises(KeyTakenError) as caught:
            Settings().with_key("why", key)
        assert key_refused(caught.value).endswith("press a letter, a digit or a sign.")
    swapped, notes = Settings.from_json({"keys": {"why": "m", "mahjong": "w"}})
    assert (swapped.key("why"), swapped.key("mahjong"), notes) == ("m", "w", ())


@pytest.mark.parametrize(
    "broken", [10**400, -(10**400), 1e999, float("nan"), "\ud800", [10**400], {"\ud800": 1}, True, None]
)
def test_values_out_of_all_bounds_are_lost_alone(broken):
    """A figure of 400 digits, no number at all, half of a character: each setting falls back by itself."""
    for name in NAMES[:-1]:
        settings, lost = Settings.from_json({name: broken, "call_seconds": 7})
        assert settings.call_seconds == 7
        assert lost or settings == Settings(call_seconds=7, **({name: broken} if type(broken) is bool else {}))
        assert all(lost_setting(one).endswith("as at the first start.") for one in lost)
    _, lost = Settings.from_json({"keys": {"why": broken, "\ud800": "k"}})
    assert lost in ((), ("keys: why",))


def test_every_key_and_every_loss_has_words():
    """Nothing is left without a name."""
    assert set(KEY_SAYS) == {use.name for use in KEY_USES}
    for lost in (EVERYTHING, KEYS, *Settings().to_json(), *(f"{KEYS}: {use.name}" for use in KEY_USES)):
        assert lost_setting(lost).endswith("as at the first start.")
    assert Settings.from_json(5)[1] == (EVERYTHING,)
