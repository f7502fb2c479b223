"""Luck and choices in words: lines whose figures add up, which games get them, in the window and the text table."""

import re
from dataclasses import replace
from random import Random

import pytest
from at_table import beginner, deal, routes_over
from harness import drawn, make_look

from engine.advice.review.full import FullReview, PointsChoice, together
from engine.advice.review.review import Average, Decision, NotReviewedError, Review
from engine.advice.review.skill import GameFigures, figures_of
from engine.rules.actions import Discard, LetGo
from engine.rules.deal import DealCode
from engine.rules.house import FULL, House
from engine.rules.state import Phase
from engine.store.store import Store
from game.play.advisor import Advisor
from game.play.costs import Cost, costs_in_points, dearest
from game.play.lines import begin, line_of
from game.play.reviewing import POINTS, keep_figures, keep_points, kept_points, review_job
from game.play.sitting import Sitting
from game.text.table import TextTable
from game.words.costs import cost_sentence
from game.words.season.luck import luck_lines, luck_steps, match_steps, points_lines, points_steps, whole_points


def found(random, passed=False, won=False):
    """A review with parts at random that add up."""
    average, *parts = (random.uniform(-0.5, 0.5) for _ in range(6))
    deal, arrived, draws, choices, passing = parts if passed else (parts[0], 0.0, parts[2], parts[3], 0.0)
    rest = won - abs(average) - deal - arrived - draws - choices - passing
    decisions = (Decision(0, (1,), (2,), 0.1, -0.1, True, passed), Decision(4, (1,), (1,), 0.0, 0.0, False))
    return Review(
        Average(abs(average), 0.01), deal, arrived, draws, choices, passing, rest, float(won), True, decisions, ()
    )


def numbers(text):
    """The signed figures of a sum."""
    return [float(part.replace("− ", "-").replace("+ ", "").replace("−", "-")) for part in
            re.findall(r"(?:[−+] ?)?\d+(?:\.\d)?", text)]  # fmt: skip


@pytest.mark.parametrize("passed", [False, True])
def test_the_figures_that_are_said_add_up(passed):
    """The last line is a sum that comes out at 100 or 0, of the very figures in the lines before it."""
    random = Random(passed)
    for trial in range(200):
        review = found(random, passed, won=trial % 3 == 0)
        *lines, last = luck_lines(review)
        left, right = last.removeprefix("Together: ").split(" = ")
        parts = numbers(left)
        assert sum(parts) == pytest.approx(float(right.split("%")[0]))
        assert right.startswith("100%: a hand was made." if trial % 3 == 0 else "0%: no hand was made.")
        said = [numbers(line.split(": ")[1])[0] for line in lines]
        assert parts[1 : 1 + len(said)] == said
        assert parts[0] == float(re.search(r"finishes (\d+\.\d) times in 100", lines[0])[1])
        assert len(lines) == 3 + passed
        assert any(line.startswith("The passes: ") for line in lines) is passed
        assert "one choice that mattered." in lines[-1]
        assert last.endswith("by the last pick, estimated and not measured by playing games out.")


def in_points(random, passed=True, clock=0):
    """A review of a game among four with parts at random, in hundredths of a point, that add up to whole points."""
    parts = [random.randrange(-4000, 4000) for _ in range(5)]
    result = 100 * random.randrange(-60, 60)
    parts[1] *= passed
    others = result - sum(parts) - clock
    decisions = tuple(PointsChoice(index, LetGo(), LetGo(), -40 * index) for index in range(4))
    return FullReview(*parts[:4], others, parts[4], clock, result, passed, decisions)


