"""Advice tried out while it is looked at: figures with their intervals, and an end to it when the player moves."""

import time
from dataclasses import replace

import pytest
from at_table import almost_there, beginner, deal, routes_over
from harness import check_records, drawn, key, press

from engine.advice.advise.answers import Known
from engine.advice.table import SheetTable
from engine.rules.actions import Discard, LetGo, Pass
from engine.rules.deal import DealCode
from engine.rules.house import FULL, House
from engine.rules.passing import BEFORE_PLAY
from engine.seats.character import Strength
from engine.seats.players import player, table_of
from engine.store.store import Store
from game.play.costs import costs_of, costs_tried
from game.play.desk import Desk
from game.play.lines import begin
from game.play.settings import ALWAYS, HIDDEN, HINTED
from game.play.worker import Worker
from game.scenes.navigation import Navigation
from game.scenes.table.popups import WhyPopup
from game.scenes.table.scene import PassScene, TableScene
from game.words.costs import pass_sentence

SIZE = (1440, 900)
EFFORT = 600
PASSES = House(picks=40, passes=3, courtesy=True)


@pytest.fixture
def routes(look, tmp_path):
    """Routes whose advice is always shown and tried out, a little."""
    routes = routes_over(look, tmp_path / "lone-east.sqlite")
    routes.desk.effort = EFFORT
    routes.desk.save_settings(replace(routes.desk.settings, advice=ALWAYS))
    yield routes
    routes.desk.store.close()


def text(scene):
    """Everything that can be read on the scene."""
    return " ".join(one.text for one in drawn(scene, SIZE, 1.0))


@pytest.mark.slow
def test_the_odds_of_a_hand_are_shown_with_an_interval(routes):
    """With advice always shown the reasons say how likely a hand is, give or take how much, and from how many games."""
    table = deal(routes)
    chance = table.advice.chance
    assert chance.known is Known.PLAYED
    said = text(table)
    assert "A hand within the 40 draws to come" in said
    assert "give or take" in said
    assert f"layed out {chance.games} times" in said
    assert not table.trying


@pytest.mark.slow
def test_nothing_is_tried_out_unseen(routes):
    """Advice that is hidden or not asked for is not tried out; asking for it does so."""
    routes.desk.save_settings(replace(routes.desk.settings, advice=HINTED))
    table = deal(routes)
    drawn(table, SIZE, 1.0)
    assert table.advice.chance.known is Known.ESTIMATED
    press(table, "a")
    assert table.advice.chance.known is Known.PLAYED
    routes.desk.save_settings(replace(routes.desk.settings, advice=HIDDEN))
    assert deal(routes, seed=12).advice.chance.known is Known.ESTIMATED


@pytest.mark.slow
def test_why_has_it_tried_out_too(routes):
    """The popup of reasons, opened before anything was tried out, shows the new figures."""
    routes.desk.save_settings(replace(routes.desk.settings, advice=HINTED))
    table = deal(routes)
    drawn(table, SIZE, 1.0)
    popup = table.handle(key("w"))
    assert isinstance(popup, WhyPopup)
    assert "give or take" in text(popup)


@pytest.mark.slow
def test_choices_that_cannot_be_told_apart_cost_nothing(routes):
    """Under the rack stand only costs that are beyond doubt, or too large to have been tried."""
    table = deal(routes, seed=5)
    for _ in range(8):
        for keep in table.advice.keeps:
            if keep.games and keep.picks:
                assert keep.behind > keep.half
            if keep.known is Known.ESTIMATED:
                assert keep.picks > 0.0
        table.sitting.act(Discard(table.advice.let_go))
        table.arrive()
        if table.finished:
            break


@pytest.mark.slow
def test_looking_again_costs_nothing(routes):
    """What was tried out once is remembered as long as the game is open."""
    table = deal(routes)
    first = table.advice
    press(table, "right", "return")
    assert table.advice is not first
    press(table, "z")
    assert table.advice is first


@pytest.mark.slow
def test_the_passes_are_tried_out(routes):
    """The best three have odds with an interval; the choices behind them say how far, give or take."""
    scene = routes.at_table(deal(routes, house=PASSES).sitting)
    assert isinstance(scene, PassScene)
    assert scene.advice.chance.known is Known.PLAYED
    said = text(scene)
    assert "A hand within the 40 draws of play" in said
    assert f"layed out {scene.advice.chance.games} times" in said
    assert check_records(drawn(scene, (1024, 640), 2.0), (1024, 640)) == []


