"""The quiet table: what may be done at each moment of a deal, played now or looked back at.

How it looks is painted in `table_view`. The cursor of the sitting may stand anywhere in the line, so that the same
scene steps through past deals, and choosing otherwise there starts a fork.
"""

from __future__ import annotations

from dataclasses import replace

import pygame

from engine.advice.answer import Advice
from engine.practice.store import StoreError
from engine.rules.actions import Action, Discard, IllegalActionError, Mahjong
from engine.rules.state import Phase
from engine.tiles import Kind
from game.desktop import Desktop
from game.keeping import line_of
from game.rack_order import BY_HAND, ORDERS, arranged, moved
from game.reports import Costly, costs_of
from game.scenes.board import ROW, kinds_of
from game.scenes.popups import DiscardsPopup, MorePopup, NotePopup, WhyPopup
from game.scenes.rack import TILE
from game.scenes.table_view import paint_table
from game.settings import ALWAYS, HIDDEN
from game.sitting import Sitting
from game.ui.scene import Scene
from game.ui.widgets import Ui

DRAG_AFTER = 8
"""Units that a tile is pulled before it counts as dragged."""
FIRST_CHOICE = "This is the first choice of the deal."
LATEST = "This is the latest moment of the deal."
CHOOSE_FIRST = "Choose a tile first: press it, or move to it with the arrow keys."


