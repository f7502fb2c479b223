"""The end of a deal at the table: mahjong, what was costly, and what comes next."""

import pytest
from at_table import almost_there, deal, place_of
from harness import click, drawn, press
from table_kit import SIZE, play_to_the_end, shown, texts

from engine.rules.actions import Mahjong
from engine.rules.house import House
from engine.rules.state import Phase
from game.play.lines import line_of
from game.scenes.table.scene import TableScene
from game.words.costs import cost_sentence


@pytest.mark.slow
def test_mahjong_is_offered_only_when_it_is_legal(routes):
    """No button and no key before; then the button is the main step, and Enter or M shows the hand."""
    table, spare, hand = almost_there(routes)
    shown(table)
    assert not any(target.says == "Mahjong" for target in table.ui.targets)
    press(table, "m")
    assert table.sitting.entries == []
    table.chosen = place_of(table, spare)
    press(table, "return")
    assert [target.name for target in table.ui.targets if target.main] == ["Mahjong"]
    assert any("your hand is complete." in text for text in texts(table))
    press(table, "m")
    assert table.finished
    assert table.sitting.entries[-1].action == Mahjong()
    said = " ".join(texts(table))
    assert "Mahjong!" in said
    assert f"You made {hand.name}, in {hand.section}, by drawing the last tile, at pick 1." in said
    assert f"The hand counts {hand.points} points" in said


def test_a_complete_hand_may_be_broken_up_all_the_same(routes):
    """Mahjong is an offer: with a tile chosen twice, that tile goes."""
    table, spare, _ = almost_there(routes)
    table.chosen = place_of(table, spare)
    press(shown(table), "return")
    click(table, "tile 0")
    click(table, "tile 0")
    assert not table.finished
    assert len(table.sitting.decisions) == 2


@pytest.mark.slow
def test_jokers_stand_in_the_hand_that_is_shown(routes):
    """The hand made is drawn in its groups: as many jokers as were held, none where it needs real tiles."""
    table, spare, _ = almost_there(routes, jokers=True)
    table.chosen = place_of(table, spare)
    press(shown(table), "return", "m")
    faces = []
    draw = table.look.tiles.draw
    table.look.tiles.draw = lambda surface, face, rect, room: faces.append(face) or draw(surface, face, rect, room)
    try:
        drawn(table, SIZE, 1.0)
    finally:
        table.look.tiles.draw = draw
    shown_hand = faces[len(faces) // 2 :][-28:]
    assert sum(face.joker for face in shown_hand) == 2
    assert not table.sitting.state.outcome.jokerless


@pytest.mark.slow
def test_the_end_lists_the_three_costliest_choices_and_leads_to_them(routes):
    """Dearest first, as reports has them; pressing one goes to its moment, where another choice is a fork."""
    table = play_to_the_end(shown(deal(routes, House(picks=60))))
    assert len(table.ended.costly) > 3
    rows = [target for target in table.ui.targets if target.name.startswith("choice ")]
    assert [target.name for target in rows] == [f"choice {one.index}" for one in table.ended.costly[:3]]
    said = " ".join(texts(table))
    for one in table.ended.costly[:3]:
        assert cost_sentence(table.sitting, one)[:30] in said
    assert "All 60 picks are used and no hand was made." in said
    dearest = table.ended.costly[0]
    click(table, rows[0].name)
    assert table.sitting.cursor == dearest.index
    assert table.looking_back
    first = line_of(table.sitting)
    click(table, f"tile {place_of(table, dearest.best.kind)}")
    click(table, f"tile {place_of(table, dearest.best.kind)}")
    assert line_of(table.sitting) != first
    assert not table.finished


def test_the_end_without_costly_choices_says_so(routes):
    """As few as there are; none is a sentence of its own."""
    table, spare, _ = almost_there(routes)
    table.chosen = place_of(table, spare)
    press(shown(table), "return", "m")
    assert table.ended.costly == ()
    assert "No choice of yours cost anything that the odds can tell." in texts(table)


@pytest.mark.slow
def test_from_the_end_to_another_deal_or_the_same_again(routes):
    """Enter deals anew on the same sheet by the same rules; G goes back to the first choice; Z one step."""
    table = play_to_the_end(shown(deal(routes, House(picks=2))))
    again = press(table, "return")
    assert isinstance(again, TableScene)
    assert again is not table
    assert again.sitting.state.house == House(picks=2)
    assert again.sitting.state.sheet.fingerprint == table.sitting.state.sheet.fingerprint
    press(table, "g")
    assert table.sitting.cursor == 0
    table.latest()
    shown(table)
    press(table, "z")
    assert table.sitting.cursor == table.sitting.decisions[-1]


def test_nothing_can_be_let_go_after_the_end(routes):
    """The rack only shows its tiles: none can be pressed, and keys and presses beside the targets do nothing."""
    table = play_to_the_end(shown(deal(routes, House(picks=1))))
    entries = list(table.sitting.entries)
    drawn(table, (1440, 900), 1.0)
    assert not [one.name for one in table.ui.targets if one.name.startswith("tile ")]
    assert table.press_tile(3) is None
    assert table.press_tile(3) is None
    press(table, "right", "left")
    assert table.sitting.entries == entries
    assert table.sitting.state.phase is Phase.OVER
