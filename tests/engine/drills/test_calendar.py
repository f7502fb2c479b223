"""The season's parts, and what comes next."""

from datetime import date, timedelta

import pytest

from engine.drills.calendar import EXERCISES, Next, SeasonPart, SeasonStanding, part_of, season_from, suggestions

YEAR = season_from(date(2026, 4, 1))


@pytest.mark.parametrize(
    ("day", "phase"),
    [
        (date(2026, 3, 31), SeasonPart.BEFORE),
        (date(2026, 4, 1), SeasonPart.GETTING_TO_KNOW),
        (date(2026, 4, 28), SeasonPart.GETTING_TO_KNOW),
        (date(2026, 4, 29), SeasonPart.PLAYING_IN),
        (date(2026, 8, 24), SeasonPart.PLAYING_IN),
        (date(2026, 8, 25), SeasonPart.KEEPING_FRESH),
        (date(2027, 3, 3), SeasonPart.KEEPING_FRESH),
        (date(2027, 3, 4), SeasonPart.WAITING),
        (date(2027, 3, 31), SeasonPart.WAITING),
        (date(2027, 4, 1), SeasonPart.OVER),
    ],
)
def test_the_parts_of_a_year(day, phase):
    """Four weeks to get to know it, two fifths of the year to play it in, four weeks of waiting at its end."""
    assert part_of(YEAR, day) is phase


def test_a_year_has_365_days():
    """Where no end is set."""
    assert (YEAR.ends - YEAR.begins).days == 364


@pytest.mark.parametrize("days", [4, 7, 10, 30, 90])
def test_a_short_season_has_every_part_in_order(days):
    """In proportion."""
    season = season_from(date(2026, 1, 1), date(2026, 1, 1) + timedelta(days=days - 1))
    seen = [part_of(season, season.begins + timedelta(days=day)) for day in range(days)]
    order = [SeasonPart.GETTING_TO_KNOW, SeasonPart.PLAYING_IN, SeasonPart.KEEPING_FRESH, SeasonPart.WAITING]
    assert sorted(seen, key=order.index) == seen
    assert seen[0] is SeasonPart.GETTING_TO_KNOW
    assert days < 10 or set(seen) == set(order)


def test_an_end_before_the_beginning_is_refused():
    """With what to choose."""
    with pytest.raises(ValueError, match="choose a later end"):
        season_from(date(2026, 4, 1), date(2026, 3, 1))


def test_every_part_has_something_to_do():
    """Two things at least."""
    assert all(len(EXERCISES[phase]) >= 2 for phase in SeasonPart)


def standing(**changes):
    """A player in the middle of the season with nothing left over."""
    given = {"sheet_read": True, "match_left": False, "deal_left": False, "due": 0, "games": 0, "to_win": ()}
    return SeasonStanding(**{**given, **changes})


@pytest.mark.parametrize(
    ("changes", "first"),
    [
        ({}, Next.PLAY),
        ({"sheet_read": False}, Next.READ_SHEET),
        ({"sheet_read": False, "deal_left": True}, Next.DEAL),
        ({"deal_left": True, "match_left": True}, Next.MATCH),
        ({"due": 3}, Next.PRACTISE),
        ({"games": 4, "to_win": ("Moth",)}, Next.PLAY),
        ({"games": 5, "to_win": ("Moth",)}, Next.WIN_HAND),
    ],
)
def test_what_comes_next(changes, first):
    """What was left comes first, then reading, what is due, a hand to win; one can always play."""
    found = suggestions(standing(**changes))
    assert found[0].next is first
    assert found[-1].next is Next.PLAY
    assert len({one.next for one in found}) == len(found)


def test_a_suggestion_names_what_it_is_about():
    """The first hand to win, and how many items are due."""
    found = suggestions(standing(due=7, games=9, to_win=("Moth", "Gale")))
    assert [(one.next, one.hand, one.number) for one in found[:2]] == [
        (Next.PRACTISE, "", 7),
        (Next.WIN_HAND, "Moth", 0),
    ]
