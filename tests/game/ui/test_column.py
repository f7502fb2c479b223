"""The container that places what a screen holds: heights, gaps, growing, columns beside each other, panels, cells."""

import pygame
import pytest
from harness import SCALES, SIZES, check_records, click, drawn, make_look

from engine.tiles import parse_tiles
from game.draw.theme import BODY, HEADING
from game.draw.tiles import Face
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect
from game.ui.scene import Scene

WORDS = "A sentence that is long enough to be wrapped wherever the column is not very wide at all. "


@pytest.fixture
def ui():
    """Something to paint with, on a window of 1440 by 900 pixels where a unit is one pixel."""

    class Bare(Scene):
        def paint(self, ui):
            """Nothing."""

    scene = Bare(make_look())
    scene.draw(pygame.Surface((1440, 900)))
    return scene.ui


class Page(Scene):
    """A scene for tests: a column with a bit of everything in it."""

    def __init__(self, look):
        super().__init__(look)
        self.pressed = []

    def paint(self, ui):
        rest = ui.header("A page", "", self.back)
        scrolled(ui, "page", rest, self.fill, widest=1200)

    def fill(self, page):
        page.notice(WORDS)
        page.gap(10)
        with page.beside([2, 1], least=820) as (left, right):
            with left.panel("On the left") as inside:
                inside.text(WORDS * 2)
                inside.points([WORDS, WORDS])
                inside.buttons([Press("One", lambda: self.pressed.append("one")), Press("Two", lambda: None)])
            right.heading("On the right")
            right.tiles([Face(kind) for kind in parse_tiles("1b 2c 3d jk fl we dr")], 40)
        page.gap(10)
        with page.grid(300, most=3) as cell:
            for index in range(5):
                with cell().card(
                    f"card {index}", lambda index=index: self.pressed.append(index), key=str(index)
                ) as card:
                    card.text(f"Card {index}", HEADING)
                    card.text(WORDS * (index % 2 + 1))
        page.setting("Size", "of all letters", lambda at, _: self.ui.stepper(at, "size", 3, 1, 9, print).bottom)


def test_heights_and_gaps_add_up(ui):
    """The height is that of the parts and of the gaps between them; a gap at the end counts for nothing."""
    column = Column(ui, 400)
    column.block(30, lambda _: None)
    column.gap(12)
    column.block(50, lambda _: None)
    column.gap(99)
    assert column.height == 92
    assert column.paint((10, 20)) == 112


def test_parts_are_drawn_one_under_another(ui):
    """Each part gets the rectangle under the one before, as wide as the column."""
    got = []
    column = Column(ui, 300, gap=5)
    for high in (10, 20, 30):
        column.block(high, got.append)
    column.paint((7, 100))
    assert got == [Rect(7, 100, 300, 10), Rect(7, 115, 300, 20), Rect(7, 140, 300, 30)]


def test_a_column_is_drawn_as_high_as_it_was_measured(ui):
    """What was measured is what is drawn, for texts, widgets, panels and rows alike."""
    column = Column(ui, 640)
    Page(ui.look).fill(column)
    assert column.paint((0, 50)) == 50 + column.height
    assert column.height > 600


def test_spare_height_goes_to_what_grows_and_then_to_springs(ui):
    """Pictures grow up to their most; what is left goes to the springs by their shares."""
    got = []
    column = Column(ui, 100)
    column.spring(1)
    column.block(50, got.append, grows=30)
    column.block(50, got.append)
    column.spring(3)
    column.block(20, got.append)
    column.paint((0, 0), 190)
    assert [(one.top, one.height) for one in got] == [(10, 80), (90, 50), (170, 20)]
    got.clear()
    column.paint((0, 0), 130)
    assert [(one.top, one.height) for one in got] == [(0, 60), (60, 50), (110, 20)]


def test_columns_stand_beside_each_other_where_there_is_room(ui):
    """By shares of the width, and under one another in a narrower column."""
    for width, places in ((920, [Rect(0, 0, 600, 40), Rect(620, 0, 300, 40)]), (500, [Rect(0, 0, 500, 40)] * 2)):
        got = []
        column = Column(ui, width)
        with column.beside([2, 1], gap=20, least=800) as parts:
            for part in parts:
                part.block(40, got.append)
        column.paint((0, 0))
        if width == 500:
            places = [places[0], places[1].move(0, 60)]
        assert got == places


