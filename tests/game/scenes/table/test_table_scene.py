"""The quiet table in the window: choosing, letting go, ordering the rack, stepping back, forks, notes."""

import pygame
import pytest
from at_table import deal, place_of
from harness import click, drawn, key, press, write
from table_kit import SIZE, kept, shown, texts

from engine.rules.actions import Discard
from engine.tiles import name
from game.play.lines import line_of
from game.play.rack_order import AS_DRAWN, BY_HAND, BY_SUIT
from game.scenes.home.scene import HomeScene
from game.scenes.sheet.scene import SheetScene
from game.scenes.table.moment import CHOOSE_FIRST
from game.scenes.table.popups import DiscardsPopup, MorePopup, NotePopup, WhyPopup
from game.scenes.table.scene import TableScene
from game.ui.popups import KeyHelp

# Choosing and letting go.


def test_arrows_choose_and_enter_lets_go(table):
    """The first arrow starts at an end of the rack, Enter lets the chosen tile go, and it is kept at once."""
    rack = table.rack
    press(table, "right")
    assert table.chosen == 0
    press(table, "right", "right")
    assert table.chosen == 2
    assert table.ui.focus == "tile 2", "what a screen reader or a space bar acts on"
    press(table, "left", "return")
    assert table.sitting.entries[0].action == Discard(rack[1])
    assert kept(table)[0] == (0, Discard(rack[1]))
    assert table.chosen is None
    assert len(table.sitting.decisions) == 1


def test_arrows_go_around_and_go_on_at_the_tile_just_drawn(table):
    """Left of the first tile is the last one; after a tile has gone the arrows start at the one that came for it."""
    press(table, "left")
    assert table.chosen == len(table.rack) - 1
    press(table, "right")
    assert table.chosen == 0
    press(table, "right", "right", "right", "return", "right")
    assert table.rack[table.chosen] == table.sitting.state.drawn


def test_a_first_press_chooses_and_a_second_one_lets_go(table):
    """By the mouse; a press on another tile only chooses that one."""
    rack = table.rack
    click(table, "tile 4")
    assert (table.chosen, table.sitting.entries) == (4, [])
    click(table, "tile 6")
    assert (table.chosen, table.sitting.entries) == (6, [])
    click(table, "tile 6")
    assert table.sitting.entries[0].action == Discard(rack[6])
    assert table.chosen is None


def test_the_button_lets_the_chosen_tile_go(table):
    """It names the tile, and says what to do first when none is chosen."""
    click(table, "Let a tile go")
    assert table.sitting.entries == []
    assert table.trouble == CHOOSE_FIRST
    assert CHOOSE_FIRST in " ".join(texts(table))
    rack = table.rack
    click(table, "tile 2")
    click(table, f"Let go the {name(rack[2])}")
    assert table.sitting.entries[0].action == Discard(rack[2])


def test_enter_held_down_lets_one_tile_go_only(table):
    """After a tile has gone nothing is chosen, so that Enter once more asks to choose."""
    press(table, "right", "return", "return", "return")
    assert len(table.sitting.decisions) == 1
    assert table.trouble == CHOOSE_FIRST


def test_tab_and_space_work_as_well(table):
    """Tab reaches every tile; Space presses it."""
    rack = table.rack
    for _ in range(60):
        if table.ui.focus == "tile 5":
            break
        press(table, "tab")
    assert table.ui.focus == "tile 5"
    press(table, "space")
    assert table.sitting.entries[0].action == Discard(rack[5])


def test_the_drawn_tile_is_told(table):
    """By its name beside the buttons."""
    press(table, "right", "return")
    assert f"You drew the {name(table.sitting.state.drawn)}. Let one tile go." in texts(table)
    assert "98 left in the wall" in texts(table)


# The rack's order.


