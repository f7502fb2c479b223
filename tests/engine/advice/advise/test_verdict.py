"""One verdict for a moment: a whole hand is shown, a discard answered, a joker taken first; safety with its price."""

from dataclasses import replace
from itertools import islice

import numpy as np
import pytest
from full_games import moments, seen, small_table

from engine.advice.advise.answers import Keep, Known
from engine.advice.advise.calls import advise_call
from engine.advice.advise.defence import Defence, OtherSeat, Risk, advise_defence
from engine.advice.advise.discard import advise
from engine.advice.advise.exchanges import advise_exchange
from engine.advice.advise.verdict import discard_of, verdict_of
from engine.advice.contest.contest import Contest, Danger
from engine.advice.moment import Moment
from engine.rules.actions import Discard, Exchange, Mahjong
from engine.rules.state import Phase
from engine.tiles import KINDS, full_set, name


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


def test_a_tile_that_others_wait_for_stays(table):
    """Where the danger of a tile outweighs what it costs to keep, another goes, and the sentence says why."""
    rack, _ = rack_of(table)
    fastest = replace(rack.contested, danger=None)
    feared = next(kind for kind in rack.contested.keeps if kind != fastest.goes)
    sure = Danger(np.eye(KINDS)[fastest.goes], 0.1)
    kept = replace(rack.contested, danger=sure)
    assert kept.fastest == fastest.goes != kept.goes
    shown = replace(rack, keeps=(*rack.keeps[:-1], replace(rack.keeps[-1], kind=kept.goes)), contested=kept)
    verdict = verdict_of(shown, defence=defence_for({kept.fastest: 0.6, feared: 0.0}))
    assert verdict.action == Discard(kept.goes)
    assert verdict.because.endswith(f"Your hand needs the {name(kept.fastest)} less, but South may be able to use it.")
    paid = replace(defence_for({kept.fastest: 0.6}), pays_all=True)
    assert verdict_of(shown, defence=paid).because.endswith("pays for all three here.")


def test_danger_costs_more_where_the_discarder_pays_for_all(table):
    """The chance to finish another's hand takes off the game and what it costs besides, 0.75 or 2.4 usual hands."""
    _, observation = rack_of(table)
    contest = Contest(table)
    alone = replace(observation, house=replace(observation.house, discarder_pays_all=True))
    for seen_so, fed in ((observation, 0.75), (alone, 2.4)):
        danger = contest.danger(seen_so)
        assert danger.fed == pytest.approx(fed / 6.6)
        left = replace(danger, risks=np.full(KINDS, 0.5)).taken_off({3: 0.2})
        assert left == {3: pytest.approx(0.2 * 0.5 - 0.5 * fed / 6.6)}


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
    """Where the house lets the discarder pay for all, the price of a safer tile says so."""
    rack, observation = rack_of(table)
    goes, other = rack.keeps[-1], rack.keeps[-2]
    dear = replace(rack, keeps=(replace(other, picks=0.8), goes))
    defence = defence_for({goes.kind: 0.6})
    said = "Whoever lets the last tile go pays for all three here."
    assert said not in verdict_of(dear, defence=defence).price
    assert verdict_of(dear, defence=replace(defence, pays_all=True)).price.endswith(said)
    house = replace(observation.house, discarder_pays_all=True)
    assert advise_defence(replace(observation, house=house)).pays_all
    assert not advise_defence(observation).pays_all
