"""The full table in the window: calls, the time they wait, exchanges, slips, what is told, and the end."""

from dataclasses import replace

import pytest
from at_full_table import HOUSE, asked_about_pung, full_table, let_go, open_hand, unallowed
from at_table import beginner, routes_over
from harness import click, drawn, make_look, press

from engine.rules.actions import Call, Discard, Exchange, LetGo, Mahjong
from engine.rules.house import FULL, House
from engine.rules.matching import allows
from engine.rules.state import Exposure, Phase
from engine.sheet.shelf import find
from engine.tiles import FLOWER, JOKER, name
from game.play.settings import ALWAYS, HIDDEN, HINTED
from game.scenes.table.popups import CallPopup, ExchangePopup, MorePopup, SeatPopup, SlipPopup
from game.scenes.table.scene import TableScene
from game.words.costs import cost_sentence
from game.words.situation import headline, prompt, situation

pytestmark = pytest.mark.slow


@pytest.fixture
def routes(tmp_path):
    """Routes of its own."""
    routes = routes_over(make_look(), tmp_path / "lone-east.sqlite")
    yield routes
    routes.desk.store.close()


def advised(routes, how):
    """Sets how advice is shown."""
    routes.desk.save_settings(replace(routes.desk.settings, advice=how))


def shown(scene):
    """Everything written on the scene in a usual window."""
    return " ".join(one.text for one in drawn(scene, (1440, 900), 1.0))


def on_screen(scene):
    """The scene once it has been seen, so that its keys and buttons are there."""
    drawn(scene, (1440, 900), 1.0)
    return scene


def last(scene, player=0):
    """The player's last choice."""
    return [entry.action for entry in scene.sitting.entries if entry.seat == player][-1]


def asked(routes, **more):
    """The player is asked about the third tile of a pung."""
    scene, spare, kind, hand = asked_about_pung(routes, **more)
    let_go(scene, spare)
    assert scene.calling
    return on_screen(scene), kind, hand


def test_the_desk_shows_a_full_table_as_such(routes):
    """A deal of four players opens the full table."""
    routes.desk.save_house(House(table=FULL))
    table = routes.new_deal()
    assert isinstance(table, TableScene)
    assert table.others


def test_a_discard_is_asked_about_with_whose_it_was(routes):
    """The strip names seat and tile; letting go is the main answer."""
    scene, kind, _ = asked(routes)
    assert f"South let the {name(kind)} go. Call it, or let it go?" in shown(scene)
    assert next(target.name for target in scene.ui.targets if target.main) == "Let it go"
    assert press(scene, "return") is scene
    assert last(scene) == LetGo()


def test_calling_lays_the_group_beside_the_rack(routes):
    """By key where there is one way; the exposure is laid and the player lets a tile go."""
    advised(routes, HIDDEN)
    scene, kind, _ = asked(routes)
    assert press(scene, "c") is scene
    assert last(scene) == Call(3)
    assert scene.state.exposures[0][0].kind == kind
    assert "You show" in shown(scene)
    assert f"You called the {name(kind)} for a pung. Let one tile go." in shown(scene)
    assert situation(scene.sitting) == f"You called the {name(kind)} for a pung. Let one tile go."
    assert len(scene.rack) == 11


def test_of_several_ways_to_call_one_is_chosen(routes):
    """With a joker to spare there are more ways: a popup lists them, a digit takes one."""
    advised(routes, HIDDEN)
    _, tiles, kind = open_hand()
    rack = [*[tile for tile in tiles if tile != kind][:9], kind, kind, JOKER]
    spare = [tile for tile in range(26, -1, -1) if tile not in tiles][: 14 - len(rack)]
    scene = full_table(routes, [*rack, *spare], [kind])
    let_go(scene, spare[0])
    popup = press(on_screen(scene), "c")
    assert isinstance(popup, CallPopup)
    assert press(popup, "escape") is scene
    calls = scene.calls
    assert len(calls) > 1
    popup = press(scene, "c")
    assert press(popup, "2") is scene
    assert last(scene) == calls[1]


