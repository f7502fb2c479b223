"""The form of what is worked on: a hand's fields with its tiles, the head of a sheet or section, or plain lines."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import partial
from typing import Protocol

from engine.sheet.groups import HAND_TILES
from engine.sheet.writing.group_list import part_at, parts_of
from engine.sheet.writing.hand_text import GROUPS, NAME, POINTS, WHERE, HandText
from engine.sheet.writing.look import FormFault, text_faults, tiles_in
from engine.sheet.writing.suggest import NextWord
from engine.words import counted
from game.draw.shapes import Mark
from game.draw.theme import (
    BODY,
    BODY_BOLD,
    GREEN_TEXT,
    INK,
    SOFT,
    TOUCH,
    VERMILION_TEXT,
    Colour,
)
from game.play.writing.sheet_writing import SheetWriting
from game.scenes.editor.pads import WordUser, suggestion_keys
from game.scenes.hand import draw_groups
from game.ui.buttons import Press
from game.ui.column import Column
from game.ui.layout import Rect
from game.ui.scene import Scene
from game.ui.text_box import Span, text_box
from game.words.sheet import laid_groups
from game.words.writing import fault_words, named_fault, tiles_words, whole_words

TILE = 46
TWO = 400
"""Units of width from which points and hold stand side by side."""
_WORD = re.compile(r"[^\s,;]+")
Said = tuple[Mark, Colour, str]
"""A line of what a hand comes to: its mark, its colour, its words."""


class FormUser(WordUser, Protocol):
    """What the form asks of the scene that it stands on."""

    writing: SheetWriting
    chosen: tuple[int, int] | None
    field: str
    said: tuple[Said, ...]
    stacked: bool

    def words(self) -> tuple[NextWord, ...]:
        """What may come next where the caret stands."""

    def caret(self) -> int:
        """Where the caret stands in the field that is worked on."""

    def typed(self, field: str, line: int, text: str) -> Scene | None:
        """A field of the hand has another text."""

    def typed_head(self, key: str, text: str) -> Scene | None:
        """A field of the sheet or a section has another text."""

    def typed_line(self, number: int, text: str) -> Scene | None:
        """A line that can't be read has another text."""

    def entered(self, field: str) -> Scene | None:
        """Enter was pressed in a field."""

    def choose_group(self, line: int, number: int) -> Scene | None:
        """A group of tiles was pressed."""

    def take_out_group(self) -> Scene | None:
        """The chosen group goes."""

    def move_group(self, step: int) -> Scene | None:
        """The chosen group changes places with its neighbour."""

    def set_concealed(self, concealed: bool) -> Scene | None:
        """How the hand is held."""

    def add_points(self, step: int) -> Scene | None:
        """More points, or fewer."""

    def add_line(self) -> Scene | None:
        """One more line of groups."""

    def drop_line(self, number: int) -> Scene | None:
        """Without a line of groups."""

    def afresh(self) -> Scene | None:
        """An empty form in place of lines that can't be read."""

    def cut_again(self) -> Scene | None:
        """Read the lines again."""

    def take_good(self) -> Scene | None:
        """Back to the last copy without a fault."""


def hand_form(inside: Column, user: FormUser) -> None:
    """Name, groups with their tiles, clauses, hold and points, and what it all comes to."""
    form = user.writing.form
    if form is None:
        return
    _box(inside, user, NAME, "Name", form.name, "such as the name of a thing or a place")
    for number, line in enumerate(form.lines):
        _groups(inside, user, form, number, line)
    _line_buttons(inside, user, form)
    inside.gap(10)
    _box(inside, user, WHERE, "Clauses, if it has any", form.where, "such as n odd; x < y")
    with inside.beside([1, 1.2], least=TWO, gap=16) as (left, right):
        _points(left, user, form)
        _hold(right, user, form)
    inside.gap(12)
    _status(inside, user, form)


def _box(
    inside: Column, user: FormUser, field: str, title: str, text: str, hint: str, line: int = 0, longest: int = 2000
) -> None:
    name = f"{GROUPS} {line}" if field == GROUPS else field
    marks = _marks(user, field, line, text)
    inside.caption(title)
    inside.add(
        lambda at, width: text_box(
            inside.ui, at, width, name, text, partial(user.typed, field, line),
            hint=hint, enter=partial(user.entered, name), marks=marks, longest=longest, says=title,
        )
    )  # fmt: skip
    inside.gap(10)
    if user.stacked and user.field == name and field in (GROUPS, WHERE):
        suggestion_keys(inside, user, user.words())
        inside.gap(10)