def test_a_fixed_strip_stands_at_either_side(ui):
    """`aside` gives one column its pixels, and the rest to the other; a low one may stand in the middle."""
    got = []
    column = Column(ui, 500)
    with column.aside(120, gap=20, right=True, down="middle") as (words, strip):
        words.block(100, got.append)
        strip.block(40, got.append)
    column.paint((0, 0))
    assert got == [Rect(0, 0, 360, 100), Rect(380, 30, 120, 40)]


def test_cells_of_a_row_are_as_high_as_the_highest(ui):
    """A grid makes as many columns as fit, and its rows lie apart."""
    column = Column(ui, 640)
    with column.grid(300, gap=10, most=3) as cell:
        for high in (44, 80, 60):
            with cell().card(f"{high}", lambda: None, fills=True) as inside:
                inside.block(high - 18, lambda _: None)
    ui.targets.clear()
    column.paint((0, 0))
    got = [target.whole for target in ui.targets]
    assert got == [Rect(0, 0, 315, 80), Rect(325, 0, 315, 80), Rect(0, 90, 315, 60)]
    assert column.height == 80 + 10 + 60


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("scale", [*SCALES, 3.0])
@pytest.mark.slow
def test_a_page_can_be_read_everywhere(size, scale):
    """No text of a column leaves its room, lies over another or is too pale, wherever it is scrolled to."""
    scene = Page(make_look(scale))
    faults = check_records(drawn(scene, size, scale), size)
    area = scene.ui.areas[0]
    for offset in range(0, area.furthest + 1, max(area.rect.height - 10, 1)):
        scene.ui.scroll_to("page", offset)
        faults += check_records(drawn(scene, size, scale), size)
    assert faults == []


def test_what_lies_in_a_column_can_be_pressed():
    """Buttons and cards do what they say, once each."""
    scene = Page(make_look())
    scene.draw(pygame.Surface((1440, 900)))
    click(scene, "One")
    click(scene, "card 2")
    assert scene.pressed == ["one", 2]


def test_a_rest_takes_the_height_that_is_left_and_scrolls_alone(ui):
    """What stands around a rest is drawn whole; the rest gets what is left, up to its content, and its own bar."""
    got = []
    column = Column(ui, 400)
    column.block(50, got.append)
    column.rest("list", lambda inside: inside.block(300, got.append), least=80)
    column.block(40, got.append)
    assert (column.height, column.whole) == (170, 390)
    column.paint((0, 0), 250)
    assert [(rect.top, rect.height) for rect in got] == [(0, 50), (50, 300), (210, 40)]
    assert [(area.name, area.rect.height, area.content) for area in ui.areas] == [("list", 160, 300)]


def test_a_rest_that_has_room_is_not_scrolled(ui):
    """With room for all of it there is no scrolled area, and no height is left unused but by a spring."""
    got = []
    column = Column(ui, 400)
    column.rest("list", lambda inside: inside.block(300, got.append), least=80)
    column.spring()
    assert column.paint((0, 0), 500) == 500
    assert [(rect.top, rect.height) for rect in got] == [(0, 300)]
    assert not ui.areas


def test_the_higher_rest_of_a_row_decides(ui):
    """Two rests beside each other share the height of the row, and each scrolls for itself."""
    column = Column(ui, 400)
    with column.beside([1, 1], gap=22) as (left, right):
        left.rest("left", lambda inside: inside.block(200, lambda _: None), least=50)
        right.rest("right", lambda inside: inside.block(500, lambda _: None), least=50)
    assert (column.height, column.whole) == (50, 500)
    column.paint((0, 0), 300)
    assert [(area.name, area.rect.height) for area in ui.areas] == [("right", 300)]


def test_a_narrow_page_is_as_legible_as_a_wide_one(ui):
    """A sentence of one style takes more lines in a narrower column, and the height follows."""
    heights = []
    for width in (200, 400, 800):
        column = Column(ui, width)
        column.text(WORDS, BODY)
        heights.append(column.height)
    assert heights == sorted(heights, reverse=True)
    assert heights[0] > heights[2]


def test_every_point_is_written(ui):
    """Sentences with a dot before each, one under another with a little air between."""
    one, two = Column(ui, 400), Column(ui, 400)
    one.points(["A word."])
    two.points(["A word.", "And another."])
    assert one.height > 15
    assert two.height == 2 * one.height + 6