def test_pressing_a_tile_lets_none_go_while_a_call_is_open(routes):
    """First the discard is answered: Enter lets it go, not the tile."""
    scene, _, _ = asked(routes)
    click(scene, "tile 2")
    click(scene, "tile 2")
    assert scene.calling
    scene.let_go()
    assert "First say what to do about the discard" in scene.trouble


@pytest.mark.slow
def test_all_discards_are_let_go_until_the_players_turn(routes):
    """One key; then it is the player's own turn."""
    scene, _, _ = asked(routes)
    press(scene, "u")
    assert scene.state.phase is Phase.TURN
    assert scene.state.to_act == 0


def test_letting_all_go_stops_for_a_winning_discard(routes):
    """What would finish the hand is never let go unasked."""
    hand, tiles, kind = open_hand()
    first = next(tile for tile in tiles if tile != kind)
    rack = list(tiles)
    rack.remove(first)
    spare = next(tile for tile in range(26, -1, -1) if tile not in tiles)
    rack.append(spare)
    scene = full_table(routes, rack, [kind, first])
    let_go(scene, spare)
    if not scene.wins:
        scene.let_all_go()
    assert scene.calling
    assert scene.wins
    press(on_screen(scene), "m")
    assert scene.finished
    assert scene.state.outcome.hand.name == hand.name


# The time that a discard waits.


def test_a_call_waits_as_long_as_the_player_likes(routes):
    """By default for ever."""
    scene, _, _ = asked(routes)
    scene.update(3600.0)
    assert scene.calling


def test_a_call_closes_after_the_seconds_set(routes):
    """It is shown in whole seconds, drawn once a second, and ends as letting go."""
    routes.desk.save_settings(replace(routes.desk.settings, call_seconds=5))
    scene, _, _ = asked(routes)
    assert "5 s" in shown(scene)
    scene.dirty = False
    scene.update(0.4)
    assert not scene.dirty
    scene.update(0.7)
    assert scene.dirty
    assert "4 s" in shown(scene)
    scene.update(3.8)
    assert scene.calling
    scene.update(0.2)
    assert not scene.calling
    assert last(scene) == LetGo()


def test_looking_back_the_clock_stands_still(routes):
    """What was chosen before is not undone by time."""
    routes.desk.save_settings(replace(routes.desk.settings, call_seconds=5))
    scene, _, _ = asked(routes)
    press(scene, "return")
    scene.step(False)
    entries = list(scene.sitting.entries)
    scene.update(60.0)
    assert scene.sitting.entries == entries
    assert "and you let it go" in prompt(scene.sitting)


# Slips.


def test_calling_when_no_call_is_open_says_why(routes):
    """In the player's own turn: nothing to call yet, or why the last discard could not be called."""
    scene = full_table(routes, [0, 0, 1, 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21], [30, 30, 30])
    popup = scene.call()
    assert isinstance(popup, SlipPopup)
    assert "Nothing has been let go yet" in shown(popup)
    let_go(scene, 21)
    popup = scene.call()
    assert "you do not hold the rest of a pung of north wind" in shown(popup)
    assert press(popup, "escape") is scene


def test_a_group_that_no_hand_allows_beside_the_exposures_is_not_offered_and_explained(routes):
    """Two pungs that no hand has together: the second one is not offered, and the key says why."""
    advised(routes, HIDDEN)
    sheet = beginner()
    one, other = next(
        (one, other) for one in range(9) for other in range(9, 27)
        if not allows(sheet, (Exposure(3, one), Exposure(3, other)))
    )  # fmt: skip
    fill = [tile for tile in range(31) if tile not in (one, other)]
    rack = [one, one, other, other, *fill[1:30:3]]
    scene = full_table(routes, rack, [one, 27, 28, other, 29])
    let_go(scene, fill[1])
    scene.call_for(Call(3))
    let_go(scene, fill[4])
    assert scene.state.phase is Phase.TURN
    assert scene.state.discards[-1].kind == other
    slip = scene.call().slips[0]
    pungs = f"a pung of {name(one)} and a pung of {name(other)}"
    assert slip.sentence == (f"The {name(other)} can’t be called: no open hand on {sheet.name} has {pungs} together.")


