"""One sheet being written: its document, undo and redo, what its hands come to, and keeping all of it."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from functools import partial
from pathlib import Path

from engine.sheet.model import Hand, Sheet
from engine.sheet.reader import read
from engine.sheet.writing.cutting import cut
from engine.sheet.writing.document import Document, Place, dash_indent
from engine.sheet.writing.hand_text import NAME, HandText, new_hand, new_section, new_sheet
from engine.sheet.writing.history import History
from engine.sheet.writing.keyed import Keyed
from engine.sheet.writing.look import FormFault, HandLook
from engine.sheet.writing.whole import Looks, Playable, playable
from engine.store.files import write_safely
from game.play.writing.drafts import About, Drafts, mark_of, read_text
from game.play.writing.keeping import Keeping
from game.play.writing.states import HandState, PlacedFault

TWICE = "there is a hand of this name on this sheet already; give it another name"


class SheetWriting:
    """What the editor works on. Every change is kept within a second, and can be undone."""

    def __init__(self, drafts: Drafts, draft: str, text: str, about: About) -> None:
        self.drafts = drafts
        self.draft = draft
        self.about = about
        found = cut(text)
        self.rewritten = found.rewritten
        place = Place(about.section, about.hand)
        if not found.document.has(place):
            place = next((place for place, _ in found.document.hands()), Place())
        self.history = History(found.document, place)
        self.looks = Looks()
        self.keeping = Keeping()
        self._twice_of: tuple[Document, frozenset[Place]] | None = None
        self._good = drafts.good(draft)

    # The present state.

    @property
    def document(self) -> Document:
        """The sheet as it stands."""
        return self.history.now.document

    @property
    def place(self) -> Place:
        """What is worked on: a hand, a section, or the head of the sheet."""
        return self.history.now.place

    @property
    def season(self) -> str | None:
        """The season, None where there is none yet."""
        return self.looks.season(self.document)

    @property
    def piece(self) -> str:
        """The text of what is worked on."""
        return self.document.piece(self.place)

    @property
    def form(self) -> HandText | None:
        """The fields of the hand that is worked on; None where it is no hand, or only its lines can be shown."""
        return self.looks.form(self.piece) if self.place.hand >= 0 else None

    @property
    def keyed(self) -> Keyed | None:
        """The fields of the head or section that is worked on."""
        return self.looks.head(self.piece) if self.place.hand < 0 else None

    @property
    def name(self) -> str:
        """The sheet's name."""
        return self.name_at(Place())

    def name_at(self, place: Place) -> str:
        """The name of a hand, of a section, or of the sheet; empty where there is none, or it can't be read."""
        text = self.document.piece(place)
        if place.hand >= 0:
            form = self.looks.form(text)
            return form.name.strip() if form is not None else ""
        keyed = self.looks.head(text)
        return keyed.value("section" if place.section >= 0 else "sheet").strip() if keyed is not None else ""

    def look(self, place: Place) -> HandLook | None:
        """What a hand came to; None where it is not looked at yet."""
        return self.looks.known(self.document.piece(place), self.season)

    def hand(self, place: Place) -> Hand | None:
        """The hand at a place, if it is whole."""
        look = self.look(place)
        return look.hand if look is not None else None

    def _twice(self) -> frozenset[Place]:
        """Hands that bear the name of an earlier one; worked out once for each state."""
        if self._twice_of is None or self._twice_of[0] is not self.document:
            self._twice_of = self.document, self.looks.names_twice(self.document)
        return self._twice_of[1]

    def state(self, place: Place) -> HandState:
        """How far a hand is."""
        form, look = self.looks.form(self.document.piece(place)), self.look(place)
        if form is not None and not any(line.strip() for line in form.lines):
            return HandState.EMPTY
        if look is None:
            return HandState.UNREAD
        return HandState.WHOLE if look.hand is not None and place not in self._twice() else HandState.FAULTY

    def faults(self, place: Place) -> tuple[FormFault, ...]:
        """What is wrong with a hand, as far as it was looked at."""
        look = self.look(place)
        found = look.faults if look is not None else ()
        if place in self._twice():
            found = (*found, FormFault(NAME, 0, 0, TWICE, 0))
        return found

    def all_faults(self) -> tuple[PlacedFault, ...]:
        """Every fault of every hand that is begun, in the order of the sheet."""
        return tuple(
            PlacedFault(place, self.name_at(place), fault)
            for place, _ in self.document.hands()
            if self.state(place) is HandState.FAULTY
            for fault in self.faults(place)
        )

    @property
    def counts(self) -> tuple[int, int]:
        """How many hands are whole, and how many there are."""
        return len(self.looks.whole(self.document)), sum(1 for _ in self.document.hands())

    # Looking at hands.

    def unread(self) -> tuple[str, ...]:
        """Texts of hands that are not looked at yet, the one that is worked on first."""
        texts = [text for _, text in self.document.hands() if self.looks.known(text, self.season) is None]
        here = self.piece if self.place.hand >= 0 else ""
        return tuple(sorted(dict.fromkeys(texts), key=lambda text: text != here))

    def learn(self, text: str, season: str | None, look: HandLook) -> None:
        """A hand was looked at."""
        self.looks.learn(text, season, look)
        if not self.unread():
            self._touch()  # now it is known how many hands are whole

    # Changes.

    def change(self, document: Document, place: Place | None = None, joins: str = "") -> None:
        """A new state, to be kept."""
        self.history.change(document, self.place if place is None else place, joins)
        self.about = replace(self.about, done=False)
        self._touch()

    def go(self, place: Place) -> None:
        """Work on something else."""
        self.history.go(place)
        self._touch()

    def put(self, field: str, value: str, line: int = 0, typed: bool = False) -> None:
        """Another value for a field of the hand that is worked on. What is typed on in one field, up to the next comma
        or semicolon, is one step of undo; each other change is one."""
        form = self.form
        if form is not None:
            parts = value.count(",") + value.count(";") if field != NAME else 0
            self._put(form.put(field, value, line), f"{field} {line} {parts}" if typed else "")

    def put_head(self, key: str, value: str) -> None:
        """Another value for a field of the head or section that is worked on."""
        keyed = self.keyed
        if keyed is not None:
            gone = key == "maker" and not value
            self._put(keyed.remove(key) if gone else keyed.change(key, value), key)

    def put_lines(self, number: int, value: str) -> None:
        """Another text for a line of a piece that can only be shown as lines."""
        lines = self.piece.splitlines(keepends=True)
        ending = lines[number][len(lines[number].rstrip("\r\n")) :]
        lines[number] = value + ending
        self._put("".join(lines), f"line {number}")

    def put_concealed(self, concealed: bool) -> None:
        """The hand is held concealed, or open."""
        if self.form is not None:
            self._put(self.form.put_concealed(concealed))

    def add_line(self) -> None:
        """One more alternative, a copy of the last one to be changed."""
        if self.form is not None:
            self._put(self.form.add_line(self.form.lines[-1]))

    def drop_line(self, number: int) -> None:
        """Without one of the alternatives."""
        if self.form is not None:
            self._put(self.form.drop_line(number))

    def _put(self, text: str, joins: str = "") -> None:
        self.change(self.document.put(self.place, text), joins=joins)

    def new_section(self, name: str = "") -> None:
        """A section after the one that is worked on, at first without hands."""
        number = self.place.section + 1
        if self.place.section < 0:
            number = len(self.document.sections)
        self.change(self.document.add_section(number, new_section(name)), Place(number))

    def new_hand(self, name: str = "", points: str = "") -> None:
        """An empty hand after the one that is worked on; in the first section, a new one, where there is none."""
        document, place = self.document, self.place
        if not document.sections:
            document = document.add_section(0, new_section("Hands"))
        section = max(place.section, 0)
        after = place.hand if place.section >= 0 and place.hand >= 0 else len(document.sections[section].hands) - 1
        to = Place(section, after + 1)
        self.change(document.add(to, new_hand(name, "", points)), to)

    def copy_hand(self, name: str = "") -> None:
        """A copy of the hand, after it, under a name of its own."""
        form = self.form
        if form is not None:
            to = replace(self.place, hand=self.place.hand + 1)
            self.change(self.document.add(to, form.put(NAME, name)), to)

    def remove(self) -> None:
        """The hand, or the section with all its hands, goes."""
        place = self.place
        document = self.document.remove(place)
        if place.hand >= 0:
            hand = min(place.hand, len(document.sections[place.section].hands) - 1)
            to = Place(place.section, hand)
        else:
            to = Place(min(place.section, len(document.sections) - 1))
        self.change(document, to)

    def shift(self, step: int) -> None:
        """The hand or section goes up (-1) or down (1); a hand at the edge of its section goes on to the next one."""
        to = self._shifted(step)
        if to is None:
            return
        if self.place.hand >= 0:
            self.change(self.document.move(self.place, to), to)
        else:
            self.change(self.document.move_section(self.place.section, to.section), to)

    def can_shift(self, step: int) -> bool:
        """Whether there is somewhere to go."""
        return self._shifted(step) is not None

    def _shifted(self, step: int) -> Place | None:
        place, sections = self.place, self.document.sections
        if place.section < 0:
            return None
        number = place.section + step
        if place.hand < 0:
            return Place(number) if 0 <= number < len(sections) else None
        hand = place.hand + step
        if 0 <= hand < len(sections[place.section].hands):
            return Place(place.section, hand)
        if not 0 <= number < len(sections):
            return None
        return Place(number, len(sections[number].hands) if step < 0 else 0)

    def afresh(self) -> None:
        """In place of lines that can't be read: an empty hand, section or head."""
        if self.place.hand >= 0:
            self._put(new_hand(""))
        elif self.place.section >= 0:
            self._put(new_section("") if dash_indent(self.piece) else new_section("").lstrip())
        else:
            self._put(new_sheet("", ""))

    def cut_again(self) -> None:
        """Look at the whole text anew: lines that were mended may hold hands of their own."""
        begun = 0
        for place, piece in self.document.pieces():
            if place == self.place:
                break
            begun += len(piece)
        document = cut(self.document.text).document
        place, _ = document.at(begun)
        self.change(document, place)

    def undo(self) -> None:
        """As it was before the last step."""
        self.history.undo()
        self._touch()

    def redo(self) -> None:
        """The step that was undone last, again."""
        self.history.redo()
        self._touch()

    def go_next(self, step: int) -> None:
        """To the next hand (1) or the one before (-1), sections and the head of the sheet among them."""
        places = [place for place, _ in self.document.pieces()]
        at = places.index(self.place) + step
        if 0 <= at < len(places):
            self.go(places[at])

    # What becomes of it.

    def playable(self) -> Playable:
        """The sheet of the hands that are whole, all of them looked at."""
        for text in self.unread():
            self.looks.of(text, self.season)
        return playable(self.document, self.looks.whole(self.document), self.name or "sheet")

    def is_whole(self) -> Sheet | None:
        """The whole sheet, if it has no fault at all."""
        whole, hands = self.counts
        return read(self.document.text).sheet if whole == hands and hands else None

    def say_done(self, done: bool) -> None:
        """The writer says that it is done, or goes on with it."""
        self.about = replace(self.about, done=done)
        self._touch()

    def begin_work(self) -> None:
        """It is on the screen now."""
        self.about = replace(self.about, open=True)
        self._touch()

    def leave(self, fresh: bool = False) -> None:
        """It is left: all of it is on the disk when this comes back. A `fresh` draft in which nothing was done goes."""
        self.about = replace(self.about, open=False)
        self._touch()
        self.keeping.flush()
        if fresh and not self.history.can_undo and not self.history.can_redo:
            with suppress(OSError):
                self.drafts.remove(self.draft)

    # Keeping.

    def _touch(self) -> None:
        """There is something to keep."""
        self.keeping.change(self._writing())

    def _writing(self) -> Callable[[], None]:
        whole, hands = self.counts
        document, place = self.document, self.place
        self.about = about = replace(
            self.about, name=self.name, season=self.season or "", hands=hands, whole=-1 if self.unread() else whole,
            section=place.section, hand=place.hand,
        )  # fmt: skip
        good = document if hands and whole == hands and self.season is not None else None
        return partial(self._write, document, about, good)

    def _write(self, document: Document, about: About, good: Document | None) -> None:
        self.drafts.keep(self.draft, document.text, about)
        if good is not None and good.text != self._good:
            self._good = good.text
            self.drafts.keep_good(self.draft, self._good)

    @property
    def good(self) -> str:
        """The last text without a fault, where it is another than the present one; else empty."""
        kept = self._good or (self.drafts.good_of(Path(self.about.file)) if self.about.file else "")
        return "" if kept == self.document.text else kept

    def take_good(self) -> None:
        """Go back to the last text without a fault; that can be undone."""
        if self.good:
            document = cut(self.good).document
            place = self.place if document.has(self.place) else Place()
            self.change(document, place)

    # Files elsewhere.

    def changed_elsewhere(self, file: Path) -> bool:
        """Whether a file that would be written over holds what this draft has never seen."""
        try:
            return mark_of(read_text(file)) != (self.about.seen if str(file) == self.about.file else "")
        except FileNotFoundError:
            return False
        except (OSError, ValueError):
            return True

    def write_to(self, file: Path) -> None:
        """Write the whole text, as it is, to a file elsewhere. Raises OSError."""
        text = self.document.text
        write_safely(file, text)
        self.about = replace(self.about, file=str(file), seen=mark_of(text))
        if self.is_whole() is not None:
            self.drafts.remember_good(file, text)
        self._touch()
