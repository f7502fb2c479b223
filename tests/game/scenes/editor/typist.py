"""Writes a whole sheet in the editor, by keys alone or by presses alone, and counts both."""

from dataclasses import dataclass, field

import pygame
from harness import key

from engine.sheet.clauses import write_where
from engine.sheet.groups import size_name
from engine.sheet.notation import Dragon, DragonOf, Number, Season, Wind
from engine.sheet.writing.document import Place

SMALL = (640, 400)
"""A window in which a frame is soon drawn."""


@dataclass
class Typist:
    """Sits at an editor. `letters` types letter by letter, else each field's text comes in one go."""

    scene: object
    letters: bool = False
    keys: int = 0
    presses: int = 0
    hands: dict[str, int] = field(default_factory=dict)
    """Keys or presses by the hand's name."""
    letters_of_hand: dict[str, str] = field(default_factory=dict)
    """For a letter of the hand, the one that the pad offered for it."""

    def __post_init__(self):
        self.surface = pygame.Surface(SMALL)
        self.show()

    def show(self):
        """The next frame, with what came from the background."""
        self.scene.desk.worker.poll()
        self.scene.draw(self.surface)

    # By keys.

    def type(self, text):
        """Letters into the field that has the focus."""
        self.keys += len(text)
        for part in text if self.letters else [text] * bool(text):
            self._event(pygame.event.Event(pygame.TEXTINPUT, text=part), frame=self.letters)

    def press_key(self, name):
        """One key."""
        self.keys += 1
        bare, place = name.removeprefix("ctrl+"), self.scene.writing.place
        self._event(key(bare, pygame.KMOD_CTRL if name != bare else 0), frame=False)
        if self.letters or name != "return" or self.scene.writing.place != place:
            self.show()  # the fields of one form are all there from its first frame on

    def _event(self, event, frame=True):
        following = self.scene.handle(event)
        assert following is self.scene, following
        if frame:
            self.show()

    def write_sheet(self, sheet):
        """From the name of the sheet to the points of the last hand."""
        self.type(sheet.name)
        self.press_key("return")
        self.press_key("ctrl+a")
        self.type(sheet.season)
        self.press_key("return")
        self.type(sheet.maker)
        for number, section in enumerate(sheet.sections):
            self.press_key("ctrl+e" if number else "return")
            self.press_key("ctrl+a")
            self.type(section.name)
            for hand in section.hands:
                before = self.keys
                self.press_key("return")
                self.write_hand(hand)
                self.hands[hand.name] = self.keys - before

    def write_hand(self, hand):
        """Field after field; Enter goes on."""
        self.type(hand.name)
        self.press_key("return")
        for number, line in enumerate(hand.lines):
            if number:
                self.press_key("ctrl+o")
                self.press_key("ctrl+a")
            self.type(line.text)
        self.press_key("return")
        self.type(hand.where_text)
        if hand.concealed:
            self.press_key("ctrl+h")
        self.press_key("return")
        self.type(str(hand.points))

    # By presses.

    def press(self, name):
        """One press on the target of that name; a new frame is only drawn if the last one doesn't show it."""
        found = self._target(name)
        if found is None or not found.enabled or name.startswith(("group", "figure", "count downwards")):
            self.show()
            found = self._target(name)
        assert found is not None, f"no “{name}” among {[one.name for one in self.scene.ui.targets]}"
        assert found.enabled, name
        self.presses += 1
        assert found.do() in (None, self.scene)

    def _target(self, name):
        return next((one for one in self.scene.ui.targets if one.name == name), None)

    def in_field(self, name):
        """A press into a field."""
        self.presses += 1
        self.scene.ui.to(name)
        self.scene.field = name
        self.show()

    def spell(self, name):
        """Letters by the pad; capitals only where the pad has them, so the rest of a name is typed."""
        self.scene.ui.to(self.scene.field)
        self.show()
        self._event(pygame.event.Event(pygame.TEXTINPUT, text=name))

    def begin_building(self, season):
        """The season is set, and an empty hand is open."""
        self.scene.go(Place())
        self.scene.typed_head("season", season)
        self.scene.new_hand()
        self.show()

    def build_hand(self, hand):
        """A hand in the form that is open, its name typed, all else pressed."""
        before = self.presses
        self.letters_of_hand = {}
        self.spell(hand.name)
        self.in_field("groups 0")
        for number, line in enumerate(hand.lines):
            if number:
                self.press("Or with other groups")
                for _ in hand.lines[number - 1].patterns:
                    self.press(f"group {number}.0")
                    self.show()
                    self.press("Take it out")
            for pattern in line.patterns:
                self.build_group(pattern)
        if hand.where:
            self.in_field("where")
            for token in tokens(write_where(hand.where)):
                token = self.letters_of_hand.get(token, token)
                self.press(f"{kind_of(token)} {token}")
        if hand.concealed:
            self.press("hold: concealed")
        self.in_field("points")
        for digit in str(hand.points):
            self.press(f"figure {digit}")
        self.hands[hand.name] = self.presses - before

    def build_group(self, pattern):
        """Size, suit, letter and number, those that are not set yet."""
        now, tile = self.scene.keys_set, pattern.tile
        if now.size != pattern.size and not isinstance(tile, Season):
            self.press(f"size {size_name(pattern.size)}")
        if isinstance(tile, (Number, DragonOf, Season)) and now.suit != tile.suit:
            self.press(f"suit {tile.suit}")
        if not isinstance(tile, Number):
            written = str(pattern).partition(" ")[2]
            if isinstance(tile, (Wind, Dragon)) and len(tile.name) == 1:
                written = f"{written[:-1]}{self._letter(tile.name, isinstance(tile, Wind))}"
            self.press(f"put {written}")
            return
        if now.letter != (tile.variable or ""):
            self.press(f"count from {tile.variable}" if tile.variable else "count in plain numbers")
        if tile.variable and (tile.offset < 0) != now.below and tile.offset:
            self.press("count downwards")
        self.press(f"tile {str(pattern).partition(' ')[2]}")

    def _letter(self, letter, wind):
        """The free letter that the pad offers for a wind or dragon, the same for each use in a hand."""
        if letter not in self.letters_of_hand:
            hand = self.scene.letters(self.scene.writing.form.lines)
            self.letters_of_hand[letter] = (hand.free_wind if wind else hand.free_dragon)[0]
        return self.letters_of_hand[letter]


def tokens(text):
    """The words of clauses, figures one by one."""
    for word in text.replace(";", " ;").replace("..", " .. ").split():
        yield from word if word.isdigit() else [word]


def kind_of(token):
    """Which row of the pad a word stands in."""
    if token.isdigit():
        return "figure"
    return "letter" if len(token) == 1 and token.isalpha() else "sign"
