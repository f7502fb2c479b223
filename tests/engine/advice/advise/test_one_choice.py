"""What is shown at a full table is what the contest chooses: one place decides."""

from itertools import islice

import pytest
from full_games import moments, seen, small_table

from engine.advice.advise.calls import advise_call
from engine.advice.advise.defence import advise_defence
from engine.advice.advise.discard import advise
from engine.advice.advise.exchanges import advise_exchange
from engine.advice.advise.passes import (
    advise_courtesy,
    advise_passes,
    advise_second_round,
    choose_before_play,
)
from engine.advice.advise.verdict import verdict_of
from engine.advice.contest.choosing import choose
from engine.advice.contest.contest import Contest
from engine.advice.moment import Moment
from engine.rules.actions import Agree, Ask, Call, Exchange, Give, Mahjong, Pass, Stop
from engine.rules.house import FULL, House
from engine.rules.state import Phase

TABLE = small_table()
HOUSE = House(table=FULL, passes=6, courtesy=True)


def shown_in_play(observation):
    """The verdict's action."""
    rack = advise(Moment.seen(TABLE, observation))
    if observation.phase is Phase.CALLING:
        return verdict_of(rack, advise_call(TABLE, observation)).action
    exchange = advise_exchange(TABLE, observation)
    return verdict_of(rack, None, exchange, advise_defence(observation)).action


def shown_before_play(observation):
    """The action of the advice that the screen shows."""
    if observation.phase is Phase.PASSING:
        advice = advise_passes(TABLE, observation)
        return Pass(advice.blind_kinds, advice.blind) if advice.blind else Pass(advice.choices[0].kinds)
    if observation.phase is Phase.AGREEING:
        return Agree() if advise_second_round(TABLE, observation).agree else Stop()
    courtesy = advise_courtesy(TABLE, observation)
    return Ask(courtesy.ask) if observation.phase is Phase.ASKING else Give(courtesy.give)


@pytest.mark.parametrize(("phase", "wanted"), [(Phase.TURN, Exchange), (Phase.CALLING, Call)])
@pytest.mark.slow
def test_the_verdict_in_play_is_the_contest_s_choice(phase, wanted):
    """Tiles let go, joker exchanges, calls, among many exposures."""
    contest, made = Contest(TABLE), 0
    some = (one for one in moments(TABLE, range(60), phase) if any(isinstance(a, wanted) for a in seen(*one).legal))
    for state, seat in [*islice(moments(TABLE, range(20), phase), 7, 70, 15), *islice(some, 0, 60, 5)]:
        observation = seen(state, seat)
        if Mahjong() not in observation.legal or observation.hand is not None:
            action = choose(contest, observation)
            assert shown_in_play(observation) == action
            made += isinstance(action, wanted)
    assert made


@pytest.mark.parametrize("phase", [Phase.PASSING, Phase.AGREEING, Phase.ASKING, Phase.GIVING])
@pytest.mark.slow
def test_the_advice_before_play_is_the_contest_s_choice(phase):
    """Passes, blind ones too, the vote, the courtesy pass; with reasons and without."""
    contest = Contest(TABLE)
    for state, seat in islice(moments(TABLE, range(8), phase, HOUSE), 0, 20, 5):
        observation = seen(state, seat)
        action = choose(contest, observation)
        if len(observation.legal) != 1:
            assert shown_before_play(observation) == choose_before_play(TABLE, observation) == action
