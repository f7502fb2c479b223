"""The passes in the window: choosing, blind passing, votes, courtesy, advice, other ways, rehearsal."""

from dataclasses import replace

import pytest
from at_table import beginner, routes_over
from harness import click, make_look, press

from engine.advice.advise.answers import PassAdvice
from engine.drills.rehearsal import PACE
from engine.rules.actions import Agree, Pass
from engine.rules.deal import DealCode
from engine.rules.house import House
from engine.rules.state import Phase
from engine.tiles import JOKER
from game.play.lines import begin, line_of
from game.play.settings import ALWAYS, HIDDEN
from game.scenes.rehearse.passes import RehearsalPolicy
from game.scenes.rehearse.result import RehearsedScene
from game.scenes.rehearse.setup import RehearseScene
from game.scenes.table import passes_view
from game.scenes.table.scene import PassScene, TableScene
from game.scenes.table.ways import SectionsPopup, WaysScene
from game.window.shots import picture

RULES = House(picks=40, passes=6, courtesy=True)
SIZE = (1440, 900)


@pytest.fixture(scope="module")
def look():
    """One look for all tests: its pictures are made once."""
    return make_look()


@pytest.fixture
def routes(look, tmp_path):
    """Routes over a new store."""
    return routes_over(look, tmp_path / "store.sqlite")


def dealt(routes, seed=11, house=RULES, advice=ALWAYS):
    """The first pass of a seeded deal."""
    routes.desk.save_settings(replace(routes.desk.settings, advice=advice))
    sheet = beginner()
    return shown(
        routes.at_table(
            begin(routes.desk.store, sheet, DealCode.of(sheet, house, seed), others=routes.desk.others(sheet, house))
        )
    )


def shown(scene):
    """The scene once it has been drawn."""
    picture(scene, SIZE)
    return scene


def spare(scene, number=3):
    """Places of the first tiles that may be passed."""
    return [place for place, kind in enumerate(scene.rack) if kind != JOKER][:number]


def pass_three(scene):
    """Pass the first three that may be passed; the scene that follows."""
    for place in spare(scene):
        click(scene, f"tile {place}")
        shown(scene)
    return shown(scene.pass_them() or scene)


def to_phase(scene, phase):
    """Pass, agree and ask until the phase is there."""
    while scene.sitting.state.phase is not phase:
        if scene.phase is Phase.PASSING:
            scene = pass_three(scene)
        elif scene.phase is Phase.AGREEING:
            scene = shown(scene.agree() or scene)
        else:
            scene = shown(scene.ask(2) or scene)
    return scene


@pytest.mark.slow
def test_three_tiles_are_chosen_and_passed(routes):
    """A press chooses, a second takes back; only three make the pass, and East keeps fourteen."""
    scene = dealt(routes)
    assert isinstance(scene, PassScene)
    places = spare(scene, 4)
    for place in places[:3]:
        click(scene, f"tile {place}")
    assert scene.picked == places[:3]
    click(scene, f"tile {places[3]}")
    assert scene.picked == places[:3]
    assert "take it back" in scene.trouble
    click(scene, f"tile {places[0]}")
    assert scene.picked == places[1:3]
    scene.pass_them()
    assert scene.sitting.entries == []
    click(scene, f"tile {places[0]}")
    out = tuple(sorted(scene.out))
    scene.pass_them()
    assert scene.sitting.entries[0].action == Pass(out)
    assert len(scene.rack) == 14
    assert scene.sitting.state.passes_done == 1
    assert len(scene.came) == 3


@pytest.mark.slow
def test_jokers_are_never_passed(routes):
    """Choosing one says so and chooses nothing."""
    for seed in range(40):
        scene = dealt(routes, seed)
        if JOKER in scene.rack:
            click(scene, f"tile {scene.rack.index(JOKER)}")
            assert scene.picked == []
            assert "never passed" in scene.trouble
            return
    pytest.fail("no deal had a joker")


