"""Play over time: which games count, ten by ten, in sentences whose figures are right, on a screen of its own."""

import re
from datetime import datetime, timedelta
from random import Random
from types import SimpleNamespace

import pytest
from at_table import beginner, deal, routes_over
from harness import click, drawn, make_look, press

from engine.advice.review.skill import Play, measure_of
from engine.drills.match import KIND as MATCH
from engine.rules.deal import DealCode
from engine.rules.house import FULL, House
from engine.store.endings import GameEnd
from engine.store.values import StoredReview, StoreError
from game.play.desk import Desk
from game.play.lines import begin, line_of, resume
from game.play.settings import ALWAYS, HINTED
from game.play.skill import play_over_time
from game.scenes.season import ten_chart
from game.scenes.season.progress import ProgressScene
from game.scenes.settings import SettingsScene
from game.text.table import TextTable
from game.ui.layout import Rect
from game.words.season.progress import change_line, days, per_choice, play_line, said_of

SIZE = (1440, 900)
START = datetime(2026, 2, 20, 12).astimezone()
"""Noon where the tests run, so that a game falls on the same day in every time zone."""


def kept(number, cost=20.0, seen=False, choices=30, faults=4):
    """What is kept of a game; one a day."""
    return StoredReview(number, number, START + timedelta(days=number), choices, cost, faults, seen)


def games(number, seed=1, seen=0.3):
    """A season of made-up games."""
    random = Random(seed)
    return [
        kept(place, 100 * random.random(), random.random() < seen, random.randrange(20, 40))
        for place in range(1, number + 1)
    ]


@pytest.fixture
def routes(tmp_path):
    """Routes over a store."""
    routes = routes_over(make_look(), tmp_path / "deals.sqlite")
    yield routes
    routes.desk.store.close()


def finished(routes, seed=11, hidden=True, picks=4):
    """A short game played to its end, which nobody has looked through; its line."""
    table = deal(routes, House(picks=picks), seed, advice_hidden=hidden)
    table.desk = Desk(Forgetful(), routes.desk.store)
    while not table.finished:
        table.chosen = 0
        table.let_go()
    return line_of(table.sitting)


class Forgetful:
    """A worker that never comes to anything, as when the player leaves at once."""

    def submit(self, fn, done):
        """Forget it."""

    def cancel(self):
        """Nothing runs."""


def words_on(scene, size=SIZE):
    """All that a scene says, in one string."""
    return " ".join(one.text for one in drawn(scene, size, 1.0))


def test_only_games_with_advice_hidden_count():
    """The others stand apart, and both together are all games in their order."""
    some = games(57)
    found = play_over_time(some)
    assert found.hidden == measure_of([one for one in some if not one.advice_seen])
    assert found.at_hand == measure_of([one for one in some if one.advice_seen])
    assert found.games == tuple(some)


def test_each_ten_is_ten_games_in_a_row_of_one_kind():
    """No game is left out or counted twice; only the last ten of a kind may be short, and its place is that of its
    games among all."""
    some = games(84, seed=2)
    found = play_over_time(some)
    for hidden in (True, False):
        tens = found.of(hidden)
        kind = [one for one in some if one.advice_seen is not hidden]
        assert [one for ten in tens for one in ten.games] == kind
        assert all(len(ten.games) == 10 and ten.full for ten in tens[:-1])
        assert [ten.first for ten in tens] == [1 + 10 * place for place in range(len(tens))]
        assert tens[-1].last == len(kind)
        for ten in tens:
            assert ten.play == measure_of(ten.games)
            assert ten.place == pytest.approx(sum(some.index(one) for one in ten.games) / len(ten.games))
    ends = [ten.games[-1].at for ten in found.tens]
    assert ends == sorted(ends)