def test_a_full_table_shows_the_chance_to_win_this_game(routes):
    """East's first choice at a full table has its chance against three others; nothing is tried out there."""
    scene = routes.at_table(deal(routes, house=House(table=FULL)).sitting)
    assert scene.known.rack.chance.known is Known.FORECAST
    assert scene.known.rack is scene.advice
    assert "Your chance to win this game" in text(scene)
    assert "give or take" not in text(scene)


def test_a_finished_hand_has_nothing_to_try(routes):
    """Where mahjong can be shown, advice stays as it was."""
    table, spare, _ = almost_there(routes)
    table.sitting.act(Discard(spare))
    table.arrive()
    assert table.advice.chance.known is Known.EXACT


def poll_until(worker, wanted, seconds):
    """Polls until a condition holds."""
    until = time.monotonic() + seconds
    while not wanted():
        assert time.monotonic() < until, "it never came"
        worker.poll()
        time.sleep(0.005)


def test_a_move_ends_it_at_once(look, tmp_path):
    """Seconds of trying out stand in the way of nothing: the first answer is there meanwhile, and the next moment's
    advice comes as soon as the player has moved."""
    worker = Worker()
    routes = Navigation(Desk(worker, Store(tmp_path / "lone-east.sqlite")), look)
    routes.desk.effort = 10**9
    routes.desk.save_settings(replace(routes.desk.settings, advice=ALWAYS))
    table = deal(routes)
    assert isinstance(table, TableScene)
    poll_until(worker, lambda: table.trying, 10)
    assert table.advice is not None
    assert table.advice.chance.known is Known.ESTIMATED
    assert "Trying the close choices out" in text(table)
    job = worker._newest
    table.chosen = 0
    table.let_go()
    assert job.stopped
    poll_until(worker, lambda: table.advice is not None and table.advice.keeps, 10)
    assert table.sitting.state.picks == 1
    worker.close()
    routes.desk.store.close()


def careless(scene, every):
    """Play to the end: the dearest tile goes at every so many choices, else the advised one; nothing is called."""
    turn = 0
    while not scene.finished:
        legal = scene.sitting.legal()
        if LetGo() in legal:
            action = LetGo()
        else:
            turn += 1
            action = Discard(scene.advice.keeps[0 if turn % every == 0 else -1].kind)
        assert scene.act(action) is None


@pytest.mark.slow
def test_costs_at_the_end_are_tried_out(routes):
    """After a careless game each costly choice says give or take how much; the rest is called not to be told apart."""
    routes.desk.effort = 100
    table = deal(routes, House(picks=20))
    careless(table, 4)
    assert not table.trying
    assert table.ended.costly
    assert all(one.tried for one in table.ended.costly)
    said = text(table)
    assert "cost something beyond doubt" in said
    assert ("told apart from the advised" in said) == bool(table.ended.unsure)
    (kept,) = routes.desk.store.reviews()
    assert (kept.advice_seen, kept.choices, kept.faults) == (True, 0, 0)  # what was looked up first does not count


@pytest.mark.slow
def test_a_game_without_a_cost_beyond_doubt_says_what_is_open(routes):
    """Nothing is listed then, and the choices that only seemed to cost something are counted in a sentence that needs
    no other."""
    table = deal(routes, House(picks=8), seed=8)
    careless(table, 2)
    open_ones = [replace(one, cost=0.001, within=(-0.01, 0.01)) for one in table.ended.costs[:3]]
    table.end_work.answer = replace(table.ended, costs=tuple(open_ones), tried=True)
    said = text(table)
    assert "No choice of yours cost anything that the odds can tell." in said
    assert "Three choices that seemed to cost something can’t be told apart from the advised ones." in said