def _groups(inside: Column, user: FormUser, form: HandText, number: int, line: str) -> None:
    season = user.writing.season or ""
    title = f"Groups: {tiles_words(tiles_in(line, season))}"
    if len(form.lines) > 1:
        title = f"Line {number + 1}. {title}"
    _box(inside, user, GROUPS, title, line, "such as quint a.n, pung b.n+1", number)
    whole = [index for index, part in enumerate(parts_of(line)) if part.whole]
    laid = user.writing.looks.laid(line, form.where, season)
    if not laid:
        return
    owners = [whole[min(index, len(whole) - 1)] for index, (_, groups) in enumerate(laid) for _ in groups]
    shown = laid_groups(laid, season)
    marked = [index for index, owner in enumerate(owners) if user.chosen == (number, owner)]
    ui = inside.ui

    def each(index: int, rect: Rect) -> None:
        owner = owners[index]
        says = f"change group {owner + 1}: {parts_of(line)[owner].text}"
        ui.target(f"group {number}.{index}", rect, partial(user.choose_group, number, owner), says, quiet=True)

    inside.add(lambda at, width: draw_groups(ui, shown, Rect(*at, width, 0), TILE, marked, each))
    if user.chosen is not None and user.chosen[0] == number:
        inside.gap(6)
        inside.text("Press a size or a tile to change the underlined group, or:", BODY, SOFT)
        inside.gap(6)
        last = len(parts_of(line)) - 1
        inside.buttons([
            Press("Take it out", user.take_out_group),
            Press("Move it left", partial(user.move_group, -1), enabled=user.chosen[1] > 0),
            Press("Move it right", partial(user.move_group, 1), enabled=user.chosen[1] < last),
        ])  # fmt: skip
    inside.gap(10)


def _line_buttons(inside: Column, user: FormUser, form: HandText) -> None:
    presses = [Press("Or with other groups", user.add_line, enabled=bool(form.lines[-1].strip()))]
    if len(form.lines) > 1:
        presses.append(Press(f"Without line {len(form.lines)}", partial(user.drop_line, len(form.lines) - 1)))
    inside.buttons(presses)


def _points(inside: Column, user: FormUser, form: HandText) -> None:
    ui = inside.ui
    marks = _marks(user, POINTS, 0, form.points)
    inside.caption("Points")
    side = ui.u(TOUCH)

    def paint(rect: Rect) -> None:
        for step, left in ((-1, rect.left), (1, rect.right - side)):
            says = "more points" if step > 0 else "fewer points"
            ui.button(
                Rect(left, rect.top, side, side), "+" if step > 0 else "−", partial(user.add_points, step), name=says
            )
        gap = ui.u(8)
        text_box(
            ui, (rect.left + side + gap, rect.top), rect.width - 2 * (side + gap), POINTS, form.points,
            partial(user.typed, POINTS, 0), enter=partial(user.entered, POINTS), marks=marks, longest=6, says="points",
        )  # fmt: skip

    inside.block(TOUCH, paint)


def _hold(inside: Column, user: FormUser, form: HandText) -> None:
    options = ((False, "open"), (True, "concealed"))
    inside.caption("Held")
    inside.add(lambda at, width: inside.ui.choice(at, width, "hold", options, form.concealed, user.set_concealed))


def _status(inside: Column, user: FormUser, form: HandText) -> None:
    """What the hand comes to; while it is being read, what it came to before."""
    place = user.writing.place
    if user.writing.look(place) is not None:
        user.said = _said(user, form)
    for mark, colour, text in user.said:
        _line(inside, mark, colour, text)
        inside.gap(6)


def _said(user: FormUser, form: HandText) -> tuple[Said, ...]:
    place = user.writing.place
    faults = [fault for fault in user.writing.faults(place) if not _being_typed(user, form, fault)]
    hand = user.writing.hand(place)
    if hand is not None and not faults:
        return (("tick", GREEN_TEXT, whole_words(hand)),)
    said: list[Said] = []
    for fault in faults:
        rest = _tiles_to_go(user, form, fault)
        if rest:
            said.append(("dot", SOFT, rest))
        elif fault.field and not _value(form, fault).strip():
            said.append(("dot", SOFT, fault_words(fault, form)))
        else:
            said.append(("bang", VERMILION_TEXT, named_fault(form.name.strip(), fault_words(fault, form))))
    return tuple(dict.fromkeys(said)) or (("dot", SOFT, "Go on with this group."),)


def _value(form: HandText, fault: FormFault) -> str:
    return {NAME: form.name, WHERE: form.where, POINTS: form.points, "hold": "open"}.get(
        fault.field, form.lines[min(fault.line, len(form.lines) - 1)]
    )


def _tiles_to_go(user: FormUser, form: HandText, fault: FormFault) -> str:
    """Where all groups of a line can be read but are no fourteen tiles: how many are to come, or too many."""
    line = _value(form, fault)
    if fault.field != GROUPS or fault.at or not all(part.whole for part in parts_of(line)):
        return ""
    tiles = tiles_in(line, user.writing.season or "")
    if not tiles or tiles == HAND_TILES:
        return ""
    if tiles < HAND_TILES:
        return f"{tiles_words(tiles)}: {HAND_TILES - tiles} to go."
    return f"{tiles_words(tiles)}: take {counted(tiles - HAND_TILES, 'tile')} out."


