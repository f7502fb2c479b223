"""A match: points by place across deals, seats that move on, ranks, what is kept, and tallies apart by clock."""

import json
import random
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.drills.match import KIND, MOST_DEALS, TIME, DealResult, Match, MatchRules, deal_result, tallies
from engine.rules.house import FULL, House
from engine.rules.state import Outcome
from engine.store.values import Result


def won(points, **more):
    """A deal with these points by place."""
    return DealResult("mahjong", points, 60.0, **more)


@pytest.mark.parametrize(("deals", "minutes"), [(0, None), (9, None), (True, None), (4, 0), (4, 61), (4, 2.5)])
def test_rules_out_of_range_say_what_to_choose(deals, minutes):
    """One to eight deals, one to sixty minutes or no clock."""
    with pytest.raises(ValueError, match="choose 1 to"):
        MatchRules(deals, minutes)


def test_seconds_are_those_of_one_deal():
    """None without a clock."""
    assert MatchRules(MOST_DEALS, 10).seconds == 600.0
    assert MatchRules(1).seconds is None


@pytest.mark.parametrize("player", range(4))
def test_a_deals_result_is_seen_from_the_players_seat(player):
    """Payments come by seat and are kept by place: the player first, then right, across and left."""
    payments = (100, -50, -25, -25)
    result = deal_result(Outcome("mahjong", winner=0, payments=payments), player, 12.0, 7)
    assert result.points == tuple(payments[(player + place) % 4] for place in range(4))
    assert result.points[result.winner] == 100
    assert (result.seconds, result.line) == (12.0, 7)


def test_a_deal_that_the_clock_ended_scores_nobody():
    """Its outcome says so."""
    result = deal_result(None, 2, 600.0)
    assert (result.outcome, result.points, result.winner) == (TIME, (0, 0, 0, 0), None)


def test_points_add_up_and_seats_move_on():
    """East becomes North, then West, then South: East passes to the right (common practice, no source)."""
    match = Match(MatchRules(4))
    seats = []
    for points in ((75, -25, -25, -25), (-50, 100, -25, -25), (0, 0, 0, 0), (-30, -30, 90, -30)):
        seats.append(match.seat)
        assert not match.over
        match = match.after(won(points))
        assert sum(match.totals) == 0
    assert seats == [0, 3, 2, 1]
    assert match.totals == (-5, 45, 40, -80)
    assert match.rank == 3
    assert match.over
    with pytest.raises(ValueError, match="begin another"):
        match.after(won((0, 0, 0, 0)))


def test_equal_points_share_a_rank():
    """Nobody has more: the first place is shared."""
    assert Match(MatchRules(2)).rank == 1
    assert Match(MatchRules(2)).after(won((0, 0, 50, -50))).rank == 2


def test_a_match_goes_to_json_and_back():
    """With its results; what makes no sense is no match."""
    match = Match(
        MatchRules(3, 10), 2, (won((100, -50, -25, -25), winner=0, hand="Gale", line=4), deal_result(None, 1, 9))
    )
    data = json.loads(json.dumps(match.to_json()))
    assert Match.from_json(data) == match
    for broken in (
        None, [], {}, {**data, "deals": 0}, {**data, "first seat": 4}, {**data, "results": [{}]},
        {**data, "results": 3},
        {**data, "deals": 1}, {**data, "results": [{**data["results"][0], "points": [1, 2, 3]}]},
        {**data, "results": [{**data["results"][0], "points": [1, 2, 3, 4]}]},
        {**data, "results": [{**data["results"][0], "winner": 9}]},
        {**data, "results": [{**data["results"][0], "seconds": "long"}]},
    ):  # fmt: skip
        assert Match.from_json(broken) is None


def test_figures_say_what_was_counted():
    """Deals, the player's points, rank, wins, deals that ran out of time."""
    match = Match(MatchRules(3)).after(won((75, -25, -25, -25), winner=0)).after(deal_result(None, 0, 30.0))
    match = match.after(won((-25, 75, -25, -25), winner=1))
    assert match.figures() == {"deals": 3, "points": 50, "rank": 1, "won": 1, "timed out": 1, "seconds": 150.0}


def test_tallies_keep_matches_with_and_without_a_clock_apart():
    """Untimed first, then by time for a deal; each counts its own only."""

    def result(number, allowance, rank, kind=KIND):
        figures = {"deals": 4, "points": 10 * number, "rank": rank, "won": 1}
        return Result(number, datetime(2026, 3, 1, tzinfo=UTC), kind, allowance, figures, None)

    found = tallies([result(1, 300.0, 1), result(2, None, 1), result(3, None, 2), result(4, 600.0, 4),
                     result(5, None, 1, kind="passes")])  # fmt: skip
    assert [(one.allowance, one.matches, one.first) for one in found] == [(None, 2, 1), (600.0, 1, 0), (300.0, 1, 1)]
    assert (found[0].deals, found[0].won, found[0].points) == (8, 2, 50)
    assert not found[0].enough