@pytest.mark.slow
def test_by_keyboard_alone(routes):
    """Arrows and Enter choose, or Space; with three chosen Enter passes them, wherever the focus is."""
    scene = dealt(routes)
    for _ in range(14):
        press(scene, "right")
        place = scene.chosen
        if scene.rack[place] != JOKER and len(scene.picked) < 3:
            press(scene, "space" if place % 2 else "return")
    assert len(scene.picked) == 3
    press(scene, "return")
    assert scene.sitting.state.passes_done == 1


@pytest.mark.slow
def test_blind_passing_only_on_the_last_pass_of_a_round(routes):
    """The third and sixth pass offer it; then fewer tiles go from the rack, and backs are shown for the others."""
    scene = dealt(routes)
    assert not scene.may_be_blind
    scene = pass_three(pass_three(scene))
    assert scene.may_be_blind
    scene.more_blind()
    scene.more_blind()
    assert scene.needed == 1
    scene.press_tile(spare(scene)[0])
    scene.pass_them()
    mine = [entry.action for entry in scene.sitting.entries if entry.seat == 0 and isinstance(entry.action, Pass)]
    assert mine[-1].blind == 2
    assert len(mine[-1].kinds) == 1


@pytest.mark.slow
def test_the_vote_the_courtesy_and_then_play(routes):
    """After six passes and the courtesy the table for the first turn comes."""
    scene = to_phase(dealt(routes), Phase.AGREEING)
    assert any(target.name == "Play it" for target in scene.ui.targets)
    scene = to_phase(scene, Phase.ASKING)
    for number in ("None", "1", "2", "3"):
        assert any(target.name == number for target in scene.ui.targets)
    following = scene.ask(0)
    assert isinstance(following, TableScene)
    assert following.sitting.state.phase is Phase.TURN


@pytest.mark.slow
def test_stopping_ends_the_passes(routes):
    """A stop leads to the courtesy pass at once."""
    scene = to_phase(dealt(routes), Phase.AGREEING)
    scene.stop()
    assert scene.sitting.state.passes_done == 3
    assert scene.phase in (Phase.ASKING, Phase.GIVING)


def test_advice_is_hidden_when_it_is_to_be(routes):
    """With advice hidden nothing of it is drawn and nothing offers it."""
    scene = dealt(routes, advice=HIDDEN)
    assert scene.advice_shown is None
    names = {target.name for target in scene.ui.targets}
    assert not any(name.endswith("as advised") for name in names)
    assert "Advice" not in names
    scene = dealt(routes, advice=ALWAYS)
    assert isinstance(scene.advice_shown, PassAdvice)
    click(scene, "Three as advised")
    assert tuple(sorted(scene.out)) == scene.advice.choices[0].kinds


@pytest.mark.slow
def test_stepping_back_from_play_leads_to_the_passes_and_forks(routes):
    """The line that was played stays; the fork shares what came before."""
    scene = to_phase(dealt(routes), Phase.ASKING)
    table = scene.ask(0)
    line = line_of(table.sitting)
    before = len(table.sitting.entries)
    back = table.go_to(table.sitting.decisions[0])
    assert isinstance(back, PassScene)
    assert back.looking_back
    shown(back)
    other = [place for place, kind in enumerate(back.rack) if kind != JOKER][3:6]
    for place in other:
        back.press_tile(place)
    back.pass_them()
    assert line_of(back.sitting) != line
    assert routes.desk.store.line(line).entries == before


@pytest.mark.slow
def test_another_way_towards_other_sections(routes):
    """A fork on the sheet cut to the ticked sections; both lines lie side by side, and either is played on."""
    scene = dealt(routes)
    popup = scene.other_sections()
    assert isinstance(popup, SectionsPopup)
    shown(popup)
    name = beginner().sections[0].name
    popup.chosen = {name}
    other = popup.go()
    assert isinstance(other, PassScene)
    assert other.sitting.state.sheet.chosen == (name,)
    assert {reach.hand.section for reach in other.advice.hands} == {name}
    pass_three(shown(other))
    ways = other.ways()
    assert isinstance(ways, WaysScene)
    shown(ways)
    assert len(ways.ways) == 2
    assert set(ways.held) == {one.id for one, _ in ways.ways}
    button = next(target for target in ways.ui.targets if target.name == "Play this one on: line 1")
    assert button.do().sitting.state.sheet.chosen is None