def _being_typed(user: FormUser, form: HandText, fault: FormFault) -> bool:
    """Whether a fault lies in the group at the caret, which is not finished yet."""
    if fault.field != GROUPS or user.field != f"{GROUPS} {fault.line}":
        return False
    line, caret = _value(form, fault), user.caret()
    parts = parts_of(line)
    number = part_at(line, caret)
    return (
        number < len(parts)
        and part_at(line, fault.at) == number
        and caret >= parts[number].end
        and not parts[number].whole
    )


def _marks(user: FormUser, field: str, line: int, text: str) -> list[Span]:
    """What is underlined in a field: the words at which its faults stand."""
    form = user.writing.form
    found = []
    for fault in user.writing.faults(user.writing.place):
        here = (fault.field, fault.line) == (field, line) and form is not None and text.strip()
        if here and form is not None and not _being_typed(user, form, fault) and not _tiles_to_go(user, form, fault):
            word = _WORD.match(text, fault.at)
            found.append((fault.at, word.end() if word else min(fault.at + 1, len(text))))
    return found


def _line(inside: Column, mark: Mark, colour: Colour, text: str) -> None:
    """A mark and a sentence beside it."""
    ui = inside.ui
    indent = ui.u(28)

    def paint(rect: Rect) -> None:
        ui.mark(mark, (rect.left + ui.u(9), rect.top + ui.line(BODY) // 2), 15, colour)
        ui.paragraph(text, (rect.left + indent, rect.top), rect.width - indent, BODY, INK if mark == "dot" else colour)

    inside.put(ui.tall(text, inside.width - indent, BODY), paint)


HEADS = {
    "sheet": ("Name of the sheet", "such as the name of your group"),
    "season": ("Season", "its year, such as 2027"),
    "maker": ("Made by, if it is to be said", ""),
    "section": ("Name of the section", "such as the name of a place"),
}


def head_form(inside: Column, user: FormUser) -> None:
    """The fields of the sheet, or of a section."""
    keyed = user.writing.keyed
    if keyed is None:
        return
    section = user.writing.place.section >= 0
    for key in ("section",) if section else ("sheet", "season", "maker"):
        title, hint = HEADS[key]
        inside.caption(title)
        inside.add(
            lambda at, width, key=key, hint=hint, title=title: text_box(  # type: ignore[misc]
                inside.ui, at, width, key, keyed.value(key), partial(user.typed_head, key),
                hint=hint, enter=partial(user.entered, key), longest=4 if key == "season" else 60, says=title,
            )
        )  # fmt: skip
        inside.gap(12)
    if section:
        inside.buttons([Press("New hand in it", partial(user.entered, "section"))])
    else:
        inside.text("A name and the year are needed before anything can be played.", BODY, SOFT)
        inside.gap(10)
        inside.buttons([Press("Next: the first section", partial(user.entered, "maker"))])


def lines_form(inside: Column, user: FormUser) -> None:
    """Lines that no form has fields for, to be mended as they stand, with what is wrong."""
    writing = user.writing
    text = writing.piece
    look = writing.look(writing.place) if writing.place.hand >= 0 else None
    faults = [(one.offset, one.message) for one in look.faults] if look is not None else list(text_faults(text))
    what = "hand" if writing.place.hand >= 0 else "section" if writing.place.section >= 0 else "sheet’s head"
    inside.text(f"These lines of the file can’t be shown as a {what}. Mend them here:", BODY_BOLD)
    inside.gap(10)
    begun = 0
    for number, line in enumerate(text.splitlines(keepends=True)):
        here = [at - begun for at, _ in faults if begun <= at < begun + len(line)]
        shown = "".join(char if char.isprintable() or char == "\t" else "?" for char in line.rstrip("\r\n"))
        _text_line(inside, user, number, shown.replace("\t", "    "), here)
        begun += len(line)
    for _, message in faults or [(0, "they hold something that the form has no field for")]:
        _line(inside, "bang", VERMILION_TEXT, f"{message[:1].upper()}{message[1:].rstrip('.')}.")
        inside.gap(6)
    inside.gap(8)
    presses = [Press("Read them again", user.cut_again, main=False), Press("Start it afresh", user.afresh)]
    if writing.good:
        presses.append(Press("Take the last copy without a fault", user.take_good))
    inside.buttons(presses)


def _text_line(inside: Column, user: FormUser, number: int, line: str, faults: Sequence[int]) -> None:
    marks = [(min(at, max(len(line) - 1, 0)), len(line)) for at in faults]
    inside.add(
        lambda at, width: text_box(
            inside.ui, at, width, f"line {number}", line, partial(user.typed_line, number),
            enter=user.cut_again, marks=marks, says=f"line {number + 1}",
        )
    )  # fmt: skip
    inside.gap(4)
