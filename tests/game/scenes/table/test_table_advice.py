"""Advice at the table: hidden, asked for or always there, the reason for a tile, and what lights up."""

import pygame
import pytest
from at_table import deal, place_of
from harness import click, press
from table_kit import play_to_the_end, set_advice, shown, texts

from engine.rules.house import House
from engine.tiles import name
from game.play.lines import line_of
from game.play.settings import ALWAYS, HIDDEN, HINTED
from game.scenes.table.popups import WhyPopup


def costs(scene):
    """What is written under the rack: costs of letting go, and the tile that is best let go."""
    return [text for text in texts(scene) if text in ("let go", "0") or text[:1] in "+<"]


@pytest.mark.slow
def test_hinted_advice_comes_when_asked_and_goes_again(table, routes):
    """At first neither hands nor costs; the key or the button shows them, and hides them."""
    assert routes.desk.settings.advice == HINTED
    assert costs(table) == []
    assert "Advice is there when you ask" in texts(table)
    press(table, "a")
    assert len(costs(table)) == 14
    assert costs(table).count("let go") == table.rack.count(table.advice.let_go)
    assert "Within reach" in texts(table)
    click(table, "Hide advice")
    assert costs(table) == []
    press(table, "a", "right", "return")
    assert costs(table) == [], "each moment begins without"


@pytest.mark.slow
def test_advice_always_on_is_there_at_every_moment(routes):
    """Hands in reach, the reason, and costs, from the first choice on."""
    set_advice(routes, ALWAYS)
    table = shown(deal(routes))
    for _ in range(2):
        said = texts(table)
        best = table.advice.hands[0]
        assert best.hand.name in said
        assert f"Let the {name(table.advice.let_go)} go" in said
        assert len(costs(table)) == 14
        press(table, "right", "return")


@pytest.mark.slow
def test_another_way_of_a_deal_is_not_said_to_count(routes):
    """Once a choice is taken back and made otherwise, the table says that this one doesn't count."""
    set_advice(routes, HIDDEN)
    table = shown(deal(routes, House(picks=3), advice_hidden=True))
    press(table, "right", "return")
    press(table, "z")
    assert "Advice is hidden: this game counts" in texts(table)
    press(table, "right", "right", "return")
    said = " ".join(texts(table))
    assert "this game counts" not in said
    assert "This deal is tried another way, so it doesn’t count." in said


@pytest.mark.slow
def test_hidden_advice_shows_nothing_until_the_game_is_over(routes):
    """No hands, no costs, no way to ask for them; once the game is over, looking back shows all."""
    set_advice(routes, HIDDEN)
    table = shown(deal(routes, House(picks=2), advice_hidden=True))
    press(table, "a")
    press(table, "w")
    assert costs(table) == []
    assert "Advice is hidden: this game counts" in texts(table)
    assert not any(target.enabled and "advice" in target.says.lower() for target in table.ui.targets)
    more = shown(press(table, "e"))
    assert not any(target.enabled and "advice" in target.says.lower() for target in more.ui.targets)
    assert press(table, "w") is table
    press(table, "right", "return")
    assert routes.desk.store.line(line_of(table.sitting)).advice_hidden
    press(table, "z")
    assert costs(table) == []
    press(table, "y")
    assert costs(table) == []
    play_to_the_end(table)
    press(table, "z")
    assert len(costs(table)) == 14
    press(table, "y")
    assert costs(table) == []
    assert routes.desk.store.line(line_of(table.sitting)).advice_hidden, (
        "looking back at a choice made is no advice for it"
    )


def test_a_game_with_advice_seen_no_longer_counts_as_hidden(routes):
    """The setting is changed in the middle of a game, and advice shown."""
    table = shown(deal(routes, advice_hidden=True))
    press(table, "right", "return")
    assert routes.desk.store.line(line_of(table.sitting)).advice_hidden
    press(table, "a", "right", "return")
    assert not routes.desk.store.line(line_of(table.sitting)).advice_hidden


def test_why_gives_the_reason_for_the_tile_chosen(routes):
    """The sentence of the advice, alone and large; without a choice, for the tile best let go."""
    table = shown(deal(routes))
    why = press(table, "w")
    assert isinstance(why, WhyPopup)
    assert why.tile == table.advice.let_go
    assert press(why, "escape") is table
    table.chosen = place_of(table, table.advice.keeps[0].kind)
    why = press(table, "w")
    assert " ".join(table.advice.keeps[0].because.split()[:4]) in " ".join(texts(why))
    assert press(why, "return") is table


def test_pointing_at_a_hand_lights_its_tiles_and_at_a_tile_its_hands(routes):
    """By the mouse or pressed; pressed again it goes out."""
    set_advice(routes, ALWAYS)
    table = shown(deal(routes))
    click(table, "hand 0")
    kinds = {slot.kind for group in table.advice.hands[0].slots for slot in group}
    assert table.lit == kinds
    click(table, "hand 0")
    table.handle(pygame.event.Event(pygame.MOUSEMOTION, pos=(2, 2), rel=(0, 0), buttons=(0, 0, 0)))
    assert table.lit == frozenset()
    at = next(target.rect.center for target in table.ui.targets if target.name == "tile 3")
    table.handle(pygame.event.Event(pygame.MOUSEMOTION, pos=at, rel=(0, 0), buttons=(0, 0, 0)))
    assert table.tile == table.rack[3]
