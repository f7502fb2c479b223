"""The choices by the contest are offered ones, and nothing hidden sways them."""

import random
from itertools import islice

import pytest
from full_games import changed_about, moments, seen, small_table

from engine.advice.contest.choosing import choose
from engine.advice.contest.contest import Contest
from engine.rules.house import FULL, House
from engine.rules.state import Phase

TABLE = small_table()
HOUSE = House(table=FULL, passes=6, courtesy=True)


@pytest.mark.parametrize(
    "phase", [Phase.PASSING, Phase.AGREEING, Phase.ASKING, Phase.GIVING, Phase.TURN, Phase.CALLING]
)
@pytest.mark.slow
def test_chooses_what_is_offered_whatever_is_hidden(phase):
    """The action is a legal one, and the same when the hidden tiles are dealt anew."""
    contest, chance = Contest(TABLE), random.Random(2)
    met = 0
    for state, seat in islice(moments(TABLE, range(3), phase, HOUSE), 0, 40, 8):
        observation = seen(state, seat)
        action = choose(contest, observation)
        assert action in observation.legal or phase in (Phase.PASSING, Phase.GIVING)
        assert choose(Contest(TABLE), seen(changed_about(state, seat, chance), seat)) == action
        met += 1
    assert met
