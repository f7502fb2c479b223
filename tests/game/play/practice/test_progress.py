"""Progress: what counts and what doesn't, with intervals; ruin is never rated better than care."""

import random
from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest
from at_table import deal, routes_over
from clock_set import Clock
from harness import make_look
from scipy.stats import binomtest

from engine.advice.review.full import FullReview, PointsChoice
from engine.advice.review.review import review
from engine.advice.review.skill import figures_of, measure_of
from engine.advice.table import SheetTable
from engine.advice.worth.finish import NOTHING, standing
from engine.drills.grades import Grade, Skill
from engine.rules.actions import Discard, LetGo, Mahjong
from engine.rules.deal import DealCode, shuffle
from engine.rules.game import start
from engine.rules.house import FULL, House
from engine.rules.observation import observe
from engine.sheet.shelf import find
from engine.store.endings import GameEnd
from engine.store.store import Store
from game.play.lines import begin, line_of
from game.play.practice.drilling import kind_of
from game.play.practice.figures import Share, mean_of, median_of
from game.play.practice.ledgers import NEAR
from game.play.practice.looks import looks_of, note_look
from game.play.practice.progress import monday_of, progress_of, unweighed
from game.play.reviewing import PARTS, keep_figures, keep_points
from game.play.settings import ALWAYS, HIDDEN, HINTED
from game.play.sitting import Sitting
from game.words.season.report import report_lines, share_words, week_name

START = datetime(2026, 3, 4, 12, tzinfo=UTC)


@pytest.fixture
def clock():
    """It stands at the start."""
    return Clock(START)


@pytest.fixture
def store(tmp_path, clock):
    """An empty store."""
    with Store(tmp_path / "store.sqlite", now=clock) as opened:
        yield opened


@pytest.fixture
def routes(tmp_path):
    """The program's routes over a store of its own."""
    made = routes_over(make_look(), tmp_path / "table.sqlite")
    yield made
    made.desk.store.close()


def game(store, *, won=False, picks=20, house=None, kind="game", ended=True, stem="first-steps", hidden=True):
    """A game as the store keeps it, played to its end unless said."""
    sheet = find(stem)
    line = line_of(
        begin(store, sheet, DealCode.of(sheet, house or House(picks=40), 1), kind=kind, advice_hidden=hidden)
    )
    if ended:
        hand = sheet.hands[0].name
        store.finish(line, GameEnd("mahjong", picks, 0, hand) if won else GameEnd("picks", 40))
    return line


def test_nothing_yet(store):
    """An empty store gives an empty report, and every sentence can be said."""
    report = progress_of(store)
    assert report.empty
    assert [heading for heading, _ in report_lines(report)] == ["Games", "Choices", "Passes"]


def test_games_are_counted_by_table_and_sheet(store):
    """Wanted games and games left stand apart; forks and deals from files are not one's own."""
    for place in range(12):
        game(store, won=place < 5, picks=10 + place)
    game(store, won=True, house=House(table=FULL))
    game(store, won=True, kind=NEAR)
    game(store, stem="lantern-street")
    left = game(store, ended=False)
    store.append(left, 0, Discard(3))
    store.fork(1, 0)
    report = progress_of(store, find("first-steps").fingerprint)
    assert (report.quiet, report.full, report.wanted, report.left) == (Share(5, 12), Share(1, 1), Share(1, 1), 1)
    assert (report.picks.number, report.picks.value) == (5, 12.0)
    assert progress_of(store).quiet == Share(5, 13)


def test_a_share_has_the_score_interval():
    """As SciPy works it out (Wilson's method), and none under ten."""
    expected = binomtest(7, 20).proportion_ci(method="wilson")
    assert Share(7, 20).within == pytest.approx((expected.low, expected.high), abs=1e-6)
    assert Share(4, 9).within is None
    assert share_words(Share(4, 9), "right") == "4 of 9 right; too few to say more"
    assert share_words(Share(7, 20), "right") == "7 of 20 right, 35% (likely 18% to 57%)"


def test_means_and_medians_say_nothing_of_fewer_than_ten():
    """The value is there, its interval is not."""
    assert mean_of([1.0, 2.0]).within is None
    assert median_of([3.0, 1.0, 2.0]).value == 2.0
    assert median_of(range(10)).within is not None
    assert mean_of([]).value is None


