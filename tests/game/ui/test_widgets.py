"""The widget kit: focus, pressing, scrolling, fields, popups."""

import textwrap
from functools import partial

import pygame
import pytest
from harness import SCALES, SIZES, check_records, click, drawn, make_look, press, small_targets, write

import game.ui
from engine.tiles import NAMES
from game.draw.theme import BODY, TOUCH, Style
from game.draw.tiles import Face, height_for
from game.scenes.gallery import Gallery
from game.ui.buttons import Press
from game.ui.layout import Rect, Space, columns, flow, grid, inset
from game.ui.popups import KeyHelp, Question
from game.ui.scene import Scene


class Counter(Scene):
    """A scene for tests: buttons that count, a field, and a long scrolled list."""

    def __init__(self, look):
        super().__init__(look)
        self.pressed = []
        self.text = ""
        self.gone_back = False

    def back(self):
        self.gone_back = True
        return

    def paint(self, ui):
        rest = Space(ui.header("Count", "", self.back))
        row = columns(rest.top(ui.u(44), ui.u(10)), [1, 1, 1], ui.u(10))
        ui.button(row[0], "One", lambda: self.press("one"), key="o")
        ui.button(row[1], "Two", lambda: self.press("two"), main=True)
        ui.button(row[2], "Three", lambda: self.press("three"), enabled=False, key="t")
        ui.field(rest.top(ui.u(44), ui.u(10)), "field", self.text, self.change, longest=12)
        ui.scroll("list", rest.rect, lambda area: self.rows(ui, area))

    def rows(self, ui, area):
        y = area.top
        for index in range(40):
            ui.button(Rect(area.left, y, area.width, ui.u(44)), f"Row {index}", lambda i=index: self.press(i))
            y += ui.u(50)
        return y

    def press(self, what):
        self.pressed.append(what)

    def change(self, text):
        self.text = text


@pytest.fixture
def counter():
    """A counter that has been drawn once."""
    scene = Counter(make_look())
    scene.draw(pygame.Surface((1440, 900)))
    return scene


def test_tab_visits_what_is_enabled_and_goes_around(counter):
    """Tab goes from button to button in drawing order and skips one that can't be used."""
    press(counter, "tab", "tab", "tab", "tab")
    assert counter.ui.focus == "field"
    press(counter, "shift+tab", "shift+tab", "shift+tab", "shift+tab")
    assert counter.ui.focus == "Row 39"


def test_enter_presses_the_focus_else_the_main_button(counter):
    """Without a focus Enter does the main thing; with one it presses that."""
    press(counter, "return")
    press(counter, "tab", "tab", "return", "space")
    assert counter.pressed == ["two", "one", "one"]


def test_keys_press_their_targets_unless_disabled_or_typing(counter):
    """A target's key works from anywhere, but not while it is disabled or a field has the focus."""
    press(counter, "o", "t")
    click(counter, "field")
    press(counter, "o")
    write(counter, "o")
    assert counter.pressed == ["one"]
    assert counter.text == "o"


def test_arrows_move_to_what_lies_there(counter):
    """Arrows go to the neighbour in that direction."""
    press(counter, "tab", "tab", "right")
    assert counter.ui.focus == "Two"
    press(counter, "down")
    assert counter.ui.focus == "field"


def test_escape_goes_back(counter):
    """Esc is the way back on every scene."""
    press(counter, "escape")
    assert counter.gone_back


def test_focus_scrolls_into_sight(counter):
    """A focused row of a scrolled list can be seen."""
    press(counter, "shift+tab")
    counter.draw(pygame.Surface((1440, 900)))
    target = next(target for target in counter.ui.targets if target.name == "Row 39")
    assert target.rect == target.whole


def wheel(scene, notches):
    """The wheel turned, `notches` towards the player; SDL calls that negative."""
    scene.handle(pygame.event.Event(pygame.MOUSEWHEEL, x=0, y=-notches, precise_y=-float(notches)))
    scene.draw(pygame.Surface((1440, 900)))


