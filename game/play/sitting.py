"""One deal being played: the view model under the window's table and the text table alike.

A sitting holds every state of one line of play and a cursor among them. At the end of the line the player chooses
what happens next; further back, choosing otherwise starts a fork of the same deal, and nothing recorded is changed.
Whatever needs no choice of the player (draws, the other seats) runs on by itself.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Protocol

from engine.rules.actions import Action, Mahjong
from engine.rules.game import apply, legal_actions
from engine.rules.matching import hand_of
from engine.rules.observation import Observation, observe
from engine.rules.state import CHANCE, Phase, State

SeatPlayer = Callable[[Observation], Action]


class Keeper(Protocol):
    """Where a line of play is kept. Every entry is safe on disk when `append` returns."""

    def append(self, seat: int, action: Action, after: State) -> None:
        """Add one entry to the end of the line; `after` tells whether the game is over with it."""

    def fork(self, at: int) -> Keeper:
        """A new line that shares this one's first `at` entries."""


class Unkept:
    """A keeper that keeps nothing, for a game that is only watched."""

    def append(self, seat: int, action: Action, after: State) -> None:
        """Forget the entry."""

    def fork(self, at: int) -> Unkept:  # noqa: ARG002 - the protocol has it
        """Forget the fork."""
        return self


@dataclass(frozen=True)
class Entry:
    """One thing that happened: who did it (or CHANCE) and what."""

    seat: int
    action: Action


class Sitting:
    """A line of play under way, or one that is looked at again."""

    def __init__(
        self,
        start: State,
        *,
        entries: Iterable[Entry] = (),
        keeper: Keeper | None = None,
        others: SeatPlayer | None = None,
    ) -> None:
        """Replay the entries from the start. `others` plays the seats that are not the player's.

        Raises IllegalActionError when an entry can't have happened.
        """
        self.keeper: Keeper = keeper or Unkept()
        self.others = others
        self.player = start.house.seat
        self.entries: list[Entry] = []
        self.states: list[State] = [start]
        for entry in entries:
            self.states.append(apply(self.states[-1], entry.action))
            self.entries.append(entry)
        self.cursor = len(self.entries)
        self._run_on()

    @property
    def state(self) -> State:
        """The state at the cursor."""
        return self.states[self.cursor]

    @property
    def observation(self) -> Observation:
        """What the player may know at the cursor."""
        return observe(self.state, self.player)

    @property
    def at_end(self) -> bool:
        """Whether the cursor stands at the end of what has been played."""
        return self.cursor == len(self.entries)

    @property
    def over(self) -> bool:
        """Whether the line has come to its end (wherever the cursor stands)."""
        return self.states[-1].phase is Phase.OVER

    @property
    def decisions(self) -> tuple[int, ...]:
        """Where the player chose: indices of the states at which the choice was theirs."""
        return tuple(
            index for index, entry in enumerate(self.entries) if entry.seat == self.player and entry.seat != CHANCE
        )

    @property
    def first_choice(self) -> int:
        """The state of the player's first choice; the latest one while the others still choose before it."""
        return next(iter(self.decisions), len(self.entries))

    def legal(self) -> tuple[Action, ...]:
        """What the player may do at the cursor; nothing when the choice is not theirs."""
        return legal_actions(self.state) if self.state.to_act == self.player else ()

    @property
    def wins(self) -> bool:
        """Whether the player may show mahjong at the cursor and it would be a hand of the sheet. By some house rules a
        wrong one may be shown too."""
        return Mahjong() in self.legal() and hand_of(self.state, self.player) is not None

    def act(self, action: Action) -> tuple[Entry, ...]:
        """The player's choice at the cursor, and all that follows by itself; what happened is returned.

        Choosing again what was chosen before steps forward; choosing otherwise forks. Raises the rules' errors.
        """
        if not self.at_end and self.entries[self.cursor] == Entry(self.player, action):
            before = self.cursor
            self.forward()
            return tuple(self.entries[before : self.cursor])
        after = apply(self.state, action)
        if not self.at_end:
            self.keeper = self.keeper.fork(self.cursor)
            del self.entries[self.cursor :]
            del self.states[self.cursor + 1 :]
        before = self.cursor
        self._add(Entry(self.player, action), after)
        self._run_on()
        return tuple(self.entries[before:])

    def back(self) -> bool:
        """Move to the player's last choice before the cursor; whether there was one."""
        earlier = [index for index in self.decisions if index < self.cursor]
        if earlier:
            self.cursor = earlier[-1]
        return bool(earlier)

    def forward(self) -> bool:
        """Move to the player's next choice after the cursor, or to the end; whether the cursor moved."""
        if self.at_end:
            return False
        later = [index for index in self.decisions if index > self.cursor]
        self.cursor = later[0] if later else len(self.entries)
        return True

    def go_to(self, index: int) -> None:
        """Move the cursor to any state of the line. Raises IndexError."""
        if not 0 <= index <= len(self.entries):
            raise IndexError(f"there is no entry {index}; choose 0 to {len(self.entries)}")
        self.cursor = index

    def _add(self, entry: Entry, after: State) -> None:
        self.keeper.append(entry.seat, entry.action, after)
        self.entries.append(entry)
        self.states.append(after)
        self.cursor = len(self.entries)

    def _run_on(self) -> None:
        """Play draws and the other seats until the choice is the player's or the game is over."""
        while self.at_end and self.state.phase is not Phase.OVER and self.state.to_act != self.player:
            state = self.state
            if state.to_act == CHANCE:
                action = legal_actions(state)[0]
            elif self.others is None:
                return
            else:
                action = self.others(observe(state, state.to_act))
            self._add(Entry(state.to_act, action), apply(state, action))