def test_time_for_a_choice_leaves_breaks_out(store, clock):
    """From the action before to the choice; five minutes and more are a break."""
    line = game(store, ended=False)
    for seconds in (4.0, 8.0, 299.0, 301.0):
        clock.now += timedelta(seconds=seconds)
        store.append(line, 0, Discard(3))
        clock.now += timedelta(seconds=1)
        store.append(line, -1, Discard(3))
    store.finish(line, GameEnd("picks", 40))
    assert store.choice_seconds(line, 0) == (4.0, 8.0, 299.0, 301.0)
    assert (progress_of(store).seconds.number, progress_of(store).seconds.value) == (3, 8.0)


def test_a_clock_set_back_gives_no_time(store, clock):
    """Less than nothing is left out."""
    line = game(store, ended=False)
    clock.now -= timedelta(hours=1)
    store.append(line, 0, Discard(3))
    assert store.choice_seconds(line, 0) == ()


def test_drills_are_counted_by_skill_clock_and_section(store):
    """Timed and untimed never mix."""
    sheet = find("first-steps")
    for grade, allowance in ((Grade.RIGHT, None), (Grade.NEAR, None), (Grade.RIGHT, 30.0)):
        hand = sheet.hands[0]
        figures = {"sheet": sheet.fingerprint, "section": hand.section, "hand": hand.name, "grade": grade.value}
        store.add_result(kind_of(Skill.LAY), {**figures, "seconds": 6.0}, allowance)
    report = progress_of(store, sheet.fingerprint)
    assert [(one.timed, one.right, one.near) for one in report.drills] == [
        (False, Share(1, 2), 1),
        (True, Share(1, 1), 0),
    ]
    assert report.sections == ((sheet.hands[0].section, Share(2, 3)),)
    assert progress_of(store, "0" * 16).drills == ()


def test_weeks_begin_on_monday_of_the_players_own_time(store, clock):
    """4 March 2026 is a Wednesday; nothing is said of weeks without anything."""
    clock.now = datetime(2026, 3, 4, 12).astimezone()
    game(store, won=True)
    clock.now += timedelta(days=14)
    game(store)
    weeks = progress_of(store).weeks
    assert [(week.monday, week.games) for week in weeks] == [
        (date(2026, 3, 2), Share(1, 1)),
        (date(2026, 3, 16), Share(0, 1)),
    ]
    assert monday_of(datetime(2026, 3, 8, 23, 59).astimezone()) == date(2026, 3, 2)
    assert (week_name(date(2026, 3, 2)), week_name(date(2026, 3, 30))) == ("2 to 8 March", "30 March to 5 April")


# What counts.


def played(routes, advice, look=()):
    """A short game at the table under a setting of advice, looked up at some of its turns; its line."""
    settings = routes.desk.settings
    routes.desk.save_settings(type(settings)(advice=advice))
    table = deal(routes, House(picks=4), 11, advice_hidden=advice == HIDDEN)
    turn = 0
    while not table.finished:
        if turn in look:
            table.toggle_advice()
        turn += 1
        table.chosen = 0
        table.let_go()
    return line_of(table.sitting)


@pytest.mark.slow
def test_under_the_first_settings_something_counts_from_the_first_game_on(routes):
    """Advice is at hand but not looked at: every choice that mattered counts."""
    hinted, hidden = played(routes, HINTED), played(routes, HIDDEN)
    found = {one.line: one for one in routes.desk.store.reviews()}
    assert not found[hinted].advice_seen
    assert found[hinted].choices == found[hidden].choices > 0
    assert found[hinted].cost == found[hidden].cost
    assert progress_of(routes.desk.store).play.games == 2


@pytest.mark.slow
def test_a_choice_looked_up_first_does_not_count(routes):
    """The others of the same game do; with advice always on nothing is left."""
    whole, some, every = played(routes, HINTED), played(routes, HINTED, look=(0, 2)), played(routes, ALWAYS)
    store = routes.desk.store
    looks = looks_of(store)
    assert (len(looks[whole]), len(looks[some])) == (0, 2)
    found = {one.line: one for one in store.reviews()}
    parts = {one.line: one.figures for one in store.results(PARTS)}
    assert found[some].choices == found[whole].choices - parts[some]["looked_up"]
    assert parts[some]["looked_up"] > 0
    assert (found[every].choices, found[every].advice_seen) == (0, True)
    report = progress_of(store)
    assert report.play.games == 2
    assert report.game_cost.number == 1, "only a game in which nothing was looked up has a cost of its own"


