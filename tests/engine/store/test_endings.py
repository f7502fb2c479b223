"""The end of a game goes into a line and comes out the same, and nothing else is taken for one."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.rules.game import start
from engine.rules.house import House
from engine.rules.record import Record, replay
from engine.store.endings import GameEnd, end_by_replay, end_from_sentence, end_of, end_text

SEAT = st.none() | st.integers(0, 3)
POINTS = st.integers(-5000, 5000)
ENDS = st.builds(
    GameEnd, st.text(max_size=9), st.integers(0, 99), SEAT, st.text(max_size=9), st.text(max_size=9), POINTS, POINTS,
    st.tuples(POINTS, POINTS, POINTS, POINTS), SEAT, st.booleans(), st.text(max_size=9),
    POINTS,
)  # fmt: skip


@given(ENDS)
def test_an_end_comes_back_as_it_was(end):
    """Whatever it holds."""
    assert end_of(end_text(end)) == end


def test_its_text_holds_what_is_not_as_usual():
    """Short, and the same for ever: stores hold it."""
    assert end_text(GameEnd("picks", 31)) == '{"kind": "picks", "picks": 31}'
    end = GameEnd("mahjong", 9, 2, "Shed", "Yard", 25, 100, (-25, -50, 100, -25), 1, True)
    assert end_text(end) == (
        '{"kind": "mahjong", "picks": 9, "winner": 2, "hand": "Shed", "section": "Yard", "worth": 25, "points": 100, '
        '"payments": [-25, -50, 100, -25], "discarder": 1, "jokerless": true}'
    )


def test_the_last_tile_was_drawn_or_called():
    """By whether somebody let it go."""
    assert GameEnd("mahjong", winner=1).self_drawn
    assert not GameEnd("mahjong", winner=1, discarder=0).self_drawn
    assert not GameEnd("wall").self_drawn


@pytest.mark.parametrize(
    "text",
    [
        "", "All picks are used.", "[]", "{}", '{"kind": 3}', '{"kind": "wall", "more": 1}',
        '{"kind": "wall", "picks": "9"}',
        '{"kind": "wall", "picks": true}', '{"kind": "wall", "winner": 4}', '{"kind": "wall", "discarder": -1}',
        '{"kind": "wall", "payments": [1, 2, 3]}', '{"kind": "wall", "payments": [1, 2, 3, "4"]}',
        '{"kind": "wall", "jokerless": 1}', '{"kind": "wall", "hand": null}', "[" * 100_000,
    ],
)  # fmt: skip
def test_what_is_no_end_is_refused(text):
    """With the one error that a damaged row is known by."""
    with pytest.raises(ValueError):  # noqa: PT011 - any sentence will do
        end_of(text)


def test_the_end_of_a_record_is_that_of_its_last_state(sheet, played):
    """None while the game goes on, and none for a record that breaks off against the rules."""
    record = played(seed=2, entries=99, house=House(picks=3))
    assert GameEnd.of(replay(record, sheet)[-1]) == end_by_replay(record, sheet) == GameEnd("picks", 3)
    assert end_by_replay(Record(record.header, record.entries[:-1]), sheet) is None
    assert end_by_replay(Record(record.header, (*record.entries, record.entries[-1])), sheet) is None
    with pytest.raises(ValueError, match="not over"):
        GameEnd.of(start(sheet, record.header.house, record.header.wall))


def test_an_old_sentence_stays_only_where_the_figures_say_less():
    """Games that nobody won are told by their figures; a hand that was made, by the sentence."""
    assert end_from_sentence("All 9 picks are used.", {"kind": "picks", "picks": 9, "points": 0}) == GameEnd("picks", 9)
    assert end_from_sentence("You made Shed.", {"kind": "mahjong", "picks": 9}) == GameEnd("", said="You made Shed.")
    assert end_from_sentence("Done.", {}) == GameEnd("", said="Done.")
    assert end_from_sentence("x" * 19_000, {"kind": "weather"}) == GameEnd("", said="x" * 400)
