"""A sitting: what needs no choice runs on, stepping back and choosing otherwise forks, nothing recorded changes."""

from dataclasses import dataclass, field

import pytest

from engine.rules.actions import Discard, Draw, IllegalActionError, Mahjong
from engine.rules.deal import DealCode
from engine.rules.game import apply
from engine.rules.house import House
from engine.rules.state import CHANCE, Phase
from engine.sheet.shelf import find
from game.play.sitting import Entry, Sitting


@dataclass
class Notebook:
    """A keeper that writes lines down in memory."""

    lines: list = field(default_factory=lambda: [[]])
    line: int = 0
    ends: list = field(default_factory=list)

    def append(self, seat, action, after):
        self.lines[self.line].append(Entry(seat, action))
        if after.outcome is not None:
            self.ends.append((self.line, after.outcome.kind))

    def fork(self, at):
        self.lines.append(self.lines[self.line][:at])
        return Notebook(self.lines, len(self.lines) - 1, self.ends)


@pytest.fixture(scope="module")
def sheet():
    return find("first-steps")


def dealt(sheet, seed=7, **rules):
    """A dealt quiet table."""
    return DealCode.of(sheet, House(**rules), seed).deal(sheet)


def let_first_go(sitting):
    """Let the first legal tile go."""
    return sitting.act(next(action for action in sitting.legal() if isinstance(action, Discard)))


def test_east_starts_with_a_choice_and_draws_come_by_themselves(sheet):
    """East discards first; then the wall's tile is drawn without being asked for."""
    sitting = Sitting(dealt(sheet))
    assert sitting.entries == []
    happened = let_first_go(sitting)
    assert [type(entry.action) for entry in happened] == [Discard, Draw]
    assert [entry.seat for entry in happened] == [0, CHANCE]
    assert sitting.state.phase is Phase.TURN


def test_another_seat_draws_before_its_first_choice(sheet):
    """A player who is South starts with thirteen tiles and a draw."""
    sitting = Sitting(dealt(sheet, seat=1))
    assert [type(entry.action) for entry in sitting.entries] == [Draw]
    assert len(sitting.observation.rack) == 14


def test_the_limit_of_picks_ends_the_game_and_is_told_to_the_keeper(sheet):
    """Three picks allowed: four tiles go, then the game is over and kept as such."""
    book = Notebook()
    sitting = Sitting(dealt(sheet, picks=3), keeper=book)
    while not sitting.over:
        let_first_go(sitting)
    assert len(sitting.decisions) == 4
    assert book.ends == [(0, "picks")]
    assert book.lines[0] == sitting.entries
    assert sitting.legal() == ()


def test_stepping_back_and_choosing_otherwise_forks(sheet):
    """The old line stays whole; the new one shares its beginning."""
    book = Notebook()
    sitting = Sitting(dealt(sheet), keeper=book)
    for _ in range(3):
        let_first_go(sitting)
    whole = list(sitting.entries)
    assert sitting.back()
    assert sitting.back()
    at = sitting.cursor
    played = whole[at].action
    other = next(action for action in sitting.legal() if isinstance(action, Discard) and action != played)
    sitting.act(other)
    assert book.lines[0] == whole
    assert book.lines[1] == sitting.entries
    assert sitting.entries[:at] == whole[:at]
    assert sitting.entries[at] == Entry(0, other)
    assert sitting.entries[at + 1] == whole[at + 1], "the wall is the same on every fork"


def test_choosing_the_same_again_only_steps_forward(sheet):
    """No fork is made for a choice that repeats the record."""
    book = Notebook()
    sitting = Sitting(dealt(sheet), keeper=book)
    for _ in range(3):
        let_first_go(sitting)
    sitting.go_to(sitting.decisions[0])
    sitting.act(sitting.entries[0].action)
    assert sitting.cursor == sitting.decisions[1]
    assert len(book.lines) == 1


def test_back_and_forward_stop_at_the_ends(sheet):
    """Before the first choice there is nothing; forward comes to the end and stays there."""
    sitting = Sitting(dealt(sheet))
    assert not sitting.back()
    let_first_go(sitting)
    let_first_go(sitting)
    assert sitting.back()
    assert sitting.back()
    assert not sitting.back()
    assert sitting.forward()
    assert sitting.forward()
    assert sitting.at_end
    assert not sitting.forward()
    with pytest.raises(IndexError, match="choose 0 to"):
        sitting.go_to(99)


def test_a_wrong_choice_changes_nothing(sheet):
    """A tile that is not held, or a mahjong that is none, is refused and nothing is kept."""
    book = Notebook()
    sitting = Sitting(dealt(sheet), keeper=book)
    missing = next(kind for kind in range(36) if kind not in sitting.observation.rack)
    for action in (Discard(missing), Mahjong()):
        with pytest.raises(IllegalActionError):
            sitting.act(action)
    assert book.lines == [[]]
    assert sitting.cursor == 0


def test_entries_replay_to_the_same_states(sheet):
    """A sitting made from another's entries stands where that one stands, and runs on if a draw was due."""
    start = dealt(sheet)
    sitting = Sitting(start)
    for _ in range(5):
        let_first_go(sitting)
    assert Sitting(start, entries=sitting.entries).states == sitting.states
    cut_short = Sitting(start, entries=sitting.entries[:-1])
    assert cut_short.states == sitting.states, "the draw that was due is made again, from the same wall"
    assert apply(sitting.states[-2], sitting.entries[-1].action) == sitting.state
