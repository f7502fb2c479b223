"""Actions: every one round-trips through its line, and what is none is refused with a sentence."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.rules.actions import (
    Agree,
    Ask,
    Call,
    Discard,
    Draw,
    Exchange,
    Give,
    LetGo,
    Mahjong,
    MalformedActionError,
    Pass,
    Stop,
    parse_action,
    what_is_malformed,
)

KINDS = st.integers(0, 35)
ACTIONS = st.one_of(
    st.builds(Draw, KINDS),
    st.builds(Discard, KINDS),
    st.sampled_from([Mahjong(), Agree(), Stop(), LetGo()]),
    st.integers(0, 3).flatmap(
        lambda blind: st.builds(
            Pass, st.lists(KINDS, min_size=3 - blind, max_size=3 - blind).map(tuple), st.just(blind)
        )
    ),
    st.builds(Ask, st.integers(0, 3)),
    st.builds(Give, st.lists(KINDS, max_size=3).map(tuple)),
    st.integers(1, 6).flatmap(lambda size: st.builds(Call, st.just(size), st.integers(0, size - 1))),
    st.builds(Exchange, st.integers(0, 3), st.integers(0, 3), st.integers(0, 34)),
)


@given(ACTIONS)
def test_an_action_is_read_back_from_its_line(action):
    """`parse_action` undoes `str`, and what is well formed is called so."""
    assert what_is_malformed(action) is None
    assert parse_action(str(action)) == action


@pytest.mark.parametrize(
    ("action", "line"),
    [
        (Draw(22), "draw 5d"),
        (Discard(34), "discard fl"),
        (Pass((27, 0, 10)), "pass 1b 2c we"),
        (Pass((27,), 2), "pass we blind 2"),
        (Pass((), 3), "pass blind 3"),
        (Ask(0), "ask 0"),
        (Give(()), "give"),
        (Give((3, 2)), "give 3b 4b"),
        (Call(4, 2), "call kong jokers 2"),
        (Call(3), "call pung"),
        (Exchange(2, 1, 8), "exchange 9b seat 2 exposure 1"),
        (Mahjong(), "mahjong"),
        (LetGo(), "no call"),
        (Agree(), "agree"),
        (Stop(), "stop"),
    ],
)
def test_lines_are_written_as_the_record_shows_them(action, line):
    """The exact words of every kind of line, so that old records stay readable."""
    assert str(action) == line
    assert parse_action(line) == action


def test_tiles_of_a_pass_are_kept_in_order_however_they_are_given():
    """The same three tiles are the same pass."""
    assert Pass((3, 1, 2)) == Pass((1, 2, 3))
    assert Give((3, 1)) == Give((1, 3))


@pytest.mark.parametrize(
    "line",
    [
        "", " ", "discard", "discard 5x", "discard 5d 5d", "draw", "draw 0b", "pass 1b 2c", "pass 1b 2c we wn",
        "pass 1b 2c we blind 1", "pass blind 4", "pass 1b blind -2", "pass 1b blind ２", "pass 1b blind two",
        "pass 99x1b", "ask 4", "ask -1", "ask", "ask ٣", "give 1b 1b 1b 1b", "call", "call seven", "call pung jokers 3",
        "call pung jokers -1", "exchange 5d seat 4 exposure 0", "exchange 5d seat 0 exposure 4",
        "exchange jk seat 0 exposure 0", "exchange 5d seat 0", "mahjong now", "no", "agree agree", "MAHJONG",
        "discard 5d\x00", "x" * 10000,
    ],
)  # fmt: skip
def test_a_line_that_is_no_action_is_refused_with_one_sentence(line):
    """MalformedActionError quotes the line, cut short, and says what is wrong."""
    with pytest.raises(MalformedActionError) as caught:
        parse_action(line)
    assert f"“{line[:60]}” is no action" in str(caught.value)
    assert len(str(caught.value)) < 300


@given(st.text())
@pytest.mark.slow
def test_any_text_is_an_action_or_malformed(text):
    """Nothing but MalformedActionError ever comes out of a text that is none."""
    try:
        action = parse_action(text)
    except MalformedActionError:
        return
    assert what_is_malformed(action) is None


@pytest.mark.parametrize(
    "value",
    [
        None, 5, "discard 5d", Draw, Discard(36), Discard(-1), Discard("5d"), Discard(True), Draw(1.0), Pass((1, 2)),
        Pass((1, 2, 3), 1), Pass((1, 2, 40)), Pass((1, 2), 1.0), Ask(4), Ask(True), Give((1, 2, 3, 4)), Give((-1,)),
        Call(0), Call(7), Call(3, 3), Call(3, -1), Exchange(4, 0, 1), Exchange(0, 9, 1), Exchange(0, 0, 35),
        Exchange(0, 0, 77),
    ],
)  # fmt: skip
def test_a_value_that_is_no_action_is_found_out(value):
    """Wrong types, counts and ranges are malformed whatever the moment."""
    assert what_is_malformed(value)
