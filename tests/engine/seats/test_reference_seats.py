"""The seats that advice is measured against play as they did on the day they were set down."""

import sys
from pathlib import Path

import pytest

from engine.advice.table import SheetTable
from engine.rules.deal import shuffle
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import FULL, House
from engine.rules.observation import observe
from engine.rules.state import CHANCE, Phase
from engine.sheet.reader import read, sheet_of
from engine.tiles import write_tiles

sys.path.append(str(Path(__file__).resolve().parents[2] / "bench"))

from reference_seats.character import Strength
from reference_seats.players import player

SHEET = """
sheet: Three shelves
season: 2026
maker: invented for practice
sections:
  - section: Shelf
    hands:
      - hand: Tall jar
        groups: quint a.n, pung b.n+1, kong c.n+3, pair flower
        points: 20
      - hand: Low jar
        groups: kong a.n, pung a.n+3, quint b.n+1, pair dragon of a
        points: 25
      - hand: Lid
        groups: pung wind east, kong a.x, pair b.y, quint a.y
        where: x < y
        points: 30
"""


@pytest.mark.parametrize(("strength", "ended"), [
    (Strength.SHARP, "wall None (0, 0, 0, 0), 104 discards: wn ws wn 1c ww wn ww dw dw ws 8d fl"),
    (Strength.STEADY, "wall None (0, 0, 0, 0), 104 discards: ww ww wn dg wn ws ww 8d 1c ws 6d fl"),
    (Strength.BEGINNER, "mahjong 0 (120, -60, -30, -30), 83 discards: 1c ww ww 5d 6b ws wn ws wn 9b wn fl"),
])  # fmt: skip
@pytest.mark.slow
def test_a_game_ends_as_it_did(strength, ended):
    """Whoever mends or tunes these seats makes old figures worthless: this game must go on ending so."""
    sheet = sheet_of(read(SHEET, "shelves"))
    choose = player(strength, SheetTable.of(sheet))
    state = start(sheet, House(table=FULL, passes=3, courtesy=True), shuffle(7, 8))
    while state.phase is not Phase.OVER:
        seat = state.to_act
        state = apply(state, legal_actions(state)[0] if seat == CHANCE else choose(observe(state, seat)))
    won = state.outcome
    thrown = write_tiles([one.kind for one in state.discards[:12]])
    assert f"{won.kind} {won.winner} {won.payments}, {len(state.discards)} discards: {thrown}" == ended
