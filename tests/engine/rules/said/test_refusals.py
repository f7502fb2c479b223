"""Refusals: each rule has words of its own, and the errors that carry them are whole."""

import pickle
import re
from pathlib import Path

import pytest

import engine.rules
from engine.rules.actions import Discard, IllegalActionError, MalformedActionError, Pass, parse_action
from engine.rules.game import apply
from engine.rules.refusals import Refusal, Rule
from engine.rules.sentences import clause, sentence

FAULTS = {Rule.WRONG_EXPOSURE, Rule.NO_MAHJONG}
"""Rules whose words are those of the fault that comes with them."""


@pytest.mark.parametrize("rule", [rule for rule in Rule if rule not in FAULTS])
def test_every_rule_has_words_of_its_own(rule):
    """A clause that could follow a colon, whoever reads it; no two rules say the same."""
    refusal = Refusal(rule, seat=2, kind=0, number=3, said="what the reader said")
    for player in (None, 0, 2):
        said = clause(refusal, player)
        assert said == said.strip()
        assert not said.endswith(".")
        assert "{" not in said
        assert sentence(refusal, player) == f"{said[0].upper()}{said[1:]}."
    others = [clause(Refusal(other, seat=2, kind=0, number=3)) for other in Rule if other not in FAULTS | {rule}]
    assert clause(refusal) not in others


def test_every_rule_is_used():
    """No rule is left over from something that is no longer refused."""
    folder = Path(engine.rules.__file__).parent
    text = "".join(
        file.read_text() for file in folder.rglob("*.py") if file.name not in ("refusals.py", "sentences.py")
    )
    assert {rule.name for rule in Rule} == set(re.findall(r"\bRule\.([A-Z_]+)\b", text))


def test_an_illegal_action_carries_its_refusal(kit):
    """The rule and what it is about, without a look at the text; the text is one sentence for a log."""
    state = kit.table(east="1b")
    with pytest.raises(IllegalActionError) as caught:
        apply(state, Discard(34))
    assert caught.value.refusal == Refusal(Rule.NOT_HELD, seat=0, kind=34)
    assert str(caught.value) == "“discard fl” is not allowed in a turn: east holds no flower."
    assert str(pickle.loads(pickle.dumps(caught.value))) == str(caught.value)


def test_a_malformed_action_carries_its_refusal(kit):
    """As a value at the table, and as a line of text."""
    with pytest.raises(MalformedActionError) as caught:
        apply(kit.table(passes=3), Pass((0, 1)))
    assert caught.value.refusal == Refusal(Rule.PASS_COUNT, number=3)
    assert str(caught.value) == (
        "“Pass(kinds=(0, 1), blind=0)” is no action in the passes or anywhere: "
        "a pass is 3 tiles, those passed on unseen included."
    )
    assert str(pickle.loads(pickle.dumps(caught.value))) == str(caught.value)
    for line, rule in (("hop", Rule.UNREADABLE), ("discard 0x", Rule.UNREADABLE_TILES), ("ask 4", Rule.COURTESY_COUNT)):
        with pytest.raises(MalformedActionError) as caught:
            parse_action(line)
        assert caught.value.refusal.rule is rule
        assert str(caught.value) == f"“{line}” is no action: {clause(caught.value.refusal)}."


def test_a_group_of_every_size_is_named():
    """From a single to a sextet, in the trade's words."""
    said = [clause(Refusal(Rule.REST_NOT_HELD, seat=2, number=number, kind=0)) for number in range(1, 7)]
    for name, one in zip(("single", "pair", "pung", "kong", "quint", "sextet"), said, strict=True):
        assert name in one
