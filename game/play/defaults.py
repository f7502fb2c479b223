"""What the player has set for the next deal, kept in the store: sheet, sections, house rules, the
clock of the passes; or the usual ones."""

from __future__ import annotations

from engine.drills.rehearsal import PACE
from engine.rules.house import FULL, TWO, House
from engine.sheet.model import Sheet
from engine.sheet.shelf import find, shipped
from engine.store.store import Store
from engine.store.values import StoreError


def kept_house(store: Store) -> House:
    """House rules; the usual ones where none are kept, or none that are sound."""
    kept = store.get("house")
    try:
        return House(**kept) if isinstance(kept, dict) else USUAL_GAME  # type: ignore[arg-type]
    except (TypeError, ValueError):
        return USUAL_GAME


def kept_sheet(store: Store) -> Sheet:
    """The whole sheet; the first shipped one where none is kept, or one that can't be read."""
    first, wanted = find(FIRST_SHEET), store.get("sheet")
    if not isinstance(wanted, str) or wanted == first.fingerprint:
        return first
    for stem in shipped():
        sheet = find(stem)
        if sheet.fingerprint == wanted:
            return sheet
    try:
        return store.sheet(wanted)
    except (StoreError, ValueError):  # the last for what is no text at all
        return first


def kept_sections(store: Store, sheet: Sheet) -> tuple[str, ...] | None:
    """Names of the sections chosen of a sheet, in its order; None for all, and where they are another sheet's."""
    kept = store.get("sections")
    names = [section.name for section in sheet.sections]
    if not isinstance(kept, list) or not kept or any(name not in names for name in kept):
        return None
    return tuple(name for name in names if name in kept)


def kept_clock(store: Store) -> float | str | None:
    """What sets the clock of a rehearsal: PACE for the player's own pace, fixed seconds, or None for no clock."""
    kept = store.get("rehearsal allowance", PACE)
    if kept == PACE:
        return PACE
    return float(kept) if isinstance(kept, int | float) and 0 < kept <= 3600 else None


FIRST_SHEET = "lantern-street"
"""The shipped sheet of a first game, by its file's stem."""

USUAL_GAME = House(picks=40, passes=6, courtesy=True)
"""House rules of a first game: about as many picks as a full table gives a player in draws and calls together."""

FOUR_PLAY = House(table=FULL, passes=6, courtesy=True)
"""House rules of a whole game: both rounds of passes, the courtesy pass, then four play."""


TWO_HANDS = House(table=TWO, picks=60)
"""House rules of a two-hand game: so many picks that a player by the advice makes both hands more often than not."""


def house_for(table: str | None) -> House:
    """House rules of a new deal at the table asked for."""
    return FOUR_PLAY if table == FULL else TWO_HANDS if table == TWO else USUAL_GAME
