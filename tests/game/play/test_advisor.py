"""The advisor: one plan goes through a deal, whatever is asked first and wherever it is asked."""

from types import SimpleNamespace

import pytest
from at_table import beginner

from engine.advice.advise.defence import Defence, OtherSeat, Risk
from engine.advice.advise.passes import choose_before_play
from engine.advice.advise.verdict import Verdict
from engine.rules.actions import Discard, Exchange
from engine.rules.deal import DealCode
from engine.rules.house import House
from engine.rules.passing import BEFORE_PLAY
from engine.rules.state import Phase
from engine.seats.character import Strength
from engine.seats.players import player
from game.play.advising import TableAdvice, choice_before
from game.play.advisor import Advisor
from game.play.sitting import Sitting
from game.text.advised import hands, what_to_do, why, why_hand


@pytest.mark.slow
def test_the_plan_goes_through_votes_and_the_courtesy_pass_into_play():
    """Every choice before play leaves a plan, which the next one and the first turn are given."""
    advisor = Advisor(beginner(), 8, effort=0)
    house = House(passes=6, courtesy=True, picks=40)
    deal = DealCode.of(beginner(), house, 3).deal(beginner())
    sitting, met = Sitting(deal, others=player(Strength.STEADY, advisor.table)), set()
    while sitting.state.phase in BEFORE_PLAY:
        before = choice_before(sitting)
        plan = advisor.before_play(sitting.observation, before).plan
        if before is not None:
            earlier = advisor.plan(before)
            assert plan.stays or plan.shift is not None or set(plan.names) & set(earlier.names)
        met.add(sitting.state.phase)
        sitting.act(choose_before_play(advisor.table, sitting.observation))
    assert {Phase.PASSING, Phase.AGREEING, Phase.ASKING} <= met
    assert advisor.plan(choice_before(sitting)) is not None


def test_only_a_discard_is_warned_of_and_only_once():
    """A tile that is given for a joker serves nobody; where the price names the seat, nothing is said twice."""
    risk = Risk(4, 0.5, 0.5, 1, "South can use it.")
    defence = Defence((OtherSeat(1, (), False, (), (risk,), ""),))
    discard, priced = Verdict(Discard(4), "", ""), Verdict(Discard(4), "", "", "The 8 bam is safer.")
    for verdict, said in (
        (discard, "South can use it."), (priced, None), (Verdict(Exchange(1, 0, 4), "", ""), None), (None, None),
    ):  # fmt: skip
        assert TableAdvice.warning.fget(SimpleNamespace(verdict=verdict, defence=defence)) == said


@pytest.mark.slow
def test_whatever_is_asked_first_the_plan_of_the_choice_before_goes_on():
    """“why” a tile, “why” a hand, “hands” and “advice” all come from one advice of the moment."""
    deal = DealCode.of(beginner(), House(), 3).deal(beginner())
    sitting = Sitting(deal)
    asks = (
        what_to_do,
        hands,
        lambda advisor, sitting: why(advisor, sitting, sitting.observation.rack[0]),
        lambda advisor, sitting: why_hand(advisor, sitting, sitting.state.sheet.hands[0]),
    )
    advisors = [Advisor(beginner(), 8, effort=0) for _ in asks]
    for advisor in advisors:
        what_to_do(advisor, sitting)
    for _ in range(3):
        sitting.act(sitting.legal()[0])
        for advisor, ask in zip(advisors, asks, strict=True):
            ask(advisor, sitting)
        first, *others = (advisor.known(sitting.observation) for advisor in advisors)
        assert all(one.plan == first.plan and one.because == first.because for one in others)