def test_a_line_from_before_looks_were_kept_counts_only_with_advice_hidden(store):
    """Of an older game with advice at hand nobody can say what was looked up."""
    sheet = find("first-steps")
    old = begin(store, sheet, DealCode.of(sheet, House(picks=1), 3))
    line = line_of(old)
    while not old.over:
        old.act(next(action for action in old.legal() if isinstance(action, Discard)))
    table = SheetTable.of(sheet, 8)
    found = review(table, old.states, [entry.action for entry in old.entries])
    for result in store.results("looked"):
        store._connection.write(lambda db, number=result.id: db.execute("DELETE FROM results WHERE id = ?", (number,)))
    assert keep_figures(store, line, found)
    assert [one.advice_seen for one in store.reviews()] == [True]


def test_a_look_that_the_store_refuses_is_let_be(store):
    """A line that isn't there ends nothing."""
    note_look(store, 99, 3)
    assert looks_of(store) == {}


def four(index, cents):
    """A choice at a full table that came to so many hundredths of a point."""
    return PointsChoice(index, LetGo(), LetGo(), cents)


def in_points(*choices):
    """A game among four with these choices."""
    own = sum(one.value for one in choices)
    return FullReview(0, 0, 0, 0, -2500 - own, own, 0, -2500, False, choices)


def test_choices_at_the_full_table_count_in_points(store):
    """Those that were not looked up, in games and matches of one's own: by hand, 12 games of two choices that cost half
    a point together, and one in which the dear choice was looked up. Forks, games dealt for a wanted hand and games
    from before looks were kept don't count."""
    rules = House(table=FULL)
    for number in range(12):
        line = game(store, house=rules, kind="match" if number % 2 else "game")
        assert unweighed(store) == [line]
        keep_points(store, line, in_points(four(3, -40), four(9, -10)))
    looked = game(store, house=rules)
    note_look(store, looked, 9)
    keep_points(store, looked, in_points(four(3, 0), four(9, -900)))
    keep_points(store, game(store, house=rules, kind=NEAR), in_points(four(3, -700)))
    fork = store.fork(looked, 0)
    keep_points(store, fork, in_points(four(3, -700)))
    report = progress_of(store)
    assert (report.points.games, report.points.decisions) == (13, 25)
    assert report.points.lost == pytest.approx(6.0)
    assert report.points.cost == pytest.approx(6.0 / 25)
    assert unweighed(store) == []
    said = dict(report_lines(report))["Choices"]
    assert said[0].startswith("At the full table a choice cost you 0.24 points on average")
    assert "6 points lost over 25 choices in 13 games." in said[0]


def test_few_games_at_the_full_table_say_little(store):
    """Under ten the count alone; of a line whose looks aren't known nothing counts."""
    line = game(store, house=House(table=FULL))
    keep_points(store, line, in_points(four(3, -40)))
    assert dict(report_lines(progress_of(store)))["Choices"][0] == (
        "At the full table one game so far: too few to say what your choices cost there."
    )
    old = game(store, house=House(table=FULL), hidden=False)
    for result in store.results("looked"):
        store._connection.write(lambda db, number=result.id: db.execute("DELETE FROM results WHERE id = ?", (number,)))
    keep_points(store, old, in_points(four(3, -40)))
    assert progress_of(store).points.games == 1


@pytest.mark.slow
def test_the_more_is_thrown_away_the_worse_it_is_rated():
    """Over twenty games on one sheet: who lets tiles go at random costs more than who does so every other time, and
    that one more than who follows the advice, by the choice and by the game. No ruined game is cheap."""
    sheet = find("first-steps")
    table = SheetTable.of(sheet)
    careful, half, careless = (
        [rated(sheet, table, seed, share, random.Random(seed)) for seed in range(20)] for share in (0.0, 0.5, 1.0)
    )
    good, middling, bad = map(measure_of, (careful, half, careless))
    assert bad.cost > middling.cost > good.cost
    assert bad.lost > middling.lost > good.lost
    assert all(one.cost > 0 for one in careless)
    assert min(middling.within) > max(good.within)


def rated(sheet, table, seed, share, chance):
    """The figures of a quiet game of five picks, such a share of the choices at random and the others as advised."""
    house = House(picks=5)
    sitting = Sitting(start(sheet, house, shuffle(seed, house.jokers)))
    while not sitting.over:
        if sitting.wins:
            sitting.act(Mahjong())
            continue
        actions = [action for action in sitting.legal() if isinstance(action, Discard)]
        seen = observe(sitting.state, house.seat)
        best = NOTHING
        if chance.random() >= share:
            row = np.array([seen.counts]), np.array([seen.unseen])
            best = int(standing(table, *row, seen.picks_left).goes[0])
        sitting.act(Discard(best) if best != NOTHING else chance.choice(actions))
    return figures_of(review(table, sitting.states, [entry.action for entry in sitting.entries]))
