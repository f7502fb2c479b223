"""Where the player stands: what comes next, days of practice, hands won, what got better of late."""

from datetime import UTC, date, datetime, timedelta

import pytest
from at_table import routes_over
from clock_set import Clock
from harness import make_look

from engine.drills.calendar import Next, SeasonPart
from engine.drills.grades import Grade, Skill
from engine.drills.ledger import HandFigures
from engine.drills.schedule import Due, Item, Why
from engine.rules.deal import DealCode
from engine.rules.house import House
from engine.sheet.shelf import find
from engine.store.endings import GameEnd
from engine.store.store import Store
from game.play.desk import Desk
from game.play.lines import begin, line_of
from game.play.practice.drilling import kind_of
from game.play.practice.figures import Share
from game.play.practice.ledgers import KIND, NEAR
from game.play.practice.standing import Better, practice_days, standing_of
from game.window.demo import season
from game.words.season.home import better_words, days_words, next_reason, next_title, part_words, won_words

START = datetime(2026, 3, 2, 12, tzinfo=UTC)


@pytest.fixture
def clock():
    """It stands at the start."""
    return Clock(START)


@pytest.fixture
def desk(tmp_path, clock):
    """A desk over an empty store, the small sheet chosen."""
    with Store(tmp_path / "store.sqlite", now=clock) as store:
        made = Desk(None, store)
        made.choose_sheet(find("first-steps"), None)
        yield made


TODAY = START.date()


def standing(desk, today=TODAY, **left):
    """With nothing left over unless said."""
    return standing_of(desk, today, **{"deal_left": False, "match_left": False, **left})


def game(desk, kind="game", won=None, near=(), best=None):
    """A game that was played to its end, with its figures."""
    sheet = desk.current_sheet
    sitting = begin(desk.store, sheet, DealCode.of(sheet, House(picks=8), 1), kind=kind, advice_hidden=True)
    line = line_of(sitting)
    desk.store.finish(line, GameEnd("mahjong", 6, 0, won) if won else GameEnd("picks", 8))
    figures = HandFigures(won, won, dict.fromkeys(near, 1), best or {})
    desk.store.add_result(KIND, figures.to_json(), line=line)
    return line


def test_a_new_player_reads_the_sheet_then_learns_hands(desk):
    """Nothing has begun, and every step says why."""
    found = standing(desk)
    assert [one.next for one in found.next] == [Next.READ_SHEET, Next.PRACTISE, Next.PLAY]
    assert not found.glance.begun
    reason = next_reason(found.next[0], desk.current_sheet, found.ledger, found.due, START)
    assert reason.startswith("First Steps is new to you. It has 12 hands in ")
    assert next_title(found.next[1], found.due) == "Learn a few hands"
    desk.opened(desk.current_sheet)
    assert standing(desk).next[0].next is Next.PRACTISE


def test_what_is_due_is_said_with_how_much_more_there_is(desk):
    """The first question with its reason, then the number of the others, all but that one."""
    hands = [hand.name for hand in desk.current_sheet.hands[:3]]
    due = tuple(
        Due(Item(hand, "lay"), Why.MISSED if place else Why.NEW, 0.5, START) for place, hand in enumerate(hands)
    )
    found = standing(desk)
    (practise,) = [one for one in found.next if one.next is Next.PRACTISE]
    said = [next_reason(practise, desk.current_sheet, found.ledger, due[:number], START) for number in (2, 3)]
    assert said[0].endswith(" And one more question.")
    assert said[1].endswith(" And two more questions.")


def test_what_was_left_comes_first(desk):
    """A match before a deal, both before all else."""
    found = standing(desk, deal_left=True, match_left=True)
    assert [one.next for one in found.next][:2] == [Next.MATCH, Next.DEAL]


def test_a_hand_still_to_win_is_the_one_that_was_nearest(desk):
    """After five games, by near misses, then by its best moment; games dealt for a hand don't count among the five."""
    names = [hand.name for hand in desk.current_sheet.hands]
    for _ in range(4):
        game(desk, near=[names[3]], best={names[5]: 0.9})
    game(desk, kind=NEAR)
    assert standing(desk).glance.games == 4
    game(desk, won=names[0])
    found = standing(desk)
    wins = [one for one in found.next if one.next is Next.WIN_HAND]
    assert [one.hand for one in wins] == [names[3]]
    reason = next_reason(wins[0], desk.current_sheet, found.ledger, found.due, START)
    assert reason == "You have not won it yet. It was one or two tiles short in four games."
    assert (found.glance.won, found.glance.hands, found.glance.games) == (1, 12, 5)
    assert won_words(found.glance) == "of 12 hands won, in five games"