def test_the_sentence():
    """Too few games to say, or mean, where it likely lies, numerator and denominator, which go together."""
    assert play_line(Play(0, 0, 0.0, 0.0, False)).startswith("No choice counts yet.")
    said = play_line(Play(3, 90, 1.0, 0.2, False))
    assert said == "Three games so far: too few games to say how you play. From ten on it is said."
    said = play_line(Play(12, 4000, 1.23, 0.21, True))
    cost, low, high, lost, choices, number = (float(one) for one in re.findall(r"\d[\d,.]*\d", said.replace(",", "")))
    # Student's t for 11 degrees of freedom is 2.201 in any table: 1.23 over and times exp(2.201 * 0.21 / 1.23)
    assert (cost, low, high, choices, number) == (1.23, 0.84, 1.79, 4000, 12)
    assert lost == pytest.approx(cost * choices)
    assert "on average (likely 0.84 to 1.79): " in said
    assert (per_choice(0.0), per_choice(0.002), per_choice(1.23)) == ("0", "under 0.01", "1.23")


def test_how_it_went_on():
    """Said from two full tens on: first, latest full one, their difference and where it likely lies; better or worse
    by word. A difference that chance may have made is called that."""
    assert change_line(play_over_time(games(19, seen=0)).of(True)) == ""
    falling = [kept(place, cost=60 if place <= 10 else 30) for place in range(1, 25)]
    said = change_line(play_over_time(falling).of(True))
    assert "it was 2.00, in your latest full ten 1.00: less by 1.00 picks." in said
    rising = [kept(place, cost=30 if place <= 10 else 60) for place in range(1, 25)]
    assert "more by 1.00 picks" in change_line(play_over_time(rising).of(True))
    assert change_line(play_over_time([kept(place) for place in range(20)]).of(True)).endswith("no more and no less.")
    some = play_over_time(games(60, seen=0))
    first, latest = some.tens[0].play, some.tens[-1].play
    change, half = abs(latest.cost - first.cost), 2.262 * (first.error**2 + latest.error**2) ** 0.5  # t for 9
    said = change_line(some.of(True))
    if change > half:
        assert f"(likely {per_choice(change - half)} to {per_choice(change + half)})." in said
    else:
        assert said.endswith(f"by {per_choice(change)} picks, which may be chance.")
    assert said_of(some) == [play_line(some.hidden), change_line(some.of(True))]


def test_when_games_were_played():
    """As short as can be and no shorter."""
    assert days([kept(1)]) == days([kept(1), kept(1)]) == "21 February 2026"
    assert days([kept(1), kept(4)]) == "21 to 24 February 2026"
    assert days([kept(1), kept(9)]) == "21 February to 1 March 2026"
    assert days([kept(1), kept(365)]) == "21 February 2026 to 20 February 2027"


@pytest.mark.slow
def test_the_screen_before_any_game_says_what_to_do(routes):
    """With advice always in sight it leads to the settings, with advice only when asked for to a deal."""
    routes.desk.save_settings(routes.desk.settings.__class__(advice=ALWAYS))
    scene = routes.progress(routes.home())
    assert "Have advice shown only when you ask for it" in words_on(scene)
    assert isinstance(press(scene, "return"), SettingsScene)
    routes.desk.save_settings(routes.desk.settings.__class__(advice=HINTED))
    assert "Have advice shown only" not in words_on(scene)
    assert routes.desk.store.lines() == ()
    press(scene, "return")
    assert len(routes.desk.store.lines()) == 1


@pytest.mark.slow
def test_games_that_nobody_looked_through_can_be_from_here(routes):
    """One after another; then they count as if they had been reviewed at the table."""
    lines = [finished(routes, seed) for seed in (11, 12, 13)]
    scene = routes.progress(routes.home())
    assert "Three finished games have not been looked through yet." in words_on(scene)
    press(scene, "return")
    assert sorted(one.line for one in routes.desk.store.reviews()) == lines
    assert not scene.looking
    assert "Three games so far" in words_on(scene)
    table = deal(routes, House(picks=4), 11, advice_hidden=True)
    while not table.finished:
        table.chosen = 0
        table.let_go()
    by_line = {one.line: one for one in routes.desk.store.reviews()}
    at_table, from_here = by_line[line_of(table.sitting)], by_line[lines[0]]
    assert (at_table.choices, at_table.cost, at_table.faults) == (from_here.choices, from_here.cost, from_here.faults)