@pytest.mark.parametrize(("passed", "clock"), [(True, 0), (False, 0), (True, -1234)])
def test_points_that_are_said_and_drawn_add_up(passed, clock):
    """The steps of the picture, the sentences and their sum are the same whole points, and come to what was paid."""
    random = Random(7)
    for _ in range(100):
        review = in_points(random, passed, clock)
        *lines, last = points_lines(review)
        steps = points_steps(review)
        assert steps.start is None
        assert sum(one.amount for one in steps.steps) == steps.result.amount == review.result // 100
        left, right = last.removeprefix("Together: ").split(" = ")
        assert numbers(left) == [one.amount for one in steps.steps]
        assert numbers(right.split(":")[0]) == [steps.result.amount]
        assert [line.split(": ")[0] for line in lines] == [one.name for one in steps.steps]
        assert [numbers(line.split(": ")[1])[0] for line in lines] == [one.amount for one in steps.steps]
        assert len(lines) == 5 + passed + bool(clock)
        assert "two choices of 4 cost half a point or more." in " ".join(lines)
        assert all(abs(whole - review.parts[name] / 100) <= 0.5 for name, whole in whole_points(review).items()
                   if name != "others")  # fmt: skip


def test_choices_among_four_are_named_by_their_points():
    """Dearest first, whatever their turns; what costs less than half a point isn't named, as a safe tile may cost
    turns and be right."""
    sheet = beginner()
    sitting = Sitting(DealCode.of(sheet, House(table=FULL), 3).deal(sheet))
    first, second = sitting.observation.rack[:2]
    costs = [Cost(index, Discard(first), Discard(second), turns) for index, turns in ((0, 2.0), (4, 0.4), (9, 3.0))]
    values = zip(costs, (-340, -890, -40), strict=True)
    parts = FullReview(
        *[0] * 8, False, tuple(PointsChoice(one.index, one.chosen, one.best, value) for one, value in values)
    )
    found = costs_in_points(costs, parts)
    assert [one.index for one in dearest(costs)] == [9, 0, 4], "by turns as long as points aren't known"
    assert [one.index for one in dearest(found)] == [4, 0]
    assert "would have saved roughly 2 turns, about 3 points." in cost_sentence(sitting, found[0])
    assert "would have saved roughly 2 turns." in cost_sentence(sitting, costs[0])


def test_a_match_adds_up_its_deals():
    """To the points of the match; what the house's limit spared the player is a step of its own."""
    deals = [in_points(Random(seed)) for seed in range(4)]
    total = sum(one.result for one in deals) // 100
    steps = match_steps(together(deals), total)
    assert sum(one.amount for one in steps.steps) == steps.result.amount == total
    assert "The limit of losses" not in [one.name for one in steps.steps]
    spared = match_steps(together(deals), total + 30)
    assert spared.steps[-1].amount == 30
    assert sum(one.amount for one in spared.steps) == spared.result.amount == total + 30


def test_parts_in_points_are_kept_once(tmp_path):
    """With the line that they belong to; what the store refuses is let be."""
    with Store(tmp_path / "deals.sqlite") as store:
        sheet = beginner()
        line = line_of(begin(store, sheet, DealCode.of(sheet, House(table=FULL), 1)))
        first, second = in_points(Random(1)), in_points(Random(2))
        assert kept_points(store, line) is None
        keep_points(store, line, first)
        keep_points(store, line, second)
        keep_points(store, None, first)
        keep_points(store, 99, first)
        assert kept_points(store, line).parts == first.parts
        assert len(store.results(POINTS)) == 1


def sitting_of(house, seed=3):
    """A deal of the beginner's sheet, the player letting the first tile go each time, to its end."""
    sheet = beginner()
    sitting = Sitting(DealCode.of(sheet, house, seed).deal(sheet))
    while not sitting.over and sitting.state.phase is Phase.TURN:
        sitting.act(Discard(sitting.observation.rack[0]))
    return sitting


def lines_of(sitting, advisor):
    """The lines of a game reviewed here and now."""
    return luck_lines(review_job(sitting, advisor)(lambda: False))