def test_a_win_counts_before_its_figures_are_worked_out(desk):
    """The end of the game is enough."""
    sheet = desk.current_sheet
    line = line_of(begin(desk.store, sheet, DealCode.of(sheet, House(picks=8), 1)))
    desk.store.finish(line, GameEnd("mahjong", 6, 0, sheet.hands[2].name))
    assert standing(desk).glance.won == 1


def test_days_are_the_players_own(desk, clock):
    """Games and drills count, looking through games doesn't; a day counts once."""
    noon = datetime(2026, 3, 2, 12).astimezone()
    for hours, kind in ((0, "drill lay"), (1, "drill may-i"), (48, "passes"), (72, KIND)):
        clock.now = noon + timedelta(hours=hours)
        desk.store.add_result(kind, {"grade": "right"})
    assert practice_days(desk.store, desk.store.results()) == {date(2026, 3, 2), date(2026, 3, 4)}
    glance = standing(desk, date(2026, 3, 4)).glance
    assert [done for _, done in glance.week] == [False, False, False, False, True, False, True]
    assert days_words(glance) == "two days of play and practice so far, two of the last seven"


def test_what_got_better_needs_enough_answers(desk, clock):
    """Ten answers on either side of the two weeks, and a greater share."""
    sheet = desk.current_sheet

    def answers(right, wrong):
        for grade in [Grade.RIGHT] * right + [Grade.WRONG] * wrong:
            figures = {"sheet": sheet.fingerprint, "section": "", "hand": "", "grade": grade.value, "seconds": 9.0}
            desk.store.add_result(kind_of(Skill.LAY), figures)

    answers(4, 6)
    clock.now = START + timedelta(days=30)
    answers(8, 1)
    assert standing(desk, clock.now.date()).glance.better == Better()
    answers(1, 0)
    better = standing(desk, clock.now.date()).glance.better
    assert better == Better((), Skill.LAY, Share(4, 10), Share(9, 10))
    assert better_words(better) == ["Lay a hand: 9 of 10 (90%) right in the last two weeks, 4 of 10 (40%) before."]


def test_what_a_choice_costs_is_told_once_it_is_less_beyond_doubt(desk):
    """Twenty games: ten that cost a pick a choice, ten that cost a tenth of that; nothing is said after nineteen."""
    for number in range(20):
        line = game(desk)
        if number == 19:
            assert standing(desk).glance.better.cost is None
        desk.store.save_review(line, 30, (30.0 if number < 10 else 3.0) + number % 2, 4)
    better = standing(desk).glance.better
    assert better.cost == (30.5 / 30, 3.5 / 30)
    assert better_words(better) == [
        "A choice that mattered cost you 1.02 picks in your first ten games, 0.12 in your latest ten."
    ]


def test_the_part_of_the_season_is_said(desk):
    """With what is left of it."""
    ledgers = desk.ledgers()
    ledgers.set_season(date(2026, 3, 1), date(2027, 2, 28))
    glance = standing(desk).glance
    assert glance.part is SeasonPart.GETTING_TO_KNOW
    assert part_words(glance.part, glance.season, START.date()) == "Getting to know the sheet, 12 months to go."
    assert part_words(SeasonPart.WAITING, glance.season, date(2027, 2, 28)).endswith("today is its last day.")
    assert part_words(SeasonPart.BEFORE, glance.season, date(2026, 2, 27)).endswith("it begins in two days.")


def test_home_of_a_whole_season_shows_how_far_one_has_come(tmp_path):
    """A made-up season: hands won of all, days, the part of the season, and a game for a hand still to win."""
    routes = routes_over(make_look(), tmp_path / "store.sqlite")
    store = routes.desk.store
    now = datetime.now(UTC)
    season(store, routes.desk.current_sheet, 20, lambda _: None, now - timedelta(days=20), timedelta(days=1))
    found = standing_of(routes.desk, now.astimezone().date(), deal_left=False, match_left=False)
    assert found.glance.games == 20
    assert 0 < found.glance.won < 20
    store.close()
