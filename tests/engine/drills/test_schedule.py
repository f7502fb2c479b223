"""The schedule: the documented intervals, no debts, new hands at a pace, ready for a date, the same each time."""

import json
import random
import time
from datetime import UTC, date, datetime, timedelta

import pytest
from fsrs import Rating

from engine.drills.grades import FEWEST_TIMES, Answered, Grade, Pace, Skill, pace_of
from engine.drills.schedule import Item, Schedule, Why, rating_of

START = datetime(2026, 4, 1, 19, 0, tzinfo=UTC)


def answered(hand="Moth", skill=Skill.LAY, grade=Grade.RIGHT):
    """An answer of twenty seconds."""
    return Answered(skill, hand, grade, 20.0)


def items(number):
    """So many items of one skill."""
    return [Item(f"Hand {place:02}", Skill.LAY.value) for place in range(number)]


def test_intervals_are_those_of_the_library():
    """Good answers at retention 0.9, no learning steps: 2, 11, 46 and 163 days (fsrs 6.3, its default parameters)."""
    schedule, now, days = Schedule(), START, []
    for _ in range(4):
        schedule = schedule.answered(answered(), Pace.USUAL, now)
        due = schedule.memories[Item("Moth", "lay")].card.due
        days.append((due - now).days)
        now = due
    assert days == [2, 11, 46, 163]


@pytest.mark.parametrize(
    ("grade", "pace", "rating"),
    [
        (Grade.WRONG, Pace.QUICK, Rating.Again),
        (Grade.NEAR, Pace.QUICK, Rating.Hard),
        (Grade.RIGHT, Pace.SLOW, Rating.Hard),
        (Grade.RIGHT, Pace.USUAL, Rating.Good),
        (Grade.RIGHT, Pace.QUICK, Rating.Easy),
    ],
)
def test_a_rating_comes_from_grade_and_pace(grade, pace, rating):
    """The player is never asked."""
    assert rating_of(grade, pace) == rating


def test_the_pace_is_set_against_the_players_own_times():
    """Three quarters of the middle time is quick, over twice of it slow; with too few times all are usual."""
    usual = [10.0, 20.0, 30.0, 20.0, 20.0]
    assert [pace_of(seconds, usual) for seconds in (15.0, 15.1, 40.0, 40.1)] == [
        Pace.QUICK,
        Pace.USUAL,
        Pace.USUAL,
        Pace.SLOW,
    ]
    assert FEWEST_TIMES == 5
    assert pace_of(1.0, usual[:4]) is Pace.USUAL


def test_a_first_session_begins_a_few_hands():
    """Three new ones in the order offered, and each says why it comes up."""
    session = Schedule().session(items(50), START)
    assert [due.item for due in session] == items(50)[:3]
    assert {due.why for due in session} == {Why.NEW}
    schedule = Schedule()
    for due in session:
        schedule = schedule.answered(Answered(Skill.LAY, due.item.hand, Grade.RIGHT, 9.0), Pace.USUAL, START)
    assert schedule.session(items(50), START + timedelta(hours=1)) == ()
    assert len(schedule.session(items(50), START + timedelta(hours=23))) == 3


def test_what_was_missed_comes_first():
    """A wrong answer comes up before one that merely fades."""
    schedule = Schedule()
    for hand, grade in (("A", Grade.RIGHT), ("B", Grade.WRONG)):
        schedule = schedule.answered(answered(hand, grade=grade), Pace.USUAL, START)
    offered = [Item("A", "lay"), Item("B", "lay")]
    session = schedule.session(offered, START + timedelta(days=2, hours=1))
    assert [(due.item.hand, due.why) for due in session] == [("B", Why.MISSED), ("A", Why.FADING)]
    assert 0 < session[0].known < session[1].known < 1


def test_missed_days_lead_to_a_short_session():
    """After a break six items, though forty are due; after a day without a break twelve."""
    schedule = Schedule()
    for item in items(40):
        schedule = schedule.answered(Answered(Skill.LAY, item.hand, Grade.WRONG, 9.0), Pace.USUAL, START)
    assert len(schedule.session(items(40), START + timedelta(days=2))) == 12
    assert len(schedule.session(items(40), START + timedelta(days=90))) == 6


