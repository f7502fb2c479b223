"""What presses and keys do to the fields of the editor."""

from __future__ import annotations

from engine.invent.scenes import scene as scenery
from engine.sheet.groups import size_name
from engine.sheet.writing.group_list import parts_of, put_group, swap_groups, take_out
from engine.sheet.writing.hand_text import GROUPS, NAME, POINTS, WHERE
from engine.sheet.writing.suggest import NextWord, suggest_groups, suggest_where
from engine.sheet.writing.tokens import HandLetters, drop_token, put_token
from game.play.writing.sheet_writing import SheetWriting
from game.scenes.editor.form import Said
from game.scenes.editor.pads import GroupKeys
from game.ui.look import Look
from game.ui.scene import Scene

FAR = 1_000_000
"""A caret that stands at the end, however long the text."""


class EditorPresses(Scene):
    """The fields of a sheet being written, changed by typing and by pads."""

    def __init__(self, look: Look, writing: SheetWriting) -> None:
        super().__init__(look)
        self.writing = writing
        self.keys_set = GroupKeys()
        self.chosen: tuple[int, int] | None = None
        """The line and number of the group that the next press changes."""
        self.field = ""
        """The field that is worked on."""
        self.stacked = False
        """Whether the pad stands under the form."""
        self.to_be_seen = False
        """Whether the next frame must show the field that is worked on."""
        self._letters: tuple[tuple[str, ...], HandLetters] = (), HandLetters.of(())
        self.said: tuple[Said, ...] = ()
        """What the hand came to when it was read last."""

    def to_field(self, name: str) -> Scene | None:
        """The caret goes to the end of a field."""
        self.field, self.chosen = name, None
        self.ui.fields.put_caret(name, FAR)
        self.ui.to(name)
        self.to_be_seen = True
        return None

    def _again(self) -> Scene | None:
        """After a press by the mouse, typing goes on in the field that it changed."""
        if not self.ui.by_keyboard:
            self.ui.to(self.field)
        return None

    @property
    def line(self) -> int:
        """The line of groups that is worked on."""
        kind, _, number = self.field.partition(" ")
        return int(number) if kind == GROUPS and number.isdigit() else 0

    def text_of(self, name: str) -> str:
        """What stands in a field."""
        form, (kind, _, number) = self.writing.form, name.partition(" ")
        if kind == "line":
            rows = self.writing.piece.splitlines()
            return rows[int(number)] if int(number) < len(rows) else ""
        if form is not None:
            line = form.lines[min(int(number or self.line), len(form.lines) - 1)]
            return {NAME: form.name, WHERE: form.where, POINTS: form.points}.get(kind, line)
        return self.writing.keyed.value(kind) if self.writing.keyed is not None else ""

    def caret(self) -> int:
        """Where the caret stands in the field that is worked on."""
        return self.ui.fields.caret(self.field, self.text_of(self.field))

    # Typing.

    def typed(self, field: str, line: int, text: str) -> Scene | None:
        """A field of the hand has another text. A figure and a blank where a size belongs become the size's name."""
        self.chosen = None
        if field == GROUPS:
            name = f"{GROUPS} {line}"
            at = self.ui.fields.caret(name, text)
            begun = text[:at].rpartition(",")[2]
            if len(begun.strip()) == 1 and begun.endswith(" ") and begun.strip() in "123456":
                words = suggest_groups(text[: at - 1] + text[at:], at - 1, self.writing.season or "")
                if words:
                    text = words[0].text
                    self.ui.fields.put_caret(name, words[0].caret)
        self.writing.put(field, text, line, typed=True)
        return None

    def typed_head(self, key: str, text: str) -> Scene | None:
        """A field of the sheet or a section has another text."""
        self.writing.put_head(key, text)
        return None

    def typed_line(self, number: int, text: str) -> Scene | None:
        """A line that can't be read has another text."""
        self.writing.put_lines(number, text)
        return None

    # Pads.

    def set_keys(self, size: int = 0, suit: str = "", letter: str | None = None, below: bool = False) -> Scene | None:
        """Set something for the next group. A group that is chosen takes a new size at once."""
        now = self.keys_set
        now.size, now.suit = size or now.size, suit or now.suit
        if letter is not None:
            now.letter, now.below = letter, below
        if size and self.chosen is not None:
            parts = parts_of(self.text_of(f"{GROUPS} {self.chosen[0]}"))
            tile = parts[self.chosen[1]].text.partition(" ")[2].strip() if self.chosen[1] < len(parts) else ""
            if tile:
                return self.put_tile(tile)
        return self._again()

    def put_tile(self, tile: str) -> Scene | None:
        """A group of the size that is set goes into the line, or takes the place of the chosen one."""
        size = 1 if tile.startswith("season") else self.keys_set.size
        if self.writing.form is None:
            return None
        line, instead = self.chosen if self.chosen is not None else (self.line, None)
        if not self.field.startswith(GROUPS):
            self.field = f"{GROUPS} {line}"
            self.ui.fields.put_caret(self.field, FAR)
        name = f"{GROUPS} {line}"
        text = self.text_of(name)
        made, caret = put_group(text, f"{size_name(size)} {tile}", self.ui.fields.caret(name, text), instead)
        self.writing.put(GROUPS, made, line)
        self.field = name
        self.ui.fields.put_caret(name, caret)
        return self._again()

    def choose_group(self, line: int, number: int) -> Scene | None:
        """Choose a group for the next press to change; a second press on it lets it go again."""
        self.field = f"{GROUPS} {line}"
        self.chosen = None if self.chosen == (line, number) else (line, number)
        return None

    def take_out_group(self) -> Scene | None:
        """The chosen group goes."""
        if self.chosen is not None:
            line, number = self.chosen
            self._changed_line(line, take_out(self.text_of(f"{GROUPS} {line}"), number))
            self.chosen = None
        return self._again()

    def move_group(self, step: int) -> Scene | None:
        """The chosen group changes places with its neighbour."""
        if self.chosen is not None:
            line, number = self.chosen
            text = self.text_of(f"{GROUPS} {line}")
            if 0 <= number + step <= text.count(","):
                self._changed_line(line, swap_groups(text, number, step))
                self.chosen = (line, number + step)
        return None

    def _changed_line(self, line: int, made: tuple[str, int]) -> None:
        self.writing.put(GROUPS, made[0], line)
        self.ui.fields.put_caret(f"{GROUPS} {line}", made[1])

    def put_text(self, text: str) -> Scene | None:
        """Letters go in at the caret of the field."""
        self.ui.fields.type(self.field, text)
        return self._again()

    def drop_letter(self) -> Scene | None:
        """The letter before the caret goes."""
        text, at = self.text_of(self.field), self.caret()
        shown = self.ui.fields.shown.get(self.field)
        if at and shown is not None:
            self.ui.fields.put_caret(self.field, at - 1)
            shown.change(text[: at - 1] + text[at:])
        return self._again()

    def put_sign(self, sign: str) -> Scene | None:
        """A word goes behind the clauses."""
        return self._put_where(put_token(self.text_of(WHERE), sign))

    def drop_sign(self) -> Scene | None:
        """The last word of the clauses goes."""
        return self._put_where(drop_token(self.text_of(WHERE)))

    def _put_where(self, text: str) -> Scene | None:
        self.writing.put(WHERE, text)
        self.ui.fields.put_caret(WHERE, FAR)
        return self._again()

    def take(self, word: NextWord) -> Scene | None:
        """A suggestion is taken."""
        field = self.field
        self.writing.put(WHERE if field == WHERE else GROUPS, word.text, self.line)
        self.ui.fields.put_caret(field, word.caret)
        self.ui.to(field)
        return None

    def letters(self, lines: tuple[str, ...]) -> HandLetters:
        """The letters of a hand's lines, found once for each state of them."""
        if self._letters[0] != lines:
            self._letters = lines, HandLetters.of(lines)
        return self._letters[1]

    def words(self) -> tuple[NextWord, ...]:
        """What may come next where the caret stands."""
        form = self.writing.form
        if form is None:
            return ()
        if self.field == WHERE:
            return suggest_where(form.where, self.caret(), form.lines)
        return suggest_groups(self.text_of(f"{GROUPS} {self.line}"), self.caret(), self.writing.season or "")

    def free_name(self) -> Scene | None:
        """A name of an invented place or thing that this sheet does not use yet."""
        taken = {self.writing.name_at(place) for place, _ in self.writing.document.pieces()}
        kind = self.field
        names = scenery(len(taken) if kind == "sheet" else 1)
        offered = (names.title,) if kind == "sheet" else names.places if kind == "section" else names.names
        name = next((one for one in offered if one not in taken), f"Hand {len(taken)}")
        if kind == NAME:
            self.writing.put(NAME, name)
        else:
            self.writing.put_head(kind, name)
        self.ui.fields.put_caret(kind, FAR)
        return self._again()

    # The rest of the form.

    def set_concealed(self, concealed: bool) -> Scene | None:
        """How the hand is held."""
        self.writing.put_concealed(concealed)
        return None

    def turn_hold(self) -> Scene | None:
        """Concealed, or open again."""
        form = self.writing.form
        return self.set_concealed(not form.concealed) if form is not None else None

    def add_points(self, step: int) -> Scene | None:
        """More points, or fewer; from nothing it begins at 25."""
        text = self.text_of(POINTS).strip()
        points = int(text) + step if text.isascii() and text.isdigit() else 25
        self.writing.put(POINTS, str(min(max(points, 1), 1000)))
        self.ui.fields.put_caret(POINTS, FAR)
        return None

    def add_line(self) -> Scene | None:
        """One more line of groups, at first as the last one is."""
        self.writing.add_line()
        form = self.writing.form
        return self.to_field(f"{GROUPS} {len(form.lines) - 1}") if form is not None else None

    def drop_line(self, number: int) -> Scene | None:
        """Without a line of groups."""
        self.writing.drop_line(number)
        return self.to_field(f"{GROUPS} 0")
