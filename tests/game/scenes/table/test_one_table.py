"""What is true at every table: a hand is called complete only when it is, slips are explained, advice has one verdict,
a clock that has run out is told, and small windows keep what matters in sight."""

import re
from dataclasses import replace

import pytest
from any_table import MIXED, SIZE, advised, main, names, passed_to, text, to_the_end
from at_full_table import asked_about_pung, full_table, let_go, open_hand
from at_table import almost_there, deal, place_of
from harness import click, drawn, press

from engine.advice.advise.defence import Defence, OtherSeat, Risk
from engine.rules.actions import Mahjong
from engine.rules.house import FULL, House
from engine.rules.state import Phase
from engine.tiles import name, say_tiles
from game.play.settings import ALWAYS
from game.scenes.rehearse.passes import TIME_IS_UP
from game.scenes.table.popups import SlipPopup, WhyPopup

# Complete, and what went wrong.


@pytest.mark.parametrize("kind", ["quiet", FULL])
def test_a_rack_is_called_complete_only_when_it_is(routes, kind):
    """Where slips are allowed mahjong may always be shown, but it is neither announced nor the main step."""
    house = House(slips=True) if kind == "quiet" else House(table=FULL, slips=True)
    table = deal(routes, house) if kind == "quiet" else full_table(routes, MIXED, house=house)
    assert Mahjong() in table.sitting.legal()
    said = text(table)
    assert "complete" not in said
    assert main(table) == ["Let a tile go"]


@pytest.mark.parametrize("kind", ["quiet", FULL])
@pytest.mark.slow
def test_a_mistaken_mahjong_is_explained_at_the_end(routes, kind):
    """The cause is named, and costs beside it are not said to be nothing as if it had been none."""
    house = House(slips=True) if kind == "quiet" else House(table=FULL, slips=True)
    table = deal(routes, house) if kind == "quiet" else full_table(routes, MIXED, house=house)
    text(table)
    press(table, "m")
    assert table.finished
    said = text(table)
    assert "What went wrong" in said
    assert "You showed mahjong by mistake, and your hand was dead." in said
    assert "No choice of yours cost anything" not in said
    assert "Apart from that, no choice of yours cost anything that the odds can tell." in said


def test_at_the_quiet_table_too_a_wrong_mahjong_is_refused_with_its_faults(routes):
    """The key says what is wrong; nothing is shown by mistake."""
    table = deal(routes)
    text(table)
    popup = press(table, "m")
    assert isinstance(popup, SlipPopup)
    assert "No hand on First Steps matches these tiles." in text(popup)
    assert table.sitting.entries == []


# One verdict.


def complete_at_full(routes):
    """The player draws the tile that finishes the hand."""
    hand, tiles, kind = open_hand()
    rack = list(tiles)
    rack.remove(kind)
    spare = next(tile for tile in range(26, -1, -1) if tile not in tiles)
    table = full_table(routes, [*rack, spare], [30, 30, 30, kind])
    let_go(table, spare)
    while table.calling:
        table.let_it_go()
    return table, hand


@pytest.mark.parametrize("kind", ["quiet", FULL])
@pytest.mark.slow
def test_with_a_complete_hand_nothing_says_let_go(routes, kind):
    """Neither the headline nor the rack nor a button: mahjong is the only advice."""
    advised(routes, ALWAYS)
    if kind == "quiet":
        table, spare, hand = almost_there(routes)
        table.chosen = place_of(table, spare)
        table.let_go()
    else:
        table, hand = complete_at_full(routes)
    assert table.wins
    lines = [one.text for one in drawn(table, SIZE, 1.0)]
    assert not [line for line in lines if line in ("let go", "go") or line.startswith(("Let ", "Why not"))]
    said = " ".join(lines)
    assert "Show it for mahjong" in said
    assert hand.name in said
    assert main(table) == ["Mahjong"]
    why = press(table, "w")
    assert isinstance(why, WhyPopup)
    assert "let go" not in text(why).lower()


def test_the_headline_and_the_rack_name_the_same_tile(routes):
    """The tile that the advice lets go is the verdict everywhere, whichever is feared beside it."""
    advised(routes, ALWAYS)
    table = full_table(routes, MIXED)
    known = table.known
    feared = next(keep.kind for keep in known.rack.keeps if keep.kind != known.rack.let_go)
    for kind in (known.rack.let_go, feared):
        table.work.answer = replace(known, defence=warned_of(kind))
        lines = [one.text for one in drawn(table, SIZE, 1.0)]
        assert f"Let the {name(known.rack.let_go)} go" in lines
        assert lines.count("let go") == table.rack.count(known.rack.let_go)
        assert ("is safer" in " ".join(lines)) == (kind == known.rack.let_go)


def warned_of(kind):
    """The others as they are when one of them would be served by this tile only."""
    risk = Risk(kind, 0.5, 0.5, 1, "It would serve South.")
    return Defence((OtherSeat(1, (), False, (), (risk,), "South may make anything."),))


def giving(routes):
    """The first deal in which tiles are given in the courtesy pass."""
    return next(found for found in (passed_to(routes, Phase.GIVING, seed) for seed in range(20)) if found is not None)


