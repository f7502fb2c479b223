"""What scenes may ask of the game around them: settings, sheets, deals. The program gives them one `Desk`."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Protocol

from engine.rules.house import House
from engine.sheet.model import Sheet
from engine.store.rows import LineSummary
from game.play.settings import Settings
from game.play.worker import Worker
from game.ui.look import Look
from game.ui.scene import Scene


class Desk(Protocol):
    """The game as its scenes see it."""

    look: Look
    worker: Worker

    # Settings.

    @property
    def settings(self) -> Settings:
        """As the player has set things."""

    def save_settings(self, settings: Settings) -> None:
        """Keeps the settings and lets `look` follow them."""

    @property
    def house(self) -> House:
        """House rules of the next deal."""

    def save_house(self, house: House) -> None:
        """Keeps the house rules for the next deal."""

    # Sheets.

    def sheets(self) -> Sequence[Sheet]:
        """Every whole sheet there is: shipped ones, and those that were loaded."""

    @property
    def current_sheet(self) -> Sheet:
        """The whole sheet of the next deal."""

    @property
    def chosen(self) -> tuple[str, ...] | None:
        """Names of the sections that the next deal is played with, in sheet order; None for all."""

    def choose_sheet(self, sheet: Sheet, chosen: tuple[str, ...] | None) -> None:
        """Keeps the sheet and sections for the next deal."""

    def load_sheet(self, path: Path) -> Sheet:
        """Reads a sheet's file and keeps it among the sheets. Raises SheetFaults with every fault."""

    # Deals.

    @property
    def unfinished(self) -> LineSummary | None:
        """The deal that was left before its end, if there is one."""

    def lines(self) -> Sequence[LineSummary]:
        """Past deals, the latest first."""

    def resume(self, line: int) -> Scene:
        """The table with that deal as it was left."""

    def new_deal(self, code: str | None = None) -> Scene:
        """The table with a new deal, or the one that a code names. Raises ValueError (a sentence for the player)."""

    def past_deals(self, back: Scene) -> Scene:
        """The screen of past deals; `back` is where it leads back to."""

    def play_over_time(self, back: Scene) -> Scene:
        """How well the player plays over time; `back` is where it leads back to."""

    def rehearsal(self, back: Scene) -> Scene:
        """Where the passes are rehearsed; `back` is where it leads back to."""

    def match(self, back: Scene) -> Scene:
        """Where a match is played; `back` is where it leads back to."""

    # Starting.

    @property
    def told(self) -> Sequence[str]:
        """Sentences that the player should read once at the start: a damaged file, a setting that was lost."""

    def heard(self) -> None:
        """The player has read them."""

    @property
    def first_start(self) -> bool:
        """Whether the explanation of the first start has not been seen yet."""

    def explained(self) -> None:
        """The explanation has been seen."""