def test_which_games_get_lines():
    """A game at the quiet table that is over; nothing for one under way or one of four players; stopped when asked."""
    advisor = Advisor(beginner(), 8)
    over = sitting_of(House(picks=4))
    assert len(lines_of(over, advisor)) == 4
    with pytest.raises(NotReviewedError):
        review_job(over, advisor)(lambda: True)
    for house in (House(picks=4), House(table=FULL)):
        sheet = beginner()
        fresh = Sitting(DealCode.of(sheet, house, 1).deal(sheet))
        assert review_job(fresh, advisor)(lambda: False) is None
        assert lines_of(fresh, advisor) == []


def test_the_work_is_about_the_line_as_it_stood():
    """What the player does meanwhile changes nothing."""
    advisor = Advisor(beginner(), 8)
    sitting = sitting_of(House(picks=3))
    job, expected = review_job(sitting, advisor), review_job(sitting, advisor)(lambda: False)
    sitting.back()
    sitting.act(Discard(sitting.observation.rack[-1]))
    assert job(lambda: False) == expected


@pytest.mark.slow
def test_the_text_table_says_the_lines_with_the_costs():
    """After the game, behind the costliest choices; not before."""
    heard = []
    sitting = sitting_of(House(picks=3))
    advisor = Advisor(beginner(), 8)
    TextTable(sitting, advisor, ["costs\n"], heard.append).play()
    lines = lines_of(sitting, advisor)
    assert heard[-len(lines) :] == lines
    heard.clear()
    sheet = beginner()
    TextTable(Sitting(DealCode.of(sheet, House(picks=3), 3).deal(sheet)), advisor, ["costs\n"], heard.append).play()
    assert not any(line.startswith("Luck") for line in heard)


@pytest.mark.slow
def test_the_window_shows_them_at_the_end(tmp_path):
    """As one picture under a heading of its own; while they are worked out it says so; afresh after another way was
    tried."""
    routes = routes_over(make_look(), tmp_path / "deals.sqlite")
    table = deal(routes, House(picks=12))
    while not table.finished:
        table.chosen = 0
        table.let_go()
    lines = lines_of(table.sitting, table.advisor)
    assert luck_lines(table.ended.review) == lines
    shown = [one.text for one in drawn(table, (1440, 1200), 1.0)]
    assert "Luck and choices" in shown
    steps = luck_steps(table.ended.review)
    for one in (steps.start, *steps.steps, steps.result):
        assert one.name in shown
        assert one.said in shown
    table.end_work.answer = replace(table.ended, review=None, reviewed=False)
    assert "Weighing luck and choices…" in [one.text for one in drawn(table, (1440, 1200), 1.0)]
    table.step(False)
    table.chosen = 5
    table.let_go()
    assert table.finished
    assert luck_lines(table.ended.review) == lines_of(table.sitting, table.advisor)
    routes.desk.store.close()


@pytest.mark.slow
def test_the_window_keeps_the_figures_of_each_line_that_comes_to_its_end(tmp_path):
    """Of the game when it is over, and of another way of it when that is; the figures are those of the review."""
    routes = routes_over(make_look(), tmp_path / "deals.sqlite")
    table = deal(routes, House(picks=12), advice_hidden=True)
    while not table.finished:
        assert routes.desk.store.reviews() == ()
        table.chosen = 0
        table.let_go()
    expected = figures_of(review_job(table.sitting, table.advisor)(lambda: False))
    (kept,) = routes.desk.store.reviews()
    assert (kept.line, kept.advice_seen) == (line_of(table.sitting), False)
    assert GameFigures(kept.choices, kept.cost, kept.faults) == expected
    table.step(False)
    table.chosen = 5
    table.let_go()
    assert [(one.line, one.advice_seen) for one in routes.desk.store.reviews()] == [
        (kept.line, False), (line_of(table.sitting), True)
    ]  # fmt: skip
    routes.desk.store.close()


def test_what_is_not_kept_is_let_be(tmp_path):
    """No review, a game that isn't kept, a line that there isn't: nothing is raised."""
    review = found(Random(1))
    with Store(tmp_path / "deals.sqlite") as store:
        assert not keep_figures(store, None, review)
        assert not keep_figures(store, 1, None)
        assert not keep_figures(store, 1, review)
        assert store.reviews() == ()
