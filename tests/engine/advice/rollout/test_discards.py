"""Choices tried out: what is tried, what is said of it, and when the fast policy's choice is not taken."""

from random import Random

import numpy as np
import plain_advice as plain
import pytest
from full_games import changed_about
from test_tiny_worlds import DRAWS, best_play, tiny_world

import engine.advice.rollout.discards as trials
from engine.advice.advise.answers import Known
from engine.advice.advise.discard import advise, deepen
from engine.advice.endgame.search import exact_ending
from engine.advice.moment import Moment, StoppedError, Work
from engine.advice.rollout.discards import CLOSE, MOST_CHOICES, better_one, compare, try_choices
from engine.advice.rollout.games import Games
from engine.advice.rollout.playout import Results
from engine.advice.rollout.policy import by_odds
from engine.advice.rollout.race import Contrast, Tried
from engine.advice.table import SheetTable
from engine.advice.worth.worth import weigh
from engine.rules.deal import shuffle
from engine.rules.game import start
from engine.rules.house import House
from engine.rules.observation import observe
from engine.sheet.shelf import find
from engine.tiles import KINDS
from engine.words import picks

EFFORT = 1200


@pytest.fixture(scope="module")
def table():
    """The smaller shipped sheet."""
    return SheetTable.of(find("first-steps"))


def policy(table, rack, unseen, draws):
    """What the fast policy lets go."""
    return int(by_odds(table, Games.of(table, np.array([rack]), np.array([unseen])).batch(draws))[0])


@pytest.fixture
def endless(monkeypatch):
    """Nothing is looked at to its end, so that everything is played on."""
    monkeypatch.setattr(trials, "exact_ending", lambda *_, **__: None)


@pytest.mark.slow
def test_close_choices_are_tried(table):
    """The fast policy's choice and those that it holds to be close, by what they leave; the same answer each time."""
    random, tried = Random(3), 0
    for _ in range(6):
        rack, unseen = plain.random_rack(random, 14, shown=20)
        left = weigh(table, np.array([rack]), np.array([unseen]), 30).left[0]
        found = try_choices(Moment.of(table, rack, unseen, 30), Work(EFFORT))
        assert found == try_choices(Moment.of(table, rack, unseen, 30), Work(EFFORT))
        kinds = list(found.tried)
        assert kinds[0] == policy(table, rack, unseen, 30)
        assert all(rack[kind] and left[kind] >= left[kinds[0]] - CLOSE / 30 for kind in kinds)
        assert [left[kind] for kind in kinds[1:]] == sorted((left[kind] for kind in kinds[1:]), reverse=True)
        assert len(kinds) <= MOST_CHOICES
        assert found.tried[found.goes].behind == 0.0
        assert not found.exact
        tried += len(kinds)
    assert tried > 12


def test_near_the_end_everything_is_looked_at(table):
    """With two draws left the answer is that of the enumeration, for every tile held, and nothing is sampled."""
    random = Random(8)
    for _ in range(5):
        rack, unseen = plain.random_rack(random, 14, shown=60)
        ending = exact_ending(table, rack, unseen, 2)
        found = try_choices(Moment.of(table, rack, unseen, 2), Work(EFFORT))
        assert found.exact
        assert set(found.tried) == {kind for kind in range(KINDS) if rack[kind]}
        for kind, one in found.tried.items():
            assert (one.games, one.behind_error) == (0, 0.0)
            assert one.worth == ending.worth[kind]
            assert one.chance == ending.chance[kind]
            assert one.behind == ending.worth[found.goes] - ending.worth[kind] >= -1e-12
        first = policy(table, rack, unseen, 2)
        if found.tried[first].behind <= 1e-12:
            assert found.goes == first, "of equal choices the fast policy's stays"


def losses(seeds, effort):
    """What is found in each tiny world, and the chance of a hand that the choice gives away against the best play."""
    for seed in seeds:
        table, rack, unseen = tiny_world(seed)
        _, left = best_play(table)
        best = left(rack, unseen, DRAWS)
        found = try_choices(Moment.of(table, rack, unseen, DRAWS), Work(effort))
        yield found, max(best.values()) - best[found.goes]


@pytest.mark.usefixtures("endless")
@pytest.mark.slow
def test_tiny_worlds_played_on():
    """Without looking at the end, a choice tried out loses at most one point of odds on average against the best play
    (found by going through everything), and nowhere more than three."""
    found = list(losses(range(25), 600))
    assert not any(one.exact for one, _ in found)
    lost = [loss for _, loss in found]
    assert sum(lost) / len(lost) <= 0.01
    assert max(lost) <= 0.03


@pytest.mark.slow
def test_tiny_worlds_looked_at():
    """Where the end is looked at, hardly anything is lost: only as much as a hand made sooner is worth more."""
    found = list(losses(range(25), 600))
    assert all(one.exact for one, _ in found)
    assert sum(loss for _, loss in found) / 25 <= 0.003
    assert max(loss for _, loss in found) <= 0.03


@pytest.mark.usefixtures("endless")
@pytest.mark.slow
def test_played_on_the_worth_is_what_the_policy_comes_to():
    """In a tiny world the interval of a choice's worth holds the exact worth of the best play or a little less, since
    the fast policy plays it on."""
    inside = 0
    for seed in range(20):
        table, rack, unseen = tiny_world(seed)
        found = try_choices(Moment.of(table, rack, unseen, DRAWS), Work(1500))
        ending = exact_ending(table, rack, unseen, DRAWS)
        one = found.tried[found.goes]
        assert one.worth < ending.worth[found.goes] + 4 * one.worth_error + 1e-12
        inside += one.worth > ending.worth[found.goes] - 4 * one.worth_error - 0.02
    assert inside >= 18