def test_east_may_stay_after_winning():
    """Where the house lets East stay, the seats move on only when another seat wins, or nobody."""
    match = Match(MatchRules(6, east_stays=True), first_seat=3)
    seats = []
    for winner in (1, 1, 0, None, 0, 2):  # East sits to the right of North, then where East has passed on to
        seats.append(match.seat)
        match = match.after(won((0, 0, 0, 0), winner=winner))
    assert seats == [3, 3, 3, 2, 1, 0]
    moved = Match(MatchRules(2), first_seat=3).after(won((0, 0, 0, 0), winner=1))
    assert moved.seat == 2


def test_nobody_loses_more_than_the_limit():
    """With 100 at most: 60 gone, a loss of 80 is 40, and the winner gets so much less; then nothing."""
    match = Match(MatchRules(4, loss_limit=100))
    match = match.after(won((120, -60, -30, -30)))
    match = match.after(won((160, -80, -40, -40)))
    assert match.totals == (240, -100, -70, -70)
    assert match.results[-1].points == (120, -40, -40, -40)
    match = match.after(won((-90, 180, -60, -30)))
    assert match.totals == (150, 50, -100, -100)
    assert Match(MatchRules(1)).after(won((300, -100, -100, -100))).totals == (300, -100, -100, -100)


@given(st.lists(st.lists(st.integers(-90, 90), min_size=3, max_size=3), max_size=6), st.sampled_from([0, 1, 50, 200]))
def test_limited_points_add_up_and_keep_the_limit(deals, limit):
    """Whatever is lost, nothing is made, nobody falls under the limit, and no loss turns into a gain."""
    match = Match(MatchRules(8, loss_limit=limit))
    for three in deals:
        points = (*three, -sum(three))
        match = match.after(won(points))
        kept = match.results[-1].points
        assert sum(kept) == 0
        assert not limit or min(match.totals) >= -limit
        assert all(min(0, was) <= now <= max(0, was) for was, now in zip(points, kept, strict=True))
        if not limit:
            assert kept == points


def test_a_match_takes_its_rules_from_the_house_and_keeps_them():
    """East and the limit are as the house had them when the match began, also after a break."""
    rules = MatchRules(3, 10).at(House(east_stays=True, loss_limit=150))
    assert (rules.deals, rules.minutes, rules.east_stays, rules.loss_limit) == (3, 10, True, 150)
    match = Match(rules, 1).after(won((-30, 90, -30, -30), winner=1))
    assert Match.from_json(json.loads(json.dumps(match.to_json()))) == match
    before = match.to_json()
    del before["east stays"], before["loss limit"]
    assert Match.from_json(before).rules == MatchRules(3, 10)
    for wrong in ({"loss limit": 501}, {"loss limit": True}, {"east stays": 1}):
        assert Match.from_json({**match.to_json(), **wrong}) is None


def test_a_figure_that_is_no_whole_number_counts_as_nothing():
    """A damaged result adds nothing to the points, and spoils no other."""
    moment = datetime(2026, 1, 1, tzinfo=UTC)
    sound = {"deals": 4, "points": 30, "rank": 1, "won": 2}
    damaged = {"deals": True, "points": "many", "rank": 1.0, "won": None}
    results = [Result(1, moment, KIND, None, sound, None), Result(2, moment, KIND, None, damaged, None)]
    (tally,) = tallies(results)
    assert (tally.matches, tally.first, tally.deals, tally.won, tally.points) == (2, 1, 4, 2, 30)


@pytest.mark.parametrize("stays", [False, True])
def test_east_goes_round_as_people_sit(stays):
    """Four people around a table, everyone's right hand is the next: East goes to the right after each deal, but where
    the house lets it stay, not after East has won."""
    chance = random.Random(4)
    for first in range(4):
        match = Match(MatchRules(deals=8).at(House(table=FULL, east_stays=stays)), first)
        east = {0: 0, 1: 3, 2: 2, 3: 1}[first]  # you sit South: East is at your left, the fourth to your right
        for _ in range(8):
            assert match.seat == {0: 0, 1: 3, 2: 2, 3: 1}[east]
            won = chance.choice((None, 0, 1, 2, 3))
            match = match.after(DealResult("mahjong" if won is not None else "wall", (0, 0, 0, 0), 1.0, won))
            if not stays or won != east:
                east = (east + 1) % 4