def drag(table, start, to):
    """Pull one tile over another with the mouse."""
    at = {target.name: target.rect.center for target in table.ui.targets}
    begin, end = at[f"tile {start}"], at[f"tile {to}"]
    table.handle(pygame.event.Event(pygame.MOUSEBUTTONDOWN, pos=begin, button=1))
    for step in range(1, 9):
        spot = (begin[0] + (end[0] - begin[0]) * step // 8, begin[1])
        table.handle(pygame.event.Event(pygame.MOUSEMOTION, pos=spot, rel=(9, 0), buttons=(1, 0, 0)))
        drawn(table, SIZE, 1.0)
    table.handle(pygame.event.Event(pygame.MOUSEBUTTONUP, pos=end, button=1))
    return shown(table)


@pytest.mark.slow
def test_dragging_a_tile_reorders_and_lets_nothing_go(table, routes):
    """The tile lies where it was put down; the order is the player's own from then on, and kept."""
    before = list(table.rack)
    drag(table, 0, 5)
    tile = before.pop(0)
    before.insert(5, tile)
    assert list(table.rack) == before
    assert routes.desk.settings.rack_order == BY_HAND
    assert table.sitting.entries == []
    assert table.chosen == 5
    drag(table, 5, 0)
    before.insert(0, before.pop(5))
    assert list(table.rack) == before


def test_a_short_pull_is_a_press(table, routes):
    """A hand that trembles still chooses."""
    at = next(target.rect.center for target in table.ui.targets if target.name == "tile 3")
    table.handle(pygame.event.Event(pygame.MOUSEBUTTONDOWN, pos=at, button=1))
    moved = (at[0] + 4, at[1] + 2)
    table.handle(pygame.event.Event(pygame.MOUSEMOTION, pos=moved, rel=(4, 2), buttons=(1, 0, 0)))
    table.handle(pygame.event.Event(pygame.MOUSEBUTTONUP, pos=moved, button=1))
    assert table.chosen == 3
    assert routes.desk.settings.rack_order == BY_SUIT


def test_keys_move_the_chosen_tile(table, routes):
    """Comma to the left, full stop to the right, no further than the ends."""
    before = list(table.rack)
    press(table, "right", "right", ".")
    before[1], before[2] = before[2], before[1]
    assert list(table.rack) == before
    assert table.chosen == 2
    press(table, ",", ",", ",", ",")
    before.insert(0, before.pop(2))
    assert list(table.rack) == before
    assert routes.desk.settings.rack_order == BY_HAND


def test_the_order_of_the_rack_goes_round(table, routes):
    """By suit, as drawn, by hand; the same tiles in each."""
    orders = []
    for _ in range(3):
        orders.append(routes.desk.settings.rack_order)
        assert sorted(table.rack) == sorted(table.sitting.observation.rack)
        press(table, "o")
    assert orders == [BY_SUIT, AS_DRAWN, BY_HAND]
    assert routes.desk.settings.rack_order == BY_SUIT


# Stepping back.


@pytest.mark.slow
def test_stepping_back_and_forward(table):
    """Each choice in turn, with the advice of its moment and what was chosen then; ends are told."""
    racks = [table.rack]
    for _ in range(3):
        press(table, "right", "return")
        racks.append(table.rack)
    gone = [table.sitting.entries[index].action.kind for index in table.sitting.decisions]
    for place in (2, 1, 0):
        press(table, "z")
        assert table.rack == racks[place]
        assert table.looking_back
        said = texts(table)
        assert "Looking back" in said
        assert any(f"let the {name(gone[place])} go" in text for text in said)
        assert "Within reach" in said, "looking back shows the advice of the moment"
    press(table, "z")
    assert table.sitting.cursor == 0
    for place in (1, 2, 3):
        press(table, "y")
        assert table.rack == racks[place]
    assert not table.looking_back
    press(table, "home")
    assert table.rack == racks[0]
    press(table, "end")
    assert table.rack == racks[3]


def test_enter_goes_forward_when_looking_back(table):
    """The obvious next step there; with a tile chosen it is letting that one go."""
    press(table, "right", "return", "z")
    assert [target.name for target in table.ui.targets if target.main] == ["Forward"]
    press(table, "return")
    assert not table.looking_back
    press(table, "z", "right")
    assert [target.name for target in table.ui.targets if target.main] == [
        f"Let go the {name(table.rack[table.chosen])}"
    ]


def test_choosing_otherwise_starts_a_fork(table, routes):
    """The line as it was played stands; the new one shares what came before."""
    press(table, "right", "return", "right", "return")
    first, played = line_of(table.sitting), kept(table)
    press(table, "z", "z")
    click(table, "tile 7")
    other = table.rack[7]
    click(table, "tile 7")
    assert line_of(table.sitting) != first
    assert kept(table)[0] == (0, Discard(other))
    assert list(routes.desk.store.record(first).entries) == played
    assert routes.desk.store.line(line_of(table.sitting)).parent == first
    assert routes.desk.unfinished.id == line_of(table.sitting)


def test_the_same_choice_again_only_steps_forward(table):
    """No fork for a choice that repeats the record."""
    press(table, "right", "return")
    line, gone = line_of(table.sitting), table.sitting.entries[0].action.kind
    press(table, "z")
    place = place_of(table, gone)
    click(table, f"tile {place}")
    click(table, f"tile {place}")
    assert line_of(table.sitting) == line
    assert not table.looking_back


# Notes, discards, and everything else.


def test_a_note_is_kept_with_its_moment(table, routes):
    """Typed, kept by Enter, listed the next time, cut off nowhere; an empty one is refused."""
    press(table, "right", "return")
    popup = press(table, "n")
    assert isinstance(popup, NotePopup)
    write(popup, "Keep the flowers next time")
    assert press(popup, "return") is table
    (note,) = routes.desk.store.notes(line_of(table.sitting))
    assert (note.text, note.moment) == ("Keep the flowers next time", table.sitting.cursor)
    popup = shown(press(table, "n"))
    assert "Keep the flowers next time" in texts(popup)
    assert press(popup, "return") is popup
    assert popup.trouble
    assert press(popup, "escape") is table


def test_a_note_is_changed_or_taken_away(table, routes):
    """Its words come back into the field; kept with other words it is changed, kept with none it goes."""
    press(table, "right", "return")
    line = line_of(table.sitting)
    routes.desk.store.note(line, "Keep", table.sitting.cursor)
    (note,) = routes.desk.store.notes(line)
    popup = shown(press(table, "n"))
    click(popup, f"change note {note.id}")
    write(popup, " the flowers")
    assert press(popup, "return") is table
    assert [one.text for one in routes.desk.store.notes(line)] == ["Keep the flowers"]
    popup = shown(press(table, "n"))
    click(popup, f"change note {note.id}")
    assert press(popup, "ctrl+a", "backspace", "return") is table
    assert routes.desk.store.notes(line) == ()


def test_letters_typed_into_a_note_are_no_commands(table):
    """Z, D and Enter's neighbours belong to the text while the field has the focus."""
    press(table, "right", "return")
    popup = press(table, "n")
    for letter in "zdea":
        assert popup.handle(key(letter)) is popup
        write(popup, letter)
    assert popup.text == "zdea"


def test_discards_are_listed_in_order(table):
    """Opened by key or button; the latest stands last."""
    rack = [table.rack[0]]
    press(table, "right", "return")
    rack.append(table.rack[0])
    press(table, "right", "left", "left", "right", "return")
    popup = press(table, "d")
    assert isinstance(popup, DiscardsPopup)
    assert "Two tiles let go, the latest last." in texts(popup)
    assert press(popup, "escape") is table
    assert isinstance(click(table, "discards"), DiscardsPopup)


@pytest.mark.slow
def test_more_does_what_it_says_and_comes_back(table):
    """Every entry leads to its popup or does its work and shows the table again."""
    press(table, "right", "return", "z")
    for says, kind in (
        ("Why?", WhyPopup), ("Read the sheet", SheetScene), ("All discards", DiscardsPopup), ("Notes", NotePopup),
        ("Step forward", TableScene), ("Step back", TableScene), ("Latest moment", TableScene),
        ("First choice of the deal", TableScene), ("Back to the table", TableScene),
    ):  # fmt: skip
        more = shown(press(table, "e"))
        assert isinstance(more, MorePopup)
        assert isinstance(click(more, says), kind), says
        shown(table)


@pytest.mark.slow
def test_home_the_sheet_and_the_list_of_keys(table):
    """Esc is home, H the sheet, F1 lists keys with what they do; from each there is a way back."""
    assert isinstance(press(table, "escape"), HomeScene)
    sheet = press(table, "h")
    assert isinstance(sheet, SheetScene)
    assert press(sheet, "escape") is table
    keys = shown(KeyHelp(table))
    said = texts(keys)
    assert "say why" in said or "Why?" in said
    assert press(keys, "escape") is table


def test_keys_can_be_given_otherwise(routes):
    """A key from the settings works at the table and its old one doesn't."""
    routes.desk.save_settings(routes.desk.settings.with_key("why", "k"))
    table = shown(deal(routes))
    assert press(table, "w") is table
    assert isinstance(press(table, "k"), WhyPopup)