def test_a_date_brings_hands_up_before_it():
    """A hand that would not come up for weeks does in the last days before the club evening."""
    schedule, now = Schedule(), START
    for _ in range(3):
        schedule = schedule.answered(answered(), Pace.USUAL, now)
        now = schedule.memories[Item("Moth", "lay")].card.due
    then = schedule.memories[Item("Moth", "lay")].card.last_review + timedelta(days=30)
    assert schedule.session([Item("Moth", "lay")], then) == ()
    pressed = Schedule(schedule.memories, ready=(then + timedelta(days=6)).date())
    session = pressed.session([Item("Moth", "lay")], then)
    assert [due.why for due in session] == [Why.READY]
    after = pressed.answered(answered(), Pace.USUAL, then)
    assert after.session([Item("Moth", "lay")], then + timedelta(hours=2)) == ()


def test_a_near_date_begins_more_hands_a_day():
    """Fifty hands and two weeks: eight new ones a day; a year: three."""
    near = Schedule(ready=date(2026, 4, 15)).session(items(50), START)
    far = Schedule(ready=date(2027, 4, 1)).session(items(50), START)
    assert (len(near), len(far)) == (8, 3)


def test_a_clock_set_back_does_no_harm():
    """An answer before the last one counts as given with it."""
    schedule = Schedule().answered(answered(), Pace.USUAL, START)
    back = schedule.answered(answered(), Pace.USUAL, START - timedelta(days=3))
    memory = back.memories[Item("Moth", "lay")]
    assert memory.card.last_review == START
    assert 0 < back.known(Item("Moth", "lay"), START - timedelta(days=3)) <= 1


def test_a_schedule_is_kept_and_read_again():
    """To plain values and back; a card that can't be read is counted, and the others stay."""
    schedule = Schedule(ready=date(2026, 9, 1))
    for hand in "AB":
        schedule = schedule.answered(answered(hand), Pace.USUAL, START)
    kept = json.loads(json.dumps(schedule.to_json()))
    assert Schedule.from_json(kept) == (schedule, 0)
    kept["cards"][0][2]["card"] = "{}"
    assert [item.hand for item in Schedule.from_json(kept)[0].memories] == ["B"]
    assert Schedule.from_json(kept)[1] == 1


@pytest.mark.parametrize("rubbish", [None, 3, [], {"cards": 3}, {"cards": "ab"}, {"cards": [3, [1, 2]], "ready": "x"}])
def test_rubbish_is_an_empty_schedule(rubbish):
    """Nothing that the store may hold ends the game."""
    assert Schedule.from_json(rubbish)[0] == Schedule()


@pytest.mark.slow
def test_a_year_of_daily_practice_heaps_up_nothing():
    """Fifty hands in two skills, a day in five missed, one answer in eight wrong: never more than a session's worth is
    due for long, and in the second half of the year a session is short. The same seed gives the same year."""
    offered = [Item(f"Hand {place:02}", skill) for place in range(50) for skill in ("lay", "recall")]

    def year(seed):
        chance, schedule, sizes = random.Random(seed), Schedule(), []
        for day in range(365):
            if chance.random() < 0.2:
                continue
            now = START + timedelta(days=day, minutes=chance.random() * 120)
            session = schedule.session(offered, now)
            sizes.append(len(session))
            for due in session:
                grade = Grade.WRONG if chance.random() < 0.125 else Grade.RIGHT
                answer = Answered(Skill(due.item.skill), due.item.hand, grade, 12.0)
                schedule = schedule.answered(answer, Pace.USUAL, now)
        end = START + timedelta(days=365)
        return sizes, schedule, sum(memory.card.due < end for memory in schedule.memories.values())

    sizes, schedule, overdue = year(7)
    assert len(schedule.memories) == 100
    assert max(sizes) <= 12
    assert overdue <= 12
    assert sum(sizes[-100:]) / 100 <= 6
    assert year(7)[0] == sizes


@pytest.mark.skipif(not hasattr(time, "tzset"), reason="the time zone of a running program can't be set here")
@pytest.mark.parametrize(("zone", "new"), [("America/Los_Angeles", 3), ("UTC", 5), ("Pacific/Kiritimati", 5)])
def test_the_day_to_be_ready_for_is_one_of_the_players_own_calendar(monkeypatch, zone, new):
    """An evening in California is the next day in UTC: one day more is left there, so fewer hands are begun."""
    monkeypatch.setenv("TZ", zone)
    time.tzset()
    try:
        now = datetime(2026, 3, 9, 3, tzinfo=UTC)
        schedule = Schedule(ready=date(2026, 3, 18))
        assert len(schedule.session(items(9), now)) == new
    finally:
        monkeypatch.undo()
        time.tzset()
