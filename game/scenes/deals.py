"""Past deals, each with its lines of play folded under it, the one played to last first; rehearsals apart."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pygame

from engine import words
from engine.rules.house import FULL, QUIET
from engine.rules.twists.known import twist_of
from engine.store.export import export_file, file_name, import_file
from engine.store.lines import GAME
from engine.store.values import LineSummary, PastDeal, StoreError
from game.draw.theme import BODY_BOLD, CARD, INK, LIT, SMALL, SOFT, TEAL, TOUCH
from game.scenes.deal_popups import DealPopup, FilePopup
from game.scenes.paths import last_folder, offered, remember
from game.scenes.routes import Routes
from game.ui.buttons import Press
from game.ui.column import Column, scrolled
from game.ui.layout import Rect
from game.ui.scene import Scene
from game.ui.screen import Screen
from game.ui.widgets import Ui
from game.words.situation import about_deal, how_it_ended

WIDEST = 1240
AT_ONCE = 60
"""Deals that are shown before the older ones are asked for."""
BESIDE = 560
"""Units of width from which the buttons of a deal stand beside its words."""
BEGINS, ENDING = "deal-", ".txt"
"""How the names of deals' files begin and end."""
GAMES, REHEARSALS = "games", "rehearsals"


class PastDeals(Scene):
    """The list."""

    def __init__(self, routes: Routes, back: Scene) -> None:
        super().__init__(routes.look)
        self.routes, self.desk = routes, routes.desk
        self._back = back
        self.said = ""
        self.showing = GAMES
        self.most = AT_ONCE
        self.deals: tuple[PastDeal, ...] = ()
        self.enter()

    def enter(self) -> None:
        """Look again at what is kept."""
        self.deals = self.desk.past_rehearsals() if self.showing == REHEARSALS else self.desk.past_games()
        self.dirty = True

    def back(self) -> Scene | None:
        """Where it was opened from."""
        return self._back

    def show(self, what: str) -> Scene | None:
        """Games, or rehearsals of the passes."""
        self.showing, self.most, self.said = what, AT_ONCE, ""
        self.enter()
        return None

    # What can be done with a deal.

    def open(self, line: LineSummary) -> Scene | None:
        """Look back at a finished line, go on with an unfinished one."""
        try:
            return self.routes.look_back(line.id) if line.finished else self.routes.resume(line.id)
        except (StoreError, ValueError) as error:
            self.said = words.sentence(f"{str(error).rstrip('.')}.")
            return self

    def more(self, deal: PastDeal) -> Scene | None:
        """Everything else that can be done with a deal, and its other lines."""
        return DealPopup(self, deal)

    def export(self, line: LineSummary) -> Scene | None:
        """Ask where to write the deal."""
        text = last_folder(self.desk.store) + file_name(line)
        title = f"Write {about_deal(line)} to a file"
        return FilePopup(self, title, "Write it", lambda path: self._write(line, path), text)

    def bring_in(self) -> Scene | None:
        """Ask for a deal's file."""
        offers = offered(self.desk.store, [ENDING], BEGINS)
        text = last_folder(self.desk.store)
        return FilePopup(self, "Read a deal from a file", "Read it", self._read, text, offers)

    def handle(self, event: pygame.event.Event) -> Screen:
        """A deal's file dropped on the window is read in."""
        if event.type == pygame.DROPFILE:
            popup = FilePopup(self, "Read a deal from a file", "Read it", self._read)
            return popup.take(Path(event.file)) or popup
        return super().handle(event)

    def delete(self, deal: PastDeal) -> Scene | None:
        """Delete a deal with all its lines; it can be brought back until the program ends."""
        return self._changed(
            lambda: self.desk.delete_deal(deal), f"{words.sentence(about_deal(deal.latest))} is deleted."
        )

    def bring_back(self) -> Scene | None:
        """Put the deal back that was deleted last."""
        return self._changed(self.desk.restore_deal, "The deal is here again.")

    def _changed(self, change: Callable[[], None], said: str) -> Scene | None:
        try:
            change()
            self.said = said
        except StoreError as error:
            self.said = words.sentence(f"{str(error).rstrip('.')}.")
        self.enter()
        return self

    def _write(self, line: LineSummary, path: Path) -> str:
        if path.is_dir():
            path = path / file_name(line)
        export_file(self.desk.store, line.id, path)
        remember(self.desk.store, path)
        self.said = f"{words.sentence(about_deal(line))} is written to {path}."
        return ""

    def _read(self, path: Path) -> str:
        brought = import_file(self.desk.store, path)
        remember(self.desk.store, path)
        self.showing = GAMES
        self.said = brought.trouble or "The deal is here now, at the top of the list."
        self.enter()
        return ""

    # Painting.

    def paint(self, ui: Ui) -> None:
        """A scrolled list, and a way to read a deal in."""
        count = len(self.deals)
        what = "deal" if self.showing == GAMES else "rehearsal"
        note = words.count(count, what) if count else "none yet"
        rest = ui.header("Past deals", note, self.back, action=Press("Read in a deal", self.bring_in, "r"))
        scrolled(ui, "deals", rest, self._fill, widest=WIDEST, gap=8, roomy=not self.deals)

    def _fill(self, page: Column) -> None:
        ui = page.ui
        options = [(GAMES, "Games"), (REHEARSALS, "Rehearsals of the passes")]
        page.add(lambda at, width: ui.choice(at, width, "show", options, self.showing, self.show))
        if self.said:
            page.notice(self.said)
        if self.desk.deleted:
            page.buttons([Press("Bring the deleted deal back", self.bring_back, "u")])
        if not self.deals:
            page.text(
                "No deal has been played yet. Every deal you play is kept here, move by move."
                if self.showing == GAMES
                else "No passes have been rehearsed yet. Every rehearsal is kept here."
            )
            page.gap(12)
            page.buttons([Press("Back", self.back, main=True)])
        for place, deal in enumerate(self.deals[: self.most]):
            self._deal(page, deal, latest=place == 0)
        left = len(self.deals) - self.most
        if left > 0:
            page.buttons([Press(f"Show {words.count(min(left, AT_ONCE), 'older one')}", self._older, "o")])

    def _older(self) -> Scene | None:
        self.most += AT_ONCE
        return None

    def _deal(self, page: Column, deal: PastDeal, latest: bool) -> None:
        line, ui = deal.latest, page.ui
        opens = "Look back" if line.finished else "Go on"
        buttons = [Press(opens, lambda: self.open(line), main=latest), Press("More", lambda: self.more(deal))]
        widths = [ui.button_size(one.says)[0] for one in buttons]
        wide = sum(widths) + ui.u(12)
        lit = any(ui.lit(f"{one.says} {line.id}") for one in buttons)

        def paint(rect: Rect) -> None:
            left, top = rect.left, rect.top + max(rect.height - ui.u(TOUCH), 0) // 2
            for one, width in zip(buttons, widths, strict=True):
                ui.button(
                    Rect(left, top, width, ui.u(TOUCH)), one.says, one.do, name=f"{one.says} {line.id}", main=one.main
                )
                left += width + ui.u(12)

        with (
            page.panel(pad=12, fill=LIT if lit else CARD) as card,
            card.aside(wide, gap=16, right=True, stacked=not page.has(BESIDE), apart=8, down="middle") as (said, side),
        ):
            said.text(f"{line.sheet_name} {line.season}", BODY_BOLD, INK if line.finished else TEAL)
            said.text(how_it_ended(line))
            said.text("  ·  ".join(_facts(deal)), SMALL, SOFT)
            side.put(ui.u(TOUCH), paint)


def _facts(deal: PastDeal) -> list[str]:
    """What else is known of a deal, in a few words each."""
    line = deal.latest
    facts = [words.when(line.touched), *([f"deal {line.deal}"] if line.deal else [])]
    if line.kind == "match":
        facts.append("of a match")
    elif line.kind == GAME and line.house.table != QUIET:
        facts.append("full table" if line.house.table == FULL else "two hands")
    if line.house.twist:
        facts.append(f"the twist {twist_of(line.house).title}")
    if line.chosen:
        facts.append(words.count(len(line.chosen), "section"))
    if deal.others:
        facts.append(words.count(len(deal.lines), "line of play", "lines of play"))
    notes = sum(one.notes for one in deal.lines)
    if notes:
        facts.append(words.count(notes, "note"))
    if line.imported:
        facts.append("read from a file")
    if line.advice_hidden:
        facts.append("without advice")
    return facts
