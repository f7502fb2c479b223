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
    made = invent(Wish(1, hands=12), workers=1, told=lambda *what: heard.append(what), deals=128)
    reading = read(made.text)
    assert reading.faults == ()
    assert reading.sheet == made.sheet
    assert len(made.sheet.hands) == 12
    assert made.sheet.maker == "invented for practice"
    assert len(made.themes) == len(made.sheet.sections)
    assert all(f"# {theme}" in made.text for theme in made.themes)
    assert max(made.shares.made) <= 2 / 12 * made.shares.total
    assert min(made.shares.made) >= 1
    assert {hand.points for hand in made.sheet.hands} <= set(range(10, 59, 3))
    assert heard[-1] == (128, 128, 2)
    assert print_of(made.text) == "c4fc39dbe67eee31b7661a3506e9fe938cfc1721c7bc8663ee51b9a99097ab63"
    again = simulate(SheetTable.of(made.sheet), 64, seed=99, workers=1)
    assert (again.hand >= 0).mean() > 0.9


@pytest.mark.slow
def test_the_same_seed_gives_the_same_file_on_two_cores():
    """However the deals are shared out, and whatever the seed of Python's hashes, which differs from run to run."""
    made = invent(Wish(1, hands=12), workers=2, deals=128)
    assert print_of(made.text) == "c4fc39dbe67eee31b7661a3506e9fe938cfc1721c7bc8663ee51b9a99097ab63"


@pytest.mark.slow
def test_the_same_seed_gives_the_same_draft():
    """Pinned, so that it is the same on every machine; of a fresh sheet and of the next season of one."""
    fresh, after = drafted(Wish(4, hands=14)), drafted(Wish(4, like=find("three-workshops")))
    assert print_of(write(fresh)) == "143fdc495d12a912ed0a4f574c7f97f6e35af2580d6b9891ae99a4f901e5cc36"
    assert print_of(write(after)) == "0ca0266c06b38a8bccca0d843e65670e1f02adc7aa538c005648e8075aef7c9a"


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
