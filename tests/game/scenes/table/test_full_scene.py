"""The full table in the window: exchanges, what the others did and show, what is told, and the end."""

import pytest
from at_full_table import asked_about_pung, full_table, let_go, open_hand
from full_kit import advised, asked, last, on_screen, shown
from harness import click, drawn, press

from engine.rules.actions import Call, Discard, Exchange, Mahjong
from engine.rules.house import FULL, House
from engine.tiles import JOKER, name
from game.play.settings import ALWAYS, HIDDEN, HINTED
from game.scenes.table.popups import ExchangePopup, MorePopup, SeatPopup
from game.scenes.table.scene import TableScene
from game.words.costs import cost_sentence
from game.words.situation import headline

pytestmark = pytest.mark.slow


def test_the_desk_shows_a_full_table_as_such(routes):
    """A deal of four players opens the full table."""
    routes.desk.save_house(House(table=FULL))
    table = routes.new_deal()
    assert isinstance(table, TableScene)
    assert table.others


# Jokers.


def joker_laid(routes):
    """The player has laid a pung with a joker in it and holds the real tile again."""
    advised(routes, HIDDEN)
    _, tiles, kind = open_hand()
    rack = [*[tile for tile in tiles if tile != kind][:9], kind, JOKER]
    spare = [tile for tile in range(26, -1, -1) if tile not in tiles][: 14 - len(rack)]
    scene = full_table(routes, [*rack, *spare], [kind, 27, 28, 29, kind])
    let_go(scene, spare[0])
    scene.call_for(Call(3, 1))
    let_go(scene, spare[1])
    while scene.calling:
        scene.let_it_go()
    while kind not in scene.rack:
        let_go(scene, scene.state.drawn)
        while scene.calling:
            scene.let_it_go()
    return scene, kind


@pytest.mark.slow
def test_a_joker_is_exchanged_in_ones_own_turn(routes):
    """The key opens the list; a digit takes the joker; the rack has it and the exposure is real."""
    scene, kind = joker_laid(routes)
    popup = press(on_screen(scene), "x")
    assert isinstance(popup, ExchangePopup)
    assert "Take your own joker" in shown(popup)
    assert press(popup, "1") is scene
    assert last(scene) == Exchange(0, 0, kind)
    assert scene.state.exposures[0][0].jokers == 0
    assert JOKER in scene.rack


@pytest.mark.slow
def test_where_no_joker_can_be_had_the_key_says_so(routes):
    """One sentence, in one's own turn and during a call."""
    scene = full_table(routes, [0, 0, 1, 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21])
    assert "No joker on the table stands for a tile that you hold." in shown(scene.exchange())
    scene, _, _ = asked(routes)
    assert "in your own turn only" in shown(scene.exchange())


# What is shown and told.


def test_what_the_others_did_since_the_last_discard_is_told(routes):
    """In order, each a sentence; the player's own draw at the end."""
    scene = full_table(routes, [0, 0, 1, 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21], [27, 28, 29, 30])
    let_go(scene, 21)
    while scene.calling:
        scene.let_it_go()
    assert [one.sentence for one in scene.told] == [
        "South lets go the east wind.", "West lets go the south wind.", "North lets go the west wind.",
        "You draw the north wind.",
    ]  # fmt: skip
    assert "West lets go the south wind." in shown(scene)


def test_the_last_discard_is_seen_at_the_seat_that_let_it_go(routes):
    """Its panel names the tile and is marked as in turn."""
    scene, kind, _ = asked(routes)
    text = shown(scene)
    assert f"let go the {name(kind)}" in text
    assert "turn" in text
    assert [seat for seat in range(1, 4) if scene.state.turn == seat] == [1]


def test_another_seat_is_looked_at(routes):
    """What it holds, shows and has let go; what that tells only where advice may be shown."""
    advised(routes, HINTED)
    scene, _, _ = asked(routes)
    popup = click(scene, "seat 1")
    assert isinstance(popup, SeatPopup)
    text = shown(popup)
    assert "South, to your right" in text
    assert "Let go: one tile" in text
    assert "shows nothing" in text
    advised(routes, HIDDEN)
    assert "shows nothing" not in shown(scene.seat_panel(1))