@pytest.mark.slow
def test_games_among_four_can_be_looked_through_too(routes):
    """Their choices are weighed in points: here the one that was made before the clock ended the deal."""
    sheet, store = beginner(), routes.desk.store
    routes.desk.effort = 1
    house = House(table=FULL)
    others = routes.desk.others(sheet, house)
    sitting = begin(store, sheet, DealCode.of(sheet, house, 5), others=others, kind=MATCH)
    sitting.act(sitting.legal()[0])
    store.finish(line_of(sitting), GameEnd("time", 0))
    scene = routes.progress(routes.home())
    assert "One finished game has not been looked through yet." in words_on(scene)
    press(scene, "return")
    assert "At the full table one game so far" in words_on(scene)
    assert "not been looked through" not in words_on(scene)


@pytest.mark.slow
def test_a_game_that_cannot_be_opened_holds_up_no_other(routes, monkeypatch):
    """It is said, and not counted."""
    lines = [finished(routes, seed) for seed in (11, 12, 13)]

    def sitting_of(line):
        if line == lines[1]:
            raise StoreError("it is damaged")
        return resume(routes.desk.store, line)

    monkeypatch.setattr(routes.desk, "sitting_of", sitting_of)
    scene = routes.progress(routes.home())
    scene.look_through()
    assert [one.line for one in routes.desk.store.reviews()] == [lines[0], lines[2]]
    assert "One game can’t be opened, so not counted." in words_on(scene)


@pytest.mark.slow
def test_leaving_stops_the_looking_through(routes):
    """What was done is kept; on coming back the rest waits."""
    lines = [finished(routes, seed) for seed in (11, 12)]
    work = []

    class Later(Forgetful):
        def submit(self, fn, done):
            work.append((fn, done))

        def cancel(self):
            work.clear()

    routes.desk.worker = Later()
    home = routes.home()
    scene = routes.progress(home)
    scene.look_through()
    assert "Looking through two games: no games done." in words_on(scene)
    (fn, done) = work.pop()
    done(fn(type("Job", (), {"stopped": False})()))
    assert "Looking through two games: one game done." in words_on(scene)
    assert press(scene, "escape") is home
    assert work == []
    assert [one.line for one in routes.desk.store.reviews()] == [lines[1]], "the one played last comes first"
    assert routes.progress(home).waiting == [lines[0]]


def test_the_screen_shows_the_figures_of_every_ten(routes):
    """Games, choices, picks lost and picks each, and sums for both kinds; too few where there are."""
    scene = ProgressScene(routes, routes.home())
    scene.found = play_over_time(games(47, seed=5))
    shown = words_on(scene, (1440, 3000))
    for ten in scene.found.tens:
        each = per_choice(ten.play.cost) if ten.full else "too few"
        kind = "Counted" if ten.hidden else "Others"
        row = f"{len(ten.games)} {ten.play.decisions} {ten.play.lost:,.1f} {each}"
        assert f"{kind}, games {ten.first} to {ten.last}, {days(ten.games)} {row}" in shown
    hidden = scene.found.hidden
    assert f"All that count {hidden.games} {hidden.decisions:,} {hidden.lost:,.1f}" in shown
    assert "choices made without looking advice up: these count" in shown
    assert "with advice always in sight, or a deal tried another way: shown, not counted" in shown


