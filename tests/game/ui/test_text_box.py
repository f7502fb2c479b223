"""A text field of several lines: it breaks between words, marks faults, and the mouse sets its caret."""

import pygame
from harness import check_records, click, drawn, make_look, press, write

from game.ui.field import nearest_gap
from game.ui.scene import Scene
from game.ui.text_box import broken, text_box

LONG = "quint a.n, kong b.n+2, pung c.n+5, pair flower and a good deal more that one line does not hold at all"


class Box(Scene):
    """One box and one plain field."""

    def __init__(self):
        super().__init__(make_look())
        self.text, self.plain = LONG, "lower"

    def paint(self, ui):
        rest = ui.header("Box", "", self.back)
        text_box(ui, rest.topleft, ui.u(300), "box", self.text, self.write, marks=[(7, 10)])
        ui.field(pygame.Rect(rest.left, rest.top + ui.u(140), ui.u(200), ui.u(44)), "plain", self.plain, self.put)

    def write(self, text):
        self.text = text

    def put(self, text):
        self.plain = text


def test_lines_are_the_text_again():
    """The lines join up to the text, and none is wider than the room, even where one word is."""
    for text in (LONG, "", "x" * 50, "a " * 40, "  two  blanks  ", "word " + "y" * 33):
        for room in (3, 10, 24):
            lines = broken(text, room, len)
            assert "".join(text[start:end] for start, end in lines) == text
            assert all(len(text[start:end].rstrip()) <= room for start, end in lines)


def test_the_gap_nearest_to_a_point():
    """Left of the middle of a letter is before it, right of it behind it."""
    assert [nearest_gap("abc", x, lambda part: 10 * len(part)) for x in (-5, 4, 6, 14, 16, 29, 99)] == [
        0,
        0,
        1,
        1,
        2,
        3,
        3,
    ]


def test_the_box_is_drawn_within_itself():
    """Nothing is cut, at any scale."""
    for scale in (1.0, 2.0):
        assert check_records(drawn(Box(), (1024, 640), scale), (1024, 640)) == []


def test_the_mouse_sets_the_caret():
    """A press on the box puts the caret there, and letters go in there; the same in a plain field."""
    scene = press(Box(), "f2")
    click(scene, "box")
    target = next(one for one in scene.ui.targets if one.name == "box")
    at = scene.ui.fields.shown["box"].locate(target.rect.center)
    assert 0 < at < len(LONG)
    write(scene, "#")
    assert scene.text == f"{LONG[:at]}#{LONG[at:]}"
    scene.ui.fields.put_caret("box", 0)
    press(scene, "right")
    write(scene, "!")
    assert scene.text.startswith("q!")
    end = (target.rect.right - 2, target.rect.bottom - 2)
    assert scene.ui.fields.shown["box"].locate(end) == len(scene.text)
    click(scene, "plain")
    scene.ui.fields.point("plain", (0, 0))
    write(scene, "x")
    assert scene.plain == "xlower"


def test_the_box_shows_its_focus_by_its_edge():
    """Blue with the focus, brown without, as a field of one line does."""
    scene = press(Box(), "f2")
    rect = next(target.rect for target in scene.ui.targets if target.name == "box")
    surface = pygame.Surface((1440, 900))
    for name, colour in (("plain", (133, 122, 102)), ("box", (0, 114, 178))):
        click(scene, name)
        scene.draw(surface)
        assert surface.get_at((rect.centerx, rect.top))[:3] == colour