@pytest.mark.slow
def test_the_courtesy_tiles_are_named_and_taken_with_one_press(routes):
    """And what comes in for them is marked in the first turn, where the arrow keys start too."""
    advised(routes, ALWAYS)
    scene = giving(routes)
    give = scene.advice.give
    said = text(scene)
    assert f"Advised: {say_tiles(give)}" in said
    click(scene, {1: "One", 2: "Two", 3: "Three"}[len(give)] + " as advised")
    assert sorted(scene.out) == sorted(give)
    table = scene.pass_them()
    came = table.sitting.observation.received
    assert len(came) == len(give)
    assert sorted(table.rack[place] for place in table.fresh) == sorted(came)
    text(table)
    press(table, "right")
    assert table.chosen in table.fresh


# Clocks.


def test_the_rehearsal_says_when_its_clock_has_run_out(routes):
    """Once, beside the clock; and its way back is named after where it leads."""
    routes.desk.save_rehearsal_clock(60.0)
    setup = routes.rehearsal(routes.home())
    scene = routes.rehearse(setup)
    scene.update(59.0)
    assert TIME_IS_UP not in text(scene)
    scene.update(2.0)
    assert TIME_IS_UP in text(scene)
    assert "Home" not in names(scene)
    assert "Rehearsal" in text(scene)
    scene.trouble = ""
    scene.update(2.0)
    assert scene.trouble == ""
    assert press(scene, "escape") is setup


# The end.


@pytest.mark.slow
def test_the_other_racks_can_be_turned_over_at_the_end(routes):
    """What each held and what it was nearest to; hidden at first, and again after a second press."""
    table = full_table(routes, MIXED)
    to_the_end(table)
    said = text(table)
    assert "South was" not in said
    press(table, "o")
    said = text(table)
    for seat in ("South", "West", "North"):
        assert f"{seat} was " in said
    press(table, "o")
    assert "South was" not in text(table)


def test_a_near_miss_is_named(routes):
    """The hand that lacked one tile, and the tile."""
    table, spare, hand = almost_there(routes, House(picks=1))
    lacking = table.sitting.state.wall[0]
    table.chosen = place_of(table, spare)
    table.let_go()
    assert table.wins
    table.chosen = place_of(table, lacking)
    table.let_go()
    assert table.finished
    (near,) = table.ended.near
    assert (near.missing, near.hand.name) == (1, hand.name)
    assert f"You were one tile from {hand.name}: the {name(lacking)}." in text(table)


# Small windows.


@pytest.mark.parametrize(
    ("size", "scale"), [((1024, 640), 1.0), ((1024, 640), 1.5), ((1024, 640), 2.0), ((1440, 900), 2.0)]
)
@pytest.mark.parametrize("kind", ["quiet", FULL])
@pytest.mark.slow
def test_the_verdict_is_in_sight_in_every_window(routes, size, scale, kind):
    """Without scrolling and without a button to ask for it."""
    advised(routes, ALWAYS)
    table = deal(routes) if kind == "quiet" else full_table(routes, MIXED)
    best = table.known.let_go
    assert f"Let the {name(best)} go" in text(table, size, scale)


@pytest.mark.parametrize(
    ("size", "scale"), [((1440, 900), 1.5), ((1024, 640), 1.5), ((1440, 900), 2.0), ((1024, 640), 2.0)]
)
@pytest.mark.slow
def test_the_others_and_the_discards_stay_in_sight(routes, size, scale):
    """At a full table, asked about a discard: each seat can be pressed, the discards too, nothing scrolled away."""
    advised(routes, ALWAYS)
    table, spare, kind, _ = asked_about_pung(routes)
    let_go(table, spare)
    said = text(table, size, scale)
    for seat in ("South", "West", "North"):
        assert seat in said
    window = table.ui.window
    for wanted in ("seat 1", "seat 2", "seat 3"):
        rect = next(target.whole for target in table.ui.targets if target.name == wanted)
        assert window.contains(rect)
    assert "Discards (2)" in said
    assert name(kind) in said


@pytest.mark.slow
def test_an_ending_says_luck_and_choices_without_scrolling(routes):
    """Where the page doesn't fit, its parts have names to press, and each begins with its verdict; the keys go on."""
    table = deal(routes, House(picks=6, passes=0, courtesy=False))
    to_the_end(table)
    whole = [one.text for one in drawn(table, (1440, 900), 1.0)]
    assert {"Out of picks", "Luck and choices", "Your costliest choices"} <= set(whole)
    assert not [target for target in table.ui.targets if target.name.startswith("part: ")]
    for scale in (1.0, 2.0):
        drawn(table, (1024, 640), scale)
        click(table, "part: Luck")
        said = [one for one in drawn(table, (1024, 640), scale) if re.match("Luck (?!of)", one.text)]
        assert said
        assert said[0].rect.bottom < 640
        click(table, "part: Result")
        result = [one for one in drawn(table, (1024, 640), scale) if one.text == "Out of picks"]
        assert result
        press(table, "z")
        assert table.looking_back
        press(table, "end")
