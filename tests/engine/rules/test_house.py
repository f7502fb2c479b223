"""House rules: seats are named once, and a setting out of range says what to choose."""

import pytest

from engine.rules.house import FULL, QUIET, SEATS, House, seat_name


def test_seats_are_in_turn_order():
    """East, South, West, North, as play runs to the right; each name leads back to its seat."""
    assert [seat_name(seat) for seat in range(4)] == ["east", "south", "west", "north"]
    assert [SEATS.index(seat_name(seat)) for seat in range(4)] == [0, 1, 2, 3]


@pytest.mark.parametrize(
    "setting",
    [
        {"jokers": -1}, {"jokers": 11}, {"picks": -1}, {"picks": 100}, {"seat": 4}, {"seat": -1}, {"passes": 7},
        {"table": "round"}, {"jokers": "8"}, {"jokers": True}, {"courtesy": 1}, {"blind": None}, {"slips": "no"},
        {"picks": 1.5},
    ],
)  # fmt: skip
def test_a_setting_out_of_range_says_what_to_choose(setting):
    """ValueError names the setting and the choices."""
    (name,) = setting
    with pytest.raises(ValueError, match=rf"^{name} is .*; choose "):
        House(**setting)


def test_every_setting_in_range_is_taken():
    """The ends of each range are inside."""
    for table in (QUIET, FULL):
        for jokers, picks, seat, passes in ((0, 0, 0, 0), (10, 99, 3, 6)):
            House(table, jokers, picks, seat, passes, True, False, True)
