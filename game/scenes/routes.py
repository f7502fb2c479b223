"""Where a scene may lead. Scenes know this protocol and not one another."""

from __future__ import annotations

from pathlib import Path
from typing import Protocol

from engine.drills.lesson.model import Lesson
from engine.rules.deal import DealCode
from engine.sheet.model import Hand, Sheet
from engine.tiles import Kind
from game.play.desk import Desk
from game.play.matches import MatchPlay
from game.play.sitting import Sitting
from game.ui.look import Look
from game.ui.scene import Scene


class Routes(Protocol):
    """The ways between scenes, and the desk and the look that all of them share.

    `back` is the scene to which the new one leads back. Every way to a kept deal raises StoreError or ValueError,
    with a sentence for the player, where the deal is damaged.
    """

    desk: Desk
    look: Look

    # Screens.

    def home(self) -> Scene:
        """The home screen."""

    def intro(self, back: Scene, first: bool) -> Scene:
        """How it plays; `first` at the program's first start."""

    def settings(self, back: Scene) -> Scene:
        """The settings."""

    def house_rules(self, back: Scene) -> Scene:
        """House rules of the next deal."""

    def two_hands(self, back: Scene) -> Scene:
        """Where a two-hand game is begun."""

    def new_two_hands(self, picks: int) -> Scene:
        """A new two-hand game with so many picks."""

    def house_sets(self, back: Scene) -> Scene:
        """Named sets of house rules."""

    def twists(self, back: Scene) -> Scene:
        """The twist of the next deals."""

    def choosing(self, back: Scene) -> Scene:
        """Sheet and sections of the next deal."""

    def sheet(
        self, sheet: Sheet, back: Scene, marked: tuple[str, ...] | None = None, rack: tuple[Kind, ...] = ()
    ) -> Scene:
        """A sheet, to read; `marked` are names of sections to mark as chosen, `rack` what the player holds."""

    def writing(self, back: Scene) -> Scene:
        """Sheets being written, and ways to begin one."""

    def write_on(self, draft: str, back: Scene) -> Scene:
        """A sheet being written, as it was left. Raises OSError."""

    def write_file(self, file: Path, back: Scene) -> Scene:
        """A sheet's file to be written on, at its first fault. Raises OSError, and ValueError with a sentence."""

    def invent(self, back: Scene) -> Scene:
        """Where a sheet is invented."""

    def study(self, sheet: Sheet, back: Scene, rack: tuple[Kind, ...] = ()) -> Scene:
        """What a sheet leans on; `rack` is what the player holds."""

    def compare(self, sheet: Sheet, back: Scene, rack: tuple[Kind, ...] = ()) -> Scene:
        """A sheet beside an older one; `rack` is what the player holds."""

    def deal_near(self, sheet: Sheet, hand: Hand) -> Scene:
        """A deal in which the hand is within reach of the first rack."""

    def rehearse_near(self, sheet: Sheet, hand: Hand, setup: Scene) -> Scene:
        """The passes of such a deal; `setup` is where they lead back to."""

    def past_deals(self, back: Scene) -> Scene:
        """The list of past deals."""

    def progress(self, back: Scene) -> Scene:
        """How well the player plays over time."""

    def practice(self, back: Scene) -> Scene:
        """What to practise today, and every drill."""

    def ledger(self, back: Scene) -> Scene:
        """The season's ledger of the current sheet."""

    def calendar(self, back: Scene) -> Scene:
        """The season's calendar of the current sheet."""

    def lessons(self, back: Scene) -> Scene:
        """Lessons: to go through, to make, to bring in."""

    def make_lesson(self, back: Scene, lesson: Lesson | None = None) -> Scene:
        """Make a lesson, or change one."""

    # The table.

    def at_table(self, sitting: Sitting) -> Scene:
        """The scene for the kind of moment at which a deal stands."""

    def new_deal(self, code: str | None = None) -> Scene:
        """A new deal as the player has set it, or the one that a code names. Raises DealCodeError."""

    def wanted_deal(self, hand: str) -> Scene:
        """A new deal of the current sheet in which that hand is within reach."""

    def deal_of(self, sheet: Sheet, code: DealCode) -> Scene:
        """The deal that a code names, on this sheet."""

    def deal_like(self, sitting: Sitting) -> Scene:
        """Another deal of the same sheet, sections and house rules as the one played."""

    def resume(self, line: int) -> Scene:
        """A kept deal as it was left."""

    def left_off(self) -> Scene | None:
        """The sheet that was being written when the program ended; else what was played to last and is not at its end,
        a game or a match; None where there is nothing. Raises OSError for a sheet that can't be read."""

    def look_back(self, line: int) -> Scene:
        """A kept deal at its first choice."""

    def another_way(self, sitting: Sitting, at: int, sections: tuple[str, ...] | None) -> Scene:
        """A fork of the same deal from one of its moments, played towards other sections."""

    def ways(self, sitting: Sitting, back: Scene) -> Scene:
        """The lines of one deal side by side."""

    # Rehearsing the passes.

    def rehearsal(self, back: Scene) -> Scene:
        """Where a rehearsal of the passes is set up."""

    def rehearse(self, setup: Scene) -> Scene:
        """The passes of a new deal; `setup` is where they lead back to."""

    def rehearsed(self, sitting: Sitting, setup: Scene, allowance: float | None, spent: float) -> Scene:
        """What a rehearsal came to. Both times are in seconds; no allowance is a rehearsal without a clock."""

    # Matches.

    def match(self, back: Scene) -> Scene:
        """Where a match is set up, or gone on with."""

    def match_deal(self, play: MatchPlay) -> Scene:
        """The deal of a match that is under way, or its next one."""

    def match_moment(self, play: MatchPlay, sitting: Sitting) -> Scene:
        """The scene for the kind of moment at which a match's deal stands."""

    def match_result(self, play: MatchPlay) -> Scene:
        """The result sheet of a match."""
