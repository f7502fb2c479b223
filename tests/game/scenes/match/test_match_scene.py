"""Playing a match in the window: the clock, choices that stand, the next deal, the result sheet, going on later."""

from dataclasses import replace

import pytest
from at_table import routes_over
from clock_set import Clock
from harness import drawn, make_look, press

from engine.advice.review.full import PointsParts
from engine.drills.match import KIND, TIME, DealResult, Match, MatchRules
from engine.rules.house import FULL, House
from engine.rules.state import Phase
from engine.sheet.shelf import find
from game.play.ended import near_misses
from game.play.matches import MatchPlay, kept_match
from game.play.reviewing import keep_points
from game.play.settings import ALWAYS
from game.scenes.match.play import NO_WAY_BACK
from game.scenes.match.result import ResultSheet
from game.scenes.match.setup import MatchScene
from game.scenes.table.scene import PassScene, TableScene
from game.window.shots import picture
from game.words.match import deal_words, standing
from game.words.situation import ending_sentences, near_sentence, payment_note, payments

pytestmark = pytest.mark.slow


@pytest.fixture
def routes(tmp_path):
    """Routes with the smaller sheet chosen."""
    routes = routes_over(make_look(), tmp_path / "lone-east.sqlite")
    routes.desk.choose_sheet(find("first-steps"), None)
    routes.desk.save_house(House(table=FULL))
    yield routes
    routes.desk.store.close()


def begin(routes, deals=2, minutes=None):
    """A match at its first deal: the scene and its clock."""
    play = MatchPlay(routes.desk, Match(MatchRules(deals, minutes), routes.desk.house.seat))
    play.now = clock = Clock(0.0)
    return routes.match_deal(play), clock


def play_out(scene):
    """The deal to its end, the player choosing as the others do; the scene of the end."""
    sitting = scene.sitting
    others = scene.desk.others(sitting.state.sheet, sitting.state.house)
    while not sitting.over:
        sitting.act(others(sitting.observation))
    return scene.routes.match_moment(scene.policy.play, sitting)


def shown(scene):
    """Everything written on the scene."""
    return " ".join(one.text for one in drawn(scene, (1440, 900), 1.0))


def test_the_setup_begins_a_match_of_the_deals_and_time_set(routes):
    """Deals by the stepper, time by a choice; both are kept for the next match."""
    scene = MatchScene(routes, routes.home())
    scene._set(MatchRules(3, 10))
    drawn(scene, (1440, 900), 1.0)
    deal = press(scene, "return")
    assert isinstance(deal, TableScene)
    assert deal.policy.play.match.rules == MatchRules(3, 10)
    assert "Deal 1 of 3" in shown(deal)
    assert "10:00 left" in shown(deal)
    assert MatchScene(routes, routes.home()).rules == MatchRules(3, 10)
    assert routes.desk.store.line(deal.policy.play.line).kind == KIND


@pytest.mark.slow
def test_points_are_kept_across_the_deals_and_the_result_is_stored(routes):
    """After the last deal the result sheet names every deal and the totals; one result is kept, once."""
    scene, _ = begin(routes, deals=2)
    first = play_out(scene)
    assert first.finished
    points = first.policy.play.match.results[0].points
    state = first.state
    assert points == tuple(state.outcome.payments[place] for place in range(4))
    assert "Next deal" in shown(first)
    assert routes.desk.store.results(KIND) == ()
    second = press(first, "return")
    assert isinstance(second, TableScene)
    assert second.sitting.player == 3, "East has passed to the right"
    end = play_out(second)
    sheet = press(end, "return") if shown(end) else None
    assert isinstance(sheet, ResultSheet)
    match = sheet.match
    assert match.over
    assert sum(match.totals) == 0
    text = shown(sheet)
    assert deal_words(DealResult("mahjong", (0, 0, 0, 0), 1.0, winner=0, hand="Low wall")) == "You: Low wall"
    assert deal_words(DealResult("wall", (0, 0, 0, 0), 1.0)) == "Wall game"
    assert deal_words(DealResult("time", (0, 0, 0, 0), 1.0, winner=2)) == "Time was up"
    for result in match.results:
        assert deal_words(result) in text
    assert standing(match) in text
    (kept,) = routes.desk.store.results(KIND)
    assert kept.figures["points"] == match.totals[0]
    assert kept.allowance is None
    play_out(second)
    assert len(routes.desk.store.results(KIND)) == 1
    assert kept_match(routes.desk) is None