def test_the_policys_choice_is_beaten_only_beyond_doubt():
    """Better needs two and a half errors and a pick's worth; of several better ones the best is taken."""

    def tried(behind, error):
        return Tried(50, 0.3, 0.01, 0.5, 0.02, behind, error)

    first = tried(0.0, 0.0)
    assert better_one([first, tried(-0.02, 0.001)], 0.025) == 0
    assert better_one([first, tried(-0.03, 0.02)], 0.025) == 0
    assert better_one([first, tried(0.05, 0.01), tried(-0.03, 0.005), tried(-0.04, 0.005)], 0.025) == 3


@pytest.mark.usefixtures("endless")
def test_what_is_better_beyond_doubt_is_taken(table, monkeypatch):
    """If playing on favours another choice by far, that is the one advised, and all others are set against it."""
    rack, unseen = plain.random_rack(Random(3), 14)
    kinds = []

    def play_on(games, *_, **__):
        worth = np.where(games.racks[:, kinds[1]] < rack[kinds[1]], 0.5, 0.4)
        return Results(worth + np.arange(len(worth)) % 8 / 1000, worth)

    kinds += list(try_choices(Moment.of(table, rack, unseen, 30), Work(EFFORT)).tried)
    monkeypatch.setattr(trials, "play_on", play_on)
    found = try_choices(Moment.of(table, rack, unseen, 30), Work(6000))
    assert found.goes == kinds[1] != kinds[0]
    assert found.tried[kinds[0]].behind == pytest.approx(0.1, abs=0.01)
    assert found.tried[kinds[0]].contrast(1 / 30) is Contrast.WORSE


@pytest.mark.slow
def test_two_choices_compared(table):
    """A dear tile is worse than the advised one beyond doubt; a tile against itself is not."""
    rack, unseen = plain.random_rack(Random(5), 14)
    advice = advise(Moment.of(table, rack, unseen, 30))
    dear, best = advice.keeps[0].kind, advice.let_go
    tried = compare(Moment.of(table, rack, unseen, 30), best, dear, Work(2500))
    assert tried.contrast(1 / 30) is Contrast.WORSE
    assert tried.behind == pytest.approx(advice.keeps[0].picks / 30, abs=max(0.05, 5 * tried.behind_error))
    assert compare(Moment.of(table, rack, unseen, 30), best, best, Work(600)).behind == 0.0
    exact = compare(Moment.of(table, rack, unseen, 1), best, dear)
    assert exact.games == 0


def test_it_can_be_stopped(table):
    """It ends with an error of its own once told to."""
    rack, unseen = plain.random_rack(Random(5), 14)
    asked = []
    with pytest.raises(StoppedError):
        try_choices(
            Moment.of(table, rack, unseen, 30), Work(stopped=lambda: len(asked) > 5, breathe=lambda: asked.append(True))
        )


# Advice from it.


@pytest.mark.slow
def test_deepened_advice_agrees_with_itself(table):
    """What advice says of a tile is what was tried: worse ones cost what they are behind, those that can't be told
    apart cost nothing and “could go as well”, and the rest is as estimated."""
    random, alike = Random(13), 0
    for _ in range(8):
        rack, unseen = plain.random_rack(random, 14, shown=30)
        quick, deep = (
            advise(Moment.of(table, rack, unseen, 25)),
            deepen(Moment.of(table, rack, unseen, 25), Work(EFFORT)),
        )
        assert deep.hands == quick.hands
        assert {keep.kind for keep in deep.keeps} == {keep.kind for keep in quick.keeps}
        assert deep.chance.known is Known.PLAYED
        assert deep.chance.games == deep.keeps[-1].games > 0
        assert deep.chance.share >= deep.hands[0].odds
        assert [keep.picks for keep in deep.keeps[:-1]] == sorted((k.picks for k in deep.keeps[:-1]), reverse=True)
        for keep in deep.keeps[:-1]:
            if keep.known is Known.ESTIMATED:
                assert keep.picks == next(one.picks for one in quick.keeps if one.kind == keep.kind)
            elif keep.picks:
                assert keep.picks == keep.behind > keep.half
                assert f"costs {picks(keep.picks)}" in keep.because
            else:
                alike += 1
                assert keep.behind <= max(keep.half, 0.05)
                assert "could go as well" in keep.because
                assert "costs" not in keep.because
    assert alike


@pytest.mark.slow
def test_hidden_tiles_change_nothing(table):
    """Tiles that the seat can't see may lie in any order: deepened advice stays the same."""
    house = House(picks=30)
    state = start(table.sheet, house, shuffle(6))
    one, two = (
        deepen(Moment.of(table, seen.counts, seen.unseen, seen.picks_left), Work(EFFORT))
        for seen in (observe(at, 0) for at in (state, changed_about(state, 0, Random(1))))
    )
    assert one == two


def test_nothing_to_try(table):
    """A rack of thirteen, a finished hand and a game without draws are advised as at once."""
    rack, unseen = plain.random_rack(Random(5), 13)
    assert deepen(Moment.of(table, rack, unseen, 20)) == advise(Moment.of(table, rack, unseen, 20))
    whole = table.variants[0].total
    rest = tuple(max(copies - held, 0) for copies, held in zip([4] * 34 + [8, 8], whole, strict=True))
    assert deepen(Moment.of(table, whole, rest, 20)) == advise(Moment.of(table, whole, rest, 20))
    rack, unseen = plain.random_rack(Random(5), 14)
    assert deepen(Moment.of(table, rack, unseen, 0)) == advise(Moment.of(table, rack, unseen, 0))
