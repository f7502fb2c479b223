"""The parts that the table is painted from: slots, rack, frame, strip, the seats' panels, the passes' buttons."""

from dataclasses import replace

import pygame
import pytest
from at_full_table import full_table
from at_table import beginner, deal, routes_over
from harness import drawn

from engine.advice.advise.defence import CanBecome, OtherSeat, Risk
from engine.rules.deal import DealCode
from engine.rules.house import House
from engine.rules.state import Discarded, Exposure, Phase
from engine.tiles import JOKER
from game.draw.tiles import SLOT, SOLID
from game.play.advising import TableAdvice
from game.play.lines import begin
from game.play.settings import ALWAYS
from game.scenes.table import seats
from game.scenes.table.board import slots
from game.scenes.table.frame import Heading, frame
from game.scenes.table.popups import SeatPopup
from game.scenes.table.rack import RackLook, rack
from game.scenes.table.view import advice_press
from game.ui.buttons import Press
from game.ui.layout import Rect, Space
from game.ui.widgets import Ui

SIZE = (1440, 900)
MIXED = [0, 0, 1, 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21]


@pytest.fixture
def routes(look, tmp_path):
    """Routes over a desk with a store of its own, advice always shown."""
    routes = routes_over(look, tmp_path / "lone-east.sqlite")
    routes.desk.save_settings(replace(routes.desk.settings, advice=ALWAYS))
    yield routes
    routes.desk.store.close()


@pytest.fixture
def ui(look):
    """What a scene paints with, on a usual window at 100%."""
    look.scale = 1.0
    ui = Ui(look)
    ui.begin(pygame.Surface(SIZE))
    return ui


def faces_of(look, paint):
    """The faces that are drawn by some painting, in order."""
    faces = []
    draw = look.tiles.draw
    look.tiles.draw = lambda surface, face, rect, room: faces.append(face) or draw(surface, face, rect, room)
    try:
        paint()
    finally:
        look.tiles.draw = draw
    return faces


def test_a_held_tile_is_drawn_solid_and_a_lacking_one_as_a_slot(routes, ui, look):
    """In the order of the hand's groups."""
    reach = deal(routes).advice.hands[0]
    places = [slot for group in reach.slots for slot in group]
    assert 0 < sum(slot.held for slot in places) < 14
    faces = faces_of(look, lambda: slots(ui, Rect(0, 0, 900, 60), reach.slots, 30, None))
    assert [(face.kind, face.look) for face in faces] == [(slot.kind, SOLID if slot.held else SLOT) for slot in places]


def test_a_rack_of_thirteen_has_no_costs_under_it(routes, ui):
    """Advice for it names no tile to let go; nothing is written under the tiles."""
    kinds = MIXED[:13]
    bare = replace(deal(routes).advice, keeps=())
    rack(ui, Rect(0, 500, 1440, 200), kinds, RackLook(advice=bare), lambda _: None)
    rack(ui, Rect(0, 500, 1440, 200), kinds, RackLook(), lambda _: None)


def test_the_costs_under_the_rack_follow_the_verdict(routes):
    """The tile that is best let go is named so, wherever it stands."""
    table = deal(routes)
    said = [one.text for one in drawn(table, SIZE, 1.0)]
    assert said.count("let go") == table.rack.count(table.known.let_go) > 0


def test_the_middle_keeps_clear_of_the_cloth(ui):
    """Fourteen units lie between what is painted in the middle and the cloth, eight between cloth and strip."""
    cut = frame(ui, Heading("Any table", lambda: None), 14)
    cloth = cut.bar.top - ui.u(8)
    assert cloth - cut.page.rect.bottom == ui.u(14)
    assert cut.rack.top >= cut.bar.bottom


def buttons(scene, size, scale):
    """The buttons of the strip: name and rectangle."""
    drawn(scene, size, scale)
    return [(target.name, target.whole) for target in scene.ui.targets if target.name in STRIP]


STRIP = ("Let it go", "Call it…", "More", "Step back", "Let a tile go", "Hide advice", "Let all go until my turn")


@pytest.mark.parametrize(("size", "scale"), [((1024, 640), 2.0), ((1024, 640), 1.0), (SIZE, 1.0)])
@pytest.mark.slow
def test_the_strip_holds_the_main_buttons_side_by_side(routes, size, scale):
    """They never overlap or leave the window; in a low one they have no key caps and so are narrower."""
    table = full_table(routes, MIXED)
    found = buttons(table, size, scale)
    assert "Let a tile go" in dict(found)
    assert "More" in dict(found)
    rects = [rect for _, rect in found]
    assert all(not one.colliderect(other) for i, one in enumerate(rects) for other in rects[:i])
    assert all(table.ui.window.contains(rect) for rect in rects)
    low = table.ui.window.height < table.ui.u(450)
    key = "" if low else "return"
    assert dict(found)["Let a tile go"].width == table.ui.button_size("Let a tile go", key)[0]


def test_words_are_given_up_before_the_buttons_that_matter(routes):
    """A long trouble in a narrow window stands under the strip as a notice; nothing of it is lost."""
    table = full_table(routes, MIXED)
    table.trouble = "The disk is full, so the game goes on, but only in memory. Make room and saving starts again."
    said = " ".join(one.text for one in drawn(table, (1024, 640), 2.0))
    assert "saving starts again." in said
    assert "Let a tile go" in said