@pytest.mark.slow
def test_a_rehearsal_is_counted_and_shows_both_lines(routes):
    """Passes only; the end shows what each cost, and the tally counts it apart by its clock."""
    setup = RehearseScene(routes, routes.home())
    shown(setup)
    routes.desk.save_rehearsal_clock(300.0)
    scene = setup.begin()
    assert isinstance(scene.policy, RehearsalPolicy)
    scene.update(12.5)
    assert scene.policy.clock_text(scene.state) == "4:47 left"
    while not isinstance(scene, RehearsedScene):
        if scene.phase is Phase.PASSING:
            scene = pass_three(shown(scene))
        elif scene.phase is Phase.AGREEING:
            scene = scene.act(Agree()) or scene
        elif scene.phase is Phase.ASKING:
            scene = scene.ask(0) or scene
    shown(scene)
    mine = [entry for entry in scene.sitting.entries if entry.seat == 0 and isinstance(entry.action, Pass)]
    passed = [cost for cost in scene.review.costs if isinstance(cost.chosen, Pass)]
    assert len(passed) == len(mine) >= 3
    results = routes.desk.store.results("passes")
    assert len(results) == 1
    assert results[0].allowance == 300.0
    assert results[0].figures["passes"] == len(mine)
    assert routes.desk.rehearsal_allowance == 240.0
    assert routes.desk.unfinished is None, "a rehearsal is no game to go on with"
    setup.enter()
    shown(setup)
    assert setup._tallies[0].rehearsals == 1
    routes.desk.save_rehearsal_clock(PACE)
    shown(RehearsedScene(routes, scene.sitting, setup, 200.0, 190.0))
    assert routes.desk.store.results("passes")[0].figures[PACE] is True
    assert PACE not in results[0].figures


@pytest.mark.slow
def test_the_clock_comes_from_ones_own_pace_unless_another_is_chosen(routes):
    """Too few without a clock: no clock. Then their median."""
    setup = RehearseScene(routes, routes.home())
    assert routes.desk.rehearsal_clock == PACE
    assert setup.begin().policy.allowance is None
    for seconds in (100.0, 80.0, 230.0):
        routes.desk.store.add_result("passes", {"seconds": seconds, "passes": 3, "best": 1}, None)
    assert setup.begin().policy.allowance == 100.0
    routes.desk.save_rehearsal_clock(None)
    assert setup.begin().policy.allowance is None


def test_too_late_is_no_success(routes):
    """Over the allowance the next one is as long."""
    routes.desk.save_rehearsal_clock(120.0)
    scene = RehearseScene(routes, routes.home()).begin()
    scene.update(500)
    assert scene.policy.clock_text(scene.state).startswith("−6:20")


def test_the_question_stands_under_the_strip_only_where_the_strip_has_no_room(routes, monkeypatch):
    """And whatever has no button at the table has its key there all the same."""
    scene = dealt(routes)
    keys = {one for target in scene.ui.targets for one in target.keys}
    wanted = {one.key for one in passes_view.more_presses(scene) if one.enabled}
    assert len(wanted) > 2
    assert wanted <= keys
    under = []
    monkeypatch.setattr(passes_view, "under_strip", lambda _ui, _page, asks, _trouble: under.append(asks))
    monkeypatch.setattr(passes_view, "strip", lambda *_: True)
    shown(scene)
    assert under == []
    monkeypatch.setattr(passes_view, "strip", lambda *_: False)
    shown(scene)
    assert set(under) == {scene.prompt()}