def test_the_result_sheet_tells_luck_from_choices_over_all_deals(routes):
    """The parts of every deal added up, in whole points that come to the player's in the match; as they are kept, or
    else it is said that a deal can't be opened."""
    routes.desk.effort = 100
    store, results, total = routes.desk.store, [], 0
    for number, points in enumerate((-25, 60)):
        line = MatchPlay(routes.desk, Match(MatchRules(2))).sitting().keeper.line
        parts = PointsParts(200 * number, 350, -120, 10, 100 * points - 840 - 200 * number, 400, 0, 100 * points, True)
        keep_points(store, line, parts)
        results.append(DealResult("mahjong", (points, -points, 0, 0), 9.0, 0, "Kites", line))
        total += points
    match = Match(MatchRules(2), 0, tuple(results))
    text = shown(ResultSheet(routes, MatchPlay(routes.desk, match)))
    assert "Luck and choices in the whole match" in text
    assert "What came in the passes" in text
    assert "+7" in text
    assert "your choices brought 8 points" in text
    assert f"+{total} points" in text
    lost = Match(MatchRules(2), 0, (results[0], replace(results[1], line=None)))
    assert "can’t be opened" in shown(ResultSheet(routes, MatchPlay(routes.desk, lost)))


@pytest.mark.slow
def test_the_end_of_a_deal_shows_what_is_really_paid_and_near_misses(routes):
    """A match-wide limit that is used up cuts the figures and says so; a near miss is named as after any game."""
    house = House(table=FULL, loss_limit=60)
    scene, _ = begin(routes, deals=2)
    sitting, play = scene.sitting, scene.policy.play
    end = play_out(scene)
    assert end.state.outcome is not None
    result = play.match.results[0]
    cut = replace(result, points=(-10, 30, -10, -10), line=result.line)
    play.match = replace(play.match, results=(cut,))
    assert end.policy.paid(sitting) == (-10, 30, -10, -10)
    state = replace(
        end.state,
        house=house,
        outcome=replace(
            end.state.outcome, kind="mahjong", winner=1, self_drawn=False, discarder=0, payments=(-50, 100, -25, -25)
        ),
    )
    paid = payments(state, (-10, 30, -10, -10))
    assert [one.points for one in paid] == [-10, 30, -10, -10]
    assert paid[0].sentence == (
        "You pay 10 points, double for letting the last tile go, all that was left to lose in this match."
    )
    note = payment_note(state, (-10, 30, -25, -25))
    assert note == "You let the last tile go and pay double. You had no more to lose in this match."
    near = near_misses(end.state, end.advisor)
    mine = next((one for one in near if one.seat == sitting.player), None)
    shown_at_rest(end)
    assert end.ended is not None
    assert end.ended.costs == ()
    assert end.ended.near == near
    assert mine is None or mine.missing > 3 or near_sentence(mine, sitting.player) in shown(end)


def shown_at_rest(scene):
    """The scene once its background work has come."""
    return picture(scene, (1440, 900), scene.desk.worker)


def test_the_clock_ends_a_deal_and_nobody_scores(routes):
    """It runs while the table is shown, popups included, stands still in the match's own screen, and ends the deal."""
    scene, clock = begin(routes, deals=1, minutes=1)
    scene.update(0.03)
    clock.now += 20
    scene.update(0.03)
    assert scene.policy.play.spent == pytest.approx(20)
    clock.now += 15  # a popup was open
    scene.update(0.03)
    assert scene.policy.play.left == pytest.approx(25)
    back = scene.back()
    assert isinstance(back, MatchScene)
    clock.now += 1000
    assert "0:25 minutes are left for it." in shown(back)
    back.left.now = clock
    again = back.go_on()
    again.update(0.03)
    assert again.policy.play.left == pytest.approx(25)
    clock.now += 30
    again.update(0.03)
    assert again.stopped
    assert "Time is up" in shown(again)
    entries = list(again.sitting.entries)
    sheet = press(again, "return")
    assert isinstance(sheet, ResultSheet)
    assert [result.outcome for result in sheet.match.results] == [TIME]
    assert sheet.match.totals == (0, 0, 0, 0)
    assert again.sitting.entries == entries
    (kept,) = routes.desk.store.results(KIND)
    assert (kept.allowance, kept.figures["timed out"]) == (60.0, 1)
    (line,) = routes.desk.store.lines(kind=KIND)
    assert ending_sentences(line.ending, line.house) == ["Time was up: nobody scores."]
    assert routes.desk.store.last_line(KIND) is None


