"""Let one go: racks of real games, graded against exact odds counted by hand, near misses told from wrong ones."""

import random
from dataclasses import replace

import pytest

from engine.advice.advise.answers import Known
from engine.advice.advise.discard import advise
from engine.advice.moment import Moment, Work
from engine.advice.rollout.race import Tried
from engine.advice.table import SheetTable
from engine.drills import let_one_go
from engine.drills.grades import Grade, Price
from engine.drills.let_one_go import LetGoTask, NoRackError, judge_let_go, let_go_task, matters
from engine.rules.matching import match
from engine.sheet.shelf import find
from engine.tiles import counts_of, full_set

QUICK = Work(0)


@pytest.fixture(scope="module")
def table():
    """The small sheet."""
    return SheetTable.of(find("first-steps"), 8)


def picks_after(sheet, counts, unseen, goes):
    """By counting: the mean of picks once that tile has gone, with one draw left; two where none comes."""
    left = list(counts)
    left[goes] -= 1
    wins = 0
    for kind, copies in enumerate(unseen):
        left[kind] += 1
        wins += copies * (copies > 0 and match(sheet, left, ()) is not None)
        left[kind] -= 1
    return 2 - wins / sum(unseen)


def last_draw(table, seed):
    """A rack that is one tile from a hand, with a stray tile, before the last draw."""
    chance = random.Random(seed)
    hand = table.sheet.hands[seed % len(table.sheet.hands)]
    variant = hand.variants[0]
    tiles = [group.kind for group in variant.groups for _ in range(group.size)]
    tiles.pop(int(chance.random() * len(tiles)))
    spare = next(kind for kind in (27, 28, 29, 30, 3, 12) if kind not in tiles)
    rack = tuple(sorted((*tiles, spare)))
    counts = counts_of(rack)
    unseen = tuple(all_of - held for all_of, held in zip(full_set(8), counts, strict=True))
    return LetGoTask(Moment.of(table, counts, unseen, 1), rack, (), 39)


@pytest.mark.parametrize("seed", [0, 1, 4])
@pytest.mark.slow
def test_late_choices_cost_what_counting_says(table, seed):
    """With one draw left every tile's cost is exact, and its grade follows from it."""
    task = last_draw(table, seed)
    counts, unseen = task.moment.counts, task.moment.unseen
    slow = {kind: picks_after(table.sheet, counts, unseen, kind) for kind in set(task.rack)}
    best = min(slow.values())
    for kind, picks in slow.items():
        judged = judge_let_go(task, kind, Work(100))
        assert judged.price.known is Known.EXACT
        assert judged.price.cost == pytest.approx(picks - best, abs=1e-9)
        assert judged.price.grade is (Grade.RIGHT if picks - best < 0.05 else Grade.WRONG)


@pytest.mark.slow
def test_racks_come_from_games_and_matter(table):
    """Fourteen tiles, none of them more often than the set and what has gone allow; the seed decides which."""
    tasks = [let_go_task(table, random.Random(seed)) for seed in (3, 5)]
    for task in tasks:
        assert len(task.rack) == 14
        assert len(task.gone) == task.pick if task.pick else not task.gone
        seen = counts_of((*task.rack, *task.gone))
        assert all(one <= most for one, most in zip(seen, full_set(8), strict=True))
        assert not advise(task.moment).finished
    assert any(matters(advise(task.moment)) for task in tasks)
    assert let_go_task(table, random.Random(3)).rack == tasks[0].rack


@pytest.mark.slow
def test_estimated_grades_are_those_of_the_advice(table):
    """With nothing tried out, the cost is the advice's own."""
    task = let_go_task(table, random.Random(3))
    for keep in advise(task.moment).keeps:
        judged = judge_let_go(task, keep.kind, QUICK)
        assert judged.price.cost == keep.picks
        assert judged.best == task.best
    with pytest.raises(ValueError, match="choose a tile of the rack"):
        judge_let_go(replace(task, rack=(1,) * 14), 2, QUICK)


def test_what_can_not_be_told_apart_is_right():
    """An interval that holds nothing, and a difference under a twentieth of a pick."""
    near = Tried(100, 0.5, 0.01, 0.6, 0.01, 0.02, 0.02)
    assert Price.tried(near, 30).cost == 0.0
    assert Price.tried(near, 30).grade is Grade.RIGHT
    far = Tried(100, 0.5, 0.01, 0.6, 0.01, 0.02, 0.001)
    assert Price.tried(far, 30).cost == pytest.approx(0.6)
    assert Price.tried(far, 30).grade is Grade.NEAR
    assert Price(1.0, 40, Known.ESTIMATED).grade is Grade.WRONG
    assert Price(0.04, 40, Known.ESTIMATED).grade is Grade.RIGHT
    assert Price(0.3, 3, Known.EXACT).grade is Grade.WRONG  # a tenth of all that is left


def test_a_sheet_that_is_won_at_once_gets_one_sentence(table, monkeypatch):
    """Where every game is won before a rack can be taken."""
    monkeypatch.setattr(let_one_go, "_played_to", lambda *_: None)
    with pytest.raises(NoRackError, match="choose another drill"):
        let_go_task(table, random.Random(3))


@pytest.mark.slow
def test_the_last_two_draws_cost_what_counting_says(table):
    """Every draw and every discard in between gone through; three picks where no hand comes."""
    task = replace(last_draw(table, 4), pick=38)
    counts, unseen = task.moment.counts, task.moment.unseen
    task = replace(task, moment=replace(task.moment, draws=2))
    sheet, whole, waits = table.sheet, sum(unseen), {}

    def wins(rack, left):
        if rack not in waits:
            one_more = ((kind, (*rack[:kind], rack[kind] + 1, *rack[kind + 1 :])) for kind in range(36))
            waits[rack] = [kind for kind, held in one_more if match(sheet, held, ()) is not None]
        return sum(left[kind] for kind in waits[rack])

    def changed(rack, kind, by):
        return (*rack[:kind], rack[kind] + by, *rack[kind + 1 :])

    def picks(rack):
        total = 0.0
        for kind, copies in enumerate(unseen):
            if copies:
                drawn, left = changed(rack, kind, 1), changed(unseen, kind, -1)
                made = match(sheet, drawn, ()) is not None
                best = max(wins(changed(drawn, goes, -1), left) for goes in range(36) if drawn[goes])
                total += copies * (1 if made else 3 - best / (whole - 1))
        return total / whole

    slow = {kind: picks(changed(counts, kind, -1)) for kind in set(task.rack)}
    best = min(slow.values())
    for kind, mean in slow.items():
        judged = judge_let_go(task, kind, Work(100))
        assert judged.price.known is Known.EXACT
        assert judged.price.cost == pytest.approx(mean - best, abs=1e-9)
