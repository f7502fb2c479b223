"""What every moment at the table shares: the sitting, the rack and its order, stepping through the deal, dragging.

A moment is of one kind: a pass, or a turn with what follows it. Where the cursor comes to another kind, the policy
gives the scene for that.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pygame

from engine.rules.actions import Action, IllegalActionError, MalformedActionError
from engine.rules.house import FULL
from engine.rules.passing import BEFORE_PLAY
from engine.rules.state import State
from engine.store.values import StoreError
from engine.tiles import Kind
from engine.words import sentence
from game.play.lines import line_of
from game.play.practice.looks import note_look
from game.play.rack_order import BY_HAND, ORDERS, arranged, moved
from game.play.settings import ALWAYS, HIDDEN
from game.play.sitting import Sitting
from game.scenes.routes import Routes
from game.scenes.table.policy import TablePolicy
from game.scenes.table.popups import DiscardsPopup, NotePopup
from game.scenes.table.rack import TILE
from game.scenes.table.ways import SectionsPopup
from game.ui.scene import Scene
from game.ui.screen import Screen
from game.words.refusals import say_refused

DRAG_AFTER = 8
"""Units that a tile is pulled before it counts as dragged."""
FIRST_CHOICE = "This is the first choice of the deal."
LATEST = "This is the latest moment of the deal."
NO_LONGER_COUNTS = "Advice was seen, so this game no longer counts as one without advice."
CHOOSE_FIRST = "Choose a tile first: press it, or use the arrow keys."


class SeatMoment(Scene):
    """A moment of a deal from the player's seat. Subclasses say what may be done there."""

    def __init__(self, routes: Routes, sitting: Sitting, policy: TablePolicy | None = None) -> None:
        super().__init__(routes.look)
        self.routes, self.desk = routes, routes.desk
        self.sitting = sitting
        self.policy = policy or TablePolicy(routes)
        self.advisor = self.desk.advisor(sitting.state.sheet, sitting.state.house.jokers)
        self.code = self.desk.code_of(sitting)
        self.own: tuple[Kind, ...] = sitting.observation.rack
        self.chosen: int | None = None
        """The place, from the left, of the tile that is chosen or was moved to last."""
        self.shown = False
        """Whether advice is wanted at this moment."""
        self.trouble = ""
        self._looked: tuple[int, int] | None = None
        """The line and the moment at which advice was seen last."""
        self._told = self.desk.store.trouble or ""
        """The store's trouble that the player has read, here or when the program started."""
        self._place: int | None = None
        """Where on the rack the last choice was: the arrow keys go on from there."""
        self._grabbed: int | None = None
        self._grabbed_at = (0, 0)
        self._dragging = False

    # For subclasses.

    def fits(self) -> bool:
        """Whether this scene is for the kind of moment at the cursor."""
        raise NotImplementedError

    def arrive(self) -> None:
        """The cursor stands at another moment of this kind: begin its advice."""
        raise NotImplementedError

    def advice_toggled(self) -> None:
        """Advice was asked for, or hidden again."""

    def more(self) -> Scene | None:
        """Everything else that can be done here."""
        raise NotImplementedError

    @property
    def picking(self) -> bool:
        """Whether tiles of the rack can be chosen now."""
        return True

    @property
    def fresh(self) -> frozenset[int]:
        """Places of the tiles that have just come."""
        return frozenset()

    @property
    def advised(self) -> bool:
        """Whether advice is on the screen."""
        raise NotImplementedError

    def settle(self) -> Scene | None:
        """Stay, at the new moment, or go to the scene that it is for."""
        if not self.fits():
            return self.policy.elsewhere(self.sitting)
        self.chosen, self.trouble = None, ""
        place = place_of(self.ui.focus, TILE)
        if place is not None:  # so that one press too many lets nothing go
            self._place, self.ui.focus = place, None
        self.own = arranged(self.sitting.observation.rack, BY_HAND, self.own)
        self.shown = self.desk.settings.advice == ALWAYS or self.looking_back
        self.arrive()
        return None

    # What is to be seen.

    @property
    def state(self) -> State:
        """The table at the cursor."""
        return self.sitting.state

    @property
    def before_play(self) -> bool:
        """Whether the passes are not done yet."""
        return self.state.phase in BEFORE_PLAY

    @property
    def others(self) -> bool:
        """Whether four play."""
        return self.state.house.table == FULL

    @property
    def may_advise(self) -> bool:
        """Whether advice may be shown here: by the player's setting, and once the game is over when looking back."""
        over = self.looking_back and self.sitting.over
        return self.policy.advises and (over or self.desk.settings.advice != HIDDEN)

    def toggle_advice(self) -> Scene | None:
        """Show or hide the advice of this moment."""
        self.shown = not self.shown
        self.advice_toggled()
        self.note_advice_seen()
        return None

    # Choices.

    def act(self, action: Action) -> Scene | None:
        """Make a choice; what follows by itself follows. What the rules refuse is said."""
        seen, line = self.advised, line_of(self.sitting)
        self._note_look()
        try:
            self.sitting.act(action)
            if seen and line_of(self.sitting) != line:  # a fork: its first choice was made with advice in sight
                self._no_longer_hidden()
        except (IllegalActionError, MalformedActionError, StoreError) as error:
            self.trouble = say_refused(error, self.sitting.player)
            return None
        self.acted()
        following = self.settle()
        self.trouble = self._new_trouble()
        return following

    def acted(self) -> None:
        """A choice was made: what was known of the line's end no longer holds."""

    def _new_trouble(self) -> str:
        """What is wrong with keeping the game, said when it begins and not with every tile."""
        now = self.desk.store.trouble or ""
        told, self._told = self._told, now
        return sentence(f"{now}.") if now != told and now else ""

    def note_advice_seen(self) -> None:
        """A game counts as played without advice only while none is seen before its end. Where that ends, it is
        said."""
        self._note_look()
        if self.advised and not self.sitting.over and self._no_longer_hidden():
            self.trouble = NO_LONGER_COUNTS

    def _note_look(self) -> None:
        """A choice that is looked up first doesn't count: keep that advice stands on the screen at this moment."""
        line, moment = line_of(self.sitting), self.sitting.cursor
        if not self.advised or self.looking_back or self.sitting.over or line is None:
            return
        if (line, moment) != self._looked:
            self._looked = (line, moment)
            note_look(self.desk.store, line, moment)

    def _no_longer_hidden(self) -> bool:
        """Let the line no longer count as one without advice; whether it did so far."""
        line = line_of(self.sitting)
        if line is None or not self.desk.store.line(line).advice_hidden:
            return False
        self.desk.store.advice_seen(line)
        return True

    # Moments.

    @property
    def looking_back(self) -> bool:
        """Whether the cursor stands before the end of what was played."""
        return not self.sitting.at_end

    @property
    def may_step_back(self) -> bool:
        """Whether there is an earlier choice to step back to."""
        return not self.policy.stands and any(index < self.sitting.cursor for index in self.sitting.decisions)

    def step(self, forward: bool) -> Scene | None:
        """Step back to an earlier choice, or forward again."""
        if self._stands():
            return None
        if self.sitting.forward() if forward else self.sitting.back():
            return self.settle()
        self.trouble = LATEST if forward else FIRST_CHOICE
        return None

    def go_to(self, index: int) -> Scene | None:
        """Look at one moment of the deal."""
        if self._stands():
            return None
        self.sitting.go_to(index)
        return self.settle()

    def again(self) -> Scene | None:
        """The same deal from the player's first choice."""
        return self.go_to(self.sitting.first_choice)

    def latest(self) -> Scene | None:
        """The latest moment of the deal."""
        return None if self.sitting.at_end else self.go_to(len(self.sitting.entries))

    def _stands(self) -> bool:
        """Whether choices can't be taken back here; that is said."""
        self.trouble = self.policy.stands or self.trouble
        return bool(self.policy.stands)

    # Time.

    @property
    def stopped(self) -> bool:
        """Whether the clock has ended the deal before its end."""
        return self.policy.stopped(self.sitting.state)

    def update(self, seconds: float) -> None:
        """Time has passed. Nothing moves any more once the clock has ended the deal."""
        if self.stopped:
            return
        super().update(seconds)
        if self.policy.tick(seconds, self.sitting.states[-1]):
            self.dirty = True
        said = self.policy.warning()
        if said:
            self.trouble, self.dirty = said, True

    # The rack.

    @property
    def rack(self) -> tuple[Kind, ...]:
        """The rack from left to right."""
        return arranged(self.sitting.observation.rack, self.desk.settings.rack_order, self.own)

    def change_order(self) -> Scene | None:
        """The next way to order the rack."""
        now = self.desk.settings.rack_order
        self._set_order(ORDERS[(ORDERS.index(now) + 1) % len(ORDERS)])
        self.rearranged(None)
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
        self.rearranged((start, to))
        if self.ui.by_keyboard:
            self.ui.to(f"{TILE}{to}", by_keyboard=True)

    def rearranged(self, move: tuple[int, int] | None) -> None:
        """A tile was moved from one place to another, or all were ordered anew (None)."""
        self.chosen = None if move is None else move[1]

    # Elsewhere.

    def note(self) -> Scene | None:
        """Write a note on this moment."""
        line = line_of(self.sitting)
        return NotePopup(self, self.desk.store, line, self.sitting.cursor) if line is not None else None

    def discards(self) -> Scene | None:
        """Everything that has gone, in order."""
        return DiscardsPopup(self, self.sitting)

    def sheet(self) -> Scene | None:
        """The sheet, to read."""
        return self.routes.sheet(self.sitting.state.sheet, self, rack=self.rack)

    def ways(self) -> Scene | None:
        """The lines of this deal side by side."""
        return None if self._stands() else self.routes.ways(self.sitting, self)

    def other_sections(self) -> Scene | None:
        """Play the deal towards other sections from here."""
        if self._stands():
            return None
        return SectionsPopup(self, self.routes, self.sitting)

    def new_deal(self) -> Scene | None:
        """Another deal of the same kind."""
        return self.policy.new_deal(self.sitting)

    def back(self) -> Scene | None:
        """The way back; the game is kept."""
        return self.policy.back()

    # Keys and dragging.

    def key(self, name: str) -> Scene | None:
        """The arrow keys start at the tile chosen, else at the one just drawn, else at an end of the rack."""
        count = len(self.rack)
        if not self.picking or not count or name not in ("left", "right"):
            return None
        step = 1 if name == "right" else -1
        focused = place_of(self.ui.focus, TILE) if self.ui.by_keyboard else None
        if self.ui.by_keyboard and self.ui.focus is not None and focused is None:
            return None
        now = self.chosen if focused is None else focused
        fresh = self.fresh
        if now is None and fresh:
            place = max(fresh)
        elif now is None and self._place is not None:
            place = min(self._place, count - 1)
        else:
            place = (now + step) % count if now is not None else (0 if step > 0 else count - 1)
        self._place, self.chosen = None, place
        self.ui.to(f"{TILE}{place}", by_keyboard=True)
        return self

    def handle(self, event: pygame.event.Event) -> Screen:
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
        place = place_of(self.ui.focus, TILE)
        if self.ui.focus != focus and place is not None and self.ui.by_keyboard and place < len(self.rack):
            self.chosen = place
        return following

    def _tile_at(self, at: tuple[int, int]) -> int | None:
        for target in self.ui.targets:
            place = place_of(target.name, TILE)
            if place is not None and target.rect.collidepoint(at):
                return place
        return None


def place_of(target: str | None, start: str) -> int | None:
    """The number behind a target's name that begins with `start`."""
    if target is None or not target.startswith(start):
        return None
    return int(target.removeprefix(start))


def places_of(rack: Sequence[Kind], kinds: Sequence[Kind]) -> frozenset[int]:
    """Where on the rack these tiles stand, the ones furthest to the right of each kind."""
    left, places = list(kinds), set()
    for place in range(len(rack) - 1, -1, -1):
        if rack[place] in left:
            left.remove(rack[place])
            places.add(place)
    return frozenset(places)