@pytest.mark.slow
def test_costs_at_a_full_table_are_those_of_the_game_among_four(routes):
    """Nothing is tried out at a table of four, as rollouts play alone: costs stay as they are weighed."""
    routes.desk.effort = 100
    code = DealCode.of(beginner(), House(table=FULL), 6)  # a deal that another seat wins early
    others = table_of((Strength.SHARP,), SheetTable.of(beginner(), 8))
    scene = routes.at_table(begin(routes.desk.store, beginner(), code, others=others))
    while not scene.sitting.over:  # nobody looks at the moments between, so their advice is not worked out
        legal = scene.sitting.legal()
        scene.sitting.act(LetGo() if LetGo() in legal else next(one for one in legal if isinstance(one, Discard)))
    scene.settle()
    assert not scene.trying
    assert scene.ended.unsure is not None
    assert scene.ended.costly
    for one in scene.ended.costly:
        assert not one.tried
        assert one.cost > 0


@pytest.fixture
def real(look, tmp_path):
    """Routes with a worker of its own thread, whose trying out takes seconds."""
    worker = Worker()
    routes = Navigation(Desk(worker, Store(tmp_path / "lone-east.sqlite")), look)
    routes.desk.effort = 10**9
    routes.desk.save_settings(replace(routes.desk.settings, advice=ALWAYS))
    yield routes
    worker.close()
    routes.desk.store.close()


@pytest.mark.slow
def test_stepping_back_brings_no_advice_of_another_moment(real):
    """While the second choice is tried out the player steps back: the first one's advice is shown, and stays."""
    table = deal(real)
    poll_until(real.desk.worker, lambda: table.trying, 10)
    first = table.advice
    table.advisor.effort = 0  # the first choice is not tried out again
    table.chosen = 0
    table.let_go()
    table.advisor.effort = 10**9
    poll_until(real.desk.worker, lambda: table.advice is not None, 10)
    table.advice_toggled()
    poll_until(real.desk.worker, lambda: table.trying, 10)
    job = real.desk.worker._newest
    table.advisor.effort = 0
    table.step(False)
    assert job.stopped
    assert table.advice is first
    until = time.monotonic() + 0.3
    while time.monotonic() < until:
        real.desk.worker.poll()
        time.sleep(0.01)
    assert table.advice is first
    assert not table.trying


@pytest.mark.slow
def test_costs_are_tried_out_though_the_player_looks_away(real):
    """Stepping back while the costs of a finished game are tried out, and coming again, begins it anew; the game's
    figures are kept in the end."""
    table = deal(real, House(picks=16), seed=4)
    table.advisor.effort = 0
    while not table.finished:
        poll_until(real.desk.worker, lambda: table.advice is not None, 10)
        table.chosen = 0
        table.let_go()
    table.advisor.effort = 1
    table.arrive()
    poll_until(real.desk.worker, lambda: table.trying, 20)
    job = real.desk.worker._newest
    table.step(False)
    assert job.stopped
    assert real.desk.store.reviews() == ()
    table.step(True)
    poll_until(real.desk.worker, lambda: table.end_work.settled, 30)
    assert table.ended.unsure is not None
    assert len(real.desk.store.reviews()) == 1


@pytest.mark.slow
def test_a_rehearsed_pass_is_no_fault_where_nothing_can_be_told(routes):
    """The passes of a rehearsal are tried out against the best ones: a cost is beyond doubt, with an interval."""
    sitting = deal(routes, house=PASSES).sitting
    sitting.others = player(Strength.STEADY, routes.desk.advisor(beginner(), 8).table)
    while sitting.state.phase in BEFORE_PLAY:
        legal = sitting.legal()
        sitting.act(legal[len(legal) // 2])
    advisor = routes.desk.advisor(beginner(), 8)
    estimated = costs_of(sitting, advisor)
    tried = costs_tried(sitting, advisor, estimated)
    assert len(tried) == len(estimated) > 0
    for before, after in zip(estimated, tried, strict=True):
        said = pass_sentence(sitting, after)
        assert (after.index, after.chosen, after.best) == (before.index, before.chosen, before.best)
        if before.lost <= 0:
            assert after == before
            assert said.endswith("No better pass was found." if isinstance(after.chosen, Pass) else ": well chosen.")
        elif not isinstance(after.chosen, Pass):  # votes and the courtesy pass are not tried out
            assert after == before
            assert "roughly" in said
        elif after.lost > 0:
            assert "give or take" in said
        else:
            assert "no clear difference" in said
    assert any(one.lost > 0 for one in tried)