def others_with(table, exposures):
    """The others, South showing these groups and having let a tile go last."""
    state = table.state
    shown = tuple(tuple(exposures) if seat == 1 else () for seat in range(4))
    state = replace(state, exposures=shown, discards=(Discarded(1, 5),), turn=1, phase=Phase.TURN)
    return seats.Others(state, 0, lambda _: None)


def test_the_last_discard_is_large_only_where_the_exposures_leave_room(routes, ui):
    """One row of groups in a low panel; two rows where the panel is high enough for them."""
    table = full_table(routes, MIXED)
    group, wide, long = Exposure(3, 2), 400, [Exposure(4, 2), Exposure(4, 8, 1)]
    low, high = ui.u(seats.HIGH - 16), ui.u(seats.TWO_ROWS - 16)

    def room(exposures, width, height):
        return seats._room_for_latest(ui, Space(Rect(0, 0, ui.u(width), height)), others_with(table, exposures), 1)

    assert room([], wide, low)
    assert room([group], wide, low)
    assert not room([group], 120, low)
    assert not room(long, 250, low)
    assert room(long, 250, high)


@pytest.mark.slow
def test_tiles_are_passed_on_unseen_only_where_the_rules_allow_it(routes):
    """The button is there in the last pass of a round, and in no other."""
    sheet, house = beginner(), House(picks=40, passes=6)
    code = DealCode.of(sheet, house, 11)
    scene = routes.at_table(begin(routes.desk.store, sheet, code, others=routes.desk.others(sheet, house)))
    for number in range(3):
        drawn(scene, SIZE, 1.0)
        names = [target.name for target in scene.ui.targets]
        assert scene.sitting.state.passes_done == number
        assert ("One blind" in names) == (number == 2)
        scene.take_advised(scene.advice.choices[0].kinds)
        scene.pass_them()


@pytest.mark.slow
def test_the_passes_say_how_many_tiles_are_still_to_be_chosen(routes):
    """Three, one more, then that all is ready; a vote asks for no tiles."""
    sheet, house = beginner(), House(picks=40, passes=6)
    code = DealCode.of(sheet, house, 11)
    scene = routes.at_table(begin(routes.desk.store, sheet, code, others=routes.desk.others(sheet, house)))
    assert scene.prompt() == "Choose three tiles to pass to the right."
    places = [place for place, kind in enumerate(scene.rack) if kind != JOKER]
    for place in places[:2]:
        scene.press_tile(place)
    assert scene.prompt() == "Choose one more tile to pass to the right."
    scene.press_tile(places[2])
    assert scene.prompt() == "Ready to pass."
    while scene.sitting.state.phase is Phase.PASSING:
        scene.take_advised(scene.advice.choices[0].kinds)
        scene.pass_them()
    assert scene.sitting.state.phase is Phase.AGREEING
    assert scene.prompt() == "The second round is played only if all four agree."


def test_a_low_strip_of_seats_tells_the_discard_that_lies_last(routes, ui, look):
    """As a tile at the seat that let it go; groups that would be too small are told in words."""
    table = full_table(routes, MIXED)
    others = others_with(table, [Exposure(6, 2), Exposure(4, 9), Exposure(4, 20)])
    discards = Press("Discards (1)", lambda: None, "d")
    faces = faces_of(look, lambda: seats.seats_strip(ui, Rect(0, 0, 460, 48), others, discards))
    assert [face.kind for face in faces] == [5]
    assert [target.name for target in ui.targets] == ["seat 3", "seat 2", "seat 1", "Discards (1)"]


def test_a_table_of_one_has_nobody_to_mind(routes):
    """The verdict is the fastest tile, without a warning."""
    known = deal(routes).known
    assert isinstance(known, TableAdvice)
    assert known.let_go == known.rack.let_go
    assert known.defence.seats == ()


def test_another_seat_tells_which_of_the_players_tiles_it_could_use(routes, look):
    """Each with its picture and how many hands use it, five at most, those it could use most first."""
    table = full_table(routes, MIXED)
    hands = tuple(CanBecome(hand, 2, 0.25) for hand in beginner().hands[:4])
    risks = tuple(Risk(kind, 0.5, kind % 2, 1 + kind % 4, "") for kind in (20, 21, 22, 3, 4, 5))
    shown = OtherSeat(1, (), False, hands, risks, "South may make four hands.")
    popup = SeatPopup(table, table.sitting.state, 1, 0, lambda: shown)
    drawn(popup, SIZE, 1.0)
    lines = []
    faces = faces_of(look, lambda: lines.extend(one.text for one in drawn(popup, SIZE, 1.0)))
    assert "Of your tiles, it could use most" in lines
    assert [line for line in lines if "can use it" in line] == [
        "One of four hands can use it; may be called only to win",
        "Two of four hands can use it; may be called for a group",
        "Three of four hands can use it; may be called only to win",
        "Four of four hands can use it; may be called for a group",
        "One of four hands can use it; may be called only to win",
    ]
    assert [face.kind for face in faces][-5:] == [20, 21, 22, 3, 4]


def test_the_button_says_what_it_does_to_the_advice(routes):
    """Hide where it is shown, show where it is not."""
    table = deal(routes)
    assert advice_press(table, enabled=True).says == "Hide the advice"
    table.toggle_advice()
    assert advice_press(table, enabled=True).says == "Show the advice"