def test_time_that_is_up_lets_no_discard_go_by_itself(routes):
    """A call window that is still open does not run on after the deal has ended."""
    routes.desk.save_settings(replace(routes.desk.settings, call_seconds=3))
    scene, clock = begin(routes, minutes=1)
    scene.update(0.1)
    clock.now += 61
    scene.update(0.1)
    entries = list(scene.sitting.entries)
    scene.update(10.0)
    assert scene.sitting.entries == entries


def test_choices_stand_and_advice_is_hidden(routes):
    """No stepping back, no other ways, no advice, whatever the settings say."""
    routes.desk.save_settings(replace(routes.desk.settings, advice=ALWAYS))
    scene, _ = begin(routes)
    others = routes.desk.others(scene.sitting.state.sheet, scene.sitting.state.house)
    scene.sitting.act(others(scene.sitting.observation))
    scene = scene.routes.match_moment(scene.policy.play, scene.sitting)
    before = scene.sitting.cursor
    for act in (lambda: scene.step(False), scene.again, scene.ways, scene.other_sections, lambda: scene.go_to(0)):
        scene.trouble = ""
        assert act() is None
        assert scene.trouble == NO_WAY_BACK
    assert scene.sitting.cursor == before
    assert scene.advice_shown is None
    assert scene.advised is False
    assert "Within reach" not in shown(scene)


@pytest.mark.slow
def test_a_match_goes_on_after_a_break_at_the_very_choice(routes):
    """From the store alone, as after a crash: deals counted so far, the deal under way, the time spent."""
    scene, clock = begin(routes, deals=3, minutes=5)
    second = play_out(scene).new_deal()
    others = routes.desk.others(second.sitting.state.sheet, second.sitting.state.house)
    second.sitting.act(others(second.sitting.observation))
    second.policy.play.now = clock
    second.update(0.1)
    clock.now += 42
    second.update(0.1)
    entries = list(second.sitting.entries)
    left = MatchScene(routes, routes.home()).left
    assert len(left.match.results) == 1
    assert left.spent == pytest.approx(42)
    again = routes.match_deal(left)
    assert again.sitting.entries[: len(entries)] == entries
    assert again.policy.play.line == second.policy.play.line


def test_the_passes_of_a_match_are_played_on_its_clock(routes):
    """By the house rules; then the same deal goes on at the full table."""
    routes.desk.save_house(House(table=FULL, passes=3))
    scene, _ = begin(routes, minutes=10)
    assert isinstance(scene, PassScene)
    assert "10:00 left" in shown(scene)
    others = routes.desk.others(scene.sitting.state.sheet, scene.sitting.state.house)
    while scene.sitting.state.phase is not Phase.TURN:
        scene.sitting.act(others(scene.sitting.observation))
    following = scene.settle()
    assert isinstance(following, TableScene)
    assert following.policy.play is scene.policy.play


def test_beginning_another_match_asks_first(routes):
    """The one that was left is given up only when the player says so."""
    scene, _ = begin(routes, deals=3)
    setup = scene.back()
    question = setup.begin()
    assert "given up" in shown(question)
    assert press(question, "escape") is setup
    assert kept_match(routes.desk) is not None
    following = press(setup.begin(), "escape")
    assert following is setup
    begun = setup._begin()
    assert begun.policy.play.match.results == ()
    assert begun.policy.play.line != scene.policy.play.line