class TableScene(Scene):
    """A deal being played, or looked back at."""

    def __init__(self, desk: Desktop, sitting: Sitting) -> None:
        super().__init__(desk.look)
        self.desk = desk
        self.sitting = sitting
        self.advisor = desk.advisor(sitting.state.sheet, sitting.state.house.jokers)
        self.code = desk.code_of(sitting)
        self.own: tuple[Kind, ...] = sitting.observation.rack
        self._place: int | None = None
        """Where on the rack the last choice was: the arrow keys go on from there."""
        self.chosen: int | None = None
        self.hand: int | None = None
        self.shown = False
        self.advice: Advice | None = None
        self.costly: list[Costly] | None = None
        self.trouble = ""
        self._grabbed: int | None = None
        self._grabbed_at = (0, 0)
        self._dragging = False
        self._arrive()

    def from_the_start(self) -> TableScene:
        """This scene with the cursor at the player's first choice."""
        decisions = self.sitting.decisions
        self.sitting.go_to(decisions[0] if decisions else 0)
        self._arrive()
        return self

    def enter(self) -> None:
        """Settings may have changed while another scene was shown."""
        if self.advice is None and not self.finished:
            self._arrive()

    # What is to be seen.

    @property
    def rack(self) -> tuple[Kind, ...]:
        """The rack from left to right."""
        return arranged(self.sitting.observation.rack, self.desk.settings.rack_order, self.own)

    @property
    def finished(self) -> bool:
        """Whether the cursor stands at the end of a finished game."""
        return self.sitting.state.phase is Phase.OVER

    @property
    def looking_back(self) -> bool:
        """Whether the cursor stands before the end of what was played."""
        return not self.sitting.at_end

    @property
    def may_advise(self) -> bool:
        """Whether advice may be shown here: always when looking back, else by the player's setting."""
        return self.looking_back or self.desk.settings.advice != HIDDEN

    @property
    def advice_shown(self) -> Advice | None:
        """The advice, if it is known, wanted and of use now."""
        return self.advice if self.shown and self.may_advise and not self.finished else None

    @property
    def tile(self) -> Kind | None:
        """The kind pointed at, or else the one chosen."""
        here = self.rack
        place = _place(self.ui.pointed, TILE)
        if place is None or place >= len(here):
            place = self.chosen
        return here[place] if place is not None and place < len(here) else None

    @property
    def lit(self) -> frozenset[Kind]:
        """Kinds of the hand that is pointed at or pressed."""
        if self.advice_shown is None:
            return frozenset()
        place = _place(self.ui.pointed, ROW)
        return kinds_of(self.advice_shown.hands, self.hand if place is None else place)

    # Advice.

    def _arrive(self) -> None:
        """The cursor stands at another moment: begin its advice."""
        self.advice, self.hand, self.chosen, self.trouble = None, None, None, ""
        if _place(self.ui.focus, TILE) is not None:  # so that one press too many lets nothing go
            self._place = _place(self.ui.focus, TILE)
            self.ui.focus = None
        self.shown = self.desk.settings.advice == ALWAYS or self.looking_back
        self.own = arranged(self.sitting.observation.rack, BY_HAND, self.own)
        sitting, advisor = self.sitting, self.advisor
        if self.finished:
            if self.costly is None:
                self.desk.worker.submit(lambda _: costs_of(sitting, advisor), self._costs_known)
            return
        observation = sitting.observation
        known = advisor.known(observation)
        if known is not None:
            self._advice_known(known)
            return
        self.desk.worker.submit(lambda _: advisor.advise(observation), self._advice_known)

    def _advice_known(self, advice: Advice) -> None:
        self.advice = advice
        self.dirty = True

    def _costs_known(self, costly: list[Costly]) -> None:
        self.costly = costly
        self.dirty = True

    def toggle_advice(self) -> Scene | None:
        """Show or hide the advice of this moment."""
        self.shown = not self.shown
        return None

    def why(self) -> Scene | None:
        """The reasons for one tile, alone and large."""
        if self.advice is None or self.finished:
            return None
        self.shown = True
        if self.tile is None and self.advice.let_go in self.rack:
            self.chosen = self.rack.index(self.advice.let_go)
        return WhyPopup(self, self.advice, self.tile)

    # Choices.

    def press_tile(self, place: int) -> Scene | None:
        """A first press chooses a tile, a second one lets it go."""
        if self.finished:
            return None
        if self.chosen == place:
            return self.let_go()
        self.chosen = place
        return None

    def press_hand(self, place: int) -> Scene | None:
        """A hand stays lit until it is pressed again."""
        self.hand = None if self.hand == place else place
        return None

    def let_go(self) -> Scene | None:
        """Let the chosen tile go."""
        here = self.rack
        if self.chosen is None or self.chosen >= len(here):
            self.trouble = CHOOSE_FIRST
            return None
        return self._act(Discard(here[self.chosen]))

    def mahjong(self) -> Scene | None:
        """Show the hand."""
        return self._act(Mahjong())

    def _act(self, action: Action) -> Scene | None:
        try:
            if self.advice_shown is not None and not self.looking_back:
                self._note_advice_seen()
            self.sitting.act(action)
        except (IllegalActionError, StoreError) as error:
            self.trouble = str(error)
            return None
        self.costly = None
        self._arrive()
        self.trouble = self.desk.store.trouble or ""
        return None

    def _note_advice_seen(self) -> None:
        line = line_of(self.sitting)
        if line is not None:
            self.desk.store.advice_seen(line)

    def step(self, forward: bool) -> Scene | None:
        """Step back to an earlier choice, or forward again."""
        if self.sitting.forward() if forward else self.sitting.back():
            self._arrive()
        else:
            self.trouble = LATEST if forward else FIRST_CHOICE
        return None

    def go_to(self, index: int) -> Scene | None:
        """Look at one moment of the deal."""
        self.sitting.go_to(index)
        self._arrive()
        return None

    def again(self) -> Scene | None:
        """The same deal from its first choice."""
        return self.from_the_start()

    def latest(self) -> Scene | None:
        """The latest moment of the deal."""
        self.sitting.go_to(len(self.sitting.entries))
        self._arrive()
        return None

    # The rack's order.

    def change_order(self) -> Scene | None:
        """The next way to order the rack."""
        now = self.desk.settings.rack_order
        self._set_order(ORDERS[(ORDERS.index(now) + 1) % len(ORDERS)])
        self.chosen = None
        return None

    def _set_order(self, order: str) -> None:
        if order == BY_HAND:
            self.own = self.rack
        if order != self.desk.settings.rack_order:
            self.desk.save_settings(replace(self.desk.settings, rack_order=order))

    def move_tile(self, step: int) -> Scene | None:
        """Move the chosen tile along the rack, which is then ordered by hand."""
        if self.chosen is None:
            self.trouble = CHOOSE_FIRST
        else:
            self._set_down(self.chosen, self.chosen + step)
        return None

    def _set_down(self, start: int, to: int) -> None:
        here = self.rack
        to = max(0, min(to, len(here) - 1))
        self._set_order(BY_HAND)
        self.own = moved(here, start, to)
        self.chosen = to
        if self.ui.by_keyboard:
            self.ui.to(f"{TILE}{to}", by_keyboard=True)

    # Elsewhere.

    def note(self) -> Scene | None:
        """Write a note on this moment."""
        line = line_of(self.sitting)
        return NotePopup(self, self.desk.store, line, self.sitting.cursor) if line is not None else None

    def discards(self) -> Scene | None:
        """Everything that has gone, in order."""
        return DiscardsPopup(self, self.sitting)

    def more(self) -> Scene | None:
        """Everything else that can be done here."""
        return MorePopup(self)

    def sheet(self) -> Scene | None:
        """The sheet, to read."""
        from game.scenes.sheet import SheetScene

        return SheetScene(self.look, self.sitting.state.sheet, self)

    def new_deal(self) -> Scene | None:
        """Another deal of the same kind."""
        return self.desk.deal_like(self.sitting)

    def back(self) -> Scene | None:
        """Home; the game is kept."""
        return self.desk.home()

    # Keys, dragging, painting.

    def key(self, name: str) -> Scene | None:
        """The arrow keys start at the tile chosen, or at an end of the rack."""
        count = len(self.rack)
        if self.finished or not count or name not in ("left", "right"):
            return None
        step = 1 if name == "right" else -1
        focused = _place(self.ui.focus, TILE) if self.ui.by_keyboard else None
        if self.ui.by_keyboard and self.ui.focus is not None and focused is None:
            return None
        now = self.chosen if focused is None else focused
        if now is None and self._place is not None:
            place = min(self._place, count - 1)
        else:
            place = (now + step) % count if now is not None else (0 if step > 0 else count - 1)
        self._place = None
        self.chosen = place
        self.ui.to(f"{TILE}{place}", by_keyboard=True)
        return self

    def handle(self, event: pygame.event.Event) -> Scene:
        """A tile pulled aside moves along the rack; all else is as in every scene."""
        if event.type == pygame.MOUSEBUTTONDOWN and event.button == 1:
            self._grabbed, self._grabbed_at, self._dragging = self._tile_at(event.pos), event.pos, False
        elif event.type == pygame.MOUSEMOTION and self._grabbed is not None and event.buttons[0]:
            if abs(event.pos[0] - self._grabbed_at[0]) > self.ui.u(DRAG_AFTER):
                self._dragging = True
            over = self._tile_at(event.pos)
            if self._dragging and over is not None and over != self._grabbed:
                self._set_down(self._grabbed, over)
                self._grabbed = over
                self.dirty = True
        elif event.type == pygame.MOUSEBUTTONUP and event.button == 1:
            dragged, self._grabbed, self._dragging = self._dragging, None, False
            if dragged:
                self.ui.forget_press()
                self.dirty = True
                return self
        focus = self.ui.focus
        following = super().handle(event)
        place = _place(self.ui.focus, TILE)
        if self.ui.focus != focus and place is not None and self.ui.by_keyboard and place < len(self.rack):
            self.chosen = place
        return following

    def _tile_at(self, at: tuple[int, int]) -> int | None:
        for target in self.ui.targets:
            place = _place(target.name, TILE)
            if place is not None and target.rect.collidepoint(at):
                return place
        return None

    def paint(self, ui: Ui) -> None:
        """One frame."""
        paint_table(self, ui)


def _place(target: str | None, start: str) -> int | None:
    """The number behind a target's name that begins with `start`."""
    if target is None or not target.startswith(start):
        return None
    return int(target.removeprefix(start))
