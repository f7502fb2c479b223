"""Named sets of house rules: choose one for the next deals, keep one's own, give them to others, bring theirs in."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path

from engine import words
from engine.store.files import write_safely
from engine.store.values import StoreError
from game.draw.theme import BODY, BODY_BOLD, SMALL, SMALL_BOLD, SOFT, TEAL, TOUCH
from game.play.house.files import ENDING, read_set_file, write_set
from game.play.house.sets import MOST_NAME, HouseSet, all_sets, drop_set, keep_set, own_sets
from game.scenes.deal_popups import FilePopup
from game.scenes.paths import last_folder, offered, remember
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect
from game.ui.popups import Question
from game.ui.scene import Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.house import house_words

WIDEST = 1100
CARD = 420


class HouseSetsScene(Scene):
    """All sets, as cards. The one that is played now says so."""

    def __init__(self, routes: Routes, back: Scene) -> None:
        super().__init__(routes.look)
        self.desk = routes.desk
        self._back = back
        self.name = ""
        self.said = ""

    def back(self) -> Scene | None:
        """Where the player came from."""
        return self._back

    def use(self, one: HouseSet) -> Screen | None:
        """Play by a set from the next deal on."""
        self.desk.save_house(replace(one.house, twist=self.desk.house.twist))
        self.said = f"Your next deal is played by {one.name}."
        return self

    def keep(self) -> Screen | None:
        """Keep the house rules of the next deal under the name that was written."""
        try:
            kept = keep_set(self.desk.store, HouseSet(self.name, self.desk.house))
        except (StoreError, ValueError) as error:
            return self._say(str(error))
        self.name = ""
        return self._say(f"The rules are kept as {kept.name}")

    def ask_to_delete(self, one: HouseSet) -> Screen:
        """One question, so that no slip of the hand loses a set."""
        text = f"{one.name}: {house_words(one.house)}."
        return Question(self, "Delete this set?", text, [Press("Delete it", lambda: self._delete(one), "d")])

    def _delete(self, one: HouseSet) -> Screen:
        try:
            drop_set(self.desk.store, one.name)
            self._say(f"{one.name} is deleted")
        except StoreError as error:
            self._say(str(error))
        return self

    def take_out(self, one: HouseSet) -> Screen:
        """Ask where to write a set."""
        plain = "-".join(words.quoted(one.name).strip("“”").lower().split())
        text = f"{last_folder(self.desk.store)}{plain.replace('/', '-')}{ENDING}"
        return FilePopup(self, f"Write {one.name} to a file", "Write it", partial(self._write, one), text)

    def _write(self, one: HouseSet, path: Path) -> str:
        write_safely(path, write_set(one))
        remember(self.desk.store, path)
        self._say(f"{one.name} is written to {path}")
        return ""

    def bring_in(self) -> Screen:
        """Ask for a set's file."""
        offers = offered(self.desk.store, [ENDING, ".yml"])
        return FilePopup(self, "Read house rules from a file", "Read it", self._read, offers=offers)

    def _read(self, path: Path) -> str:
        kept = keep_set(self.desk.store, read_set_file(path))
        remember(self.desk.store, path)
        self._say(f"{kept.name} is read and kept")
        return ""

    def _say(self, said: str) -> Screen | None:
        self.said = words.sentence(f"{said.rstrip('.')}.")
        return None

    def _named(self, text: str) -> Screen | None:
        self.name = text
        return None

    # Painting.

    def paint(self, ui: Ui) -> None:
        """One scrolled page."""
        rest = ui.header("Sets of house rules", "", self.back)
        scrolled(ui, "sets", rest, self._fill, widest=WIDEST, gap=14, roomy=True)

    def _fill(self, page: Column) -> None:
        page.text(f"Your next deal: {house_words(self.desk.house)}.", BODY, SOFT)
        if self.said:
            page.notice(self.said)
        now = replace(self.desk.house, twist="")
        with page.grid(CARD, gap=12, most=2) as cell:
            for one in all_sets(self.desk.store):
                self._card(cell(), one, one.house == now)
        with page.panel("Keep these rules") as inside:
            inside.caption("A name for the rules of your next deal")
            inside.block(TOUCH, self._field)
            inside.gap(8)
            inside.buttons([Press("Keep them", self.keep, "k"), Press("Read a file", self.bring_in, "r")])

    def _field(self, rect: Rect) -> None:
        self.ui.field(rect, "name", self.name, self._named, enter=self.keep, longest=MOST_NAME)

    def _card(self, cell: Column, one: HouseSet, here: bool) -> None:
        with cell.card(f"set {one.name}", partial(self.more, one), says=f"what can be done with {one.name}") as card:
            card.text(one.name, BODY_BOLD)
            card.text(f"{words.sentence(house_words(one.house))}.", SMALL, SOFT)
            if here:
                card.text("Your next deal is played by it.", SMALL_BOLD, TEAL)

    def more(self, one: HouseSet) -> Screen:
        """What can be done with a set."""
        presses = [
            Press("Play by it", lambda: self.use(one), main=True), Press("Write to a file", lambda: self.take_out(one)),
        ]  # fmt: skip
        if one.name in {own.name for own in own_sets(self.desk.store)}:
            presses.append(Press("Delete", lambda: self.ask_to_delete(one)))
        return Question(self, one.name, f"{words.sentence(house_words(one.house))}.", presses)
