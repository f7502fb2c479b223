"""Points rise with rarity, on one ladder."""

import pytest

from engine.invent.points import points


@pytest.mark.parametrize(
    ("made", "concealed", "worth"),
    [
        (500, False, 10),  # one in twenty of a sheet of 60 hands: three times the average
        (900, False, 10),
        (376, False, 10),  # just above three quarters of that
        (374, False, 13),
        (282, False, 13),
        (281, False, 16),
        (374, True, 22),  # three steps more
        (1, False, 58),  # 0.01%: the ladder ends
        (0, True, 58),
    ],
)
def test_the_ladder(made, concealed, worth):
    """Worked by hand for 10,000 hands made on a sheet of 60: 5%, 3.75%, 2.8125% and so on are the limits."""
    assert points(made, 10_000, 60, concealed) == worth


def test_no_play_no_points():
    """Without a hand made nothing can be said."""
    with pytest.raises(ValueError, match="no hand was made"):
        points(0, 0, 60, False)
