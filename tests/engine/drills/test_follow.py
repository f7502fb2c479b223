"""Choose as they would: only choices that matter, graded by cost, and what feeds another seat is no right answer."""

import random
from dataclasses import replace

import pytest

from engine.advice.advise.defence import Defence, OtherSeat, Risk
from engine.advice.moment import Work
from engine.drills import follow
from engine.drills.follow import FollowJudged, follow_matters, judge_follow
from engine.drills.grades import Grade
from engine.rules.actions import Discard
from engine.seats.players import player
from engine.sheet.shelf import find
from game.play.advisor import Advisor
from game.play.practice.following import STRONGEST, Shoulder

QUICK = Work(0)
pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def game():
    """A game on the small sheet, played on to the first discard that matters; the passes are left out."""
    advisor = Advisor(find("first-steps"), 8, 0)
    seat = player(STRONGEST, advisor.table)
    for seed in range(9):
        shoulder = Shoulder(advisor, seat, random.Random(seed), passes=0)
        task = shoulder.play_on()
        while task is not None and task.call is not None:
            shoulder.play()
            task = shoulder.play_on()
        if task is not None:
            return shoulder, task
    raise AssertionError("no discard matters in nine games")


def test_it_stops_where_the_choice_matters(game):
    """At the seat's own choice, with what it does among the choices."""
    shoulder, task = game
    assert follow_matters(task)
    assert shoulder.choice() is task
    assert task.does in task.choices
    assert {one.kind for one in task.choices} == set(task.seen.rack)


def test_grades_follow_the_cost(game):
    """What it does is right; any other tile costs what the advice says of it."""
    shoulder, task = game
    table = shoulder.advisor.table
    assert judge_follow(task, table, task.does, QUICK).grade is Grade.RIGHT
    for keep in task.rack.keeps:
        chosen = Discard(keep.kind)
        if chosen != task.does:
            assert judge_follow(task, table, chosen, QUICK).price.cost == keep.picks
    with pytest.raises(ValueError, match="choose one of the answers"):
        judge_follow(task, table, Discard(next(k for k in range(36) if k not in task.seen.rack)), QUICK)


def test_a_tile_that_feeds_a_seat_is_nearly_right_at_best(game):
    """Where the seat followed lets a clearly safer one go."""
    shoulder, task = game
    table = shoulder.advisor.table
    keep = min((one for one in task.rack.keeps if Discard(one.kind) != task.does), key=lambda one: one.picks)
    risk = Risk(keep.kind, 0.9, 0.9, 3, "South may be able to use it.")
    seat = OtherSeat(1, (), False, (), (risk,), "")
    cheap = replace(task.rack, keeps=tuple(replace(one, picks=0.0) for one in task.rack.keeps))
    fed = replace(task, defence=Defence((seat,)), rack=cheap)
    judged = judge_follow(fed, table, Discard(keep.kind), QUICK)
    assert judged.feeds == 1
    free = FollowJudged(judged.chosen, replace(judged.price, cost=0.0), judged.price, judged.advised, cheap, None, 1)
    assert free.grade is Grade.NEAR
    assert replace(free, feeds=None).grade is Grade.RIGHT


@pytest.mark.parametrize(("chosen", "does", "feeds"), [
    (0.4, 0.2, None), (0.4, 0.19, 1), (0.25, 0.0, 1), (0.24, 0.0, None),
])  # fmt: skip
def test_a_tile_feeds_a_seat_where_the_other_serves_it_clearly_less(chosen, does, feeds):
    """Where at least a quarter of the seat's hands use it, and less than half as many use the tile that goes."""
    risks = (Risk(3, chosen, 0.9, 3, ""), Risk(4, does, 0.9, 1, ""))
    assert follow._feeds(Defence((OtherSeat(1, (), False, (), risks, ""),)), 3, 4) == feeds


def test_the_game_goes_on_to_its_end(game):
    """Every choice is the seat's own, and the game ends by the rules."""
    shoulder, _ = game
    while shoulder.play_on() is not None:
        shoulder.play()
    assert shoulder.over
    assert shoulder.choice() is None
