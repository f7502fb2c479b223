"""One whole game at the full table as readable text, pinned: passes, calls, exposures, exchanges and a mahjong.

The text was reviewed by reading it. When a rule changes on purpose, write it anew, and read it again.
"""

from pathlib import Path

import pytest

from engine.rules.actions import Call, Discard, Exchange, LetGo, Mahjong
from engine.rules.game import apply, legal_actions, start
from engine.rules.house import FULL, SEATS, House
from engine.rules.matching import match
from engine.rules.record import from_text, play_back, to_text
from engine.rules.state import CHANCE, Phase, tiles_in
from engine.tiles import counts_of, full_set, write_tiles
from game.words.actions import say_action, say_seat
from game.words.situation import outcome_sentences

DATA = Path(__file__).parents[3] / "data"
HOUSE = House(table=FULL, passes=6, courtesy=True)


def narrated(steps, last):
    """Sentences, with the rack that each choice was made from, exposures, and how many choices were legal."""
    lines = []
    for state, action in steps:
        seat = state.to_act
        if seat == CHANCE:
            lines += ["", say_action(action, state.turn)]
            continue
        tile = state.discards[-1].kind if state.phase is Phase.CALLING else None
        laid = "; ".join(map(str, state.exposures[seat]))
        number = len(legal_actions(state))
        held = f"{write_tiles(sorted(state.racks[seat]))}{f' | {laid}' if laid else ''}"
        lines.append(f"{SEATS[seat]:5} holds {held} ({number} choice{'s' * (number != 1)})")
        lines.append(say_action(action, seat, tile))
    lines += ["", " ".join(outcome_sentences(last))]
    lines += [f"{say_seat(seat)}: {points:+d} points." for seat, points in enumerate(last.outcome.payments)]
    return "\n".join(lines) + "\n"


def test_the_golden_game_is_played_as_recorded(kit):
    """The record replays to the end, and its narration is word for word the pinned one."""
    text = (DATA / "full_table_game.record").read_text(encoding="utf-8")
    reading = from_text(text)
    assert reading.error is None
    played = play_back(reading.record, kit.sheet)
    assert played.error is None
    assert to_text(reading.record) == text
    actions = [action for _, action in reading.record.entries]
    steps = list(zip(played.states, actions, strict=False))
    assert narrated(steps, played.states[-1]) == (DATA / "full_table_game.txt").read_text(encoding="utf-8")


def test_the_golden_game_has_what_it_is_to_show(kit):
    """Both rounds of passes, calls made and let go, a joker exchange, and a mahjong by exchange or draw or call."""
    record = from_text((DATA / "full_table_game.record").read_text(encoding="utf-8")).record
    kinds = {type(action) for _, action in record.entries}
    assert kinds >= {Call, LetGo, Exchange, Mahjong, Discard}
    state = start(kit.sheet, record.header.house, record.header.wall)
    for _, action in record.entries:
        assert tiles_in(state) == full_set()
        assert action in legal_actions(state)
        state = apply(state, action)
    assert (state.phase, state.outcome.kind, state.passes_done) == (Phase.OVER, "mahjong", 6)


@pytest.mark.parametrize("name", ["twist_game", "two_hands_game"])
def test_other_golden_games_replay_to_their_end(kit, name):
    """A game with a twist, won by a hand that only the twist allows, and a two-hand game that is won."""
    text = (DATA / f"{name}.record").read_text(encoding="utf-8")
    reading = from_text(text)
    assert reading.error is None
    assert to_text(reading.record) == text
    played = play_back(reading.record, kit.sheet)
    assert played.error is None
    last = played.states[-1]
    assert last.outcome.kind == "mahjong"
    said = " ".join(outcome_sentences(last))
    if name == "twist_game":
        assert "Without the twist, Mirror, these tiles would have been no hand." in said
        assert match(kit.sheet, counts_of(last.outcome.tiles), last.exposures[last.outcome.winner]) is None
    else:
        assert said.startswith("You made both hands, ")
        assert [match(kit.sheet, counts_of(last.racks[rack])) is not None for rack in (0, 1)] == [True, True]
