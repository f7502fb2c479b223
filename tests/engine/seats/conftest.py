"""What the tests of the players share: the full sheet with its table, and whole games of given players."""

from dataclasses import dataclass

import pytest

from engine.advice.table import SheetTable
from engine.rules.deal import shuffle
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import FULL, House
from engine.rules.observation import observe
from engine.rules.state import CHANCE, Phase
from engine.sheet.model import Sheet
from engine.sheet.shelf import find

HOUSE = House(table=FULL, passes=6, courtesy=True)


@dataclass(frozen=True)
class Salon:
    """A sheet, its table, and games."""

    sheet: Sheet
    table: SheetTable

    def with_sheet(self, sheet, jokers):
        """The same for another sheet and number of jokers."""
        return Salon(sheet, SheetTable.of(sheet, jokers))

    def game(self, choose, seed, house=HOUSE):
        """Every (state, action) of a whole game in which `choose` answers for all seats, and the last state."""
        state = start(self.sheet, house, shuffle(seed, house.jokers))
        steps = []
        while state.phase is not Phase.OVER:
            chance = state.to_act == CHANCE
            action = legal_actions(state)[0] if chance else choose(observe(state, state.to_act))
            steps.append((state, action))
            state = apply(state, action)
        return steps, state


@pytest.fixture(scope="session")
def salon():
    """The full sheet."""
    sheet = find("lantern-street")
    return Salon(sheet, SheetTable.of(sheet))