def test_the_wheel_scrolls_what_lies_under_it(counter, monkeypatch):
    """64 units a notch, no further than the ends; elsewhere on the screen it moves the first area that can move."""
    monkeypatch.setattr(pygame.mouse, "get_pos", lambda: (700, 700))
    wheel(counter, 2)
    assert counter.ui.offset("list") == 128
    wheel(counter, -1)
    assert counter.ui.offset("list") == 64
    wheel(counter, 500)
    area = counter.ui.areas[0]
    assert counter.ui.offset("list") == area.content - area.rect.height
    monkeypatch.setattr(pygame.mouse, "get_pos", lambda: (5, 5))
    wheel(counter, -500)
    assert counter.ui.offset("list") == 0


def mouse(scene, what, at):
    """The mouse button goes down or up at a point, or the mouse moves there."""
    kind = {"down": pygame.MOUSEBUTTONDOWN, "up": pygame.MOUSEBUTTONUP, "move": pygame.MOUSEMOTION}[what]
    rest = {"rel": (0, 0), "buttons": (1, 0, 0)} if what == "move" else {"button": 1}
    scene.handle(pygame.event.Event(kind, pos=at, **rest))
    scene.draw(pygame.Surface((1440, 900)))


def test_the_bar_is_dragged(counter):
    """From the top to the bottom of its track the list goes from end to end; let go, it stays and presses nothing."""
    area = counter.ui.areas[0]
    x, top, bottom = area.rect.right - 8, area.rect.top + 1, area.rect.bottom - 1
    mouse(counter, "down", (x, top))
    assert counter.ui.offset("list") == 0
    mouse(counter, "move", (x, (top + bottom) // 2))
    assert abs(counter.ui.offset("list") - area.furthest / 2) <= 3
    mouse(counter, "move", (x, bottom + 300))
    assert counter.ui.offset("list") == area.furthest
    mouse(counter, "up", (x, bottom))
    mouse(counter, "move", (x, top))
    assert counter.ui.offset("list") == area.furthest
    assert counter.pressed == []


def test_a_field_shows_its_focus_by_its_edge(counter):
    """Blue and thicker with the focus, brown without."""
    rect = next(target.rect for target in counter.ui.targets if target.name == "field")
    surface = pygame.Surface((1440, 900))
    for focused, colour in ((False, (133, 122, 102)), (True, (0, 114, 178))):
        if focused:
            click(counter, "field")
        counter.draw(surface)
        assert surface.get_at((rect.centerx, rect.top))[:3] == colour


def test_ctrl_a_marks_all_that_stands_in_a_field(counter):
    """What is typed next takes its place; a deletion empties it; a movement ends the marking."""
    click(counter, "field")
    write(counter, "abcd")
    press(counter, "ctrl+a")
    write(counter, "xy")
    assert counter.text == "xy"
    press(counter, "ctrl+a", "backspace")
    assert counter.text == ""
    write(counter, "pq")
    press(counter, "ctrl+a", "left")
    write(counter, "r")
    assert counter.text == "prq"
    press(counter, "ctrl+a", "end")
    write(counter, "s")
    assert counter.text == "prqs"
    press(counter, "ctrl+a")
    counter.ui.fields.put_caret("field", 0)
    write(counter, "o")
    assert counter.text == "oprqs"
    press(counter, "ctrl+a", "ctrl+x")
    assert counter.text == ""


def test_a_full_field_can_be_replaced_by_a_marked_text(counter):
    """The limit counts what is left, not what goes."""
    click(counter, "field")
    write(counter, "x" * 12)
    press(counter, "ctrl+a")
    write(counter, "y" * 12)
    assert counter.text == "y" * 12


def test_a_popup_that_moves_asks_for_another_frame():
    """While something glides in a popup, it is drawn again."""

    class Gliding(Question):
        def paint(self, ui):
            super().paint(ui)
            ui.glide("it", self.wanted)

    look = make_look()
    look.motion = True
    popup = Gliding(Counter(look), "Sure?", "It moves.", [])
    popup.wanted = 0.0
    popup.draw(pygame.Surface((1440, 900)))
    assert not popup.dirty
    popup.wanted = 1.0
    popup.draw(pygame.Surface((1440, 900)))
    assert popup.dirty


def test_wheel_and_keys_scroll_within_bounds(counter):
    """End and Home reach the ends and stop there."""
    press(counter, "end")
    area = counter.ui.areas[0]
    assert area.offset == area.furthest > 0
    press(counter, "home")
    assert counter.ui.areas[0].offset == 0


def test_hidden_rows_cannot_be_clicked(counter):
    """A row scrolled out of sight takes no click, a visible one does."""
    with pytest.raises(KeyError):
        click(counter, "Row 39")
    click(counter, "Row 2")
    assert counter.pressed == [2]


def test_press_needs_down_and_up_on_the_same_target(counter):
    """Letting the button go elsewhere presses nothing."""
    one, two = (next(t for t in counter.ui.targets if t.name == name).rect.center for name in ("One", "Two"))
    counter.handle(pygame.event.Event(pygame.MOUSEBUTTONDOWN, pos=one, button=1))
    counter.handle(pygame.event.Event(pygame.MOUSEBUTTONUP, pos=two, button=1))
    assert counter.pressed == []


def test_field_edits_at_the_caret_and_keeps_its_limit(counter):
    """Typing, moving, deleting; control characters and what exceeds the limit are left out."""
    click(counter, "field")
    write(counter, "abc\0d")
    press(counter, "left", "backspace", "home", "delete")
    assert counter.text == "bd"
    write(counter, "x" * 50)
    assert len(counter.text) == 12


def test_popup_hides_its_parents_texts_and_returns(counter):
    """A popup's frame records its own texts only; Esc gives the parent back."""
    popup = Question(counter, "Sure?", "It can’t be undone.", [Press("Do it", lambda: None)])
    texts = [one.text for one in drawn(popup, (1440, 900), 1.0)]
    assert "Sure?" in texts
    assert "Row 1" not in texts
    assert press(popup, "escape") is counter


def test_key_help_lists_the_screens_own_keys(counter):
    """The list of keys is made from the targets themselves."""
    texts = [one.text for one in drawn(KeyHelp(counter), (1440, 900), 1.0)]
    assert "One" in texts
    assert "O" in texts


@pytest.mark.parametrize("scale", [*SCALES, 3.0])
@pytest.mark.slow
def test_gallery_texts_are_legible_everywhere(scale):
    """All widgets and tiles: contrast, room and overlap at every size and scale, at every place of the scroll."""
    scene = Gallery(make_look(scale))
    for size in SIZES:
        scene.ui.scroll_to("all", 0)
        faults = check_records(drawn(scene, size, scale), size)
        area = scene.ui.areas[0]
        for offset in range(max(area.rect.height - 10, 1), area.furthest + 1, max(area.rect.height - 10, 1)):
            scene.ui.scroll_to("all", offset)
            faults += check_records(drawn(scene, size, scale), size)
        assert faults == [], size


@pytest.mark.parametrize("scale", [*SCALES, 3.0])
@pytest.mark.slow
def test_popups_are_legible_everywhere(scale):
    """Question and key list at the smallest window."""
    scene = Gallery(make_look(scale))
    scene.draw(pygame.Surface((1024, 640)))
    text = "A long sentence that has to be wrapped more than once in any popup, at least at a large scale. " * 3
    for popup in (Question(scene, "A question with a long title", text, [Press("Yes", lambda: None)]), KeyHelp(scene)):
        assert check_records(drawn(popup, (1024, 640), scale), (1024, 640)) == []


@pytest.mark.slow
def test_widgets_are_large_enough_to_touch():
    """Every widget of the kit is at least 44 units each way; the tiles of a rack keep their own proportions."""
    scene = Gallery(make_look())
    drawn(scene, (1440, 900), 1.0)
    assert [name for name in small_targets(scene) if not name.startswith("rack")] == []


def test_harness_sees_bad_text():
    """The judge itself: poor contrast, text out of its room and overlapping texts are each found."""

    class Bad(Scene):
        def paint(self, ui):
            ui.text("pale", (10, 10), BODY, (230, 225, 215))
            with ui.within(Rect(100, 100, 20, 20)):
                ui.text("too wide for it", (100, 100), BODY)
            ui.text("one", (300, 300), BODY)
            ui.text("two", (303, 302), BODY)
            ui.text("beyond", (1000, 620), BODY)

    faults = check_records(drawn(Bad(make_look()), (1024, 640), 1.0), (1024, 640))
    assert any("pale" in fault for fault in faults)
    assert any("leaves its room" in fault for fault in faults)
    assert any("overlap" in fault for fault in faults)
    assert any("leaves the window" in fault for fault in faults)


def test_long_text_is_wrapped_or_shrunk_never_cut():
    """Every word of a text too long for its rectangle is still drawn, inside the rectangle."""
    rect = Rect(50, 50, 180, 70)
    long = "Every word of this must be readable in the small room that it was given"

    class Tight(Scene):
        def paint(self, ui):
            with ui.within(rect):
                ui.fitted(long, rect, BODY)

    records = drawn(Tight(make_look()), (1024, 640), 1.0)
    assert " ".join(one.text for one in records) == long
    assert check_records(records, (1024, 640)) == []


def test_words_are_not_broken_where_smaller_letters_help():
    """A label in a narrow button is set smaller before a word of it is cut in two; a path breaks behind a slash."""
    fonts = make_look().letters.fonts
    rect = Rect(0, 0, 88, 60)

    class Narrow(Scene):
        def paint(self, ui):
            ui.fitted("Concealed exposures", rect, Style(20, bold=True))

    assert fonts.width("Concealed", 20, True) > 88
    lines = [one.text for one in drawn(Narrow(make_look()), (1024, 640), 1.0)]
    assert lines == ["Concealed", "exposures"]
    path = "/home/someone/a-folder-with-a-long-name/deal.txt"
    pieces = fonts.wrap(path, 17, False, 200)
    assert "".join(pieces) == path
    assert all(piece[-1] in "/-_." for piece in pieces[:-1])


def test_layout_cuts_add_up():
    """Strips cut from a space and columns of a rectangle never overlap nor leave it."""
    space = Space(Rect(10, 20, 300, 200))
    parts = [space.top(50, 5), space.bottom(30, 5), space.left(60), space.right(40, 10), space.rect]
    for index, one in enumerate(parts):
        assert Rect(10, 20, 300, 200).contains(one)
        assert one.collidelist(parts[index + 1 :]) == -1
    assert columns(Rect(0, 0, 100, 10), [1, 1, 1], 5)[-1].right == 100
    assert [rect.topleft for rect in flow([(60, 10)] * 3, (0, 0), 130, (5, 5))] == [(0, 0), (65, 0), (0, 15)]
    assert [rect.topleft for rect in grid(3, Rect(0, 0, 210, 10), 100, 10)] == [(0, 0), (110, 0), (0, 20)]


@pytest.mark.slow
def test_the_example_in_the_documentation_works():
    """The scene in the docstring of `game.ui` draws without a fault and does what it says."""
    lines = game.ui.__doc__.split("\n")
    start = next(index for index, line in enumerate(lines) if line.startswith("    class"))
    end = next(index for index, line in enumerate(lines) if line.startswith("`Ui`"))
    names = {
        "Scene": Scene, "Space": Space, "columns": columns, "Rect": Rect, "inset": inset, "height_for": height_for,
        "Face": Face, "partial": partial, "NAMES": NAMES, "BODY": BODY, "TOUCH": TOUCH, "Question": Question,
        "Press": Press,
    }  # fmt: skip
    exec(textwrap.dedent("\n".join(lines[start:end])), names)
    before = Gallery(make_look())
    scene = names["Rack"](before, [0, 10, 20, 34, 35], before)
    for size in SIZES:
        for scale in SCALES:
            assert check_records(drawn(scene, size, scale), size) == []
    assert press(scene, "tab", "tab", "return") is scene
    assert len(scene.kinds) == 4
    popup = press(scene, "w")
    assert press(popup, "tab", "return") is scene
    assert len(scene.kinds) == 3
    assert press(scene, "escape") is before
