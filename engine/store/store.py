"""The store: everything a player has done, in one SQLite file, each action on the disk the moment it is made."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType

from engine.store.connection import StoreConnection
from engine.store.deals import DealsPart
from engine.store.files import default_path
from engine.store.lines import GAME, LinesPart
from engine.store.notes import NotesPart
from engine.store.results import ResultsPart
from engine.store.reviews import ReviewsPart
from engine.store.settings import SettingsPart
from engine.store.sheets import SheetsPart

__all__ = ["GAME", "Store"]


class Store(LinesPart, DealsPart, SheetsPart, NotesPart, SettingsPart, ResultsPart, ReviewsPart):
    """An open store. Use it from one thread, as a context manager or with `close`.

    Opening never fails. What is wrong with the file is said in `trouble`, and play goes on in memory or in a fresh
    file. Methods raise StoreError, with a sentence for the player, for what can't be done.
    """

    def __init__(self, path: Path | str | None = None, now: Callable[[], datetime] = lambda: datetime.now(UTC)) -> None:
        super().__init__(StoreConnection(Path(path or default_path()).absolute(), now), now)

    def __enter__(self) -> Store:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self.close()

    def close(self) -> None:
        """Close the file. What waits in memory is tried once more."""
        self._connection.close()

    @property
    def path(self) -> Path:
        """The store's file."""
        return self._connection.path

    @property
    def trouble(self) -> str | None:
        """One sentence for the player on what is wrong with the file, or None. It may change with every write."""
        return self._connection.trouble

    @property
    def also_open(self) -> str | None:
        """One sentence for the player where another program has the store open too, or None. Both may write."""
        return self._connection.also_open

    @property
    def saving(self) -> bool:
        """Whether what happens now reaches the file."""
        return self._connection.saving

    @property
    def unsaved(self) -> bool:
        """Whether something that happened is not in the file. Ask after `close` for the last word."""
        return self._connection.unsaved