@pytest.mark.slow
def test_the_chart_shows_a_point_where_its_mean_is(routes):
    """Blue discs lie as high as the scale says, older ones further left; no chart before a ten is full."""
    scene = ProgressScene(routes, routes.home())
    costs = [90, 30, 60]
    scene.found = play_over_time([kept(place, cost=costs[place // 10]) for place in range(30)])
    texts = {one.text: one.rect for one in drawn(scene, (1440, 1600), 1.0)}
    low, high = texts["0"].centery, texts["3"].centery
    discs = blobs(scene, (1440, 1600), texts["0"].right, range(high, low + 1))
    assert len(discs) == 3
    assert [low - y for _, y in discs] == pytest.approx([(low - high) * cost / 30 / 3 for cost in costs], abs=3)
    scene.found = play_over_time(games(9, seen=0))
    assert "ten games at a time" not in words_on(scene)


@pytest.mark.parametrize(("within", "hidden", "painted"), [
    ((0.1, 0.3), False, [(53, 25, 2, 50), (49, 73, 10, 2), (49, 25, 10, 2)]),
    ((0.1, 0.4), True, [(45, 0, 2, 75), (41, 73, 10, 2), (41, 0, 10, 2)]),
    ((0.1, 0.9), False, [(53, 0, 2, 75), (49, 73, 10, 2)]),
])  # fmt: skip
def test_how_sure_a_point_is_stands_on_a_line_with_a_bar_at_each_end(monkeypatch, within, hidden, painted):
    """A hundred pixels for a cost of 0.4; a line that runs out of the chart has no bar at its top."""
    panels, signs = [], []
    monkeypatch.setattr(ten_chart, "sign", lambda _ui, place, old: signs.append((place, old)))
    ui = SimpleNamespace(u=round, panel=lambda rect, *_: panels.append(tuple(rect)))
    ten = SimpleNamespace(hidden=hidden, play=SimpleNamespace(within=within, cost=0.2))
    ten_chart._point(ui, Rect(0, 0, 400, 100), ten, 50, 0.4)
    assert panels == painted
    assert signs == [((46 if hidden else 54, 50), hidden)]


def blobs(scene, size, left, heights):
    """Middles of the patches of the colour of games that count, right of `left` at these heights, left ones first."""
    import pygame

    from game.draw.theme import BLUE
    from game.window.shots import picture

    surface = picture(scene, size)
    columns = {}
    for x in range(left, size[0]):
        rows = [y for y in heights if surface.get_at((x, y))[:3] == pygame.Color(*BLUE)[:3]]
        if rows:
            columns[x] = rows
    found = []
    for x, rows in columns.items():
        if not found or x - found[-1][-1][0] > 1:
            found.append([])
        found[-1].append((x, rows))
    return [(sum(x for x, _ in one) / len(one), sum(sum(rows) / len(rows) for _, rows in one) / len(one))
            for one in found]  # fmt: skip


@pytest.mark.slow
def test_home_and_the_end_of_a_game_lead_here_and_back(routes):
    """By key and by click."""
    home = routes.home()
    drawn(home, SIZE, 1.0)
    scene = press(home, "y")
    assert isinstance(scene, ProgressScene)
    assert press(scene, "escape") is home
    table = deal(routes, House(picks=4), advice_hidden=True)
    while not table.finished:
        table.chosen = 0
        table.let_go()
    drawn(table, (1440, 1600), 1.0)
    scene = table.ui.targets and next(one for one in table.ui.targets if one.name == "Your progress").do()
    assert "One game so far" in words_on(scene)
    assert click(scene, "back") is table


@pytest.mark.slow
def test_the_text_table_says_it_after_the_costs(routes):
    """Whoever keeps the games is told of the review, and what they answer is said last; not for a game under way."""
    heard, told = [], []
    table = deal(routes, House(picks=3))

    def reviewed(found):
        told.append(found)
        return ["So far so good."]

    TextTable(table.sitting, table.advisor, ["costs\n"], heard.append, reviewed=reviewed).play()
    assert told == []
    while not table.finished:
        table.chosen = 0
        table.let_go()
    TextTable(table.sitting, table.advisor, ["costs\n"], heard.append, reviewed=reviewed).play()
    assert [one.over for one in told] == [True]
    assert heard[-1] == "So far so good."
