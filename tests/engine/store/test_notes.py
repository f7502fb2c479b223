"""Notes, settings and tallies come back as they were kept."""

import pytest
from depth import deep
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from engine.store.rows import clean
from engine.store.store import Store
from engine.store.values import LONGEST_TEXT, StoreError

VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=4),
    max_leaves=12,
)


@pytest.fixture(scope="module")
def shared(quick_folder):
    """One store for many examples."""
    with Store(quick_folder() / "lone-east.sqlite") as store:
        yield store


@given(key=st.sampled_from(["scale", "advice", "keys.draw", "Größe"]), value=VALUES)
@settings(max_examples=deep(60, 150), deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@pytest.mark.slow
def test_any_json_value_is_kept_as_a_setting(shared, key, value):
    """Round trip, over whatever stood there before."""
    shared.set(key, value)
    assert shared.get(key) == value
    assert shared.settings()[key] == value


def test_settings_outlive_the_program(path):
    """And a key that was never set gives the default."""
    with Store(path) as store:
        assert store.get("scale", 100) == 100
        store.set("scale", 200)
        store.set("scale", None)
    with Store(path) as store:
        assert store.get("scale", 100) is None
        assert store.get("sound", False) is False


@pytest.mark.parametrize("value", [float("nan"), float("inf"), {1, 2}, object(), b"bytes"])
def test_a_value_without_a_json_form_is_refused(store, value):
    """With a sentence, and the old value stands."""
    store.set("scale", 100)
    with pytest.raises(StoreError, match="can't be stored"):
        store.set("scale", value)
    assert store.get("scale") == 100


def test_notes_are_listed_by_moment_and_shared_with_forks(store, played, keep):
    """A fork shows what was noted on the part that it shares, and its own; the parent shows only its own."""
    line = keep(store, played(entries=20))
    store.note(line, "late", 15)
    store.note(line, "at the fork", 8)
    store.note(line, "on the whole")
    child = store.fork(line, 8)
    store.note(child, "another way", 8)
    grandchild = store.fork(child, 3)
    assert [note.text for note in store.notes(line)] == ["on the whole", "at the fork", "late"]
    assert [note.text for note in store.notes(child)] == ["on the whole", "at the fork", "another way"]
    assert [note.line for note in store.notes(child)] == [line, line, child]
    assert [note.text for note in store.notes(grandchild)] == ["on the whole"]
    assert [note.moment for note in store.notes(line)] == [None, 8, 15]


def test_a_note_can_be_changed_and_taken_away(store, header):
    """It is the player's own."""
    line = store.start_line(header())
    first, second = store.note(line, "first"), store.note(line, "second", 0)
    store.change_note(first, "better")
    store.remove_note(second)
    assert [(note.id, note.text) for note in store.notes(line)] == [(first, "better")]
    for ask in (lambda: store.remove_note(second), lambda: store.change_note(1 << 70, "x")):
        with pytest.raises(StoreError, match="no note numbered"):
            ask()


@pytest.mark.parametrize("text", ["", "  \n ", "\x00\x07", "x" * (LONGEST_TEXT + 1)])
def test_a_note_needs_words_and_not_too_many(store, header, text):
    """One sentence each."""
    line = store.start_line(header())
    with pytest.raises(StoreError):
        store.note(line, text)
    assert store.notes(line) == ()


@given(st.text(alphabet=st.characters(exclude_categories=[])))
@settings(max_examples=300)
def test_clean_text_can_be_kept_drawn_and_written(text):
    """No control character (a screen can't draw NUL), no half of a pair (a file can't hold it); once is enough."""
    plain = clean(text)
    assert clean(plain) == plain
    assert plain.encode("utf-8").decode("utf-8") == plain
    assert not any(ord(char) < 32 and char != "\n" for char in plain)
    if text.isascii() and text.isprintable():
        assert plain == text


def test_words_of_any_script_stay_as_they_are():
    """Accents, Chinese, an emoji joined of several, and a forced picture."""
    for text in ("Größe", "東南西北", "👩‍👩‍👧", "🀄\ufe0f", "Zeile\nund Zeile", "می‌خواهم"):
        assert clean(text) == text
    assert clean("a\tb\u00a0c\r\nd\x00e") == "a b c\nde"


def test_results_are_listed_latest_first_and_timed_apart_from_untimed(store, header):
    """The statistics of a timed drill are never mixed with those of the untimed one."""
    line = store.start_line(header())
    store.add_result("passes", {"right": 5, "of": 6})
    store.add_result("passes", {"right": 4, "of": 6}, allowance=300, line=line)
    store.add_result("sheet", {"right": 9})
    store.add_result("passes", {"right": 6, "of": 6}, allowance=240.5)
    assert [result.allowance for result in store.results("passes")] == [240.5, 300, None]
    assert [result.figures["right"] for result in store.results("passes", timed=True)] == [6, 4]
    assert [result.figures["right"] for result in store.results("passes", timed=False)] == [5]
    assert [result.kind for result in store.results(limit=2)] == ["passes", "sheet"]
    assert store.results("passes", timed=True)[1].line == line
    assert store.results(limit=1)[0].at > store.results()[-1].at


@pytest.mark.parametrize("allowance", [0, -5, 1_000_000_000, float("nan"), float("inf")])
def test_an_allowance_that_cannot_be_is_refused(store, allowance):
    """Untimed is None, not nothing. All the seconds of 31 years are the most."""
    store.add_result("passes", {}, allowance=999_999_999)
    with pytest.raises(StoreError, match="allowance"):
        store.add_result("passes", {}, allowance=allowance)
