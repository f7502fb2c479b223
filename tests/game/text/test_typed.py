"""What is typed at the text table: all that the table itself says is understood, and nonsense gets a sentence."""

import contextlib
import re

import pytest
from at_table import beginner
from depth import deep
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.advice.advise.passes import choose_before_play
from engine.rules.actions import Agree, Ask, Call, Give, Pass, Stop
from engine.rules.deal import DealCode
from engine.rules.house import House
from engine.rules.passing import BEFORE_PLAY
from engine.seats.character import Strength
from engine.seats.players import player
from engine.tiles import KINDS, code, name, say_tiles
from game.play.advisor import Advisor
from game.play.sitting import Sitting
from game.text.passes import advised_before
from game.text.typed import NotUnderstoodError, calls_meant, choice_before_play, one_of, tiles_of

KINDS_TYPED = st.integers(min_value=0, max_value=KINDS - 1)


@given(st.lists(KINDS_TYPED, min_size=0, max_size=14))
@settings(deadline=None)
def test_tiles_are_read_by_name_as_they_are_said_and_by_code(kinds):
    """`5 dot, 5 dot and east wind` and `5d 5d we`, in any case and with a full stop."""
    assert tiles_of(say_tiles(kinds)) == tuple(kinds)
    assert tiles_of(say_tiles(kinds).upper() + ".") == tuple(kinds)
    assert tiles_of(" ".join(code(kind) for kind in kinds)) == tuple(kinds)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("pass 1b 2b 3b", Pass((0, 1, 2))),
        ("Pass 1 bam, 2 bam and the 3 bam.", Pass((0, 1, 2))),
        ("pass red, east and 9c", Pass((17, 27, 32))),
        ("pass 1b blind 2", Pass((0,), 2)),
        ("pass 1 bam and two blind", Pass((0,), 2)),
        ("pass three blind", Pass((), 3)),
        ("agree", Agree()),
        ("Stop.", Stop()),
        ("ask 2", Ask(2)),
        ("Ask for two tiles.", Ask(2)),
        ("Ask for two and give 1 bam and east wind", Ask(2)),
        ("give 5 dot", Give((22,))),
        ("Give no tile.", Give(())),
        ("give", Give(())),
    ],
)
def test_choices_before_play(typed, meant):
    """In codes, in words, and as the advice words them."""
    assert choice_before_play(typed) == meant


@pytest.mark.parametrize(
    "typed",
    ["pass", "pass 1b", "pass 1b 2b 3b 4b", "pass 1b 2b 3b 4b blind -1", "pass 1b blind", "pass zz zz zz", "ask",
     "ask 4", "ask -1", "ask 1 2", "ask many", "give zz", "pass 1b 2b blind 99999999999999999999"],
)  # fmt: skip
def test_what_cannot_be_is_not_understood(typed):
    """One sentence that says what to type instead."""
    with pytest.raises(NotUnderstoodError) as caught:
        choice_before_play(typed)
    assert str(caught.value)[0] in "“TABCDEFGHIJKLMNOPQRSUVWXYZ"
    assert str(caught.value).endswith(".")


@given(st.text(max_size=60))
@settings(deadline=None)
def test_any_text_is_a_choice_or_none_or_not_understood(text):
    """Nothing else comes out of it."""
    for typed in (text, f"pass {text}", f"ask {text}", f"give {text}"):
        action = None
        with contextlib.suppress(NotUnderstoodError):
            action = choice_before_play(typed)
        assert action is None or isinstance(action, Pass | Give | Ask | Agree | Stop)


@pytest.mark.slow
def test_what_the_advice_says_before_play_can_be_typed():
    """What the advice says to do, typed as it stands, is the choice that it advises."""
    sheet = beginner()
    advisor = Advisor(sheet, 8, effort=0)
    seen = set()
    for seed in range(deep(2, 4)):
        sitting = Sitting(
            DealCode.of(sheet, House(passes=6, courtesy=True, picks=40), seed).deal(sheet),
            others=player(Strength.STEADY, advisor.table),
        )
        while sitting.state.phase in BEFORE_PLAY:
            observation = sitting.observation
            said = advised_before(advisor, sitting)
            advised = choose_before_play(advisor.table, observation)
            choice = re.search(r"(Pass|Agree|Stop|Ask|Give)\b[^.:]*", said)[0]
            assert choice_before_play(choice) == advised, said
            seen.add(type(advised))
            sitting.act(advised)
    assert {Pass, Ask} <= seen


def test_calls_are_meant_by_size_and_jokers():
    """As the table lists them: `call kong with one joker`."""
    calls = [Call(3, 0), Call(3, 1), Call(4, 1)]
    assert calls_meant("", calls) == calls
    assert calls_meant("pung", calls) == [Call(3, 0), Call(3, 1)]
    assert calls_meant("it for a pung with one joker.", calls) == [Call(3, 1)]
    assert calls_meant("kong 1", calls) == [Call(4, 1)]
    assert calls_meant("sextet", calls) == []


def test_a_numbered_thing_is_one_of_those_there_are():
    """From 1 on, in figures or words."""
    assert [one_of(text, 2) for text in ("1", "two", "2.", "3", "0", "", "x", "9" * 400, "²")] == [
        0, 1, 1, None, None, None, None, None, None,
    ]  # fmt: skip


def test_every_tile_has_its_own_name():
    """No name is read as another tile's."""
    assert [tiles_of(name(kind)) for kind in range(KINDS)] == [(kind,) for kind in range(KINDS)]
