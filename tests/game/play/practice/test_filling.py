"""The ledger's figures come in from the background, one game after another, and go on where they were broken off."""

import pytest
from at_table import AtOnce

from engine.drills.ledger import HandFigures
from engine.rules.actions import Discard
from engine.rules.deal import DealCode
from engine.rules.house import House
from engine.sheet.shelf import find
from engine.store.store import Store
from game.play.lines import begin
from game.play.practice.filling import LedgerFilling
from game.play.practice.ledgers import Ledgers


class Waits:
    """A worker whose job is done when a test says so."""

    def submit(self, fn, done):
        self.fn, self.done, self.stopped = fn, done, False
        return self

    def finish(self):
        """The job's answer comes."""
        self.done(self.fn(self))


@pytest.fixture
def ledgers(tmp_path):
    """A ledger with two games of one pick to look through, quickly."""
    sheet = find("first-steps")
    with Store(tmp_path / "store.sqlite") as store:
        for seed in (1, 2):
            sitting = begin(store, sheet, DealCode.of(sheet, House(picks=1), seed))
            while not sitting.over:
                sitting.act(next(action for action in sitting.legal() if isinstance(action, Discard)))
        made = Ledgers(store, sheet)
        made.figures = lambda _: HandFigures(None, None, {}, {})
        yield made


def test_every_game_is_looked_through(ledgers):
    """After each the ledger is told; at the end nothing waits and nothing is done."""
    told, worker = [], Waits()
    filling = LedgerFilling(ledgers, worker, lambda: told.append(len(ledgers.stored())))
    filling.begin()
    assert (filling.working, len(filling.waiting)) == (True, 1)
    filling.begin()
    assert len(filling.waiting) == 1, "what is under way is not begun anew"
    worker.finish()
    worker.finish()
    assert (filling.working, told, ledgers.waiting()) == (False, [1, 2], [])


def test_what_was_broken_off_is_begun_again(ledgers):
    """Another job took the worker: the next time both games still wait."""
    worker = Waits()
    filling = LedgerFilling(ledgers, worker, lambda: None)
    filling.begin()
    worker.stopped = True
    assert not filling.working
    filling.begin()
    assert (filling.working, len(filling.waiting)) == (True, 1)


def test_a_worker_that_answers_at_once(ledgers):
    """It leaves nothing behind."""
    filling = LedgerFilling(ledgers, AtOnce(), lambda: None)
    filling.begin()
    assert (filling.working, ledgers.waiting()) == (False, [])