def test_advice_says_whether_to_call_and_what_it_rules_out(routes):
    """Shown on demand; the best answer first, the hands ruled out named."""
    advised(routes, HINTED)
    scene, _, _ = asked(routes)
    assert "Ruled out by" not in shown(scene)
    press(scene, "a")
    best = scene.known.call.best
    text = shown(scene)
    assert best.because.split(";")[0][:20] in text
    assert scene.desk.store.line(scene.sitting.keeper.line).advice_hidden is False


def test_calls_and_mahjong_can_be_asked_for_even_where_not_open(routes):
    """They stand among everything else that can be done, to hear why not."""
    scene = full_table(routes, [0, 0, 1, 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21])
    popup = scene.more()
    assert isinstance(popup, MorePopup)
    text = shown(popup)
    for says in ("Call the discard", "Mahjong", "Exchange a joker"):
        assert says in text


# The end.


def test_a_win_by_a_discard_ends_with_what_all_four_pay(routes):
    """The discarder pays double; the payments of all seats are on the screen and add up to nothing."""
    win, spare, hand = winning(routes)
    let_go(win, spare)
    press(on_screen(win), "m")
    assert win.finished
    outcome = win.state.outcome
    assert headline(outcome, 0) == "Mahjong!"
    assert sum(outcome.payments) == 0
    text = shown(win)
    for points in outcome.payments:
        assert f"{'+' if points > 0 else '−'}{abs(points)}" in text
    assert "South let the last tile go and pays double." in text
    assert last(win) == Mahjong()
    assert f"You made {hand.name}" in text


def winning(routes):
    """South's first discard finishes the player's hand: the table, the tile to let go before it, and the hand."""
    hand, tiles, kind = open_hand()
    rack = list(tiles)
    rack.remove(kind)
    spare = next(tile for tile in range(26, -1, -1) if tile not in tiles)
    return full_table(routes, [*rack, spare], [kind]), spare, hand


@pytest.mark.slow
def test_stepping_back_and_choosing_otherwise_forks(routes):
    """A call that was let go can be taken after all, on another line of the same deal."""
    advised(routes, HIDDEN)
    scene, _, _ = asked(routes)
    line = scene.sitting.keeper.line
    press(scene, "return")
    scene.step(False)
    assert scene.calling
    scene.call_for(Call(3))
    assert scene.sitting.keeper.line != line
    assert last(scene) == Call(3)


@pytest.mark.slow
def test_a_choice_about_a_discard_counts_among_the_costs(routes):
    """Letting go what should have been called is named at the end, with a way back there."""
    win, spare, _ = winning(routes)
    let_go(win, spare)
    win.let_it_go()
    while not win.finished:
        if win.calling:
            win.let_it_go()
        else:
            let_go(win, win.rack[-1])
    assert any("“Mahjong” would have saved" in cost_sentence(win.sitting, one) for one in win.ended.costly)
    assert isinstance(win.sitting.entries[0].action, Discard)


@pytest.mark.slow
def test_the_main_button_is_what_the_verdict_says(routes):
    """Where a call is advised on the screen, Enter calls; without advice it lets the discard go."""
    advised(routes, ALWAYS)
    scene, spare, *_ = asked_about_pung(routes)
    let_go(scene, spare)
    assert scene.calling
    drawn(scene, (1440, 900), 1.0)
    assert isinstance(scene.advice_shown.verdict.action, Call)
    mains = [target.name for target in scene.ui.targets if target.main]
    assert len(mains) == 1
    assert "Let it go" not in mains
    scene.toggle_advice()
    drawn(scene, (1440, 900), 1.0)
    assert [target.name for target in scene.ui.targets if target.main] == ["Let it go"]
