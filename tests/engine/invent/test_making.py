"""A whole sheet invented and balanced, with fewer deals than in earnest."""

import pytest

from engine.advice.moment import StoppedError
from engine.advice.simulation.simulate import simulate
from engine.advice.table import SheetTable
from engine.invent.making import Wish, invent
from engine.sheet.reader import read


@pytest.mark.slow
def test_a_sheet_is_invented_and_balanced():
    """It reads without a fault, is priced from rarity, and says what each section is about."""
    heard = []
    made = invent(Wish(4, hands=14), workers=1, told=lambda *what: heard.append(what), look=300, deals=400)
    reading = read(made.text)
    assert reading.faults == ()
    assert reading.sheet == made.sheet
    assert len(made.sheet.hands) == 14
    assert made.sheet.maker == "invented for practice"
    assert len(made.themes) == len(made.sheet.sections)
    assert all(f"# {theme}" in made.text for theme in made.themes)
    assert max(made.shares.made) <= 2.6 / 14 * made.shares.total
    assert min(made.shares.made) >= 1
    assert {hand.points for hand in made.sheet.hands} <= set(range(10, 59, 3))
    assert heard[-1][:2] == (400, 400)
    again = simulate(SheetTable.of(made.sheet), 200, seed=99, workers=1)
    assert (again.hand >= 0).mean() > 0.9


def test_stopping_makes_nothing():
    """Once asked to stop, it says so instead of giving half a sheet."""
    with pytest.raises(StoppedError):
        invent(Wish(4, hands=12), workers=1, stopped=lambda: True)


@pytest.mark.parametrize("season", ["27", "year", "20271"])
def test_seasons_of_four_digits(season):
    """Any other is refused."""
    with pytest.raises(ValueError, match="four digits"):
        invent(Wish(1, season=season))
