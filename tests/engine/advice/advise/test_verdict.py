"""One verdict for a moment: a whole hand is shown, a discard answered, a joker taken first; safety with its price."""

from dataclasses import replace
from itertools import islice

import pytest
from full_games import moments, seen, small_table

from engine.advice.advise.answers import Keep, Known
from engine.advice.advise.calls import advise_call
from engine.advice.advise.defence import Defence, OtherSeat, Risk, advise_defence
from engine.advice.advise.discard import advise
from engine.advice.advise.exchanges import advise_exchange
from engine.advice.advise.verdict import discard_of, verdict_of
from engine.advice.moment import Moment
from engine.rules.actions import Discard, Exchange, Mahjong
from engine.rules.state import Phase
from engine.tiles import full_set


@pytest.fixture(scope="module")
def table():
    """The smaller shipped sheet."""
    return small_table()


def rack_of(table, seed=3):
    """Advice for a turn at a full table, and what the seat sees."""
    state, seat = next(islice(moments(table, (seed,), Phase.TURN), 9, None))
    observation = seen(state, seat)
    return advise(Moment.seen(table, observation)), observation


def test_a_whole_hand_is_only_shown(table):
    """With a complete hand nothing else is said: no tile, no joker, no warning."""
    variant = next(one for one in table.variants if max(one.total) <= 4)
    unseen = tuple(copies - held for copies, held in zip(full_set(), variant.total, strict=True))
    rack = advise(Moment.of(table, variant.total, unseen, 20))
    verdict = verdict_of(rack)
    assert (verdict.action, verdict.title, verdict.price) == (Mahjong(), "Show it for mahjong", "")
    assert discard_of(rack) is None


@pytest.mark.slow
def test_every_verdict_is_a_legal_action(table):
    """In turns and about discards of many games the verdict may be done; a good exchange comes before a discard."""
    met = set()
    swaps = (one for one in moments(table, range(60), Phase.TURN)
             if any(isinstance(action, Exchange) for action in seen(*one).legal))  # fmt: skip
    turns = [*islice(moments(table, range(12), Phase.TURN), 0, 100, 20), *islice(swaps, 10)]
    asked = islice(moments(table, range(12), Phase.CALLING), 0, 120, 20)
    for phase, some in ((Phase.TURN, turns), (Phase.CALLING, asked)):
        for state, seat in some:
            observation = seen(state, seat)
            rack = advise(Moment.seen(table, observation))
            call = advise_call(table, observation) if phase is Phase.CALLING else None
            exchange = advise_exchange(table, observation) if phase is Phase.TURN else None
            verdict = verdict_of(rack, call, exchange, advise_defence(observation))
            assert verdict.action in observation.legal
            assert 1 <= verdict.because.count(".") <= 4
            if exchange is not None and exchange.best is not None and not rack.finished:
                assert verdict.action == exchange.best.action
            met.add(type(verdict.action))
    assert {Discard, Exchange} <= met


def defence_for(shares):
    """A defence in which South may use these kinds to these shares."""
    risks = tuple(Risk(kind, share, share, 1, "") for kind, share in shares.items())
    return Defence((OtherSeat(1, (), False, (), risks, ""),))


def test_safety_at_no_cost_is_taken(table):
    """Of two tiles that cost the same the one that the others can't use goes, and the sentence says why."""
    rack, _ = rack_of(table)
    goes, other = rack.keeps[-1], rack.keeps[-2]
    same = replace(rack, keeps=(Keep(rack.keeps[0].kind, 3.0, "", ()), replace(other, picks=0.0), goes))
    verdict = verdict_of(same, defence=defence_for({goes.kind: 0.6}))
    assert verdict.action == Discard(other.kind)
    assert "It costs no more than the " in verdict.because
    assert "South may be able to use" in verdict.because
    assert verdict.price == ""
    assert verdict_of(same, defence=defence_for({goes.kind: 0.2})).action == Discard(goes.kind), "no warning"
    both = defence_for({goes.kind: 0.6, other.kind: 0.5})
    assert verdict_of(same, defence=both).action != Discard(other.kind), "hardly safer"


def test_safety_that_costs_is_priced(table):
    """Where the safer tile costs turns, speed goes first and the sentence says the price of safety."""
    rack, _ = rack_of(table)
    goes = rack.keeps[-1]
    dear = Keep(rack.keeps[-2].kind, 1.25, "", ())
    priced = replace(rack, keeps=(dear, goes))
    verdict = verdict_of(priced, defence=defence_for({goes.kind: 0.6}))
    assert verdict.action == Discard(goes.kind)
    assert verdict.price.endswith("it costs about 1.2 turns.")
    assert verdict.price.startswith("The ")
    known = replace(priced, keeps=(replace(dear, known=Known.PLAYED), goes))
    assert verdict_of(known, defence=defence_for({goes.kind: 0.6})).price.endswith("it costs 1.2 turns.")


def test_that_the_discarder_pays_for_all_is_said_beside_the_price(table):
    """Costs are turns; where the house lets the discarder pay for all, the price says that they don't count it."""
    rack, observation = rack_of(table)
    goes, other = rack.keeps[-1], rack.keeps[-2]
    dear = replace(rack, keeps=(replace(other, picks=0.8), goes))
    defence = defence_for({goes.kind: 0.6})
    said = "Whoever lets the last tile go pays for all three here; the turns don't count that."
    assert said not in verdict_of(dear, defence=defence).price
    assert verdict_of(dear, defence=replace(defence, pays_all=True)).price.endswith(said)
    house = replace(observation.house, discarder_pays_all=True)
    assert advise_defence(replace(observation, house=house)).pays_all
    assert not advise_defence(observation).pays_all
