"""A whole sheet invented and balanced, with fewer deals than in earnest."""

from hashlib import sha256

import pytest

from engine.advice.moment import StoppedError
from engine.advice.simulation.simulate import simulate
from engine.advice.table import SheetTable
from engine.invent.making import Wish, drafted, invent
from engine.sheet.reader import read
from engine.sheet.shelf import find
from engine.sheet.writer import write


def print_of(text):
    """The SHA-256 of a file's text."""
    return sha256(text.encode()).hexdigest()


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
    assert print_of(made.text) == "fbc8c88f4d99e47caff0d7f379681d1cef80449b62dbbefbb1ad73211a2afe10"
    again = simulate(SheetTable.of(made.sheet), 200, seed=99, workers=1)
    assert (again.hand >= 0).mean() > 0.9


@pytest.mark.slow
def test_the_same_seed_gives_the_same_file_on_two_cores():
    """However the deals are shared out, and whatever the seed of Python's hashes, which differs from run to run."""
    made = invent(Wish(4, hands=14), workers=2, look=300, deals=400)
    assert print_of(made.text) == "fbc8c88f4d99e47caff0d7f379681d1cef80449b62dbbefbb1ad73211a2afe10"


@pytest.mark.slow
def test_the_same_seed_gives_the_same_draft():
    """Pinned, so that it is the same on every machine; of a fresh sheet and of the next season of one."""
    fresh, after = drafted(Wish(4, hands=14)), drafted(Wish(4, like=find("three-workshops")))
    assert print_of(write(fresh)) == "0b78988113286a1f8b89a79a2ef4137391a9b28e31755b9676d17b85c6d551a8"
    assert print_of(write(after)) == "7410196fa2d6389cb304e7e9dded537fdd06f1060d106e8f063c84993e4bb86c"


def test_drafting_breathes_and_can_be_stopped():
    """The one who waits is heard before every throw."""
    breaths = []
    with pytest.raises(StoppedError):
        invent(Wish(4, hands=12), stopped=lambda: len(breaths) > 20, breathe=lambda: breaths.append(1))
    assert len(breaths) == 21


def test_stopping_makes_nothing():
    """Once asked to stop, it says so instead of giving half a sheet."""
    with pytest.raises(StoppedError):
        invent(Wish(4, hands=12), workers=1, stopped=lambda: True)


@pytest.mark.parametrize("season", ["27", "year", "20271"])
def test_seasons_of_four_digits(season):
    """Any other is refused."""
    with pytest.raises(ValueError, match="four digits"):
        invent(Wish(1, season=season))