def test_a_wrong_mahjong_is_refused_with_every_fault_and_the_nearest_line_of_the_sheet(routes):
    """The nearest hand is shown as the sheet has it, where advice may be shown; else the faults alone."""
    advised(routes, ALWAYS)
    scene = full_table(routes, [0, 0, 1, 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21])
    popup = scene.mahjong()
    assert isinstance(popup, SlipPopup)
    assert "No hand on First Steps matches these tiles." in shown(popup)
    near = scene.known.rack.hands[0].hand
    assert near.name in shown(popup)
    advised(routes, HIDDEN)
    hidden = full_table(routes, [0, 0, 1, 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21])
    assert "Nearest is" not in shown(hidden.mahjong())
    assert not hidden.state.dead[0]


def concealed_deal(routes, house=HOUSE):
    """The player needs little for a concealed hand, and South lets go the third of a pung of it."""
    sheet = find("lantern-street")
    for hand in sheet.hands:
        for variant in hand.variants if hand.concealed else ():
            pungs = [group.kind for group in variant.groups if group.size == 3]
            if not pungs or max(variant.total[:FLOWER]) > 4 or JOKER in pungs:
                continue
            tiles = [group.kind for group in variant.groups for _ in range(group.size)]
            tiles.remove(pungs[0])
            other = next(tile for tile in tiles if tile != pungs[0])
            tiles.remove(other)
            spare = [tile for tile in range(26, -1, -1) if tile not in tiles and tile != other][:2]
            scene = full_table(routes, [*tiles, *spare], [pungs[0]], house, sheet=sheet)
            let_go(scene, spare[0])
            if scene.calling and scene.calls:
                return scene, hand
    raise AssertionError("no such hand")


@pytest.mark.slow
def test_exposing_for_a_concealed_hand_is_warned_of_with_its_line(routes):
    """One sentence and the hand as the sheet has it; the player may still call all the same, or go back."""
    scene, hand = concealed_deal(routes)
    call = scene.calls[0]
    popup = scene.call_for(call)
    assert isinstance(popup, SlipPopup)
    text = shown(popup)
    assert "Your nearest hand is concealed" in text
    assert f"{hand.name}, concealed, {hand.points} points" in text
    assert press(popup, "escape") is scene
    assert scene.calling
    assert press(on_screen(scene.call_for(call)), "g") is scene
    assert last(scene) == call


def test_where_slips_happen_nothing_is_warned_of(routes):
    """As at a real table: the exposure is laid."""
    scene, _ = concealed_deal(routes, House(table=FULL, slips=True))
    call = scene.calls[0]
    assert scene.call_for(call) is scene
    assert last(scene) == call


@pytest.mark.slow
def test_where_slips_happen_a_wrong_mahjong_kills_the_hand_and_is_explained_at_the_end(routes):
    """The others play on; the end says what was wrong."""
    house = House(table=FULL, slips=True)
    scene = full_table(routes, [0, 0, 1, 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21], house=house)
    press(on_screen(scene), "m")
    assert scene.finished
    assert scene.state.dead[0]
    assert [slip.index for slip in scene.slips] == [0]
    text = shown(scene)
    assert "What went wrong" in text
    assert "You showed mahjong by mistake, and your hand was dead." in text
    assert "No hand on First Steps matches these tiles." in text


@pytest.mark.slow
def test_where_slips_happen_a_wrong_exposure_kills_the_hand_and_is_explained(routes):
    """The sentence names the group that no hand allows."""
    kind = unallowed(beginner(), 4)
    others = [tile for tile in range(FLOWER) if tile != kind]
    house = House(table=FULL, slips=True)
    scene = full_table(routes, [kind, kind, kind, *others[3:25:2]][:14], [kind], house)
    let_go(scene, others[3])
    scene.call_for(Call(4))
    assert scene.finished
    assert f"You exposed a kong of {name(kind)}, and your hand was dead." in scene.slips[0].sentence
    assert "no open hand on first steps has a kong" in scene.slips[0].sentence.lower()


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
