"""What the player has set for the next deal, kept in the store: sheet, sections, house rules; or the usual ones."""

from __future__ import annotations

from engine.practice.store import Store, StoreError
from engine.rules.house import House
from engine.sheet.model import Sheet
from engine.sheet.shelf import find, shipped
from game.usual import FIRST_SHEET, USUAL_GAME


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
    except StoreError:
        return first


def kept_sections(store: Store, sheet: Sheet) -> tuple[str, ...] | None:
    """Names of the sections chosen of a sheet, in its order; None for all, and where they are another sheet's."""
    kept = store.get("sections")
    names = [section.name for section in sheet.sections]
    if not isinstance(kept, list) or not kept or any(name not in names for name in kept):
        return None
    return tuple(name for name in names if name in kept)
